//! Blocks that several parts of a written report begin with.

use crate::document::Block;
use crate::wording::Phrase;

/// A heading within the report.
pub(super) fn heading(blocks: &mut Vec<Block>, text: impl Into<Phrase>) {
    blocks.push(Block::Heading(2, text.into()));
}

/// A heading with a list, where there is something to list.
pub(super) fn listed(blocks: &mut Vec<Block>, title: impl Into<Phrase>, items: Vec<Phrase>) {
    if !items.is_empty() {
        heading(blocks, title);
        blocks.push(Block::List(items));
    }
}
