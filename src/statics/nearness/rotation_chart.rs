//! Places of turns: which combinations of a room's turns can be freed at all, as points of a sphere.

use nalgebra::{DMatrix, DVector, Vector3};

use super::sphere::scattered;
use super::twist_space::{FLAT, SupportForces, TwistSpace};

/// Where the turns of a room are sought: unit vectors, and the combination of turns that each stands for.
pub(super) enum RotationChart {
    /// Any combination.
    Sphere(usize),
    /// Those without pitch, where no translation can take the pitch away: a cone `Σ λᵢ aᵢ² = 0`.
    ///
    /// `many · x + one` with `x` of unit length runs through it, up to sign.
    Cone {
        many: DMatrix<f64>,
        one: DVector<f64>,
    },
}

impl RotationChart {
    /// `None` where no turn of the room is without pitch though a ball joint asks for it.
    pub(crate) fn of(grips: &[SupportForces], room: &TwistSpace) -> Option<Self> {
        let count = room.turns.len();
        let pinned = grips.iter().any(|grip| grip.directions.len() == 3);
        let slide = |w: &Vector3<f64>| room.slides.iter().any(|slide| slide.dot(w).abs() > FLAT);
        if !pinned || room.turns.iter().any(|(_, w)| slide(w)) {
            return Some(Self::Sphere(count));
        }
        let pitch = |i: usize, j: usize| {
            let ((v, w), (other_v, other_w)) = (room.turns[i], room.turns[j]);
            (v.dot(&other_w) + w.dot(&other_v)) / 2.0
        };
        let eigen = DMatrix::from_fn(count, count, pitch).symmetric_eigen();
        let largest = eigen.eigenvalues.amax();
        let reach = room.turns.iter().map(|(v, _)| v.norm()).fold(0.0, f64::max);
        if largest <= FLAT * reach {
            return Some(Self::Sphere(count));
        }
        Self::cone(&eigen.eigenvalues, &eigen.eigenvectors, FLAT * largest)
    }

    fn cone(values: &DVector<f64>, axes: &DMatrix<f64>, zero: f64) -> Option<Self> {
        let count_of = |sign: f64| values.iter().filter(|v| *v * sign > zero).count();
        // A pitch of zero counts as a very small one of the rarer sign.
        let rare = if count_of(1.0) > count_of(-1.0) {
            -1.0
        } else {
            1.0
        };
        let sign = |value: f64| {
            if value.abs() <= zero {
                rare
            } else {
                value.signum()
            }
        };
        let scaled = |wanted: f64| -> Vec<DVector<f64>> {
            let all = values.iter().zip(axes.column_iter());
            all.filter(|(value, _)| sign(**value) == wanted)
                .map(|(value, axis)| axis / value.abs().max(zero).sqrt())
                .collect()
        };
        let (mut one, mut many) = (scaled(1.0), scaled(-1.0));
        if one.len() > many.len() {
            std::mem::swap(&mut one, &mut many);
        }
        // Three axes at most, so that one of the two signs has one axis or none.
        match one.as_slice() {
            [one] => Some(Self::Cone {
                many: DMatrix::from_columns(&many),
                one: one.clone(),
            }),
            _ => None,
        }
    }

    /// Places to start from, spread over all.
    pub(crate) fn starts(&self) -> Vec<DVector<f64>> {
        match self {
            Self::Sphere(dimension) => scattered(*dimension),
            // Half of a sphere would leave out the other half of the cone.
            Self::Cone { many, .. } => {
                let half = scattered(many.ncols());
                half.iter()
                    .map(|at| -at)
                    .chain(half.iter().cloned())
                    .collect()
            }
        }
    }

    /// The unit vector for a turn of the room; only where any combination will do.
    pub(crate) fn near(&self, room: &TwistSpace, turn: &Vector3<f64>) -> Option<DVector<f64>> {
        let parts = room.turns.iter().map(|(_, w)| w.dot(turn));
        match self {
            Self::Sphere(dimension) => {
                DVector::from_iterator(*dimension, parts).try_normalize(FLAT)
            }
            Self::Cone { .. } => None,
        }
    }

    /// The combination of turns for a place.
    pub(crate) fn turn(&self, at: &DVector<f64>) -> DVector<f64> {
        match self {
            Self::Sphere(_) => at.clone(),
            Self::Cone { many, one } => (many * at + one).normalize(),
        }
    }
}
