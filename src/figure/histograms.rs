//! Histograms of a sweep: its margins and every reaction, each in a field of its own.
//!
//! Nothing rests on colour: bars have edges, the value as written is a dashed line, ends and the line are labelled.

use super::pens::{Letters, NAME, Pens, SMALL};
use super::settings::FigureColours;
use crate::document;
use crate::drawing::{
    Drawing, Item, POINTS_PER_MM, PathOutline, PathShape, Polyline, Run, Stroke, Text, width,
};
use crate::statics::{Model, ReactionKind};
use crate::sweep::{QuantileSketch, Sweep, SweepTally};
use crate::wording::{self, Phrase, Quantity, phrase};

/// Bars of a histogram.
const BARS: usize = 30;
/// Size of a field with its title and labels, and of the bars within, points.
const FIELD: [f64; 2] = [150.0, 104.0];
const PLOT: [f64; 2] = [132.0, 62.0];
/// From the upper left corner of a field to that of its bars.
const INSET: [f64; 2] = [9.0, 20.0];

/// What a field shows.
struct HistogramField {
    title: Phrase,
    /// Ends of what was found.
    ends: [f64; 2],
    /// Numbers of the sketch are counted from here.
    as_written: f64,
    /// What one of its unit is in SI.
    unit: f64,
    symbol: String,
}

/// The histograms of a sweep as a figure of a width in mm.
pub fn histograms(
    sweep: &Sweep,
    tally: &SweepTally,
    width_mm: f64,
    look: FigureColours,
) -> Drawing {
    let fields = fields(sweep, tally);
    let page = width_mm * POINTS_PER_MM;
    let across = ((page / FIELD[0]).floor() as usize).clamp(1, fields.len().max(1));
    let scale = page / (FIELD[0] * across as f64);
    let rows = fields.len().div_ceil(across);
    let title = match sweep.study().model().title.trim() {
        "" => sweep.study().name().to_owned(),
        title => title.to_owned(),
    };
    let mut drawing = Drawing {
        width: page,
        height: FIELD[1] * rows as f64 * scale,
        description: format!(
            "Histograms of a sweep of {} placements: the margin and every reaction.",
            tally.placements
        ),
        title,
        items: Vec::new(),
    };
    let pens = Pens::new(look);
    for (index, (field, sketch)) in fields.iter().enumerate() {
        let at = [index % across, index / across];
        let at = [0, 1].map(|axis| at[axis] as f64 * FIELD[axis] * scale);
        drawing.place(&field.drawn(sketch, &pens), at, scale);
    }
    drawing
}

/// The margin, then the reactions of each case that is carried somewhere.
fn fields<'a>(sweep: &Sweep, tally: &'a SweepTally) -> Vec<(HistogramField, &'a QuantileSketch)> {
    let model = sweep.study().model();
    let mut fields = Vec::new();
    let as_written = sweep.margin_as_written();
    let highest = tally.margins.cells().last().map_or(0.0, |cell| cell.high);
    if let Some(worst) = tally.worst {
        let field = HistogramField {
            title: "margin".into(),
            ends: [worst.value, (as_written + highest).max(worst.value)],
            as_written,
            unit: model.units.length.in_metres(),
            symbol: model.units.length.symbol().to_owned(),
        };
        fields.push((field, &tally.margins));
    }
    let cases = sweep.cases().into_iter().zip(&tally.cases);
    for ((case, tally), as_written) in cases.zip(sweep.as_written()) {
        let acting = &model.cases[case];
        let reactions = model.reactions.iter().zip(&tally.reactions);
        for ((reaction, tally), as_written) in reactions.zip(as_written) {
            let (Some(least), Some(greatest)) = (tally.least, tally.greatest) else {
                continue;
            };
            let (unit, symbol) = unit_of(model, reaction.kind);
            let field = HistogramField {
                title: match acting.is_unnamed() {
                    true => (&reaction.symbol).into(),
                    false => phrase!(&reaction.symbol, ", ", Phrase::name(&acting.name)),
                },
                ends: [least.value, greatest.value],
                as_written: *as_written,
                unit,
                symbol,
            };
            fields.push((field, &tally.deviations));
        }
    }
    fields
}

fn unit_of(model: &Model, kind: ReactionKind) -> (f64, String) {
    let units = &model.units;
    match kind {
        ReactionKind::Force => (units.force.in_newtons(), units.force.symbol().to_owned()),
        ReactionKind::Couple => (units.moment_in_newton_metres(), units.moment_symbol()),
    }
}

impl HistogramField {
    fn drawn(&self, sketch: &QuantileSketch, pens: &Pens) -> Drawing {
        let mut drawing = Drawing {
            width: FIELD[0],
            height: FIELD[1],
            ..Drawing::default()
        };
        let [low, high] = self.ends;
        let shares = sketch.shares([low - self.as_written, high - self.as_written], BARS);
        let tallest = shares.iter().copied().fold(f64::MIN_POSITIVE, f64::max);
        let floor = INSET[1] + PLOT[1];
        let step = PLOT[0] / BARS as f64;
        for (index, share) in shares.iter().enumerate().filter(|(_, share)| **share > 0.0) {
            let (left, top) = (
                INSET[0] + step * index as f64,
                floor - PLOT[1] * share / tallest,
            );
            let right = left + step;
            let corners = [[left, floor], [left, top], [right, top], [right, floor]];
            drawing.items.push(Item::Shape(PathShape {
                role: "bar",
                outline: PathOutline::Lines(vec![Polyline::closed(corners)]),
                stroke: Some(pens.hatch),
                fill: Some(pens.body),
            }));
        }
        let right = INSET[0] + PLOT[0];
        line(
            &mut drawing,
            "axis",
            pens.edge,
            [[INSET[0], floor], [right, floor]],
        );
        let written = self.as_written;
        if (low..=high).contains(&written) && high > low {
            let across = INSET[0] + PLOT[0] * (written - low) / (high - low);
            let top = INSET[1] - 3.0;
            line(
                &mut drawing,
                "as-written",
                pens.axis,
                [[across, top], [across, floor]],
            );
        }
        let said = phrase!(self.title, percent_of(tallest));
        text(
            &mut drawing,
            "name",
            NAME,
            pens,
            &document::runs(&said),
            [INSET[0], 11.0],
            0.0,
        );
        let value = |value: f64, with_unit: bool| {
            let unit = if with_unit { self.symbol.as_str() } else { "" };
            let number = wording::number(value / self.unit);
            document::runs(&Phrase::from(Quantity::new(number, unit)))
        };
        let below = floor + 9.0;
        text(
            &mut drawing,
            "value",
            SMALL,
            pens,
            &value(low, false),
            [INSET[0], below],
            0.0,
        );
        if high > low {
            text(
                &mut drawing,
                "value",
                SMALL,
                pens,
                &value(high, true),
                [right, below],
                1.0,
            );
        }
        let said = phrase!(
            "as written ",
            Quantity::new(wording::number(written / self.unit), self.symbol.as_str())
        );
        let middle = INSET[0] + PLOT[0] / 2.0;
        text(
            &mut drawing,
            "value",
            SMALL,
            pens,
            &document::runs(&said),
            [middle, below + 9.0],
            0.5,
        );
        drawing
    }
}

/// How much of all the tallest bar is.
fn percent_of(tallest: f64) -> Phrase {
    let percent = Quantity::new(wording::rounded(100.0 * tallest, 2), "%");
    phrase!("   tallest bar ", percent)
}

fn line(drawing: &mut Drawing, role: &'static str, stroke: Stroke, ends: [[f64; 2]; 2]) {
    drawing.items.push(Item::Shape(PathShape {
        role,
        outline: PathOutline::Lines(vec![Polyline::open(ends)]),
        stroke: Some(stroke),
        fill: None,
    }));
}

/// Text whose part `anchor` from its left end is at a point.
fn text(
    drawing: &mut Drawing,
    role: &'static str,
    letters: Letters,
    pens: &Pens,
    runs: &[Run],
    [x, y]: [f64; 2],
    anchor: f64,
) {
    let wide = width(runs, letters.size, letters.weight);
    drawing.items.push(Item::Text(Text {
        role,
        at: [x - anchor * wide, y],
        runs: runs.to_vec(),
        size: letters.size,
        weight: letters.weight,
        colour: pens.ink,
    }));
}
