//! Combinations of load cases.

use std::fmt::Arguments;

use super::super::CaseCombination;
use super::super::syntax::{SyntaxNode, Value};
use super::Decoder;
use super::fields::Fields;
use super::values::NumberRange;
use crate::scene::source_offsets::ItemPlaces;

/// Cases with their factors.
type Factors = Vec<(String, f64)>;

impl Decoder<'_> {
    pub(super) fn combinations(
        &mut self,
        node: SyntaxNode,
    ) -> (Vec<CaseCombination>, Vec<ItemPlaces>) {
        let nodes = self.list("combinations", node);
        let each = nodes.into_iter();
        each.filter_map(|node| self.combination(node)).unzip()
    }

    fn combination(&mut self, node: SyntaxNode) -> Option<(CaseCombination, ItemPlaces)> {
        let mut fields = Fields::anonymous(self, "a combination", node)?;
        let given = fields.name();
        let name = given.as_ref().map(|given| given.name.clone());
        fields.decoder.places.case_names.extend(given);
        let permanent = fields.number_or("permanent", NumberRange::Any, 1.0);
        let factors = fields
            .require("factors", "a map of cases `{\"wind\": 1.5}`")
            .and_then(|node| fields.read("factors", node, |d, what, node| d.factors(what, node)));
        let places = fields.finish()?;
        let (name, factors) = name.zip(factors)?;
        let combination = CaseCombination {
            name,
            permanent,
            factors,
        };
        Some((combination, places))
    }

    fn factors(&mut self, what: Arguments, node: SyntaxNode) -> Option<Factors> {
        let Value::Map(entries) = node.value() else {
            self.wrong(
                what,
                "a map of cases `{\"wind\": 1.5, \"snow\": 0.75}`",
                node,
            );
            return None;
        };
        let entry = |(key, value): (SyntaxNode, SyntaxNode)| {
            let name = self.name(format_args!("the name of a case"), key)?;
            let factor = self.number(what, NumberRange::Any, value)?;
            Some((name, factor))
        };
        let read: Vec<Option<(String, f64)>> = entries.into_iter().map(entry).collect();
        read.into_iter().collect()
    }
}
