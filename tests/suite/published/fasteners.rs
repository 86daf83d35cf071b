//! Groups of fasteners on a rigid plate.
//!
//! Equilibrium alone decides none of their forces: the handbook shares the load among alike elastic fasteners, which
//! is the solution of least squares (Barrett, *Fastener Design Manual*, NASA RP-1228, 1990). The test takes that one
//! from the reaction matrix, whose rank, redundancy and decided sums are the program's.

use nalgebra::DVector;
use sixhold::statics::{CaseIndex, Model, ReactionMatrix};

use super::{Mark, Published, agrees, diagnosed, studied};

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

/// The reactions of least sum of squares, and the size of the force of each support, in the scene's units.
fn shared(model: &Model) -> (DVector<f64>, Vec<f64>) {
    let matrix = ReactionMatrix::new(model).entries().clone();
    let load = model.cases[CaseIndex::FIRST].resultant(&model.reference);
    let load = DVector::from_vec(vec![
        load.force.x,
        load.force.y,
        load.moment.z / model.length,
    ]);
    let square = (&matrix * matrix.transpose())
        .try_inverse()
        .expect("full rank");
    let newtons = -matrix.transpose() * (square * load);
    let unit = model.units.force.in_newtons();
    let sizes = model.supports.iter().map(|support| {
        let own = newtons.rows_range(support.reactions.positions());
        own.norm() / unit
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
    let (model, _) = diagnosed("f01-six-rivets");
    let worst = largest(&shared(&model).1) * 1000.0;
    assert!((worst - 27_198.0).abs() < 1.0, "{worst}");
    let diameter = (4.0 * worst / (std::f64::consts::PI * 120.0)).sqrt();
    assert!(agrees(diameter, "16.99"), "{diameter}");
}

/// Printed: 2.57 tons per square inch in rivets of 7/8 in.
#[test]
fn eight_rivets_bear_the_printed_stress() {
    let (model, _) = diagnosed("f03-eight-rivets");
    let worst = largest(&shared(&model).1) / 2240.0;
    let area = std::f64::consts::PI / 4.0 * 0.875_f64.powi(2);
    assert!(agrees(worst / area, "2.57"), "{}", worst / area);
}

/// Printed, from memory: 21.0 kN in the two bolts nearer to the load, 14.8 kN in the others.
#[test]
fn four_bolts_share_as_printed() {
    let (model, _) = diagnosed("f05-four-bolts");
    let sizes = shared(&model).1;
    for (size, printed) in sizes.iter().zip(["21.0", "21.0", "14.8", "14.8"]) {
        assert!(agrees(*size, printed), "{size} {printed}");
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
        let (newtons, _) = shared(model);
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
