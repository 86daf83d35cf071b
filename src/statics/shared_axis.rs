//! Shared axes: lines that every reaction meets, so that none of them stops the rotation about it.
//!
//! A shared axis is the same thing as a free rotation. None is a sign that the body is held: six reactions
//! can leave a free screw without any line that meets them all (Ball 1900, section 230).

use nalgebra::{Point3, Unit, Vector3};

use super::freedom::{FreeMotion, MotionKind, NEGLIGIBLE, distance_to_line};
use super::indices::{MotionIndex, SupportIndex};
use super::model::Model;
use super::reaction::{Reaction, ReactionKind};
use crate::indexed::Indexed;

/// A line that every reaction force meets or is parallel to, and every reaction couple is square to.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct SharedAxis {
    /// Index of the rotation among the free motions.
    pub motion: MotionIndex,
    /// Direction of the line.
    pub direction: Unit<Vector3<f64>>,
    /// A point of the line, m.
    pub point: Point3<f64>,
    /// Indices of the supports whose point lies on the line.
    pub supports: Vec<SupportIndex>,
    /// How each reaction meets it, in model order.
    pub meetings: Vec<Meeting>,
}

/// How a reaction meets a shared axis.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Meeting {
    /// The line of action crosses it here, m.
    At(Point3<f64>),
    /// The line of action is the axis itself.
    Along,
    /// The line of action is parallel to it: they meet at infinity.
    Parallel,
    /// A couple whose axis is square to it.
    SquareCouple,
}

/// The shared axes among the free motions, in their order.
pub(crate) fn shared_axes(
    model: &Model,
    motions: &Indexed<MotionIndex, FreeMotion>,
) -> Vec<SharedAxis> {
    motions
        .enumerate()
        .filter(|(_, motion)| motion.kind == MotionKind::Rotation)
        .map(|(index, motion)| shared_axis(model, index, motion))
        .collect()
}

fn shared_axis(model: &Model, index: MotionIndex, motion: &FreeMotion) -> SharedAxis {
    let on_axis = |point: &Point3<f64>| {
        distance_to_line(point, &motion.point, &motion.direction) <= NEGLIGIBLE * model.length
    };
    SharedAxis {
        motion: index,
        direction: motion.direction,
        point: motion.point,
        supports: model
            .supports
            .enumerate()
            .filter(|(_, support)| on_axis(&support.point))
            .map(|(index, _)| index)
            .collect(),
        meetings: model
            .reactions
            .iter()
            .map(|reaction| meeting(model, reaction, motion))
            .collect(),
    }
}

fn meeting(model: &Model, reaction: &Reaction, axis: &FreeMotion) -> Meeting {
    if reaction.kind == ReactionKind::Couple {
        return Meeting::SquareCouple;
    }
    let offset = axis.point - reaction.point;
    let normal = reaction.direction.cross(&axis.direction);
    let square = normal.norm_squared();
    if square > NEGLIGIBLE * NEGLIGIBLE {
        let along = offset.cross(&axis.direction).dot(&normal) / square;
        Meeting::At(reaction.point + reaction.direction.into_inner() * along)
    } else if offset.cross(&axis.direction).norm() <= NEGLIGIBLE * model.length {
        Meeting::Along
    } else {
        Meeting::Parallel
    }
}
