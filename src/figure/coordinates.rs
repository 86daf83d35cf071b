//! Coordinates of points, in the scene's units.

use nalgebra::Point3;

use super::names;
use super::pens::SMALL;
use super::sketch::{Sketch, SketchLabel};
use super::stage::Stage;
use crate::document::runs;
use crate::statics::PlacedSupport;
use crate::wording::{self, Number, Phrase, Quantity, phrase};

/// Names the coordinates of supports, with their ground ends, and of the scene's other named points.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    let model = stage.study.model();
    let supports = model.supports.iter();
    let held = supports.flat_map(|support| std::iter::once(support.point).chain(support.ground));
    let named = model.points.iter().map(|named| named.point);
    let points: Vec<Point3<f64>> = held.chain(named).collect();
    of_points(stage, &points, sketch);
}

/// Names the coordinates of points, each place once; with the name of a point that no support bears.
pub(super) fn of_points(stage: &Stage, points: &[Point3<f64>], sketch: &mut Sketch) {
    let model = stage.study.model();
    let unit = model.units.length;
    let size = (stage.bounds[1] - stage.bounds[0]).norm();
    let same = |a: &Point3<f64>, b: &Point3<f64>| (a - b).norm() <= 1e-9 * size;
    let mut told: Vec<Point3<f64>> = Vec::new();
    for point in points {
        if told.iter().any(|other| same(other, point)) {
            continue;
        }
        told.push(*point);
        let anchor = stage.at(point);
        let is_told = |label: &SketchLabel| label.role == "coordinates" && label.anchor == anchor;
        if sketch.labels.iter().any(is_told) {
            continue;
        }
        let count = if stage.is_planar() { 2 } else { 3 };
        let numbers: Vec<Number> = point
            .iter()
            .take(count)
            // A centre of volume is as exact as its sums.
            .map(|x| if x.abs() <= 1e-9 * size { 0.0 } else { *x })
            .enumerate()
            .map(|(axis, x)| wording::coordinate(&model.datum, axis, x / unit.in_metres()))
            .collect();
        let numbers = Phrase::from(Quantity::vector(numbers, unit.symbol()));
        let named = model.points.iter().find(|named| same(&named.point, point));
        let supports = &model.supports;
        let bears = |support: &PlacedSupport| same(&support.point, point);
        let named = named.filter(|_| !supports.iter().any(bears) && !names::is_named(stage, point));
        let text = named.map_or_else(
            || numbers.clone(),
            |named| phrase!(Phrase::name(&named.name), " ", numbers),
        );
        if named.is_some() {
            let colour = stage.pens.dimension.colour;
            sketch.circle("coordinates", anchor, 0.9, None, Some(colour));
        }
        sketch.labels.push(SketchLabel {
            role: "coordinates",
            anchor,
            prefer: [0.0, 0.0],
            runs: runs(&text),
            letters: SMALL,
            colour: stage.pens.dimension.colour,
            rank: 5,
        });
    }
}
