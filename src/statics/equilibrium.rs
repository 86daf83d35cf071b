//! Equilibrium under each load case: which reactions it decides, and what an unbalanced load drives.

use nalgebra::{DMatrix, DVector, Vector6};

use super::freedom::FreeMotion;
use super::matrix::{ReactionMatrix, extend, restrict};
use super::model::{Model, ReactionKind};
use super::rank::NumericRank;
use super::wrench::{Wrench, stack};

/// What equilibrium says under one load case.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseAnswer {
    /// Name of the case.
    pub name: String,
    /// Whether anything acts at all.
    pub loaded: bool,
    /// Whether some set of reactions balances the load, each of them pushing or pulling as needed.
    pub possible: bool,
    /// Value of each reaction, N or N·m, in model order; `None` where equilibrium does not decide it, all
    /// `None` where there is no equilibrium.
    pub values: Vec<Option<f64>>,
    /// Power of the load on each free motion at unit rate, W; exactly 0 where it does not drive it.
    pub powers: Vec<f64>,
    /// What the smallest set of reactions leaves of the load, relative to it: the rounding, where possible.
    pub residual: f64,
}

impl CaseAnswer {
    /// Whether there is equilibrium and it decides every reaction.
    pub fn is_decided(&self) -> bool {
        self.possible && self.values.iter().all(Option::is_some)
    }
}

/// A load whose part along the free motions is below this, relative to the load, counts as balanced.
const BALANCED: f64 = 1e-9;
/// A reaction is decided when its share in a self-stress of unit size is at most this.
const DECIDED: f64 = 1e-9;

/// Answers for every load case of the model.
pub fn answers(
    model: &Model,
    matrix: &ReactionMatrix,
    numeric: &NumericRank,
    motions: &[FreeMotion],
) -> Vec<CaseAnswer> {
    let solver = Solver::new(matrix, numeric);
    let cases = model.cases.iter();
    cases
        .map(|case| {
            let load = case.resultant(&model.reference);
            let size = load_size(
                model,
                case.loads.iter().map(|load| load.wrench(&model.reference)),
            );
            let mut answer = answer(model, &solver, numeric, motions, &load, size);
            answer.name.clone_from(&case.name);
            answer.loaded = !case.loads.is_empty();
            answer
        })
        .collect()
}

/// Sum of the sizes of all loads, N: what rounding is measured against even where they cancel.
fn load_size(model: &Model, loads: impl Iterator<Item = Wrench>) -> f64 {
    loads.map(|load| scaled(model, &load).norm()).sum()
}

fn scaled(model: &Model, load: &Wrench) -> Vector6<f64> {
    stack(&load.force, &(load.moment / model.length))
}

fn answer(
    model: &Model,
    solver: &Solver,
    numeric: &NumericRank,
    motions: &[FreeMotion],
    load: &Wrench,
    size: f64,
) -> CaseAnswer {
    let six = scaled(model, load);
    let unbalanced = numeric
        .free
        .iter()
        .map(|free| free.dot(&six))
        .fold(0.0, |a: f64, b| a.hypot(b));
    let possible = unbalanced <= BALANCED * size;
    let solution = solver.balance(&restrict(&six, model.space));
    let left = extend(&(&solver.matrix * &solution), model.space) + six;
    CaseAnswer {
        name: String::new(),
        loaded: false,
        possible,
        values: (0..model.reactions.len())
            .map(|j| (possible && solver.decided[j]).then(|| value(model, j, solution[j], size)))
            .collect(),
        powers: motions
            .iter()
            .map(|motion| power(model, motion, load, size))
            .collect(),
        residual: if size > 0.0 { left.norm() / size } else { 0.0 },
    }
}

/// A reaction in SI units, with rounding noise made an exact zero.
fn value(model: &Model, index: usize, scaled: f64, size: f64) -> f64 {
    let unit = match model.reactions[index].kind {
        ReactionKind::Force => 1.0,
        ReactionKind::Couple => model.length,
    };
    if scaled.abs() <= NOISE * size {
        0.0
    } else {
        scaled * unit
    }
}

/// Relative size of reactions that are rounding noise of the loads.
const NOISE: f64 = 1e-12;

fn power(model: &Model, motion: &FreeMotion, load: &Wrench, size: f64) -> f64 {
    let power = motion.twist.power(load);
    let rate = motion.twist.scaled(model.length).norm();
    if power.abs() <= BALANCED * size * rate {
        0.0
    } else {
        power
    }
}

/// Which reactions take part in no self-stress, given the right singular vectors that count as columns.
///
/// With `P = V Vᵗ` reaction j has the share `√(1 − Pⱼⱼ)`. Small shares drown in that difference, but `P² = P`
/// makes them `√(Σ Pⱼₖ² / Pⱼⱼ)` over the other reactions k, which keeps their digits; `Pⱼⱼ` is 1 there.
fn decided(right: &DMatrix<f64>) -> Vec<bool> {
    let rows = right.row_iter().enumerate();
    rows.map(|(index, row)| {
        // Rules all but a few out without the products: these squares sum up to the rank.
        if row.norm_squared() < 0.5 {
            return false;
        }
        let mut others = right * row.transpose();
        others[index] = 0.0;
        others.norm() <= DECIDED
    })
    .collect()
}

/// Smallest reactions for a load, and which of them are the only ones.
struct Solver {
    matrix: DMatrix<f64>,
    /// `Uᵣ` and `Vᵣ Σ⁻¹` of the part that counts.
    left: DMatrix<f64>,
    right_over_values: DMatrix<f64>,
    decided: Vec<bool>,
}

impl Solver {
    fn new(matrix: &ReactionMatrix, numeric: &NumericRank) -> Self {
        let rank = numeric.rank;
        let mut right = numeric.svd.weighted_right.rows(0, rank).transpose();
        for (mut column, value) in right.column_iter_mut().zip(&numeric.singular_values) {
            column /= *value;
        }
        let decided = decided(&right);
        for (mut column, value) in right.column_iter_mut().zip(&numeric.singular_values) {
            column /= *value;
        }
        Self {
            matrix: matrix.entries().clone(),
            left: numeric.svd.left.columns(0, rank).into_owned(),
            right_over_values: right,
            decided,
        }
    }

    /// Least-squares reactions of least size, refined once against the matrix itself.
    fn balance(&self, load: &DVector<f64>) -> DVector<f64> {
        let first = self.step(load);
        let left_over = load + &self.matrix * &first;
        first + self.step(&left_over)
    }

    fn step(&self, load: &DVector<f64>) -> DVector<f64> {
        -(&self.right_over_values * self.left.tr_mul(load))
    }
}
