//! Reactions: slim arrows and rings with their names, and their values where equilibrium decides them.

use nalgebra::{Point3, Unit, Vector3};

use super::arrows::{Arrow, END_ON, Head, arc, towards_viewer};
use super::pens::VALUE;
use super::settings::FigurePart;
use super::sketch::{Sketch, SketchLabel, Spot, length, step, unit, way};
use super::stage::Stage;
use crate::document::runs;
use crate::portrayal::{self, ArrowSide, ForceStroke};
use crate::statics::ReactionIndex;
use crate::wording::{self, Operator, phrase};

/// Length of an arrow, and the least where it is foreshortened.
const LENGTHS: [f64; 2] = [27.0, 17.0];
/// How far hardware reaches from the point that it holds; arrows begin or end there.
const HARDWARE: f64 = 13.0;
/// How far a ring lies from the point, beyond the arrow.
const RING_AT: f64 = 37.0;
/// Radius of a ring in space, and in the plane, where it goes around the point.
const RINGS: [f64; 2] = [7.0, 15.0];

/// Draws every reaction.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    for reaction in portrayal::reactions(stage.study.model()) {
        let index = reaction.index;
        match reaction.stroke {
            ForceStroke::Arrow { at, along, stance } => {
                force(stage, index, (at, along, stance), sketch);
            }
            ForceStroke::Ring { at, about } => couple(stage, index, (at, about), sketch),
            ForceStroke::Row { .. } => {}
        }
    }
}

fn pen(stage: &Stage) -> Arrow {
    Arrow {
        role: "reaction",
        stroke: stage.pens.reaction,
        head: Head::Slim,
    }
}

fn label(stage: &Stage, index: ReactionIndex, anchor: Spot, prefer: Spot) -> SketchLabel {
    let model = stage.study.model();
    let reaction = &model.reactions[index];
    let cases = &stage.study.diagnosis().cases;
    let case = cases.get(stage.settings.case).filter(|case| case.loaded);
    let value = case.and_then(|case| case.values.get(index).copied().flatten());
    let text = match value {
        Some(value) if stage.shows(FigurePart::Values) => phrase!(
            &reaction.symbol,
            Operator::Equals,
            wording::acting(model, reaction, value)
        ),
        _ => (&reaction.symbol).into(),
    };
    SketchLabel {
        role: "reaction",
        anchor,
        prefer,
        runs: runs(&text),
        letters: VALUE,
        colour: stage.pens.reaction.colour,
        rank: 2,
    }
}

fn force(
    stage: &Stage,
    index: ReactionIndex,
    (at, direction, stance): (Point3<f64>, Unit<Vector3<f64>>, ArrowSide),
    sketch: &mut Sketch,
) {
    let (spot, seen) = (stage.at(&at), stage.direction(&at, &direction));
    if length(seen) < END_ON {
        pen(stage).draw_end_on(sketch, spot, towards_viewer(stage, &at, &direction));
        sketch.labels.push(label(stage, index, spot, [0.0, 0.0]));
        return;
    }
    let ahead = unit(seen);
    let long = (LENGTHS[0] * length(seen)).max(LENGTHS[1]);
    let (tail, tip) = place(stage, stance, spot, ahead, long);
    pen(stage).draw(sketch, tail, tip);
    // The name stands at the end that is farther from the point.
    let outer = if length(way(spot, tip)) > length(way(spot, tail)) {
        tip
    } else {
        tail
    };
    let prefer = unit(way(spot, outer));
    sketch.labels.push(label(stage, index, outer, prefer));
}

/// Tail and tip: along a link or cable; behind a surface that pushes; else on the side of the point that is off the body.
fn place(stage: &Stage, stance: ArrowSide, spot: Spot, ahead: Spot, long: f64) -> (Spot, Spot) {
    let gap = if stage.shows(FigurePart::Supports) {
        HARDWARE
    } else {
        1.5
    };
    let between = |from: f64, to: f64| (step(spot, ahead, from), step(spot, ahead, to));
    match stance {
        ArrowSide::OnRod(ground) => {
            let ground = stage.at(&ground);
            let room = length(way(spot, ground));
            // Over the link where it is long enough, else beyond its ground end.
            if !stage.shows(FigurePart::Supports) {
                between(1.5, 1.5 + long)
            } else if room > long + 9.0 {
                between(5.0, 5.0 + long)
            } else {
                between(room + 8.0, room + 8.0 + long)
            }
        }
        ArrowSide::Behind => between(-gap - long, -gap),
        ArrowSide::Free | ArrowSide::Hanging => {
            let far = 5.0 + long;
            let cover = |side: f64| stage.covered_share(spot, step(spot, ahead, side * far));
            if cover(-1.0) < cover(1.0) - 0.2 {
                between(-4.0 - long, -4.0)
            } else {
                between(4.0, far)
            }
        }
    }
}

fn couple(
    stage: &Stage,
    index: ReactionIndex,
    (at, about): (Point3<f64>, Unit<Vector3<f64>>),
    sketch: &mut Sketch,
) {
    let axis = about.into_inner();
    let seen = stage.direction(&at, &axis);
    let (centre, radius) = if length(seen) < END_ON {
        (at, RINGS[1])
    } else {
        (ring_centre(stage, &at, &about), RINGS[0])
    };
    let points = arc(stage, &centre, &axis, radius, [0.6, 4.9]);
    pen(stage).draw_along(sketch, &points);
    let spot = stage.at(&at);
    let far = |point: &Spot| length(way(spot, *point));
    let outer = points
        .iter()
        .copied()
        .max_by(|a, b| far(a).total_cmp(&far(b)));
    let outer = outer.unwrap_or(spot);
    sketch
        .labels
        .push(label(stage, index, outer, unit(way(spot, outer))));
}

/// On the couple's axis beyond the force's arrow, on the side that is off the body.
fn ring_centre(stage: &Stage, at: &Point3<f64>, axis: &Unit<Vector3<f64>>) -> Point3<f64> {
    let reach = RING_AT * stage.unit();
    let place = |side: f64| at + axis.into_inner() * (reach * side);
    let spot = stage.at(at);
    let cover = |side: f64| stage.covered_share(spot, stage.at(&place(side)));
    place(if cover(-1.0) < cover(1.0) - 0.2 {
        -1.0
    } else {
        1.0
    })
}
