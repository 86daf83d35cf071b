//! How far points lie from solids, and which supports lie off the body.

use nalgebra::{Point3, Vector3};

use super::bounds::CLUSTER;
use super::locate::SolidPlaces;
use super::tree::SolidTree;
use super::{Finish, Solid, of_body_with};
use crate::scene::Scene;

/// A support may lie this far off the surface, relative to the diagonal of the box around the body.
///
/// Our choice, no source: room for the lug or eye that the sketch of the body leaves out.
pub(super) const STAND_OFF: f64 = 0.05;

/// Distance of a point from the nearest solid in m; 0 inside and on the surface, infinite without solids.
///
/// Round surfaces are measured at their triangles, which lie inside the true surface by the tessellation's sagitta.
pub fn distance(solids: &[Solid], point: &Point3<f64>) -> f64 {
    solids.iter().fold(f64::INFINITY, |nearest, solid| {
        nearer(solid, point, nearest, 0.0)
    })
}

/// The smaller of `nearest` and the distance of a point from a solid; 0 for any distance up to `allowance`, which saves most
/// of the work.
fn nearer(solid: &Solid, point: &Point3<f64>, nearest: f64, allowance: f64) -> f64 {
    let to_box = solid.bounds.distance(point);
    if to_box >= nearest {
        return nearest;
    }
    let nearest = surface_distance(solid, point, nearest);
    if nearest <= allowance || (to_box == 0.0 && encloses(solid, point)) {
        return 0.0;
    }
    nearest
}

/// Distance of a point from the surface, or anything not less than `limit`.
pub fn surface_distance(solid: &Solid, point: &Point3<f64>, limit: f64) -> f64 {
    let mut nearest = limit;
    let runs = solid.triangles.chunks(CLUSTER);
    for (run, bounds) in runs.zip(&solid.clusters) {
        if bounds.distance(point) >= nearest {
            continue;
        }
        for &triangle in run {
            let [a, b, c] = solid.corners(triangle);
            nearest = nearest.min((point - nearest_on_triangle(point, a, b, c)).norm());
        }
    }
    nearest
}

/// Nearest point of a triangle: by the regions of its corners, sides and face.
///
/// Source: Ericson, *Real-Time Collision Detection*, 2005, section 5.1.5.
pub(super) fn nearest_on_triangle(
    point: &Point3<f64>,
    a: Point3<f64>,
    b: Point3<f64>,
    c: Point3<f64>,
) -> Point3<f64> {
    let (ab, ac) = (b - a, c - a);
    let (from_a, from_b, from_c) = (point - a, point - b, point - c);
    let (d1, d2) = (ab.dot(&from_a), ac.dot(&from_a));
    let (d3, d4) = (ab.dot(&from_b), ac.dot(&from_b));
    let (d5, d6) = (ab.dot(&from_c), ac.dot(&from_c));
    if d1 <= 0.0 && d2 <= 0.0 {
        return a;
    }
    if d3 >= 0.0 && d4 <= d3 {
        return b;
    }
    if d6 >= 0.0 && d5 <= d6 {
        return c;
    }
    let (area_a, area_b, area_c) = (d3 * d6 - d5 * d4, d5 * d2 - d1 * d6, d1 * d4 - d3 * d2);
    if area_c <= 0.0 && d1 >= 0.0 && d3 <= 0.0 {
        return a + ab * (d1 / (d1 - d3));
    }
    if area_b <= 0.0 && d2 >= 0.0 && d6 <= 0.0 {
        return a + ac * (d2 / (d2 - d6));
    }
    if area_a <= 0.0 && d4 >= d3 && d5 >= d6 {
        return b + (c - b) * ((d4 - d3) / ((d4 - d3) + (d5 - d6)));
    }
    let total = area_a + area_b + area_c;
    a + ab * (area_b / total) + ac * (area_c / total)
}

/// Whether a point lies in a solid's material, deeper below its surface than a margin, m.
pub fn is_within(solid: &Solid, point: &Point3<f64>, margin: f64) -> bool {
    solid.bounds.distance(point) == 0.0
        && surface_distance(solid, point, f64::INFINITY) > margin
        && encloses(solid, point)
}

/// Whether a point lies outside a solid, farther from its surface than some room, m.
pub fn is_clear(solid: &Solid, point: &Point3<f64>, room: f64) -> bool {
    solid.bounds.distance(point) > room
        || (surface_distance(solid, point, 2.0 * room) > room && !encloses(solid, point))
}

/// Whether the surface winds around a point.
///
/// Source: solid angle of a triangle after van Oosterom & Strackee, *The solid angle of a plane triangle*, 1983.
pub(super) fn encloses(solid: &Solid, point: &Point3<f64>) -> bool {
    let whole: f64 = solid
        .triangles
        .iter()
        .map(|&triangle| {
            let [a, b, c] = solid.corners(triangle).map(|corner| corner - point);
            let (na, nb, nc) = (a.norm(), b.norm(), c.norm());
            let below = na * nb * nc + a.dot(&b) * nc + b.dot(&c) * na + c.dot(&a) * nb;
            2.0 * volume_of(&a, &b, &c).atan2(below)
        })
        .sum();
    // Once around is 4π; half of that lies between outside and inside.
    whole > 2.0 * std::f64::consts::PI
}

fn volume_of(a: &Vector3<f64>, b: &Vector3<f64>, c: &Vector3<f64>) -> f64 {
    a.dot(&b.cross(c))
}

/// Supports that lie off the body, by index, with their distance from the nearest shape in m, in scene order.
///
/// A support stands off if its point is neither in a shape nor within 5 % of the diagonal of the box around the whole body
/// from a surface: room for the lug or eye that a sketch leaves out. Supports at unknown places are not listed, nor is any
/// support of a body without solid shapes; other checks tell of these.
pub fn stands_off(scene: &Scene) -> Vec<(usize, f64)> {
    let solids = of_body_with(scene, Finish::SHARP);
    let Some(tree) = SolidTree::new(solids.iter().collect()) else {
        return Vec::new();
    };
    let allowance = STAND_OFF * tree.bounds().diagonal();
    let places = SolidPlaces::new(scene);
    let supports = scene.supports.iter().enumerate();
    supports
        .filter_map(|(index, support)| {
            let point = places.point(&support.at)?;
            let distance = tree.search(&point, f64::INFINITY, &mut |solid, nearest| {
                nearer(solid, &point, nearest, allowance)
            });
            (distance > allowance).then_some((index, distance))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use nalgebra::point;

    use super::super::bounds::AlignedBox;
    use super::*;
    use crate::scene::solid::testing::{CHAMFERED, scene, spatial};
    use crate::scene::{BarSection, BentBar, Block, Place, Shaft, Shape, Support, SupportKind};

    fn block() -> Shape {
        Shape::Block(Block {
            centre: spatial([0.0; 3]),
            size: [2.0, 2.0, 2.0],
            lengthwise: None,
            upright: None,
        })
    }

    fn bar() -> Shape {
        Shape::BentBar(BentBar {
            path: vec![spatial([10.0, 0.0, 0.0]), spatial([20.0, 0.0, 0.0])],
            diameter: 1.0,
            bend_radius: None,
            section: BarSection::Solid,
        })
    }

    fn ball_joint(at: Place) -> Support {
        Support {
            name: String::new(),
            at,
            kind: SupportKind::BallJoint,
            stiffness: Default::default(),
            allowable: None,
        }
    }

    fn body(shapes: Vec<Shape>) -> Scene {
        let mut scene = scene();
        scene.body = shapes;
        scene
    }

    #[test]
    fn distances_from_faces_edges_corners_and_inside() {
        let solids = of_body_with(&body(vec![block(), bar()]), Finish::SHARP);
        let close = |point: Point3<f64>, expected: f64, tolerance: f64| {
            let found = distance(&solids, &point);
            assert!((found - expected).abs() <= tolerance, "{point} {found}");
        };
        close(point![0.0, 0.0, 0.0], 0.0, 0.0);
        close(point![0.9, -0.3, 0.2], 0.0, 0.0);
        close(point![0.0, 0.0, 3.0], 2.0, 1e-12);
        close(point![0.0, 4.0, 5.0], 5.0, 1e-12);
        close(point![-3.0, -3.0, -2.0], 3.0, 1e-12);
        close(point![15.0, 0.2, 0.2], 0.0, 0.0);
        // Sagitta of 32 sides about a radius of 0.5: 0.5 (1 - cos(π / 32)) = 0.0024.
        close(point![15.0, 2.0, 0.0], 1.5, 0.0025);
        assert_eq!(distance(&[], &point![0.0, 0.0, 0.0]), f64::INFINITY);
    }

    #[test]
    fn chamfered_solids_enclose_the_same_points() {
        let solids = of_body_with(&body(vec![block(), bar()]), CHAMFERED);
        assert_eq!(distance(&solids, &point![0.5, 0.5, 0.5]), 0.0);
        assert!(distance(&solids, &point![5.0, 0.0, 0.0]) > 3.9);
    }

    #[test]
    fn supports_off_the_body_are_found() {
        let mut scene = body(vec![block(), bar()]);
        let at = |x: f64, y: f64, z: f64| spatial([x, y, z]);
        let places = [
            at(0.0, 0.0, 0.0),
            at(5.0, 0.0, 0.0),
            at(15.0, 0.9, 0.0),
            at(0.0, 0.0, -3.0),
            Place::Named("nowhere".into()),
        ];
        scene.supports = places.into_iter().map(ball_joint).collect();
        // The body's box is 21 × 2 × 2, so 1.06 is allowed.
        let found = stands_off(&scene);
        assert_eq!(found.len(), 2, "{found:?}");
        assert_eq!((found[0].0, found[1].0), (1, 3));
        assert!((found[0].1 - 4.0).abs() < 1e-9 && (found[1].1 - 2.0).abs() < 1e-9);
        scene.body.clear();
        assert!(stands_off(&scene).is_empty());
    }

    #[test]
    fn many_shapes_are_searched_as_if_one_by_one() {
        let shaft = |i: usize| {
            let x = i as f64;
            let at = |z: f64| spatial([x * 0.7 % 5.0, x * 1.3 % 4.0, x * 0.37 % 3.0 + z]);
            Shape::Shaft(Shaft {
                from: at(0.0),
                to: at(0.2),
                diameter: 0.1,
            })
        };
        let mut scene = body((0..60).map(shaft).collect());
        scene.supports = (0..200)
            .map(|i| {
                let x = i as f64;
                ball_joint(spatial([x * 0.31 % 9.0, x * 0.77 % 9.0, x * 0.13 % 9.0]))
            })
            .collect();
        let found = stands_off(&scene);
        let solids = of_body_with(&scene, Finish::SHARP);
        let places = SolidPlaces::new(&scene);
        let corners: Vec<_> = solids.iter().flat_map(|solid| solid.bounds()).collect();
        let allowance = 0.05 * AlignedBox::of(&corners).unwrap().diagonal();
        let one_by_one = |support: &Support| {
            let point = places.point(&support.at).unwrap();
            distance(&solids, &point)
        };
        let expected: Vec<_> = (0..scene.supports.len())
            .map(|i| (i, one_by_one(&scene.supports[i])))
            .filter(|&(_, distance)| distance > allowance)
            .collect();
        assert!(found.len() > 50 && found.len() < 200, "{}", found.len());
        assert_eq!(found, expected);
    }
}
