//! Reactions: slim arrows at the supports, couples as open rings; the true sign where the case decides a value.

use bevy::prelude::*;

use super::StageFrame;
use super::crossing::vector;
use super::paint::Palette;
use super::strokes::{Gauge, Group, arrow, ring, square_to};
use crate::statics::{CaseAnswer, Model, Reaction, ReactionKind};
use crate::viewer::state::LabelRole;

/// Length of an arrow.
const LENGTH: f32 = 0.34;
/// Length of the arrow of a reaction that is exactly zero.
const STUB: f32 = 0.16;
/// Radius of a couple's ring.
const RING: f32 = 0.072;
/// Where a ring sits along the arrow of the same direction.
const RING_AT: f32 = 0.2;
/// How far strokes that would hide each other are moved apart.
const APART: f32 = 0.04;

/// A drawn arrow, to keep the next ones off it.
struct Drawn {
    tail: Vec3,
    tip: Vec3,
}

/// How much thicker strokes are that are pointed out.
const THICKER: f32 = 1.9;

/// How a reaction is drawn.
struct Style {
    thicker: f32,
    text: String,
    role: LabelRole,
}

impl Style {
    /// Thick and numbered where it is pointed out, at this place among those.
    fn of(name: &str, place: Option<usize>) -> Self {
        match place {
            Some(place) => Self {
                thicker: THICKER,
                text: format!("{}: {name}", place + 1),
                role: LabelRole::Group,
            },
            None => Self {
                thicker: 1.0,
                text: name.to_owned(),
                role: LabelRole::Reaction,
            },
        }
    }
}

/// Strokes and names of all reactions, one group for each support; those pointed out by index stand out.
pub(crate) fn reactions(
    model: &Model,
    answer: Option<&CaseAnswer>,
    pointed: &[usize],
    frame: &StageFrame,
    palette: &Palette,
) -> Vec<Group> {
    let mut drawn = Vec::new();
    let groups = model.supports.iter().map(|support| {
        let mut group = Group::new(frame, Some(support.point));
        group.ground = support.ground;
        for index in support.reactions.clone() {
            let reaction = &model.reactions[index];
            let value = answer.and_then(|answer| answer.values.get(index).copied().flatten());
            let place = pointed.iter().position(|other| *other == index);
            let style = Style::of(&name(reaction, value), place);
            group.colour(match style.role {
                LabelRole::Group => palette.group,
                _ => palette.reaction,
            });
            match reaction.kind {
                ReactionKind::Force => {
                    force(
                        &mut group,
                        (reaction, &style),
                        model,
                        value,
                        frame,
                        &mut drawn,
                    );
                }
                ReactionKind::Couple => couple(&mut group, (reaction, &style), value, frame),
            }
        }
        group
    });
    groups.collect()
}

/// What the arrow stands for: with a minus where it shows the reaction acting against its positive sense.
fn name(reaction: &Reaction, value: Option<f64>) -> String {
    match value {
        Some(value) if value < 0.0 => format!("\u{2212}{}", reaction.name),
        _ => reaction.name.clone(),
    }
}

/// Direction with the sign of the value; positive where nothing decides it.
fn signed(reaction: &Reaction, value: Option<f64>) -> Vec3 {
    let direction = vector(&reaction.direction);
    match value {
        Some(value) if value < 0.0 => -direction,
        _ => direction,
    }
}

fn force(
    group: &mut Group,
    (reaction, style): (&Reaction, &Style),
    model: &Model,
    value: Option<f64>,
    frame: &StageFrame,
    drawn: &mut Vec<Drawn>,
) {
    let way = signed(reaction, value);
    let length = if value == Some(0.0) { STUB } else { LENGTH };
    let point = frame.point(&reaction.point);
    let aside = square_to(way, frame.up() + frame.front() * 0.3);
    let beside = match model.supports[reaction.support].ground {
        // Beside the rod, not inside it.
        Some(_) => aside * APART,
        None => Vec3::ZERO,
    };
    let free = (0..8)
        .map(|step| point + beside + aside * (APART * step as f32))
        .find(|tail| !drawn.iter().any(|other| hides(other, *tail, way, length)));
    let tail = free.unwrap_or(point + beside);
    let tip = tail + way * length;
    let gauge = Gauge::SLIM.thicker(style.thicker);
    arrow(&mut group.draft, tail, tip, &gauge);
    drawn.push(Drawn { tail, tip });
    group.label(&style.text, tip + way * 0.035, style.role);
}

/// Whether two arrows on one line would cover each other.
fn hides(other: &Drawn, tail: Vec3, way: Vec3, length: f32) -> bool {
    let run = other.tip - other.tail;
    let parallel = run.normalize_or_zero().cross(way).length() < 0.05;
    let from = other.tail - tail;
    let off_line = (from - way * from.dot(way)).length() < APART * 0.6;
    let ends = [from.dot(way), (other.tip - tail).dot(way)];
    let overlap = ends[0].min(ends[1]) < length * 0.98 && ends[0].max(ends[1]) > length * 0.02;
    parallel && off_line && overlap
}

fn couple(
    group: &mut Group,
    (reaction, style): (&Reaction, &Style),
    value: Option<f64>,
    frame: &StageFrame,
) {
    let about = signed(reaction, value);
    let along = vector(&reaction.direction);
    let centre = frame.point(&reaction.point) + along * RING_AT;
    let radius = if value == Some(0.0) { RING * 0.6 } else { RING };
    let gauge = Gauge::RING.thicker(style.thicker);
    ring(&mut group.draft, centre, about, radius, &gauge);
    let beside = square_to(along, frame.up() * 0.8 - frame.front() * 0.2);
    let at = centre + beside * (RING + 0.035);
    group.label(&style.text, at, style.role);
}
