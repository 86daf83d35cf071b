//! The axis of the selected motion: a dash-dot rod through the whole scene, with a bead where each reaction meets it.

use bevy::prelude::*;

use super::StageFrame;
use super::crossing::vector;
use super::paint::{Palette, between};
use super::strokes::{Group, dashes};
use crate::motion::Course;
use crate::scene::Space;
use crate::statics::{Meeting, Model, MotionKind, SharedAxis};
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

/// The axis of a motion; nothing for a translation.
pub(crate) fn axis(
    model: &Model,
    course: &Course,
    shared: Option<&SharedAxis>,
    seen: &[Vec3],
    frame: &StageFrame,
    palette: &Palette,
) -> Option<Group> {
    let motion = course.motion;
    if motion.kind == MotionKind::Translation {
        return None;
    }
    let mut group = Group::new(frame, None);
    let way = vector(&motion.direction);
    let point = frame.point(&motion.point);
    let middle = point - way * point.dot(way);
    let meetings = shared.map_or(&[][..], |shared| &shared.meetings);
    let beads = beads(model, meetings, frame, &mut group, palette);
    let (low, high) = seen
        .iter()
        .chain(&beads)
        .map(|p| p.dot(way))
        .fold((f32::INFINITY, f32::NEG_INFINITY), |(l, h), x| {
            (l.min(x), h.max(x))
        });
    let (low, high) = if low <= high { (low, high) } else { (0.0, 0.0) };
    rod(
        &mut group,
        middle + way * (low - BEYOND),
        middle + way * (high + BEYOND),
        palette,
    );
    for bead in &beads {
        group.colour(palette.axis).ball(*bead, BEAD);
    }
    let at = middle + way * (high + BEYOND * 0.9);
    group.label(words(model, course, meetings), at, LabelRole::Axis);
    Some(group)
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
        (MotionKind::Screw, _) => {
            let per_turn = motion.pitch.abs() * std::f64::consts::TAU;
            let text = wording::length(per_turn, &model.units);
            let hand = if motion.pitch > 0.0 { "right" } else { "left" };
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

/// Where reactions meet the axis, each place once; a fine line leads there from a support that stands off.
fn beads(
    model: &Model,
    meetings: &[Meeting],
    frame: &StageFrame,
    group: &mut Group,
    palette: &Palette,
) -> Vec<Vec3> {
    let mut beads: Vec<Vec3> = Vec::new();
    for (reaction, meeting) in model.reactions.iter().zip(meetings) {
        let Meeting::At(place) = meeting else {
            continue;
        };
        let bead = frame.point(place);
        if !bead.is_finite() || bead.length() > FARTHEST {
            continue;
        }
        let from = frame.point(&reaction.point);
        if from.distance(bead) > 2.0 * BEAD {
            group.colour(between(palette.reaction, palette.background, 0.3));
            dashes(&mut group.draft, from, bead, 0.0035, &[0.02, 0.02]);
        }
        if beads.iter().all(|other| other.distance(bead) > 0.2 * BEAD) {
            beads.push(bead);
        }
    }
    beads
}

/// Dash-dot rod whose ends thin out into the background.
fn rod(group: &mut Group, from: Vec3, to: Vec3, palette: &Palette) {
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
