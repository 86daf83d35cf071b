//! Stand-in.
use super::Scene;
use nalgebra::Point3;
/// Volume.
pub fn centre_of_volume(_: &Scene) -> Option<(f64, Point3<f64>)> {
    None
}
