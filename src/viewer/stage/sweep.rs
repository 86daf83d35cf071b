//! The selected motion as a stroke: arc, helix or parallel tracks, with a head at each side to which it goes.

use bevy::prelude::*;
use nalgebra::Point3;

use super::StageFrame;
use super::crossing::vector;
use super::paint::Palette;
use super::strokes::{Gauge, Group, path_arrow};
use super::swing::{distance_from_axis, far_points, telling_points};
use crate::motion::{Course, Sides};
use crate::scene::Space;
use crate::statics::{FreeMotion, MotionKind};
use crate::viewer::state::{LabelRole, Shown};

/// Points along a swept path.
const STEPS: usize = 40;
/// How far outside the body an arc runs.
const OUTSIDE: f64 = 0.05;
/// Smallest radius of an arc.
const SMALLEST: f64 = 0.16;
/// Radius of the helix about the axis of a screw.
const HELIX: f32 = 0.15;

/// How far a path keeps from other strokes where it can, in the picture.
const CLEAR: f32 = 0.2;
/// Most points whose paths are compared.
const COMPARED: usize = 48;

/// Paths of the points that tell the motion best, swept `swing` to each side; `busy` is where other strokes lie.
pub(crate) fn sweep(
    shown: &Shown,
    course: &Course,
    swing: f64,
    body: &[Point3<f64>],
    busy: &[Vec3],
    frame: &StageFrame,
    palette: &Palette,
) -> Group {
    let motion = course.motion;
    let mut group = Group::new(frame, None);
    group.colour(palette.motion);
    let points = match motion.kind {
        MotionKind::Translation => telling_points(motion, body),
        _ => {
            let view = usual_view(shown.study.model().space, frame);
            let points = far_points(motion, body);
            Vec::from_iter(clearest(course, swing, &points, busy, view, frame))
        }
    };
    let lifted = points.iter().map(|point| lift(motion, point, frame.size()));
    let mut end = None;
    for point in lifted {
        let path = path(course, &point, swing, frame);
        end = end.or(path.last().copied());
        let both = course.sides() == Sides::Both;
        path_arrow(&mut group.draft, &path, &Gauge::SWEEP, both);
    }
    if motion.kind == MotionKind::Screw {
        helix(&mut group, motion, frame);
    }
    if let (Some(words), Some(end)) = (words(shown, course), end) {
        let beyond = match motion.kind {
            MotionKind::Translation => vector(&motion.direction) * 0.12,
            _ => Vec3::ZERO,
        };
        group.label(words, end + beyond, LabelRole::Motion);
    }
    group
}

/// Direction towards the eye of the usual view.
fn usual_view(space: Space, frame: &StageFrame) -> Vec3 {
    let (up, front) = (frame.up(), frame.front());
    match space {
        Space::Planar => front,
        Space::Spatial => (front + (up.cross(front) + up) * 0.6).normalize(),
    }
}

/// The outermost of the points whose path covers no other stroke, or the one whose path keeps farthest off.
fn clearest(
    course: &Course,
    swing: f64,
    points: &[Point3<f64>],
    busy: &[Vec3],
    view: Vec3,
    frame: &StageFrame,
) -> Option<Point3<f64>> {
    let room = |point: &Point3<f64>| {
        let path = path(
            course,
            &lift(course.motion, point, frame.size()),
            swing,
            frame,
        );
        let samples = path.into_iter().step_by(STEPS / 8);
        let gaps = samples.flat_map(|at| busy.iter().map(move |b| (at - b).reject_from(view)));
        gaps.map(|gap| gap.length()).fold(CLEAR, f32::min)
    };
    let step = points.len().div_ceil(COMPARED).max(1);
    let measured = points
        .iter()
        .step_by(step)
        .map(|point| (room(point), point));
    // The first of equals, which is the outermost.
    let best = measured.reduce(|best, next| if next.0 > best.0 { next } else { best });
    best.map(|(_, point)| *point)
}

/// What is written beside the stroke; a turn is told by its axis.
fn words(shown: &Shown, course: &Course) -> Option<&'static str> {
    match course.motion.kind {
        _ if !course.is_real() => Some("infinitesimal only"),
        _ if course.route.is_some() => None,
        MotionKind::Translation if shown.study.model().reactions.is_empty() => {
            Some("free to slide")
        }
        MotionKind::Translation => Some("all reactions are perpendicular to this direction"),
        _ => None,
    }
}

/// The point moved out of the body, away from the axis.
fn lift(motion: &FreeMotion, point: &Point3<f64>, size: f64) -> Point3<f64> {
    if motion.kind == MotionKind::Translation {
        return *point;
    }
    let axis = motion.direction.into_inner();
    let from_axis = point - motion.point;
    let out = from_axis - axis * from_axis.dot(&axis);
    let distance = distance_from_axis(motion, point);
    let wanted = (distance + OUTSIDE * size).max(SMALLEST * size);
    point - out + out.try_normalize(0.0).unwrap_or_default() * wanted
}

fn path(course: &Course, point: &Point3<f64>, swing: f64, frame: &StageFrame) -> Vec<Vec3> {
    let [from, to] = course.sides().ends();
    (0..=STEPS)
        .map(|i| {
            let part = from + (to - from) * i as f64 / STEPS as f64;
            frame.point(&(course.swung(part, swing) * point))
        })
        .collect()
}

/// The screw's own helix about its axis, true to its pitch, as far as four turns or the scene's size.
fn helix(group: &mut Group, motion: &FreeMotion, frame: &StageFrame) {
    const SPAN: f32 = 0.7;
    const TURNS: f32 = 4.0;
    let pitch = frame.length(motion.pitch);
    let axis = vector(&motion.direction);
    let (u, v) = axis.any_orthonormal_pair();
    let v = if u.cross(v).dot(axis) < 0.0 { -v } else { v };
    let point = frame.point(&motion.point);
    let middle = point - axis * point.dot(axis);
    let angle = (SPAN / pitch.abs()).min(TURNS * std::f32::consts::TAU);
    let steps = (angle * 6.0).ceil().max(8.0) as usize;
    let path: Vec<Vec3> = (0..=steps)
        .map(|i| {
            let turn = angle * (i as f32 / steps as f32 - 0.5);
            let (sin, cos) = turn.sin_cos();
            middle + axis * (pitch * turn) + (u * cos + v * sin) * HELIX
        })
        .collect();
    path_arrow(&mut group.draft, &path, &Gauge::SLIM, false);
}
