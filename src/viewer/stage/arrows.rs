//! Reactions: slim arrows at the supports, couples as open rings; the true sign where the case decides a value.

use bevy::prelude::*;

use nalgebra::{Unit, Vector3};

use super::StageFrame;
use super::body::BodySurface;
use super::crossing::vector;
use super::drawn_over::DrawnOver;
use super::layer::{LayerCanvas, StageLayer};
use super::paint::Palette;
use super::setting::StageBody;
use super::strokes::{StrokeGroup, StrokeSize, ring, square_to};
use crate::portrayal::{self, ArrowSide, Carrier, ForceStroke};
use crate::scene::Units;
use crate::statics::{Reaction, ReactionIndex, ReactionKind};
use crate::viewer::shown::{Shown, ShownParam};
use crate::viewer::state::{LabelRole, Look, Pointed};
use crate::wording::{self, Operator, Phrase, phrase};

/// Length of an arrow.
const LENGTH: f32 = 0.34;
/// Length of the arrow of a reaction that is exactly zero.
const STUB: f32 = 0.16;
/// Radius of a couple's ring.
const RING: f32 = 0.072;
/// Where a ring sits along the arrow of the same direction.
const RING_AT: f32 = 0.2;
/// How deep in the body a force's arrow is put on the other side of its point.
const BURIED: f32 = 0.045;
/// How far strokes that would hide each other are moved apart.
const APART: f32 = 0.04;

/// A reaction on its place.
pub(crate) struct PlacedReaction<'a> {
    /// Its index in the model.
    pub index: ReactionIndex,
    reaction: &'a Reaction,
    carrier: Carrier,
    value: Option<f64>,
    units: Units,
    /// Direction in which it acts.
    way: Vec3,
    /// Where the arrow begins; the middle of the ring of a couple.
    tail: Vec3,
    /// Where it ends.
    tip: Vec3,
}

/// How much thicker strokes are that are pointed out.
const THICKER: f32 = 1.9;

/// Marks what is drawn of a reaction that is not pointed out.
#[derive(Component, Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct OfReaction(ReactionIndex);

/// Where the arrows of reactions and loads are on the stage while the body rests, by index: their ends, of rings the middle.
#[derive(Resource, Debug, Clone, Default)]
pub(crate) struct ArrowSpots {
    /// Of the reactions.
    pub(crate) reactions: Vec<(ReactionIndex, [Vec3; 2])>,
    /// Of the loads.
    pub(crate) loads: Vec<(usize, [Vec3; 2])>,
}

/// Draws all reactions.
pub(crate) fn draw_reactions(
    mut canvas: LayerCanvas,
    shown: ShownParam,
    (body, look): (Res<StageBody>, Res<Look>),
    mut spots: ResMut<ArrowSpots>,
) {
    if !shown.is_rebuilt() && !shown.selected.is_changed() && !look.is_changed() {
        return;
    }
    let frame = *canvas.frame;
    let mut painter = canvas.wipe(StageLayer::Reactions);
    spots.reactions.clear();
    if !look.reactions {
        return;
    }
    let palette = Palette::named(look.theme);
    for placed in placed(&shown.read(), &body.surface, &frame) {
        spots
            .reactions
            .push((placed.index, [placed.tail, placed.tip]));
        let text = placed.text(look.values);
        let group = placed.group((&text, LabelRole::Reaction), 1.0, palette.reaction, &frame);
        painter.strokes(group, OfReaction(placed.index));
    }
}

impl DrawnOver for OfReaction {
    fn pointed(shown: &Shown) -> Vec<Self> {
        let pointed = shown.pointed_reactions().into_iter();
        pointed.map(Self).collect()
    }
}

/// The reactions that are pointed out: thick, and numbered where they are several things of the ledger.
pub(crate) fn pointed_reactions(
    shown: &Shown,
    body: &BodySurface,
    frame: &StageFrame,
    palette: &Palette,
) -> Vec<StrokeGroup> {
    let pointed = shown.pointed_reactions();
    if pointed.is_empty() {
        return Vec::new();
    }
    let number = |index: ReactionIndex| pointed.iter().position(|other| *other == index);
    let placed = placed(shown, body, frame).into_iter();
    let numbered = placed.filter_map(|placed| {
        let number = number(placed.index)?;
        let text = match shown.lit() {
            Some(Pointed::Reaction(_)) => placed.name(),
            _ => phrase!(number + 1, ": ", placed.name()),
        };
        Some(placed.group((&text, LabelRole::Group), THICKER, palette.group, frame))
    });
    numbered.collect()
}

/// All reactions of the portrayal on their places, with their values where the case decides them.
fn placed<'a>(
    shown: &Shown<'a>,
    body: &BodySurface,
    frame: &StageFrame,
) -> Vec<PlacedReaction<'a>> {
    let model = shown.study.model();
    let answer = shown.study.diagnosis().cases.get(shown.case);
    let answer = answer.filter(|answer| answer.loaded);
    let mut placed: Vec<PlacedReaction> = Vec::new();
    for drawn in portrayal::reactions(model) {
        let value = answer.and_then(|answer| answer.values.get(drawn.index).copied().flatten());
        let (way, [tail, tip]) = match drawn.stroke {
            ForceStroke::Arrow { at, along, stance } => {
                let way = signed(&along, value);
                let at = frame.point(&at);
                (way, force((at, way, stance), value, (body, frame), &placed))
            }
            ForceStroke::Ring { at, about } => {
                let centre = frame.point(&at) + vector(&about) * RING_AT;
                (signed(&about, value), [centre; 2])
            }
            ForceStroke::Row { .. } => continue,
        };
        placed.push(PlacedReaction {
            index: drawn.index,
            reaction: &model.reactions[drawn.index],
            carrier: drawn.carrier,
            value,
            units: model.units,
            way,
            tail,
            tip,
        });
    }
    placed
}

/// Direction with the sign of the value; positive where nothing decides it.
fn signed(direction: &Unit<Vector3<f64>>, value: Option<f64>) -> Vec3 {
    match value {
        Some(value) if value < 0.0 => -vector(direction),
        _ => vector(direction),
    }
}

/// Tail and tip of a force's arrow, beside those that it would cover.
///
/// A contact's stands behind the surface that pushes, a link's along the link; others on the side that is off the body.
fn force(
    (at, way, stance): (Vec3, Vec3, ArrowSide),
    value: Option<f64>,
    (body, frame): (&BodySurface, &StageFrame),
    others: &[PlacedReaction],
) -> [Vec3; 2] {
    let length = if value == Some(0.0) { STUB } else { LENGTH };
    let pulls_away = value.is_some_and(|value| value < 0.0);
    let starts_at_point = match stance {
        ArrowSide::OnRod(_) | ArrowSide::Hanging => true,
        ArrowSide::Behind => pulls_away,
        ArrowSide::Free => {
            let buried = |side: f32| body.buries(at + way * (side * length * 0.6), BURIED);
            !buried(1.0) || buried(-1.0)
        }
    };
    let from = if starts_at_point {
        at
    } else {
        at - way * length
    };
    let aside = square_to(way, frame.up() + frame.front() * 0.3);
    let beside = match stance {
        // Beside the rod, not inside it.
        ArrowSide::OnRod(_) => aside * APART,
        _ => Vec3::ZERO,
    };
    let free = (0..8)
        .map(|step| from + beside + aside * (APART * step as f32))
        .find(|tail| !others.iter().any(|other| hides(other, *tail, way, length)));
    let tail = free.unwrap_or(from + beside);
    [tail, tail + way * length]
}

/// Whether two arrows on one line would cover each other.
fn hides(other: &PlacedReaction, tail: Vec3, way: Vec3, length: f32) -> bool {
    let run = other.tip - other.tail;
    let parallel = run.normalize_or_zero().cross(way).length() < 0.05;
    let from = other.tail - tail;
    let off_line = (from - way * from.dot(way)).length() < APART * 0.6;
    let ends = [from.dot(way), (other.tip - tail).dot(way)];
    let overlap = ends[0].min(ends[1]) < length * 0.98 && ends[0].max(ends[1]) > length * 0.02;
    parallel && off_line && overlap
}

impl PlacedReaction<'_> {
    /// What the arrow stands for: with a minus where it shows the reaction acting against its positive sense.
    /// Its name, with its size where that is asked for and known.
    fn text(&self, with_value: bool) -> Phrase {
        match self.value.filter(|_| with_value) {
            Some(value) => {
                let size = wording::reaction_value(value.abs(), self.reaction.kind, &self.units);
                phrase!(self.name(), " = ", size)
            }
            None => self.name(),
        }
    }

    fn name(&self) -> Phrase {
        match self.value {
            Some(value) if value < 0.0 => phrase!(Operator::Negative, self.reaction.symbol),
            _ => (&self.reaction.symbol).into(),
        }
    }

    fn group(
        &self,
        (text, role): (&Phrase, LabelRole),
        thicker: f32,
        colour: LinearRgba,
        frame: &StageFrame,
    ) -> StrokeGroup {
        let mut group = StrokeGroup::carried(frame, &self.carrier);
        group.colour(colour);
        let at = match self.reaction.kind {
            ReactionKind::Force => self.arrow(&mut group, thicker, role),
            ReactionKind::Couple => self.ring(&mut group, thicker, frame),
        };
        group.label(text, at, role);
        group
    }

    /// A force; where its name stands.
    fn arrow(&self, group: &mut StrokeGroup, thicker: f32, role: LabelRole) -> Vec3 {
        let gauge = StrokeSize::SLIM.thicker(thicker);
        group.arrow([self.tail, self.tip], &gauge, role);
        // The name stands at the end that is farther from the point.
        let at = group.anchor.map_or(self.tail, |at| group.on_stage(&at));
        if self.tip.distance(at) >= self.tail.distance(at) {
            self.tip + self.way * 0.035
        } else {
            self.tail - self.way * 0.035
        }
    }

    /// A couple; where its name stands.
    fn ring(&self, group: &mut StrokeGroup, thicker: f32, frame: &StageFrame) -> Vec3 {
        let none = self.value == Some(0.0);
        let radius = if none { RING * 0.6 } else { RING };
        let gauge = StrokeSize::RING.thicker(thicker);
        ring(&mut group.draft, self.tail, self.way, radius, &gauge);
        let along = vector(&self.reaction.direction);
        let beside = square_to(along, frame.up() * 0.8 - frame.front() * 0.2);
        self.tail + beside * (RING + 0.035)
    }
}
