//! Kinematic couplings, six-strut platforms and the six lines without a common one.

use sixhold::scene::{Coordinates, Place, Scene, Support, SupportKind};
use sixhold::statics::{Diagnosis, Model, MotionKind, Reason};
use sixhold::study::Study;

use super::{Mark, Published, diagnosed};
use crate::expected_motions::{O, Y, Z, screw, slide, turn};

use Mark::{Derived, Read};

const COUPLINGS: &str = "Hale & Slocum, Precision Engineering 2001: six contacts";
const TURNED: &str = "the same hardware, turned";
const SIX_LINES: &str = "Ball 1900, section 230; coordinates our own";

pub(crate) const CASES: &[Published] = &[
    Published {
        file: "g01-three-radial-vees",
        source: COUPLINGS,
        mark: Read,
        counts: [6, 6],
        motions: &[],
        values: &[],
    },
    Published {
        file: "g01-cone-vee-flat",
        source: COUPLINGS,
        mark: Read,
        counts: [6, 6],
        motions: &[],
        values: &[],
    },
    Published {
        file: "g02-three-tangential-vees",
        source: TURNED,
        mark: Derived,
        counts: [6, 5],
        motions: &[turn(Z, O, &[])],
        values: &[],
    },
    Published {
        file: "g02-three-parallel-vees",
        source: TURNED,
        mark: Derived,
        counts: [6, 5],
        motions: &[slide(Y)],
        values: &[],
    },
    Published {
        file: "g02-cone-vee-across",
        source: TURNED,
        mark: Derived,
        counts: [6, 5],
        motions: &[turn(Z, [1.0, 0.0, 0.0], &["A", "B", "C"])],
        values: &[],
    },
    Published {
        file: "g09-free-screw",
        source: SIX_LINES,
        mark: Derived,
        counts: [6, 5],
        motions: &[screw(Z, O, 1.0)],
        values: &[],
    },
    Published {
        file: "g09-held",
        source: SIX_LINES,
        mark: Derived,
        counts: [6, 6],
        motions: &[],
        values: &[],
    },
];

/// Derived here: condition number √2 at unit radius.
#[test]
fn three_radial_vees_are_well_conditioned() {
    let (_, diagnosis) = diagnosed("g01-three-radial-vees");
    let values = &diagnosis.numeric.singular_values;
    assert!((values[0] / values[5] - 2_f64.sqrt()).abs() < 1e-6);
}

/// "All six bar axes met by one straight line" is printed as the only way to fail (Housner & Hudson); it is not.
#[test]
fn six_bars_without_a_common_line_can_fail() {
    let (_, diagnosis) = diagnosed("g09-free-screw");
    assert!(diagnosis.shared_axes.is_empty());
    assert!(matches!(diagnosis.reason, Reason::LinearComplex(..)));
}

/// Six struts from three base points on a circle to three platform points above, these turned by an angle from
/// the pose in which the struts are all alike.
fn octahedral(base: f64, platform: f64, height: f64, turned: f64) -> (Model, Diagnosis) {
    let at = |radius: f64, degrees: f64, z: f64| {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        Place::At(Coordinates::Space([radius * cosine, radius * sine, z]))
    };
    let strut = |index: usize| {
        let top = 60.0 + 120.0 * (index / 2) as f64;
        let foot = 120.0 * index.div_ceil(2) as f64;
        Support {
            name: format!("S{index}"),
            at: at(platform, top + turned, height),
            kind: SupportKind::Link {
                ground: at(base, foot, 0.0),
            },
            stiffness: Default::default(),
            allowable: None,
        }
    };
    let scene = Scene {
        supports: (0..6).map(strut).collect(),
        ..Scene::default()
    };
    let study = Study::new(scene).unwrap();
    (study.model().clone(), study.diagnosis().clone())
}

/// Fichter 1986, value from memory: rank 5 a quarter turn from the symmetric pose, with a free screw about the
/// centre line of pitch ∓R r / 2H; rank 6 elsewhere.
#[test]
fn a_quarter_turn_frees_a_screw_of_the_octahedral_platform() {
    for (base, platform, height) in [(1.0, 0.5, 1.0), (2.0, 1.5, 0.8), (0.3, 0.3, 1.2)] {
        for held in [0.0, 45.0, 89.0, -60.0] {
            let (_, diagnosis) = octahedral(base, platform, height, held);
            assert_eq!(diagnosis.counts.rank, 6, "turned by {held}");
        }
        for (turned, sign) in [(90.0, -1.0), (-90.0, 1.0)] {
            let (_, diagnosis) = octahedral(base, platform, height, turned);
            assert_eq!(diagnosis.counts.rank, 5);
            let [motion] = diagnosis.free_motions.as_slice() else {
                panic!("one free motion: {:?}", diagnosis.free_motions);
            };
            let pitch = sign * base * platform / (2.0 * height);
            let MotionKind::Screw { pitch: found } = motion.kind else {
                panic!("{:?}", motion.kind);
            };
            assert!((found - pitch).abs() < 1e-9, "{found} {pitch}");
            assert!((motion.direction.z - 1.0).abs() < 1e-12);
            assert!(motion.point.coords.xy().norm() < 1e-9);
        }
    }
}
