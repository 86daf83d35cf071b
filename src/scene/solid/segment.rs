//! Where straight ways cross a body's surface, and the surface's points nearest to others.

use nalgebra::{Point3, Vector3};

use super::Solid;
use super::bounds::{AlignedBox, CLUSTER};
use super::distance::nearest_on_triangle;
use super::ray::distance_along;

/// Crossings nearer to each other than this, relative to the way's length, are one that two triangles share.
const SAME: f64 = 1e-9;

/// Where a way from one point to another crosses the surface of a solid, as parts of the way from 0 to 1, ascending.
///
/// A way within the plane of a face does not cross that face.
pub fn crossings(solid: &Solid, from: &Point3<f64>, to: &Point3<f64>) -> Vec<f64> {
    let way = to - from;
    let mut found: Vec<f64> = Vec::new();
    if way.norm_squared() == 0.0 || !meets(&solid.bounds, from, &way) {
        return found;
    }
    let runs = solid.triangles.chunks(CLUSTER);
    for (run, bounds) in runs.zip(&solid.clusters) {
        if meets(bounds, from, &way) {
            let faces = run.iter().map(|triangle| solid.corners(*triangle));
            found.extend(faces.filter_map(|face| distance_along(&face, from, &way)));
        }
    }
    found.retain(|part| *part <= 1.0);
    found.sort_by(f64::total_cmp);
    found.dedup_by(|a, b| (*a - *b).abs() <= SAME);
    found
}

/// Whether a way passes a box, to within rounding.
fn meets(bounds: &AlignedBox, from: &Point3<f64>, way: &Vector3<f64>) -> bool {
    let room = SAME * bounds.diagonal();
    let (mut first, mut last) = (0.0_f64, 1.0_f64);
    for i in 0..3 {
        let (low, high) = (
            bounds.low[i] - room - from[i],
            bounds.high[i] + room - from[i],
        );
        if way[i] == 0.0 {
            if low > 0.0 || high < 0.0 {
                return false;
            }
            continue;
        }
        let (a, b) = (low / way[i], high / way[i]);
        first = first.max(a.min(b));
        last = last.min(a.max(b));
    }
    first <= last
}

/// The point of the solids' surfaces nearest to a point, of those within a distance of it; `None` where there is none. The
/// shorter the distance, the less work.
pub fn nearest_point(solids: &[Solid], point: &Point3<f64>, within: f64) -> Option<Point3<f64>> {
    let mut nearest: Option<(f64, Point3<f64>)> = None;
    for solid in solids {
        if solid.bounds.distance(point) > within {
            continue;
        }
        let runs = solid.triangles.chunks(CLUSTER);
        for (run, bounds) in runs.zip(&solid.clusters) {
            let limit = nearest.map_or(within, |(distance, _)| distance);
            if bounds.distance(point) > limit {
                continue;
            }
            for triangle in run {
                let [a, b, c] = solid.corners(*triangle);
                let on = nearest_on_triangle(point, a, b, c);
                let distance = (point - on).norm();
                if distance <= within && nearest.is_none_or(|(least, _)| distance < least) {
                    nearest = Some((distance, on));
                }
            }
        }
    }
    nearest.map(|(_, on)| on)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{read_str, solid};

    fn block() -> Vec<Solid> {
        let scene = r#"(format: 1, body: [Block(centre: (0, 0, 0), size: (2, 4, 6))],
            supports: [Fixed(name: "A", at: (0, 0, -3))])"#;
        solid::of_body_with(
            &read_str("block", scene).unwrap().scene,
            solid::Finish::SHARP,
        )
    }

    #[test]
    fn a_way_through_a_block_crosses_it_twice() {
        let solid = &block()[0];
        let parts =
            |from: [f64; 3], to: [f64; 3]| crossings(solid, &Point3::from(from), &Point3::from(to));
        let close = |found: Vec<f64>, expected: &[f64]| {
            assert_eq!(found.len(), expected.len(), "{found:?}");
            for (a, b) in found.iter().zip(expected) {
                assert!((a - b).abs() < 1e-9, "{found:?}");
            }
        };
        close(parts([-2.0, 0.3, 0.7], [2.0, 0.3, 0.7]), &[0.25, 0.75]);
        // Through the middles of two faces, where their triangles meet.
        close(parts([-2.0, 0.0, 0.0], [2.0, 0.0, 0.0]), &[0.25, 0.75]);
        close(parts([0.0, 0.0, 0.0], [0.0, 8.0, 0.0]), &[0.25]);
        close(parts([-2.0, 3.0, 0.0], [2.0, 3.0, 0.0]), &[]);
        close(parts([1.5, 0.0, 0.0], [5.0, 0.0, 0.0]), &[]);
        close(parts([1.0, 0.5, 0.5], [5.0, 0.5, 0.5]), &[0.0]);
    }

    #[test]
    fn nearest_points_lie_on_the_surface() {
        let near =
            |x: f64, y: f64, z: f64| nearest_point(&block(), &Point3::new(x, y, z), 10.0).unwrap();
        assert!((near(3.0, 0.5, 0.5) - Point3::new(1.0, 0.5, 0.5)).norm() < 1e-12);
        assert!((near(0.9, 0.5, 0.5) - Point3::new(1.0, 0.5, 0.5)).norm() < 1e-12);
        assert!((near(3.0, 5.0, 9.0) - Point3::new(1.0, 2.0, 3.0)).norm() < 1e-12);
        let far = Point3::new(3.0, 0.0, 0.0);
        assert_eq!(nearest_point(&block(), &far, 1.9), None);
        assert_eq!(nearest_point(&[], &Point3::origin(), f64::INFINITY), None);
    }
}
