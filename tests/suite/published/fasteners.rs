//! Groups of fasteners on a rigid plate.
//!
//! Equilibrium alone decides none of their forces: the handbook shares the load among alike elastic fasteners, which
//! is what a rigid plate on elastic supports does (Barrett, *Fastener Design Manual*, NASA RP-1228, 1990).

use sixhold::indexed::Indexed;
use sixhold::scene::Stiffness;
use sixhold::statics::{CaseIndex, ReactionIndex};
use sixhold::study::Study;

use super::{Mark, Published, agrees, studied};

use Mark::{Memory, Read, Recovered};

pub(crate) const CASES: &[Published] = &[
    Published {
        file: "f01-six-rivets",
        source: "Sadhu Singh, Machine Design-I, Ex. 5.3, p. 150",
        mark: Read,
        counts: [12, 3],
        motions: &[],
        values: &[],
    },
    Published {
        file: "f03-eight-rivets",
        source: "Junnarkar, Mechanics of Structures, Ex. 10, p. 442",
        mark: Recovered,
        counts: [16, 3],
        motions: &[],
        values: &[],
    },
    Published {
        file: "f05-four-bolts",
        source: "Shigley, Mechanical Engineering Design, Ex. 8-7",
        mark: Memory,
        counts: [8, 3],
        motions: &[],
        values: &[],
    },
];

/// The reactions of equally stiff fasteners, N, and the size of the force of each support, in the scene's units.
fn shared(file: &str) -> (Indexed<ReactionIndex, f64>, Vec<f64>) {
    sharing(&studied(file).on_springs())
}

fn sharing(study: &Study) -> (Indexed<ReactionIndex, f64>, Vec<f64>) {
    let elastic = study.elastic().expect("it is on springs");
    let found = elastic.cases[CaseIndex::FIRST].reactions();
    let newtons = found.expect("the fasteners carry the load").values.clone();
    let unit = study.model().units.force.in_newtons();
    let supports = study.model().supports.iter();
    let sizes = supports.map(|support| {
        let own = newtons.slice(&support.reactions).iter();
        own.copied().fold(0.0, f64::hypot) / unit
    });
    let sizes = sizes.collect();
    (newtons, sizes)
}

fn largest(sizes: &[f64]) -> f64 {
    sizes.iter().copied().fold(0.0, f64::max)
}

/// Printed: a hole of 16.99 mm at 120 MPa in single shear. The worst force, 27 198 N, is derived here.
#[test]
fn six_rivets_need_the_printed_diameter() {
    let worst = largest(&shared("f01-six-rivets").1) * 1000.0;
    assert!((worst - 27_198.0).abs() < 1.0, "{worst}");
    let diameter = (4.0 * worst / (std::f64::consts::PI * 120.0)).sqrt();
    assert!(agrees(diameter, "16.99"), "{diameter}");
}

/// Printed: 2.57 tons per square inch in rivets of 7/8 in.
#[test]
fn eight_rivets_bear_the_printed_stress() {
    let worst = largest(&shared("f03-eight-rivets").1) / 2240.0;
    let area = std::f64::consts::PI / 4.0 * 0.875_f64.powi(2);
    assert!(agrees(worst / area, "2.57"), "{}", worst / area);
}

/// Printed, from memory: 21.0 kN in the two bolts nearer to the load, 14.8 kN in the others.
#[test]
fn four_bolts_share_as_printed() {
    let sizes = shared("f05-four-bolts").1;
    for (size, printed) in sizes.iter().zip(["21.0", "21.0", "14.8", "14.8"]) {
        assert!(agrees(*size, printed), "{size} {printed}");
    }
}

/// Unequal fasteners: the load is taken about the centroid weighted by their areas, and each bears its share k F/Σk of the
/// direct force and k M r/Σk r² of the moment (NASA RP-1228).
#[test]
fn unequal_bolts_share_about_the_weighted_centroid() {
    let mut scene = studied("f05-four-bolts").scene().clone();
    let places = [[75.0, 60.0], [75.0, -60.0], [-75.0, 60.0], [-75.0, -60.0]];
    let areas = [4.0, 1.0, 2.0, 1.0];
    for (support, area) in scene.supports.iter_mut().zip(areas) {
        support.stiffness.forces = Some(Stiffness::Same(area));
    }
    let (newtons, _) = sharing(&Study::new(scene).expect("a valid scene"));
    let total: f64 = areas.iter().sum();
    let mean = |axis: usize| {
        places
            .iter()
            .zip(areas)
            .map(|(at, k)| k * at[axis])
            .sum::<f64>()
            / total
    };
    let centroid = [mean(0), mean(1)];
    let arms = places.map(|at| [at[0] - centroid[0], at[1] - centroid[1]]);
    let polar: f64 = arms
        .iter()
        .zip(areas)
        .map(|(arm, k)| k * (arm[0] * arm[0] + arm[1] * arm[1]))
        .sum();
    // 16 kN down at 425 mm, in N and N·mm; the bolts hold against it.
    let moment = -16e3 * (425.0 - centroid[0]);
    for (bolt, (arm, k)) in arms.iter().zip(areas).enumerate() {
        let expected = [
            k * moment * arm[1] / polar,
            k * (16e3 / total - moment * arm[0] / polar),
        ];
        for (axis, expected) in expected.into_iter().enumerate() {
            let found = newtons[ReactionIndex::new(2 * bolt + axis)];
            assert!(
                (found - expected).abs() < 1e-6 * 16e3,
                "bolt {bolt}: {found} is not {expected}"
            );
        }
    }
}

/// What equilibrium can say: no force of its own, but every combination that it decides has the shared forces' value.
#[test]
fn what_equilibrium_decides_of_a_group_is_what_any_sharing_gives() {
    for case in CASES {
        let study = studied(case.file);
        let (model, diagnosis) = (study.model(), study.diagnosis());
        assert!(diagnosis.cases[CaseIndex::FIRST].is_balanced());
        assert!(
            diagnosis.cases[CaseIndex::FIRST]
                .values
                .iter()
                .all(Option::is_none),
            "{}",
            case.file
        );
        let (newtons, _) = shared(case.file);
        for sum in study.combinations() {
            let terms = sum.reactions.iter().zip(&sum.coefficients);
            let value: f64 = terms.map(|(j, c)| c * newtons[*j]).sum();
            let told = sum.values[CaseIndex::FIRST].expect("there is equilibrium");
            assert!(
                (value - told).abs() < 1e-6 * (1.0 + told.abs()),
                "{}",
                case.file
            );
        }
        // Any one support can go, and all but three reactions together.
        assert_eq!(study.releases().supports.len(), model.supports.len());
        let together = &study.releases().together;
        assert_eq!(together.len(), diagnosis.counts.redundancy);
    }
}
