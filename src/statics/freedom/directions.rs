//! Plain bases of directions: scene axes where they fit.

use nalgebra::{Unit, Vector3};

use super::NEGLIGIBLE;

/// A basis of the span of orthonormal directions: scene axes first, then horizontal, then what is left.
pub(super) fn plain_directions(orthonormal: &[Vector3<f64>]) -> Vec<Unit<Vector3<f64>>> {
    let axes = [Vector3::x(), Vector3::y(), Vector3::z()];
    let inside = |direction: &Vector3<f64>| {
        let rest = orthonormal
            .iter()
            .fold(*direction, |rest, unit| rest - unit * unit.dot(direction));
        rest.norm() <= NEGLIGIBLE
    };
    // Of a plane of directions without scene axis: its horizontal, and the one square to that.
    let horizontal = match orthonormal {
        [a, b] => Vector3::z().cross(&a.cross(b)),
        _ => Vector3::zeros(),
    };
    let steepest = match orthonormal {
        [a, b] => a.cross(b).cross(&horizontal),
        _ => Vector3::zeros(),
    };
    let candidates = axes
        .iter()
        .filter(|axis| inside(axis))
        .chain([&horizontal, &steepest])
        .chain(orthonormal);
    let mut chosen: Vec<Unit<Vector3<f64>>> = Vec::new();
    for candidate in candidates {
        let rest = chosen.iter().fold(*candidate, |rest, unit| {
            rest - unit.into_inner() * unit.dot(candidate)
        });
        if chosen.len() < orthonormal.len() && rest.norm() > NEGLIGIBLE.sqrt() {
            chosen.push(Unit::new_normalize(rest));
        }
    }
    chosen
}
