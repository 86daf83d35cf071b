//! Supports in the plane: their textbook symbols over the body.

use nalgebra::Point3;

use super::sketch::{Sketch, Spot};
use super::stage::Stage;
use crate::drawing::Polyline;
use crate::portrayal::{CarrierPose, SymbolPart};

/// Draws the symbol of every support.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    for piece in stage.with_layout(|layout| layout.symbols()) {
        let carried = piece.carrier.carried(&stage.pose);
        draw_part(stage, &piece.shape, &carried, sketch);
    }
}

fn draw_part(stage: &Stage, part: &SymbolPart, carried: &CarrierPose, sketch: &mut Sketch) {
    let pens = &stage.pens;
    let spot = |point: &Point3<f64>| stage.at(&carried.point(point));
    let spots = |points: &[Point3<f64>]| -> Vec<Spot> { points.iter().map(spot).collect() };
    match part {
        SymbolPart::Line(points) => sketch.line("support", spots(points), pens.support),
        SymbolPart::Cord(ends) => sketch.line("support", spots(ends), pens.cable),
        SymbolPart::Plate(points) => {
            let outline = vec![Polyline::closed(spots(points))];
            sketch.filled("support", outline, Some(pens.support), pens.paper);
        }
        SymbolPart::Disc { centre, radius } => {
            let radius = radius * stage.scale;
            let (stroke, fill) = (Some(pens.support), Some(pens.paper));
            sketch.circle("support", spot(centre), radius, stroke, fill);
        }
        SymbolPart::Hatching(lines) => {
            let lines = lines.iter().map(|ends| Polyline::open(spots(ends)));
            sketch.lines("ground", lines.collect(), pens.hatch);
        }
    }
}
