//! Names of the supports, and of the named points at which the loads that are shown act.

use nalgebra::Point3;

use super::pens::NAME;
use super::settings::Part;
use super::sketch::{Label, Sketch, Spot};
use super::stage::{Stage, places};
use crate::drawing::Run;

/// Radius of the dot at a name's point.
const DOT: f64 = 1.2;
/// Points closer than this, relative to the characteristic length, are one.
const SAME: f64 = 1e-9;

/// Draws dots where no symbol of a support marks the point, and asks for places for the names.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    let symbols = stage.is_planar() && stage.shows(Part::Supports);
    let model = stage.study.model();
    for (index, support) in model.supports.iter().enumerate() {
        if !symbols {
            dot(stage, stage.at(&(stage.pose * support.point)), sketch);
        }
        let anchor = stage.at(&(stage.pose * model.name_place(index)));
        name(stage, "name", anchor, &support.name, sketch);
    }
    if stage.shows(Part::Loads) {
        for (point, text) in load_points(stage) {
            let anchor = stage.at(&(stage.pose * point));
            dot(stage, anchor, sketch);
            name(stage, "point", anchor, text, sketch);
        }
    }
}

fn dot(stage: &Stage, at: Spot, sketch: &mut Sketch) {
    sketch.circle("support", at, DOT, None, Some(stage.pens.ink));
}

fn name(stage: &Stage, role: &'static str, anchor: Spot, text: &str, sketch: &mut Sketch) {
    sketch.labels.push(Label {
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
    let named = stage.shows(Part::Names) && stage.shows(Part::Loads);
    named
        && load_points(stage)
            .iter()
            .any(|(at, _)| (at - point).norm() <= near)
}

/// Named points at which a load of the case acts and no support stands, in the scene's order.
fn load_points<'a>(stage: &Stage<'a>) -> Vec<(Point3<f64>, &'a str)> {
    let model = stage.study.model();
    let case = model.cases.get(stage.settings.case);
    let acted: Vec<Point3<f64>> = case
        .into_iter()
        .flat_map(|case| &case.loads)
        .flat_map(places)
        .collect();
    let same = |a: &Point3<f64>, b: &Point3<f64>| (a - b).norm() <= SAME * model.length;
    let named = model.points.iter().filter(|named| {
        let held = model
            .supports
            .iter()
            .any(|support| same(&support.point, &named.point));
        !held && acted.iter().any(|at| same(at, &named.point))
    });
    named
        .map(|named| (named.point, named.name.as_str()))
        .collect()
}
