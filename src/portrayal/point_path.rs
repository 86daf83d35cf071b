//! Ways that points of the body take during a motion: arcs, helices, tracks.

use nalgebra::{Isometry3, Point3};

use super::across;
use crate::motion::{Course, Sides};
use crate::statics::{FreeMotion, MotionKind};

/// The way of a point. It moves with the ground.
#[derive(Debug, Clone, PartialEq)]
pub struct PointPath {
    /// The way, m.
    pub points: Vec<Point3<f64>>,
    /// Whether it has an arrow's head at its start and at its end.
    pub heads: [bool; 2],
}

impl PointPath {
    /// The way of a point of the body to the sides of a motion; `pose` places the body at a part of it, −1 to 1, and `pieces`
    /// is into how many straight pieces a side is divided.
    pub fn of_point(
        point: &Point3<f64>,
        sides: Sides,
        pieces: u32,
        pose: impl Fn(f64) -> Isometry3<f64>,
    ) -> Self {
        let [from, to] = sides.ends();
        let count = f64::from(pieces) * (to - from).abs();
        let part = |i: u32| from + (to - from) * f64::from(i) / count;
        Self {
            points: (0..=count as u32).map(|i| pose(part(i)) * point).collect(),
            heads: [sides == Sides::Both, true],
        }
    }

    /// The helix of a screw about its axis, middle `middle`: it advances by `rise`, m, for each radian that it turns.
    pub fn helix(
        motion: &FreeMotion,
        middle: &Point3<f64>,
        rise: f64,
        radius: f64,
        angle: f64,
    ) -> Self {
        const TO_A_RADIAN: f64 = 6.0;
        let axis = motion.direction.into_inner();
        let [x, y] = across(&axis);
        let steps = (angle * TO_A_RADIAN).ceil().max(8.0) as u32;
        let at = |i: u32| {
            let turn = angle * (f64::from(i) / f64::from(steps) - 0.5);
            let (sin, cos) = turn.sin_cos();
            middle + axis * (rise * turn) + (x * cos + y * sin) * radius
        };
        Self {
            points: (0..=steps).map(at).collect(),
            heads: [false, true],
        }
    }
}

/// Distance of a point from the axis of a motion, m; 0 for a translation.
pub fn distance_from_axis(motion: &FreeMotion, point: &Point3<f64>) -> f64 {
    match motion.kind {
        MotionKind::Translation => 0.0,
        _ => (point - motion.point).cross(&motion.direction).norm(),
    }
}

/// A point moved away from the axis of a motion by a length, m, and at least as far as `least`; for a translation as it is.
pub fn lifted(motion: &FreeMotion, point: &Point3<f64>, by: f64, least: f64) -> Point3<f64> {
    if motion.kind == MotionKind::Translation {
        return *point;
    }
    let axis = motion.direction.into_inner();
    let from_axis = point - motion.point;
    let out = from_axis - axis * from_axis.dot(&axis);
    let wanted = (distance_from_axis(motion, point) + by).max(least);
    point - out + out.try_normalize(0.0).unwrap_or_default() * wanted
}

/// The points of the body whose ways show a motion best, the best first: for a turn those far from its axis, to choose one
/// from; for a translation up to three far apart.
pub fn swept_points(course: &Course, body: &[Point3<f64>]) -> Vec<Point3<f64>> {
    match course.motion.kind {
        MotionKind::Translation => far_apart(course.motion, body),
        _ => far_out(course.motion, body),
    }
}

fn far_out(motion: &FreeMotion, body: &[Point3<f64>]) -> Vec<Point3<f64>> {
    const FAR: f64 = 0.8;
    let mut far: Vec<(f64, Point3<f64>)> = body
        .iter()
        .map(|point| (distance_from_axis(motion, point), *point))
        .collect();
    far.sort_by(|a, b| b.0.total_cmp(&a.0));
    let most = far.first().map_or(0.0, |(distance, _)| *distance);
    let enough = far.partition_point(|(distance, _)| *distance >= FAR * most);
    far.into_iter().take(enough).map(|(_, at)| at).collect()
}

fn far_apart(motion: &FreeMotion, body: &[Point3<f64>]) -> Vec<Point3<f64>> {
    let outermost = |worth: &dyn Fn(&Point3<f64>) -> f64| {
        body.iter()
            .max_by(|a, b| worth(a).total_cmp(&worth(b)))
            .copied()
    };
    let Some(first) = body.first() else {
        return Vec::new();
    };
    let mut chosen: Vec<Point3<f64>> = Vec::new();
    for _ in 0..3 {
        let apart = |point: &Point3<f64>| {
            let from = if chosen.is_empty() {
                std::slice::from_ref(first)
            } else {
                &chosen[..]
            };
            from.iter()
                .map(|other| (point - other).cross(&motion.direction).norm())
                .fold(f64::INFINITY, f64::min)
        };
        chosen.extend(outermost(&apart));
    }
    chosen
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statics::testing::upright_motion as motion;

    #[test]
    fn a_turn_is_shown_by_outer_points_the_outermost_first() {
        let body = [
            Point3::new(0.0, 0.0, 9.0),
            Point3::new(2.0, 1.0, 0.0),
            Point3::new(1.0, 0.0, 0.0),
            Point3::new(0.0, -3.0, 5.0),
        ];
        let turn = motion(MotionKind::Rotation);
        assert_eq!(far_out(&turn, &body), vec![body[3]]);
        assert_eq!(far_out(&turn, &body[..3]), vec![body[1]]);
        assert!(far_out(&turn, &[]).is_empty());
    }

    /// A right-handed screw advances along its axis as it turns right-handed about it.
    #[test]
    fn a_helix_has_the_hand_of_its_screw() {
        let screw = motion(MotionKind::Screw { pitch: 0.3 });
        let helix = PointPath::helix(&screw, &Point3::origin(), 0.3, 1.0, 6.0);
        let [a, b] = [helix.points[0], helix.points[1]];
        assert!((b - a).z > 0.0);
        assert!(a.coords.cross(&b.coords).z > 0.0);
    }

    #[test]
    fn lifted_points_lie_straight_out_from_the_axis() {
        let turn = motion(MotionKind::Rotation);
        let point = Point3::new(3.0, 4.0, 2.0);
        let out = lifted(&turn, &point, 1.0, 0.0);
        assert!((distance_from_axis(&turn, &out) - 6.0).abs() < 1e-12);
        assert!((out - Point3::new(3.6, 4.8, 2.0)).norm() < 1e-12);
        let least = lifted(&turn, &point, 1.0, 10.0);
        assert!((distance_from_axis(&turn, &least) - 10.0).abs() < 1e-12);
    }
}
