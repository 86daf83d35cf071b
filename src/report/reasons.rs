//! The geometry behind the reason as JSON: what it is called, and its objects with their reactions.

use nalgebra::{Unit, Vector3};
use schemars::JsonSchema;
use serde::Serialize;

use super::Report;
use super::values::{Triple, point, tidy, triple};
use crate::statics::{Line, Model, Pencil, Picture, Plane, Reason, ReasonShape};
use crate::wording;

/// A reason.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "reason")]
pub(super) struct ReasonObject<'a> {
    kind: Geometry,
    words: String,
    objects: Vec<GeometricObject<'a>>,
}

/// A geometric object that reactions belong to.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "geometric_object")]
pub(super) struct GeometricObject<'a> {
    shape: ShapeWord,
    /// null for a shape without a place
    point: Option<Triple>,
    /// of a line, of parallel lines, of a screw; of planes their normal; null for a shape without one
    direction: Option<Triple>,
    /// of a screw, length per radian, right-handed positive; null for every other shape
    pitch: Option<f64>,
    /// of a ruled surface, some of its lines: a point and a direction each
    lines: Vec<[Triple; 2]>,
    reactions: Vec<&'a str>,
}

/// what reactions have in common
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(rename = "geometry")]
pub(super) enum Geometry {
    General,
    NoReactions,
    MeetLine,
    SquareToDirection,
    LinearComplex,
    MeetTwoLines,
    MeetLineSquareToDirection,
    CommonNormal,
    PointOrPlane,
    ParallelOrInPlane,
    ParallelWithCouples,
    MeetDoubleLine,
    MeetDoubleLineAtInfinity,
    OnlyScrews,
    ThroughPoint,
    InPlane,
    Parallel,
    OnlyCouples,
    Regulus,
    TwoPencils,
    FlatPencil,
    ParallelInPlane,
    CouplesSquareToDirection,
    TwoLines,
    LineAndCouple,
    OneLine,
    OneCouple,
    SeveralMotions,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
enum ShapeWord {
    Point,
    Line,
    Screw,
    Plane,
    ParallelLines,
    CouplesAbout,
    CouplesSquareTo,
    ParallelPlanes,
    RuledSurface,
}

/// The reason of a body that is not held; none for one that is.
pub(super) fn objects<'a>(report: &Report<'a>) -> Vec<ReasonObject<'a>> {
    if report.diagnosis().is_held() {
        return Vec::new();
    }
    let pictures = report.study.objects().iter();
    vec![ReasonObject {
        kind: kind_of(&report.diagnosis().reason),
        words: wording::reason(report.model(), report.diagnosis()).to_string(),
        objects: pictures.map(|p| object(report.model(), p)).collect(),
    }]
}

/// The name of a geometry in JSON.
pub(super) fn kind_of(reason: &Reason) -> Geometry {
    match reason {
        Reason::Held => Geometry::General,
        Reason::NoReactions => Geometry::NoReactions,
        Reason::MeetLine(_) => Geometry::MeetLine,
        Reason::SquareTo(_) => Geometry::SquareToDirection,
        Reason::LinearComplex(..) => Geometry::LinearComplex,
        Reason::MeetTwoLines(..) => Geometry::MeetTwoLines,
        Reason::MeetLineSquareTo(..) => Geometry::MeetLineSquareToDirection,
        Reason::CommonNormal(_) => Geometry::CommonNormal,
        Reason::PointOrPlane(_) => Geometry::PointOrPlane,
        Reason::AlongOrInPlane(..) => Geometry::ParallelOrInPlane,
        Reason::ParallelWithCouples(_) => Geometry::ParallelWithCouples,
        Reason::Touching(_) => Geometry::MeetDoubleLine,
        Reason::TouchingAtInfinity(_) => Geometry::MeetDoubleLineAtInfinity,
        Reason::OnlyScrews => Geometry::OnlyScrews,
        Reason::ThroughPoint(_) => Geometry::ThroughPoint,
        Reason::InPlane(_) => Geometry::InPlane,
        Reason::Parallel(_) => Geometry::Parallel,
        Reason::OnlyCouples => Geometry::OnlyCouples,
        Reason::Regulus(_) => Geometry::Regulus,
        Reason::TwoPencils(_) => Geometry::TwoPencils,
        Reason::OnePencil(Pencil::Through(_)) => Geometry::FlatPencil,
        Reason::OnePencil(Pencil::Along(..)) => Geometry::ParallelInPlane,
        Reason::OnePencil(Pencil::SquareTo(_)) => Geometry::CouplesSquareToDirection,
        Reason::TwoLines(..) => Geometry::TwoLines,
        Reason::ForceAndCouple(..) => Geometry::LineAndCouple,
        Reason::OneLine(_) => Geometry::OneLine,
        Reason::OneCouple(_) => Geometry::OneCouple,
        Reason::SeveralMotions => Geometry::SeveralMotions,
    }
}

fn object<'a>(model: &'a Model, picture: &Picture) -> GeometricObject<'a> {
    let names = picture.reactions.iter();
    GeometricObject {
        reactions: names.map(|i| model.reactions[*i].name.as_str()).collect(),
        ..shape(model, &picture.shape)
    }
}

fn shape<'a>(model: &Model, shape: &ReasonShape) -> GeometricObject<'a> {
    let bare = |name, direction: Option<&Unit<Vector3<f64>>>| GeometricObject {
        shape: name,
        point: None,
        direction: direction.map(|d| triple(d)),
        pitch: None,
        lines: Vec::new(),
        reactions: Vec::new(),
    };
    match shape {
        ReasonShape::Point(at) => GeometricObject {
            point: Some(point(model, at)),
            ..bare(ShapeWord::Point, None)
        },
        ReasonShape::Line(Line {
            point: at,
            direction,
        }) => GeometricObject {
            point: Some(point(model, at)),
            ..bare(ShapeWord::Line, Some(direction))
        },
        ReasonShape::Screw(axis, pitch) => GeometricObject {
            point: Some(point(model, &axis.point)),
            pitch: tidy(pitch / model.units.length.in_metres()),
            ..bare(ShapeWord::Screw, Some(&axis.direction))
        },
        ReasonShape::Plane(Plane { point: at, normal }) => GeometricObject {
            point: Some(point(model, at)),
            ..bare(ShapeWord::Plane, Some(normal))
        },
        ReasonShape::Direction(direction) => bare(ShapeWord::ParallelLines, Some(direction)),
        ReasonShape::Couple(direction) => bare(ShapeWord::CouplesAbout, Some(direction)),
        ReasonShape::CouplesAcross(direction) => bare(ShapeWord::CouplesSquareTo, Some(direction)),
        ReasonShape::Planes(normal) => bare(ShapeWord::ParallelPlanes, Some(normal)),
        ReasonShape::Surface(lines) => GeometricObject {
            lines: lines
                .iter()
                .map(|line| [point(model, &line.point), triple(&line.direction)])
                .collect(),
            ..bare(ShapeWord::RuledSurface, None)
        },
    }
}
