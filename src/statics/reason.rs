//! Why the count is what it is, as geometry: what all the reactions have in common.

use nalgebra::{Point3, Unit, Vector3};

use super::diagnosis::Counts;
use super::freedom::{Family, FreeMotion, MotionKind};
use super::model::Model;
use super::shared_axis::SharedAxis;
use crate::scene::Space;

/// What the reactions have in common, or that they have nothing in common.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// Nothing in common: every motion is stopped.
    Held,
    /// There are no reactions.
    NoReactions,
    /// All meet one line: index of the shared axis. In the plane: all pass through one point.
    MeetLine(usize),
    /// All are square to one direction, so they lie in parallel planes.
    SquareTo(Unit<Vector3<f64>>),
    /// All belong to one linear complex, without a common line: a free screw, index of the motion.
    LinearComplex(usize),
    /// All are parallel, and no couple stops the turn about their direction.
    Parallel(Unit<Vector3<f64>>),
    /// All pass through one point.
    ThroughPoint(Point3<f64>),
    /// All lie in one plane.
    InPlane(Point3<f64>, Unit<Vector3<f64>>),
    /// Several motions are left that no single picture explains.
    SeveralMotions,
}

/// The reason for a count.
pub(super) fn reason(
    model: &Model,
    counts: &Counts,
    motions: &[FreeMotion],
    axes: &[SharedAxis],
) -> Reason {
    if counts.unknowns == 0 {
        return Reason::NoReactions;
    }
    match motions {
        [] => Reason::Held,
        [motion] => one_motion(motion, axes),
        _ => several(model, motions),
    }
}

fn one_motion(motion: &FreeMotion, axes: &[SharedAxis]) -> Reason {
    match motion.kind {
        MotionKind::Translation => Reason::SquareTo(motion.direction),
        MotionKind::Screw => Reason::LinearComplex(0),
        MotionKind::Rotation if axes.is_empty() => Reason::SeveralMotions,
        MotionKind::Rotation => Reason::MeetLine(0),
    }
}

/// Three motions of one family name a picture by themselves; so do the two of parallel forces in the plane.
fn several(model: &Model, motions: &[FreeMotion]) -> Reason {
    let of_kind = |kind| motions.iter().filter(move |m| m.kind == kind);
    let slides: Vec<_> = of_kind(MotionKind::Translation).collect();
    let turns: Vec<_> = of_kind(MotionKind::Rotation).collect();
    match (model.space, slides.as_slice(), turns.as_slice()) {
        (Space::Spatial, [a, b], [turn]) if is_square(turn, a) && is_square(turn, b) => {
            Reason::Parallel(turn.direction)
        }
        (Space::Spatial, [], [turn, _, _]) => match turn.family {
            Family::LinesThrough(point) => Reason::ThroughPoint(point),
            _ => Reason::SeveralMotions,
        },
        (Space::Spatial, [_], [turn, _]) => match turn.family {
            Family::LinesInPlane(point, normal) => Reason::InPlane(point, normal),
            _ => Reason::SeveralMotions,
        },
        _ => Reason::SeveralMotions,
    }
}

fn is_square(a: &FreeMotion, b: &FreeMotion) -> bool {
    a.direction.dot(&b.direction).abs() <= super::freedom::NEGLIGIBLE
}
