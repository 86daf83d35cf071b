//! Loads: heavy arrows with block heads, rows of arrows for spread loads, rings for couples; each with its value.

use nalgebra::{Point3, Unit, Vector3};

use super::angles;
use super::arrows::{Arrow, END_ON, Head, arc, towards_viewer};
use super::pens::VALUE;
use super::settings::FigurePart;
use super::sketch::{Sketch, SketchLabel, Spot, length, step, unit, way};
use super::stage::Stage;
use crate::drawing::{Polyline, Stroke};
use crate::portrayal::{self, ArrowSide, DrawnLoad};
use crate::wording::{self, Phrase, phrase};

/// Length of an arrow, and the least where it is foreshortened.
const LENGTHS: [f64; 2] = [30.0, 18.0];
/// Length of the longest arrow of a row, and the least where it is foreshortened.
const ROWS: [f64; 2] = [20.0, 13.0];
/// Shorter arrows of a row are lines without a head.
const HEADLESS: f64 = 5.5;
/// Distance between the arrows of a row.
const PITCH: f64 = 9.0;
/// Directions that rise less than this, relative to their length, are level.
const LEVEL: f64 = 1e-9;
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
            let mut values = load.values.clone();
            let along = per_length(stage, ends).filter(|_| !load.is_over_face);
            if let Some((first, along)) = values.first_mut().zip(along) {
                first.1 = phrase!(first.1, along);
            }
            let ends = ends.map(|end| stage.pose * end);
            row(stage, ends, densities, &values, sketch);
        }
    }
}

/// Where dimensions are given, along what a density counts that acts on a length along no axis.
fn per_length(stage: &Stage, ends: &[Point3<f64>; 2]) -> Option<&'static str> {
    let model = stage.study.model();
    let along = Unit::try_new(ends[1] - ends[0], 0.0)?;
    wording::slant(model, &along).filter(|_| stage.shows(FigurePart::Dimensions))?;
    let up = model.space.axes() - 1;
    let is_level = along[up].abs() <= LEVEL;
    Some(match is_level {
        true => " along its length",
        false => " along the slope",
    })
}

/// Where dimensions are given in space, the direction of a force that is along no axis: a slant can be seen but not read.
/// In the plane an angle says it.
fn askew(stage: &Stage, along: &Unit<Vector3<f64>>) -> Option<Phrase> {
    let slant = wording::slant(stage.study.model(), along);
    let shown = slant.filter(|_| stage.shows(FigurePart::Dimensions) && !stage.is_planar());
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
        is_fixed: false,
        runs: stage.runs(&text),
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
    if stage.is_planar() && stage.shows(FigurePart::Dimensions) && !hangs {
        let arm = direction * outwards;
        angles::mark(stage, spot, [arm.x, arm.y], angles::OF_LOAD, sketch);
    }
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
    // As long as in the plane, unless that leaves no shaft.
    let longest = [0, 1].map(|k| length(stage.direction(&ends[k], &densities[k])));
    let seen = longest[0].max(longest[1]);
    let long = ROWS[0].max(ROWS[1] / seen.max(END_ON));
    let at = |i: u32| {
        let t = f64::from(i) / f64::from(count);
        let density = densities[0].lerp(&densities[1], t);
        let point = ends[0] + (ends[1] - ends[0]) * t;
        let tip = stage.at(&point);
        (step(tip, stage.direction(&point, &density), -long), tip)
    };
    let arrow = Arrow {
        head: Head::Row,
        ..pen(stage.pens.row)
    };
    for (tail, tip) in (0..=count).map(at) {
        if length(way(tail, tip)) > HEADLESS {
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

#[cfg(test)]
mod tests {
    use super::super::{FigureSettings, draw as drawn};
    use super::*;
    use crate::drawing::PathOutline;
    use crate::study::Study;

    /// The wind along the boom is seen nearly end-on: its row was nothing but heads.
    #[test]
    fn arrows_of_a_row_have_shafts() {
        let settings = FigureSettings {
            parts: FigurePart::QUESTION.into(),
            ..FigureSettings::default()
        };
        let drawing = drawn(&Study::open("lamp-boom").unwrap(), &settings);
        let loads = || drawing.shapes().filter(|shape| shape.role == "load");
        let heads = loads().filter(|shape| shape.fill.is_some()).count();
        assert!(heads >= 4, "{heads}");
        let shafts = loads().filter_map(|shape| match &shape.outline {
            PathOutline::Lines(lines) if shape.stroke.is_some() => Some(&lines[0].points),
            _ => None,
        });
        for points in shafts {
            let [from, .., to] = points.as_slice() else {
                panic!("a line has two ends");
            };
            assert!(length(way(*from, *to)) > 1.0, "{points:?}");
        }
    }
}
