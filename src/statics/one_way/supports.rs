//! The reactions taken apart: those that act both ways, and what those that act one way can do besides.

use nalgebra::{DMatrix, DVector};

use super::cone::{self, Nearest};
use super::is_one_way;
use crate::scene::SupportKind;
use crate::statics::diagnosis::Diagnosis;
use crate::statics::indices::{ReactionIndex, SupportIndex};
use crate::statics::model::Model;
use crate::statics::placed_support::PlacedSupport;
use crate::statics::ranked::RankedMatrix;
use crate::statics::svd::WideSvd;

/// Reactions by whether they act both ways, in the shares of the ranked matrix.
pub(in crate::statics) struct Supports<'a> {
    pub(in crate::statics) ranked: &'a RankedMatrix,
    pub(in crate::statics) one_way: Vec<ReactionIndex>,
    pub(in crate::statics) two_way: Vec<ReactionIndex>,
    pub(in crate::statics) grips: Vec<RoughContact>,
    two_way_svd: WideSvd,
    two_way_rank: usize,
    /// One-way columns within what two-way reactions leave; zeros where they reach out of those by nothing.
    pub(in crate::statics) pushes: DMatrix<f64>,
}

/// A rough contact: what holds along its surface does so only while it is pressed.
#[derive(Debug, Clone)]
pub(in crate::statics) struct RoughContact {
    /// Index of the support.
    pub(in crate::statics) support: SupportIndex,
    /// The reaction that pushes.
    pub(in crate::statics) push: ReactionIndex,
    /// Reactions along the surface, which act both ways.
    pub(in crate::statics) along: Vec<ReactionIndex>,
    /// Its coefficient of friction, where the scene gives one.
    pub(super) friction: Option<f64>,
}

impl RoughContact {
    /// The rough contacts of a model. One whose push is released only guides, and is none.
    fn all_of(model: &Model) -> Vec<Self> {
        let supports = model.supports.enumerate();
        let rough = supports
            .filter(|(_, support)| matches!(support.kind, SupportKind::RoughContact { .. }));
        let grip = |(support, placed): (SupportIndex, &PlacedSupport)| {
            let own = placed.reactions.clone();
            let (push, along): (Vec<ReactionIndex>, Vec<ReactionIndex>) =
                own.partition(|j| is_one_way(&model.reactions[*j]));
            let friction = match placed.kind {
                SupportKind::RoughContact { friction, .. } => friction,
                _ => None,
            };
            Some(Self {
                support,
                push: *push.first()?,
                along,
                friction,
            })
        };
        rough.filter_map(grip).collect()
    }

    pub(super) fn has(&self, reaction: ReactionIndex) -> bool {
        self.push == reaction || self.along.contains(&reaction)
    }
}

impl<'a> Supports<'a> {
    pub(in crate::statics) fn new(model: &Model, diagnosis: &'a Diagnosis) -> Self {
        let reactions = model.reactions.indices();
        let (one_way, two_way) = reactions.partition(|j| is_one_way(&model.reactions[*j]));
        Self::of(
            &diagnosis.ranked,
            one_way,
            two_way,
            RoughContact::all_of(model),
        )
    }

    /// The same without some rough contacts, by index into `grips`: they give no force at all.
    pub(in crate::statics) fn without(&self, open: &[usize]) -> Self {
        let is_open = |j: ReactionIndex| open.iter().any(|index| self.grips[*index].has(j));
        let rest = |all: &[ReactionIndex]| all.iter().copied().filter(|j| !is_open(*j)).collect();
        let grips = self.grips.iter().enumerate();
        let closed = grips.filter(|(index, _)| !open.contains(index));
        Self::of(
            self.ranked,
            rest(&self.one_way),
            rest(&self.two_way),
            closed.map(|(_, grip)| grip.clone()).collect(),
        )
    }

    /// The same where some rough contacts, by index into `grips`, only push.
    pub(super) fn with_smooth(&self, smooth: &[usize]) -> Self {
        let grips = self.grips.iter().enumerate();
        let (slippery, rough): (Vec<_>, Vec<_>) =
            grips.partition(|(index, _)| smooth.contains(index));
        let slides = |j: &ReactionIndex| slippery.iter().any(|(_, grip)| grip.along.contains(j));
        let two_way = self.two_way.iter().copied();
        Self::of(
            self.ranked,
            self.one_way.clone(),
            two_way.filter(|j| !slides(j)).collect(),
            rough.into_iter().map(|(_, grip)| grip.clone()).collect(),
        )
    }

    fn of(
        ranked: &'a RankedMatrix,
        one_way: Vec<ReactionIndex>,
        two_way: Vec<ReactionIndex>,
        grips: Vec<RoughContact>,
    ) -> Self {
        let (two_way_svd, two_way_rank) = span_of(ranked, &two_way);
        let mut supports = Self {
            ranked,
            pushes: DMatrix::zeros(0, 0),
            one_way,
            two_way,
            grips,
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
    pub(super) fn room_beside(&self, reactions: &[ReactionIndex]) -> DMatrix<f64> {
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
        let mut all = DVector::zeros(self.ranked.decided.len());
        for (j, push) in self.one_way.iter().zip(pushes.iter()) {
            all[*j] = *push;
        }
        // Twice: the second time puts right what rounding left.
        for _ in 0..2 {
            let left = demand - self.ranked.demand_of(&all);
            for rank in 0..self.two_way_rank {
                let value = self.two_way_svd.values[rank];
                let share = self.two_way_svd.left.column(rank).dot(&left) / (value * value);
                let weights = self.two_way_svd.weighted.column(rank);
                for (j, weight) in self.two_way.iter().zip(weights.iter()) {
                    all[*j] -= weight * share;
                }
            }
        }
        all
    }
}

/// Shares of some reactions, decomposed, and how many of them are independent.
fn span_of(ranked: &RankedMatrix, reactions: &[ReactionIndex]) -> (WideSvd, usize) {
    let svd = WideSvd::new(&ranked.shares_of(reactions));
    let counts = |value: &&f64| **value > ranked.negligible;
    let rank = svd.values.iter().filter(counts).count();
    (svd, rank)
}

fn outside(svd: &WideSvd, rank: usize) -> DMatrix<f64> {
    svd.left.columns(rank, svd.left.ncols() - rank).into_owned()
}
