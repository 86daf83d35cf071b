//! Marks in the picture: a ring around what is hovered, discs and spokes at what can be dragged.

use bevy::prelude::*;
use bevy_egui::{EguiContexts, egui};
use nalgebra::{Point3, Vector3};

use super::drag::{Drag, SPOKE, planes, square, tip};
use super::editor::SceneEditor;
use super::turn::{self, DirectionDrag, start_of};
use crate::draft::drag::{DragConstraint, PlaceDrag};
use crate::draft::snap::Rest;
use crate::draft::turning::{STEP, TurnRest};
use crate::draft::{Handle, TurnableDirection};
use crate::scene::Scene;
use crate::theme::Theme;
use crate::viewer::camera::WindowCamera;
use crate::viewer::stage::StageFrame;
use crate::viewer::state::{Look, Playback};
use crate::viewer::style::{BOLD, colour32, veil};
use crate::wording;

/// Ring around what is hovered.
const RING: f32 = 13.0;
/// A spoke that is seen shorter than this leads nowhere: it is that of an axis seen end-on.
const END_ON: f32 = 20.0;
/// Disc at what can be dragged.
const DISC: f32 = 6.0;
/// Disc at the tip of a direction.
const TIP: f32 = 7.0;
/// Squares are drawn at handles up to so far from the pointer.
const NEAR: f32 = 80.0;
/// A square that covers less is seen edge-on: a fifth of what it covers face-on.
const THIN: f32 = 40.0;

/// Draws the marks, at rest: what moves is not where it is written.
pub(super) fn mark_handles(
    mut contexts: EguiContexts,
    editor: Res<SceneEditor>,
    look: Res<Look>,
    playback: Res<Playback>,
    camera: Option<Single<(&Camera, &GlobalTransform), With<WindowCamera>>>,
    frame: Option<Res<StageFrame>>,
) -> Result {
    let ctx = contexts.ctx_mut()?;
    let (Some(camera), Some(frame), Some(scene)) = (camera, frame, editor.scene()) else {
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
    if let Some(thing) = editor.hovered.filter(|thing| editor.kept != Some(*thing)) {
        for handle in Handle::of(thing, scene) {
            if let Some(at) = handle.point(scene).and_then(|point| seen(&point)) {
                painter.circle_stroke(at, RING, egui::Stroke::new(3.0, colour));
            }
        }
    }
    let view = MarkPainter {
        seen: &seen,
        pixel: &|point| pixel(camera, place, &frame, point),
        painter: &painter,
        colours: [colour, halo],
        pointer: ctx.pointer_latest_pos(),
    };
    match &editor.drag {
        Some(Drag::Turn(turn)) => view.turned(scene, turn),
        Some(Drag::Move(drag)) => view.moved(scene, drag),
        None => {
            for aim in editor.aims() {
                view.arrow(scene, aim, aim.way(scene));
            }
            for handle in editor.handles() {
                if let Some(point) = handle.point(scene) {
                    view.handle(scene, &point);
                }
            }
        }
    }
    Ok(())
}

/// How points are seen, and what marks are drawn with.
struct MarkPainter<'a> {
    seen: &'a dyn Fn(&Point3<f64>) -> Option<egui::Pos2>,
    /// The length, m, that a pixel covers at a point.
    pixel: &'a dyn Fn(&Point3<f64>) -> Option<f64>,
    painter: &'a egui::Painter,
    /// Of marks, and of what is around them.
    colours: [egui::Color32; 2],
    pointer: Option<egui::Pos2>,
}

impl MarkPainter<'_> {
    /// A handle with all that it can be moved by.
    fn handle(&self, scene: &Scene, point: &Point3<f64>) {
        let Some(at) = (self.seen)(point) else { return };
        self.disc(at);
        let Some(pixel) = (self.pixel)(point) else {
            return;
        };
        // Of many handles only one is about to be taken.
        let is_near = self.pointer.is_some_and(|to| to.distance(at) < NEAR);
        for normal in planes(scene).filter(|_| is_near) {
            self.square(&square(point, normal, pixel).corners);
        }
        for axis in 0..scene.space.axes() {
            self.spoke(at, point, axis, pixel);
        }
    }

    fn disc(&self, at: egui::Pos2) {
        let [colour, _] = self.colours;
        let stroke = egui::Stroke::new(2.0, colour);
        self.painter.circle(at, DISC, veil(colour, 0.55), stroke);
    }

    fn spoke(&self, at: egui::Pos2, point: &Point3<f64>, axis: usize, pixel: f64) {
        let end = (self.seen)(&tip(point, axis, pixel));
        if let Some(end) = end.filter(|end| at.distance(*end) > END_ON) {
            spoke(self.painter, at, end, LETTERS[axis], self.colours);
        }
    }

    /// A square between two spokes, unless it is seen edge-on.
    fn square(&self, corners: &[Point3<f64>; 4]) {
        let seen: Option<Vec<egui::Pos2>> = corners.iter().map(self.seen).collect();
        let Some(seen) = seen.filter(|seen| area(seen) > THIN) else {
            return;
        };
        let [colour, halo] = self.colours;
        let around = egui::Stroke::new(4.0, halo);
        self.painter
            .add(egui::Shape::closed_line(seen.clone(), around));
        let line = egui::Stroke::new(1.5, colour);
        let fill = veil(colour, 0.45);
        self.painter
            .add(egui::Shape::convex_polygon(seen, fill, line));
    }

    /// The arrow of a direction, with a tip to turn it by.
    fn arrow(
        &self,
        scene: &Scene,
        aim: TurnableDirection,
        way: Option<Vector3<f64>>,
    ) -> Option<egui::Pos2> {
        let point = start_of(scene, aim)?;
        let pixel = (self.pixel)(&point)?;
        let from = (self.seen)(&point)?;
        let to = (self.seen)(&turn::tip(&point, &way?, pixel))?;
        let [colour, halo] = self.colours;
        let along = (to - from).normalized();
        let line = [from + along * DISC, to];
        self.painter
            .line_segment(line, egui::Stroke::new(6.0, halo));
        self.painter
            .line_segment(line, egui::Stroke::new(2.5, colour));
        self.painter
            .circle(to, TIP, colour, egui::Stroke::new(2.0, halo));
        Some(to)
    }

    /// A handle under way, with what it is kept to and what it has come to rest at.
    fn moved(&self, scene: &Scene, drag: &PlaceDrag) {
        let metres = scene.units.length.in_metres();
        let now = drag
            .at
            .as_ref()
            .map(|at| Point3::from(at.position.map(|x| x * metres)));
        let Some(point) = now.or_else(|| drag.handle.point(scene)) else {
            return;
        };
        let Some(at) = (self.seen)(&point) else {
            return;
        };
        let Some(pixel) = (self.pixel)(&point) else {
            return;
        };
        self.disc(at);
        match drag.track {
            DragConstraint::Any => {}
            DragConstraint::Axis(axis) => self.spoke(at, &point, axis, pixel),
            DragConstraint::Plane(normal) => {
                self.square(&square(&point, normal, pixel).corners);
                for axis in (0..3).filter(|axis| *axis != normal) {
                    self.spoke(at, &point, axis, pixel);
                }
            }
        }
        if let Some(now) = &drag.at {
            self.say(at, rest_words(now.rest));
        }
    }

    /// A direction under way, with the axes and what it has come to rest at.
    fn turned(&self, scene: &Scene, turn: &DirectionDrag) {
        let now = turn.at.as_ref();
        let way = now.map(|at| at.way).or_else(|| turn.aim.way(scene));
        if let Some(at) = start_of(scene, turn.aim).and_then(|point| (self.seen)(&point)) {
            self.disc(at);
        }
        let tip = self.arrow(scene, turn.aim, way);
        if let (Some(tip), Some(now)) = (tip, now) {
            self.say(tip, turn_words(&now.rest));
        }
    }

    /// A word or two beside what is dragged.
    fn say(&self, at: egui::Pos2, words: String) {
        let [colour, halo] = self.colours;
        let font = egui::FontId::new(16.0, BOLD.clone());
        let words = self.painter.layout_no_wrap(words, font, colour);
        let corner = at + egui::vec2(14.0, -14.0 - words.size().y);
        let plate = egui::Rect::from_min_size(corner, words.size()).expand(3.0);
        self.painter.rect_filled(plate, 3.0, veil(halo, 0.93));
        self.painter.galley(corner, words, colour);
    }
}

const LETTERS: [&str; 3] = ["x", "y", "z"];

/// Area of a polygon.
fn area(corners: &[egui::Pos2]) -> f32 {
    let next = corners.iter().cycle().skip(1);
    let twice: f32 = corners
        .iter()
        .zip(next)
        .map(|(a, b)| a.x * b.y - b.x * a.y)
        .sum();
    twice.abs() / 2.0
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

/// What a direction has come to rest at, in a word or two.
fn turn_words(rest: &TurnRest) -> String {
    match rest {
        TurnRest::Axis(axis) => format!("along {}", LETTERS[*axis]),
        TurnRest::Point(name) => format!("towards {name}"),
        TurnRest::Steps {
            azimuth,
            elevation: None,
        } => format!("{}°, steps of {STEP}°", wording::number(*azimuth)),
        TurnRest::Steps {
            azimuth,
            elevation: Some(elevation),
        } => {
            let side = if *elevation < 0.0 { "down" } else { "up" };
            let [azimuth, elevation] = [*azimuth, elevation.abs()].map(wording::number);
            format!("{azimuth}° about z, {elevation}° {side}, steps of {STEP}°")
        }
        TurnRest::Free => "free".to_owned(),
    }
}

/// What a place has come to rest at, in a word or two.
fn rest_words(rest: Rest) -> String {
    match rest {
        Rest::Point => "at a point".to_owned(),
        Rest::Corner => "at an end or corner".to_owned(),
        Rest::Middle => "in the middle".to_owned(),
        Rest::Edge => "on an edge".to_owned(),
        Rest::Along(axis) => format!("rod along {}", LETTERS[axis]),
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
