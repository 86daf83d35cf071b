//! Solids of the portrayal as closed triangle meshes, for figures and window alike.

use nalgebra::{Isometry3, Point3, Vector3};

use super::{CarrierPose, Station, across};
use crate::scene::solid::{Edge, Solid};

/// A triangle mesh with the lines that are drawn on it.
#[derive(Debug, Clone, Default)]
pub(crate) struct Mesh {
    /// Corners, m.
    pub positions: Vec<Point3<f64>>,
    /// Triangles, counter-clockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
    /// Edges that are drawn wherever they can be seen.
    pub creases: Vec<Edge>,
    /// Fine lines on its faces, such as hatching.
    pub hatches: Vec<[Point3<f64>; 2]>,
    /// A ball, whose outline is a circle and not that of its triangles.
    pub ball: Option<(Point3<f64>, f64)>,
    /// Whether it has no tint of its own: rods that may reach into the body, whose tint would be seen through it.
    pub bare: bool,
}

impl Mesh {
    /// A solid of the body, moved.
    pub(crate) fn of_solid(solid: &Solid, pose: &Isometry3<f64>) -> Self {
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

    /// The mesh where it is carried.
    pub(crate) fn carried(mut self, carried: &CarrierPose) -> Self {
        for crease in &mut self.creases {
            *crease = crease.map(|point| carried.point(point));
        }
        let lines = self.hatches.iter_mut().flatten();
        let ball = self.ball.iter_mut().map(|(centre, _)| centre);
        for point in self.positions.iter_mut().chain(lines).chain(ball) {
            *point = carried.point(point);
        }
        self
    }

    #[cfg_attr(
        not(feature = "viewer"),
        allow(dead_code, reason = "only the window draws in the round")
    )]
    /// Corners of the triangles with their normals: round where faces meet at less than a corner, else sharp.
    pub(crate) fn shaded(&self) -> Vec<[(Point3<f64>, Vector3<f64>); 3]> {
        /// Cosine of the angle between faces at which an edge is seen.
        const CORNER: f64 = 0.8;
        let corner = |i: u32| self.positions[i as usize];
        let area = |[a, b, c]: &[u32; 3]| {
            let from = corner(*a);
            (corner(*b) - from).cross(&(corner(*c) - from))
        };
        let areas: Vec<Vector3<f64>> = self.triangles.iter().map(area).collect();
        let mut around = vec![Vec::new(); self.positions.len()];
        for (triangle, area) in self.triangles.iter().zip(&areas) {
            for i in triangle {
                around[*i as usize].push(*area);
            }
        }
        let shaded = self.triangles.iter().zip(&areas).map(|(triangle, own)| {
            triangle.map(|i| {
                let others = around[i as usize].iter();
                let round =
                    others.filter(|other| other.dot(own) >= CORNER * other.norm() * own.norm());
                let normal: Vector3<f64> = round.sum();
                (corner(i), normal.try_normalize(0.0).unwrap_or_default())
            })
        });
        shaded.collect()
    }

    pub(super) fn push(&mut self, point: Point3<f64>) -> u32 {
        self.positions.push(point);
        self.positions.len() as u32 - 1
    }

    pub(super) fn quad(&mut self, corners: [u32; 4]) {
        let [a, b, c, d] = corners;
        self.triangles.extend([[a, b, c], [a, c, d]]);
    }

    /// A round piece whose radii change linearly between stations along an axis; closed at both ends.
    pub(super) fn turned(
        from: &Point3<f64>,
        axis: &Vector3<f64>,
        stations: &[Station],
        around: usize,
    ) -> Self {
        let mut mesh = Self::default();
        let [x, y] = across(axis);
        let count = around as u32;
        let ring = |station: &Station| -> Vec<Point3<f64>> {
            let angle = |i| std::f64::consts::TAU * i as f64 / around as f64;
            let way = |i| x * f64::cos(angle(i)) + y * f64::sin(angle(i));
            (0..around)
                .map(|i| from + axis * station.along + way(i) * station.radius)
                .collect()
        };
        for (index, station) in stations.iter().enumerate() {
            let ring = ring(station);
            if station.edge {
                mesh.creases.extend(Edge::circle(&ring));
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
        let hubs = [first.along, last.along].map(|along| mesh.push(from + axis * along));
        let end = (stations.len() as u32 - 1) * count;
        for i in 0..count {
            let j = (i + 1) % count;
            mesh.triangles.push([hubs[0], j, i]);
            mesh.triangles.push([hubs[1], end + i, end + j]);
        }
        mesh
    }

    /// Straight lines around a face.
    fn rim(&mut self, ring: &[Point3<f64>]) {
        for (i, from) in ring.iter().enumerate() {
            let ends = [*from, ring[(i + 1) % ring.len()]];
            self.creases.push(Edge::straight(ends));
        }
    }

    /// Round rod between two points.
    pub(crate) fn rod(from: &Point3<f64>, to: &Point3<f64>, radius: f64, around: usize) -> Self {
        let way = to - from;
        let length = way.norm();
        let ends = [0.0, length].map(|along| Station {
            along,
            radius,
            edge: true,
        });
        Self {
            bare: true,
            ..Self::turned(from, &(way / length), &ends, around)
        }
    }

    /// Facets around a ring that is square and not round.
    pub(super) const SQUARE: usize = 4;

    /// Ring around an axis, centred at a point: round, or square where it has as many facets.
    pub(super) fn ring(
        centre: &Point3<f64>,
        axis: &Vector3<f64>,
        [inner, outer]: [f64; 2],
        width: f64,
        around: usize,
    ) -> Self {
        let square = around == Self::SQUARE;
        let (turn, grow) = if square {
            (std::f64::consts::FRAC_PI_4, std::f64::consts::SQRT_2)
        } else {
            (0.0, 1.0)
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
            if square {
                mesh.rim(&points);
            } else {
                mesh.creases.extend(Edge::circle(&points));
            }
            if square && radius == outer && along < 0.0 {
                let lengthwise = points
                    .iter()
                    .map(|p| Edge::straight([*p, p + axis * width]));
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
    pub(super) fn ball(centre: &Point3<f64>, radius: f64, around: usize) -> Self {
        let bands = around / 3;
        let stations: Vec<_> = (1..bands)
            .map(|i| {
                let angle = std::f64::consts::PI * i as f64 / bands as f64;
                Station {
                    along: -radius * angle.cos(),
                    radius: radius * angle.sin(),
                    edge: false,
                }
            })
            .collect();
        Self {
            ball: Some((*centre, radius)),
            ..Self::turned(centre, &Vector3::z(), &stations, around)
        }
    }

    /// Box around a centre with half edge vectors.
    pub(crate) fn block(centre: &Point3<f64>, halves: [Vector3<f64>; 3]) -> Self {
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
                    mesh.creases.push(Edge::straight(ends));
                }
            }
        }
        mesh
    }

    /// Flat convex outline swept along a way perpendicular to it.
    pub(super) fn prism(outline: &[Point3<f64>], sweep: &Vector3<f64>) -> Self {
        let mut near = outline.to_vec();
        let turn: Vector3<f64> = outline
            .windows(2)
            .map(|side| (side[0] - outline[0]).cross(&(side[1] - outline[0])))
            .sum();
        if turn.dot(sweep) < 0.0 {
            near.reverse();
        }
        let far: Vec<_> = near.iter().map(|point| point + sweep).collect();
        let mut mesh = Self::default();
        mesh.rim(&near);
        mesh.rim(&far);
        let count = near.len() as u32;
        for (from, to) in near.iter().zip(&far) {
            mesh.creases.push(Edge::straight([*from, *to]));
        }
        mesh.positions = [near, far].concat();
        for i in 0..count {
            let j = (i + 1) % count;
            mesh.quad([i, j, count + j, count + i]);
        }
        for i in 2..count {
            mesh.triangles.push([0, i, i - 1]);
            mesh.triangles.push([count, count + i - 1, count + i]);
        }
        mesh
    }

    /// Piece of the ground: a hatched rectangle around a point, seen from both sides.
    pub(super) fn ground(
        centre: &Point3<f64>,
        [x, y]: &[Vector3<f64>; 2],
        [across, up]: &[[f64; 2]; 2],
        [spacing, phase]: [f64; 2],
    ) -> Self {
        let mut mesh = Self::default();
        let at = |a: f64, b: f64| centre + x * a + y * b;
        let corners = [
            at(across[0], up[0]),
            at(across[1], up[0]),
            at(across[1], up[1]),
            at(across[0], up[1]),
        ];
        let ids = corners.map(|corner| mesh.push(corner));
        mesh.quad(ids);
        let [a, b, c, d] = ids;
        mesh.quad([d, c, b, a]);
        mesh.rim(&corners);
        // Diagonals a + b = c of the rectangle.
        let step = spacing * std::f64::consts::SQRT_2;
        let phase = phase.rem_euclid(step);
        let mut c = phase + ((across[0] + up[0] - phase) / step).ceil() * step;
        while c < across[1] + up[1] - 1e-9 * step {
            let (low, high) = (across[0].max(c - up[1]), across[1].min(c - up[0]));
            if high - low > 0.3 * step {
                mesh.hatches.push([at(low, c - low), at(high, c - high)]);
            }
            c += step;
        }
        mesh
    }

    /// Six times the volume, by the divergence theorem; positive where triangles face outwards.
    #[cfg(test)]
    pub(super) fn sixfold_volume(&self) -> f64 {
        let at = |i: u32| self.positions[i as usize].coords;
        let triangles = self.triangles.iter();
        triangles
            .map(|[a, b, c]| at(*a).dot(&at(*b).cross(&at(*c))))
            .sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hardware_is_closed_and_faces_outwards() {
        let (at, axis) = (Point3::new(1.0, 2.0, 3.0), Vector3::new(0.6, 0.0, 0.8));
        let block = Mesh::block(&at, [Vector3::x(), Vector3::y() * 2.0, Vector3::z()]);
        assert!((block.sixfold_volume() / 6.0 - 16.0).abs() < 1e-9);
        let mirrored = Mesh::block(&at, [-Vector3::x(), Vector3::y(), Vector3::z()]);
        assert!((mirrored.sixfold_volume() / 6.0 - 8.0).abs() < 1e-9);
        let square = Mesh::ring(&at, &axis, [1.0, 2.0], 1.0, Mesh::SQUARE);
        assert!((square.sixfold_volume() / 6.0 - 12.0).abs() < 1e-9);
        let ball = Mesh::ball(&at, 1.0, 24);
        let volume = ball.sixfold_volume() / 6.0;
        assert!((3.5..4.19).contains(&volume), "{volume}");
        let rod = Mesh::rod(&at, &(at + axis * 2.0), 0.5, 24);
        let volume = rod.sixfold_volume() / 6.0;
        assert!((1.5..1.571).contains(&volume), "{volume}");
        let square = [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]];
        let square = square.map(|[x, y]| at + Vector3::new(x, y, 0.0));
        for sweep in [Vector3::z(), -Vector3::z()] {
            let prism = Mesh::prism(&square, &sweep);
            assert!((prism.sixfold_volume() / 6.0 - 4.0).abs() < 1e-9);
        }
        // A piece of ground faces both ways.
        let ground = Mesh::ground(&at, &across(&axis), &[[-1.0, 1.0], [-2.0, 1.0]], [0.2, 0.0]);
        assert!(ground.sixfold_volume().abs() < 1e-9);
    }

    /// Along a rod normals are square to it, on its ends along it: the edge between them stays sharp.
    #[test]
    fn shading_is_round_about_a_rod_and_sharp_at_its_ends() {
        let rod = Mesh::rod(&Point3::origin(), &Point3::new(0.0, 0.0, 2.0), 0.5, 24);
        for corner in rod.shaded().iter().flatten() {
            let (point, normal) = corner;
            let out = Vector3::new(point.x, point.y, 0.0);
            let along = normal.z.abs();
            assert!(along.min(1.0 - along).abs() < 1e-9, "{normal}");
            if along < 1e-9 {
                assert!(normal.dot(&out) > 0.99 * out.norm());
            }
        }
    }
}
