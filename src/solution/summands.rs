//! The summands of an equation in writing, each with what it is due to.

use super::{Balance, Equation, Term};
use crate::statics::{Model, ReactionIndex, ReactionKind};
use crate::wording::{self, Phrase, Quantity, Sum};

/// Loads of one equation that are written one by one; more are summed up.
const MOST_LOADS: usize = 4;

/// A summand of an equation.
#[derive(Debug, Clone, PartialEq)]
pub struct Summand {
    /// What it is due to.
    pub cause: Cause,
    /// Whether it is subtracted.
    pub is_negative: bool,
    /// What is added or subtracted: `0.36 m·T_C`, `44.13 N·m`.
    pub size: Phrase,
}

impl Summand {
    /// Adds it to a sum in writing.
    pub(super) fn add_to(self, sum: &mut Sum) {
        sum.add(if self.is_negative { -1.0 } else { 1.0 }, self.size);
    }
}

/// What a summand is due to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Cause {
    /// A reaction, by index into the model's.
    Reaction(ReactionIndex),
    /// A load, by index into those of its case.
    Load(usize),
    /// All loads of the case together: there are too many to write them one by one.
    Loads,
}

/// The summands on the left of an equation, whose right side is zero: reactions, then loads.
pub fn summands(model: &Model, equation: &Equation) -> Vec<Summand> {
    let reactions = equation.terms.iter().map(|term| Summand {
        cause: Cause::Reaction(term.reaction),
        is_negative: term.coefficient < 0.0,
        size: term_text(model, equation, term),
    });
    reactions.chain(of_loads(model, equation)).collect()
}

/// The summands of the loads.
pub(super) fn of_loads(model: &Model, equation: &Equation) -> Vec<Summand> {
    let values: Vec<(Cause, f64)> = match equation.loads.len() <= MOST_LOADS {
        true => equation
            .loads
            .iter()
            .map(|load| (Cause::Load(load.load), load.value))
            .collect(),
        false => vec![(Cause::Loads, equation.load)],
    };
    let values = values.into_iter().filter(|(_, value)| *value != 0.0);
    values
        .map(|(cause, value)| Summand {
            cause,
            is_negative: value < 0.0,
            size: amount(model, &equation.balance, value.abs()).into(),
        })
        .collect()
}

/// Force or moment in the scene's units.
pub(super) fn amount(model: &Model, balance: &Balance, value: f64) -> Quantity {
    let kind = match balance.has_moments() {
        true => ReactionKind::Couple,
        false => ReactionKind::Force,
    };
    wording::reaction_value(value, kind, &model.units)
}

/// `A_x`, `0.6·T_C`, `0.36 m·T_C`.
pub(super) fn term_text(model: &Model, equation: &Equation, term: &Term) -> Phrase {
    let reaction = &model.reactions[term.reaction];
    let size = term.coefficient.abs();
    let is_arm = equation.balance.has_moments() && reaction.kind == ReactionKind::Force;
    wording::multiple(size, is_arm, reaction, &model.units)
}
