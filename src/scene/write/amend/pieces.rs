//! Stretches of the text between two brackets, and edits that leave the layout around them as it is.

use std::ops::Range;

use super::super::super::split::{Sort, tokens};
use super::super::super::syntax::{SyntaxField, SyntaxNode};
use super::super::INDENT;

/// One of several values between brackets, with its key.
#[derive(Debug, Clone, Copy)]
pub(super) struct SourcePiece<'t> {
    /// Field name or map key as written; empty in a list.
    pub(super) key: &'t str,
    start: usize,
    pub(super) node: SyntaxNode<'t>,
}

impl<'t> SourcePiece<'t> {
    pub(super) fn of_field(field: &SyntaxField<'t>) -> Self {
        Self {
            key: field.key,
            start: field.key_offset,
            node: field.node,
        }
    }

    pub(super) fn of_entry((key, node): &(SyntaxNode<'t>, SyntaxNode<'t>)) -> Self {
        Self {
            key: key.text(),
            start: key.offset,
            node: *node,
        }
    }

    pub(super) fn of_item(node: &SyntaxNode<'t>) -> Self {
        Self {
            key: "",
            start: node.offset,
            node: *node,
        }
    }

    fn end(&self) -> usize {
        span(self.node).end
    }
}

fn span(node: SyntaxNode) -> Range<usize> {
    node.offset..node.offset + node.text().len()
}

/// Replacements of stretches of a text.
pub(super) struct Amendment<'t> {
    text: &'t str,
    edits: Vec<(Range<usize>, String)>,
    newline: &'static str,
}

impl<'t> Amendment<'t> {
    pub(super) fn of(text: &'t str) -> Self {
        Self {
            text,
            edits: Vec::new(),
            newline: if text.contains("\r\n") { "\r\n" } else { "\n" },
        }
    }

    /// The text with all replacements made.
    pub(super) fn applied(mut self) -> String {
        self.edits
            .sort_by_key(|(range, _)| (range.start, range.end));
        let mut amended = String::with_capacity(self.text.len());
        let mut at = 0;
        for (range, new) in self.edits {
            amended.push_str(&self.text[at..range.start.max(at)]);
            amended.push_str(&new);
            at = range.end.max(at);
        }
        amended.push_str(&self.text[at..]);
        amended
    }

    /// Puts another name in front of a value.
    pub(super) fn rename(&mut self, node: SyntaxNode, old: &str, new: &str) {
        if old != new {
            let end = node.offset + node.name().len();
            self.edits.push((node.offset..end, new.to_owned()));
        }
    }

    /// Puts another key in front of a value.
    pub(super) fn rename_key(&mut self, piece: &SourcePiece, key: &str) {
        if piece.key != key {
            let end = piece.start + piece.key.len();
            self.edits.push((piece.start..end, key.to_owned()));
        }
    }

    pub(super) fn replace_value(&mut self, node: SyntaxNode, new: String) {
        let new = self.with_newlines(&new);
        self.edits.push((span(node), new));
    }

    /// Adds rows behind a piece, or in front of the first, on lines of their own where their neighbour has one.
    pub(super) fn insert(
        &mut self,
        node: SyntaxNode,
        pieces: &[SourcePiece],
        behind: Option<usize>,
        rows: Vec<String>,
        depth: usize,
    ) {
        if rows.is_empty() {
            return;
        }
        let rows: Vec<String> = rows.iter().map(|row| self.with_newlines(row)).collect();
        match (behind, pieces.first()) {
            (Some(piece), _) => self.insert_behind(node, pieces, piece, &rows),
            (None, Some(first)) => {
                let separator = match self.indent_of(first.start) {
                    Some(indent) => format!(",{}{indent}", self.newline),
                    None => ", ".to_owned(),
                };
                let new = rows.iter().map(|row| format!("{row}{separator}")).collect();
                self.edits.push((first.start..first.start, new));
            }
            (None, None) => self.insert_into_empty(node, &rows, depth),
        }
    }

    fn insert_behind(
        &mut self,
        node: SyntaxNode,
        pieces: &[SourcePiece],
        piece: usize,
        rows: &[String],
    ) {
        let end = pieces[piece].end();
        let limit = limit(node, pieces, piece);
        let comma = self.comma(end..limit);
        let line_end = self.rest_of_line(comma.unwrap_or(end)..limit);
        match (self.indent_of(pieces[piece].start), line_end) {
            (Some(indent), Some(line_end)) => {
                if comma.is_none() {
                    self.edits.push((end..end, ",".to_owned()));
                }
                let last = rows.len() - 1;
                let line = |(i, row): (usize, &String)| {
                    let comma = if i < last || comma.is_some() { "," } else { "" };
                    format!("{}{indent}{row}{comma}", self.newline)
                };
                let new = rows.iter().enumerate().map(line).collect();
                self.edits.push((line_end..line_end, new));
            }
            _ => {
                let new = rows.iter().map(|row| format!(", {row}")).collect();
                self.edits.push((end..end, new));
            }
        }
    }

    fn insert_into_empty(&mut self, node: SyntaxNode, rows: &[String], depth: usize) {
        let inside = span(node).start + node.text().find(['(', '[', '{']).map_or(0, |at| at + 1);
        let end = span(node).end - 1;
        let (outer, inner) = (INDENT.repeat(depth), INDENT.repeat(depth + 1));
        let newline = self.newline;
        let rows: String = rows
            .iter()
            .map(|row| format!("{newline}{inner}{row},"))
            .collect();
        let is_blank = self.text[inside..end].trim().is_empty();
        match is_blank {
            true => self
                .edits
                .push((inside..end, format!("{rows}{newline}{outer}"))),
            false => self.edits.push((inside..inside, rows)),
        }
    }

    /// Takes pieces out, and their lines where nothing else stands there.
    pub(super) fn remove(&mut self, node: SyntaxNode, pieces: &[SourcePiece], removed: &[usize]) {
        for piece in removed {
            let kept_behind = (*piece..pieces.len()).any(|other| !removed.contains(&other));
            let limit = limit(node, pieces, *piece);
            let range = match self.line_of(&pieces[*piece], limit) {
                Some(line) => line,
                None => self.among_others(pieces, *piece, limit, kept_behind),
            };
            self.edits.push((range, String::new()));
        }
    }

    /// What goes with a piece that stands alone on its lines; a comment stays where it is.
    fn line_of(&self, piece: &SourcePiece, limit: usize) -> Option<Range<usize>> {
        let indent = self.indent_of(piece.start)?.len();
        let past_comma = self.comma(piece.end()..limit).unwrap_or(piece.end());
        let line_end = self.rest_of_line(past_comma..limit)?;
        if !self.is_blank(past_comma..line_end) {
            return Some(piece.start..past_comma + self.blanks(past_comma));
        }
        let newline = self.text[line_end..].find('\n').map_or(0, |at| at + 1);
        Some(piece.start - indent..line_end + newline)
    }

    /// What goes with a piece that others stand beside: up to the next one, or from the last one that stays.
    fn among_others(
        &self,
        pieces: &[SourcePiece],
        piece: usize,
        limit: usize,
        kept_behind: bool,
    ) -> Range<usize> {
        let Range { start, end } = pieces[piece].start..pieces[piece].end();
        let past_comma = self.comma(end..limit).unwrap_or(end);
        if kept_behind && self.is_blank(past_comma..limit) {
            return start..limit;
        }
        let previous = piece.checked_sub(1).map(|previous| pieces[previous].end());
        match previous {
            Some(previous) if !kept_behind && self.text[previous..start].trim() == "," => {
                previous..past_comma
            }
            _ => start..past_comma,
        }
    }

    /// Byte after the comma in a stretch between two pieces.
    fn comma(&self, range: Range<usize>) -> Option<usize> {
        let mut tokens = tokens(&self.text[range.clone()]);
        let comma = tokens.find(|token| token.sort == Sort::Comma)?;
        Some(range.start + comma.end)
    }

    /// Where the line ends, past comments; `None` where another piece stands on it.
    fn rest_of_line(&self, range: Range<usize>) -> Option<usize> {
        for token in tokens(&self.text[range.start..]) {
            let (start, end) = (range.start + token.start, range.start + token.end);
            let piece = &self.text[start..end];
            // A comment over several lines does not end this one.
            let within_comment = piece.starts_with("/*");
            match token.sort {
                Sort::Space if within_comment => {}
                Sort::Space => {
                    if let Some(at) = piece.find('\n') {
                        let line = &self.text[..start + at];
                        return Some(line.strip_suffix('\r').unwrap_or(line).len());
                    }
                }
                Sort::Close => return Some(range.end),
                _ => return None,
            }
        }
        None
    }

    /// How many blanks and tabs follow.
    fn blanks(&self, from: usize) -> usize {
        let rest = &self.text[from..];
        rest.len() - rest.trim_start_matches([' ', '\t']).len()
    }

    fn is_blank(&self, range: Range<usize>) -> bool {
        self.text[range].trim().is_empty()
    }

    /// White space in front of a piece that begins its line; `None` for one that does not.
    fn indent_of(&self, start: usize) -> Option<&'t str> {
        let line = self.text[..start].rfind('\n').map_or(0, |at| at + 1);
        let indent = &self.text[line..start];
        (line > 0 && indent.trim().is_empty()).then_some(indent)
    }

    fn with_newlines(&self, text: &str) -> String {
        text.replace('\n', self.newline)
    }
}

/// Where the next piece starts, or the closing bracket is.
fn limit(node: SyntaxNode, pieces: &[SourcePiece], piece: usize) -> usize {
    let next = pieces.get(piece + 1);
    next.map_or(span(node).end - 1, |next| next.start)
}
