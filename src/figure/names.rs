//! Names of the supports, and of the named points at which the loads that are shown act.

use nalgebra::Point3;

use super::pens::NAME;
use super::settings::FigurePart;
use super::sketch::{Sketch, SketchLabel, Spot};
use super::stage::Stage;
use crate::drawing::{Run, Stroke};
use crate::portrayal::{Name, load_names, support_names};

/// Radius of the dot at a name's point.
const DOT: f64 = 1.2;
const SMALL_DOT: f64 = 0.9;
/// Points closer than this, relative to the characteristic length, are one.
const SAME: f64 = 1e-9;

/// Draws dots where no symbol of a support marks the point, and asks for places for the names.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    let symbols = stage.is_planar() && stage.shows(FigurePart::Supports);
    let model = stage.study.model();
    let now = |name: &Name| stage.at(&name.carrier.carried(&stage.pose).point(&name.at));
    for (support, named) in model.supports.iter().zip(support_names(model)) {
        if !symbols {
            dot(stage, &(stage.pose * support.point), sketch);
        }
        name(stage, "name", now(&named), named.text, sketch);
    }
    if stage.shows(FigurePart::Loads) {
        for named in load_names(model, stage.settings.case) {
            let anchor = now(&named);
            dot(
                stage,
                &named.carrier.carried(&stage.pose).point(&named.at),
                sketch,
            );
            name(stage, "point", anchor, named.text, sketch);
        }
    }
}

/// A dot where the point is seen, a ring where the body hides it.
fn dot(stage: &Stage, point: &Point3<f64>, sketch: &mut Sketch) {
    let at = stage.at(point);
    if stage.hides(point) {
        let ring = Stroke {
            dash: &[],
            ..stage.pens.hidden
        };
        sketch.circle("support", at, DOT, Some(ring), Some(stage.pens.paper));
    } else {
        sketch.circle("support", at, DOT, None, Some(stage.pens.ink));
    }
}

/// The same for a point that has coordinates and nothing else.
pub(super) fn small_dot(stage: &Stage, point: &Point3<f64>, sketch: &mut Sketch) {
    let (at, pen) = (stage.at(point), stage.pens.dimension);
    if stage.hides(point) {
        let paper = stage.pens.paper;
        sketch.circle("coordinates", at, SMALL_DOT, Some(pen), Some(paper));
    } else {
        sketch.circle("coordinates", at, SMALL_DOT, None, Some(pen.colour));
    }
}

fn name(stage: &Stage, role: &'static str, anchor: Spot, text: &str, sketch: &mut Sketch) {
    sketch.labels.push(SketchLabel {
        role,
        anchor,
        prefer: [0.0, 0.0],
        is_fixed: false,
        runs: Run::plain(text),
        letters: NAME,
        colour: stage.pens.ink,
        rank: 0,
    });
}

/// Asks for a place for the letter of a point that is known by its coordinates.
pub(super) fn letter(stage: &Stage, point: &Point3<f64>, text: &str, sketch: &mut Sketch) {
    let anchor = stage.at(point);
    let is_there = |label: &SketchLabel| label.role == "point" && label.anchor == anchor;
    if !sketch.labels.iter().any(is_there) {
        name(stage, "point", anchor, text, sketch);
    }
}

/// Whether a point bears its name because a load that is drawn acts there.
pub(super) fn is_named(stage: &Stage, point: &Point3<f64>) -> bool {
    let near = SAME * stage.study.model().length;
    let named = stage.shows(FigurePart::Names) && stage.shows(FigurePart::Loads);
    named
        && load_names(stage.study.model(), stage.settings.case)
            .iter()
            .any(|named| (named.at - point).norm() <= near)
}
