//! Numeric rank of a reaction matrix, with the singular values that it was read from.

use thiserror::Error;

use super::matrix::{ReactionMatrix, extend};
use super::scaled::ScaledTwist;
use super::svd::WideSvd;

/// Singular values below this fraction of the largest count as zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance(f64);

/// A tolerance outside 0 < t < 1.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error("a tolerance lies between 0 and 1, both excluded; {0} does not")]
pub struct ToleranceError(f64);

impl Tolerance {
    /// A tolerance relative to the largest singular value.
    ///
    /// # Errors
    /// [`ToleranceError`] unless 0 < `relative` < 1.
    pub fn new(relative: f64) -> Result<Self, ToleranceError> {
        if relative > 0.0 && relative < 1.0 {
            Ok(Self(relative))
        } else {
            Err(ToleranceError(relative))
        }
    }

    /// The fraction.
    pub fn relative(self) -> f64 {
        self.0
    }
}

impl Default for Tolerance {
    fn default() -> Self {
        Self(1e-9)
    }
}

/// Rank by singular values.
#[derive(Debug, Clone)]
pub struct NumericRank {
    /// Number of singular values above the tolerance.
    pub rank: usize,
    /// Singular values, largest first; 6 of them, 3 in the plane.
    pub singular_values: Vec<f64>,
    /// The threshold used.
    pub tolerance: Tolerance,
    /// The decomposition.
    pub(crate) svd: WideSvd,
    /// Free motions as orthonormal scaled twists `(v; L w)`: the left null space.
    pub(crate) free: Vec<ScaledTwist>,
}

impl NumericRank {
    /// Ranks a reaction matrix.
    pub fn new(matrix: &ReactionMatrix, tolerance: Tolerance) -> Self {
        let svd = WideSvd::new(matrix.entries());
        let largest = svd.values.first().copied().unwrap_or(0.0);
        let rank = svd
            .values
            .iter()
            .filter(|value| **value > tolerance.relative() * largest)
            .count();
        let free = (rank..svd.values.len())
            .map(|column| extend(&svd.left.column(column).into_owned(), matrix.space()))
            .collect();
        Self {
            rank,
            singular_values: svd.values.clone(),
            tolerance,
            svd,
            free,
        }
    }

    /// Singular values up to this count as zero.
    pub fn threshold(&self) -> f64 {
        self.tolerance.relative() * self.singular_values.first().copied().unwrap_or(0.0)
    }

    /// Smallest singular value that counts over the largest that does not; infinite where the latter is 0.
    /// A small gap means a close call. `None` where there is nothing on one side.
    pub fn gap(&self) -> Option<f64> {
        let above = self
            .rank
            .checked_sub(1)
            .map(|last| self.singular_values[last])?;
        self.singular_values
            .get(self.rank)
            .map(|below| above / below)
    }
}
