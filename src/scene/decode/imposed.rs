//! What is imposed besides loads, each kind with its fields.

use super::super::Imposed;
use super::fields::{Fields, Kind, Spaces};
use super::values::NumberRange;
use super::{Decoder, Kinds};
use crate::scene::source_offsets::ItemPlaces;
use crate::scene::syntax::SyntaxNode;

/// Every kind.
pub(crate) const IMPOSED: Kinds<Imposed> = Kinds {
    what: "imposed action",
    list: "imposed",
    other_words: &[],
    all: &[
        imposed("Settlement", |f| Imposed::Settlement {
            support: f.support(),
            moves_by: f.vector("moves_by"),
        }),
        imposed("Prestress", |f| Imposed::Prestress {
            support: f.support(),
            force: f.number("force", NumberRange::Any),
        }),
        imposed("Warming", |f| Imposed::Warming {
            by: f.number("by", NumberRange::Any),
            expansion: f.number("expansion", NumberRange::Positive),
        }),
    ],
};

const fn imposed(name: &'static str, read: fn(&mut Fields) -> Imposed) -> Kind<Imposed> {
    Kind {
        name,
        spaces: Spaces::Both,
        read,
    }
}

impl Fields<'_, '_, '_> {
    /// The name of the support that something is imposed on.
    fn support(&mut self) -> String {
        let node = self.require("support", "the name of a support \"…\"");
        let name =
            node.and_then(|node| self.read("support", node, |d, what, node| d.name(what, node)));
        name.unwrap_or_default()
    }

    /// The list of what is imposed, where there is one.
    pub(super) fn imposed(&mut self) -> (Vec<Imposed>, Vec<ItemPlaces>) {
        let node: Option<SyntaxNode> = self.take("imposed");
        node.map_or_else(Default::default, |node| self.decoder.imposed(node))
    }
}

impl Decoder<'_> {
    fn imposed(&mut self, node: SyntaxNode) -> (Vec<Imposed>, Vec<ItemPlaces>) {
        let nodes = self.list("imposed", node);
        self.items(&IMPOSED, nodes)
    }
}
