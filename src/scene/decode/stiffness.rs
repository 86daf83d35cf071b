//! How stiff a support is: one number for all its forces or couples, or one for each in parentheses.

use std::fmt::Arguments;

use super::super::syntax::{SyntaxNode, Value};
use super::super::{Stiffness, SupportStiffness};
use super::Decoder;
use super::fields::Fields;
use super::values::NumberRange;

/// Fields of stiffnesses: of forces, of couples.
pub(crate) const FORCES: &str = "stiffness";
pub(crate) const COUPLES: &str = "rotational_stiffness";

impl Fields<'_, '_, '_> {
    /// What is said of a support's stiffness.
    pub(super) fn stiffness(&mut self) -> SupportStiffness {
        SupportStiffness {
            forces: self.one_stiffness(FORCES),
            couples: self.one_stiffness(COUPLES),
        }
    }

    fn one_stiffness(&mut self, key: &'static str) -> Option<Stiffness> {
        let node = self.take(key)?;
        self.read(key, node, |d, what, node| d.stiffness(what, node))
    }
}

impl Decoder<'_> {
    fn stiffness(&mut self, what: Arguments, node: SyntaxNode) -> Option<Stiffness> {
        let range = NumberRange::Positive;
        match node.value() {
            Value::Number(_) => self.number(what, range, node).map(Stiffness::Same),
            Value::Tuple(parts) if !parts.is_empty() => {
                let listed: Vec<Option<f64>> = parts
                    .into_iter()
                    .map(|part| self.number(what, range, part))
                    .collect();
                listed
                    .into_iter()
                    .collect::<Option<_>>()
                    .map(Stiffness::Each)
            }
            _ => {
                let expected = "a number greater than 0, or one for each reaction `(…, …)`";
                self.wrong(what, expected, node);
                None
            }
        }
    }
}
