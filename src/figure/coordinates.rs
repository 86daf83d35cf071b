//! Coordinates of points, in the scene's units.

use nalgebra::Point3;

use super::pens::SMALL;
use super::sketch::{Label, Sketch};
use super::stage::Stage;
use crate::document::runs;
use crate::words;

/// Names the coordinates of supports, and of the scene's other named points on the body.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    let model = &stage.subject.model;
    let unit = model.units.length;
    let supports = model.supports.iter().map(|support| support.point);
    let named = model.points.iter().map(|named| named.point);
    let mut told: Vec<Point3<f64>> = Vec::new();
    let size = (stage.bounds[1] - stage.bounds[0]).norm();
    for point in supports.chain(named) {
        if told
            .iter()
            .any(|other| (other - point).norm() <= 1e-9 * size)
        {
            continue;
        }
        told.push(point);
        let count = if stage.is_planar() { 2 } else { 3 };
        let numbers: Vec<String> = point
            .iter()
            .take(count)
            .map(|x| words::number(x / unit.in_metres()))
            .collect();
        sketch.labels.push(Label {
            role: "coordinates",
            anchor: stage.at(&point),
            prefer: [0.0, 0.0],
            runs: runs(&format!("({}) {}", numbers.join(", "), unit.symbol())),
            letters: SMALL,
            colour: stage.pens.dimension.colour,
            rank: 5,
        });
    }
}
