//! What every shape's surface must satisfy, for the tests beside the shapes.

use std::collections::HashMap;

use nalgebra::{Point3, Vector3};

use super::{Finish, Solid, VolumeProperties, bulk_of_shape, of_shape_with};
use crate::scene::{Coordinates, Place, Scene, Shape};

/// Broken edges, as pictures have them.
pub(super) const CHAMFERED: Finish = Finish {
    chamfer: 0.06,
    around: 48,
};

/// A spatial scene in metres with nothing in it.
pub(super) fn scene() -> Scene {
    Scene::default()
}

/// Place in space.
pub(super) fn spatial(coordinates: [f64; 3]) -> Place {
    Place::At(Coordinates::Space(coordinates))
}

/// Volume and centroid by the divergence theorem over the triangles: ∮ x·n / 3 and ∮ x² n / 2, componentwise.
pub(super) fn mesh_bulk(solid: &Solid) -> VolumeProperties {
    let origin = solid.bounds.low;
    let (mut volume, mut moment) = (0.0, Vector3::zeros());
    for &triangle in &solid.triangles {
        let [a, b, c] = solid.corners(triangle).map(|corner| corner - origin);
        let area = (b - a).cross(&(c - a)) / 2.0;
        volume += area.dot(&(a + b + c)) / 9.0;
        let squares = |v: Vector3<f64>| v.component_mul(&v);
        let mean_square = (squares(a) + squares(b) + squares(c) + squares(a + b + c)) / 12.0;
        moment += area.component_mul(&mean_square) / 2.0;
    }
    VolumeProperties {
        volume,
        centroid: origin + moment / volume,
    }
}

/// Checks the surfaces of a shape in all finishes and returns its closed forms.
///
/// `tolerance` is the relative error of volume and centroid allowed for a sharp-edged surface of 256 facets around; a
/// circle of n facets lacks 2π² / 3n² of its area, 1e-4 here. Usual finishes may differ by 4 %.
pub(super) fn check(scene: &Scene, shape: &Shape, tolerance: f64) -> VolumeProperties {
    let bulk = bulk_of_shape(scene, shape).expect("a sound shape");
    let fine = Finish {
        chamfer: 0.0,
        around: 256,
    };
    for (finish, tolerance) in [(fine, tolerance), (Finish::SHARP, 0.04), (CHAMFERED, 0.04)] {
        let solid = of_shape_with(scene, shape, finish).expect("a sound shape");
        assert_closed(&solid);
        assert_normals(&solid);
        assert!(!solid.edges.is_empty());
        let mesh = mesh_bulk(&solid);
        let size = solid.bounds.diagonal();
        assert!(
            (mesh.volume / bulk.volume - 1.0).abs() < tolerance,
            "{finish:?}: {mesh:?} {bulk:?}"
        );
        assert!(
            (mesh.centroid - bulk.centroid).norm() < tolerance * size,
            "{finish:?}: {mesh:?} {bulk:?}"
        );
    }
    bulk
}

/// After joining equal positions, every edge has exactly one triangle on each side, and the inside is positive.
pub(super) fn assert_closed(solid: &Solid) {
    let sides = sides_of_edges(solid);
    assert!(sides.iter().all(|&sides| sides == (1, 1)), "{sides:?}");
    assert!(mesh_bulk(solid).volume > 0.0);
}

/// As [`assert_closed`], for surfaces that touch themselves: as many triangles on one side of an edge as on the other.
pub(super) fn assert_balanced(solid: &Solid) {
    let sides = sides_of_edges(solid);
    assert!(
        sides.iter().all(|&(left, right)| left == right),
        "{sides:?}"
    );
    assert!(mesh_bulk(solid).volume > 0.0);
}

/// Number of triangles to the left and right of each edge.
fn sides_of_edges(solid: &Solid) -> Vec<(usize, usize)> {
    let step = solid.bounds.diagonal() * 1e-9;
    let key = |point: Point3<f64>| {
        let from = (point - solid.bounds.low) / step;
        [from.x, from.y, from.z].map(|x| x.round() as i64)
    };
    let mut ways: HashMap<_, usize> = HashMap::new();
    for &triangle in &solid.triangles {
        let corners = solid.corners(triangle).map(key);
        for i in 0..3 {
            *ways.entry((corners[i], corners[(i + 1) % 3])).or_default() += 1;
        }
    }
    let back = |from, to| ways.get(&(to, from)).copied().unwrap_or(0);
    ways.iter()
        .map(|(&(from, to), &count)| (count, back(from, to)))
        .collect()
}

/// Normals are unit vectors on the outer side of their triangles; edges and positions are finite and in range.
fn assert_normals(solid: &Solid) {
    let sliver = solid.bounds.diagonal().powi(2) * 1e-12;
    for &triangle in &solid.triangles {
        let [a, b, c] = solid.corners(triangle);
        let across = (b - a).cross(&(c - a));
        for corner in triangle {
            let normal = solid.normals[corner as usize];
            assert!((normal.norm() - 1.0).abs() < 1e-9);
            if across.norm() > sliver {
                assert!(normal.dot(&across.normalize()) > 0.3, "{normal} {across}");
            }
        }
    }
    for point in solid.edges.iter().flat_map(|edge| &edge.ends) {
        assert!(
            super::distance(std::slice::from_ref(solid), point) < solid.bounds.diagonal() * 1e-6
        );
    }
}
