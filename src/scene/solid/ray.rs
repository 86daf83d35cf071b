//! Where a line of sight first meets a body.

use nalgebra::{Point3, Vector3};

use super::Solid;

/// Sines below this count as a line that lies in the triangle's plane.
const GRAZING: f64 = 1e-12;

/// First point of the solids' surfaces on the ray from `origin` along `way`, which may have any length but 0; m.
///
/// # Source
/// Möller & Trumbore, *Journal of Graphics Tools* 2 (1997), 21–28.
pub fn first_hit(
    solids: &[Solid],
    origin: &Point3<f64>,
    way: &Vector3<f64>,
) -> Option<Point3<f64>> {
    let faces = solids.iter().flat_map(Solid::faces);
    let hits = faces.filter_map(|face| distance_along(&face, origin, way));
    let first = hits.min_by(f64::total_cmp)?;
    Some(origin + way * first)
}

/// The direction across the face that is met first, from the side of `origin` to the other: into a closed body from outside.
pub fn first_face(
    solids: &[Solid],
    origin: &Point3<f64>,
    way: &Vector3<f64>,
) -> Option<Vector3<f64>> {
    let faces = solids.iter().flat_map(Solid::faces);
    let hits = faces.filter_map(|face| Some((distance_along(&face, origin, way)?, face)));
    let (_, [a, b, c]) = hits.min_by(|a, b| a.0.total_cmp(&b.0))?;
    let across = (b - a).cross(&(c - a)).try_normalize(0.0)?;
    Some(if across.dot(way) < 0.0 {
        -across
    } else {
        across
    })
}

/// How many lengths of `way` it is to the triangle.
pub(super) fn distance_along(
    [a, b, c]: &[Point3<f64>; 3],
    origin: &Point3<f64>,
    way: &Vector3<f64>,
) -> Option<f64> {
    let (along, up) = (b - a, c - a);
    let across = way.cross(&up);
    let volume = along.dot(&across);
    if volume.abs() <= GRAZING * way.norm() * along.norm() * up.norm() {
        return None;
    }
    let from = origin - a;
    let u = from.dot(&across) / volume;
    let normal = from.cross(&along);
    let v = way.dot(&normal) / volume;
    let distance = up.dot(&normal) / volume;
    (u >= 0.0 && v >= 0.0 && u + v <= 1.0 && distance >= 0.0).then_some(distance)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{read_str, solid};

    fn block() -> Vec<Solid> {
        let scene = r#"(format: 1, title: "block",
            body: [Block(centre: (0, 0, 0), size: (2, 4, 6))],
            supports: [Fixed(name: "A", at: (0, 0, -3))])"#;
        solid::of_body(&read_str("block", scene).unwrap().scene)
    }

    #[test]
    fn the_nearer_face_is_hit() {
        let hit = |origin: [f64; 3], way: [f64; 3]| {
            first_hit(&block(), &Point3::from(origin), &Vector3::from(way))
        };
        let near = |found: Option<Point3<f64>>, x: f64, y: f64, z: f64| {
            (found.unwrap() - Point3::new(x, y, z)).norm() < 1e-9
        };
        assert!(near(hit([9.0, 0.3, 0.2], [-2.0, 0.0, 0.0]), 1.0, 0.3, 0.2));
        assert!(near(hit([0.2, -7.0, 1.0], [0.0, 0.5, 0.0]), 0.2, -2.0, 1.0));
        // From (5, 0, 5) along (−1, 0, −1) the face x = 1 is met at z = 1.
        assert!(near(hit([5.0, 0.1, 5.0], [-1.0, 0.0, -1.0]), 1.0, 0.1, 1.0));
        assert_eq!(hit([9.0, 0.0, 0.0], [1.0, 0.0, 0.0]), None, "behind");
        assert_eq!(hit([9.0, 5.0, 0.0], [-1.0, 0.0, 0.0]), None, "beside");
    }
}
