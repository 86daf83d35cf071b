//! The geometry behind the reason as JSON: what it is called, and its objects with their reactions.

use nalgebra::{Unit, Vector3};
use serde::Serialize;

use super::Report;
use super::json::{point, tidy, triple};
use crate::statics::{Line, Model, Pencil, Picture, Plane, Reason, Shape};
use crate::words;

/// A reason.
#[derive(Debug, Serialize)]
pub(super) struct ReasonObject<'a> {
    kind: &'static str,
    words: String,
    objects: Vec<GeometricObject<'a>>,
}

/// A geometric object that reactions belong to.
#[derive(Debug, Serialize)]
pub(super) struct GeometricObject<'a> {
    shape: &'static str,
    point: Option<[Option<f64>; 3]>,
    /// Of a line or a family of parallel lines; of planes their normal.
    direction: Option<[Option<f64>; 3]>,
    /// Of a screw, length per radian.
    pitch: Option<f64>,
    /// Of a ruled surface, some of its lines: a point and a direction each.
    lines: Vec<[[Option<f64>; 3]; 2]>,
    reactions: Vec<&'a str>,
}

/// The reason of a body that is not held; none for one that is.
pub(super) fn objects<'a>(report: &Report<'a>) -> Vec<ReasonObject<'a>> {
    if report.diagnosis().is_held() {
        return Vec::new();
    }
    let pictures = report.study.objects().iter();
    vec![ReasonObject {
        kind: kind_of(&report.diagnosis().reason),
        words: words::reason(report.model(), report.diagnosis()),
        objects: pictures.map(|p| object(report.model(), p)).collect(),
    }]
}

/// The name of a geometry in JSON.
pub(super) fn kind_of(reason: &Reason) -> &'static str {
    match reason {
        Reason::Held => "general",
        Reason::NoReactions => "no_reactions",
        Reason::MeetLine(_) => "meet_line",
        Reason::SquareTo(_) => "square_to_direction",
        Reason::LinearComplex(..) => "linear_complex",
        Reason::MeetTwoLines(..) => "meet_two_lines",
        Reason::MeetLineSquareTo(..) => "meet_line_square_to_direction",
        Reason::CommonNormal(_) => "common_normal",
        Reason::PointOrPlane(_) => "point_or_plane",
        Reason::AlongOrInPlane(..) => "parallel_or_in_plane",
        Reason::ParallelWithCouples(_) => "parallel_with_couples",
        Reason::Touching(_) => "meet_double_line",
        Reason::TouchingAtInfinity(_) => "meet_double_line_at_infinity",
        Reason::OnlyScrews => "only_screws",
        Reason::ThroughPoint(_) => "through_point",
        Reason::InPlane(_) => "in_plane",
        Reason::Parallel(_) => "parallel",
        Reason::OnlyCouples => "only_couples",
        Reason::Regulus(_) => "regulus",
        Reason::TwoPencils(_) => "two_pencils",
        Reason::OnePencil(Pencil::Through(_)) => "flat_pencil",
        Reason::OnePencil(Pencil::Along(..)) => "parallel_in_plane",
        Reason::OnePencil(Pencil::SquareTo(_)) => "couples_square_to_direction",
        Reason::TwoLines(..) => "two_lines",
        Reason::ForceAndCouple(..) => "line_and_couple",
        Reason::OneLine(_) => "one_line",
        Reason::OneCouple(_) => "one_couple",
        Reason::SeveralMotions => "several_motions",
    }
}

fn object<'a>(model: &'a Model, picture: &Picture) -> GeometricObject<'a> {
    let names = picture.reactions.iter();
    GeometricObject {
        reactions: names.map(|i| model.reactions[*i].name.as_str()).collect(),
        ..shape(model, &picture.shape)
    }
}

fn shape<'a>(model: &Model, shape: &Shape) -> GeometricObject<'a> {
    let bare = |name, direction: Option<&Unit<Vector3<f64>>>| GeometricObject {
        shape: name,
        point: None,
        direction: direction.map(|d| triple(d)),
        pitch: None,
        lines: Vec::new(),
        reactions: Vec::new(),
    };
    match shape {
        Shape::Point(at) => GeometricObject {
            point: Some(point(model, at)),
            ..bare("point", None)
        },
        Shape::Line(Line {
            point: at,
            direction,
        }) => GeometricObject {
            point: Some(point(model, at)),
            ..bare("line", Some(direction))
        },
        Shape::Screw(axis, pitch) => GeometricObject {
            point: Some(point(model, &axis.point)),
            pitch: tidy(pitch / model.units.length.in_metres()),
            ..bare("screw", Some(&axis.direction))
        },
        Shape::Plane(Plane { point: at, normal }) => GeometricObject {
            point: Some(point(model, at)),
            ..bare("plane", Some(normal))
        },
        Shape::Direction(direction) => bare("parallel_lines", Some(direction)),
        Shape::Couple(direction) => bare("couples_about", Some(direction)),
        Shape::CouplesAcross(direction) => bare("couples_square_to", Some(direction)),
        Shape::Planes(normal) => bare("parallel_planes", Some(normal)),
        Shape::Surface(lines) => GeometricObject {
            lines: lines
                .iter()
                .map(|line| [point(model, &line.point), triple(&line.direction)])
                .collect(),
            ..bare("ruled_surface", None)
        },
    }
}
