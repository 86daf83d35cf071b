//! The smallest and the largest value of a reaction over several load cases.

use super::Design;
use crate::statics::{CaseIndex, CaseValue, ReactionIndex};

/// Smallest and largest value of a reaction, with their signs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Envelope {
    /// Smallest; of equal ones that of the first case.
    pub least: CaseValue,
    /// Largest; of equal ones that of the first case.
    pub most: CaseValue,
}

impl Design {
    /// The envelope of a reaction over some load cases in ascending order; `None` where its value is known in none of them.
    pub fn envelope(
        &self,
        reaction: ReactionIndex,
        cases: impl IntoIterator<Item = CaseIndex>,
    ) -> Option<Envelope> {
        let values = cases.into_iter().filter_map(|case| {
            let value = self.cases[case].value(reaction)?;
            Some(CaseValue { case, value })
        });
        values.fold(None, |envelope, value| {
            let Envelope { least, most } = envelope.unwrap_or(Envelope {
                least: value,
                most: value,
            });
            Some(Envelope {
                least: if value.is_beyond(&least, -1.0) {
                    value
                } else {
                    least
                },
                most: if value.is_beyond(&most, 1.0) {
                    value
                } else {
                    most
                },
            })
        })
    }
}
