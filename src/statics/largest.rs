//! The load case that is worst for a reaction.

use super::diagnosis::Diagnosis;
use super::indices::{CaseIndex, ReactionIndex};

/// The value of a reaction under one of several load cases.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CaseValue {
    /// Index of the load case in the model.
    pub case: CaseIndex,
    /// Value of the reaction in it, N or N·m, with its sign.
    pub value: f64,
}

impl CaseValue {
    /// Whether it is larger than another by more than rounding; with `sign` −1, smaller.
    pub(crate) fn is_beyond(&self, other: &Self, sign: f64) -> bool {
        let size = self.value.abs().max(other.value.abs());
        sign * (self.value - other.value) > EQUAL * size
    }
}

/// Values whose sizes differ by less than this, relative to them, are equally large: the first case counts.
const EQUAL: f64 = 1e-9;

impl Diagnosis {
    /// The largest value of a reaction, by magnitude, over some load cases in ascending order; `None` where it is 0 in all
    /// of them or follows from equilibrium in none.
    ///
    /// Contacts and cables are taken as two-way, as everywhere in [`CaseAnswer::values`](super::CaseAnswer::values).
    pub fn largest(
        &self,
        reaction: ReactionIndex,
        cases: impl IntoIterator<Item = CaseIndex>,
    ) -> Option<CaseValue> {
        let values = cases.into_iter().filter_map(|case| {
            let value = self.cases[case].values[reaction]?;
            Some(CaseValue { case, value })
        });
        let larger = |largest: CaseValue, other: CaseValue| match other.value.abs()
            > (1.0 + EQUAL) * largest.value.abs()
        {
            true => other,
            false => largest,
        };
        values.filter(|found| found.value != 0.0).reduce(larger)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Model, Tolerance};
    use super::*;
    use crate::indexed::Indices;
    use crate::scene::read_str;

    /// A beam on a pin and a roller, pushed down and up in turn: by the lever rule each end takes the share of the other's arm.
    fn beam(cases: &str) -> Diagnosis {
        let text = format!(
            "(format: 1, space: planar, body: [Shaft(from: (0, 0), to: (4, 0), diameter: 0.1)],
                supports: [Pin(name: \"A\", at: (0, 0)), Roller(name: \"B\", at: (4, 0), normal: (0, 1))], cases: [{cases}])"
        );
        let model = Model::new(&read_str("beam", &text).unwrap().scene).unwrap();
        Diagnosis::new(&model, Tolerance::default())
    }

    fn case(name: &str, x: f64, down: f64) -> String {
        format!(
            "(name: \"{name}\", loads: [Force(at: ({x}, 0), force: (0, {}))]),",
            -down
        )
    }

    #[test]
    fn the_largest_is_that_of_greatest_magnitude_with_its_sign() {
        let cases =
            case("left", 1.0, 40.0) + &case("lift", 3.0, -100.0) + &case("right", 3.0, 80.0);
        let diagnosis = beam(&cases);
        let at = |reaction| diagnosis.largest(ReactionIndex::new(reaction), Indices::first(3));
        assert_eq!(at(0), None, "nothing pushes along the beam");
        let [left, right] = [1, 2].map(|reaction| at(reaction).unwrap());
        assert_eq!(left.case.get(), 0);
        assert!((left.value - 30.0).abs() < 1e-9);
        assert_eq!(right.case.get(), 1);
        assert!((right.value + 75.0).abs() < 1e-9);
        assert_eq!(
            diagnosis
                .largest(ReactionIndex::new(2), [0, 2].map(CaseIndex::new))
                .unwrap()
                .case
                .get(),
            2
        );
        assert_eq!(diagnosis.largest(ReactionIndex::new(2), []), None);
    }

    #[test]
    fn of_equal_ones_the_first_counts() {
        let cases = case("up", 1.0, -30.0) + &case("down", 1.0, 30.0);
        assert_eq!(
            beam(&cases)
                .largest(ReactionIndex::new(1), Indices::first(2))
                .unwrap()
                .case
                .get(),
            0
        );
    }
}
