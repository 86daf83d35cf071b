//! Names of the supports, and of the named points at which the loads that are shown act.

use nalgebra::Point3;

use super::pens::NAME;
use super::settings::FigurePart;
use super::sketch::{Sketch, SketchLabel, Spot};
use super::stage::Stage;
use crate::drawing::Run;
use crate::portrayal::{Name, load_names, support_names};

/// Radius of the dot at a name's point.
const DOT: f64 = 1.2;
/// Points closer than this, relative to the characteristic length, are one.
const SAME: f64 = 1e-9;

/// Draws dots where no symbol of a support marks the point, and asks for places for the names.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    let symbols = stage.is_planar() && stage.shows(FigurePart::Supports);
    let model = stage.study.model();
    let now = |name: &Name| stage.at(&name.carrier.carried(&stage.pose).point(&name.at));
    for (support, named) in model.supports.iter().zip(support_names(model)) {
        if !symbols {
            dot(stage, stage.at(&(stage.pose * support.point)), sketch);
        }
        name(stage, "name", now(&named), named.text, sketch);
    }
    if stage.shows(FigurePart::Loads) {
        for named in load_names(model, stage.settings.case) {
            let anchor = now(&named);
            dot(stage, anchor, sketch);
            name(stage, "point", anchor, named.text, sketch);
        }
    }
}

fn dot(stage: &Stage, at: Spot, sketch: &mut Sketch) {
    sketch.circle("support", at, DOT, None, Some(stage.pens.ink));
}

fn name(stage: &Stage, role: &'static str, anchor: Spot, text: &str, sketch: &mut Sketch) {
    sketch.labels.push(SketchLabel {
        role,
        anchor,
        prefer: [0.0, 0.0],
        runs: Run::plain(text),
        letters: NAME,
        colour: stage.pens.ink,
        rank: 0,
    });
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
