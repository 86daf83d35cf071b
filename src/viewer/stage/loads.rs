//! Loads: heavy arrows with block heads, rows of arrows for distributed ones, rings for couples, each with its value.

use bevy::prelude::*;
use nalgebra::Vector3;

use super::StageFrame;
use super::arrows::ArrowSpots;
use super::body::BodySurface;
use super::crossing::vector;
use super::drawn_over::DrawnOver;
use super::layer::{LayerCanvas, StageLayer};
use super::paint::Palette;
use super::setting::StageBody;
use super::strokes::{StrokeGroup, StrokeSize, ring};
use crate::portrayal::{self, ArrowSide, DrawnLoad, ForceStroke};
use crate::viewer::shown::{Shown, ShownParam};
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
    mut canvas: LayerCanvas,
    shown: ShownParam,
    (body, look): (Res<StageBody>, Res<Look>),
    mut spots: ResMut<ArrowSpots>,
) {
    if !shown.is_rebuilt() && !shown.selected.is_changed() && !look.is_changed() {
        return;
    }
    let frame = *canvas.frame;
    let mut painter = canvas.wipe(StageLayer::Loads);
    spots.loads.clear();
    if !look.loads {
        return;
    }
    let palette = Palette::named(look.theme);
    let shown = shown.read();
    for load in portrayal::loads(shown.study.model(), shown.case) {
        let pen = LoadStyle {
            colour: palette.load,
            thicker: 1.0,
            role: LabelRole::Load,
        };
        spots
            .loads
            .push((load.index, ends(&load, &body.surface, &frame)));
        let group = load_group(&load, &body.surface, &frame, &pen);
        painter.strokes(group, OfLoad(load.index));
    }
}

/// Marks what is drawn of a load that is not pointed out.
#[derive(Component, Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct OfLoad(usize);

impl DrawnOver for OfLoad {
    fn pointed(shown: &Shown) -> Vec<Self> {
        let loads = &shown.study.model().cases[shown.case].loads;
        let pointed = (0..loads.len()).filter(|index| shown.is_load_pointed(*index));
        pointed.map(Self).collect()
    }
}

/// The loads that are pointed out: thick.
pub(crate) fn pointed_loads(
    shown: &Shown,
    body: &BodySurface,
    frame: &StageFrame,
    palette: &Palette,
) -> Vec<StrokeGroup> {
    let pen = LoadStyle {
        colour: palette.group,
        thicker: THICKER,
        role: LabelRole::Group,
    };
    let loads = portrayal::loads(shown.study.model(), shown.case).into_iter();
    loads
        .filter(|load| shown.is_load_pointed(load.index))
        .map(|load| load_group(&load, body, frame, &pen))
        .collect()
}

/// How a load is drawn.
struct LoadStyle {
    colour: LinearRgba,
    thicker: f32,
    role: LabelRole,
}

/// How much thicker loads are that are pointed out.
const THICKER: f32 = 1.4;

/// Where a load's stroke begins and ends; of a ring its middle.
fn ends(load: &DrawnLoad, body: &BodySurface, frame: &StageFrame) -> [Vec3; 2] {
    match &load.stroke {
        ForceStroke::Arrow { at, along, stance } => {
            let (at, way) = (frame.point(at), vector(along));
            match stance {
                ArrowSide::Hanging => [at, at + way * LENGTH],
                _ => off_body(at, way, body),
            }
        }
        ForceStroke::Ring { at, .. } => [frame.point(at); 2],
        ForceStroke::Row { ends, .. } => ends.map(|end| frame.point(&end)),
    }
}

fn load_group(
    load: &DrawnLoad,
    body: &BodySurface,
    frame: &StageFrame,
    pen: &LoadStyle,
) -> StrokeGroup {
    let mut group = StrokeGroup::carried(frame, &load.carrier);
    group.colour(pen.colour);
    let spot = ends(load, body, frame);
    let text = load.values.first().map(|(_, text)| text.clone());
    let text = &text.unwrap_or_default();
    match &load.stroke {
        ForceStroke::Arrow { at, stance, .. } => match stance {
            ArrowSide::Hanging => hanging(&mut group, spot, pen, text),
            _ => single(&mut group, frame.point(at), spot, pen, text),
        },
        ForceStroke::Ring { about, .. } => {
            let gauge = StrokeSize::HEAVY.thicker(pen.thicker);
            ring(&mut group.draft, spot[0], vector(about), RING, &gauge);
            group.label(text, spot[0] + frame.up() * (RING + 0.07), pen.role);
        }
        ForceStroke::Row { densities, .. } => row(&mut group, spot, densities, (&load.values, pen)),
    }
    group
}

/// A weight hangs from its centre.
fn hanging(group: &mut StrokeGroup, [tail, tip]: [Vec3; 2], pen: &LoadStyle, text: &Phrase) {
    let (gauge, way) = (
        StrokeSize::HEAVY.thicker(pen.thicker),
        (tip - tail).normalize(),
    );
    group.arrow([tail, tip], &gauge, pen.role);
    group.draft.ball(tail, gauge.shaft * 1.7);
    group.label(text, tip + way * 0.05, pen.role);
}

/// Pushes at the point or pulls from it, whichever leaves the arrow outside the body.
fn off_body(at: Vec3, way: Vec3, body: &BodySurface) -> [Vec3; 2] {
    let clear = |side: f32| body.girth(at + way * (side * LENGTH * 0.7));
    match clear(1.0) > 1.15 * clear(-1.0) {
        true => [at, at + way * LENGTH],
        false => [at - way * LENGTH, at],
    }
}

/// An arrow that acts at a point, one of its ends; its value is at the other.
fn single(
    group: &mut StrokeGroup,
    at: Vec3,
    [tail, tip]: [Vec3; 2],
    pen: &LoadStyle,
    text: &Phrase,
) {
    group.arrow(
        [tail, tip],
        &StrokeSize::HEAVY.thicker(pen.thicker),
        pen.role,
    );
    let way = (tip - tail).normalize();
    let outer = if tail == at {
        tip + way * 0.05
    } else {
        tail - way * 0.05
    };
    group.label(text, outer, pen.role);
}

/// Arrows with their tips on the segment, as long as the density there, and a line over their tails.
fn row(
    group: &mut StrokeGroup,
    ends: [Vec3; 2],
    densities: &[Vector3<f64>; 2],
    (values, pen): (&[(f64, Phrase)], &LoadStyle),
) {
    let gauge = StrokeSize::ROW.thicker(pen.thicker);
    let count = ((ends[0].distance(ends[1]) / PITCH).round() as usize).clamp(3, 24);
    let at = |part: f64| {
        let density = densities[0].lerp(&densities[1], part);
        let tip = ends[0].lerp(ends[1], part as f32);
        (tip - vector(&density) * ROW, tip)
    };
    for (tail, tip) in (0..=count).map(|i| at(i as f64 / count as f64)) {
        if tail.distance(tip) > 0.03 {
            group.arrow([tail, tip], &gauge, pen.role);
        }
    }
    let (first, last) = (at(0.0).0, at(1.0).0);
    group.draft.faceted_rod(first, last, gauge.shaft, 4);
    for (share, text) in values {
        let (tail, tip) = at(*share);
        let out = (tail - tip).normalize_or_zero();
        group.label(text, tail + out * 0.06, pen.role);
    }
}
