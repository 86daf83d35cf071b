//! Dimension lines with values in the scene's units.

use nalgebra::Point3;

use super::arrows::{Arrow, Head};
use super::coordinates;
use super::hidden::clip;
use super::pens::SMALL;
use super::settings::FigurePart;
use super::sketch::{Sketch, SketchLabel, Spot, length, step, turned, unit, way};
use super::stage::Stage;
use crate::document::runs;
use crate::drawing::{PathOutline, Polyline};
use crate::portrayal::load_places;
use crate::statics::AppliedLoad;
use crate::wording::{self, Quantity};

/// How far a dimension line stands off everything else.
const OFF: f64 = 9.0;
/// How far its ticks reach to both sides.
const TICK: [f64; 2] = [5.0, 2.0];
/// Gap between a tick and what it comes from.
const GAP: f64 = 2.5;
/// Half the width of the way in which a tick looks for that.
const COLUMN: f64 = 3.0;
/// Least distance between two ticks.
const CLOSEST: f64 = 8.0;
/// Most distances along one axis.
const MOST: usize = 6;

/// Points whose coordinates are worth a dimension.
fn measured(stage: &Stage) -> Vec<Point3<f64>> {
    let supports = stage.study.model().supports.iter();
    let held = supports.flat_map(|support| std::iter::once(support.point).chain(support.ground));
    // Where a couple is drawn does not matter.
    let forces = loads(stage).filter(|load| {
        matches!(
            load,
            AppliedLoad::Force { .. } | AppliedLoad::Distributed { .. }
        )
    });
    held.chain(forces.flat_map(load_places)).collect()
}

/// Where weights act: seldom at round numbers.
fn weighed(stage: &Stage) -> impl Iterator<Item = Point3<f64>> {
    let weights = loads(stage).filter(|load| matches!(load, AppliedLoad::Weight { .. }));
    weights.flat_map(load_places)
}

/// The loads that are drawn.
fn loads<'a>(stage: &Stage<'a>) -> impl Iterator<Item = &'a AppliedLoad> {
    let cases = &stage.study.model().cases;
    let case = cases.get(stage.settings.case);
    let case = case.filter(|_| stage.shows(FigurePart::Loads));
    case.into_iter().flat_map(|case| &case.loads)
}

/// Draws dimension lines outside of everything drawn so far, and the coordinates of points that these leave out, with
/// those of the first support to count from. Where that is most of the points, all have coordinates.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    let points = measured(stage);
    let axes = if stage.is_planar() { 2 } else { 3 };
    let mut with_lines = sketch.clone();
    let mut left_out = vec![false; points.len()];
    for axis in 0..axes {
        let told = dimension(stage, &points, axis, &mut with_lines);
        for (point, left_out) in points.iter().zip(&mut left_out) {
            *left_out |= !told.iter().any(|value| is_same(stage, *value, point[axis]));
        }
    }
    let left_out: Vec<Point3<f64>> = points
        .iter()
        .zip(left_out)
        .filter(|(_, out)| *out)
        .map(|(point, _)| *point)
        .collect();
    let coordinates_of = match 2 * left_out.len() > points.len() {
        true => points,
        false => {
            *sketch = with_lines;
            left_out
        }
    };
    let told: Vec<Point3<f64>> = coordinates_of.into_iter().chain(weighed(stage)).collect();
    if !told.is_empty() {
        let first = stage
            .study
            .model()
            .supports
            .first()
            .map(|support| support.point);
        let told: Vec<Point3<f64>> = first.into_iter().chain(told).collect();
        coordinates::of_points(stage, &told, sketch);
    }
}

/// Draws the dimensions along an axis; the coordinates that these tell.
fn dimension(stage: &Stage, points: &[Point3<f64>], axis: usize, sketch: &mut Sketch) -> Vec<f64> {
    let Some([low, high]) = box_around(points) else {
        return Vec::new();
    };
    let place = |value: f64| {
        let mut at = edge(low, high, axis);
        at[axis] = value;
        at
    };
    let spots = [low[axis], high[axis]].map(|value| stage.at(&place(value)));
    if length(way(spots[0], spots[1])) < CLOSEST {
        // Seen end on, an axis is left to another view; one that is merely short has no room.
        let size = (high[axis] - low[axis]) * stage.scale;
        let end_on = size >= CLOSEST || is_same(stage, low[axis], high[axis]);
        return match end_on {
            true => points.iter().map(|point| point[axis]).collect(),
            false => Vec::new(),
        };
    }
    let along = unit(way(spots[0], spots[1]));
    let out = outwards(stage, along, spots, low, high);
    let reach = |spot: Spot| spot[0] * out[0] + spot[1] * out[1];
    let farthest = farthest(sketch, &reach).max(reach(spots[0]));
    let on_line = |value: f64| {
        let spot = stage.at(&place(value));
        step(spot, out, farthest + OFF - reach(spot))
    };
    let values = ticks(stage, points, axis, on_line);
    let ticks = values.iter().map(|value| {
        let spot = on_line(*value);
        // In the plane a tick comes from what is measured; in space, that lies elsewhere.
        let clear = || stage.is_planar().then(|| way_back(sketch, spot, out))?;
        let back = clear().map_or(TICK[0], |clear| (clear - GAP).max(TICK[0]));
        Polyline::open([step(spot, out, -back), step(spot, out, TICK[1])])
    });
    let ticks: Vec<Polyline> = ticks.collect();
    sketch.lines("dimension", ticks, stage.pens.dimension);
    for pair in values.windows(2) {
        let ends = [on_line(pair[0]), on_line(pair[1])];
        let text = wording::length(pair[1] - pair[0], &stage.study.model().units);
        between(stage, ends, text, out, sketch);
    }
    values
}

/// Whether two coordinates are one.
fn is_same(stage: &Stage, a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * (stage.bounds[1] - stage.bounds[0]).norm()
}

fn box_around(points: &[Point3<f64>]) -> Option<[Point3<f64>; 2]> {
    let first = *points.first()?;
    let fold = points.iter().fold((first, first), |(low, high), point| {
        (low.inf(point), high.sup(point))
    });
    Some([fold.0, fold.1])
}

/// The edge of the box along which an axis is measured: in front below, on the right below, on the left in front.
fn edge(low: Point3<f64>, high: Point3<f64>, axis: usize) -> Point3<f64> {
    match axis {
        1 => Point3::new(high.x, low.y, low.z),
        _ => low,
    }
}

/// Unit direction of the page away from the middle of the box, perpendicular to the dimension line.
fn outwards(
    stage: &Stage,
    along: Spot,
    spots: [Spot; 2],
    low: Point3<f64>,
    high: Point3<f64>,
) -> Spot {
    let side = turned(along);
    // An axis of the plane is measured below or to the left, whatever stands there.
    if stage.is_planar() {
        return if side[0] > 0.5 || side[1] < -0.5 {
            [-side[0], -side[1]]
        } else {
            side
        };
    }
    let middle = way(stage.at(&nalgebra::center(&low, &high)), spots[0]);
    let outside = side[0] * middle[0] + side[1] * middle[1];
    let default = if side[1].abs() > 0.3 {
        side[1]
    } else {
        -side[0]
    };
    let sign = if outside.abs() > 2.0 {
        outside
    } else {
        default
    };
    if sign >= 0.0 {
        side
    } else {
        [-side[0], -side[1]]
    }
}

fn farthest(sketch: &Sketch, reach: &impl Fn(Spot) -> f64) -> f64 {
    let mut most = f64::NEG_INFINITY;
    for shape in &sketch.shapes {
        match &shape.outline {
            PathOutline::Circle { centre, radius } => most = most.max(reach(*centre) + radius),
            PathOutline::Lines(lines) => {
                let points = lines.iter().flat_map(|line| &line.points);
                most = points.fold(most, |most, point| most.max(reach(*point)));
            }
        }
    }
    most
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

/// Different coordinates, in order, those too close to the one before left out; the first and last stay.
fn ticks(
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

/// A line with small heads at both ends, and its value.
fn between(stage: &Stage, ends: [Spot; 2], text: Quantity, out: Spot, sketch: &mut Sketch) {
    let stroke = stage.pens.dimension;
    let arrow = Arrow {
        role: "dimension",
        stroke,
        head: Head::Small,
    };
    let middle = step(ends[0], way(ends[0], ends[1]), 0.5);
    arrow.draw(sketch, middle, ends[0]);
    arrow.draw(sketch, middle, ends[1]);
    sketch.labels.push(SketchLabel {
        role: "dimension",
        anchor: middle,
        prefer: out,
        runs: runs(&text.into()),
        letters: SMALL,
        colour: stroke.colour,
        rank: 4,
    });
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
