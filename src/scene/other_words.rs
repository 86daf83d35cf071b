//! What other books call supports, loads and shapes: one table for messages, and for the reference, which a test compares.
//!
//! Common usage in textbooks of mechanics, no single source.

use super::Space;

/// Other names of a kind.
#[derive(Debug)]
pub(crate) struct OtherKind {
    /// The names, spelled as kinds are.
    pub names: &'static [&'static str],
    /// What to write in space, as it follows "write".
    pub spatial: &'static str,
    /// What to write in the plane.
    pub planar: &'static str,
}

impl OtherKind {
    /// What to write in a space.
    pub(crate) fn in_space(&self, space: Space) -> &'static str {
        match space {
            Space::Spatial => self.spatial,
            Space::Planar => self.planar,
        }
    }
}

const fn other(names: &'static [&'static str], write: &'static str) -> OtherKind {
    OtherKind {
        names,
        spatial: write,
        planar: write,
    }
}

const fn differs(
    names: &'static [&'static str],
    spatial: &'static str,
    planar: &'static str,
) -> OtherKind {
    OtherKind {
        names,
        spatial,
        planar,
    }
}

/// Other names of supports.
pub(crate) const SUPPORTS: &[OtherKind] = &[
    differs(
        &["Ball", "BallAndSocket", "Socket", "Spherical"],
        "`BallJoint`",
        "`Pin`",
    ),
    differs(
        &["PinSupport", "PinJoint", "Pinned", "Hinged", "Pivot"],
        "`Hinge` for a pin with an axis, `BallJoint` for a point that is held and free to turn",
        "`Pin`",
    ),
    differs(&["Clevis", "PinAndClevis"], "`SmoothPin`", "`Pin`"),
    other(
        &[
            "FixedSupport",
            "FixedEnd",
            "BuiltIn",
            "Encastre",
            "Clamp",
            "Clamped",
            "Cantilever",
            "Embedded",
            "Rigid",
            "Wall",
            "Weld",
            "Welded",
        ],
        "`Fixed`",
    ),
    differs(
        &["Bolt", "Screw", "Anchor", "Bolted"],
        "`Fixed` for a joint that holds against turning, `SmoothPin` for a bolt that works as a pin",
        "`Fixed` for a joint that holds against turning, `Pin` for a bolt that works as a pin",
    ),
    other(&["RollerSupport", "Wheel", "Castor", "Caster"], "`Roller`"),
    differs(&["RockerSupport", "KnifeEdge"], "`Roller`", "`Rocker`"),
    other(
        &[
            "Contact",
            "Frictionless",
            "SmoothSurface",
            "Foot",
            "Pad",
            "Rest",
            "Stop",
        ],
        "`SmoothContact`, or `RoughContact` if friction holds it in place",
    ),
    other(&["Friction", "RoughSurface"], "`RoughContact`"),
    other(
        &[
            "Rod",
            "Bar",
            "Strut",
            "Prop",
            "Brace",
            "Stay",
            "ShortLink",
            "TwoForceMember",
            "Spring",
        ],
        "`Link`, which pushes and pulls and does not stretch",
    ),
    other(
        &[
            "Rope", "Wire", "Chain", "Cord", "String", "Guy", "Tie", "Tether",
        ],
        "`Cable`, which only pulls",
    ),
    differs(
        &[
            "Bearing",
            "Journal",
            "RadialBearing",
            "PlainBearing",
            "FloatingBearing",
        ],
        "`JournalBearing`",
        "`Pin` for a bearing seen along its shaft, `Collar` for one seen from the side",
    ),
    differs(
        &["AxialBearing", "LocatingBearing", "FixedBearing"],
        "`ThrustBearing`",
        "`Pin`",
    ),
    differs(
        &["Ring", "Eye", "Sleeve", "Bush", "Bushing"],
        "`JournalBearing` if it holds a shaft of the body, `Slider` if it runs on a rod of the ground",
        "`Collar` if it is fixed to the body, `Slot` if the body can turn in it",
    ),
    differs(
        &[
            "Guide",
            "Guided",
            "Slide",
            "SlidingSupport",
            "LinearBearing",
        ],
        "`Slider`",
        "`Collar`, or `Slot` if the body can turn in it",
    ),
    differs(
        &["Universal", "Cardan", "CardanJoint"],
        "`UniversalJoint`",
        "`Pin`",
    ),
    differs(
        &["Rail", "Track", "Trolley"],
        "`RailWheel`",
        "`Slot`, or `Roller` if it can lift off",
    ),
];

/// Other names of loads.
pub(crate) const LOADS: &[OtherKind] = &[
    other(
        &[
            "PointForce",
            "PointLoad",
            "ConcentratedForce",
            "ConcentratedLoad",
            "Load",
            "Push",
            "Pull",
        ],
        "`Force`",
    ),
    other(
        &["Moment", "Torque", "PointMoment", "ConcentratedMoment"],
        "`Couple`",
    ),
    other(
        &[
            "UDL",
            "UniformLoad",
            "LineLoad",
            "DistributedLoad",
            "DistributedForce",
            "TriangularLoad",
            "TrapezoidalLoad",
            "LinearLoad",
        ],
        "`Distributed`",
    ),
    differs(
        &["Pressure", "SurfaceLoad", "AreaLoad", "Wind", "Snow"],
        "`Area`",
        "`Distributed`, pressure times the width of the body",
    ),
    other(
        &[
            "SelfWeight",
            "OwnWeight",
            "DeadLoad",
            "DeadWeight",
            "Gravity",
            "Mass",
            "PointMass",
        ],
        "`Weight`",
    ),
];

/// Other names of shapes.
pub(crate) const SHAPES: &[OtherKind] = &[
    other(
        &[
            "Bar", "Beam", "Rod", "Pipe", "Tube", "Wire", "Member", "Frame",
        ],
        "`BentBar`",
    ),
    other(&["Panel", "Slab", "Sheet", "Board", "Polygon"], "`Plate`"),
    other(&["AngleBracket", "Console", "LBracket"], "`Bracket`"),
    other(&["Axle", "Cylinder", "Spindle"], "`Shaft`"),
    other(
        &[
            "Pulley", "Wheel", "Drum", "Sheave", "Gear", "Washer", "Ring",
        ],
        "`Disc`",
    ),
    other(&["Box", "Cuboid", "Brick", "Cube", "Crate"], "`Block`"),
    other(
        &["Sphere", "Ball"],
        "`Block` or `Disc` of about that size: only a weight and the picture depend on the shape",
    ),
];

/// Ends of words that say nothing of the kind: `ClampedEnd`, `SphericalJoint`.
const ENDINGS: [&str; 5] = ["support", "joint", "connection", "end", "load"];

/// A word in lower case, without underscores.
fn plain(word: &str) -> String {
    word.to_lowercase().replace('_', "")
}

/// The entry of a word, in upper or lower case, with or without an ending such as `Support`.
pub(crate) fn kind<'t>(table: &'t [OtherKind], word: &str) -> Option<&'t OtherKind> {
    let word = plain(word);
    let find = |word: &str| {
        let is_it = |name: &str| name.to_lowercase() == word;
        table
            .iter()
            .find(|other| other.names.iter().any(|name| is_it(name)))
    };
    let stem = || ENDINGS.iter().find_map(|ending| word.strip_suffix(ending));
    find(&word).or_else(|| find(stem()?))
}

/// What to write for a word of another book, as sentences; empty for words that none of the tables has.
#[cfg(feature = "cli")]
pub(crate) fn other_words(word: &str) -> Vec<String> {
    let tables = [("support", SUPPORTS), ("load", LOADS), ("shape", SHAPES)];
    let found = tables
        .into_iter()
        .filter_map(|(what, table)| Some((what, kind(table, word)?)));
    let sentence = |(what, other): (&str, &OtherKind)| match other.spatial == other.planar {
        true => format!("A {what}: write {}.", other.spatial),
        false => format!(
            "A {what}: in space write {}; in the plane write {}.",
            other.spatial, other.planar
        ),
    };
    found.map(sentence).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const GUIDE: &str = include_str!("../../scenes/README.md");

    fn row(other: &OtherKind) -> String {
        let names: Vec<String> = other.names.iter().map(|name| format!("`{name}`")).collect();
        let names = names.join(", ");
        format!("| {names} | {} | {} |", other.spatial, other.planar)
    }

    /// The reference and the messages must send a reader the same way.
    #[test]
    fn the_reference_lists_the_other_words() {
        let all = SUPPORTS.iter().chain(LOADS).chain(SHAPES);
        let missing: Vec<String> = all
            .map(row)
            .filter(|row| !GUIDE.contains(row.as_str()))
            .collect();
        assert_eq!(missing, [""; 0], "\n{}", missing.join("\n"));
    }

    #[test]
    fn every_other_word_has_one_entry_of_its_family() {
        for table in [SUPPORTS, LOADS, SHAPES] {
            let mut names: Vec<&str> = table
                .iter()
                .flat_map(|other| other.names)
                .copied()
                .collect();
            let count = names.len();
            names.sort_unstable();
            names.dedup();
            assert_eq!(names.len(), count);
        }
    }

    #[test]
    fn case_underscores_and_endings_do_not_matter() {
        let write = |word| kind(SUPPORTS, word).map(|other| other.planar);
        assert_eq!(write("pin_support"), Some("`Pin`"));
        assert_eq!(write("ClampedEnd"), Some("`Fixed`"));
        assert_eq!(write("SphericalJoint"), Some("`Pin`"));
        assert_eq!(write("Elephant"), None);
        assert_eq!(write("Joint"), None);
    }
}
