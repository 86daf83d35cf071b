//! Loads: heavy arrows with block heads, rows of arrows for distributed ones, rings for couples, each with its value.

use bevy::prelude::*;
use nalgebra::Vector3;

use super::StageFrame;
use super::body::BodySurface;
use super::crossing::vector;
use super::layer::{Canvas, StageLayer};
use super::paint::Palette;
use super::setting::StageBody;
use super::strokes::{Gauge, Group, ring};
use crate::portrayal::{self, ForceStroke, Load, Stance};
use crate::viewer::shown::ShownParam;
use crate::viewer::state::{LabelRole, Look};
use crate::wording::Phrase;

/// Length of a load's arrow.
const LENGTH: f32 = 0.4;
/// Length of the longest arrow of a row.
const ROW: f32 = 0.22;
/// Distance between the arrows of a row.
const PITCH: f32 = 0.13;
/// Radius of a couple's ring.
const RING: f32 = 0.14;

/// Draws the loads of the case shown, with their values.
pub(crate) fn draw_loads(
    mut canvas: Canvas,
    shown: ShownParam,
    (body, look): (Res<StageBody>, Res<Look>),
) {
    if !shown.is_rebuilt() && !shown.selected.is_changed() && !look.is_changed() {
        return;
    }
    let frame = *canvas.frame;
    let mut painter = canvas.wipe(StageLayer::Loads);
    if !look.loads {
        return;
    }
    let palette = Palette::named(look.theme);
    let shown = shown.read();
    for load in portrayal::loads(shown.study.model(), shown.case) {
        painter.strokes(load_group(&load, &body.surface, &frame, &palette), ());
    }
}

fn load_group(load: &Load, body: &BodySurface, frame: &StageFrame, palette: &Palette) -> Group {
    let mut group = Group::carried(frame, &load.carrier);
    group.colour(palette.load);
    let text = load.values.first().map(|(_, text)| text.clone());
    let text = &text.unwrap_or_default();
    match &load.stroke {
        ForceStroke::Arrow { at, along, stance } => {
            let (at, way) = (frame.point(at), vector(along));
            match stance {
                Stance::Hanging => hanging(&mut group, at, way, text),
                _ => single(&mut group, at, way, body, text),
            }
        }
        ForceStroke::Ring { at, about } => {
            let centre = frame.point(at);
            ring(&mut group.draft, centre, vector(about), RING, &Gauge::HEAVY);
            group.label(text, centre + frame.up() * (RING + 0.07), LabelRole::Load);
        }
        ForceStroke::Row { ends, densities } => {
            let ends = ends.map(|end| frame.point(&end));
            row(&mut group, ends, densities, &load.values);
        }
    }
    group
}

/// A weight hangs from its centre.
fn hanging(group: &mut Group, tail: Vec3, way: Vec3, text: &Phrase) {
    let tip = tail + way * LENGTH;
    group.arrow([tail, tip], &Gauge::HEAVY, LabelRole::Load);
    group.draft.ball(tail, Gauge::HEAVY.shaft * 1.7);
    group.label(text, tail + way * (LENGTH + 0.05), LabelRole::Load);
}

/// Pushes at the point or pulls from it, whichever leaves the arrow outside the body.
fn single(group: &mut Group, at: Vec3, way: Vec3, body: &BodySurface, text: &Phrase) {
    let clear = |side: f32| body.girth(at + way * (side * LENGTH * 0.7));
    let pulls = clear(1.0) > 1.15 * clear(-1.0);
    let (tail, tip) = if pulls {
        (at, at + way * LENGTH)
    } else {
        (at - way * LENGTH, at)
    };
    group.arrow([tail, tip], &Gauge::HEAVY, LabelRole::Load);
    let outer = if pulls {
        tip + way * 0.05
    } else {
        tail - way * 0.05
    };
    group.label(text, outer, LabelRole::Load);
}

/// Arrows with their tips on the segment, as long as the density there, and a line over their tails.
fn row(
    group: &mut Group,
    ends: [Vec3; 2],
    densities: &[Vector3<f64>; 2],
    values: &[(f64, Phrase)],
) {
    let count = ((ends[0].distance(ends[1]) / PITCH).round() as usize).clamp(3, 24);
    let at = |part: f64| {
        let density = densities[0].lerp(&densities[1], part);
        let tip = ends[0].lerp(ends[1], part as f32);
        (tip - vector(&density) * ROW, tip)
    };
    for (tail, tip) in (0..=count).map(|i| at(i as f64 / count as f64)) {
        if tail.distance(tip) > 0.03 {
            group.arrow([tail, tip], &Gauge::ROW, LabelRole::Load);
        }
    }
    let (first, last) = (at(0.0).0, at(1.0).0);
    group.draft.faceted_rod(first, last, Gauge::ROW.shaft, 4);
    for (share, text) in values {
        let (tail, tip) = at(*share);
        let out = (tail - tip).normalize_or_zero();
        group.label(text, tail + out * 0.06, LabelRole::Load);
    }
}
