//! Equilibrium under each load case: which reactions it decides, and what an unbalanced load drives.

use nalgebra::DVector;

use super::freedom::FreeMotion;
use super::indices::{CaseIndex, MotionIndex, ReactionIndex};
use super::matrix::{ReactionMatrix, extend, restrict};
use super::model::Model;
use super::rank::Tolerance;
use super::ranked::RankedMatrix;
use super::reaction::{ReactionKind, Sense};
use super::scaled::ScaledWrench;
use super::wrench::{Twist, Wrench};
use crate::indexed::Indexed;

/// What equilibrium says under one load case.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseAnswer {
    /// Name of the case.
    pub name: String,
    /// Whether anything acts at all.
    pub loaded: bool,
    /// Whether the reactions balance the load, each of them pushing or pulling as needed, and follow from it.
    pub equilibrium: Equilibrium,
    /// Value of each reaction, N or N·m, in model order; `None` where equilibrium does not decide it, all
    /// `None` where there is no equilibrium.
    pub values: Indexed<ReactionIndex, Option<f64>>,
    /// Power of the load on each free motion at unit rate, W; exactly 0 where it does not drive it.
    pub powers: Indexed<MotionIndex, f64>,
    /// What the smallest set of reactions leaves of the load, relative to it: the rounding, where possible.
    pub residual: f64,
    /// The smallest set of reactions, scaled, in model order; those that are decided are exact zeros where they are
    /// rounding.
    pub(super) reactions: DVector<f64>,
}

/// What becomes of a body under a load.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[must_use]
#[non_exhaustive]
pub enum Equilibrium {
    /// The reactions balance the load, and each of them follows from the equations of equilibrium.
    Determinate,
    /// The reactions balance the load; some of them are statically indeterminate.
    Indeterminate,
    /// No set of reactions balances the load: it sets the body in motion.
    None,
}

impl CaseAnswer {
    /// Whether the reactions balance the load.
    pub fn is_balanced(&self) -> bool {
        self.equilibrium != Equilibrium::None
    }

    /// Whether the reactions balance the load and each of them follows from the equations.
    pub fn is_determinate(&self) -> bool {
        self.equilibrium == Equilibrium::Determinate
    }
}

/// Answers for every load case of the model.
pub(super) fn answers(
    model: &Model,
    matrix: &ReactionMatrix,
    ranked: &RankedMatrix,
    tolerance: Tolerance,
    motions: &Indexed<MotionIndex, FreeMotion>,
) -> Indexed<CaseIndex, CaseAnswer> {
    let cases = model.cases.iter();
    cases
        .map(|case| {
            let load = case.resultant(&model.reference);
            let loads = case.loads.iter().map(|load| load.wrench(&model.reference));
            let question = CaseQuestion {
                load: restrict(&load.scaled(model.length), model.space),
                size: load_size(model, loads),
                model,
                matrix,
                ranked,
                tolerance: tolerance.relative(),
            };
            let mut answer = question.answer(motions);
            answer.name.clone_from(&case.name);
            answer.loaded = !case.loads.is_empty();
            answer
        })
        .collect()
}

/// Sum of the sizes of all loads, N: what rounding is measured against even where they cancel.
fn load_size(model: &Model, loads: impl Iterator<Item = Wrench>) -> f64 {
    loads.map(|load| load.scaled(model.length).norm()).sum()
}

/// One load case asked of the supports.
struct CaseQuestion<'a> {
    model: &'a Model,
    matrix: &'a ReactionMatrix,
    ranked: &'a RankedMatrix,
    tolerance: f64,
    /// Scaled load and the size that its rounding is measured against.
    load: DVector<f64>,
    size: f64,
}

impl CaseQuestion<'_> {
    fn answer(&self, motions: &Indexed<MotionIndex, FreeMotion>) -> CaseAnswer {
        // The part of the load that no reaction can balance.
        let driving = &self.ranked.free * self.ranked.free.tr_mul(&self.load);
        let equilibrium = match driving.norm() <= self.tolerance * self.size {
            true if self.ranked.decided.iter().all(|decided| *decided) => Equilibrium::Determinate,
            true => Equilibrium::Indeterminate,
            false => Equilibrium::None,
        };
        let balanced = equilibrium != Equilibrium::None;
        let reactions = self.reactions();
        let left = self.left(&reactions).hypot(driving.norm());
        let value = |j: ReactionIndex| reactions[j] * self.unit(j);
        CaseAnswer {
            name: String::new(),
            loaded: false,
            equilibrium,
            values: self
                .model
                .reactions
                .indices()
                .map(|j| (balanced && self.ranked.decided[j]).then(|| value(j)))
                .collect(),
            powers: match balanced {
                true => motions.map(|_| 0.0),
                false => self.powers(motions, &driving),
            },
            residual: if self.size > 0.0 {
                left / self.size
            } else {
                0.0
            },
            reactions,
        }
    }

    /// The smallest reactions, refined once against the matrix itself, without the rounding of those that are decided.
    fn reactions(&self) -> DVector<f64> {
        let solve = |load: &DVector<f64>| self.ranked.smallest(&self.ranked.demand(load));
        let first = solve(&self.load);
        let rest = &self.load + self.matrix.entries() * &first;
        let mut reactions = first + solve(&rest);
        for j in self.model.reactions.indices() {
            if self.ranked.decided[j] && self.is_rounding(j, reactions[j]) {
                reactions[j] = 0.0;
            }
        }
        reactions
    }

    /// Whether a reaction is the rounding of the loads, or acts the wrong way by no more than counts as nothing.
    fn is_rounding(&self, j: ReactionIndex, reaction: f64) -> bool {
        let wrong = self.model.reactions[j].sense != Sense::Both && reaction < 0.0;
        let floor = match wrong {
            true => self.ranked.nothing(self.tolerance),
            false => NOISE.max(self.ranked.rounding_of(j)),
        };
        reaction.abs() <= floor * self.size
    }

    /// What reactions leave of the part of the load that they can balance.
    fn left(&self, reactions: &DVector<f64>) -> f64 {
        let left = &self.load + self.matrix.entries() * reactions;
        self.ranked.span.tr_mul(&left).norm()
    }

    /// SI unit of a scaled reaction.
    fn unit(&self, j: ReactionIndex) -> f64 {
        match self.model.reactions[j].kind {
            ReactionKind::Force => 1.0,
            ReactionKind::Couple => self.model.length,
        }
    }

    /// Power of the driving part of the load on each motion; the largest of them is never taken for rounding.
    fn powers(
        &self,
        motions: &Indexed<MotionIndex, FreeMotion>,
        driving: &DVector<f64>,
    ) -> Indexed<MotionIndex, f64> {
        let driving: ScaledWrench = extend(driving, self.model.space);
        let scaled = |twist: &Twist| twist.scaled(self.model.length);
        let powers = motions
            .iter()
            .map(|motion| scaled(&motion.twist).dot(&driving));
        let rates = motions.iter().map(|motion| scaled(&motion.twist).norm());
        let cosines: Vec<f64> = powers
            .clone()
            .zip(rates)
            .map(|(power, rate)| (power / rate).abs())
            .collect();
        let largest = cosines.iter().copied().fold(0.0, f64::max);
        let floor = (self.tolerance * driving.norm())
            .max(NOISE * self.size)
            .min(largest);
        powers
            .zip(&cosines)
            .map(|(power, cosine)| if *cosine < floor { 0.0 } else { power })
            .collect()
    }
}

/// Relative size of reactions and powers that are rounding noise of the loads.
const NOISE: f64 = 1e-12;
