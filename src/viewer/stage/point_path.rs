//! The selected motion as a stroke: arc, helix or parallel tracks, with a head at each side to which it goes.

use bevy::prelude::*;
use nalgebra::Point3;

use super::StageFrame;
use super::crossing::vector;
use super::paint::Palette;
use super::strokes::{StrokeGroup, StrokeSize, path_arrow};
use crate::motion::Course;
use crate::portrayal::{PointPath, lifted, swept_points};
use crate::scene::Space;
use crate::statics::{FreeMotion, MotionKind};
use crate::viewer::state::{LabelRole, Shown};

/// Straight pieces of a path to each side.
const PIECES: u32 = 20;
/// How far outside the body an arc runs.
const OUTSIDE: f64 = 0.05;
/// Smallest radius of an arc.
const SMALLEST: f64 = 0.16;
/// Radius of the helix about the axis of a screw.
const HELIX: f64 = 0.15;

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
) -> StrokeGroup {
    let motion = course.motion;
    let mut group = StrokeGroup::new(frame, None);
    group.colour(palette.motion);
    let told = swept_points(course, body);
    let points = match motion.kind {
        MotionKind::Translation => told,
        _ => {
            let view = usual_view(shown.study.model().space, frame);
            Vec::from_iter(clearest(course, swing, &told, busy, view, frame))
        }
    };
    let mut end = None;
    for point in &points {
        let sweep = way(course, point, swing, frame);
        let path = on_stage(&sweep, frame);
        end = end.or(path.last().copied());
        path_arrow(&mut group.draft, &path, &StrokeSize::SWEEP, sweep.heads[0]);
    }
    if let MotionKind::Screw { pitch } = motion.kind {
        let helix = helix(motion, pitch, frame);
        let path = on_stage(&helix, frame);
        path_arrow(&mut group.draft, &path, &StrokeSize::SLIM, helix.heads[0]);
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
        let path = on_stage(&way(course, point, swing, frame), frame);
        let samples = path.into_iter().step_by(PIECES as usize / 4);
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

/// The way of a point just outside the body.
fn way(course: &Course, point: &Point3<f64>, swing: f64, frame: &StageFrame) -> PointPath {
    let size = frame.size();
    let start = lifted(course.motion, point, OUTSIDE * size, SMALLEST * size);
    let pose = |part| course.swung(part, swing);
    PointPath::of_point(&start, course.sides(), PIECES, pose)
}

fn on_stage(sweep: &PointPath, frame: &StageFrame) -> Vec<Vec3> {
    sweep
        .points
        .iter()
        .map(|point| frame.point(point))
        .collect()
}

/// The screw's own helix about its axis, true to its pitch, as far as four turns or the scene's size.
fn helix(motion: &FreeMotion, pitch: f64, frame: &StageFrame) -> PointPath {
    const SPAN: f64 = 0.7;
    const TURNS: f64 = 4.0;
    let size = frame.size();
    let axis = motion.direction.into_inner();
    let centre = frame.scene_point(Vec3::ZERO);
    let middle = motion.point + axis * (centre - motion.point).dot(&axis);
    let angle = (SPAN * size / pitch.abs()).min(TURNS * std::f64::consts::TAU);
    PointPath::helix(motion, &middle, pitch, HELIX * size, angle)
}
