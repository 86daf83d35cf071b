//! How far the convex hulls of solids lie apart, by their corners alone: quick to tell that two shapes do not meet.

use nalgebra::{Point3, Vector3};

/// Steps towards the nearest points of two hulls.
const MOST_STEPS: usize = 100;

/// Bounds of a distance, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct HullGap {
    pub(super) at_least: f64,
    pub(super) at_most: f64,
}

/// Bounds of the distance between the hulls of two sets of corners, at least one each. They are a hundredth apart, unless the
/// distance is found to be above `far` or within `near` before, or is 0.
///
/// Source: Gilbert, *An iterative procedure for computing the minimum of a quadratic form on a convex set*, 1966: points found
/// so far move towards the corners that lie furthest in each other's direction, whose planes bound the distance from below.
pub(super) fn gap(one: &[Point3<f64>], other: &[Point3<f64>], near: f64, far: f64) -> HullGap {
    let mut way = other[0] - one[0];
    let mut at_least: f64 = 0.0;
    for _ in 0..MOST_STEPS {
        let length = way.norm();
        if length <= near || length <= 0.0 {
            break;
        }
        let reached = furthest(other, &-way) - furthest(one, &way);
        at_least = at_least.max(way.dot(&reached) / length);
        let side = reached - way;
        let square = side.norm_squared();
        if at_least > far || at_least >= 0.99 * length || square <= 0.0 {
            break;
        }
        way += side * (-way.dot(&side) / square).clamp(0.0, 1.0);
    }
    HullGap {
        at_least,
        at_most: way.norm(),
    }
}

fn furthest(corners: &[Point3<f64>], way: &Vector3<f64>) -> Vector3<f64> {
    let reach = |corner: &&Point3<f64>| way.dot(&corner.coords);
    let furthest = corners.iter().max_by(|a, b| reach(a).total_cmp(&reach(b)));
    furthest.map_or_else(Vector3::zeros, |corner| corner.coords)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cube(x: f64, y: f64) -> Vec<Point3<f64>> {
        let sides = [-0.5, 0.5];
        let corner = |i: usize| Point3::new(x + sides[i & 1], y + sides[i >> 1 & 1], sides[i >> 2]);
        (0..8).map(corner).collect()
    }

    #[test]
    fn cubes_are_apart_by_faces_and_edges() {
        for (x, y, expected) in [(4.0, 0.0, 3.0), (4.0, 5.0, 5.0), (1.5, 0.3, 0.5)] {
            let found = gap(&cube(0.0, 0.0), &cube(x, y), 0.0, f64::INFINITY);
            assert!(found.at_least <= expected * (1.0 + 1e-12), "{found:?}");
            assert!(found.at_least >= 0.99 * expected - 1e-12, "{found:?}");
            assert!(found.at_most >= expected * (1.0 - 1e-12), "{found:?}");
        }
    }

    #[test]
    fn cubes_that_overlap_are_never_found_apart() {
        for (x, y) in [(0.0, 0.0), (0.9, 0.9), (1.0, 0.2), (0.5, -0.7)] {
            let found = gap(&cube(0.0, 0.0), &cube(x, y), 0.0, f64::INFINITY);
            assert!(found.at_least <= 1e-12, "{found:?}");
            assert!(found.at_most < 0.05, "{found:?}");
        }
    }
}
