//! The subspace of free twists, and picking a plain basis of it.

use nalgebra::{DMatrix, Point3, Unit, Vector3, Vector6};

use super::NEGLIGIBLE;
use super::directions::plain_directions;
use crate::statics::model::Model;
use crate::statics::rank::NumericRank;
use crate::statics::scaled::ScaledTwist;
use crate::statics::wrench::{Screw, Twist};

/// Orthonormal free twists, scaled to `(v; L w)` about the model's reference point.
pub(super) struct FreeSpace {
    pub(super) basis: Vec<ScaledTwist>,
    pub(super) reference: Point3<f64>,
    pub(super) length: f64,
    /// Part of a unit motion that may lie outside: what the rank takes for nothing.
    outside: f64,
}

/// Roundings, in units of the last place, that null vectors gather before they are divided by the gap.
const ROUNDINGS: f64 = 64.0;

impl FreeSpace {
    pub(super) fn new(model: &Model, numeric: &NumericRank) -> Self {
        let values = &numeric.singular_values[..numeric.rank];
        let condition = match (values.first(), values.last()) {
            (Some(largest), Some(smallest)) => largest / smallest,
            _ => 1.0,
        };
        let rounding = ROUNDINGS * f64::EPSILON * condition;
        Self {
            basis: numeric.free.clone(),
            reference: model.reference,
            length: model.length,
            outside: numeric.tolerance.relative().max(rounding),
        }
    }

    pub(super) fn freedom(&self) -> usize {
        self.basis.len()
    }

    /// Twist of a combination of the basis.
    pub(super) fn combination(&self, coefficients: impl IntoIterator<Item = f64>) -> Twist {
        let sum = self
            .basis
            .iter()
            .zip(coefficients)
            .fold(Vector6::zeros(), |sum, (b, c)| sum + **b * c);
        Twist::from_scaled(&ScaledTwist::of(sum), self.length)
    }

    /// Screw of a twist of this space.
    pub(super) fn screw(&self, twist: &Twist) -> Option<Screw> {
        twist.screw(&self.reference, self.length, NEGLIGIBLE)
    }

    /// Unit six-vector of a screw.
    pub(super) fn scaled(&self, screw: &Screw) -> ScaledTwist {
        Twist::of_screw(screw, &self.reference)
            .scaled(self.length)
            .unit()
    }

    /// Whether a motion is free.
    pub(super) fn contains(&self, screw: &Screw) -> bool {
        self.lies_within(screw, self.outside)
    }

    fn lies_within(&self, screw: &Screw, outside: f64) -> bool {
        self.residual(&self.scaled(screw)) <= outside
    }

    /// The nearest free twist to a scaled one.
    pub(super) fn projected(&self, scaled: &ScaledTwist) -> ScaledTwist {
        let parts = self.basis.iter().map(|unit| **unit * unit.dot(scaled));
        ScaledTwist::of(parts.sum())
    }

    /// How far a scaled twist is from a free one.
    pub(super) fn residual(&self, scaled: &ScaledTwist) -> f64 {
        (*scaled - self.projected(scaled)).norm()
    }

    /// Coefficients of the combinations for which some linear function with values in R³ vanishes, orthonormal.
    pub(super) fn kernel(&self, of: impl Fn(&Twist) -> Vector3<f64>) -> Vec<Vec<f64>> {
        let freedom = self.freedom();
        let value = |scaled| of(&Twist::from_scaled(scaled, self.length));
        match self.basis.as_slice() {
            // nalgebra does not decompose an empty matrix.
            [] => return Vec::new(),
            [alone] if value(alone).norm() <= NEGLIGIBLE => return vec![vec![1.0]],
            [_] => return Vec::new(),
            _ => {}
        }
        let columns: Vec<Vector3<f64>> = self.basis.iter().map(value).collect();
        let gram = DMatrix::from_fn(freedom, freedom, |i, j| columns[i].dot(&columns[j]));
        let eigen = gram.symmetric_eigen();
        (0..freedom)
            .filter(|i| eigen.eigenvalues[*i].max(0.0).sqrt() <= NEGLIGIBLE)
            .map(|i| eigen.eigenvectors.column(i).iter().copied().collect())
            .collect()
    }

    /// A basis of the free translations.
    pub(super) fn translations(&self) -> Vec<Screw> {
        let velocities: Vec<Vector3<f64>> = self
            .kernel(|twist| twist.angular * self.length)
            .into_iter()
            .map(|coefficients| self.combination(coefficients).linear)
            .collect();
        plain_directions(&velocities)
            .into_iter()
            .map(|direction| self.translation(direction))
            .collect()
    }

    fn translation(&self, direction: Unit<Vector3<f64>>) -> Screw {
        Screw {
            direction,
            point: self.reference,
            pitch: f64::INFINITY,
        }
    }

    /// Directions in which lines through a point are free axes; none to three, orthonormal.
    pub(super) fn axes_through(&self, point: &Point3<f64>) -> Vec<Vector3<f64>> {
        let angular = self
            .kernel(|twist| twist.velocity_at(point, &self.reference))
            .into_iter()
            .map(|coefficients| self.combination(coefficients).angular * self.length);
        // Twists that are square to each other seldom have angular parts that are, too.
        orthonormal(angular)
    }

    /// Adds candidates in order, each that is free and independent of those before, until the basis is complete. Only
    /// where too few are does it take those that are free but for a small pitch or angle, which made them plainer.
    pub(super) fn complete(
        &self,
        chosen: &mut Vec<Screw>,
        candidates: impl IntoIterator<Item = Screw>,
    ) {
        let mut spanned: Vec<ScaledTwist> = Vec::new();
        for screw in chosen.iter() {
            extend_span(&mut spanned, &self.scaled(screw));
        }
        let mut nearly = Vec::new();
        for candidate in candidates {
            if chosen.len() == self.freedom() {
                return;
            }
            if !self.contains(&candidate) {
                nearly.extend(
                    self.lies_within(&candidate, NEGLIGIBLE)
                        .then_some(candidate),
                );
            } else if extend_span(&mut spanned, &self.scaled(&candidate)) {
                chosen.push(candidate);
            }
        }
        for candidate in nearly {
            if chosen.len() < self.freedom() && extend_span(&mut spanned, &self.scaled(&candidate))
            {
                chosen.push(candidate);
            }
        }
    }
}

/// Two motions closer than this in angle are not taken for independent.
const INDEPENDENT: f64 = 1e-4;

/// Adds a vector to an orthonormal set; whether it was independent.
fn extend_span(spanned: &mut Vec<ScaledTwist>, vector: &ScaledTwist) -> bool {
    let mut rest = *vector;
    for unit in spanned.iter() {
        rest = rest - *unit * unit.dot(&rest);
    }
    let size = rest.norm();
    if size > INDEPENDENT {
        spanned.push(rest / size);
    }
    size > INDEPENDENT
}

/// An orthonormal basis of what vectors of order one span.
fn orthonormal(vectors: impl IntoIterator<Item = Vector3<f64>>) -> Vec<Vector3<f64>> {
    let mut basis: Vec<Vector3<f64>> = Vec::new();
    for vector in vectors {
        let rest = basis
            .iter()
            .fold(vector, |rest, unit| rest - unit * unit.dot(&vector));
        if rest.norm() > NEGLIGIBLE {
            basis.push(rest.normalize());
        }
    }
    basis
}
