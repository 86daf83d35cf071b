//! The reaction matrix: equilibrium of the body, one column for each unknown reaction.

use nalgebra::{DMatrix, DVector, Vector6};

use super::indices::ReactionIndex;
use super::model::Model;
use super::reaction::{Reaction, ReactionKind};
use super::scaled::ScaledWrench;
use super::wrench::stack;
use crate::scene::Space;

/// Coefficients of the equations of equilibrium about the model's reference point.
///
/// # Shape and units
/// 6 × n: rows fx fy fz mx my mz; 3 × n in the plane: rows fx fy mz. Column j is the unit wrench of
/// reaction j in model order. Moments are divided by the characteristic length, so every entry of a force
/// column is a pure number; a couple column is a pure number too, per N·m over that length.
#[derive(Debug, Clone)]
pub struct ReactionMatrix {
    entries: DMatrix<f64>,
    space: Space,
}

/// Rows of the spatial equations that the plane keeps: fx, fy, mz.
const PLANAR_ROWS: [usize; 3] = [0, 1, 5];

/// Rows of the spatial equations that a space keeps.
pub(crate) fn rows_of(space: Space) -> &'static [usize] {
    match space {
        Space::Spatial => &[0, 1, 2, 3, 4, 5],
        Space::Planar => &PLANAR_ROWS,
    }
}

impl ReactionMatrix {
    /// The matrix of a model.
    pub fn new(model: &Model) -> Self {
        let rows = rows_of(model.space);
        let mut entries = Vec::with_capacity(rows.len() * model.reactions.len());
        for reaction in &model.reactions {
            let column = scaled_column(model, reaction);
            entries.extend(rows.iter().map(|row| column[*row]));
        }
        Self {
            entries: DMatrix::from_vec(rows.len(), model.reactions.len(), entries),
            space: model.space,
        }
    }

    /// The entries, 6 × n or 3 × n.
    pub fn entries(&self) -> &DMatrix<f64> {
        &self.entries
    }

    /// The matrix of some reactions, in their order.
    pub(crate) fn select(&self, reactions: &[ReactionIndex]) -> Self {
        let columns: Vec<usize> = reactions.iter().map(|j| j.get()).collect();
        Self {
            entries: self.entries.select_columns(&columns),
            space: self.space,
        }
    }

    /// The space whose rows it has.
    pub fn space(&self) -> Space {
        self.space
    }
}

/// Unit wrench of a reaction as `(n; (p − c) × n / L)` or `(0; n)`.
pub(crate) fn scaled_column(model: &Model, reaction: &Reaction) -> ScaledWrench {
    let wrench = reaction.wrench(&model.reference);
    match reaction.kind {
        ReactionKind::Force => wrench.scaled(model.length),
        // At size 1 it has the moment of a unit force at the characteristic length.
        ReactionKind::Couple => ScaledWrench::of(stack(&wrench.force, &wrench.moment)),
    }
}

/// The rows that the space keeps.
pub(crate) fn restrict(six: &Vector6<f64>, space: Space) -> DVector<f64> {
    match space {
        Space::Spatial => DVector::from_column_slice(six.as_slice()),
        Space::Planar => DVector::from_iterator(3, PLANAR_ROWS.iter().map(|row| six[*row])),
    }
}

/// Inverse of [`restrict`]: the rows that the plane does not have are zero.
pub(crate) fn extend<S: From<Vector6<f64>>>(vector: &DVector<f64>, space: Space) -> S {
    let six = match space {
        Space::Spatial => Vector6::from_column_slice(vector.as_slice()),
        Space::Planar => {
            let mut six = Vector6::zeros();
            for (entry, row) in vector.iter().zip(PLANAR_ROWS) {
                six[row] = *entry;
            }
            six
        }
    };
    six.into()
}
