//! The reactions taken apart: those that act both ways, and what those that act one way can do besides.

use nalgebra::{DMatrix, DVector};

use super::cone::{self, Nearest};
use super::is_one_way;
use crate::statics::diagnosis::Diagnosis;
use crate::statics::model::Model;
use crate::statics::ranked::RankedMatrix;
use crate::statics::svd::WideSvd;

/// Reactions by whether they act both ways, in the shares of the ranked matrix.
pub(in crate::statics) struct Supports<'a> {
    pub(in crate::statics) ranked: &'a RankedMatrix,
    pub(in crate::statics) one_way: Vec<usize>,
    pub(in crate::statics) two_way: Vec<usize>,
    two_way_svd: WideSvd,
    two_way_rank: usize,
    /// One-way columns within what two-way reactions leave; zeros where they reach out of those by nothing.
    pub(in crate::statics) pushes: DMatrix<f64>,
}

impl<'a> Supports<'a> {
    pub(in crate::statics) fn new(model: &Model, diagnosis: &'a Diagnosis) -> Self {
        let ranked = &diagnosis.ranked;
        let reactions = 0..model.reactions.len();
        let (one_way, two_way): (Vec<usize>, Vec<usize>) =
            reactions.partition(|j| is_one_way(&model.reactions[*j]));
        let (two_way_svd, two_way_rank) = span_of(ranked, &two_way);
        let mut supports = Self {
            ranked,
            pushes: DMatrix::zeros(0, 0),
            one_way,
            two_way,
            two_way_svd,
            two_way_rank,
        };
        supports.pushes = supports.room().tr_mul(&ranked.shares_of(&supports.one_way));
        for mut push in supports.pushes.column_iter_mut() {
            if push.norm() <= ranked.negligible {
                push.fill(0.0);
            }
        }
        supports
    }

    /// Number of independent two-way reactions.
    pub(in crate::statics) fn two_way_rank(&self) -> usize {
        self.two_way_rank
    }

    /// Orthonormal shares that two-way reactions leave, as columns.
    fn room(&self) -> DMatrix<f64> {
        outside(&self.two_way_svd, self.two_way_rank)
    }

    /// Orthonormal shares that some reactions leave, as columns.
    pub(super) fn room_beside(&self, reactions: &[usize]) -> DMatrix<f64> {
        let (svd, rank) = span_of(self.ranked, reactions);
        outside(&svd, rank)
    }

    /// How nearly one-way reactions balance a demand beside the two-way ones, and what they leave of it as a demand.
    pub(super) fn nearest(&self, demand: &DVector<f64>) -> Nearest {
        let room = self.room();
        let nearest = cone::nearest(&self.pushes, &room.tr_mul(demand));
        Nearest {
            left: room * nearest.left,
            ..nearest
        }
    }

    /// All reactions, scaled, to a demand, of which the one-way ones are known.
    pub(super) fn reactions(&self, demand: &DVector<f64>, pushes: &DVector<f64>) -> DVector<f64> {
        let mut all = DVector::zeros(self.one_way.len() + self.two_way.len());
        for (j, push) in self.one_way.iter().zip(pushes.iter()) {
            all[*j] = *push;
        }
        // Twice: the second time puts right what rounding left.
        for _ in 0..2 {
            let left = demand - self.ranked.demand_of(&all);
            for rank in 0..self.two_way_rank {
                let value = self.two_way_svd.values[rank];
                let share = self.two_way_svd.left.column(rank).dot(&left) / (value * value);
                let weights = self.two_way_svd.weighted_right.row(rank);
                for (j, weight) in self.two_way.iter().zip(weights.iter()) {
                    all[*j] -= weight * share;
                }
            }
        }
        all
    }
}

/// Shares of some reactions, decomposed, and how many of them are independent.
fn span_of(ranked: &RankedMatrix, reactions: &[usize]) -> (WideSvd, usize) {
    let svd = WideSvd::new(&ranked.shares_of(reactions));
    let counts = |value: &&f64| **value > ranked.negligible;
    let rank = svd.values.iter().filter(counts).count();
    (svd, rank)
}

fn outside(svd: &WideSvd, rank: usize) -> DMatrix<f64> {
    svd.left.columns(rank, svd.left.ncols() - rank).into_owned()
}
