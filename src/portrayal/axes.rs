//! Axes square to a given one.

use nalgebra::Vector3;

/// Two unit vectors square to an axis and each other, right-handed with it.
pub fn across(axis: &Vector3<f64>) -> [Vector3<f64>; 2] {
    let mut least = Vector3::zeros();
    least[axis.iamin()] = 1.0;
    let x = (least - axis * axis.dot(&least)).normalize();
    [x, axis.cross(&x)]
}

/// As [`across`], but along the scene's axes where the normal is one of them, and level where it can be.
pub(super) fn along_ground(normal: &Vector3<f64>) -> [Vector3<f64>; 2] {
    let level = Vector3::z().cross(normal);
    if level.norm() < 1e-6 {
        return [Vector3::x(), normal.cross(&Vector3::x())];
    }
    let level = level.normalize();
    [level, normal.cross(&level)]
}
