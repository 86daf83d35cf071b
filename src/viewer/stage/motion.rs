//! The motion shown: its axis, its paths, and the body as a ghost at its ends.

use bevy::prelude::*;

use super::layer::{LayerCanvas, StageLayer};
use super::mesh_builder::MeshBuilder;
use super::paint::{Light, Paint, Palette, between};
use super::setting::{StageBody, Swing};
use super::{axis, point_path};
use crate::motion::Selection;
use crate::portrayal::DrawnAxis;
use crate::viewer::shown::ShownParam;
use crate::viewer::state::Look;

/// Opacity of a ghost.
const GHOST: f32 = 0.24;
/// The same before a light background, where what is dark and thin fades.
const GHOST_ON_PAPER: f32 = 0.38;
/// How much brighter than its strokes a ghost is before a light background: a film of dark green there looks grey.
const BRIGHTER: f32 = 4.0;

/// Draws the motion shown.
pub(crate) fn draw_motion(
    mut canvas: LayerCanvas,
    shown: ShownParam,
    (body, swing, look): (Res<StageBody>, Res<Swing>, Res<Look>),
) {
    let changed = shown.is_rebuilt() || shown.selected.is_changed() || look.is_changed();
    if !changed && !swing.is_changed() {
        return;
    }
    let shown = shown.read();
    let frame = *canvas.frame;
    let busy = canvas.extent_of(&[StageLayer::Reactions, StageLayer::Loads]);
    let mut painter = canvas.wipe(StageLayer::Motion);
    let course = shown.course().filter(|_| look.motion);
    let Some(course) = course else { return };
    let palette = Palette::named(look.theme);
    let model = shown.study.model();
    let mut axes = shown.study.diagnosis().shared_axes.iter();
    let shared = axes.find(|axis| Selection::Free(axis.motion) == shown.motion);
    let portrayed = DrawnAxis::of_motion(model, course.motion, shared, body.points.iter());
    if let Some(portrayed) = portrayed {
        let meetings = shared.map_or(&[][..], |shared| &shared.meetings);
        let about = (model, &course, meetings);
        painter.strokes(axis::strokes(&portrayed, about, &frame, &palette), ());
    }
    let amount = swing.amount();
    let paths = point_path::sweep(
        &shown,
        &course,
        amount,
        &body.points,
        &busy,
        &frame,
        &palette,
    );
    painter.strokes(paths, ());
    let mut ghost = MeshBuilder::new(Light::from_above(frame.up(), frame.front()));
    body.surface
        .draw(&mut ghost, Paint::flat(ghost_colour(&palette)));
    painter.ghosts(ghost, &swing.ends);
}

fn ghost_colour(palette: &Palette) -> LinearRgba {
    if palette.background.luminance() < 0.5 {
        between(palette.background, palette.motion, 0.9).with_alpha(GHOST)
    } else {
        (palette.motion * BRIGHTER).with_alpha(GHOST_ON_PAPER)
    }
}
