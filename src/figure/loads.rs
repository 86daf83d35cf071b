//! Loads: heavy arrows with block heads, rows of arrows for spread loads, rings for couples; each with its value.

use nalgebra::{Point3, Unit, Vector3};

use super::arrows::{Arrow, END_ON, Head, arc, towards_viewer};
use super::pens::VALUE;
use super::settings::Part;
use super::sketch::{Label, Sketch, Spot, length, step, unit, way};
use super::stage::Stage;
use crate::document::runs;
use crate::page::{Line, Stroke};
use crate::statics::AppliedLoad;
use crate::words;

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
    let Some(case) = stage.subject.model.cases.get(stage.settings.case) else {
        return;
    };
    for load in &case.loads {
        draw_load(stage, load, sketch);
    }
}

fn draw_load(stage: &Stage, load: &AppliedLoad, sketch: &mut Sketch) {
    let units = &stage.subject.model.units;
    match load {
        AppliedLoad::Force { at, force } => {
            let text = words::force(force.norm(), units) + &askew(stage, force);
            single(stage, &(stage.pose * at), force, text, false, sketch);
        }
        AppliedLoad::Weight { at, force, .. } => {
            let text = format!("weight {}", words::force(force.norm(), units));
            single(stage, &(stage.pose * at), force, text, true, sketch);
        }
        AppliedLoad::Couple { at, moment } => {
            let at = at.unwrap_or(stage.subject.model.reference);
            let text = words::couple(moment.norm(), units);
            couple(stage, &(stage.pose * at), moment, text, sketch);
        }
        AppliedLoad::Distributed { ends, densities } => {
            row(stage, ends.map(|end| stage.pose * end), densities, sketch);
        }
    }
}

/// Where dimensions are told, the direction of a force that is along no axis: a slant can be seen but not read.
fn askew(stage: &Stage, force: &Vector3<f64>) -> String {
    let direction = Unit::try_new(*force, 0.0).filter(|_| stage.shows(Part::Dimensions));
    let along = direction.map(|direction| words::signed_direction(stage.subject.model, &direction));
    match along.filter(|along| along.starts_with('(')) {
        Some(along) => format!(" along {along}"),
        None => String::new(),
    }
}

fn pen(stroke: Stroke) -> Arrow {
    Arrow {
        role: "load",
        stroke,
        head: Head::Block,
    }
}

fn label(stage: &Stage, text: String, anchor: Spot, prefer: Spot) -> Label {
    Label {
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
    force: &Vector3<f64>,
    text: String,
    hangs: bool,
    sketch: &mut Sketch,
) {
    let Some(direction) = force.try_normalize(0.0) else {
        return;
    };
    let (spot, seen) = (stage.at(at), stage.direction(at, &direction));
    let arrow = pen(stage.pens.load);
    if length(seen) < END_ON {
        arrow.draw_end_on(sketch, spot, towards_viewer(stage, at, &direction));
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

fn couple(
    stage: &Stage,
    at: &Point3<f64>,
    moment: &Vector3<f64>,
    text: String,
    sketch: &mut Sketch,
) {
    let Some(axis) = moment.try_normalize(0.0) else {
        return;
    };
    let points = arc(stage, at, &axis, RING, [0.4, 5.0]);
    let arrow = pen(stage.pens.load);
    arrow.draw_along(sketch, &points);
    let top = points.iter().copied().min_by(|a, b| a[1].total_cmp(&b[1]));
    let anchor = top.unwrap_or_else(|| stage.at(at));
    sketch.labels.push(label(stage, text, anchor, [0.0, -1.0]));
}

/// Arrows with their tips on the segment, as long as the density there, and a line over their tails.
fn row(stage: &Stage, ends: [Point3<f64>; 2], densities: &[Vector3<f64>; 2], sketch: &mut Sketch) {
    let largest = densities[0].norm().max(densities[1].norm());
    if largest <= 0.0 {
        return;
    }
    let spots = ends.map(|end| stage.at(&end));
    let reach = length(way(spots[0], spots[1]));
    let count = ((reach / PITCH).round() as u32).clamp(3, 40);
    let at = |i: u32| {
        let t = f64::from(i) / f64::from(count);
        let density = densities[0].lerp(&densities[1], t) / largest;
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
    sketch.lines("load", vec![Line::open(tails)], stage.pens.row);
    row_labels(stage, densities, [at(0), at(count / 2), at(count)], sketch);
}

/// One value in the middle for an even load, else one at each end that is not zero.
fn row_labels(
    stage: &Stage,
    densities: &[Vector3<f64>; 2],
    [first, middle, last]: [(Spot, Spot); 3],
    sketch: &mut Sketch,
) {
    let units = &stage.subject.model.units;
    let [a, b] = densities.each_ref().map(|density| density.norm());
    let mut add = |value: f64, (tail, tip): (Spot, Spot)| {
        let out = unit(way(tip, tail));
        sketch
            .labels
            .push(label(stage, words::density(value, units), tail, out));
    };
    if (densities[0] - densities[1]).norm() <= 1e-9 * a.max(b) {
        add(a, middle);
        return;
    }
    for (value, end) in [(a, first), (b, last)] {
        if value > 0.0 {
            add(value, end);
        }
    }
}
