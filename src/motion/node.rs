//! Placements on the way, and the steps between them.

use nalgebra::{Isometry3, Vector3};

use super::accumulated_rotation::AccumulatedRotation;
use super::constraints::Constraints;
use super::project::{ProjectedPlacement, carried, moved, project};
use crate::statics::RelativeTwist;

/// A placement on the way.
#[derive(Debug, Clone)]
pub(super) struct PathNode {
    /// Arc length from the start, >= 0 in either sense.
    pub(super) arc: f64,
    /// How far the body is turned.
    pub(super) turn: AccumulatedRotation,
    /// What it has turned on the way, to and fro, rad.
    pub(super) spun: f64,
    pub(super) pose: Isometry3<f64>,
    /// Unit motion onwards.
    pub(super) tangent: RelativeTwist,
    /// Length of the step along it that led to the next placement; 0 at an end.
    pub(super) step: f64,
}

/// A placement at the end of a trial step.
pub(super) struct Trial {
    pub(super) foothold: ProjectedPlacement,
    /// Unit motion onwards.
    pub(super) tangent: RelativeTwist,
    /// Cosine between the motions before and after.
    pub(super) cosine: f64,
}

impl PathNode {
    /// The spin of the unit motion onwards.
    pub(super) fn spin(&self) -> Vector3<f64> {
        spin(&self.tangent)
    }

    /// Where a step leads: a screw step, and from there to the nearest placement on the supports' geometry.
    pub(super) fn trial(&self, constraints: &Constraints, rank: usize, step: f64) -> Option<Trial> {
        let guess = moved(constraints, &self.pose, &(self.tangent * step));
        let foothold = project(constraints, &guess, rank)?;
        let onward = carried(constraints, &self.tangent, &self.pose, &foothold.pose);
        let (tangent, cosine) = foothold.nearest_free(&onward)?;
        Some(Trial {
            foothold,
            tangent,
            cosine,
        })
    }
}

/// The spin of a motion `(v / L; w)`.
pub(super) fn spin(motion: &RelativeTwist) -> Vector3<f64> {
    motion.fixed_rows::<3>(3).into_owned()
}
