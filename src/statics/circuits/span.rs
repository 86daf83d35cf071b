//! What a few six-vectors span and what is left, orthonormal.

use nalgebra::Vector6;

use crate::scene::Space;
use crate::statics::matrix::rows_of;
use crate::statics::scaled::{ScaledTwist, ScaledWrench};

/// An orthonormal basis of wrenches of known rank, and of the twists on which they all do no work.
pub(super) fn spaces(
    wrenches: &[ScaledWrench],
    rank: usize,
    space: Space,
) -> (Vec<ScaledWrench>, Vec<ScaledTwist>) {
    let mut rest: Vec<Vector6<f64>> = wrenches.iter().map(|wrench| **wrench).collect();
    let mut span = Vec::with_capacity(rank);
    while span.len() < rank {
        match next(&mut rest) {
            Some(unit) => span.push(unit),
            None => break,
        }
    }
    let rows = rows_of(space);
    let mut rest: Vec<Vector6<f64>> = rows.iter().map(|row| Vector6::ith(*row, 1.0)).collect();
    for _ in 0..2 {
        // Twice, so that what is left is square to the span to rounding.
        for vector in &mut rest {
            for unit in &span {
                *vector -= unit * unit.dot(vector);
            }
        }
    }
    let mut free = Vec::with_capacity(rows.len() - span.len());
    while span.len() + free.len() < rows.len() {
        match next(&mut rest) {
            Some(unit) => free.push(unit),
            None => break,
        }
    }
    let span = span.into_iter().map(ScaledWrench::of);
    let free = free.into_iter().map(ScaledTwist::of);
    (span.collect(), free.collect())
}

/// The largest vector made a unit, and the others made square to it.
fn next(rest: &mut [Vector6<f64>]) -> Option<Vector6<f64>> {
    let largest = rest
        .iter()
        .max_by(|a, b| a.norm_squared().total_cmp(&b.norm_squared()))?;
    let unit = largest.try_normalize(0.0)?;
    for vector in rest.iter_mut() {
        for _ in 0..2 {
            *vector -= unit * unit.dot(vector);
        }
    }
    Some(unit)
}
