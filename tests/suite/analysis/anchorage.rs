//! Anchors of plates against closed forms, against a bed of one-way supports, and against their limits.

use sixhold::design::{AnchorForces, AnchorageCase, UtilisationOutcome};
use sixhold::scene::Scene;
use sixhold::statics::CaseIndex;
use sixhold::study::Study;
use sixhold::wording;

use super::{assert_close, deep, scene};

/// A plate in the plane x = 0 with the wall behind it; what is up on it is z, to the right y.
fn plate(fields: &str, loads: &str) -> Scene {
    scene(&format!(
        "body: [Block(centre: (0.2, 0, 0), size: (0.4, 0.1, 0.1))],
        supports: [AnchorPlate(name: \"P\", at: (0, 0, 0), normal: (1, 0, 0), {fields})], loads: [{loads}]"
    ))
}

fn case(study: &Study) -> &AnchorageCase {
    &study.design().anchorages[0].cases[CaseIndex::FIRST]
}

fn forces(study: &Study) -> &AnchorForces {
    case(study)
        .forces()
        .unwrap_or_else(|| panic!("{:?}", case(study)))
}

/// A rigid plate b × h on a bed c with anchors of stiffness k in all, d from its lower edge, under a moment: what presses reaches up to x
/// with `½ c b x² = k (d − x)`, and the anchors pull `T = M / (d − x / 3)` (transformed section; the elastic theory of reinforced
/// concrete, common practice, no source).
#[test]
fn a_moment_is_taken_by_a_couple_of_pull_and_pressure() {
    let (b, h, d): (f64, f64, f64) = (0.2, 0.3, 0.25);
    for (k, c) in [(4e7_f64, 2e10), (4e7, 5e11), (1e8, 1e9)] {
        let study = deep(&plate(
            &format!(
                "size: ({b}, {h}), anchors: List(places: [(-0.06, 0.1), (0.06, 0.1)]), pull_stiffness: {}, bedding: {c}",
                k / 2.0
            ),
            "Couple(moment: (0, 900, 0))",
        ));
        let reach = (-k + (k * k + 2.0 * c * b * k * d).sqrt()) / (c * b);
        assert!(reach < d);
        let pull = 900.0 / (d - reach / 3.0);
        let found = forces(&study);
        for anchor in &found.anchors {
            assert_close(-anchor.normal, pull / 2.0, 1e-7 * pull);
            assert_close(anchor.shear, 0.0, 1e-9);
        }
        assert_close(found.pressing, pull, 1e-7 * pull);
        let [one, other] = found.neutral_line.expect("it lifts off");
        for end in [one, other] {
            assert_close(end[1], reach - h / 2.0, 1e-9);
        }
        let (most, at) = found.pressure.expect("it presses");
        assert_close(most, 2.0 * pull / (b * reach), 1e-6 * most);
        assert_close(at[1], -h / 2.0, 1e-12);
        // The anchors are stretched by T / k, the upper edge opens in proportion.
        let (gap, _) = found.gap.expect("stiffnesses are given");
        let expected = pull / k * (h - reach) / (d - reach);
        assert_close(gap, expected, 1e-7 * expected);
    }
}

/// A load that presses within the kern leaves no gap, and no anchor pulls: `p = N/A + M y/I` (any book on strength of materials).
#[test]
fn a_load_within_the_kern_presses_everywhere() {
    let study = deep(&plate(
        "size: (0.2, 0.3), anchors: Grid(columns: 2, rows: 2, spacing: (0.15, 0.25))",
        "Force(at: (0, 0, -0.04), force: (-3000, 0, 0))",
    ));
    let found = forces(&study);
    assert!(found.neutral_line.is_none() && found.gap.is_none());
    assert!(found.anchors.iter().all(|anchor| anchor.normal == 0.0));
    assert_close(found.pressing, 3000.0, 1e-6);
    let (area, inertia) = (0.06, 0.2 * 0.3_f64.powi(3) / 12.0);
    let expected = 3000.0 / area + 3000.0 * 0.04 * 0.15 / inertia;
    assert_close(found.pressure.expect("it presses").0, expected, 1e-5);
}

/// A plate that is pulled straight off presses nowhere, and the anchors share alike.
#[test]
fn a_pull_leaves_the_anchors_alone() {
    let study = deep(&plate(
        "size: (0.2, 0.3), anchors: Circle(count: 5, diameter: 0.15), pull_stiffness: 1e7",
        "Force(at: (0, 0, 0), force: (2000, 0, 0))",
    ));
    let found = forces(&study);
    for anchor in &found.anchors {
        assert_close(anchor.normal, -400.0, 1e-6);
    }
    assert!(found.pressure.is_none() && found.pressing == 0.0);
    assert_close(found.gap.expect("it lifts off").0, 4e-5, 1e-12);
}

/// Bolt groups in shear, as plates: Sadhu Singh, *Machine Design-I*, Ex. 5.3 (worst 27 198 N, derived), Shigley, *Mechanical Engineering
/// Design*, Ex. 8-7 (21.0 and 14.8 kN, value from memory), and Junnarkar, *Mechanics of Structures*, Ex. 10 (2.57 tons/in²).
#[test]
fn bolt_groups_share_as_printed() {
    let shears = |anchors: &str, force: f64, arm: f64| -> Vec<f64> {
        let study = deep(&plate(
            &format!("size: (20, 20), anchors: {anchors}"),
            &format!("Force(at: (0, {arm}, 0), force: (0, 0, -{force}))"),
        ));
        let anchors = forces(&study).anchors.iter();
        anchors.map(|anchor| anchor.shear).collect()
    };
    let six = shears(
        "Grid(columns: 2, rows: 3, spacing: (0.1, 0.1))",
        54_000.0,
        0.2,
    );
    assert_close(six.iter().copied().fold(0.0, f64::max), 27_198.0, 1.0);
    let mut four = shears(
        "Grid(columns: 2, rows: 2, spacing: (0.15, 0.12))",
        16.0,
        0.425,
    );
    four.sort_by(f64::total_cmp);
    for (found, printed) in four.into_iter().zip([14.8, 14.8, 21.0, 21.0]) {
        assert_close(found, printed, 0.05);
    }
    // In inches and tons, so 2.57 tons/in² of a rivet of 7/8 in.
    let eight = shears("Grid(columns: 2, rows: 4, spacing: (4, 4))", 2.4, 18.0);
    let rivet = std::f64::consts::PI / 4.0 * (7.0_f64 / 8.0).powi(2);
    let worst = eight.iter().copied().fold(0.0, f64::max);
    assert_close(worst / rivet, 2.57, 0.005);
}

/// As ever more contacts that only push under the plate and cables in place of the anchors, all springs of their own: the same plate as
/// a scene of one-way supports comes closer with every refinement.
#[test]
fn a_bed_of_contacts_comes_closer_as_it_is_refined() {
    let loads = "Force(at: (0.25, 0.03, 0.01), force: (150, -200, -900))";
    let (pull, bedding) = (3e6, 4e9);
    let anchors = [
        [-0.07, -0.1],
        [0.07, -0.1],
        [-0.07, 0.1],
        [0.07, 0.1],
        [0.02, 0.12],
    ];
    let listed: Vec<String> = anchors.iter().map(|[x, y]| format!("({x}, {y})")).collect();
    let study = deep(&plate(
        &format!(
            "size: (0.2, 0.3), anchors: List(places: [{}]), pull_stiffness: {pull}, bedding: {bedding}",
            listed.join(", ")
        ),
        loads,
    ));
    let expected: Vec<f64> = forces(&study).anchors.iter().map(|a| -a.normal).collect();
    assert!(expected.iter().filter(|pull| **pull > 0.0).count() >= 2);
    let errors = [4_u32, 8, 16].map(|cells| {
        let cell = |index: u32, side: f64| ((f64::from(index) + 0.5) / f64::from(cells) - 0.5) * side;
        let mut supports: Vec<String> = anchors
            .iter()
            .enumerate()
            .map(|(i, [x, y])| {
                format!(
                    "Cable(name: \"T{i}\", at: (0, {x:?}, {y:?}), ground: (-0.1, {x:?}, {y:?}), stiffness: {pull})"
                )
            })
            .collect();
        let each = bedding * 0.2 * 0.3 / f64::from(cells * cells);
        for (i, j) in (0..cells).flat_map(|i| (0..cells).map(move |j| (i, j))) {
            let (y, z) = (cell(i, 0.2), cell(j, 0.3));
            supports.push(format!(
                "SmoothContact(name: \"c{i} {j}\", at: (0, {y:?}, {z:?}), normal: (1, 0, 0), stiffness: {each:?})"
            ));
        }
        // What lies along the wall is held elsewhere.
        supports.push("Slider(name: \"S\", at: (0, 0, 0), rod: (1, 0, 0), couples: false)".into());
        supports.push("Link(name: \"L\", at: (0, 0.1, 0), ground: (0, 0.1, 1))".into());
        let bed = deep(&scene(&format!(
            "body: [Block(centre: (0.2, 0, 0), size: (0.4, 0.1, 0.1))], supports: [{}], loads: [{loads}]",
            supports.join(", ")
        )));
        let elastic = bed.elastic().expect("stiffnesses are given");
        let found = elastic.cases[CaseIndex::FIRST].reactions().expect("carried");
        let error = |(found, expected): (&f64, &f64)| (found - expected).abs();
        let pulls = found.values.iter().take(anchors.len());
        pulls.zip(&expected).map(error).fold(0.0, f64::max)
    });
    let most = expected.iter().copied().fold(0.0, f64::max);
    assert!(errors[2] < 0.02 * most, "{errors:?} of {most}");
    assert!(errors[2] < errors[1] && errors[1] < errors[0], "{errors:?}");
}

/// With an ever stiffer wall the plate turns about its edge, as statics of one-way supports has it: `T = M / d`.
#[test]
fn a_stiff_wall_makes_the_edge_a_hinge() {
    let errors = [1e3, 1e5, 1e7].map(|stiffer| {
        let study = deep(&plate(
            &format!(
                "size: (0.2, 0.3), anchors: List(places: [(-0.06, 0.1), (0.06, 0.1)]), pull_stiffness: 1e6, bedding: {:e}",
                1e9 * stiffer
            ),
            "Couple(moment: (0, 500, 0))",
        ));
        let pull: f64 = forces(&study).anchors.iter().map(|a| -a.normal).sum();
        (pull - 500.0 / 0.25).abs()
    });
    assert!(errors[0] > errors[1] && errors[1] > errors[2], "{errors:?}");
    assert!(errors[2] < 1.0, "{errors:?}");
}

/// Anchors below the middle, a moment that would need them above: only pressure on the upper edge and a pull below balance nothing else.
#[test]
fn what_no_pull_and_pressure_balances_is_not_carried() {
    let turning = |moment: f64| {
        deep(&plate(
            "size: (0.2, 0.3), anchors: List(places: [(-0.06, -0.15), (0.06, -0.15)])",
            &format!("Couple(moment: (0, {moment}, 0))"),
        ))
    };
    // Pressure on the lower edge has no lever to anchors there.
    let failing = turning(500.0);
    assert!(matches!(case(&failing), AnchorageCase::NotCarried));
    let carried = turning(-500.0);
    assert!(matches!(case(&carried), AnchorageCase::Solved(_)));
    let headline = |study: &Study| {
        wording::headline(study.model(), study.diagnosis(), study.uncarried()).to_string()
    };
    assert_eq!(
        headline(&failing),
        "Constrained, but this load is not carried: the anchors of P and the wall cannot balance it."
    );
    assert_eq!(
        headline(&carried),
        "Held: properly constrained, statically determinate."
    );
}

/// By hand: 4 anchors under 2000 N straight off and 1200 N along the wall, 500 N and 300 N each, of 1000 N and 600 N.
#[test]
fn allowables_are_those_of_each_anchor() {
    let study = deep(&plate(
        "size: (0.2, 0.3), anchors: Grid(columns: 2, rows: 2, spacing: (0.15, 0.25)),
            allowable: (tension: 1000, shear: 600, exponent: 2)",
        "Force(at: (0, 0, 0), force: (2000, 0, -1200))",
    ));
    let found = study
        .design()
        .utilisations(study.model(), [CaseIndex::FIRST]);
    let UtilisationOutcome::Known { share, .. } = found[0].outcome else {
        panic!("{found:?}");
    };
    assert_eq!(found[0].anchor, Some(0));
    assert_close(share, 0.5_f64.hypot(0.5), 1e-9);
}
