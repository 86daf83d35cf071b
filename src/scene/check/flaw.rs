//! What can be wrong with a scene whose values could all be read.

use super::super::problem::{Explain, did_you_mean};

/// A scene that can be read but not be meant.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub(crate) enum Flaw {
    #[error("the {what} name \"{name}\" is given twice")]
    RepeatedName { what: &'static str, name: String },
    #[error("the support \"{name}\" does not stand at the point \"{name}\"")]
    NameOfOtherPoint { name: String },
    #[error("there is no point \"{name}\"")]
    UnknownPoint {
        name: String,
        nearest: Option<String>,
        known: Vec<String>,
    },
    #[error("`{field}` is zero, which is not a direction")]
    ZeroDirection { field: &'static str },
    #[error("`{field}` points towards the place where it starts")]
    TowardsItself { field: &'static str },
    #[error("`normal` runs along the rail")]
    NormalAlongRail,
    #[error("`upright` runs along `lengthwise`")]
    UprightAlongLengthwise,
    #[error("the ground end of the {what} lies on its body end")]
    GroundAtBody { what: &'static str },
    #[error("{}", stiffness_count(field, what, *listed, *count))]
    StiffnessCount {
        field: &'static str,
        what: &'static str,
        /// How many numbers are listed; `None` where one is given for all.
        listed: Option<usize>,
        count: usize,
    },
    #[error("the largest `{field}` is {ratio} times this one")]
    StiffnessRange { field: &'static str, ratio: String },
    #[error("the plate has {}", anchors(*count))]
    AnchorCount { count: usize },
    #[error("anchor {number} of the pattern lies off the plate")]
    AnchorOffPlate { number: usize },
    #[error("anchor {number} of the pattern is where an earlier one is")]
    RepeatedAnchor { number: usize },
    #[error("`upright` runs along the normal")]
    UprightAlongNormal,
    #[error("`allowable` gives no force")]
    NoAllowable,
    #[error("the support has no {field} that could be limited")]
    AllowableOfNothing { field: &'static str },
    #[error("`allowable` does not say which way is out of the ground")]
    NoOutwards,
    #[error("the support says by itself which way is out of the ground")]
    OutwardsTwice,
    #[error("the wall of the tube is as thick as its radius or thicker")]
    ThickWall,
    #[error("`shear` is true, and this section has no `shear_area`")]
    NoShearArea,
    #[error("with `material` the body bends, and a {shape} is no bar")]
    NotABar { shape: &'static str },
    #[error("the couple has no place on the bars")]
    CoupleNowhere,
    #[error("the weight is given as a density, and `section` makes bars other than solid")]
    DensityOfSections,
    #[error("there is no support \"{name}\"")]
    UnknownSupport {
        name: String,
        nearest: Option<String>,
    },
    #[error("there is no load case \"{name}\"")]
    UnknownCase {
        name: String,
        nearest: Option<String>,
    },
    #[error("the load case \"{name}\" has two factors")]
    RepeatedFactor { name: String },
    #[error("the support supplies {count} forces, and a prestress is that of one")]
    PrestressOfSeveral { count: usize },
    #[error("a support that only {only} has no negative prestress")]
    PrestressAgainst { only: &'static str },
    #[error("`from` and `to` are the same place")]
    NoLength,
    #[error("the body has no volume, and so no centre at which its weight would act")]
    NoVolume,
    #[error("the body has no shapes")]
    EmptyBody,
    #[error("the body has {count} shapes")]
    ShapeCount { count: usize },
    #[error("the paths of the bars have {count} points in all")]
    PathPointCount { count: usize },
    #[error("the path has fewer than two points")]
    ShortPath,
    #[error("the path stays at the same point")]
    RepeatedPathPoint,
    #[error("the path turns straight back on itself")]
    PathFoldsBack,
    #[error("the {what} has {count} corners")]
    CornerCount { what: &'static str, count: usize },
    #[error("the wall has {count} corners; in the plane it is a straight piece with two")]
    EndCount { count: usize },
    #[error("the {what} has this corner twice")]
    RepeatedCorner { what: &'static str },
    #[error("the corners of the {what} lie on one line")]
    CornersInLine { what: &'static str },
    #[error("the corners of the {what} do not lie in one plane")]
    CornersOutOfPlane { what: &'static str },
    #[error("edges {first} and {second} of the {what} touch or cross")]
    EdgesCross {
        what: &'static str,
        first: usize,
        second: usize,
    },
    #[error("the plate has {count} holes")]
    HoleCount { count: usize },
    #[error("the hole's centre does not lie in the plane of the plate")]
    HoleOutOfPlane,
    #[error("the hole does not lie within the edges of the plate")]
    HoleOutside,
    #[error("the hole overlaps hole {other}")]
    HolesOverlap { other: usize },
    #[error("the legs of the bracket lie on one line with its corner")]
    LegsInLine,
    #[error("the gusset reaches further than the shorter leg, which is {leg} {unit} long")]
    LongGusset {
        leg: f64,
        /// The scene's unit of length.
        unit: &'static str,
    },
    #[error("{what} {distance} off the body")]
    OffTheBody {
        /// The start of the sentence.
        what: String,
        distance: String,
        /// The scene's unit of length, where it may be the wrong one.
        unit: Option<&'static str>,
    },
    #[error("{what} {distance} from the body, which is {ratio} times the size of the body")]
    FarAway {
        /// The start of the sentence.
        what: String,
        distance: String,
        ratio: String,
        /// The scene's unit of length.
        unit: &'static str,
    },
    #[error("this shape lies {gap} apart from the rest of the body")]
    Apart { gap: String, alone: bool },
    #[error("the axis of the bearing \"{name}\" runs across the shaft that it holds")]
    BearingAcross { name: String, shaft: String },
    #[error("the length of the shape is {ratio} times the {field}")]
    Slender { field: &'static str, ratio: String },
    #[error("the {field} is {ratio} times the length of the shape")]
    Stout { field: &'static str, ratio: String },
    #[error("this shape is {ratio} times as large as the next smaller one")]
    LeapInSize { ratio: String },
    #[error("the body is {size} m across, and the scene names no units")]
    HugeBody { size: String },
    #[error("`{before},{after}` is read as two numbers, {before} and {after}")]
    DecimalComma { before: String, after: String },
    #[error("two parts of the body meet only at \"{name}\", and are taken as one rigid body")]
    JoinedByHinge { name: String },
    #[error("the bore is as wide as the disc or wider")]
    WideBore,
    #[error("the groove is as deep as the rim or deeper")]
    DeepGroove,
    #[error("a pressure counts per area of the face, not of its plan")]
    PressureOnPlan,
    #[error("the face is upright and has no plan")]
    UprightOnPlan,
    #[error("the lesson has no stages")]
    EmptyLesson,
    #[error("the lesson has the stage `{stage}` twice")]
    RepeatedStage { stage: &'static str },
}

/// Most corners of a plate, and most holes in it: each is compared with every other.
pub(crate) const MOST_PARTS: usize = 1000;

/// Most anchors of a plate.
pub(crate) const MOST_ANCHORS: usize = 1000;

/// Most shapes of a body.
pub(crate) const MOST_SHAPES: usize = 2000;

/// Most points of all bars' paths: each bend has a thousand triangles.
pub(crate) const MOST_PATH_POINTS: usize = 2000;

/// How many times as stiff as another reaction one may be at most: beyond it the softer one is lost in the rounding of the stiffer.
pub(crate) const STIFFNESS_RATIO: f64 = 1e9;

/// `no anchors`, `1 anchor`, `2000 anchors`.
fn anchors(count: usize) -> String {
    match count {
        0 => "no anchors".to_owned(),
        1 => "1 anchor".to_owned(),
        _ => format!("{count} anchors"),
    }
}

/// `` `stiffness` lists 2 numbers, but the support supplies 3 forces ``.
fn stiffness_count(field: &str, what: &str, listed: Option<usize>, count: usize) -> String {
    let given = match listed {
        None => "is given".to_owned(),
        Some(1) => "lists 1 number".to_owned(),
        Some(listed) => format!("lists {listed} numbers"),
    };
    let supplies = match count {
        0 => format!("no {what}s"),
        1 => format!("1 {what}"),
        _ => format!("{count} {what}s"),
    };
    format!("`{field}` {given}, but the support supplies {supplies}")
}

impl Explain for Flaw {
    fn expected(&self) -> Option<String> {
        let expected = match self {
            Self::CornerCount { .. } => &format!("3 to {MOST_PARTS} corners"),
            Self::EndCount { .. } => "two ends, such as `corners: [(0, 0), (0, 3)]`",
            Self::HoleCount { .. } => &format!("at most {MOST_PARTS} holes"),
            Self::ShapeCount { .. } => &format!("at most {MOST_SHAPES} shapes"),
            Self::PathPointCount { .. } => &format!("at most {MOST_PATH_POINTS} points"),
            Self::AnchorCount { .. } => &format!("2 to {MOST_ANCHORS} anchors"),
            Self::EmptyLesson => "a stage, such as `lesson: [Body, Supports, Rank]`",
            Self::ShortPath => "two points or more, such as `path: [\"A\", \"B\"]`",
            Self::EmptyBody => {
                "a shape, such as `body: [Shaft(from: (0, 0, 0), to: (1, 0, 0), diameter: 0.05)]`"
            }
            _ => return None,
        };
        Some(expected.to_owned())
    }

    fn hint(&self) -> Option<String> {
        let hint = match self {
            Self::UnknownPoint {
                nearest: Some(nearest),
                ..
            } => return did_you_mean(Some(nearest)),
            Self::UnknownPoint { known, .. } if known.is_empty() => {
                "name it in `points: {\"A\": (…)}` or write its coordinates"
            }
            Self::UnknownPoint { known, .. } => &format!("the points are {}", known.join(", ")),
            Self::NameOfOtherPoint { .. } => {
                "give one of them another name: sentences and figures tell them apart by it"
            }
            Self::OffTheBody {
                unit: Some(unit), ..
            } => &format!("all lengths of the scene are in {unit}: is this one, too?"),
            Self::FarAway { unit, .. } => {
                &format!("all lengths of the scene are in {unit}: is this one, too?")
            }
            Self::OffTheBody { .. } => "move it onto the body, or add the shape that reaches there",
            Self::Apart { alone: true, .. } => {
                "add the shape that joins it; if it moves on its own, it is a body of its own: `sixhold help one-body`"
            }
            Self::ShapeCount { .. } => "leave out what holds nothing and carries no load",
            Self::PathPointCount { .. } => {
                "leave out points: between two of them the bar is straight, and its bends are rounded"
            }
            Self::NoVolume => "give the weight as a mass at a place, or the shapes more thickness",
            Self::Apart { alone: false, .. } => {
                "add the shape that joins it and those that it touches; if they move on their own, they are a body of their own: `sixhold help one-body`"
            }
            Self::BearingAcross { shaft, .. } => &format!(
                "the axis of a bearing runs along the shaft: here {shaft}; a pin through the shaft is a `Hinge`"
            ),
            Self::Slender { .. } | Self::Stout { .. } | Self::LeapInSize { .. } => {
                "all lengths of a scene are in one unit: are some of these in mm and some in m?"
            }
            Self::HugeBody { .. } => {
                "if lengths are in mm, write `units: (length: mm)`; if they are in m, `units: (length: m)`"
            }
            Self::DecimalComma { before, after } => &format!(
                "a decimal point is `.`: write {before}.{after} if that is meant, else a space after the comma"
            ),
            Self::JoinedByHinge { name } => &format!(
                "if \"{name}\" joins two bodies that can turn against each other, write a scene for each (`sixhold help one-body`); \
                 if it holds one body to the ground, the scene is right"
            ),
            Self::UnknownSupport {
                nearest: Some(nearest),
                ..
            } => return did_you_mean(Some(nearest)),
            Self::UnknownCase {
                nearest: Some(nearest),
                ..
            } => return did_you_mean(Some(nearest)),
            Self::UnknownCase { .. } => {
                "write the name of one of the `cases`; what acts in every case has the factor `permanent`"
            }
            Self::RepeatedFactor { .. } => "keep one of them",
            Self::UnknownSupport { .. } => "write the name of a support, as in its field `name`",
            Self::PrestressOfSeveral { .. } => {
                "tighten a `Link`, a `Cable` or a contact, or let the support move by `Settlement`"
            }
            Self::PrestressAgainst { .. } => "write the force greater than 0",
            Self::ThickWall => "make it thinner, or write `section: Solid`",
            Self::NoShearArea => {
                "write it, the area divided by the shear coefficient of the section, or leave `shear` out"
            }
            Self::NotABar { .. } => {
                "make the body of `BentBar` and `Shaft`, or leave `material` out: the body is then rigid"
            }
            Self::CoupleNowhere => {
                "write `at`: a rigid body does not mind where a couple acts, a bar that bends does"
            }
            Self::DensityOfSections => "write the weight as a `mass`",
            Self::AnchorCount { count: 0 | 1 } => {
                "for a single bolt write a `Fixed` or a `SmoothPin`"
            }
            Self::AnchorCount { .. } => "write a plate for each group of anchors",
            Self::AnchorOffPlate { .. } => {
                "places are counted from the middle of the plate: make the plate larger or the pattern smaller"
            }
            Self::RepeatedAnchor { .. } => "leave one of the two out",
            Self::UprightAlongNormal => "`upright` says what is up on the plate: turn it away",
            Self::NoAllowable => {
                "write `tension`, `compression` or `shear`, or leave the field out"
            }
            Self::NoOutwards => {
                "write `outwards: (…)` within it, from the ground into the body: it tells tension from compression and shear"
            }
            Self::OutwardsTwice => "leave `outwards` out: the normal or the ground end counts",
            Self::StiffnessCount { count: 0, .. } | Self::AllowableOfNothing { .. } => {
                "leave it out"
            }
            Self::StiffnessCount { .. } => {
                "give one number for all of them, or one for each in the order of the report"
            }
            Self::StiffnessRange { .. } => {
                "what is so much stiffer is as good as rigid: give it a million times the stiffness of the others"
            }
            Self::RepeatedName { .. } => "give each its own name",
            Self::EmptyLesson => "leave the field out for a lesson of all stages",
            Self::RepeatedStage { .. } => "keep one of them",
            Self::PressureOnPlan => {
                "leave `on_plan` out, or write `force`, such as `force: (0, 0, -800)` for snow"
            }
            Self::UprightOnPlan => {
                "leave `on_plan` out: the force then counts per area of the face"
            }
            Self::ZeroDirection { .. } => "any length will do but 0",
            Self::NormalAlongRail => "the normal leads from the rail into the wheel",
            Self::GroundAtBody { .. } => "its direction is the line between the two ends",
            Self::NoLength => "give its two ends different places",
            Self::RepeatedPathPoint | Self::RepeatedCorner { .. } => "leave one of the two out",
            Self::PathFoldsBack => "end the path where it turns back, or lead it around",
            Self::CornersInLine { what: "wall" } => "move a corner off the line",
            Self::CornersInLine { .. } => "move a corner off the line, or use `BentBar` for a rod",
            Self::CornersOutOfPlane { what: "wall" } => {
                "the first three corners define the plane; move the others into it, or write two walls"
            }
            Self::CornersOutOfPlane { .. } => {
                "the first three corners define the plane; move the others into it, or use two plates"
            }
            Self::HoleOutOfPlane => "take its centre from the plane that the corners lie in",
            Self::HoleOutside => "move it inwards, or make it smaller",
            Self::HolesOverlap { .. } => "move one of them, or make one larger hole of both",
            Self::LegsInLine => "turn one leg away from the other",
            Self::LongGusset { .. } => "make the gusset smaller or the leg longer",
            Self::TowardsItself { .. } => "point towards another place, or write `(x, y, z)`",
            Self::UprightAlongLengthwise => "`upright` says which side is up: turn it away",
            Self::WideBore => "make it smaller; the bore is a diameter, as the disc's is",
            Self::DeepGroove => "make the groove shallower or the bore smaller",
            Self::EdgesCross { .. } => {
                "name the corners in order around the edge; edge 1 starts at the first corner"
            }
            _ => return None,
        };
        Some(hint.to_owned())
    }
}
