//! Candidate rotations and screws for a plain basis, and the families that chosen motions stand for.

use std::cmp::Reverse;

use nalgebra::{DMatrix, Matrix3, Point3, SymmetricEigen, Unit, Vector3};

use super::directions::plain_directions;
use super::space::FreeSpace;
use super::{Family, FreeMotion, MotionKind, NEGLIGIBLE, distance_to_line};
use crate::statics::model::Model;
use crate::statics::wrench::{Screw, Twist};

/// Support points looked at; beyond that many a line through one of the rest is not found by name.
const MOST_POINTS: usize = 64;

/// Free rotations and screws, plainest first; together they span what the translations leave.
pub(super) fn rotations_and_screws(model: &Model, space: &FreeSpace) -> Vec<Screw> {
    let mut lines = lines_through_points(model, space);
    let principal = principal_screws(space);
    lines.extend(zero_pitch_pairs(space, &principal));
    lines.extend(principal.iter().map(|(screw, _)| *screw));
    lines
}

/// Lines through support points that are free axes, those through most points and along scene axes first.
fn lines_through_points(model: &Model, space: &FreeSpace) -> Vec<Screw> {
    let points = distinct_points(model);
    let mut lines = Vec::new();
    for point in &points {
        let directions = space.axes_through(point);
        lines.extend(
            plain_directions(&directions)
                .into_iter()
                .map(|direction| line(point, direction)),
        );
        if directions.len() > 1 {
            lines.extend(lines_to_others(space, point, &points));
        }
    }
    lines.sort_by_cached_key(|line| Reverse(plainness(line, &points, model.length)));
    lines
}

fn lines_to_others(space: &FreeSpace, point: &Point3<f64>, points: &[Point3<f64>]) -> Vec<Screw> {
    points
        .iter()
        .filter_map(|other| Unit::try_new(other - point, 0.0))
        .map(|direction| line(point, direction))
        .filter(|line| space.contains(line))
        .collect()
}

fn distinct_points(model: &Model) -> Vec<Point3<f64>> {
    let mut seen: Vec<[u64; 3]> = Vec::new();
    let mut is_new = |written: [f64; 3]| {
        // Adding zero makes one of the two zeros.
        let bits = written.map(|x| (x + 0.0).to_bits());
        // So few are soonest found one after the other.
        let known = seen.contains(&bits);
        if !known {
            seen.push(bits);
        }
        !known
    };
    let supports = model.supports.iter();
    supports
        .filter(|support| is_new(support.written_point))
        .map(|support| support.point)
        .take(MOST_POINTS)
        .collect()
}

fn line(point: &Point3<f64>, direction: Unit<Vector3<f64>>) -> Screw {
    Screw {
        direction,
        point: *point,
        pitch: 0.0,
    }
}

/// Twice the number of points on the line, plus one if it runs along a scene axis.
fn plainness(line: &Screw, points: &[Point3<f64>], length: f64) -> usize {
    let on_line = |point: &&Point3<f64>| {
        distance_to_line(point, &line.point, &line.direction) <= NEGLIGIBLE * length
    };
    let along_axis = line.direction.amax() > 1.0 - NEGLIGIBLE;
    2 * points.iter().filter(on_line).count() + usize::from(along_axis)
}

/// Screws of the free rotations that are square to each other in the sense of `w·w` and of `w·v`, with `w·v`
/// of each; translations among the free motions are used to make each pitch as small as it can be.
///
/// Source: Ball 1900, sections 20 and 78 (principal screws of a screw system).
fn principal_screws(space: &FreeSpace) -> Vec<(Screw, f64)> {
    let translations: Vec<Vector3<f64>> = space
        .translations()
        .iter()
        .map(|t| t.direction.into_inner())
        .collect();
    let turning = turning_twists(space);
    let count = turning.len();
    if count == 0 {
        return Vec::new();
    }
    // Twists with orthonormal angular parts, so that pitch is an ordinary quadratic form.
    let turning: Vec<Twist> = turning
        .into_iter()
        .map(|t| least_pitch(t, &translations))
        .collect();
    let form = DMatrix::from_fn(count, count, |i, j| {
        (turning[i].angular.dot(&turning[j].linear) + turning[j].angular.dot(&turning[i].linear))
            / 2.0
    });
    let eigen = form.symmetric_eigen();
    (0..count)
        .filter_map(|i| {
            let twist = eigen.eigenvectors.column(i).iter().zip(&turning).fold(
                Twist::default(),
                |sum, (c, t)| Twist {
                    linear: sum.linear + t.linear * *c,
                    angular: sum.angular + t.angular * *c,
                },
            );
            space
                .screw(&twist)
                .map(|screw| (screw, eigen.eigenvalues[i]))
        })
        .collect()
}

/// Free twists whose angular parts are an orthonormal basis of all angular parts.
fn turning_twists(space: &FreeSpace) -> Vec<Twist> {
    let twists: Vec<Twist> = space
        .basis
        .iter()
        .map(|scaled| Twist::from_scaled(scaled, space.length))
        .collect();
    let outer: Matrix3<f64> = twists
        .iter()
        .map(|t| t.angular * t.angular.transpose())
        .sum();
    let eigen = SymmetricEigen::new(outer);
    (0..3)
        .filter(|i| eigen.eigenvalues[*i].max(0.0).sqrt() * space.length > NEGLIGIBLE)
        .map(|i| {
            let direction = eigen.eigenvectors.column(i).into_owned();
            let weight = eigen.eigenvalues[i];
            space.combination(twists.iter().map(|t| t.angular.dot(&direction) / weight))
        })
        .collect()
}

/// Adds the free translation that takes the advance along the axis away, as far as it can.
fn least_pitch(twist: Twist, translations: &[Vector3<f64>]) -> Twist {
    let along = translations
        .iter()
        .fold(Vector3::zeros(), |sum, t| sum + t * t.dot(&twist.angular));
    if along.norm() <= NEGLIGIBLE * twist.angular.norm() {
        return twist;
    }
    let advance = twist.angular.dot(&twist.linear) / along.norm_squared();
    Twist {
        linear: twist.linear - along * advance,
        ..twist
    }
}

/// Rotations as combinations of two principal screws of pitches with opposite signs.
fn zero_pitch_pairs(space: &FreeSpace, principal: &[(Screw, f64)]) -> Vec<Screw> {
    let mut lines = Vec::new();
    for (i, (first, p)) in principal.iter().enumerate() {
        for (second, q) in &principal[i + 1..] {
            if *p * *q >= 0.0 {
                continue;
            }
            let (a, b) = (q.abs().sqrt(), p.abs().sqrt());
            for sign in [1.0, -1.0] {
                let [f, s] = [first, second].map(|screw| Twist::of_screw(screw, &space.reference));
                let twist = Twist {
                    linear: f.linear * a + s.linear * (b * sign),
                    angular: f.angular * a + s.angular * (b * sign),
                };
                lines.extend(space.screw(&twist));
            }
        }
    }
    lines
}

/// Marks what family each motion stands for, and replaces three lines through one point by scene axes there.
pub(super) fn with_families(
    model: &Model,
    space: &FreeSpace,
    mut motions: Vec<FreeMotion>,
) -> Vec<FreeMotion> {
    if let Some(centre) = common_point(model, space, &motions) {
        recentre(model, space, &mut motions, &centre);
    }
    let translations: Vec<Vector3<f64>> = motions
        .iter()
        .filter(|m| m.kind == MotionKind::Translation)
        .map(|m| m.direction.into_inner())
        .collect();
    for motion in &mut motions {
        if motion.kind == MotionKind::Rotation {
            motion.family = family(space, motion, &translations);
        }
    }
    motions
}

fn family(space: &FreeSpace, motion: &FreeMotion, translations: &[Vector3<f64>]) -> Family {
    let through = space.axes_through(&motion.point);
    let across: Vec<Vector3<f64>> = translations
        .iter()
        .filter(|t| t.dot(&motion.direction).abs() <= NEGLIGIBLE)
        .copied()
        .collect();
    match (through.as_slice(), across.as_slice()) {
        ([_, _, _], _) => Family::LinesThrough(motion.point),
        // The translation square to a plane carries its lines through one point to all others.
        ([a, b], [t]) if a.cross(b).normalize().cross(t).norm() <= NEGLIGIBLE => {
            Family::LinesInPlane(motion.point, Unit::new_normalize(a.cross(b)))
        }
        ([a, b], _) => Family::PencilAt(motion.point, Unit::new_normalize(a.cross(b))),
        // Sliding along t and turning about d shifts the axis square to both.
        (_, [t]) => Family::ParallelsInPlane(Unit::new_normalize(*t)),
        (_, [_, _]) => Family::Parallels,
        _ => Family::Alone,
    }
}

/// The point that all rotations pass through, where there are at least two of them and nothing else.
fn common_point(model: &Model, space: &FreeSpace, motions: &[FreeMotion]) -> Option<Point3<f64>> {
    if motions.iter().any(|m| m.kind != MotionKind::Rotation) {
        return None;
    }
    let [first, second, ..] = motions else {
        return None;
    };
    let point = crossing(first, second)?;
    let all = motions
        .iter()
        .all(|m| distance_to_line(&point, &m.point, &m.direction) <= NEGLIGIBLE * model.length);
    (all && space.axes_through(&point).len() == motions.len()).then_some(point)
}

/// Point nearest to two lines that are not parallel.
fn crossing(first: &FreeMotion, second: &FreeMotion) -> Option<Point3<f64>> {
    let normal = first.direction.cross(&second.direction);
    let square = normal.norm_squared();
    if square <= NEGLIGIBLE * NEGLIGIBLE {
        return None;
    }
    let between = second.point - first.point;
    Some(
        first.point
            + first.direction.into_inner()
                * (between.cross(&second.direction).dot(&normal) / square),
    )
}

fn recentre(model: &Model, space: &FreeSpace, motions: &mut [FreeMotion], centre: &Point3<f64>) {
    let at_support = |point: &&Point3<f64>| (*point - centre).norm() <= NEGLIGIBLE * model.length;
    let supports: Vec<Point3<f64>> = model.supports.iter().map(|support| support.point).collect();
    let centre = supports
        .iter()
        .find(at_support)
        .copied()
        .unwrap_or(super::snapped(centre, model.length));
    let directions = plain_directions(&space.axes_through(&centre));
    // Lines that run through two support points say more than scene axes do.
    if motions.len() == 2
        && motions
            .iter()
            .any(|m| plainness(&line(&m.point, m.direction), &supports, model.length) > 3)
    {
        return;
    }
    for (motion, direction) in motions.iter_mut().zip(directions) {
        *motion = super::tidy(model, &line(&centre, direction));
        motion.point = centre;
        motion.twist = Twist::rotation(&motion.direction, &centre, &model.reference);
    }
}
