//! Triangles under construction: the few primitives that hardware and strokes are made of.
//!
//! Light is baked into the colours of the corners, unless the renderer lights them, so that one unlit
//! material serves everything and palette colours stay what they are.

use std::collections::HashMap;
use std::f32::consts::TAU;

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

use super::paint::{Light, Paint};

/// Facets around a full circle of hardware.
pub(crate) const AROUND: usize = 28;

/// How much of the shading heads of arrows take.
const HEAD_RELIEF: f32 = 0.55;

/// Triangles with normals and colours.
#[derive(Debug, Clone)]
pub(crate) struct MeshBuilder {
    spines: Vec<[Vec3; 2]>,
    positions: Vec<Vec3>,
    normals: Vec<Vec3>,
    colours: Vec<[f32; 4]>,
    corners: Vec<u32>,
    paint: Paint,
    light: Light,
}

impl MeshBuilder {
    /// Nothing yet, under a light.
    pub(crate) fn new(light: Light) -> Self {
        Self {
            spines: Vec::new(),
            positions: Vec::new(),
            normals: Vec::new(),
            colours: Vec::new(),
            corners: Vec::new(),
            paint: Paint::flat(LinearRgba::WHITE),
            light,
        }
    }

    /// Whether nothing was drawn.
    pub(crate) fn is_empty(&self) -> bool {
        self.corners.is_empty()
    }

    /// Corner positions, in stage coordinates.
    pub(crate) fn positions(&self) -> &[Vec3] {
        &self.positions
    }

    /// Middle lines of the rods and tubes, in stage coordinates.
    pub(crate) fn spines(&self) -> &[[Vec3; 2]] {
        &self.spines
    }

    /// Paints what follows.
    pub(crate) fn paint(&mut self, paint: Paint) -> &mut Self {
        self.paint = paint;
        self
    }

    /// A shell around everything, `width` outside and open towards whoever looks at it: an outline of that colour.
    pub(crate) fn outline(&self, colour: LinearRgba, width: f32) -> Self {
        let mut ways: HashMap<[i32; 3], Vec3> = HashMap::new();
        let key = |point: &Vec3| (*point * 1e5).as_ivec3().to_array();
        for (point, normal) in self.positions.iter().zip(&self.normals) {
            *ways.entry(key(point)).or_default() += *normal;
        }
        let mut shell = Self::new(self.light);
        shell.paint(Paint::flat(colour));
        for point in &self.positions {
            let out = ways[&key(point)].normalize_or_zero();
            shell.corner(*point + out * width, -out);
        }
        let triangles = self.corners.chunks_exact(3);
        let inwards = triangles.flat_map(|corners| [corners[0], corners[2], corners[1]]);
        shell.corners = inwards.collect();
        shell
    }

    /// The mesh, with colours as vertex attributes.
    pub(crate) fn into_mesh(self) -> Mesh {
        Mesh::new(
            PrimitiveTopology::TriangleList,
            RenderAssetUsages::default(),
        )
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, self.positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, self.normals)
        .with_inserted_attribute(Mesh::ATTRIBUTE_COLOR, self.colours)
        .with_inserted_indices(Indices::U32(self.corners))
    }

    /// A corner in the current paint; returns its index.
    pub(crate) fn corner(&mut self, position: Vec3, normal: Vec3) -> u32 {
        let index = self.positions.len() as u32;
        self.positions.push(position);
        self.normals.push(normal);
        self.colours.push(self.paint.under(&self.light, normal));
        index
    }

    fn spine(&mut self, from: Vec3, to: Vec3) {
        self.spines.push([from, to]);
    }

    /// A triangle of corners, counter-clockwise seen from outside.
    pub(crate) fn triangle(&mut self, corners: [u32; 3]) {
        self.corners.extend(corners);
    }

    /// Solid of revolution about the line from `from` along the unit vector `along`.
    ///
    /// The profile lists (distance along, radius), running so that the material lies to its right; joints are sharp
    /// unless `smooth`.
    pub(crate) fn revolve(
        &mut self,
        from: Vec3,
        along: Vec3,
        profile: &[(f32, f32)],
        around: usize,
        smooth: bool,
    ) {
        let (u, v) = along.any_orthonormal_pair();
        let spoke = |step: usize| {
            let (sin, cos) = (TAU * step as f32 / around as f32).sin_cos();
            u * cos + v * sin
        };
        let lean =
            |a: (f32, f32), b: (f32, f32)| Vec2::new(a.1 - b.1, b.0 - a.0).normalize_or_zero();
        for i in 0..profile.len().saturating_sub(1) {
            let (a, b) = (profile[i], profile[i + 1]);
            let own = lean(a, b);
            let joint = |other: Option<Vec2>| match other {
                Some(other) if smooth => (own + other).normalize_or_zero(),
                _ => own,
            };
            let before = i.checked_sub(1).map(|j| lean(profile[j], a));
            let after = profile.get(i + 2).map(|next| lean(b, *next));
            let leans = [joint(before), joint(after)];
            let first = self.positions.len() as u32;
            for step in 0..=around {
                let out = spoke(step);
                for (point, lean) in [a, b].iter().zip(leans) {
                    let normal = along * lean.x + out * lean.y;
                    self.corner(from + along * point.0 + out * point.1, normal);
                }
            }
            for step in 0..around as u32 {
                let [a0, b0, a1, b1] = [0, 1, 2, 3].map(|k| first + 2 * step + k);
                self.triangle([a0, a1, b1]);
                self.triangle([a0, b1, b0]);
            }
        }
    }

    /// Cylinder between two points.
    pub(crate) fn rod(&mut self, from: Vec3, to: Vec3, radius: f32) {
        self.faceted_rod(from, to, radius, AROUND);
    }

    /// Prism of regular section between two points; 4 facets make a square bar.
    pub(crate) fn faceted_rod(&mut self, from: Vec3, to: Vec3, radius: f32, around: usize) {
        let Some((along, length)) = along(from, to) else {
            return;
        };
        self.spine(from, to);
        let profile = [(0.0, 0.0), (0.0, radius), (length, radius), (length, 0.0)];
        self.revolve(from, along, &profile, around, false);
    }

    /// Cone with its base at `from` and its point at `to`.
    pub(crate) fn cone(&mut self, from: Vec3, to: Vec3, radius: f32, around: usize) {
        let Some((along, length)) = along(from, to) else {
            return;
        };
        let profile = [(0.0, 0.0), (0.0, radius), (length, 0.0)];
        self.revolve(from, along, &profile, around, false);
    }

    /// Head of an arrow: a cone that is shaded a little, so that it is seen to be round from any side.
    pub(crate) fn head(&mut self, from: Vec3, to: Vec3, radius: f32, around: usize) {
        let flat = self.paint;
        self.paint = flat.in_relief(HEAD_RELIEF);
        self.cone(from, to, radius, around);
        self.paint = flat;
        let side = (to - from).any_orthonormal_vector() * (radius * 0.5);
        self.spine(from + side, to);
        self.spine(from - side, to);
    }

    /// Ball.
    pub(crate) fn ball(&mut self, centre: Vec3, radius: f32) {
        let profile = arc_profile(0.0, radius, [0.0, 180.0]);
        self.revolve(centre, Vec3::Z, &profile, 20, true);
    }

    /// Round tube along a path, closed at its ends.
    pub(crate) fn tube(&mut self, path: &[Vec3], radius: f32, around: usize) {
        let Some(frames) = frames_along(path) else {
            return;
        };
        for pair in path.windows(2) {
            self.spine(pair[0], pair[1]);
        }
        let mut before: Option<u32> = None;
        for (point, (u, v)) in path.iter().zip(&frames) {
            let first = self.positions.len() as u32;
            for step in 0..=around {
                let (sin, cos) = (TAU * step as f32 / around as f32).sin_cos();
                let out = *u * cos + *v * sin;
                self.corner(*point + out * radius, out);
            }
            if let Some(before) = before {
                for step in 0..around as u32 {
                    let [a0, a1] = [before + step, before + step + 1];
                    let [b0, b1] = [first + step, first + step + 1];
                    self.triangle([a0, a1, b1]);
                    self.triangle([a0, b1, b0]);
                }
            }
            before = Some(first);
        }
    }
}

/// Profile of an arc about a point of the axis, degrees from its lower end over the side to its upper end.
pub(crate) fn arc_profile(middle: f32, radius: f32, degrees: [f32; 2]) -> Vec<(f32, f32)> {
    let steps = 10;
    (0..=steps)
        .map(|i| {
            let part = i as f32 / steps as f32;
            let (sin, cos) = (degrees[0] + (degrees[1] - degrees[0]) * part)
                .to_radians()
                .sin_cos();
            // Exactly on the axis at its ends, so that the surface closes.
            (
                middle - radius * cos,
                radius * if sin.abs() < 1e-6 { 0.0 } else { sin },
            )
        })
        .collect()
}

fn along(from: Vec3, to: Vec3) -> Option<(Vec3, f32)> {
    let length = from.distance(to);
    (length > 0.0).then(|| ((to - from) / length, length))
}

/// Unit vectors perpendicular to the path at each of its points, carried along without twist.
fn frames_along(path: &[Vec3]) -> Option<Vec<(Vec3, Vec3)>> {
    let way = |i: usize| {
        let last = path.len() - 1;
        (path[(i + 1).min(last)] - path[i.saturating_sub(1)]).normalize_or_zero()
    };
    if path.len() < 2 {
        return None;
    }
    let mut u = way(0).any_orthonormal_vector();
    let frames = (0..path.len()).map(|i| {
        let way = way(i);
        u = (u - way * u.dot(way)).normalize_or(way.any_orthonormal_vector());
        (u, way.cross(u))
    });
    Some(frames.collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn draft() -> MeshBuilder {
        MeshBuilder::new(Light::from_above(Vec3::Z, Vec3::NEG_Y))
    }

    /// Volume by the divergence theorem; positive only where faces look outwards.
    fn volume(draft: &MeshBuilder) -> f32 {
        draft
            .corners
            .chunks(3)
            .map(|c| {
                let [a, b, c] = [c[0], c[1], c[2]].map(|i| draft.positions[i as usize]);
                a.dot(b.cross(c)) / 6.0
            })
            .sum()
    }

    /// Exact volumes of the facetted solids: a regular n-gon of radius 1 has area n/2 sin(2π/n).
    #[test]
    fn primitives_are_closed_and_face_outwards() {
        let section = |n: usize| n as f32 / 2.0 * (TAU / n as f32).sin();
        let (from, to) = (Vec3::new(1.0, 2.0, 3.0), Vec3::new(1.0, 2.0, 5.0));
        let expect = |draw: &dyn Fn(&mut MeshBuilder), expected: f32| {
            let mut draft = draft();
            draw(&mut draft);
            let found = volume(&draft);
            assert!((found / expected - 1.0).abs() < 2e-3, "{found} {expected}");
        };
        expect(&|d| d.rod(from, to, 0.5), section(AROUND) * 0.25 * 2.0);
        expect(
            &|d| d.cone(from, to, 0.5, 12),
            section(12) * 0.25 * 2.0 / 3.0,
        );
        let mut ball = draft();
        ball.ball(from, 1.0);
        let sphere = 2.0 / 3.0 * TAU;
        assert!((volume(&ball) / sphere - 1.0).abs() < 0.05);
    }

    #[test]
    fn an_outline_lies_outside_and_faces_inwards() {
        let mut ball = draft();
        ball.ball(Vec3::ZERO, 1.0);
        let shell = ball.outline(LinearRgba::BLACK, 0.1);
        let radii = shell.positions.iter().map(|point| point.length());
        assert!(radii.into_iter().all(|radius| (radius - 1.1).abs() < 0.01));
        assert!(volume(&shell) < -volume(&ball));
    }

    #[test]
    fn normals_agree_with_faces() {
        let mut draft = draft();
        draft.ball(Vec3::X, 0.5);
        draft.tube(&[Vec3::ZERO, Vec3::X, Vec3::new(2.0, 1.0, 0.0)], 0.1, 8);
        draft.cone(Vec3::ZERO, Vec3::Y, 0.3, 12);
        for c in draft.corners.chunks(3) {
            let p = [c[0], c[1], c[2]].map(|i| draft.positions[i as usize]);
            let face = (p[1] - p[0]).cross(p[2] - p[0]);
            let mean: Vec3 = c.iter().map(|i| draft.normals[*i as usize]).sum();
            assert!(face.length() < 1e-9 || face.dot(mean) > 0.0);
        }
    }
}
