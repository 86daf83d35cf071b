//! Which points of the body show a free motion best.

use nalgebra::Point3;

use crate::statics::{FreeMotion, MotionKind};

/// Distance of a point from the axis of a motion, m; 0 for a translation.
pub(crate) fn distance_from_axis(motion: &FreeMotion, point: &Point3<f64>) -> f64 {
    match motion.kind {
        MotionKind::Translation => 0.0,
        _ => (point - motion.point).cross(&motion.direction).norm(),
    }
}

/// The body points far enough from the axis of a turn to tell it, outermost first.
pub(crate) fn far_points(motion: &FreeMotion, body: &[Point3<f64>]) -> Vec<Point3<f64>> {
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

/// The body points whose paths tell a translation: up to three far apart.
pub(crate) fn telling_points(motion: &FreeMotion, body: &[Point3<f64>]) -> Vec<Point3<f64>> {
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
    fn a_turn_is_told_by_outer_points_the_outermost_first() {
        let body = [
            Point3::new(0.0, 0.0, 9.0),
            Point3::new(2.0, 1.0, 0.0),
            Point3::new(1.0, 0.0, 0.0),
            Point3::new(0.0, -3.0, 5.0),
        ];
        let points = far_points(&motion(MotionKind::Rotation, 0.0), &body);
        assert_eq!(points, vec![body[3]]);
        let points = far_points(&motion(MotionKind::Rotation, 0.0), &body[..3]);
        assert_eq!(points, vec![body[1]]);
        assert!(far_points(&motion(MotionKind::Rotation, 0.0), &[]).is_empty());
    }
}
