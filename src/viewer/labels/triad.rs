//! The directions of the axes, small in a corner of the picture: what the x in `A_x` means from here.

use bevy::prelude::*;
use bevy_egui::egui::{Align2, FontId, Painter, Pos2, Rect, Stroke, pos2, vec2};
use nalgebra::Vector3;

use super::super::stage::StageFrame;
use super::super::style::{self, colour32};
use super::HALO;
use crate::scene::Space;
use crate::theme::Theme;

/// Length of an axis seen from the side, in points.
const LENGTH: f32 = 42.0;
/// From the end of an axis to the middle of its letter.
const LETTER: f32 = 13.0;
/// From the corner of the picture to the origin.
const INSET: f32 = 60.0;
/// Length of an arrow's head.
const HEAD: f32 = 9.0;
/// Width of the lines.
const WIDTH: f32 = 2.0;
/// Sine of the angle to the line of sight below which an axis is seen end on.
const END_ON: f32 = 0.1;
/// Radius of the circle of an axis seen end on.
const CIRCLE: f32 = 4.5;
/// Smallest picture, in points, that has room for it.
const ROOM: f32 = 2.5 * INSET;

/// The axes as the camera sees them from where it stands.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Triad {
    origin: Pos2,
    axes: Vec<TriadAxis>,
}

/// An axis, seen.
#[derive(Debug, Clone, PartialEq)]
struct TriadAxis {
    name: &'static str,
    /// From origin to end.
    line: [Pos2; 2],
    /// Middle of the letter.
    letter: Pos2,
    /// Seen end on: whether it comes towards the eye.
    towards: Option<bool>,
}

impl Triad {
    /// The triad of a stage as a camera sees it from where it stands.
    pub(crate) fn seen(area: Rect, frame: &StageFrame, camera: &GlobalTransform) -> Option<Self> {
        let to_camera = camera.rotation().inverse();
        let axes = [Vector3::x(), Vector3::y(), Vector3::z()];
        let seen = axes.map(|axis| to_camera * frame.world_direction(&axis));
        Self::new(area, frame.space(), seen)
    }

    /// The triad in the lower left corner of an area; `seen` gives the directions of x, y and z in the camera's own
    /// coordinates: right, up and towards the eye. `None` where there is no room.
    fn new(area: Rect, space: Space, seen: [Vec3; 3]) -> Option<Self> {
        if area.width() < ROOM || area.height() < ROOM {
            return None;
        }
        let origin = pos2(area.min.x + INSET, area.max.y - INSET);
        let axes = ["x", "y", "z"].into_iter().zip(seen).take(space.axes());
        let axes = axes.map(|(name, seen)| TriadAxis::new(name, origin, seen));
        Some(Self {
            origin,
            axes: axes.collect(),
        })
    }

    /// Lines that names keep off: from the origin to each letter.
    pub(crate) fn lines(&self) -> impl Iterator<Item = [Pos2; 2]> {
        self.axes.iter().map(|axis| [self.origin, axis.letter])
    }

    /// Draws it; on a dark theme with a halo, as names have one.
    pub(crate) fn draw(&self, painter: &Painter, theme: &Theme) {
        let ink = colour32(theme.quiet_ink);
        let halo = style::is_dark(theme).then(|| colour32(theme.background));
        let write = |at: Pos2, name: &str, colour| {
            let font = FontId::proportional(18.0);
            painter.text(at, Align2::CENTER_CENTER, name, font, colour);
        };
        if let Some(halo) = halo {
            for axis in &self.axes {
                axis.draw(painter, Stroke::new(WIDTH + 2.0 * HALO, halo));
                for shift in [vec2(HALO, 0.0), vec2(0.0, HALO)] {
                    write(axis.letter - shift, axis.name, halo);
                    write(axis.letter + shift, axis.name, halo);
                }
            }
        }
        for axis in &self.axes {
            axis.draw(painter, Stroke::new(WIDTH, ink));
            write(axis.letter, axis.name, ink);
        }
    }
}

impl TriadAxis {
    fn new(name: &'static str, origin: Pos2, seen: Vec3) -> Self {
        let across = vec2(seen.x, -seen.y);
        let end_on = across.length() < END_ON;
        let (end, letter) = match end_on {
            true => (origin, origin + vec2(-1.0, 1.0) * (CIRCLE + LETTER) * 0.7),
            false => {
                let end = origin + across * LENGTH;
                (end, end + across.normalized() * LETTER)
            }
        };
        Self {
            name,
            line: [origin, end],
            letter,
            towards: end_on.then_some(seen.z > 0.0),
        }
    }

    fn draw(&self, painter: &Painter, stroke: Stroke) {
        let [origin, end] = self.line;
        match self.towards {
            None => {
                painter.line_segment(self.line, stroke);
                let axis = end - origin;
                let along = axis * (HEAD / axis.length()).min(0.4);
                for side in [0.45, -0.45] {
                    painter.line_segment([end, end - along + along.rot90() * side], stroke);
                }
            }
            Some(towards) => {
                painter.circle_stroke(origin, CIRCLE, stroke);
                if towards {
                    painter.circle_filled(origin, stroke.width, stroke.color);
                } else {
                    let arm = CIRCLE * std::f32::consts::FRAC_1_SQRT_2;
                    for side in [arm, -arm] {
                        let arm = vec2(arm, side);
                        painter.line_segment([origin - arm, origin + arm], stroke);
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area() -> Rect {
        Rect::from_min_max(pos2(0.0, 0.0), pos2(1000.0, 600.0))
    }

    #[test]
    fn axes_point_where_they_are_seen_and_end_on_ones_tell_which_way() {
        let triad = Triad::new(area(), Space::Spatial, [Vec3::X, Vec3::NEG_Z, Vec3::Y]).unwrap();
        let [x, y, z] = &triad.axes[..] else { panic!() };
        assert_eq!(x.line[1] - x.line[0], vec2(LENGTH, 0.0));
        assert_eq!(z.line[1] - z.line[0], vec2(0.0, -LENGTH));
        assert_eq!(
            [x, y, z].map(|axis| axis.towards),
            [None, Some(false), None]
        );
        assert!(triad.lines().flatten().all(|end| area().contains(end)));
    }

    #[test]
    fn the_plane_has_two_axes_and_a_small_picture_none() {
        let seen = [Vec3::X, Vec3::Y, Vec3::Z];
        assert_eq!(
            Triad::new(area(), Space::Planar, seen).unwrap().axes.len(),
            2
        );
        let small = Rect::from_min_max(pos2(0.0, 0.0), pos2(64.0, 64.0));
        assert_eq!(Triad::new(small, Space::Spatial, seen), None);
    }
}
