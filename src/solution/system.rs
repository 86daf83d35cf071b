//! Small systems: which unknowns equations share, independent rows, and solving them.

use nalgebra::{DMatrix, DVector};

use super::equation::Equation;
use crate::indexed::{Indexed, Indices};
use crate::statics::ReactionIndex;

/// Unknowns as bits.
pub(super) type Mask = u32;

/// The given reactions as bits.
pub(super) fn mask(reactions: impl IntoIterator<Item = ReactionIndex>) -> Mask {
    let bits = reactions.into_iter().map(bit);
    bits.fold(0, |mask, bit| mask | bit)
}

/// One reaction as a bit.
pub(super) fn bit(reaction: ReactionIndex) -> Mask {
    1 << reaction.get()
}

/// The reactions of a mask, ascending.
pub(super) fn members(mask: Mask) -> Vec<ReactionIndex> {
    Indices::first(Mask::BITS as usize)
        .filter(|index| mask & bit(*index) != 0)
        .collect()
}

/// The unknowns among an equation's terms.
pub(super) fn unknowns(equation: &Equation, unknown: Mask) -> Mask {
    mask(equation.terms.iter().map(|term| term.reaction)) & unknown
}

/// Picks rows that are independent in some unknowns, in order, until there are enough.
pub(super) struct Independent {
    columns: Vec<ReactionIndex>,
    threshold: f64,
    basis: Vec<DVector<f64>>,
}

impl Independent {
    /// Rows count as independent when more than the fraction `threshold` of them is new.
    pub(super) fn new(columns: Mask, threshold: f64) -> Self {
        Self {
            columns: members(columns),
            threshold,
            basis: Vec::new(),
        }
    }

    /// Whether the equation's row is new; keeps it then.
    pub(super) fn add(&mut self, equation: &Equation) -> bool {
        let row = row(equation, &self.columns);
        let norm = row.norm();
        if norm == 0.0 {
            return false;
        }
        let mut rest = row / norm;
        // Twice, since once leaves rounding where rows are nearly dependent.
        for _ in 0..2 {
            for unit in &self.basis {
                rest -= unit * unit.dot(&rest);
            }
        }
        let new = rest.norm() > self.threshold;
        if new {
            self.basis.push(rest.normalize());
        }
        new
    }
}

fn row(equation: &Equation, columns: &[ReactionIndex]) -> DVector<f64> {
    let coefficients = columns.iter().map(|index| equation.coefficient(*index));
    DVector::from_iterator(columns.len(), coefficients)
}

/// How many of some independent equations an equation follows from: those without which it would not; none where it
/// does not follow from them at all.
pub(super) fn sources(
    equation: &Equation,
    of: &[&Equation],
    reactions: Indices<ReactionIndex>,
) -> usize {
    /// Part of a row below which it is rounding.
    const NOISE: f64 = 1e-9;
    let columns: Vec<ReactionIndex> = reactions.collect();
    let unit = |equation: &Equation| row(equation, &columns).normalize();
    let rows: Vec<DVector<f64>> = of.iter().map(|equation| unit(equation)).collect();
    let sought = unit(equation);
    let products = DMatrix::from_fn(rows.len(), rows.len(), |i, j| rows[i].dot(&rows[j]));
    let right = DVector::from_iterator(rows.len(), rows.iter().map(|row| row.dot(&sought)));
    let Some(parts) = products.lu().solve(&right) else {
        return 0;
    };
    let sum = rows
        .iter()
        .zip(parts.iter())
        .fold(sought, |rest, (row, part)| rest - row * *part);
    match sum.norm() < NOISE.sqrt() {
        true => parts.iter().filter(|part| part.abs() > NOISE).count(),
        false => 0,
    }
}

/// Values of the unknowns of a mask from as many equations, the other reactions being known.
pub(super) fn solve(
    equations: &[Equation],
    unknown: Mask,
    values: &Indexed<ReactionIndex, Option<f64>>,
) -> Option<Vec<(ReactionIndex, f64)>> {
    let columns = members(unknown);
    let size = columns.len();
    let rows: Vec<DVector<f64>> = equations.iter().map(|e| row(e, &columns)).collect();
    let scale: Vec<f64> = rows.iter().map(|row| row.norm()).collect();
    let matrix = DMatrix::from_fn(size, size, |i, j| rows[i][j] / scale[i]);
    let right = DVector::from_fn(size, |i, _| -equations[i].sum(values) / scale[i]);
    let lu = matrix.clone().full_piv_lu();
    let first = lu.solve(&right)?;
    let left_over = &right - &matrix * &first;
    let solution = first + lu.solve(&left_over)?;
    Some(columns.into_iter().zip(solution.iter().copied()).collect())
}
