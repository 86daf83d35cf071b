//! The motion: the way of a far point of the body for a rotation or screw, parallel tracks for a translation.

use nalgebra::Point3;

use super::arrows::{Arrow, Head};
use super::occupied;
use super::pens::VALUE;
use super::sketch::{Sketch, SketchLabel, Spot, length, step, turned, unit, way};
use super::stage::Stage;
use crate::drawing::{PathOutline, Run};
use crate::motion::{Course, Sides, pose};
use crate::portrayal::{PointPath, across};
use crate::statics::{FreeMotion, MotionKind};

/// Length of an arrow to each side of the point whose way it shows.
const HALF: f64 = 22.0;
/// A rotation is shown by no larger angle to each side, rad.
const WIDEST: f64 = 1.1;
/// Of a way seen more foreshortened than this the arrow is short.
const FORESHORTENED: f64 = 0.3;
/// How far an arrow stands off the body.
const OFF: f64 = 7.0;
/// Pieces of an arrow to each side.
const PIECES: u32 = 16;
/// Turns, radius and pieces of the helix that stands for a screw.
const HELIX: (f64, f64, u32) = (1.75, 7.0, 44);

/// Draws the motion that is asked for, if there is one.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    let Some(course) = stage
        .study
        .course(stage.settings.motion, stage.settings.case)
    else {
        return;
    };
    let anchor = match course.motion.kind {
        MotionKind::Translation => tracks(stage, &course, sketch),
        MotionKind::Rotation => swing(stage, &course, sketch),
        MotionKind::Screw { pitch } => {
            helix(stage, course.motion, pitch, sketch);
            swing(stage, &course, sketch)
        }
    };
    let said = match course.route {
        Some(_) => Some("this load is not carried"),
        None if !course.is_real() => Some("infinitesimal only"),
        None => None,
    };
    if let Some(((anchor, prefer), said)) = anchor.zip(said) {
        sketch.labels.push(SketchLabel {
            role: "motion",
            anchor,
            prefer,
            is_fixed: false,
            runs: Run::plain(said),
            letters: VALUE,
            colour: stage.pens.motion.colour,
            rank: 3,
        });
    }
}

fn arrow(stage: &Stage) -> Arrow {
    Arrow {
        role: "motion",
        stroke: stage.pens.motion,
        head: Head::Open,
    }
}

/// An arrow along points that lead to the sides of a motion: with a head at both ends where the body may go either way.
fn ways(stage: &Stage, sides: Sides, points: &[Spot], sketch: &mut Sketch) {
    let arrow = arrow(stage);
    arrow.draw_along(sketch, points);
    if sides != Sides::Both {
        return;
    }
    let back: Vec<Spot> = points.iter().rev().copied().collect();
    arrow.draw_along(sketch, &back);
    // The shaft is there once.
    let shapes = sketch.shapes.len();
    if shapes >= 4 {
        sketch.shapes.remove(shapes - 2);
    }
}

fn points<'a>(stage: &'a Stage) -> impl Iterator<Item = Point3<f64>> + 'a {
    let of_body = stage
        .solids
        .iter()
        .flat_map(|solid| solid.positions.iter().copied());
    let supports = stage
        .study
        .model()
        .supports
        .iter()
        .map(|support| support.point);
    of_body.chain(supports)
}

/// The way of the point farthest from the axis, a little farther out; around the axis where the body is thin.
fn swing(stage: &Stage, course: &Course, sketch: &mut Sketch) -> Option<(Spot, Spot)> {
    let motion = course.motion;
    let axis = motion.direction.into_inner();
    let arm = |point: &Point3<f64>| {
        let off = point - motion.point;
        off - axis * off.dot(&axis)
    };
    let far = points(stage).max_by(|a, b| {
        let round = |point| (arm(point).norm() / stage.unit() * 4.0).round();
        round(a).total_cmp(&round(b))
    })?;
    let reach = arm(&far).norm();
    let out = if reach > 1e-9 {
        arm(&far) / reach
    } else {
        across(&axis)[0]
    };
    let start = far + out * (OFF * stage.unit());
    let radius = (reach + OFF * stage.unit()) / stage.unit();
    // As long on the page where it is foreshortened.
    let seen = length(stage.direction(&start, &axis.cross(&out)));
    let widest = (HALF / (radius.max(1.0) * seen.max(FORESHORTENED))).min(WIDEST);
    let sides = course.sides();
    let sweep = PointPath::of_point(&start, sides, PIECES, |part| pose(motion, widest * part));
    let seen: Vec<Spot> = sweep.points.iter().map(|point| stage.at(point)).collect();
    ways(stage, sides, &seen, sketch);
    let middle = seen[seen.len() / 2];
    let outwards = unit(way(stage.at(&(start - out * reach)), middle));
    Some((middle, outwards))
}

/// Two straight arrows along the body, on the sides where it is widest.
fn tracks(stage: &Stage, course: &Course, sketch: &mut Sketch) -> Option<(Spot, Spot)> {
    let motion = course.motion;
    let middle = nalgebra::center(&stage.bounds[0], &stage.bounds[1]);
    let seen = stage.direction(&middle, &motion.direction);
    let centre = stage.at(&middle);
    if length(seen) < super::arrows::END_ON {
        arrow(stage).draw_end_on(sketch, centre, true);
        return Some((centre, [0.0, 0.0]));
    }
    let ahead = unit(seen);
    let side = turned(ahead);
    let off = |point: &Point3<f64>| {
        let from = way(centre, stage.at(point));
        from[0] * side[0] + from[1] * side[1]
    };
    let of_body = || stage.solids.iter().flat_map(|solid| solid.positions.iter());
    let (low, high) = of_body()
        .map(off)
        .fold((0.0_f64, 0.0_f64), |(low, high), t| {
            (low.min(t), high.max(t))
        });
    let track = |at: f64| {
        let through = step(centre, side, at);
        course
            .sides()
            .ends()
            .map(|part| step(through, ahead, part * HALF))
    };
    let [low, high] = [low - OFF, high + OFF].map(|at| clear_of_strokes(sketch, track, at));
    for at in [low, high] {
        ways(stage, course.sides(), &track(at), sketch);
    }
    Some((step(centre, side, high), side))
}

/// The first place from one on outwards where a straight arrow crosses no stroke; the place itself where there is none near.
fn clear_of_strokes(sketch: &Sketch, track: impl Fn(f64) -> [Spot; 2], from: f64) -> f64 {
    const STEPS: u32 = 14;
    const STEP: f64 = 3.0;
    let strokes = || sketch.shapes.iter().filter(|shape| shape.stroke.is_some());
    let crossed = |at: f64| {
        let [a, b] = track(at);
        let area = occupied::grown(
            [
                [a[0].min(b[0]), a[1].min(b[1])],
                [a[0].max(b[0]), a[1].max(b[1])],
            ],
            OFF / 2.0,
        );
        strokes().any(|shape| match &shape.outline {
            PathOutline::Circle { centre, radius } => {
                occupied::meets(*centre, *centre, &occupied::grown(area, *radius))
            }
            PathOutline::Lines(lines) => {
                let mut pieces = lines.iter().flat_map(|line| line.pieces());
                pieces.any(|[from, to]| occupied::meets(from, to, &area) && near(from, to, a, b))
            }
        })
    };
    let places = (0..STEPS).map(|i| from + from.signum() * STEP * f64::from(i));
    places.into_iter().find(|at| !crossed(*at)).unwrap_or(from)
}

/// Whether two straight pieces come closer than half the distance that arrows keep; sampled along the first.
fn near(from: Spot, to: Spot, a: Spot, b: Spot) -> bool {
    let along = unit(way(a, b));
    let whole = length(way(a, b));
    let samples = (length(way(from, to)) / 2.0).ceil().clamp(1.0, 200.0);
    let mut i = 0.0;
    while i <= samples {
        let off = way(a, step(from, way(from, to), i / samples));
        let ahead = off[0] * along[0] + off[1] * along[1];
        let across = off[0] * along[1] - off[1] * along[0];
        if across.abs() < OFF / 2.0 && (-OFF / 2.0..=whole + OFF / 2.0).contains(&ahead) {
            return true;
        }
        i += 1.0;
    }
    false
}

/// A helix around the end of the axis, with the hand of the screw.
fn helix(stage: &Stage, motion: &FreeMotion, pitch: f64, sketch: &mut Sketch) {
    let (turns, radius, pieces) = HELIX;
    let axis = motion.direction.into_inner();
    let top = points(stage)
        .map(|point| (point - motion.point).dot(&axis))
        .fold(0.0, f64::max);
    let unit = stage.unit();
    let base = motion.point + axis * (top + 6.0 * unit);
    let [x, y] = across(&axis);
    let hand = pitch.signum();
    let spots: Vec<Spot> = (0..=pieces)
        .map(|i| {
            let t = f64::from(i) / f64::from(pieces);
            let (sin, cos) = (hand * turns * std::f64::consts::TAU * t).sin_cos();
            stage.at(&(base + axis * (24.0 * unit * t) + (x * cos + y * sin) * (radius * unit)))
        })
        .collect();
    arrow(stage).draw_along(sketch, &spots);
    let ends = [
        stage.at(&(base - axis * (0.12 * (stage.bounds[1] - stage.bounds[0]).norm()))),
        stage.at(&(base + axis * (32.0 * unit))),
    ];
    sketch.line("axis", ends, stage.pens.axis_edge());
    sketch.line("axis", ends, stage.pens.axis);
}
