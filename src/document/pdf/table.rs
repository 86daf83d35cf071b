//! Tables: columns as wide as their cells where there is room, the widest wrapped where there is not.

use super::super::{DocumentTable, runs};
use super::lines::{Style, spaced, width, wrapped};
use super::sheets::{Sheets, TEXT_WIDTH};
use crate::drawing::{Content, Element, ElementRole, Run, Weight};
use crate::wording::Phrase;

const CELL: Style = Style::new(9.5, Weight::Medium);
const HEAD: Style = Style::new(9.5, Weight::Bold);
const GROUP: Style = Style::new(9.0, Weight::Medium).quiet();
/// Between columns, points.
const GAP: f64 = 14.0;

/// Places a table; its head is repeated on every sheet.
pub(super) fn place(sheets: &mut Sheets, table: &DocumentTable) {
    let widths = widths(table);
    sheets.keep_together(3.0 * CELL.height());
    sheets.skip(4.0);
    sheets.within(ElementRole::Table, |sheets| {
        sheets.within(ElementRole::TableHead, |sheets| {
            head(sheets, table, &widths)
        });
        sheets.within(ElementRole::TableBody, |sheets| {
            body(sheets, table, &widths)
        });
    });
    sheets.skip(8.0);
}

fn head(sheets: &mut Sheets, table: &DocumentTable, widths: &[f64]) {
    place_row(sheets, table, &table.head, widths, HEAD);
}

fn body(sheets: &mut Sheets, table: &DocumentTable, widths: &[f64]) {
    for (index, row) in table.rows.iter().enumerate() {
        let groups = table.groups.iter().filter(|(at, _)| *at == index);
        let groups: Vec<&Phrase> = groups.map(|(_, group)| group).collect();
        // A line across the table stays with the row that it heads.
        let lines = lines_of(row, widths) + 2 * groups.len();
        if !sheets.has_room(lines as f64 * CELL.height() + 6.0) {
            sheets.next();
            sheets.aside(|sheets| head(sheets, table, widths));
        }
        for group in groups {
            sheets.skip(3.0);
            place_group(sheets, group);
        }
        place_row(sheets, table, row, widths, CELL);
    }
}

/// A line across the table.
fn place_group(sheets: &mut Sheets, words: &Phrase) {
    let mut cell = Element::new(ElementRole::Cell);
    for line in spaced(wrapped(words, GROUP, TEXT_WIDTH)) {
        sheets.advance(GROUP.height());
        sheets.write_for(&mut cell, line, 0.0, GROUP);
    }
    let mut row = Element::new(ElementRole::Row);
    row.contents = vec![Content::Element(cell)];
    sheets.add(row);
}

fn lines_of(row: &[Phrase], widths: &[f64]) -> usize {
    let cells = row.iter().zip(widths);
    let lines = cells.map(|(cell, width)| wrapped(cell, CELL, *width).len());
    lines.max().unwrap_or(1)
}

fn place_row(
    sheets: &mut Sheets,
    table: &DocumentTable,
    row: &[Phrase],
    widths: &[f64],
    style: Style,
) {
    let cells: Vec<_> = row
        .iter()
        .zip(widths)
        .map(|(cell, width)| measured(wrapped(cell, style, *width), style))
        .collect();
    let lines = cells.iter().map(Vec::len).max().unwrap_or(1);
    sheets.keep_together(lines as f64 * style.height());
    let role = if style == HEAD {
        ElementRole::HeadCell
    } else {
        ElementRole::Cell
    };
    let mut elements = vec![Element::new(role); cells.len()];
    for line in 0..lines {
        sheets.advance(style.height());
        let mut left = 0.0;
        for (column, (cell, wide)) in cells.iter().zip(widths).enumerate() {
            if let Some((runs, wide_as_written)) = cell.get(line) {
                let right = table.values.get(column).copied().unwrap_or(false);
                let inset = if right { wide - wide_as_written } else { 0.0 };
                sheets.write_for(&mut elements[column], runs.clone(), left + inset, style);
            }
            left += wide + GAP;
        }
    }
    let mut row = Element::new(ElementRole::Row);
    row.contents = elements.into_iter().map(Content::Element).collect();
    sheets.add(row);
    let whole = widths.iter().sum::<f64>() + GAP * (widths.len().max(1) - 1) as f64;
    sheets.thin_rule(whole);
    sheets.skip(1.5);
}

/// The lines as they are written, with the width of what is seen of them.
fn measured(lines: Vec<Vec<Run>>, style: Style) -> Vec<(Vec<Run>, f64)> {
    let widths: Vec<f64> = lines.iter().map(|line| width(line, style)).collect();
    spaced(lines).zip(widths).collect()
}

/// Widths of the columns: natural ones, and equal shares of the rest for those that are wider than their share.
fn widths(table: &DocumentTable) -> Vec<f64> {
    let natural: Vec<f64> = (0..table.head.len())
        .map(|column| {
            let cells = table.rows.iter().filter_map(|row| row.get(column));
            let cells = cells.map(|cell| width(&runs(cell), CELL));
            let head = width(&runs(&table.head[column]), HEAD);
            cells.fold(head, f64::max) + 0.01
        })
        .collect();
    let mut room = TEXT_WIDTH - GAP * (natural.len().max(1) - 1) as f64;
    let mut order: Vec<usize> = (0..natural.len()).collect();
    order.sort_by(|a, b| natural[*a].total_cmp(&natural[*b]));
    let mut widths = natural.clone();
    for (index, column) in order.iter().enumerate() {
        let share = room / (order.len() - index) as f64;
        widths[*column] = natural[*column].min(share);
        room -= widths[*column];
    }
    widths
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_fit_the_sheet_and_small_ones_keep_their_width() {
        let table = DocumentTable {
            head: vec!["a".into(), "b".into()],
            rows: vec![vec!["1".into(), "word ".repeat(60).into()]],
            ..DocumentTable::default()
        };
        let found = widths(&table);
        assert!(found.iter().sum::<f64>() + GAP <= TEXT_WIDTH + 1e-9);
        assert!(found[0] < 12.0 && found[1] > 400.0);
    }
}
