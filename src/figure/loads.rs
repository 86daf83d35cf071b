//! Loads: heavy arrows with block heads, rows of arrows for spread loads, rings for couples; each with its value.

use nalgebra::{Point3, Unit, Vector3};

use super::arrows::{Arrow, END_ON, Head, arc, towards_viewer};
use super::pens::VALUE;
use super::settings::FigurePart;
use super::sketch::{Sketch, SketchLabel, Spot, length, step, unit, way};
use super::stage::Stage;
use crate::document::runs;
use crate::drawing::{Polyline, Stroke};
use crate::portrayal::{self, ArrowSide, DrawnLoad};
use crate::wording::{self, Phrase, phrase};

/// Length of an arrow, and the least where it is foreshortened.
const LENGTHS: [f64; 2] = [30.0, 18.0];
/// Length of the longest arrow of a row.
const ROW: f64 = 20.0;
/// Distance between the arrows of a row.
const PITCH: f64 = 9.0;
/// Radius of a couple's ring.
const RING: f64 = 10.0;

/// Draws the loads of the chosen case.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    for load in portrayal::loads(stage.study.model(), stage.settings.case) {
        draw_load(stage, &load, sketch);
    }
}

fn draw_load(stage: &Stage, load: &DrawnLoad, sketch: &mut Sketch) {
    let text = || {
        load.values
            .first()
            .map_or_else(Phrase::new, |(_, text)| text.clone())
    };
    match &load.stroke {
        portrayal::ForceStroke::Arrow { at, along, stance } => {
            let hangs = *stance == ArrowSide::Hanging;
            let text = match hangs {
                true => text(),
                false => phrase!(text(), askew(stage, along)),
            };
            single(stage, &(stage.pose * at), along, text, hangs, sketch);
        }
        portrayal::ForceStroke::Ring { at, about } => {
            couple(stage, &(stage.pose * at), about, text(), sketch);
        }
        portrayal::ForceStroke::Row { ends, densities } => {
            let ends = ends.map(|end| stage.pose * end);
            row(stage, ends, densities, &load.values, sketch);
        }
    }
}

/// Where dimensions are given, the direction of a force that is along no axis: a slant can be seen but not read.
fn askew(stage: &Stage, along: &Unit<Vector3<f64>>) -> Option<Phrase> {
    let slant = wording::slant(stage.study.model(), along);
    let shown = slant.filter(|_| stage.shows(FigurePart::Dimensions));
    shown.map(|slant| phrase!(" along ", slant))
}

fn pen(stroke: Stroke) -> Arrow {
    Arrow {
        role: "load",
        stroke,
        head: Head::Block,
    }
}

fn label(stage: &Stage, text: Phrase, anchor: Spot, prefer: Spot) -> SketchLabel {
    SketchLabel {
        role: "load",
        anchor,
        prefer,
        runs: runs(&text),
        letters: VALUE,
        colour: stage.pens.load.colour,
        rank: 1,
    }
}

/// Pushes at the point or pulls from it, whichever leaves the arrow off the body; a weight hangs from its centre.
fn single(
    stage: &Stage,
    at: &Point3<f64>,
    direction: &Vector3<f64>,
    text: Phrase,
    hangs: bool,
    sketch: &mut Sketch,
) {
    let (spot, seen) = (stage.at(at), stage.direction(at, direction));
    let arrow = pen(stage.pens.load);
    if length(seen) < END_ON {
        arrow.draw_end_on(sketch, spot, towards_viewer(stage, at, direction));
        sketch.labels.push(label(stage, text, spot, [0.0, 0.0]));
        return;
    }
    let ahead = unit(seen);
    let long = (LENGTHS[0] * length(seen)).max(LENGTHS[1]);
    let cover = |side: f64| stage.covered_share(spot, step(spot, ahead, side * long));
    let pulls = hangs || cover(1.0) < cover(-1.0) - 0.05;
    let (tail, tip) = if pulls {
        (spot, step(spot, ahead, long))
    } else {
        (step(spot, ahead, -long), spot)
    };
    arrow.draw(sketch, tail, tip);
    if hangs {
        sketch.circle("load", spot, 1.9, None, Some(stage.pens.load.colour));
    }
    let (outer, outwards) = if pulls { (tip, 1.0) } else { (tail, -1.0) };
    let prefer = [ahead[0] * outwards, ahead[1] * outwards];
    sketch.labels.push(label(stage, text, outer, prefer));
}

fn couple(stage: &Stage, at: &Point3<f64>, axis: &Vector3<f64>, text: Phrase, sketch: &mut Sketch) {
    let points = arc(stage, at, axis, RING, [0.4, 5.0]);
    let arrow = pen(stage.pens.load);
    arrow.draw_along(sketch, &points);
    let top = points.iter().copied().min_by(|a, b| a[1].total_cmp(&b[1]));
    let anchor = top.unwrap_or_else(|| stage.at(at));
    sketch.labels.push(label(stage, text, anchor, [0.0, -1.0]));
}

/// Arrows with their tips on the segment, as long as the density there, and a line over their tails.
fn row(
    stage: &Stage,
    ends: [Point3<f64>; 2],
    densities: &[Vector3<f64>; 2],
    values: &[(f64, Phrase)],
    sketch: &mut Sketch,
) {
    let spots = ends.map(|end| stage.at(&end));
    let reach = length(way(spots[0], spots[1]));
    let count = ((reach / PITCH).round() as u32).clamp(3, 40);
    let at = |i: u32| {
        let t = f64::from(i) / f64::from(count);
        let density = densities[0].lerp(&densities[1], t);
        let point = ends[0] + (ends[1] - ends[0]) * t;
        let tip = stage.at(&point);
        (step(tip, stage.direction(&point, &density), -ROW), tip)
    };
    let arrow = pen(stage.pens.row);
    for (tail, tip) in (0..=count).map(at) {
        if length(way(tail, tip)) > 7.0 {
            arrow.draw(sketch, tail, tip);
        } else {
            sketch.line("load", [tail, tip], stage.pens.row);
        }
    }
    let tails = [at(0).0, at(count).0];
    sketch.lines("load", vec![Polyline::open(tails)], stage.pens.row);
    for (share, text) in values {
        let (tail, tip) = at((share * f64::from(count)) as u32);
        let out = unit(way(tip, tail));
        sketch.labels.push(label(stage, text.clone(), tail, out));
    }
}
