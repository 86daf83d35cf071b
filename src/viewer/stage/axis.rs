//! The axis of the selected motion: a dash-dot rod through the whole scene, with a bead where each reaction meets it.

use bevy::prelude::*;

use super::StageFrame;
use super::crossing::vector;
use super::paint::{Palette, between};
use super::strokes::{StrokeGroup, dashes};
use crate::motion::Course;
use crate::portrayal::{Bead, DrawnAxis};
use crate::scene::Space;
use crate::statics::{Meeting, Model, MotionKind};
use crate::viewer::state::LabelRole;
use crate::wording::{self, Phrase, phrase};

/// Radius of the rod.
const RADIUS: f32 = 0.0078;
/// Radius of a bead.
const BEAD: f32 = 0.026;
/// How far the rod reaches beyond what lies along it.
const BEYOND: f32 = 0.28;
/// Beads farther from the middle than this are not drawn: the scene would shrink to a speck.
const FARTHEST: f32 = 1.7;
/// Stroke, gap, dot, gap.
const DASH_DOT: [f32; 4] = [0.11, 0.032, 0.018, 0.032];

/// Strokes of the axis of a motion.
pub(crate) fn strokes(
    axis: &DrawnAxis,
    (model, course, meetings): (&Model, &Course, &[Meeting]),
    frame: &StageFrame,
    palette: &Palette,
) -> StrokeGroup {
    let mut group = StrokeGroup::new(frame, None);
    let beads: Vec<Vec3> = axis
        .beads
        .iter()
        .filter_map(|bead| draw_leads(bead, frame, &mut group, palette))
        .collect();
    let [from, to] = reach(axis, &beads, frame);
    rod(&mut group, from, to, palette);
    for bead in &beads {
        group.colour(palette.axis).ball(*bead, BEAD);
    }
    let at = from.lerp(to, 1.0 - 0.1 * BEYOND / from.distance(to).max(BEYOND));
    group.label(words(model, course, meetings), at, LabelRole::Axis);
    group
}

/// Ends of the rod, beyond everything that lies along it.
fn reach(axis: &DrawnAxis, beads: &[Vec3], frame: &StageFrame) -> [Vec3; 2] {
    let way = vector(&axis.line.direction);
    let [low, high] = axis.span.map(|distance| frame.point(&axis.at(distance)));
    let start = |a: Vec3, b: &Vec3| if b.dot(way) < a.dot(way) { *b } else { a };
    let end = |a: Vec3, b: &Vec3| if b.dot(way) > a.dot(way) { *b } else { a };
    let first = beads.iter().fold(low, start);
    let last = beads.iter().fold(high, end);
    [first - way * BEYOND, last + way * BEYOND]
}

/// Fine lines that lead to a bead from the supports that stand off; where the bead is.
fn draw_leads(
    bead: &Bead,
    frame: &StageFrame,
    group: &mut StrokeGroup,
    palette: &Palette,
) -> Option<Vec3> {
    let at = frame.point(&bead.at);
    if !at.is_finite() || at.length() > FARTHEST {
        return None;
    }
    let away = bead.from.iter().map(|point| frame.point(point));
    for from in away.filter(|from| from.distance(at) > 2.0 * BEAD) {
        group.colour(between(palette.reaction, palette.background, 0.3));
        dashes(&mut group.draft, from, at, 0.0035, &[0.02, 0.02]);
    }
    Some(at)
}

fn words(model: &Model, course: &Course, meetings: &[Meeting]) -> Phrase {
    let motion = course.motion;
    if course.route.is_some() && motion.kind == MotionKind::Rotation {
        // The reactions that the body leaves do not meet this axis.
        return match model.space {
            Space::Planar => "the body rotates about this point".into(),
            Space::Spatial => "the body rotates about this line".into(),
        };
    }
    if model.reactions.is_empty() {
        return "free to rotate about this line".into();
    }
    match (motion.kind, model.space) {
        (MotionKind::Screw { pitch }, _) => {
            let per_turn = pitch.abs() * std::f64::consts::TAU;
            let text = wording::length(per_turn, &model.units);
            let hand = if pitch > 0.0 { "right" } else { "left" };
            let free = if course.route.is_some() { "" } else { "free " };
            phrase!(free, hand, "-handed screw: ", text, " per turn")
        }
        (_, Space::Planar) => "all reactions pass through this point".into(),
        _ if meetings.contains(&Meeting::Parallel) => {
            "all reactions meet this line or are parallel to it".into()
        }
        _ => "all reactions meet this line".into(),
    }
}

/// Dash-dot rod whose ends thin out into the background.
fn rod(group: &mut StrokeGroup, from: Vec3, to: Vec3, palette: &Palette) {
    let length = from.distance(to);
    let way = (to - from).normalize_or_zero();
    let mut at = 0.0;
    for (i, step) in DASH_DOT.iter().cycle().enumerate() {
        if at >= length {
            break;
        }
        if i % 2 == 0 {
            let end = (at + step).min(length);
            let edge = ((at + end) / 2.0).min(length - (at + end) / 2.0);
            let strength = (edge / BEYOND).clamp(0.0, 1.0);
            group.colour(between(
                palette.background,
                palette.axis,
                0.15 + 0.85 * strength,
            ));
            let radius = RADIUS * (0.35 + 0.65 * strength);
            group
                .draft
                .faceted_rod(from + way * at, from + way * end, radius, 10);
        }
        at += step;
    }
}
