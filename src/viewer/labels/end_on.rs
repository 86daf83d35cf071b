//! Arrows that are seen end-on: a ring with a dot where they point at the viewer, with a cross where they point away.

use bevy::prelude::*;
use bevy_egui::egui::{Painter, Pos2, Stroke, pos2, vec2};

use super::colour;
use crate::theme::{PLATE, Theme};
use crate::viewer::stage::ArrowLine;
use crate::viewer::style::{colour32, veil};

/// Cosine between an arrow and the line of sight from which on it is seen end-on.
const END_ON: f32 = 0.965;
/// Least radius of a ring, in points.
const LEAST: f32 = 8.0;

/// Who looks.
pub(super) struct LabelCamera<'a> {
    pub camera: &'a Camera,
    pub place: &'a GlobalTransform,
    pub zoom: f32,
}

impl LabelCamera<'_> {
    fn screen(&self, world: Vec3) -> Option<Pos2> {
        let seen = self.camera.world_to_viewport(self.place, world).ok()?;
        Some(pos2(seen.x / self.zoom, seen.y / self.zoom))
    }

    /// Direction from a point to the viewer.
    fn towards(&self, from: Vec3) -> Option<Vec3> {
        let seen = self.camera.world_to_viewport(self.place, from).ok()?;
        let ray = self.camera.viewport_to_world(self.place, seen).ok()?;
        Some(-*ray.direction)
    }
}

/// Draws the sign of an arrow, if it is seen end-on.
pub(super) fn draw(
    painter: &Painter,
    arrow: &ArrowLine,
    from: &GlobalTransform,
    eye: &LabelCamera,
    theme: &Theme,
) -> Option<()> {
    let [tail, tip] = [arrow.tail, arrow.tip].map(|end| from.transform_point(end));
    let middle = (tail + tip) / 2.0;
    let ahead = (tip - tail).normalize_or_zero().dot(eye.towards(middle)?);
    if ahead.abs() < END_ON {
        return None;
    }
    let centre = eye.screen(middle)?;
    let side = eye.screen(middle + *eye.place.right() * arrow.head)?;
    let radius = (centre.distance(side) * 1.1).max(LEAST);
    let colour = colour(arrow.role, theme);
    let stroke = Stroke::new((radius * 0.22).max(2.0), colour);
    painter.circle(
        centre,
        radius,
        veil(colour32(theme.background), PLATE as f32),
        stroke,
    );
    if ahead > 0.0 {
        painter.circle_filled(centre, radius * 0.32, colour);
    } else {
        let half = radius * 0.5;
        for way in [vec2(half, half), vec2(half, -half)] {
            painter.line_segment([centre - way, centre + way], stroke);
        }
    }
    Some(())
}
