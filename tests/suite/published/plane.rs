//! Published cases in the plane.

use sixhold::statics::{CaseIndex, Verdict};

use super::{Mark, Published, diagnosed};
use crate::expected_motions::{O, X, Z, slide, turn};

use Mark::{Derived, Memory, Read, Recovered};

const STABILITY: &str = "Baker & Haynes, Engineering Statics, chapter 5, Stability and Determinacy";
const PLATES: &str = "Beer & Johnston, Problem 4.62 (7th ed.)";

/// Where the normals of both rollers of the angled beam meet.
const CROSSING: [f64; 3] = [3.0, 2.0, 0.0];

pub(crate) const CASES: &[Published] = &[
    Published {
        file: "b01-wall-roller-and-pin",
        source: STABILITY,
        mark: Read,
        counts: [3, 3],
        motions: &[],
        values: &[],
    },
    Published {
        file: "b01-two-pins",
        source: STABILITY,
        mark: Read,
        counts: [4, 3],
        motions: &[],
        values: &[],
    },
    Published {
        file: "b01-two-rollers",
        source: STABILITY,
        mark: Derived,
        counts: [2, 2],
        motions: &[turn(Z, CROSSING, &[])],
        values: &[],
    },
    Published {
        file: "b01-parallel-rollers",
        source: STABILITY,
        mark: Read,
        counts: [3, 2],
        motions: &[slide(X)],
        values: &[],
    },
    Published {
        file: "b01-concurrent-rollers",
        source: STABILITY,
        mark: Read,
        counts: [3, 2],
        motions: &[turn(Z, CROSSING, &["C"])],
        values: &[],
    },
    Published {
        file: "b04-plate-1",
        source: PLATES,
        mark: Read,
        counts: [3, 3],
        motions: &[],
        values: &[("A_x", "0"), ("A_y", "25"), ("N_C", "25")],
    },
    Published {
        file: "b04-plate-4",
        source: PLATES,
        mark: Derived,
        counts: [3, 2],
        motions: &[turn(Z, O, &["A"])],
        values: &[],
    },
    Published {
        file: "b04-plate-5",
        source: PLATES,
        mark: Read,
        counts: [2, 2],
        motions: &[slide(X)],
        values: &[("N_C", "25"), ("N_D", "25")],
    },
    // D = 62.5 lb at 53.1°, as components.
    Published {
        file: "b04-plate-6",
        source: PLATES,
        mark: Memory,
        counts: [3, 3],
        motions: &[],
        values: &[("N_B", "37.5"), ("D_x", "-37.5"), ("D_y", "50.0")],
    },
    Published {
        file: "c01-pin-and-roller",
        source: "Baker & Haynes, Engineering Statics, chapter 5, Pin and Roller",
        mark: Read,
        counts: [3, 3],
        motions: &[],
        values: &[("N_B", "246.0"), ("A_x", "-213.0"), ("A_y", "127.0")],
    },
    Published {
        file: "c02-crane",
        source: "Beer & Johnston, Sample Problem 4.1",
        mark: Recovered,
        counts: [3, 3],
        motions: &[],
        values: &[("N_B", "107.1"), ("A_x", "-107.1"), ("A_y", "33.3")],
    },
    Published {
        file: "c03-beam",
        source: "Beer & Johnston, Sample Problem 4.2",
        mark: Recovered,
        counts: [3, 3],
        motions: &[],
        values: &[("N_A", "28.67"), ("B_x", "0"), ("B_y", "95.33")],
    },
    Published {
        file: "c05-beam-rocker-pin",
        source: "Hibbeler & Gupta, Ex. 5.6, p. 174",
        mark: Recovered,
        counts: [3, 3],
        motions: &[],
        values: &[("N_A", "319"), ("B_x", "-424"), ("B_y", "405")],
    },
    Published {
        file: "c07-beam-four-loads",
        source: "McLean & Nelson, problem 5.5-8, p. 62",
        mark: Recovered,
        counts: [2, 2],
        motions: &[slide(X)],
        values: &[("N_A", "480"), ("N_B", "365")],
    },
    Published {
        file: "c08-beam-couple",
        source: "McLean & Nelson, problem 5.5-16, p. 67",
        mark: Recovered,
        counts: [2, 2],
        motions: &[slide(X)],
        values: &[("N_A", "325"), ("N_B", "75")],
    },
    Published {
        file: "c09-built-in",
        source: "Hibbeler & Gupta, Ex. 5.9, p. 177",
        mark: Recovered,
        counts: [3, 3],
        motions: &[],
        values: &[("A_x", "5"), ("A_y", "74"), ("M_A", "32.6")],
    },
];

/// Classes printed in Beer & Johnston, Problem 4.62: complete, improper, partial, complete; plate 4 is without
/// equilibrium. The first two and the third row of Baker & Haynes.
#[test]
fn classes_and_equilibrium_are_those_printed() {
    use Verdict::{ImproperlyConstrained, PartiallyConstrained, ProperlyConstrained};
    for (file, verdict, determinate, equilibrium) in [
        ("b04-plate-1", ProperlyConstrained, true, true),
        ("b04-plate-4", ImproperlyConstrained, false, false),
        ("b04-plate-5", PartiallyConstrained, false, true),
        ("b04-plate-6", ProperlyConstrained, true, true),
        ("b01-wall-roller-and-pin", ProperlyConstrained, true, true),
        ("b01-two-pins", ProperlyConstrained, false, true),
    ] {
        let (_, diagnosis) = diagnosed(file);
        assert_eq!(diagnosis.verdict(), verdict, "{file}");
        assert_eq!(diagnosis.counts.is_determinate(), determinate, "{file}");
        assert_eq!(
            diagnosis.cases[CaseIndex::FIRST].is_balanced(),
            equilibrium,
            "{file}"
        );
    }
}
