//! A body on springs of which some only push: the displacement at which they balance a load.
//!
//! Reactions are compared in the shares of the ranked matrix, as one-way supports are; see `statics`. A displacement `q` of the
//! body compresses spring j by `c = −v·q`, with v its share, and its force is `k c`, of one-way springs `k max(0, c)`. The load is
//! balanced where the convex function `½ Σ k c² + …` has its minimum. Newton's method with an exact line search finds it after
//! finitely many steps (Li & Swetits, *SIAM J. Optimization* 7, 1997); that the forces balance the load certifies the answer,
//! since they are those of springs by construction.

use nalgebra::{DMatrix, DVector};

use super::stiffness::Stiffnesses;
use crate::indexed::Indexed;
use crate::statics::{Diagnosis, Model, ReactionIndex, Sense, WideSvd};

/// Springs in scaled units: forces, and couples over the characteristic length; stiffnesses relative to the largest.
pub(super) struct Springs {
    /// Shares as columns, rank × reactions.
    shares: DMatrix<f64>,
    stiffness: Vec<f64>,
    one_way: Vec<bool>,
    /// How many motions the body has.
    motions: usize,
    /// Part of a unit share below which it counts as nothing.
    negligible: f64,
    /// Part of a load that counts as nothing.
    nothing: f64,
}

/// What springs have to balance.
pub(super) struct SpringAction {
    /// The load, in the span of the shares.
    pub(super) demand: DVector<f64>,
    /// By how much each is opened while the body stays, scaled, times the largest stiffness.
    pub(super) offsets: DVector<f64>,
}

/// Springs that balance a load.
#[derive(Debug, Clone)]
pub(super) struct SettledSprings {
    /// Force of each, scaled.
    pub(super) forces: Indexed<ReactionIndex, f64>,
    /// How far each one-way spring is open, scaled, times the largest stiffness; what presses counts negative.
    pub(super) gaps: Indexed<ReactionIndex, f64>,
    /// Displacement in the span of the shares, times the largest stiffness.
    pub(super) settlement: DVector<f64>,
    /// Whether it is the only one.
    pub(super) is_unique: bool,
}

/// Steps with the same springs after which the search ends.
const STEADY: usize = 2;
/// Newton steps at most, beside one for each spring; a handful is usual.
const MOST_STEPS: usize = 50;

impl Springs {
    pub(super) fn new(model: &Model, diagnosis: &Diagnosis, stiffnesses: &Stiffnesses) -> Self {
        let ranked = &diagnosis.ranked;
        let all: Vec<ReactionIndex> = model.reactions.indices().collect();
        Self {
            shares: ranked.shares_of(&all),
            stiffness: stiffnesses.relative(model),
            one_way: model
                .reactions
                .iter()
                .map(|reaction| reaction.sense != Sense::Both)
                .collect(),
            motions: model.space.motions(),
            negligible: ranked.negligible,
            nothing: ranked.nothing(diagnosis.numeric.tolerance.relative()),
        }
    }

    /// Rounding of the reaction to a load of size one.
    pub(super) fn rounding(&self) -> f64 {
        let softest = self.stiffness.iter().copied().fold(1.0, f64::min);
        f64::EPSILON / softest.sqrt()
    }

    /// Where the springs balance a demand, without those that are let go of; `None` where no displacement was found, or its
    /// forces do not balance it.
    pub(super) fn settled(&self, action: &SpringAction, loose: &[bool]) -> Option<SettledSprings> {
        let mut at = DVector::zeros(action.demand.len());
        // First as if all held both ways: often the answer already.
        let mut acting: Vec<bool> = loose.iter().map(|loose| !loose).collect();
        // Once the springs that act stay the same, one more step takes off the rounding of the last.
        let mut steady = 0;
        for _ in 0..MOST_STEPS + self.stiffness.len() {
            let (step, is_free) = self.step(&at, action, &acting);
            let reach = (!is_free).then_some(1.0);
            at += &step * self.way(&at, &step, action, loose, reach)?;
            let before = std::mem::replace(&mut acting, self.acting(&at, action, loose));
            steady = if is_free || acting != before {
                0
            } else {
                steady + 1
            };
            if steady == STEADY {
                break;
            }
        }
        self.confirmed(at, action, loose)
    }

    /// The answer at a displacement, if its forces balance the demand.
    fn confirmed(
        &self,
        at: DVector<f64>,
        action: &SpringAction,
        loose: &[bool],
    ) -> Option<SettledSprings> {
        let acting = self.acting(&at, action, loose);
        let forces = self.forces(&at, action, &acting);
        if self.left(&forces, action).norm() > self.floor(action) {
            return None;
        }
        let rank = self.rank(&acting);
        Some(SettledSprings {
            forces: forces.iter().copied().collect(),
            gaps: self.compression(&at, action).iter().map(|c| -c).collect(),
            is_unique: rank == self.motions,
            settlement: at,
        })
    }

    /// Forces of this size count as nothing beside a demand.
    pub(super) fn floor(&self, action: &SpringAction) -> f64 {
        self.nothing * (action.demand.norm() + self.locked(action))
    }

    /// Sum of the forces that imposed actions would make if the body stayed, scaled.
    pub(super) fn locked(&self, action: &SpringAction) -> f64 {
        let each = self.stiffness.iter().zip(action.offsets.iter());
        each.map(|(stiffness, offset)| (stiffness * offset).abs())
            .sum()
    }

    /// How far each is compressed, those imposed actions included.
    fn compression(&self, at: &DVector<f64>, action: &SpringAction) -> DVector<f64> {
        -self.shares.tr_mul(at) - &action.offsets
    }

    /// Which springs take part in the forces at a displacement.
    fn acting(&self, at: &DVector<f64>, action: &SpringAction, loose: &[bool]) -> Vec<bool> {
        let compression = self.compression(at, action);
        (0..loose.len())
            .map(|j| !loose[j] && (!self.one_way[j] || compression[j] > 0.0))
            .collect()
    }

    fn forces(&self, at: &DVector<f64>, action: &SpringAction, acting: &[bool]) -> DVector<f64> {
        let mut forces = self.compression(at, action);
        for (j, force) in forces.iter_mut().enumerate() {
            *force *= if acting[j] { self.stiffness[j] } else { 0.0 };
        }
        forces
    }

    /// What forces leave of a demand, which balanced ones make the opposite of.
    fn left(&self, forces: &DVector<f64>, action: &SpringAction) -> DVector<f64> {
        &self.shares * forces + &action.demand
    }

    fn columns(&self, acting: &[bool]) -> Vec<usize> {
        (0..acting.len()).filter(|j| acting[*j]).collect()
    }

    /// How many of the motions that all springs hold some of them hold. Stiffnesses do not count.
    fn rank(&self, acting: &[bool]) -> usize {
        let shares = self.shares.select_columns(&self.columns(acting));
        let values = WideSvd::new(&shares).values;
        values
            .iter()
            .filter(|value| **value > self.negligible)
            .count()
    }

    /// Newton's step for the springs that act; where they leave some of the demand that none of them can take, the way in which
    /// that drives the body, and `true`.
    fn step(
        &self,
        at: &DVector<f64>,
        action: &SpringAction,
        acting: &[bool],
    ) -> (DVector<f64>, bool) {
        let rank = self.rank(acting);
        let columns = self.columns(acting);
        let mut weighted = self.shares.select_columns(&columns);
        for (mut column, j) in weighted.column_iter_mut().zip(&columns) {
            column *= self.stiffness[*j].sqrt();
        }
        let svd = WideSvd::new(&weighted);
        let left = self.left(&self.forces(at, action, acting), action);
        let mut rest = left.clone();
        let mut step = DVector::zeros(left.len());
        for (direction, value) in svd.left.column_iter().zip(&svd.values).take(rank) {
            let part = direction.dot(&left);
            step.axpy(part / (value * value), &direction, 1.0);
            rest.axpy(-part, &direction, 1.0);
        }
        match rest.norm() > self.floor(action) {
            true => (rest, true),
            false => (step, false),
        }
    }

    /// How far to go along a step until the springs balance what works on it; at most `reach` is tried first. `None` where the body
    /// would go on for ever.
    fn way(
        &self,
        at: &DVector<f64>,
        step: &DVector<f64>,
        action: &SpringAction,
        loose: &[bool],
        reach: Option<f64>,
    ) -> Option<f64> {
        // Work that is left on the step: falls as the springs are compressed.
        let slope = |t: f64| {
            let there = at + step * t;
            let forces = self.forces(&there, action, &self.acting(&there, action, loose));
            self.left(&forces, action).dot(step)
        };
        let mut turns = self.turns(at, step, action, loose);
        turns.extend(reach);
        turns.push(0.0);
        turns.sort_by(f64::total_cmp);
        // One more point, to see how it goes on behind the last.
        let last = turns.iter().copied().fold(0.0, f64::max);
        turns.push(2.0 * last + 1.0);
        let beyond = turns.partition_point(|t| slope(*t) > 0.0);
        if beyond == 0 {
            return Some(0.0);
        }
        let to = beyond.min(turns.len() - 1);
        let (from, to) = (turns[to - 1], turns[to]);
        let high = slope(from);
        let fall = high - slope(to);
        (fall > 0.0).then(|| from + (to - from) * high / fall)
    }

    /// Where on a step one-way springs close or open.
    fn turns(
        &self,
        at: &DVector<f64>,
        step: &DVector<f64>,
        action: &SpringAction,
        loose: &[bool],
    ) -> Vec<f64> {
        let (from, change) = (self.compression(at, action), -self.shares.tr_mul(step));
        let one_way = (0..loose.len()).filter(|j| self.one_way[*j] && !loose[*j]);
        one_way
            .map(|j| -from[j] / change[j])
            .filter(|t| *t > 0.0 && t.is_finite())
            .collect()
    }
}
