//! Reactions: slim arrows and rings with their names, and their values where equilibrium decides them.

use nalgebra::{Point3, Unit, Vector3};

use super::arrows::{Arrow, END_ON, Head, arc, towards_viewer};
use super::pens::VALUE;
use super::settings::FigurePart;
use super::sketch::{Sketch, SketchLabel, Spot, length, step, unit, way};
use super::stage::Stage;
use crate::portrayal::{self, ArrowSide, ForceStroke};
use crate::statics::ReactionIndex;
use crate::wording::{self, Operator, phrase};

/// Length of an arrow, and the least where it is foreshortened.
const LENGTHS: [f64; 2] = [27.0, 17.0];
/// How far hardware reaches from the point that it holds: an arrow that comes through it is as much longer.
const HARDWARE: f64 = 13.0;
/// Between an arrow and the point at which it acts.
const GAP: f64 = 1.5;
/// The same beside the ring of a pin, and beside the eye of a link.
const OFF_PIN: f64 = 3.0;
const OFF_EYE: f64 = 4.0;
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
                let at = acting_at(stage, index, at, stance);
                force(stage, index, (at, along, stance), sketch);
            }
            ForceStroke::Ring { at, about } => couple(stage, index, (at, about), sketch),
            ForceStroke::Row { .. } => {}
        }
    }
}

/// Where an arrow starts: that of a surface where it touches the body.
fn acting_at(
    stage: &Stage,
    index: ReactionIndex,
    at: Point3<f64>,
    stance: ArrowSide,
) -> Point3<f64> {
    let model = stage.study.model();
    let support = &model.supports[model.reactions[index].support];
    match stance {
        ArrowSide::Behind => at + (portrayal::touched(&stage.solids, support) - support.point),
        _ => at,
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
        is_fixed: false,
        runs: stage.runs(&text),
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
    let with_supports = stage.shows(FigurePart::Supports);
    let between = |from: f64, to: f64| (step(spot, ahead, from), step(spot, ahead, to));
    match stance {
        ArrowSide::OnRod(ground) => {
            let room = length(way(spot, stage.at(&ground)));
            let from = if with_supports { OFF_EYE } else { GAP };
            // Over the link; along a short one so far that its head lies beyond the ground.
            let is_short = with_supports && room <= long + 9.0;
            let beyond = if is_short { room + HARDWARE } else { 0.0 };
            between(from, beyond.max(from + long))
        }
        ArrowSide::Behind => {
            let more = if with_supports { HARDWARE } else { 0.0 };
            between(-GAP - long.max(more + LENGTHS[1]), -GAP)
        }
        ArrowSide::Free | ArrowSide::Hanging => {
            let off = if with_supports { OFF_PIN } else { GAP };
            let far = off + long;
            let cover = |side: f64| stage.covered_share(spot, step(spot, ahead, side * far));
            if cover(-1.0) < cover(1.0) - 0.2 {
                between(-far, -off)
            } else {
                between(off, far)
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

#[cfg(test)]
mod tests {
    use super::super::FigureSettings;
    use super::*;
    use crate::scene::builtin;
    use crate::study::Study;
    use nalgebra::Isometry3;

    /// Arrows stood behind the ground of contacts, and beyond that of short links.
    #[test]
    fn every_force_starts_or_ends_where_it_acts() {
        for built_in in builtin::all() {
            let study = Study::open(built_in.name).unwrap();
            for parts in [&FigurePart::USUAL[..], &FigurePart::FREE_BODY] {
                let settings = FigureSettings {
                    parts: parts.iter().copied().collect(),
                    ..FigureSettings::default()
                };
                let mut stage = Stage::new(&study, &settings, Isometry3::identity());
                stage.scale = 200.0 / (stage.bounds[1] - stage.bounds[0]).norm();
                for reaction in portrayal::reactions(study.model()) {
                    let ForceStroke::Arrow { at, along, stance } = reaction.stroke else {
                        continue;
                    };
                    let (spot, seen) = (stage.at(&at), stage.direction(&at, &along));
                    if length(seen) < END_ON {
                        continue;
                    }
                    let (tail, tip) = place(&stage, stance, spot, unit(seen), LENGTHS[0]);
                    let off = length(way(spot, tail)).min(length(way(spot, tip)));
                    assert!(off <= OFF_EYE + 1e-9, "{}: {off}", built_in.name);
                }
            }
        }
    }
}
