//! A table of points below the figure, for scenes with more of them than labels have room.

use super::pens::{Letters, SMALL};
use super::points::{self, KnownPoint};
use super::sketch::{PointTable, Sketch};
use super::stage::Stage;
use super::{BORDER, labels};
use crate::document::wrapped;
use crate::drawing::{Item, PathOutline, PathShape, Polyline, Run, Text, Weight, width};
use crate::wording::{self, Phrase, phrase};

/// From one line to the next, points.
const LEADING: f64 = 9.6;
/// Between columns, and between halves of the table that stand side by side.
const GUTTER: f64 = 8.0;
const APART: f64 = 18.0;
/// Above the table.
const ABOVE: f64 = 7.0;
/// From the line under the heads to the base line above it.
const UNDER: f64 = 2.8;
/// Letters of the names.
const BOLD: Letters = Letters {
    weight: Weight::Bold,
    ..SMALL
};

/// Adds a row for each point.
pub(super) fn add(stage: &Stage, points: &[KnownPoint], sketch: &mut Sketch) {
    let unit = stage.study.model().units.length.symbol();
    let axes = ["x", "y", "z"].into_iter();
    let axes = axes.take(stage.study.model().space.axes());
    let head = |axis| {
        let mut runs = Run::italic(axis);
        runs.extend(Run::plain(format!("/{unit}")));
        runs
    };
    let table = sketch.table.get_or_insert_default();
    table.heads = std::iter::once(Vec::new()).chain(axes.map(head)).collect();
    for point in points {
        let name = Run::plain(point.name.clone().unwrap_or_default());
        let numbers = points::coordinates(stage, &point.at).into_iter();
        let cells = numbers.map(|number| stage.runs(&phrase!(number)));
        let row: Vec<Vec<Run>> = std::iter::once(name).chain(cells).collect();
        if !table.rows.contains(&row) {
            table.rows.push(row);
        }
    }
}

/// Notes which way supports of space lie whose axis or normal is along none of the scene's axes: that can be seen but not read.
pub(super) fn note_slants(stage: &Stage, sketch: &mut Sketch) {
    let model = stage.study.model();
    let slanted = model.supports.iter().filter(|support| {
        let ways = support.orientation.iter().chain(&support.normal);
        let mut slants = ways.filter_map(|way| wording::slant(model, way));
        support.ground.is_none() && slants.next().is_some()
    });
    let mut ways: Vec<(Phrase, Vec<Phrase>)> = Vec::new();
    for support in slanted {
        let (way, name) = (
            wording::orientation(model, support),
            Phrase::name(&support.name),
        );
        match ways.iter_mut().find(|(other, _)| *other == way) {
            Some((_, names)) => names.push(name),
            None => ways.push((way, vec![name])),
        }
    }
    let note = |(way, names): &(Phrase, Vec<Phrase>)| {
        phrase!(wording::listed(names), ": ", way).with_digits(stage.settings.digits)
    };
    let notes: Vec<Phrase> = ways.iter().map(note).collect();
    if !notes.is_empty() {
        sketch.table.get_or_insert_default().notes = notes;
    }
}

impl PointTable {
    /// Its items below a depth on a page of a width, and the depth at which it ends.
    pub(super) fn items(&self, stage: &Stage, page: f64, below: f64) -> (Vec<Item>, f64) {
        let mut writer = TableWriter {
            stage,
            items: Vec::new(),
        };
        let mut depth = below + ABOVE;
        if !self.rows.is_empty() {
            depth = self.write_rows(&mut writer, page, depth);
        }
        if !self.notes.is_empty() {
            depth = self.write_notes(&mut writer, page, depth);
        }
        (writer.items, depth)
    }

    fn write_rows(&self, writer: &mut TableWriter, page: f64, top: f64) -> f64 {
        let widths = self.widths();
        let wide: f64 = widths.iter().sum::<f64>() + GUTTER * (widths.len() - 1) as f64;
        let halves = abreast(page, wide).min(self.rows.len());
        let long = self.rows.len().div_ceil(halves);
        for (half, rows) in self.rows.chunks(long).enumerate() {
            let left = BORDER + half as f64 * (wide + APART);
            let mut base = top + LEADING;
            writer.row(&self.heads, &widths, left, base);
            writer.rule([left, base + UNDER], wide);
            base += UNDER;
            for row in rows {
                base += LEADING;
                writer.row(row, &widths, left, base);
            }
        }
        top + LEADING * (long as f64 + 1.0) + 2.0 * UNDER
    }

    fn write_notes(&self, writer: &mut TableWriter, page: f64, top: f64) -> f64 {
        let room = page - 2.0 * BORDER;
        let in_lines = |note| wrapped(note, SMALL.size, SMALL.weight, room);
        let lines: Vec<Vec<Run>> = self.notes.iter().flat_map(in_lines).collect();
        let widths = lines.iter().map(|line| size(line, SMALL));
        let wide = widths.fold(0.0, f64::max);
        let halves = abreast(page, wide);
        let long = lines.len().div_ceil(halves);
        for (index, line) in lines.iter().enumerate() {
            let left = BORDER + (index / long) as f64 * (wide + APART);
            let base = top + LEADING * ((index % long) as f64 + 1.0);
            writer.text(line, SMALL, [left, base]);
        }
        top + LEADING * long as f64 + UNDER
    }

    /// Widths of the columns.
    fn widths(&self) -> Vec<f64> {
        let lines = || std::iter::once(&self.heads).chain(&self.rows);
        let column = |k: usize| {
            let widths = lines().map(|cells| size(&cells[k], letters(k)));
            widths.fold(0.0, f64::max)
        };
        (0..self.heads.len()).map(column).collect()
    }
}

/// How many columns of a width a page has room for.
fn abreast(page: f64, wide: f64) -> usize {
    (((page - 2.0 * BORDER + APART) / (wide + APART)).floor() as usize).max(1)
}

fn letters(column: usize) -> Letters {
    if column == 0 { BOLD } else { SMALL }
}

fn size(runs: &[Run], letters: Letters) -> f64 {
    width(runs, letters.size, letters.weight)
}

struct TableWriter<'a> {
    stage: &'a Stage<'a>,
    items: Vec<Item>,
}

impl TableWriter<'_> {
    /// The name on the left, numbers on the right of their columns.
    fn row(&mut self, cells: &[Vec<Run>], widths: &[f64], left: f64, base: f64) {
        let mut x = left;
        for (k, (cell, wide)) in cells.iter().zip(widths).enumerate() {
            let letters = letters(k);
            let free = if k == 0 {
                0.0
            } else {
                wide - size(cell, letters)
            };
            if !cell.is_empty() {
                self.text(cell, letters, [x + free, base]);
            }
            x += wide + GUTTER;
        }
    }

    fn text(&mut self, runs: &[Run], letters: Letters, at: [f64; 2]) {
        self.items.push(Item::Text(Text {
            role: "table",
            at: at.map(labels::round),
            runs: runs.to_vec(),
            size: letters.size,
            weight: letters.weight,
            colour: self.stage.pens.ink,
        }));
    }

    fn rule(&mut self, [left, base]: [f64; 2], wide: f64) {
        let ends = [[left, base], [left + wide, base]];
        self.items.push(Item::Shape(PathShape {
            role: "table",
            outline: PathOutline::Lines(vec![Polyline::open(
                ends.map(|end| end.map(labels::round)),
            )]),
            stroke: Some(self.stage.pens.dimension),
            fill: None,
        }));
    }
}
