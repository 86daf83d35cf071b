//! The reaction matrix once its rank is decided: what the tolerance takes for zero is exactly zero.
//!
//! Whatever follows from the rank works on this matrix and on no other: equilibrium, one-way supports,
//! accelerations, self-stresses. A column that reaches out of the span by rounding alone then cannot count as a
//! support in one section after it counted as none in another.

use nalgebra::{DMatrix, DVector, Vector6};

use super::indices::ReactionIndex;
use super::rank::NumericRank;
use crate::indexed::Indexed;

/// A matrix `U Σ Vᵗ` of its decided rank r.
///
/// Rates of the supports and sizes of reactions are compared in the orthonormal rows of `Vᵗ`, the shares: there a
/// motion that the supports hold by a billionth counts as much as any other.
#[derive(Debug, Clone)]
pub(crate) struct RankedMatrix {
    /// Orthonormal left singular vectors of the span, rows × r.
    pub(super) span: DMatrix<f64>,
    /// Orthonormal free twists, scaled, rows × (rows − r).
    pub(super) free: DMatrix<f64>,
    /// The r singular values that count, largest first.
    values: DVector<f64>,
    /// Orthonormal columns `V`, n × r; row j belongs to reaction j.
    shares: DMatrix<f64>,
    /// Whether a reaction takes part in no self-stress, so that equilibrium decides it.
    pub(super) decided: Indexed<ReactionIndex, bool>,
    /// Part of a unit share below which it counts as nothing.
    pub(crate) negligible: f64,
}

/// Roundings, in units of the last place, that a share gathers before they are divided by the smallest singular
/// value.
const ROUNDINGS: f64 = 8.0;

impl RankedMatrix {
    pub(super) fn new(numeric: &NumericRank) -> Self {
        let rank = numeric.rank;
        let values = DVector::from_column_slice(&numeric.singular_values[..rank]);
        let mut shares = numeric.svd.weighted.columns(0, rank).into_owned();
        for (mut column, value) in shares.column_iter_mut().zip(values.iter()) {
            column /= *value;
        }
        let left = &numeric.svd.left;
        let condition = match (values.iter().next(), values.iter().next_back()) {
            (Some(largest), Some(smallest)) => largest / smallest,
            _ => 1.0,
        };
        let rounding = ROUNDINGS * f64::EPSILON * condition;
        let negligible = numeric.tolerance.relative().max(rounding);
        let decided = decided(&shares, negligible);
        if decided.contains(&false) {
            set_apart(&mut shares, &decided);
        }
        Self {
            decided: decided.into(),
            span: left.columns(0, rank).into_owned(),
            free: left.columns(rank, left.ncols() - rank).into_owned(),
            values,
            shares,
            negligible,
        }
    }

    pub(super) fn rank(&self) -> usize {
        self.values.len()
    }

    /// What the reactions have to balance, in the span of their shares: `Σ⁻¹ Uᵗ load`.
    pub(super) fn demand(&self, load: &DVector<f64>) -> DVector<f64> {
        self.span.tr_mul(load).component_div(&self.values)
    }

    /// The smallest reactions that balance a demand.
    pub(super) fn smallest(&self, demand: &DVector<f64>) -> DVector<f64> {
        -(&self.shares * demand)
    }

    /// The demand that reactions balance.
    pub(super) fn demand_of(&self, reactions: &DVector<f64>) -> DVector<f64> {
        -self.shares.tr_mul(reactions)
    }

    /// The part of numbers, one for each reaction, that are the rates of some motion.
    pub(super) fn of_shares(&self, numbers: &DVector<f64>) -> DVector<f64> {
        &self.shares * self.shares.tr_mul(numbers)
    }

    /// The load that makes a demand.
    pub(super) fn load_of(&self, demand: &DVector<f64>) -> DVector<f64> {
        &self.span * demand.component_mul(&self.values)
    }

    /// The twist within the span, scaled, at which the supports have given rates `V · shared`.
    pub(crate) fn twist_of(&self, shared: &DVector<f64>) -> DVector<f64> {
        &self.span * shared.component_div(&self.values)
    }

    /// Rate of each reaction on a scaled twist: velocity along its force, or turn about its couple.
    pub(super) fn rates(&self, twist: &DVector<f64>) -> DVector<f64> {
        &self.shares * self.span.tr_mul(twist).component_mul(&self.values)
    }

    /// Shares of some reactions as columns, r × count.
    pub(crate) fn shares_of(&self, reactions: &[ReactionIndex]) -> DMatrix<f64> {
        let rows: Vec<usize> = reactions.iter().map(|j| j.get()).collect();
        self.shares.select_rows(&rows).transpose()
    }

    /// Share of each reaction, filled up with zeros.
    pub(super) fn six_shares(&self) -> Vec<Vector6<f64>> {
        let rows = self.shares.row_iter();
        rows.map(|row| six(row.iter().copied())).collect()
    }

    /// The demand that reactions balance, filled up with zeros.
    pub(super) fn six_demand(&self, reactions: &DVector<f64>) -> Vector6<f64> {
        six(self.demand_of(reactions).iter().copied())
    }

    /// The reactions' columns in the span, r × count.
    pub(super) fn columns_of(&self, reactions: &[ReactionIndex]) -> DMatrix<f64> {
        let mut columns = self.shares_of(reactions);
        for (mut row, value) in columns.row_iter_mut().zip(self.values.iter()) {
            row *= *value;
        }
        columns
    }

    /// Rounding of the reaction to a load of size one.
    pub(super) fn rounding_of(&self, reaction: ReactionIndex) -> f64 {
        let row = self.shares.row(reaction.get()).transpose();
        ROUNDINGS * f64::EPSILON * row.component_div(&self.values).norm()
    }

    /// Part of a load, or of the reactions to it, that counts as nothing, relative to the load.
    pub(crate) fn nothing(&self, tolerance: f64) -> f64 {
        let least = self.values.iter().next_back().copied().unwrap_or(1.0);
        tolerance.max(ROUNDINGS * f64::EPSILON / least)
    }

    /// Whether a scaled twist moves no support, but for a part that is negligible beside it.
    pub(super) fn is_free(&self, twist: &DVector<f64>, still: f64) -> bool {
        self.span.tr_mul(twist).norm() <= still * twist.norm()
    }
}

/// At most six numbers, filled up with zeros.
fn six(numbers: impl Iterator<Item = f64>) -> Vector6<f64> {
    Vector6::from_iterator(numbers.chain(std::iter::repeat(0.0)).take(6))
}

/// Makes the shares of decided reactions square to all others, which they are but for what is negligible.
///
/// Else a self-stress that is large beyond measure could still change their values.
fn set_apart(shares: &mut DMatrix<f64>, decided: &[bool]) {
    for own in (0..decided.len()).filter(|j| decided[*j]) {
        let unit = shares.row(own).normalize();
        for (other, mut row) in shares.row_iter_mut().enumerate() {
            if other == own {
                row.copy_from(&unit);
            } else {
                let along = row.dot(&unit);
                row -= &unit * along;
            }
        }
    }
}

/// Which reactions take part in no self-stress.
///
/// With `P = V Vᵗ` reaction j has the share `√(1 − Pⱼⱼ)`. Small shares drown in that difference, but `P² = P`
/// makes them `√(Σ Pⱼₖ² / Pⱼⱼ)` over the other reactions k, which keeps their digits; `Pⱼⱼ` is 1 there.
fn decided(shares: &DMatrix<f64>, negligible: f64) -> Vec<bool> {
    // As many reactions as the rank leave no self-stress.
    if shares.is_square() {
        return vec![true; shares.nrows()];
    }
    let rows = shares.row_iter().enumerate();
    rows.map(|(index, row)| {
        // Rules all but a few out without the products: these squares sum up to the rank.
        if row.norm_squared() < 0.5 {
            return false;
        }
        let mut others = shares * row.transpose();
        others[index] = 0.0;
        others.norm() <= negligible
    })
    .collect()
}
