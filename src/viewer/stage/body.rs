//! The body as the renderer wants it, and how far a point lies from its surface.

use bevy::prelude::*;

use super::crossing::{StageFrame, vector};
use super::mesh_builder::MeshBuilder;
use super::paint::Paint;
use crate::scene::solid::Solid;

/// The body's surface in stage coordinates.
#[derive(Debug, Clone, Default)]
pub(crate) struct BodySurface {
    positions: Vec<Vec3>,
    normals: Vec<Vec3>,
    triangles: Vec<[u32; 3]>,
}

impl BodySurface {
    /// Gathers the solids of a body.
    pub(crate) fn new(solids: &[Solid], frame: &StageFrame) -> Self {
        let mut surface = Self::default();
        for solid in solids {
            let first = surface.positions.len() as u32;
            surface
                .positions
                .extend(solid.positions.iter().map(|p| frame.point(p)));
            surface.normals.extend(solid.normals.iter().map(vector));
            surface
                .triangles
                .extend(solid.triangles.iter().map(|t| t.map(|i| first + i)));
        }
        surface
    }

    /// Corner positions.
    pub(crate) fn positions(&self) -> &[Vec3] {
        &self.positions
    }

    /// Adds the surface to a draft.
    pub(crate) fn draw(&self, draft: &mut MeshBuilder, paint: Paint) {
        draft.paint(paint);
        let mut first = None;
        for (position, normal) in self.positions.iter().zip(&self.normals) {
            let index = draft.corner(*position, *normal);
            first.get_or_insert(index);
        }
        let Some(first) = first else { return };
        for triangle in &self.triangles {
            draft.triangle(triangle.map(|i| first + i));
        }
    }

    /// Distance of a point from the surface; infinite without a surface.
    pub(crate) fn girth(&self, point: Vec3) -> f32 {
        self.faces()
            .map(|face| nearest(face, point).distance(point))
            .fold(f32::INFINITY, f32::min)
    }

    /// Whether a point lies so deep inside the body.
    pub(crate) fn buries(&self, point: Vec3, depth: f32) -> bool {
        self.winds_around(point) && self.girth(point) > depth
    }

    /// Whether a point lies inside: a ray from it leaves more often than it enters.
    fn winds_around(&self, point: Vec3) -> bool {
        // Along no edge of anything that is drawn.
        let way = Vec3::new(0.287, 0.611, 0.738);
        let left = self.faces().map(|[a, b, c]| {
            let (u, v) = (b - a, c - a);
            let lean = u.cross(v).dot(way);
            let from = point - a;
            let across = from.cross(way);
            let (s, t) = (-v.dot(across) / lean, u.dot(across) / lean);
            let ahead = -from.dot(u.cross(v)) / lean;
            let hits = lean != 0.0 && s >= 0.0 && t >= 0.0 && s + t <= 1.0 && ahead > 0.0;
            if hits { lean.signum() as i32 } else { 0 }
        });
        left.sum::<i32>() > 0
    }

    fn faces(&self) -> impl Iterator<Item = [Vec3; 3]> {
        self.triangles
            .iter()
            .map(|triangle| triangle.map(|i| self.positions[i as usize]))
    }
}

/// Point of a triangle nearest to `p`: inside its face if the foot of the perpendicular lies there, else on an edge.
fn nearest([a, b, c]: [Vec3; 3], p: Vec3) -> Vec3 {
    let normal = (b - a).cross(c - a);
    let square = normal.length_squared();
    if square > 0.0 {
        let inside = |u: Vec3, v: Vec3| (v - u).cross(p - u).dot(normal) >= 0.0;
        if inside(a, b) && inside(b, c) && inside(c, a) {
            return p - normal * ((p - a).dot(normal) / square);
        }
    }
    let on_edge = |u: Vec3, v: Vec3| {
        let edge = v - u;
        let part = (p - u).dot(edge) / edge.length_squared().max(f32::MIN_POSITIVE);
        u + edge * part.clamp(0.0, 1.0)
    };
    let closer = |x: Vec3, y: Vec3| {
        if x.distance_squared(p) <= y.distance_squared(p) {
            x
        } else {
            y
        }
    };
    closer(closer(on_edge(a, b), on_edge(b, c)), on_edge(c, a))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_point_in_the_body_is_inside() {
        let corners = [Vec3::ZERO, Vec3::X, Vec3::Y, Vec3::Z];
        let surface = BodySurface {
            positions: corners.to_vec(),
            normals: corners.to_vec(),
            triangles: vec![[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]],
        };
        assert!(surface.buries(Vec3::splat(0.2), 0.01));
        assert!(!surface.buries(Vec3::splat(0.2), 0.5), "not so deep");
        for outside in [
            Vec3::splat(-0.1),
            Vec3::splat(0.5),
            Vec3::new(2.0, 0.1, 0.1),
        ] {
            assert!(!surface.buries(outside, 0.0), "{outside}");
        }
    }

    #[test]
    fn nearest_points_of_a_triangle() {
        let triangle = [Vec3::ZERO, Vec3::X, Vec3::Y];
        assert_eq!(
            nearest(triangle, Vec3::new(0.2, 0.2, 3.0)),
            Vec3::new(0.2, 0.2, 0.0)
        );
        assert_eq!(
            nearest(triangle, Vec3::new(0.5, -2.0, 0.0)),
            Vec3::new(0.5, 0.0, 0.0)
        );
        assert_eq!(nearest(triangle, Vec3::new(9.0, -2.0, 1.0)), Vec3::X);
    }
}
