//! The lines of a mesh that a drawing shows: drawn edges, outlines where the surface turns away, and the area it covers.

use std::collections::HashMap;

use nalgebra::{Point3, Vector3};

use super::view::Viewpoint;
use crate::portrayal::mesh::Mesh;
use crate::scene::solid::Edge;

/// A mesh as it is seen.
#[derive(Debug, Clone, Default)]
pub(super) struct Seen {
    /// Triangles that face the viewer, projected.
    pub facing: Vec<[Point3<f64>; 3]>,
    /// Lines to draw where nothing is in front of them, projected.
    pub lines: Vec<Edge>,
    /// Fine lines to draw where nothing is in front of them, projected.
    pub hatches: Vec<[Point3<f64>; 2]>,
    /// Closed lines around what it covers, projected; by the non-zero rule.
    pub area: Vec<Loop>,
}

/// A closed line, projected.
#[derive(Debug, Clone, Default)]
pub(super) struct Loop {
    /// Its corners.
    pub points: Vec<[f64; 2]>,
    /// Control points of the curve from each corner to the next; `None` where it is straight.
    pub bends: Vec<Option<[[f64; 2]; 2]>>,
}

/// Corners that are closer than this, relative to the mesh, are one.
const SAME: f64 = 1e-7;
/// Area of a triangle that is seen edge-on, relative to the square of the mesh's size.
const EDGE_ON: f64 = 1e-9;
/// Points of a circle.
const CIRCLE: usize = 40;

/// Corners made one where they coincide.
struct Welded {
    ids: HashMap<[i64; 3], u32>,
    cell: f64,
}

impl Welded {
    fn id(&mut self, point: &Point3<f64>) -> u32 {
        // The shift keeps round coordinates away from the borders of cells.
        let key = [0, 1, 2].map(|k| (point[k] / self.cell + 0.37).floor() as i64);
        let next = self.ids.len() as u32;
        *self.ids.entry(key).or_insert(next)
    }
}

impl Seen {
    /// What is seen of a mesh.
    pub(crate) fn new(mesh: &Mesh, view: &Viewpoint) -> Self {
        let projected: Vec<_> = mesh.positions.iter().map(|p| view.project(p)).collect();
        let size = extent(&mesh.positions).max(f64::MIN_POSITIVE);
        let mut welded = Welded {
            ids: HashMap::with_capacity(mesh.positions.len()),
            cell: size * SAME,
        };
        let ids: Vec<u32> = mesh.positions.iter().map(|p| welded.id(p)).collect();
        let mut seen = Self::default();
        let most_sides = 2 * mesh.triangles.len();
        let mut sides: HashMap<[u32; 2], MeshSide> = HashMap::with_capacity(most_sides);
        for triangle in &mesh.triangles {
            let corners = triangle.map(|i| projected[i as usize]);
            let facing = area(&corners) > EDGE_ON * size * size;
            if facing {
                seen.facing.push(corners);
            }
            for k in 0..3 {
                let (i, j) = (triangle[k] as usize, triangle[(k + 1) % 3] as usize);
                let (a, b) = (ids[i], ids[j]);
                if a != b {
                    let side = sides.entry([a.min(b), a.max(b)]).or_default();
                    side.add(facing, a < b, [projected[i], projected[j]]);
                }
            }
        }
        // Bends of the edges drawn, from the lower corner to the higher.
        let mut drawn: HashMap<[u32; 2], Option<[Point3<f64>; 2]>> = HashMap::new();
        if let Some((centre, radius)) = mesh.ball {
            seen.lines.extend(ball_outline(view, &centre, radius));
        }
        for crease in &mesh.creases {
            let [a, b] = crease.ends.each_ref().map(|end| welded.id(end));
            let key = [a.min(b), a.max(b)];
            if a != b && !drawn.contains_key(&key) {
                let line = crease.map(|p| view.project(p));
                let upwards = line.bend.map(|[c, d]| if a < b { [c, d] } else { [d, c] });
                drawn.insert(key, upwards);
                seen.lines.push(line);
            }
        }
        let mut outline: Vec<_> = sides.iter().filter(|(_, side)| side.is_outline()).collect();
        outline.sort_unstable_by_key(|(key, _)| **key);
        if mesh.ball.is_none() {
            let new = outline.iter().filter(|(key, _)| !drawn.contains_key(*key));
            seen.lines
                .extend(new.map(|(_, side)| Edge::straight(side.ends)));
        }
        seen.area = loops(outline.iter().flat_map(|(key, side)| {
            let bend = drawn.get(*key).copied().flatten();
            side.directed(**key, bend)
        }));
        seen.hatches = mesh
            .hatches
            .iter()
            .map(|hatch| hatch.map(|p| view.project(&p)))
            .collect();
        seen
    }
}

/// The triangles at a side of the mesh.
#[derive(Debug, Default)]
struct MeshSide {
    facing: u32,
    away: u32,
    /// How many more of the facing ones run from the lower to the higher corner than back.
    forward: i32,
    ends: [Point3<f64>; 2],
}

impl MeshSide {
    fn add(&mut self, facing: bool, upwards: bool, ends: [Point3<f64>; 2]) {
        if facing {
            self.facing += 1;
            self.forward += if upwards { 1 } else { -1 };
        } else {
            self.away += 1;
        }
        self.ends = if upwards { ends } else { [ends[1], ends[0]] };
    }

    fn is_outline(&self) -> bool {
        self.forward != 0
    }

    /// The side once for every time that the covered area has it as its border, in its sense.
    fn directed(
        &self,
        [a, b]: [u32; 2],
        bend: Option<[Point3<f64>; 2]>,
    ) -> impl Iterator<Item = Directed> + use<> {
        let forward = self.forward > 0;
        let flat = |point: Point3<f64>| [point.x, point.y];
        let directed = Directed {
            from: if forward { a } else { b },
            to: if forward { b } else { a },
            start: flat(self.ends[usize::from(!forward)]),
            bend: bend.map(|[c, d]| if forward { [c, d] } else { [d, c] }.map(flat)),
        };
        std::iter::repeat_n(directed, self.forward.unsigned_abs() as usize)
    }
}

/// A side in the sense in which the area has it as its border.
#[derive(Debug, Clone, Copy)]
struct Directed {
    from: u32,
    to: u32,
    start: [f64; 2],
    bend: Option<[[f64; 2]; 2]>,
}

/// Chains directed sides into closed lines.
fn loops(sides: impl Iterator<Item = Directed>) -> Vec<Loop> {
    let sides: Vec<_> = sides.collect();
    let mut leaving: HashMap<u32, Vec<usize>> = HashMap::new();
    for (index, side) in sides.iter().enumerate().rev() {
        leaving.entry(side.from).or_default().push(index);
    }
    let mut used = vec![false; sides.len()];
    let mut loops = Vec::new();
    for start in 0..sides.len() {
        let (mut closed, mut at) = (Loop::default(), start);
        while !used[at] {
            used[at] = true;
            closed.points.push(sides[at].start);
            closed.bends.push(sides[at].bend);
            let next = leaving.get_mut(&sides[at].to).and_then(|ways| {
                while let Some(way) = ways.pop() {
                    if !used[way] {
                        return Some(way);
                    }
                }
                None
            });
            match next {
                Some(next) => at = next,
                None => break,
            }
        }
        if closed.points.len() > 2 {
            loops.push(closed);
        }
    }
    loops
}

fn area([a, b, c]: &[Point3<f64>; 3]) -> f64 {
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

fn extent(points: &[Point3<f64>]) -> f64 {
    let Some(first) = points.first() else {
        return 0.0;
    };
    points
        .iter()
        .map(|p| (p - first).amax())
        .fold(0.0, f64::max)
}

/// The circle in which lines of sight touch a ball; for an eye at a distance the great circle perpendicular to its direction.
fn ball_outline(view: &Viewpoint, centre: &Point3<f64>, radius: f64) -> Vec<Edge> {
    let sight: Vector3<f64> = view.sight(centre);
    let [x, y] = crate::portrayal::across(&sight);
    let at = |i: usize| {
        let angle = std::f64::consts::TAU * i as f64 / CIRCLE as f64;
        centre + (x * angle.cos() + y * angle.sin()) * radius
    };
    let ring: Vec<_> = (0..CIRCLE).map(at).collect();
    let projected = Edge::circle(&ring).map(|edge| edge.map(|point| view.project(point)));
    projected.collect()
}

#[cfg(test)]
mod tests {
    use super::super::settings::Projection;
    use super::*;
    use crate::scene::Space;

    fn cube() -> Mesh {
        let halves = [Vector3::x(), Vector3::y(), Vector3::z()].map(|axis| axis * 0.5);
        Mesh::block(&Point3::new(0.5, 0.5, 0.5), halves)
    }

    fn covered(loops: &[Loop]) -> f64 {
        let one = |Loop { points, .. }: &Loop| -> f64 {
            let count = points.len();
            (0..count)
                .map(|i| {
                    let (a, b) = (points[i], points[(i + 1) % count]);
                    (a[0] * b[1] - a[1] * b[0]) / 2.0
                })
                .sum()
        };
        loops.iter().map(one).sum()
    }

    /// A unit cube seen isometrically covers √3 (the hexagon of its outline), from the front 1.
    #[test]
    fn a_cube_covers_its_outline() {
        for (projection, expected) in [
            (Projection::Isometric, 3.0_f64.sqrt()),
            (Projection::FRONT, 1.0),
        ] {
            let view = Viewpoint::new(Space::Spatial, projection, Point3::origin(), 1.0);
            let seen = Seen::new(&cube(), &view);
            assert!((covered(&seen.area) - expected).abs() < 1e-9);
            assert_eq!(seen.area.len(), 1);
            assert_eq!(seen.lines.len(), 12);
        }
    }

    #[test]
    fn a_round_rod_shows_its_two_sides_and_rims() {
        let rod = Mesh::rod(&Point3::origin(), &Point3::new(0.0, 0.0, 1.0), 0.1, 24);
        let view = Viewpoint::new(Space::Spatial, Projection::FRONT, Point3::origin(), 1.0);
        let seen = Seen::new(&rod, &view);
        let lines = seen.lines.iter().map(|line| line.ends);
        let upright = lines.filter(|[a, b]| (a.y - b.y).abs() > 0.5);
        assert_eq!(upright.count(), 2);
        assert!((covered(&seen.area) - 0.2).abs() < 0.01);
    }
}
