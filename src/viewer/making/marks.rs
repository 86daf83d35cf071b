//! Marks in the picture: a ring around what is hovered, discs and spokes at what can be dragged.

use bevy::prelude::*;
use bevy_egui::{EguiContexts, egui};
use nalgebra::Point3;

use super::bench::Bench;
use super::drag::{SPOKE, tip};
use super::grip::point_of;
use crate::draft::Handle;
use crate::draft::snap::Rest;
use crate::theme::Theme;
use crate::viewer::camera::WindowCamera;
use crate::viewer::skin::{BOLD, colour32, veil};
use crate::viewer::stage::StageFrame;
use crate::viewer::state::{Look, Playback};

/// Ring around what is hovered.
const RING: f32 = 13.0;
/// A spoke that is seen shorter than this leads nowhere: it is that of an axis seen end-on.
const END_ON: f32 = 20.0;
/// Disc at what can be dragged.
const DISC: f32 = 6.0;

/// Draws the marks, at rest: what moves is not where it is written.
pub(super) fn mark_handles(
    mut contexts: EguiContexts,
    bench: Res<Bench>,
    look: Res<Look>,
    playback: Res<Playback>,
    camera: Option<Single<(&Camera, &GlobalTransform), With<WindowCamera>>>,
    frame: Option<Res<StageFrame>>,
) -> Result {
    let ctx = contexts.ctx_mut()?;
    let (Some(camera), Some(frame), Some(scene)) = (camera, frame, bench.scene()) else {
        return Ok(());
    };
    if playback.playing || playback.position != 0.0 {
        return Ok(());
    }
    let (camera, place) = *camera;
    let zoom = ctx.zoom_factor();
    let seen = |point: &Point3<f64>| {
        let at = camera.world_to_viewport(place, frame.world(point)).ok()?;
        Some(egui::pos2(at.x, at.y) / zoom)
    };
    let theme = Theme::of(look.theme);
    let colour = colour32(theme.trial);
    let halo = colour32(theme.background);
    let painter = ctx.layer_painter(egui::LayerId::background());
    if let Some(thing) = bench.hovered.filter(|thing| bench.kept != Some(*thing)) {
        for handle in Handle::of(thing, scene) {
            if let Some(at) = point_of(scene, handle).and_then(|point| seen(&point)) {
                painter.circle_stroke(at, RING, egui::Stroke::new(3.0, colour));
            }
        }
    }
    let dragged = bench.drag.as_ref();
    for handle in bench.handles() {
        let now = dragged
            .filter(|drag| drag.handle == handle)
            .and_then(|drag| drag.at.as_ref());
        let point = match now {
            Some(at) => Some(Point3::from(
                at.position.map(|x| x * scene.units.length.in_metres()),
            )),
            None => point_of(scene, handle),
        };
        let Some((point, at)) = point.and_then(|point| Some((point, seen(&point)?))) else {
            continue;
        };
        painter.circle(at, DISC, veil(colour, 0.55), egui::Stroke::new(2.0, colour));
        if let Some(pixel) = pixel(camera, place, &frame, &point) {
            for (axis, letter) in ["x", "y", "z"]
                .into_iter()
                .enumerate()
                .take(scene.space.axes())
            {
                let end = seen(&tip(&point, axis, pixel));
                if let Some(end) = end.filter(|end| at.distance(*end) > END_ON) {
                    spoke(&painter, at, end, letter, [colour, halo]);
                }
            }
        }
        if let Some(now) = now {
            let offset = egui::vec2(14.0, -14.0);
            let font = egui::FontId::new(16.0, BOLD.clone());
            let words = painter.layout_no_wrap(rest_words(now.rest), font, colour);
            let corner = at + offset - egui::vec2(0.0, words.size().y);
            let plate = egui::Rect::from_min_size(corner, words.size()).expand(3.0);
            painter.rect_filled(plate, 3.0, veil(halo, 0.8));
            painter.galley(corner, words, colour);
        }
    }
    Ok(())
}

/// A spoke with its letter, in a colour on a halo of the other.
fn spoke(
    painter: &egui::Painter,
    from: egui::Pos2,
    to: egui::Pos2,
    letter: &str,
    [colour, halo]: [egui::Color32; 2],
) {
    let way = to - from;
    // An axis seen end-on has no spoke to pull.
    if f64::from(way.length()) < 0.3 * SPOKE {
        return;
    }
    let start = from + way.normalized() * DISC;
    painter.line_segment([start, to], egui::Stroke::new(7.0, halo));
    painter.line_segment([start, to], egui::Stroke::new(3.0, colour));
    let beyond = to + way.normalized() * 10.0;
    painter.circle_filled(beyond, 9.0, halo);
    let font = egui::FontId::new(15.0, BOLD.clone());
    painter.text(beyond, egui::Align2::CENTER_CENTER, letter, font, colour);
}

/// What a place has come to rest at, in a word or two.
fn rest_words(rest: Rest) -> String {
    match rest {
        Rest::Point => "at a point".to_owned(),
        Rest::Corner => "at an end or corner".to_owned(),
        Rest::Middle => "in the middle".to_owned(),
        Rest::Edge => "on an edge".to_owned(),
        Rest::Grid(step) => format!("steps of {step}"),
        Rest::Free => "free".to_owned(),
    }
}

/// The length, m, that a pixel covers at a point.
fn pixel(
    camera: &Camera,
    place: &GlobalTransform,
    frame: &StageFrame,
    point: &Point3<f64>,
) -> Option<f64> {
    let here = camera.world_to_viewport(place, frame.world(point)).ok()?;
    let aside = frame.world(point) + *place.right() * frame.length(1.0);
    let there = camera.world_to_viewport(place, aside).ok()?;
    let pixels = f64::from(here.distance(there));
    (pixels > 0.0).then(|| 1.0 / pixels)
}
