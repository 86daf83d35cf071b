//! Supports in the plane: their textbook symbols over the body.

use nalgebra::Point3;

use super::sketch::{Sketch, Spot};
use super::stage::Stage;
use crate::drawing::Line;
use crate::portrayal::{Carried, Flat};

/// Draws the symbol of every support.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    for piece in stage.with_layout(|layout| layout.symbols()) {
        let carried = piece.carrier.carried(&stage.pose);
        draw_part(stage, &piece.shape, &carried, sketch);
    }
}

fn draw_part(stage: &Stage, part: &Flat, carried: &Carried, sketch: &mut Sketch) {
    let pens = &stage.pens;
    let spot = |point: &Point3<f64>| stage.at(&carried.point(point));
    let spots = |points: &[Point3<f64>]| -> Vec<Spot> { points.iter().map(spot).collect() };
    match part {
        Flat::Line(points) => sketch.line("support", spots(points), pens.support),
        Flat::Cord(ends) => sketch.line("support", spots(ends), pens.cable),
        Flat::Plate(points) => {
            let outline = vec![Line::closed(spots(points))];
            sketch.filled("support", outline, Some(pens.support), pens.paper);
        }
        Flat::Disc { centre, radius } => {
            let radius = radius * stage.scale;
            let (stroke, fill) = (Some(pens.support), Some(pens.paper));
            sketch.circle("support", spot(centre), radius, stroke, fill);
        }
        Flat::Hatching(lines) => {
            let lines = lines.iter().map(|ends| Line::open(spots(ends)));
            sketch.lines("ground", lines.collect(), pens.hatch);
        }
    }
}
