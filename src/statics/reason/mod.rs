//! Why the count is what it is, as geometry: what all the reactions have in common.
//!
//! Up to three freedoms are told by the lines about which the body can still turn, four and five by the few
//! lines that the reactions can act along. Every reaction is a line, a couple one at infinity, so only systems
//! that lines can span occur. (Ball 1900; Dandurand 1984; Merlet 1989; Pottmann & Wallner 2001, chapter 3.)

mod few;
mod one;
mod picture;
#[cfg(test)]
pub(in crate::statics) mod tests;
mod three;
mod two;

use nalgebra::{Point3, Unit, Vector3};

use super::line::Line;
use super::lines::{LineCoordinates, LineFrame, Pencil, Plane, Quadric};
use super::matrix::extend;
use super::model::Model;
use super::rank::NumericRank;
use super::scaled::{ScaledTwist, ScaledWrench};
use crate::scene::Space;
pub use picture::{Picture, ReasonShape};

/// What the reactions have in common, or that they have nothing in common.
///
/// A force parallel to a line meets it at infinity, a force parallel to a plane meets that plane's lines at
/// infinity only where it is in the plane; a couple is the line at infinity of the planes square to it.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Reason {
    /// Nothing in common: every motion is stopped.
    Held,
    /// There are no reactions.
    NoReactions,

    /// One freedom. All meet this line. In the plane: all pass through the point where it stands.
    MeetLine(Line),
    /// One freedom. All are square to one direction, so they lie in parallel planes.
    SquareTo(Unit<Vector3<f64>>),
    /// One freedom. All belong to one linear complex, without a common line: the axis and pitch, m, of the
    /// free screw.
    LinearComplex(Line, f64),

    /// Two freedoms. All meet two lines that do not meet each other.
    MeetTwoLines(Line, Line),
    /// Two freedoms. All meet a line and are square to a direction that is not square to the line.
    MeetLineSquareTo(Line, Unit<Vector3<f64>>),
    /// Two freedoms. All meet one line at right angles.
    CommonNormal(Line),
    /// Two freedoms. All pass through a point or lie in a plane through it.
    PointOrPlane(Plane),
    /// Two freedoms. All are along a direction or lie in a plane that holds it.
    AlongOrInPlane(Unit<Vector3<f64>>, Plane),
    /// Two freedoms. All forces are parallel; couples stop the turn about their direction.
    ParallelWithCouples(Unit<Vector3<f64>>),
    /// Two freedoms. All meet one line in which two have run together: where one meets it fixes the plane
    /// through the line that it lies in.
    Touching(Line),
    /// Two freedoms. All are square to one direction, and no line meets them all.
    TouchingAtInfinity(Unit<Vector3<f64>>),
    /// Two freedoms. No line meets all: only screws are free.
    OnlyScrews,

    /// Three freedoms. All pass through one point.
    ThroughPoint(Point3<f64>),
    /// Three freedoms. All lie in one plane.
    InPlane(Plane),
    /// Three freedoms. All are parallel, and no couple stops the turn about their direction.
    Parallel(Unit<Vector3<f64>>),
    /// Three freedoms. All are couples.
    OnlyCouples,
    /// Three freedoms. All are lines of one family on a quadric.
    Regulus(Box<Regulus>),
    /// Three freedoms. Every one belongs to one of two flat pencils that share a line.
    TwoPencils(Box<TwoPencils>),

    /// As many freedoms as leave two independent reactions: all through one point in one plane, or that with
    /// the point at infinity, or couples alone.
    OnePencil(Pencil),
    /// Four freedoms. Two lines of action that do not meet.
    TwoLines(Line, Line),
    /// Four freedoms. One line of action, and a couple that is not square to it.
    ForceAndCouple(Line, Unit<Vector3<f64>>),
    /// All forces act along one line.
    OneLine(Line),
    /// All couples act about one direction.
    OneCouple(Unit<Vector3<f64>>),

    /// What is left is told by the motions alone.
    SeveralMotions,
}

/// Reactions on one family of lines of a quadric.
#[derive(Debug, Clone, PartialEq)]
pub struct Regulus {
    /// The surface; `None` where it is too flat to tell.
    pub quadric: Option<Quadric>,
    /// Lines of the reactions' family.
    pub carriers: Vec<Line>,
    /// Lines of the other family, each a free axis that all reactions meet.
    pub axes: Vec<Line>,
}

/// Reactions in two flat pencils that share a line.
#[derive(Debug, Clone, PartialEq)]
pub struct TwoPencils {
    /// The pencils of the reactions.
    pub carriers: [Pencil; 2],
    /// The pencils of the free axes: centres and planes are the same, paired the other way.
    pub axes: [Pencil; 2],
}

/// The reason for the count of a whole model.
pub(super) fn reason(model: &Model, numeric: &NumericRank) -> Reason {
    if numeric.rank > 0 && numeric.free.is_empty() {
        return Reason::Held;
    }
    let left = &numeric.svd.left;
    let column = |i: usize| extend(&left.column(i).into_owned(), model.space);
    let span: Vec<ScaledWrench> = (0..numeric.rank).map(column).collect();
    let anchors: Vec<Point3<f64>> = model.supports.iter().map(|support| support.point).collect();
    of_spaces(model, &anchors, &span, &numeric.free)
}

/// The reason by what the reactions span, as orthonormal scaled wrenches `(f; m / L)`, and what that leaves
/// free, as orthonormal scaled twists `(v; L w)`.
pub(super) fn of_spaces(
    model: &Model,
    anchors: &[Point3<f64>],
    span: &[ScaledWrench],
    free: &[ScaledTwist],
) -> Reason {
    let frame = LineFrame::new(model, anchors);
    let span: Vec<LineCoordinates> = span.iter().map(LineCoordinates::of_wrench).collect();
    let free: Vec<LineCoordinates> = free.iter().map(LineCoordinates::of_twist).collect();
    match (model.space, span.len(), free.len()) {
        (_, 0, _) => Reason::NoReactions,
        (_, _, 0) => Reason::Held,
        (_, 1, _) => few::one_reaction(&span, &frame),
        (Space::Planar, ..) => one::planar(&free, &frame),
        (Space::Spatial, 2, _) => few::two_reactions(&span, &frame),
        (Space::Spatial, _, 1) => one::reason(&free, &frame),
        (Space::Spatial, _, 2) => two::reason(&free, &frame),
        (Space::Spatial, ..) => three::reason(&span, &free, &frame),
    }
}
