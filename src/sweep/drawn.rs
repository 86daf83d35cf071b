//! A placement as it was drawn: how far everything is from where it is written.

use nalgebra::Vector3;

/// What a placement changes, in the order of the plan.
#[derive(Debug, Clone)]
pub(super) struct DrawnPlacement {
    /// Of each support, and of its ground end, in characteristic lengths.
    pub(super) shifts: Vec<[Vector3<f64>; 2]>,
    /// Of the axis of each support, as rotation vectors.
    pub(super) turns: Vec<Vector3<f64>>,
    /// Of each load.
    pub(super) load_turns: Vec<Vector3<f64>>,
    pub(super) load_factors: Vec<f64>,
    /// Of the forces and of the couples of each support.
    pub(super) stiffness_factors: Vec<[f64; 2]>,
}
