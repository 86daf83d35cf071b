//! Sums in writing: signs between summands, none in front of a positive first one.

use super::geometry::SAME;
use super::number::{length, number};
use super::phrase::{Operator, Phrase, phrase};
use crate::scene::Units;
use crate::statics::Reaction;

/// A sum, one summand after the other.
#[derive(Debug, Clone, Default)]
pub struct Sum(Phrase);

impl Sum {
    /// Adds a summand: its sign is that of `value`, `size` says the rest.
    pub fn add(&mut self, value: f64, size: impl Into<Phrase>) {
        match (self.0.is_empty(), value < 0.0) {
            (true, false) => {}
            (true, true) => self.0.push(Operator::Negative),
            (false, false) => self.0.push(Operator::Plus),
            (false, true) => self.0.push(Operator::Minus),
        }
        self.0.push(size);
    }

    /// What is written; `0` of a sum without summands.
    pub fn phrase(self) -> Phrase {
        match self.0.is_empty() {
            true => number(0.0).into(),
            false => self.0,
        }
    }
}

/// A reaction with the size of what it is multiplied by: `A_x`, `0.6·T_C`, with an arm in metres `0.36 m·T_C`.
pub fn multiple(size: f64, is_arm: bool, reaction: &Reaction, units: &Units) -> Phrase {
    let symbol = &reaction.symbol;
    if is_arm {
        return phrase!(length(size, units), Operator::Times, symbol);
    }
    match (size - 1.0).abs() <= SAME {
        true => symbol.into(),
        false => phrase!(number(size), Operator::Times, symbol),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_stand_between_summands() {
        let mut sum = Sum::default();
        assert_eq!(sum.clone().phrase(), "0");
        sum.add(-2.0, number(2.0));
        sum.add(3.0, number(3.0));
        sum.add(-1.0, "F");
        assert_eq!(sum.phrase(), "\u{2212}2 + 3 \u{2212} F");
    }
}
