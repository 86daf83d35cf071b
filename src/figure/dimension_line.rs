//! The parts of a dimension: extension lines, heads at both ends, and the value beside its own line.

use nalgebra::Point3;

use super::BORDER;
use super::arrows::{Arrow, Head};
use super::hidden::clip;
use super::labels;
use super::occupied::{grown, meets, overlap};
use super::pens::SMALL;
use super::sketch::{Sketch, SketchLabel, Spot, length, step, turned, unit, way};
use super::stage::Stage;
use crate::drawing::{PathOutline, Polyline};
use crate::wording::{Phrase, Quantity};

/// How far an extension line reaches beyond the dimension line, and towards what it comes from where nothing is there.
const TICK: [f64; 2] = [5.0, 2.0];
/// Gap between an extension line and what it comes from.
const GAP: f64 = 2.5;
/// Half the width of the way in which an extension line looks for that.
const COLUMN: f64 = 3.0;
/// Least distance between two extension lines.
pub(super) const CLOSEST: f64 = 8.0;
/// Most distances along one axis.
const MOST: usize = 6;
/// Between a dimension line and its value.
const BESIDE: f64 = 2.0;

/// A line from what is measured to the dimension line.
pub(super) struct ExtensionLine {
    /// The point that is measured and the foot at which the line begins; where it is not known, the line begins at the
    /// first thing on its way.
    pub from: Option<[Spot; 2]>,
    pub end: Spot,
}

/// Draws extension lines, which run in a direction of the page.
pub(super) fn extensions(stage: &Stage, all: &[ExtensionLine], out: Spot, sketch: &mut Sketch) {
    let mut lines = Vec::new();
    let mut aside = Vec::new();
    for ExtensionLine { from, end } in all {
        let beyond = step(*end, out, TICK[1]);
        let start = match from {
            None => {
                let back = way_back(sketch, *end, out);
                step(
                    *end,
                    out,
                    -back.map_or(TICK[0], |clear| (clear - GAP).max(TICK[0])),
                )
            }
            Some([point, foot]) if length(way(*point, *foot)) > GAP => {
                aside.push(Polyline::open([
                    step(*point, unit(way(*point, *foot)), GAP),
                    *foot,
                ]));
                *foot
            }
            Some([_, foot]) => {
                let gap = GAP.min(length(way(*foot, *end)));
                step(*foot, unit(way(*foot, *end)), gap)
            }
        };
        lines.push(Polyline::open([start, beyond]));
    }
    sketch.lines("dimension", lines, stage.pens.dimension);
    // Two dimensions of a point may go the same way aside.
    aside.retain(|line| {
        let is_drawn = |other: &Polyline| other.points == line.points;
        let mut shapes = sketch
            .shapes
            .iter()
            .filter(|shape| shape.role == "dimension");
        !shapes.any(|shape| match &shape.outline {
            PathOutline::Lines(lines) => lines.iter().any(is_drawn),
            PathOutline::Circle { .. } => false,
        })
    });
    sketch.lines("dimension", aside, stage.pens.aside());
}

/// How far the way back from a spot is clear, up to the first thing that is no dimension; `None` if nothing is there.
fn way_back(sketch: &Sketch, spot: Spot, out: Spot) -> Option<f64> {
    let ahead = |at: Spot| {
        let way = way(at, spot);
        way[0] * out[0] + way[1] * out[1]
    };
    let beside = |at: Spot| {
        let way = way(at, spot);
        way[0] * out[1] - way[1] * out[0]
    };
    let met = |ends: [Spot; 2]| {
        let mut part = [0.0, 1.0];
        let [a, b] = ends.map(beside);
        clip(&mut part, COLUMN - a, COLUMN - b)?;
        clip(&mut part, COLUMN + a, COLUMN + b)?;
        let [from, to] = ends.map(ahead);
        let [one, other] = part.map(|t| from + (to - from) * t);
        Some(one.min(other))
    };
    let shapes = sketch.shapes.iter();
    let distances = shapes
        .filter(|shape| shape.role != "dimension")
        .flat_map(|shape| match &shape.outline {
            PathOutline::Circle { centre, radius } => {
                let meets = beside(*centre).abs() < COLUMN + radius;
                Vec::from_iter(meets.then(|| ahead(*centre) - radius))
            }
            PathOutline::Lines(lines) => lines.iter().flat_map(pieces).filter_map(met).collect(),
        });
    distances.min_by(f64::total_cmp)
}

/// The straight pieces of a line.
fn pieces(line: &Polyline) -> impl Iterator<Item = [Spot; 2]> {
    let back = line.points.last().zip(line.points.first());
    let back = back
        .filter(|_| line.closed)
        .map(|(last, first)| [*last, *first]);
    let pairs = line.points.windows(2).map(|pair| [pair[0], pair[1]]);
    pairs.chain(back)
}

/// Whether two coordinates are one.
pub(super) fn is_same(stage: &Stage, a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * (stage.bounds[1] - stage.bounds[0]).norm()
}

/// Different coordinates, in order, those too close to the one before left out; the first and last stay.
pub(super) fn ticks(
    stage: &Stage,
    points: &[Point3<f64>],
    axis: usize,
    spot: impl Fn(f64) -> Spot,
) -> Vec<f64> {
    let mut values: Vec<f64> = points.iter().map(|point| point[axis]).collect();
    values.sort_unstable_by(f64::total_cmp);
    values.dedup_by(|a, b| is_same(stage, *a, *b));
    let apart = |a: f64, b: f64| length(way(spot(a), spot(b)));
    let Some(&last) = values.last() else {
        return values;
    };
    let mut kept: Vec<f64> = Vec::new();
    for value in values {
        let clear = kept
            .last()
            .is_none_or(|before| apart(*before, value) >= CLOSEST);
        let clear_of_last = value == last || apart(value, last) >= CLOSEST;
        if value == last && !clear {
            kept.pop();
        }
        if value == last || (clear && clear_of_last) {
            kept.push(value);
        }
    }
    if kept.len() > MOST {
        kept = vec![kept[0], last];
    }
    kept
}

/// A line with small heads at both ends, and its value on the outside; on the inside where that is taken, and wherever
/// there is room where both are.
pub(super) fn between(
    stage: &Stage,
    ends: [Spot; 2],
    text: Quantity,
    out: Spot,
    sketch: &mut Sketch,
) {
    let arrow = arrow(stage);
    let middle = step(ends[0], way(ends[0], ends[1]), 0.5);
    arrow.draw(sketch, middle, ends[0]);
    arrow.draw(sketch, middle, ends[1]);
    let label = beside(stage, middle, &text.into(), out, sketch);
    sketch.labels.push(label);
}

/// A line from a centre to a rim, with one head there, and its value beside it.
pub(super) fn radius(stage: &Stage, ends: [Spot; 2], text: Phrase, sketch: &mut Sketch) {
    let (middle, out) = middle_and_side(ends);
    arrow(stage).draw(sketch, ends[0], ends[1]);
    let label = beside(stage, middle, &text, out, sketch);
    sketch.labels.push(label);
}

/// Whether the value of a radius has room beside its line.
pub(super) fn has_room(stage: &Stage, ends: [Spot; 2], text: &Phrase, sketch: &Sketch) -> bool {
    let (middle, out) = middle_and_side(ends);
    beside(stage, middle, text, out, sketch).is_fixed
}

/// The middle of a line, and the direction across it that leads upwards.
fn middle_and_side(ends: [Spot; 2]) -> (Spot, Spot) {
    let along = way(ends[0], ends[1]);
    let across = turned(unit(along));
    let up = if across[1] > 0.0 { -1.0 } else { 1.0 };
    (step(ends[0], along, 0.5), across.map(|x| x * up))
}

fn arrow(stage: &Stage) -> Arrow {
    Arrow {
        role: "dimension",
        stroke: stage.pens.dimension,
        head: Head::Small,
    }
}

/// A value beside the middle of its line, on one side or the other; one that has room on neither looks for a place.
fn beside(stage: &Stage, middle: Spot, text: &Phrase, out: Spot, sketch: &Sketch) -> SketchLabel {
    let mut label = SketchLabel {
        role: "dimension",
        anchor: middle,
        prefer: out,
        is_fixed: true,
        runs: stage.runs(text),
        letters: SMALL,
        colour: stage.pens.dimension.colour,
        rank: 4,
    };
    let off = off(&label);
    let is_beside = [out, out.map(|x| -x)].into_iter().any(|side| {
        (label.anchor, label.prefer) = (step(middle, side, off), side);
        is_free(sketch, &label)
    });
    if !is_beside {
        free(&mut label);
        label.prefer = out;
    }
    label
}

/// How far the middle of a value lies from its line.
fn off(label: &SketchLabel) -> f64 {
    let ([wide, high], [x, y]) = (labels::size(label), label.prefer);
    BESIDE + (x.abs() * wide + y.abs() * high) / 2.0
}

/// Lets a value that has its place beside its line look for another one.
fn free(label: &mut SketchLabel) {
    label.anchor = step(label.anchor, label.prefer, -off(label));
    label.is_fixed = false;
}

/// Whether a label touches no stroke and no other label that has its place.
fn is_free(sketch: &Sketch, label: &SketchLabel) -> bool {
    let area = grown(labels::area_on_anchor(label), labels::APART);
    let touches = |outline: &PathOutline| match outline {
        PathOutline::Circle { centre, radius } => meets(*centre, *centre, &grown(area, *radius)),
        PathOutline::Lines(lines) => {
            let mut pieces = lines.iter().flat_map(Polyline::pieces);
            pieces.any(|[from, to]| meets(from, to, &area))
        }
    };
    !labels::fixed_areas(sketch).any(|other| overlap(&area, &other))
        && !sketch.shapes.iter().any(|shape| touches(&shape.outline))
}

/// Frees the values that a page of a width has no room for beside their lines.
pub(super) fn free_outside(sketch: &mut Sketch, width: f64) {
    let page = [BORDER, width - BORDER];
    let labels = sketch.labels.iter_mut();
    for label in labels.filter(|label| label.role == "dimension" && label.is_fixed) {
        let [low, high] = labels::area_on_anchor(label);
        if low[0] < page[0] || high[0] > page[1] {
            free(label);
        }
    }
}

/// Frees the values that a dimension drawn later has come to lie on.
pub(super) fn free_overdrawn(sketch: &mut Sketch) {
    for index in 0..sketch.labels.len() {
        let mut label = sketch.labels[index].clone();
        if label.role != "dimension" || !label.is_fixed {
            continue;
        }
        sketch.labels[index].is_fixed = false;
        if !is_free(sketch, &label) {
            free(&mut label);
        }
        sketch.labels[index] = label;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Stroke;

    #[test]
    fn a_tick_comes_from_the_last_thing_on_its_way() {
        let mut sketch = Sketch::default();
        let pen = Stroke {
            width: 1.0,
            colour: crate::theme::Colour(0, 0, 0),
            dash: &[],
        };
        let (spot, out) = ([10.0, 100.0], [0.0, 1.0]);
        assert_eq!(way_back(&sketch, spot, out), None);
        sketch.line("body", [[0.0, 40.0], [40.0, 40.0]], pen);
        sketch.line("body", [[20.0, 90.0], [40.0, 90.0]], pen);
        assert_eq!(way_back(&sketch, spot, out), Some(60.0));
        sketch.circle("support", [10.0, 50.0], 4.0, Some(pen), None);
        assert_eq!(way_back(&sketch, spot, out), Some(46.0));
        // Slanted: what lies within the column alone counts.
        sketch.line("load", [[10.0, 60.0], [40.0, 90.0]], pen);
        assert_eq!(way_back(&sketch, spot, out), Some(40.0 - COLUMN));
        sketch.line("dimension", [[0.0, 95.0], [40.0, 95.0]], pen);
        assert_eq!(way_back(&sketch, spot, out), Some(40.0 - COLUMN));
    }
}
