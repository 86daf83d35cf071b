//! What holds the body at each support, and the twists that are left to search.

use nalgebra::{Matrix3, Vector3};

use crate::statics::indices::SupportIndex;
use crate::statics::model::Model;
use crate::statics::reaction::ReactionKind;

/// The forces of one support.
#[derive(Debug, Clone)]
pub(super) struct SupportForces {
    /// Index of the support.
    pub(super) support: SupportIndex,
    /// From the reference point to the support, m.
    pub(super) arm: Vector3<f64>,
    /// One to three directions, orthonormal.
    pub(super) directions: Vec<Vector3<f64>>,
    /// Sum of the dyads of the directions: the part of a velocity along them.
    across: Matrix3<f64>,
}

/// A twist `(v, w)` about the reference point.
pub(super) type TwistPair = (Vector3<f64>, Vector3<f64>);

/// A subspace of twists: translations, and turns whose angular parts are orthonormal.
#[derive(Debug, Clone)]
pub(super) struct TwistSpace {
    pub(super) slides: Vec<Vector3<f64>>,
    pub(super) turns: Vec<TwistPair>,
}

/// Below this, 1 − (cosine)² counts as it: a support cannot give way to a turn about its own line of action.
const STEEP: f64 = 1e-9;
/// Rates that are left once a support was moved count as none below this, relative to velocity and movement.
const KEPT: f64 = 1e-7;
/// A matrix of size one whose singular value is below this leaves a direction out.
pub(super) const FLAT: f64 = 1e-9;

/// The supports that react with forces.
pub(super) fn grips(model: &Model) -> Vec<SupportForces> {
    let grip = |(index, support): (SupportIndex, &crate::statics::PlacedSupport)| {
        let forces = model.reactions.slice(&support.reactions).iter();
        let directions: Vec<Vector3<f64>> = forces
            .filter(|r| r.kind == ReactionKind::Force)
            .map(|r| r.direction.into_inner())
            .collect();
        SupportForces {
            support: index,
            arm: support.point - model.reference,
            across: directions.iter().map(|n| n * n.transpose()).sum(),
            directions,
        }
    };
    let all = model.supports.enumerate().map(grip);
    all.filter(|grip| !grip.directions.is_empty()).collect()
}

impl SupportForces {
    /// The quadratic form `|d|²` of the velocity of the support's point, for a turn of unit length.
    ///
    /// Rows `n × w` of orthonormal n have the Gram matrix `I − c cᵗ` with `c = n·w`, whose inverse is
    /// `I + c cᵗ / (1 − c·c)`. Three directions leave no component along w, see [`without_pitch`].
    pub(super) fn stiffness(&self, turn: &Vector3<f64>) -> Matrix3<f64> {
        let along = self.across * turn;
        self.across + along * along.transpose() * self.steepness(turn)
    }

    fn steepness(&self, turn: &Vector3<f64>) -> f64 {
        let square: f64 = self.directions.iter().map(|n| n.dot(turn).powi(2)).sum();
        if self.directions.len() == 3 {
            0.0
        } else {
            1.0 / (1.0 - square).max(STEEP)
        }
    }

    /// Least movement after which a point of this velocity keeps to the support: `d = −Rᵗ (R Rᵗ)⁻¹ b` with rows
    /// `R = n × w` and rates b. `None` where there is none: a support cannot give way along w.
    pub(super) fn step(
        &self,
        velocity: &Vector3<f64>,
        turn: &Vector3<f64>,
    ) -> Option<Vector3<f64>> {
        let along: f64 = self
            .directions
            .iter()
            .map(|n| n.dot(turn) * n.dot(velocity))
            .sum();
        let weight = along * self.steepness(turn);
        let sum: Vector3<f64> = self
            .directions
            .iter()
            .map(|n| n * (n.dot(velocity) + weight * n.dot(turn)))
            .sum();
        let step = turn.cross(&sum);
        let left = velocity + turn.cross(&step);
        let most = KEPT * (velocity.norm() + step.norm());
        self.directions
            .iter()
            .all(|n| n.dot(&left).abs() <= most)
            .then_some(step)
    }
}
