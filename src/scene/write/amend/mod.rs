//! Changing only what differs: the text of a scene with the values of another scene put in their places.
//!
//! Both scenes are laid out as trees of values, and the text is walked beside them. Where the trees agree the text stays as
//! it is, with its comments, its order, its line breaks and the digits of its numbers.

mod align;
mod pieces;

use super::super::Scene;
use super::super::read::read_unwarned;
use super::super::syntax::{self, SyntaxNode};
use super::value::WrittenValue;
use super::{inline, laid_out, to_ron, written};
use align::aligned;
use pieces::{Amendment, SourcePiece};

/// The text of a scene with only that changed in which the scene differs from it; `None` where the text is not a scene, or
/// where the result would not read as the scene asked for.
pub(super) fn amended(text: &str, scene: &Scene) -> Option<String> {
    let body = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mark = &text[..text.len() - body.len()];
    let before = read_unwarned("", body).ok()?;
    let mut amendment = Amendment::of(body);
    let document = SyntaxNode::document(body).ok()?;
    amend(
        &mut amendment,
        document,
        &written(&before),
        &written(scene),
        0,
    );
    let amended = amendment.applied();
    let read = read_unwarned("", &amended).ok()?;
    (to_ron(&read) == to_ron(scene)).then(|| format!("{mark}{amended}"))
}

/// Amends the text of one value, which lies within as many brackets as `depth` says.
fn amend(
    text: &mut Amendment,
    node: SyntaxNode,
    before: &WrittenValue,
    after: &WrittenValue,
    depth: usize,
) {
    if inline(before) == inline(after) {
        return;
    }
    let opened = match (before, after, node.value()) {
        (
            WrittenValue::Item(old, fields),
            WrittenValue::Item(new, others),
            syntax::Value::Fields(found),
        ) => {
            text.rename(node, old, new);
            let pieces = found.iter().map(SourcePiece::of_field).collect();
            let of_kind = old == new;
            Some((
                pieces,
                fields_of(fields),
                fields_of(others),
                Matching::Keys { of_kind },
            ))
        }
        (WrittenValue::Map(old), WrittenValue::Map(new), syntax::Value::Map(found)) => {
            let pieces = found.iter().map(SourcePiece::of_entry).collect();
            Some((pieces, entries_of(old), entries_of(new), Matching::Order))
        }
        (WrittenValue::List(old), WrittenValue::List(new), syntax::Value::List(found)) => {
            let pieces = found.iter().map(SourcePiece::of_item).collect();
            Some((pieces, items_of(old), items_of(new), Matching::Order))
        }
        (WrittenValue::Tuple(old), WrittenValue::Tuple(new), syntax::Value::Tuple(found))
            if old.len() == new.len() && old.len() == found.len() =>
        {
            let parts = found.into_iter().zip(old.iter().zip(new));
            return parts.for_each(|(node, (old, new))| amend(text, node, old, new, depth + 1));
        }
        (
            WrittenValue::Wrapped(old, inner),
            WrittenValue::Wrapped(new, other),
            syntax::Value::Tuple(found),
        ) if found.len() == 1 => {
            text.rename(node, old, new);
            return amend(text, found[0], inner, other, depth + 1);
        }
        _ => None,
    };
    let several = opened.and_then(|(pieces, old, new, matching)| match matching {
        Matching::Keys { of_kind } => Some(AmendedList::by_key(pieces, &old, new, of_kind)),
        Matching::Order => AmendedList::by_place(pieces, &old, new),
    });
    match several {
        Some(several) => several.amend(text, node, depth),
        None => text.replace_value(node, laid_out(after, depth)),
    }
}

/// How values between two brackets are known again.
enum Matching {
    /// Fields by their keys; what they are fields of may become another kind, which has others.
    Keys { of_kind: bool },
    /// Items and entries, whose order matters.
    Order,
}

/// A value in a list, a field or an entry of a map.
#[derive(Clone)]
struct AmendedRow<'v> {
    /// Key in front of the value; empty in a list.
    key: String,
    value: &'v WrittenValue,
}

impl AmendedRow<'_> {
    fn text(&self, depth: usize) -> String {
        let value = laid_out(self.value, depth);
        match self.key.as_str() {
            "" => value,
            key => format!("{key}: {value}"),
        }
    }

    /// What makes it the same to a reader, whatever else changes: its key, or the name of the item.
    fn identity(&self) -> Option<String> {
        if !self.key.is_empty() {
            return Some(self.key.clone());
        }
        let WrittenValue::Item(_, fields) = self.value else {
            return None;
        };
        let name = fields.iter().find(|(key, _)| *key == "name")?;
        Some(inline(&name.1))
    }
}

fn fields_of<'v>(fields: &'v [(&'static str, WrittenValue)]) -> Vec<AmendedRow<'v>> {
    fields
        .iter()
        .map(|(key, value)| AmendedRow {
            key: (*key).to_owned(),
            value,
        })
        .collect()
}

fn entries_of(entries: &[(String, WrittenValue)]) -> Vec<AmendedRow<'_>> {
    entries
        .iter()
        .map(|(key, value)| AmendedRow {
            key: inline(&key.as_str().into()),
            value,
        })
        .collect()
}

fn items_of(items: &[WrittenValue]) -> Vec<AmendedRow<'_>> {
    let row = |value| AmendedRow {
        key: String::new(),
        value,
    };
    items.iter().map(row).collect()
}

/// The values between two brackets: the pieces of the text, and what is to become of them.
struct AmendedList<'t, 'v> {
    pieces: Vec<SourcePiece<'t>>,
    rows: Vec<AmendedRow<'v>>,
    /// For each row the piece that says it now, with its present value; a piece without one writes out a default.
    said: Vec<Option<(usize, Option<AmendedRow<'v>>)>>,
    removed: Vec<usize>,
}

impl<'t, 'v> AmendedList<'t, 'v> {
    /// Fields, in whatever order they are written; a field that writes out a default stays as long as the kind does.
    fn by_key(
        pieces: Vec<SourcePiece<'t>>,
        before: &[AmendedRow<'v>],
        rows: Vec<AmendedRow<'v>>,
        of_kind: bool,
    ) -> Self {
        let said = rows.iter().map(|row| {
            let piece = pieces.iter().position(|piece| piece.key == row.key)?;
            let present = before.iter().find(|present| present.key == row.key);
            Some((piece, present.cloned()))
        });
        let said = said.collect();
        let is_gone = |piece: &SourcePiece| {
            let has = |rows: &[AmendedRow]| rows.iter().any(|row| row.key == piece.key);
            !has(&rows) && (has(before) || !of_kind)
        };
        let removed = (0..pieces.len()).filter(|i| is_gone(&pieces[*i])).collect();
        Self {
            pieces,
            said,
            removed,
            rows,
        }
    }

    /// Items and entries, whose order matters; `None` where the text does not have as many.
    fn by_place(
        pieces: Vec<SourcePiece<'t>>,
        before: &[AmendedRow<'v>],
        rows: Vec<AmendedRow<'v>>,
    ) -> Option<Self> {
        if pieces.len() != before.len() {
            return None;
        }
        let texts = |rows: &[AmendedRow]| {
            rows.iter()
                .map(|row| (row.text(2), row.identity()))
                .collect()
        };
        let (old, new): (Vec<_>, Vec<_>) = (texts(before), texts(&rows));
        type Text = (String, Option<String>);
        let same_text = |a: &Text, b: &Text| a.0 == b.0;
        let same_name = |a: &Text, b: &Text| a.1.is_some() && a.1 == b.1;
        let pairs = aligned(&old, &new, &[&same_text, &same_name]);
        let mut said = vec![None; rows.len()];
        for (i, j) in &pairs {
            said[*j] = Some((*i, Some(before[*i].clone())));
        }
        let is_gone = |i: &usize| pairs.iter().all(|(old, _)| old != i);
        Some(Self {
            removed: (0..pieces.len()).filter(is_gone).collect(),
            pieces,
            said,
            rows,
        })
    }

    fn amend(self, text: &mut Amendment, node: SyntaxNode, depth: usize) {
        let mut behind = None;
        let mut added: Vec<String> = Vec::new();
        for (row, said) in self.rows.iter().zip(&self.said) {
            let Some((piece, present)) = said else {
                added.push(row.text(depth + 1));
                continue;
            };
            text.insert(
                node,
                &self.pieces,
                behind,
                std::mem::take(&mut added),
                depth,
            );
            behind = Some(*piece);
            let piece = &self.pieces[*piece];
            text.rename_key(piece, &row.key);
            match present {
                Some(present) => amend(text, piece.node, present.value, row.value, depth + 1),
                None => text.replace_value(piece.node, laid_out(row.value, depth + 1)),
            }
        }
        text.insert(node, &self.pieces, behind, added, depth);
        text.remove(node, &self.pieces, &self.removed);
    }
}

#[cfg(test)]
mod tests;
