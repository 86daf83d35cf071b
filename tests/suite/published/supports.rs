//! How many reactions each support supplies, by the tables of textbooks.
//!
//! Where books differ on the couples of hinges and bearings, the scene says which reading it takes: with them as
//! for a single hinge or bearing, or without as for an aligned pair.

use sixhold::scene::{Space, read_str};
use sixhold::statics::{Model, ReactionKind};

use super::Mark::{self, Memory, Read};

const OPEN: &str =
    "Baker & Haynes, Engineering Statics, chapter 5, figures Reactions-2D and Reactions-3D";
const BEER: &str = "Beer & Johnston, Statics, figure 4.10";
const SLIDES: &str = "university slides on equilibrium in space: bearings in pairs";

/// A support without name and place, its forces and couples, the source and how it is known.
type Row = (&'static str, [usize; 2], &'static str, Mark);

const SPATIAL: &[Row] = &[
    ("Cable(ground: (0, 0, 9),", [1, 0], OPEN, Read),
    ("Link(ground: (0, 0, 9),", [1, 0], OPEN, Read),
    ("SmoothContact(normal: (1, 2, 2),", [1, 0], OPEN, Read),
    ("Roller(normal: (1, 2, 2),", [1, 0], OPEN, Read),
    (
        "RailWheel(rail: (1, 0, 0), normal: (0, 0, 1),",
        [2, 0],
        BEER,
        Memory,
    ),
    ("RoughContact(normal: (1, 2, 2),", [3, 0], BEER, Memory),
    ("BallJoint(", [3, 0], OPEN, Read),
    ("UniversalJoint(axis: (1, 2, 2),", [3, 1], BEER, Memory),
    (
        "JournalBearing(axis: (1, 2, 2), couples: true,",
        [2, 2],
        OPEN,
        Read,
    ),
    (
        "JournalBearing(axis: (1, 2, 2), couples: false,",
        [2, 0],
        SLIDES,
        Read,
    ),
    (
        "SquareJournal(axis: (1, 2, 2), couples: true,",
        [2, 3],
        OPEN,
        Read,
    ),
    (
        "ThrustBearing(axis: (1, 2, 2), couples: true,",
        [3, 2],
        OPEN,
        Read,
    ),
    (
        "ThrustBearing(axis: (1, 2, 2), couples: false,",
        [3, 0],
        BEER,
        Read,
    ),
    (
        "SmoothPin(axis: (1, 2, 2), couples: true,",
        [3, 2],
        OPEN,
        Read,
    ),
    ("Hinge(axis: (1, 2, 2), couples: true,", [3, 2], OPEN, Read),
    (
        "Hinge(axis: (1, 2, 2), couples: false,",
        [3, 0],
        BEER,
        Memory,
    ),
    (
        "SlidingHinge(axis: (1, 2, 2), couples: true,",
        [2, 2],
        BEER,
        Memory,
    ),
    ("Fixed(", [3, 3], OPEN, Read),
];

const PLANAR: &[Row] = &[
    ("SmoothContact(normal: (3, 4),", [1, 0], OPEN, Read),
    ("Roller(normal: (3, 4),", [1, 0], OPEN, Read),
    ("Rocker(normal: (3, 4),", [1, 0], OPEN, Read),
    ("Link(ground: (0, 9),", [1, 0], OPEN, Read),
    ("Cable(ground: (0, 9),", [1, 0], OPEN, Read),
    ("Slot(along: (3, 4),", [1, 0], OPEN, Read),
    ("Pin(", [2, 0], OPEN, Read),
    ("RoughContact(normal: (3, 4),", [2, 0], OPEN, Read),
    ("Collar(rod: (3, 4),", [1, 1], OPEN, Read),
    ("Fixed(", [2, 1], OPEN, Read),
];

fn counted(space: Space, support: &str) -> [usize; 2] {
    let place = match space {
        Space::Spatial => "(0, 0, 0)",
        Space::Planar => "(0, 0)",
    };
    let text = format!(
        "(format: 1, space: {}, body: [Block(centre: {place}, size: (1, 1, 1))],
          supports: [{support} name: \"A\", at: {place})])",
        space.word()
    );
    let scene = read_str("support", &text).unwrap_or_else(|e| panic!("{support}: {e}"));
    let model = Model::new(&scene.scene).unwrap();
    [ReactionKind::Force, ReactionKind::Couple].map(|kind| {
        let own = model.reactions.iter().filter(|r| r.kind == kind);
        own.count()
    })
}

#[test]
fn supports_supply_what_the_tables_say() {
    for (space, rows) in [(Space::Spatial, SPATIAL), (Space::Planar, PLANAR)] {
        for (support, forces_and_couples, source, mark) in rows {
            let found = counted(space, support);
            assert_eq!(found, *forces_and_couples, "{support} ({source}, {mark:?})");
        }
    }
}

/// A component with the name of an axis is positive along that axis, as components are in every textbook, whichever
/// way the axis, rod or normal of its support is written.
#[test]
fn components_named_after_an_axis_count_along_it() {
    let ways = ["(0, 1", "(0, -1", "(1, 0", "(-1, 0"];
    let mut met = 0;
    for way in ways {
        let planar = ["Slot(along", "Collar(rod", "RoughContact(normal"].map(|kind| {
            (
                "planar",
                format!("{kind}: {way}), name: \"L_x\", at: (0, 0))"),
            )
        });
        let spatial = [
            "Hinge(axis",
            "SquareJournal(axis",
            "UniversalJoint(axis",
            "RoughContact(normal",
            "RailWheel(normal: (0, 0, -1), rail",
        ];
        let spatial = spatial.map(|kind| {
            let support = format!("{kind}: {way}, 0), name: \"L_x\", at: (0, 0, 0))");
            ("spatial", support)
        });
        for (space, support) in planar.into_iter().chain(spatial) {
            let centre = if space == "planar" {
                "(0, 0)"
            } else {
                "(0, 0, 0)"
            };
            let text = format!(
                "(format: 1, space: {space}, body: [Block(centre: {centre}, size: (1, 1, 1))], supports: [{support}])"
            );
            let scene = read_str("sense", &text)
                .unwrap_or_else(|e| panic!("{e}"))
                .scene;
            for reaction in Model::new(&scene).unwrap().reactions {
                let axis = ["x", "y", "z"].iter().position(|axis| {
                    let component = reaction.name.strip_suffix(axis);
                    component.is_some_and(|rest| rest == "L_x_" || rest == "M_L_x")
                });
                if let Some(axis) = axis {
                    assert_eq!(
                        reaction.direction[axis], 1.0,
                        "{} of {support}",
                        reaction.name
                    );
                    met += 1;
                }
            }
        }
    }
    assert!(met > 40, "{met}");
}
