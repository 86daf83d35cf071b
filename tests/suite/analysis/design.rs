//! Reactions over all load cases, and supports beside what they may be loaded with.

use sixhold::design::{Utilisation, UtilisationOutcome};
use sixhold::statics::SplitForce;
use sixhold::study::Study;

use super::{assert_close, deep, reaction, scene};

/// A gable on a bolt at its foot and a wall above it, which only pushes. By moments about the bolt: N = F / 2 of a push F to the
/// right at height 1, and the bolt takes the rest.
const GABLE: &str = r#"space: planar, body: [BentBar(path: [(0, 0), (0, 2)], diameter: 0.1)],
    supports: [
        Pin(name: "A", at: (0, 0), allowable: (tension: 500, shear: 200, exponent: 2, outwards: (0, 1))),
        Roller(name: "B", at: (0, 2), normal: (-1, 0), allowable: (compression: 100)),
    ],
    loads: [Force(at: (0, 1), force: (0, 300))],
    cases: [
        (name: "calm", loads: [Force(at: (0, 1), force: (40, 0))]),
        (name: "wind", loads: [Force(at: (0, 1), force: (160, 0))]),
        (name: "lee", loads: [Force(at: (0, 1), force: (-10, 0))]),
    ],
    combinations: [(name: "both", factors: {"calm": 1, "wind": 1})]"#;

fn utilisations(study: &Study) -> Vec<Utilisation> {
    let cases = study.model().cases.indices();
    study.design().utilisations(study.model(), cases)
}

fn named<'a>(study: &'a Study, one: &Utilisation) -> (&'a str, &'a str) {
    let model = study.model();
    (
        &model.supports[one.support].name,
        &model.cases[one.case].name,
    )
}

fn share(one: &Utilisation) -> f64 {
    match one.outcome {
        UtilisationOutcome::Known { share, .. } => share,
        _ => panic!("{one:?}"),
    }
}

/// By hand: under both cases 200 N push right, 100 N on each support; 0.6 of the bolt's tension and 0.5 of its shear.
#[test]
fn the_governing_case_comes_first() {
    let study = deep(&scene(GABLE));
    let found = utilisations(&study);
    let names: Vec<_> = found.iter().map(|one| named(&study, one)).collect();
    // Under the wind from the other side the wall would have to pull.
    assert_eq!(names[..2], [("A", "lee"), ("B", "lee")]);
    assert!(
        found[..2]
            .iter()
            .all(|one| one.outcome == UtilisationOutcome::NotCarried)
    );
    assert_eq!(
        names[2..],
        [
            ("B", "both"),
            ("B", "wind"),
            ("A", "both"),
            ("A", "wind"),
            ("A", "calm"),
            ("B", "calm"),
        ]
    );
    assert_close(share(&found[2]), 1.0, 1e-9);
    assert_close(share(&found[4]), 0.6_f64.hypot(0.5), 1e-9);
    let UtilisationOutcome::Known {
        force: SplitForce { normal, shear },
        ..
    } = found[4].outcome
    else {
        panic!("{found:?}");
    };
    assert_close(normal, -300.0, 1e-9);
    assert_close(shear, 100.0, 1e-9);
}

#[test]
fn the_envelope_has_the_smallest_and_the_largest_with_their_cases() {
    let study = deep(&scene(GABLE));
    let model = study.model();
    let envelope = |name: &str| {
        let all = model.cases.indices();
        study.design().envelope(reaction(model, name), all)
    };
    let along = envelope("A_x").expect("it is known");
    let case = |case| model.cases[case].name.as_str();
    assert_eq!(
        (case(along.least.case), case(along.most.case)),
        ("both", "calm")
    );
    assert_close(along.least.value, -100.0, 1e-9);
    assert_close(along.most.value, -20.0, 1e-9);
    // Equal in all cases: the first one.
    let up = envelope("A_y").expect("it is known");
    assert_eq!((case(up.least.case), case(up.most.case)), ("calm", "calm"));
}

/// Four bolts seen along their axes, which equilibrium leaves open, have shares only as elastic supports: Shigley, *Mechanical
/// Engineering Design*, Ex. 8-7 (value from memory), 21.0 kN in the worst, of 25 kN.
#[test]
fn redundant_bolts_need_stiffnesses() {
    let bolts = [(75, 60), (75, -60), (-75, 60), (-75, -60)];
    let bolts = bolts
        .map(|(x, y)| format!("Pin(name: \"{x} {y}\", at: ({x}, {y}), allowable: (shear: 25))"));
    let text = format!(
        "space: planar, units: (length: mm, force: kN), body: [Block(centre: (0, 0), size: (300, 200, 15))],
            supports: [{}], loads: [Force(at: (425, 0), force: (0, -16))]",
        bolts.join(", ")
    );
    let study = deep(&scene(&text));
    let all_unknown = utilisations(&study)
        .iter()
        .all(|one| one.outcome == UtilisationOutcome::Unknown);
    assert!(all_unknown);
    let sprung = study.on_springs();
    let shares: Vec<f64> = utilisations(&sprung).iter().map(share).collect();
    for (share, printed) in shares.into_iter().zip([21.0, 21.0, 14.8, 14.8]) {
        assert_close(share, printed / 25.0, 0.05 / 25.0);
    }
}
