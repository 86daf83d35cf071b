//! Other lines about which a body may truly turn.
//!
//! Where a body turns freely at first about every line of one direction, all of these rotations are one up to the
//! translations across it, which are free too. Beyond the first instant they differ.

use nalgebra::{Isometry3, Point3, Vector3};

use super::circle::circumcentre;
use super::constraints::Constraints;
use crate::scene::Space;
use crate::statics::{FreeMotion, Model, MotionKind, RelativeTwist, stack};

/// Rates of a unit motion below this count as none.
const FREE: f64 = 1e-9;

/// Turns about lines parallel to that of a rotation which are as free at first: about the middle of the supports, and
/// about that of the circle through three of them. Of parallel lines one alone may stay free.
pub(super) fn parallel_turns(
    model: &Model,
    constraints: &Constraints,
    motion: &FreeMotion,
) -> Vec<(Point3<f64>, RelativeTwist)> {
    if motion.kind != MotionKind::Rotation || model.space == Space::Planar {
        return Vec::new();
    }
    let axis = motion.direction.into_inner();
    let level = |point: Point3<f64>| point - axis * (point - motion.point).dot(&axis);
    let held: Vec<Point3<f64>> = model.supports.iter().map(|s| level(s.point)).collect();
    let sum: Vector3<f64> = held.iter().map(|point| point.coords).sum();
    let middle = Point3::from(sum / held.len().max(1) as f64);
    let columns = constraints.columns(&Isometry3::identity());
    let turn = |point: Point3<f64>| {
        let linear = axis.cross(&(model.reference - point));
        let twist = RelativeTwist::of(stack(&(linear / model.length), &axis));
        let is_free = columns.tr_mul(&*twist).amax() <= FREE * twist.norm();
        is_free.then_some((point, twist))
    };
    let centres = [Some(middle), circumcentre(&held)];
    centres.into_iter().flatten().filter_map(turn).collect()
}
