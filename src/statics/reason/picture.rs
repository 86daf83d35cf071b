//! The geometric objects of a reason, to be drawn and named, and which reactions belong to each.

use nalgebra::{Point3, Unit, Vector3};

use super::{Pencil, Plane, Reason};
use crate::statics::freedom::NEGLIGIBLE;
use crate::statics::indices::ReactionIndex;
use crate::statics::line::Line;
use crate::statics::model::Model;
use crate::statics::reaction::{Reaction, ReactionKind};

/// A geometric object.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum ReasonShape {
    /// A point.
    Point(Point3<f64>),
    /// A straight line.
    Line(Line),
    /// The axis of a free screw, with its pitch, m.
    Screw(Line, f64),
    /// A plane.
    Plane(Plane),
    /// All lines along a direction, and couples square to it: the lines at infinity that they meet.
    Direction(Unit<Vector3<f64>>),
    /// Couples about a direction.
    Couple(Unit<Vector3<f64>>),
    /// Couples square to a direction.
    CouplesAcross(Unit<Vector3<f64>>),
    /// All planes square to a direction.
    Planes(Unit<Vector3<f64>>),
    /// A ruled surface, by lines of the family of the free axes.
    Surface(Vec<Line>),
}

/// An object of a reason and the reactions that belong to it.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Picture {
    /// The object.
    pub shape: ReasonShape,
    /// Indices of the reactions that pass through the point, meet the line (parallel ones too, and couples
    /// square to it), lie in the plane (couples: act in it), or are along or square to the direction as the shape says.
    pub reactions: Vec<ReactionIndex>,
}

impl Reason {
    /// The objects of the reason, each with its reactions among those given.
    pub fn pictures(&self, model: &Model, among: &[ReactionIndex]) -> Vec<Picture> {
        self.shapes()
            .into_iter()
            .map(|shape| {
                let belongs =
                    |i: &ReactionIndex| belongs(&shape, &model.reactions[*i], model.length);
                Picture {
                    reactions: among.iter().copied().filter(belongs).collect(),
                    shape,
                }
            })
            .collect()
    }

    /// The objects of the reason.
    pub fn shapes(&self) -> Vec<ReasonShape> {
        match self {
            Self::Held
            | Self::NoReactions
            | Self::OnlyScrews
            | Self::OnlyCouples
            | Self::SeveralMotions => Vec::new(),
            Self::MeetLine(line)
            | Self::CommonNormal(line)
            | Self::Touching(line)
            | Self::OneLine(line) => vec![ReasonShape::Line(*line)],
            Self::SquareTo(direction) | Self::TouchingAtInfinity(direction) => {
                vec![ReasonShape::Planes(*direction)]
            }
            Self::LinearComplex(axis, pitch) => vec![ReasonShape::Screw(*axis, *pitch)],
            Self::MeetTwoLines(a, b) | Self::TwoLines(a, b) => {
                vec![ReasonShape::Line(*a), ReasonShape::Line(*b)]
            }
            Self::MeetLineSquareTo(line, direction) => {
                vec![ReasonShape::Line(*line), ReasonShape::Planes(*direction)]
            }
            Self::PointOrPlane(plane) => {
                vec![ReasonShape::Point(plane.point), ReasonShape::Plane(*plane)]
            }
            Self::AlongOrInPlane(direction, plane) => {
                vec![
                    ReasonShape::Direction(*direction),
                    ReasonShape::Plane(*plane),
                ]
            }
            Self::ParallelWithCouples(direction) | Self::Parallel(direction) => {
                vec![ReasonShape::Direction(*direction)]
            }
            Self::OneCouple(direction) => vec![ReasonShape::Couple(*direction)],
            Self::ThroughPoint(point) => vec![ReasonShape::Point(*point)],
            Self::InPlane(plane) => vec![ReasonShape::Plane(*plane)],
            Self::Regulus(regulus) => vec![ReasonShape::Surface(regulus.axes.clone())],
            Self::TwoPencils(pencils) => pencils.carriers.iter().flat_map(pencil_shapes).collect(),
            Self::OnePencil(pencil) => pencil_shapes(pencil),
            Self::ForceAndCouple(line, couple) => {
                vec![ReasonShape::Line(*line), ReasonShape::Couple(*couple)]
            }
        }
    }
}

fn pencil_shapes(pencil: &Pencil) -> Vec<ReasonShape> {
    match pencil {
        Pencil::Through(plane) => vec![ReasonShape::Point(plane.point), ReasonShape::Plane(*plane)],
        Pencil::Along(direction, plane) => {
            vec![
                ReasonShape::Direction(*direction),
                ReasonShape::Plane(*plane),
            ]
        }
        Pencil::SquareTo(direction) => vec![ReasonShape::CouplesAcross(*direction)],
    }
}

fn belongs(shape: &ReasonShape, reaction: &Reaction, length: f64) -> bool {
    let (near, d) = (NEGLIGIBLE * length, &reaction.direction);
    let is_force = reaction.kind == ReactionKind::Force;
    match shape {
        ReasonShape::Point(point) => is_force && (point - reaction.point).cross(d).norm() <= near,
        ReasonShape::Line(line) => meets(line, reaction, near),
        // Every reaction of a complex belongs to its screw.
        ReasonShape::Screw(..) => true,
        ReasonShape::Plane(plane) if is_force => {
            d.dot(&plane.normal).abs() <= NEGLIGIBLE
                && (reaction.point - plane.point).dot(&plane.normal).abs() <= near
        }
        ReasonShape::Plane(plane) => d.cross(&plane.normal).norm() <= NEGLIGIBLE,
        ReasonShape::Direction(direction) if is_force => d.cross(direction).norm() <= NEGLIGIBLE,
        ReasonShape::Direction(direction) => d.dot(direction).abs() <= NEGLIGIBLE,
        ReasonShape::Couple(direction) => !is_force && d.cross(direction).norm() <= NEGLIGIBLE,
        ReasonShape::CouplesAcross(direction) => !is_force && d.dot(direction).abs() <= NEGLIGIBLE,
        ReasonShape::Planes(direction) => !is_force || d.dot(direction).abs() <= NEGLIGIBLE,
        ReasonShape::Surface(axes) => axes.iter().all(|axis| meets(axis, reaction, near)),
    }
}

/// Whether a reaction stops no turn about a line.
fn meets(line: &Line, reaction: &Reaction, near: f64) -> bool {
    match reaction.kind {
        ReactionKind::Couple => reaction.direction.dot(&line.direction).abs() <= NEGLIGIBLE,
        ReactionKind::Force => {
            let moment = (reaction.point - line.point).cross(&reaction.direction);
            moment.dot(&line.direction).abs() <= near
        }
    }
}
