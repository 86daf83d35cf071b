//! Blocks that several parts of a written report begin with.

use crate::document::DocumentBlock;
use crate::wording::Phrase;

/// A heading within the report.
pub(super) fn heading(blocks: &mut Vec<DocumentBlock>, text: impl Into<Phrase>) {
    blocks.push(DocumentBlock::Heading(2, text.into()));
}

/// A heading with a list, where there is something to list.
pub(super) fn listed(
    blocks: &mut Vec<DocumentBlock>,
    title: impl Into<Phrase>,
    items: Vec<Phrase>,
) {
    if !items.is_empty() {
        heading(blocks, title);
        blocks.push(DocumentBlock::List(items));
    }
}
