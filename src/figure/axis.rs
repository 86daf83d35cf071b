//! The line that all reactions meet: dash-dot through the scene, with beads where they meet it.

use super::pens::VALUE;
use super::sketch::{Sketch, SketchLabel, Spot, length, step, unit, way};
use super::stage::Stage;
use crate::drawing::{Polyline, Run};
use crate::motion::Selection;
use crate::portrayal::DrawnAxis;
use crate::statics::{PlacedSupport, ReactionKind, SharedAxis};

/// How far the line goes beyond body and supports, relative to their size.
const BEYOND: f64 = 0.16;
/// How far from the middle of the scene a centre of rotation in the plane is still drawn, in radii of the scene.
const FARTHEST: f64 = 2.2;

/// Lines of action shorter than this on the page are not drawn, points.
const SHORTEST: f64 = 6.0;
/// Supports closer to the axis than this, relative to the characteristic length, lie on it.
const ON_AXIS: f64 = 1e-7;

/// The shared axis of the motion that is drawn.
pub(super) fn of_motion<'a>(stage: &Stage<'a>) -> Option<&'a SharedAxis> {
    let axes = &stage.study.diagnosis().shared_axes;
    axes.iter()
        .find(|axis| Selection::Free(axis.motion) == stage.settings.motion)
}

/// Draws the shared axis of the motion that is drawn, if it has one.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    let Some(axis) = of_motion(stage) else {
        return;
    };
    if stage.is_planar() {
        draw_centre(stage, axis, sketch);
    } else {
        draw_line(stage, axis, sketch);
    }
}

/// The axis as it is drawn in space.
fn portrayed(stage: &Stage, axis: &SharedAxis) -> DrawnAxis {
    let solids = stage.solids.iter();
    let body = solids.flat_map(|solid| solid.positions.iter());
    DrawnAxis::shared(stage.study.model(), axis, body)
}

fn beyond(stage: &Stage) -> f64 {
    BEYOND * (stage.bounds[1] - stage.bounds[0]).norm()
}

fn label(stage: &Stage, text: &str, anchor: [f64; 2], prefer: [f64; 2]) -> SketchLabel {
    SketchLabel {
        role: "axis",
        anchor,
        prefer,
        is_fixed: false,
        runs: Run::plain(text),
        letters: VALUE,
        colour: stage.pens.axis.colour,
        rank: 3,
    }
}

fn draw_line(stage: &Stage, axis: &SharedAxis, sketch: &mut Sketch) {
    let axis = portrayed(stage, axis);
    let ends = axis.ends(beyond(stage));
    let spots = ends.map(|end| stage.at(&end));
    lines_of_action(stage, &axis, sketch);
    sketch.line("axis", spots, stage.pens.axis_edge());
    sketch.line("axis", spots, stage.pens.axis);
    let whole = (ends[1] - ends[0]).norm();
    let mut beads: Vec<[f64; 2]> = Vec::new();
    for bead in &axis.beads {
        let along = (bead.at - ends[0]).dot(&axis.line.direction);
        let spot = stage.at(&bead.at);
        let new = beads.iter().all(|bead| length(way(*bead, spot)) > 1.0);
        if (0.0..=whole).contains(&along) && new {
            beads.push(spot);
        }
    }
    for bead in beads {
        sketch.circle("axis", bead, 1.7, None, Some(stage.pens.axis.colour));
    }
    let outwards = unit(way(spots[0], spots[1]));
    let anchor = step(spots[1], outwards, -4.0);
    sketch
        .labels
        .push(label(stage, &called(stage, &axis), anchor, outwards));
}

/// Thin lines from where reactions act to where they meet the axis, if that is elsewhere.
fn lines_of_action(stage: &Stage, axis: &DrawnAxis, sketch: &mut Sketch) {
    let mut lines: Vec<[Spot; 2]> = Vec::new();
    for bead in &axis.beads {
        let to = stage.at(&bead.at);
        for from in bead.from.iter().map(|from| stage.at(from)) {
            if length(way(from, to)) > SHORTEST && !lines.contains(&[from, to]) {
                lines.push([from, to]);
            }
        }
    }
    let lines = lines.into_iter().map(Polyline::open).collect();
    sketch.lines("axis", lines, stage.pens.action);
}

/// What the axis is called: by the first and the last support on it, if it passes through two.
fn called(stage: &Stage, axis: &DrawnAxis) -> String {
    let model = stage.study.model();
    let (line, near) = (&axis.line, ON_AXIS * model.length);
    let along = |support: &PlacedSupport| (support.point - line.point).dot(&line.direction);
    let on_axis = |support: &&PlacedSupport| {
        (support.point - line.point).cross(&line.direction).norm() <= near
    };
    let mut held: Vec<&PlacedSupport> = model.supports.iter().filter(on_axis).collect();
    held.sort_by(|a, b| along(a).total_cmp(&along(b)));
    match held.as_slice() {
        [first, .., last] if along(last) - along(first) > near => {
            format!("shared axis {}{}", first.name, last.name)
        }
        _ => "shared axis".into(),
    }
}

/// In the plane the axis is a point: a ring, and lines of action that lead to it.
fn draw_centre(stage: &Stage, axis: &SharedAxis, sketch: &mut Sketch) {
    let middle = nalgebra::center(&stage.bounds[0], &stage.bounds[1]);
    let radius = (stage.bounds[1] - stage.bounds[0]).norm() / 2.0;
    if (axis.point - middle).norm() > FARTHEST * radius {
        return;
    }
    let centre = stage.at(&axis.point);
    let forces = stage.study.model().reactions.iter();
    let lines: Vec<Polyline> = forces
        .filter(|reaction| reaction.kind == ReactionKind::Force)
        .map(|reaction| stage.at(&reaction.point))
        .filter(|from| length(way(*from, centre)) > SHORTEST)
        .map(|from| Polyline::open([from, step(centre, unit(way(from, centre)), 9.0)]))
        .collect();
    sketch.lines("axis", lines, stage.pens.axis);
    let ring = crate::drawing::Stroke {
        dash: &[],
        ..stage.pens.axis
    };
    sketch.circle("axis", centre, 2.8, Some(ring), Some(stage.pens.paper));
    sketch.circle("axis", centre, 0.9, None, Some(stage.pens.axis.colour));
    let on_support = stage
        .study
        .model()
        .supports
        .iter()
        .any(|support| length(way(stage.at(&support.point), centre)) < 2.0);
    if !on_support {
        sketch
            .labels
            .push(label(stage, "centre of rotation", centre, [0.0, 0.0]));
    }
}
