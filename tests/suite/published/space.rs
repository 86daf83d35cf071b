//! Published cases in space.

use super::{Mark, Published, diagnosed};
use crate::expected_motions::{O, X, Y, Z, slide, turn};
use sixhold::statics::CaseIndex;

use Mark::{Derived, Memory, Partly, Read, Recovered};

const SIX_BARS: &str = "Housner & Hudson, Complete constraint of a rigid body in space";

pub(crate) const CASES: &[Published] = &[
    Published {
        file: "a01-bent-bar-fixed",
        source: "Baker & Haynes, Engineering Statics, chapter 5, 3D Bent Bar",
        mark: Read,
        counts: [6, 6],
        motions: &[],
        values: &[
            ("C_x", "-218"),
            ("C_y", "436"),
            ("C_z", "109"),
            ("M_Cx", "-2182"),
            ("M_Cy", "-1528"),
            ("M_Cz", "1746"),
        ],
    },
    // The ball joint pulls down here.
    Published {
        file: "a02-plate-roller-ball-cord",
        source: "Hibbeler & Gupta, Ex. 5.13, p. 197",
        mark: Recovered,
        counts: [5, 5],
        motions: &[turn(Z, [3.0, 2.0, 0.0], &["B"])],
        values: &[
            ("N_A", "790"),
            ("B_x", "0"),
            ("B_y", "0"),
            ("B_z", "-217"),
            ("T_C", "707"),
        ],
    },
    Published {
        file: "a03-windlass",
        source: "Hibbeler & Gupta, Ex. 5.14, p. 198",
        mark: Recovered,
        counts: [6, 6],
        motions: &[],
        values: &[
            ("F_P", "377.6"),
            ("A_x", "0"),
            ("A_y", "0"),
            ("A_z", "424.3"),
            ("B_y", "0"),
            ("B_z", "934.3"),
        ],
    },
    Published {
        file: "a03-windlass-bearings-alone",
        source: "Hibbeler & Gupta, Ex. 5.14, without the hand",
        mark: Derived,
        counts: [5, 5],
        motions: &[turn(X, O, &["B", "A"])],
        values: &[],
    },
    Published {
        file: "a04-mast",
        source: "Hibbeler & Gupta, Ex. 5.15, p. 199",
        mark: Read,
        counts: [5, 5],
        motions: &[turn(Z, O, &["A", "C", "D"])],
        values: &[
            ("T_C", "707"),
            ("T_D", "1500"),
            ("A_x", "0"),
            ("A_y", "0"),
            ("A_z", "1500"),
        ],
    },
    Published {
        file: "a06-bent-rod-journal-x",
        source: "Hibbeler & Gupta, Ex. 5.17, p. 201; coordinates from memory",
        mark: Partly,
        counts: [6, 6],
        motions: &[],
        values: &[("T_B", "572")],
    },
    Published {
        file: "a06-bent-rod-journal-y",
        source: "Hibbeler & Gupta, Ex. 5.17, p. 201; coordinates from memory",
        mark: Partly,
        counts: [6, 6],
        motions: &[],
        values: &[("T_B", "572")],
    },
    Published {
        file: "a07-ladder-on-rails",
        source: "Beer & Johnston, Sample Problem 4.7, p. 194",
        mark: Recovered,
        counts: [5, 5],
        motions: &[slide(X)],
        values: &[
            ("A_y", "245"),
            ("A_z", "-98.1"),
            ("B_y", "736"),
            ("B_z", "-98.1"),
            ("N_C", "196.2"),
        ],
    },
    Published {
        file: "a08-sign",
        source: "Beer & Johnston, Sample Problem 4.8, SI",
        mark: Recovered,
        counts: [5, 5],
        motions: &[turn(X, O, &["A", "B", "E"])],
        values: &[
            ("T_B", "450"),
            ("T_E", "1401"),
            ("A_x", "1501"),
            ("A_y", "450"),
            ("A_z", "-100"),
        ],
    },
    Published {
        file: "a08-sign-us",
        source: "Beer & Johnston, Sample Problem 4.8, US units",
        mark: Memory,
        counts: [5, 5],
        motions: &[turn(X, O, &["A", "B", "E"])],
        values: &[
            ("T_B", "101.3"),
            ("T_E", "315"),
            ("A_x", "338"),
            ("A_y", "101.2"),
            ("A_z", "-22.5"),
        ],
    },
    Published {
        file: "a09-pipe-cover",
        source: "Beer & Johnston, Sample Problem 4.9, p. 198; in part from memory",
        mark: Partly,
        counts: [6, 6],
        motions: &[],
        values: &[
            ("T_C", "343"),
            ("A_x", "49.0"),
            ("A_y", "73.5"),
            ("A_z", "98.0"),
            ("B_x", "245"),
            ("B_y", "73.5"),
        ],
    },
    // Redundant, and yet the tension is decided.
    Published {
        file: "a10-pipe-two-balls-cable",
        source: "Beer & Johnston, Sample Problem 4.10, p. 197; in part from memory",
        mark: Partly,
        counts: [7, 6],
        motions: &[],
        values: &[("T_E", "300")],
    },
    Published {
        file: "a11-boom",
        source: "RWTH Aachen, CES Mechanics I, lecture 9; the ball joint is derived here",
        mark: Read,
        counts: [5, 5],
        motions: &[turn(Y, O, &["O", "A", "C"])],
        values: &[
            ("T_A", "12770"),
            ("T_C", "7010"),
            ("O_x", "-3241"),
            ("O_y", "13333"),
            ("O_z", "-2556"),
        ],
    },
    Published {
        file: "a12-table-three-legs",
        source: "McLean & Nelson, problem 6.6-9, p. 86",
        mark: Recovered,
        counts: [3, 3],
        motions: &[slide(X), slide(Z), turn(Y, [0.0, 0.0, 600.0], &["1"])],
        values: &[("N_1", "53.3"), ("N_2", "23.3"), ("N_3", "33.3")],
    },
    Published {
        file: "a14-hand-winch",
        source: "McLean & Nelson, problem 6.6-13, p. 89",
        mark: Recovered,
        counts: [5, 5],
        motions: &[slide(X)],
        values: &[
            ("F_P", "83.3"),
            ("A_y", "77.2"),
            ("A_z", "-25.2"),
            ("B_y", "158"),
            ("B_z", "101"),
        ],
    },
    Published {
        file: "a19-hinge-line",
        source: "McLean & Nelson, problem 6.6-5, p. 84",
        mark: Read,
        counts: [6, 6],
        motions: &[],
        values: &[("T_D", "163")],
    },
    Published {
        file: "a21-disc-three-cables",
        source: "university revision notes on statics, Ex. 5.1",
        mark: Read,
        counts: [3, 3],
        motions: &[slide(X), slide(Y), turn(Z, O, &["A"])],
        values: &[("T_A", "0.75"), ("T_B", "3"), ("T_C", "2.25")],
    },
    Published {
        file: "b03-held",
        source: SIX_BARS,
        mark: Derived,
        counts: [6, 6],
        motions: &[],
        values: &[],
    },
    Published {
        file: "b03-meet-one-line",
        source: SIX_BARS,
        mark: Derived,
        counts: [6, 5],
        motions: &[turn(X, O, &["1", "2", "3", "4", "5", "6"])],
        values: &[],
    },
    Published {
        file: "b03-parallel",
        source: SIX_BARS,
        mark: Derived,
        counts: [6, 3],
        motions: &[slide(X), slide(Y), turn(Z, O, &["1"])],
        values: &[],
    },
    Published {
        file: "b03-parallel-planes",
        source: SIX_BARS,
        mark: Derived,
        counts: [6, 5],
        motions: &[slide(Z)],
        values: &[],
    },
    // Useful equations: general 6, through one point 3, parallel 3, all meeting one line 5; the other three
    // are b03-held, b03-parallel and b03-meet-one-line.
    Published {
        file: "b06-concurrent",
        source: "RWTH Aachen, CES Mechanics I, lecture 9",
        mark: Read,
        counts: [6, 3],
        motions: &[
            turn(X, [0.0, 0.0, 1.0], &[]),
            turn(Y, [0.0, 0.0, 1.0], &[]),
            turn(Z, [0.0, 0.0, 1.0], &[]),
        ],
        values: &[],
    },
];

/// Beer & Johnston, Sample Problem 4.10: the two balls can pull against each other along AD, so that only the
/// cable is decided.
#[test]
fn a_redundant_set_decides_the_cable_alone() {
    let (model, diagnosis) = diagnosed("a10-pipe-two-balls-cable");
    let decided = model
        .reactions
        .iter()
        .zip(&diagnosis.cases[CaseIndex::FIRST].values);
    let decided: Vec<_> = decided.filter(|(_, value)| value.is_some()).collect();
    assert_eq!(decided.len(), 1);
    assert_eq!(decided[0].0.name, "T_E");
}
