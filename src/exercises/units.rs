//! Scenes of exercises in feet and pounds: a quarter of a foot for each tenth of a metre, and as many pounds as newtons.

use crate::scene::units::{ForceUnit, LengthUnit};
use crate::scene::{Coordinates, Load, Place, Scene, Shape, SupportKind};

/// Quarters of a foot that stand for tenths of a metre, with as many pounds-force as there were newtons.
pub(super) fn in_feet_and_pounds(scene: &mut Scene) {
    scene.units.length = LengthUnit::Foot;
    scene.units.force = ForceUnit::PoundForce;
    for point in &mut scene.points {
        scale(&mut point.at);
    }
    scene.body.iter_mut().for_each(shape);
    for support in &mut scene.supports {
        place(&mut support.at);
        if let SupportKind::Link { ground } | SupportKind::Cable { ground } = &mut support.kind {
            place(ground);
        }
    }
    for load in &mut scene.loads {
        match load {
            Load::Force { at, .. } => place(at),
            Load::Couple { at, .. } | Load::Weight { at, .. } => at.iter_mut().for_each(place),
            Load::Distributed { from, to, .. } => {
                place(from);
                place(to);
            }
            // Exercises have no others.
            Load::Line { .. } | Load::Area { .. } => {}
        }
    }
}

fn shape(shape: &mut Shape) {
    match shape {
        Shape::Block(block) => {
            place(&mut block.centre);
            block.size.iter_mut().for_each(length);
        }
        Shape::BentBar(bar) => {
            bar.path.iter_mut().for_each(place);
            length(&mut bar.diameter);
        }
        Shape::Plate(plate) => {
            plate.corners.iter_mut().for_each(place);
            length(&mut plate.thickness);
        }
        Shape::Shaft(shaft) => {
            place(&mut shaft.from);
            place(&mut shaft.to);
            length(&mut shaft.diameter);
        }
        // Exercises have no others.
        Shape::Bracket(_) | Shape::Disc(_) => {}
    }
}

fn place(place: &mut Place) {
    if let Place::At(coordinates) = place {
        scale(coordinates);
    }
}

fn scale(coordinates: &mut Coordinates) {
    match coordinates {
        Coordinates::Space(all) => all.iter_mut().for_each(length),
        Coordinates::Plane(all) => all.iter_mut().for_each(length),
    }
}

/// Feet instead of metres, without what floating point leaves: lengths of exercises are whole hundredths of a metre.
fn length(metres: &mut f64) {
    *metres = (*metres * 1000.0).round() * 5.0 / 2000.0;
}
