//! Pieces that hide each other: the body's solids, and support hardware made of simple closed meshes.

use nalgebra::{Isometry3, Point3, Vector3};

use crate::scene::solid::Solid;

/// A triangle mesh with the lines that are drawn on it.
#[derive(Debug, Clone, Default)]
pub(super) struct Mesh {
    /// Corners, m.
    pub positions: Vec<Point3<f64>>,
    /// Triangles, counter-clockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
    /// Edges that are drawn wherever they can be seen.
    pub creases: Vec<[Point3<f64>; 2]>,
    /// Fine lines on its faces, such as hatching.
    pub hatches: Vec<[Point3<f64>; 2]>,
    /// A ball, whose outline is a circle and not that of its triangles.
    pub ball: Option<(Point3<f64>, f64)>,
    /// Whether it has no tint of its own: rods that may reach into the body, whose tint would be seen through it.
    pub bare: bool,
}

/// Facets around hardware.
const AROUND: usize = 24;

impl Mesh {
    /// A solid of the body, moved.
    pub fn of_solid(solid: &Solid, pose: &Isometry3<f64>) -> Self {
        Self {
            positions: solid.positions.iter().map(|p| pose * p).collect(),
            triangles: solid.triangles.clone(),
            creases: solid
                .edges
                .iter()
                .map(|edge| edge.map(|p| pose * p))
                .collect(),
            ..Self::default()
        }
    }

    fn push(&mut self, point: Point3<f64>) -> u32 {
        self.positions.push(point);
        self.positions.len() as u32 - 1
    }

    fn quad(&mut self, corners: [u32; 4]) {
        let [a, b, c, d] = corners;
        self.triangles.extend([[a, b, c], [a, c, d]]);
    }

    /// A round piece whose radii change linearly between stations along an axis; closed at both ends. Each station whose
    /// flag is set has its rim drawn.
    pub fn turned(from: &Point3<f64>, axis: &Vector3<f64>, stations: &[(f64, f64, bool)]) -> Self {
        Self::revolved(from, axis, stations, AROUND, 0.0)
    }

    fn revolved(
        from: &Point3<f64>,
        axis: &Vector3<f64>,
        stations: &[(f64, f64, bool)],
        around: usize,
        start_angle: f64,
    ) -> Self {
        let mut mesh = Self::default();
        let [x, y] = across(axis);
        let count = around as u32;
        let ring = |(along, radius): (f64, f64)| -> Vec<Point3<f64>> {
            let angle = |i| start_angle + std::f64::consts::TAU * i as f64 / around as f64;
            let way = |i| x * f64::cos(angle(i)) + y * f64::sin(angle(i));
            (0..around)
                .map(|i| from + axis * along + way(i) * radius)
                .collect()
        };
        for (index, (along, radius, drawn)) in stations.iter().enumerate() {
            let ring = ring((*along, *radius));
            if *drawn {
                mesh.rim(&ring);
            }
            mesh.positions.extend(ring);
            if index > 0 {
                let (near, far) = ((index as u32 - 1) * count, index as u32 * count);
                for i in 0..count {
                    let j = (i + 1) % count;
                    mesh.quad([near + i, near + j, far + j, far + i]);
                }
            }
        }
        let (first, last) = (stations[0], stations[stations.len() - 1]);
        let hubs = [first.0, last.0].map(|along| mesh.push(from + axis * along));
        let end = (stations.len() as u32 - 1) * count;
        for i in 0..count {
            let j = (i + 1) % count;
            mesh.triangles.push([hubs[0], j, i]);
            mesh.triangles.push([hubs[1], end + i, end + j]);
        }
        mesh
    }

    fn rim(&mut self, ring: &[Point3<f64>]) {
        for (i, from) in ring.iter().enumerate() {
            self.creases.push([*from, ring[(i + 1) % ring.len()]]);
        }
    }

    /// Round rod between two points.
    pub fn rod(from: &Point3<f64>, to: &Point3<f64>, radius: f64) -> Self {
        let way = to - from;
        let length = way.norm();
        let ends = [(0.0, radius, true), (length, radius, true)];
        Self {
            bare: true,
            ..Self::turned(from, &(way / length), &ends)
        }
    }

    /// Ring around an axis, centred at a point: round, or square where asked for.
    pub fn ring(
        centre: &Point3<f64>,
        axis: &Vector3<f64>,
        [inner, outer]: [f64; 2],
        width: f64,
        square: bool,
    ) -> Self {
        let (around, turn, grow) = if square {
            (4, std::f64::consts::FRAC_PI_4, std::f64::consts::SQRT_2)
        } else {
            (AROUND, 0.0, 1.0)
        };
        let half = width / 2.0;
        let profile = [(-half, inner), (-half, outer), (half, outer), (half, inner)];
        let mut mesh = Self::default();
        let [x, y] = across(axis);
        for (along, radius) in profile {
            let points: Vec<_> = (0..around)
                .map(|i| {
                    let angle = turn + std::f64::consts::TAU * i as f64 / around as f64;
                    let way = x * angle.cos() + y * angle.sin();
                    centre + axis * along + way * (radius * grow)
                })
                .collect();
            mesh.rim(&points);
            if square && radius == outer && along < 0.0 {
                let lengthwise = points.iter().map(|p| [*p, p + axis * width]);
                mesh.creases.extend(lengthwise);
            }
            mesh.positions.extend(points);
        }
        let count = around as u32;
        for part in 0..4_u32 {
            let (near, far) = (part * count, ((part + 1) % 4) * count);
            for i in 0..count {
                let j = (i + 1) % count;
                mesh.quad([near + i, near + j, far + j, far + i]);
            }
        }
        mesh
    }

    /// Ball.
    pub fn ball(centre: &Point3<f64>, radius: f64) -> Self {
        const BANDS: usize = 8;
        let stations: Vec<_> = (1..BANDS)
            .map(|i| {
                let angle = std::f64::consts::PI * i as f64 / BANDS as f64;
                (-radius * angle.cos(), radius * angle.sin(), false)
            })
            .collect();
        Self {
            ball: Some((*centre, radius)),
            ..Self::turned(centre, &Vector3::z(), &stations)
        }
    }

    /// Box around a centre with half edge vectors.
    pub fn block(centre: &Point3<f64>, halves: [Vector3<f64>; 3]) -> Self {
        let mut mesh = Self::default();
        let corner = |sign: [f64; 3]| {
            centre + halves[0] * sign[0] + halves[1] * sign[1] + halves[2] * sign[2]
        };
        let signs = |i: u32| [0, 1, 2].map(|k| if i >> k & 1 == 1 { 1.0 } else { -1.0 });
        for i in 0..8 {
            mesh.push(corner(signs(i)));
        }
        let right_handed = halves[0].cross(&halves[1]).dot(&halves[2]) > 0.0;
        // Seen from outside, counter-clockwise where the halves are right-handed.
        for face in [
            [0, 2, 3, 1],
            [4, 5, 7, 6],
            [0, 1, 5, 4],
            [2, 6, 7, 3],
            [0, 4, 6, 2],
            [1, 3, 7, 5],
        ] {
            let [a, b, c, d] = face;
            mesh.quad(if right_handed { face } else { [d, c, b, a] });
        }
        for i in 0..8_u32 {
            for k in 0..3 {
                if i >> k & 1 == 0 {
                    let ends = [i, i | 1 << k].map(|j| mesh.positions[j as usize]);
                    mesh.creases.push(ends);
                }
            }
        }
        mesh
    }

    /// Piece of the ground: a hatched square that faces `normal` (unit), with its centre and half its side.
    pub fn ground(centre: &Point3<f64>, normal: &Vector3<f64>, half: f64, spacing: f64) -> Self {
        let [x, y] = ground_axes(normal);
        let mut mesh = Self::default();
        let at = |a: f64, b: f64| centre + x * (a * half) + y * (b * half);
        let corners = [at(-1.0, -1.0), at(1.0, -1.0), at(1.0, 1.0), at(-1.0, 1.0)];
        let ids = corners.map(|corner| mesh.push(corner));
        mesh.quad(ids);
        let [a, b, c, d] = ids;
        mesh.quad([d, c, b, a]);
        mesh.rim(&corners);
        // Diagonals a + b = c of the square.
        let step = spacing / half * std::f64::consts::SQRT_2;
        let count = (2.0 / step).floor();
        let mut c = -step * count;
        while c < 2.0 - 1e-9 {
            let (low, high) = ((c - 1.0).max(-1.0), (c + 1.0).min(1.0));
            if high - low > 0.3 * step {
                mesh.hatches.push([at(low, c - low), at(high, c - high)]);
            }
            c += step;
        }
        mesh
    }
}

/// Two unit vectors square to an axis and each other, right-handed with it.
pub(super) fn across(axis: &Vector3<f64>) -> [Vector3<f64>; 2] {
    let mut least = Vector3::zeros();
    least[axis.iamin()] = 1.0;
    let x = (least - axis * axis.dot(&least)).normalize();
    [x, axis.cross(&x)]
}

/// As [`across`], but along the scene's axes where the normal is one of them, and level where it can be.
fn ground_axes(normal: &Vector3<f64>) -> [Vector3<f64>; 2] {
    let level = Vector3::z().cross(normal);
    if level.norm() < 1e-6 {
        return [Vector3::x(), normal.cross(&Vector3::x())];
    }
    let level = level.normalize();
    [level, normal.cross(&level)]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Six times the volume, by the divergence theorem; positive where triangles face outwards.
    fn sixfold_volume(mesh: &Mesh) -> f64 {
        let at = |i: u32| mesh.positions[i as usize].coords;
        let triangles = mesh.triangles.iter();
        triangles
            .map(|[a, b, c]| at(*a).dot(&at(*b).cross(&at(*c))))
            .sum()
    }

    #[test]
    fn hardware_is_closed_and_faces_outwards() {
        let (at, axis) = (Point3::new(1.0, 2.0, 3.0), Vector3::new(0.6, 0.0, 0.8));
        let block = Mesh::block(&at, [Vector3::x(), Vector3::y() * 2.0, Vector3::z()]);
        assert!((sixfold_volume(&block) / 6.0 - 16.0).abs() < 1e-9);
        let mirrored = Mesh::block(&at, [-Vector3::x(), Vector3::y(), Vector3::z()]);
        assert!((sixfold_volume(&mirrored) / 6.0 - 8.0).abs() < 1e-9);
        let square = Mesh::ring(&at, &axis, [1.0, 2.0], 1.0, true);
        assert!((sixfold_volume(&square) / 6.0 - 12.0).abs() < 1e-9);
        let ball = Mesh::ball(&at, 1.0);
        let volume = sixfold_volume(&ball) / 6.0;
        assert!((3.5..4.19).contains(&volume), "{volume}");
        let rod = Mesh::rod(&at, &(at + axis * 2.0), 0.5);
        let volume = sixfold_volume(&rod) / 6.0;
        assert!((1.5..1.571).contains(&volume), "{volume}");
        // A piece of ground faces both ways.
        assert!(sixfold_volume(&Mesh::ground(&at, &axis, 1.0, 0.2)).abs() < 1e-9);
    }
}
