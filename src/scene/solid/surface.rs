//! Gathering the triangles of one closed surface, and the finished [`Solid`].

use nalgebra::{Matrix3, Point3, Vector3};

use super::bounds::AlignedBox;

/// Corners closer than this, relative to the diagonal of the shape, are one corner.
const SAME_CORNER: f64 = 1e-12;

/// Closed triangle surface of one shape, in metres and the scene's axes.
///
/// Vertices are split along sharp edges, so that each has one normal; round surfaces share theirs.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    /// Vertices in m.
    pub positions: Vec<Point3<f64>>,
    /// Unit normals out of the material, one per vertex.
    pub normals: Vec<Vector3<f64>>,
    /// Corners of each triangle, counter-clockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
    /// Edges worth a line in a figure: plate outlines, ends of bars, rims of discs and holes in m.
    pub edges: Vec<Edge>,
    pub(super) bounds: AlignedBox,
    /// Boxes around runs of [`super::bounds::CLUSTER`] triangles each.
    pub(super) clusters: Vec<AlignedBox>,
}

/// An edge of a solid, straight or part of a circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// Its ends in m.
    pub ends: [Point3<f64>; 2],
    /// Control points of the cubic curve between the ends in m, where it is part of a circle.
    pub bend: Option<[Point3<f64>; 2]>,
}

impl Edge {
    /// A straight edge.
    pub fn straight(ends: [Point3<f64>; 2]) -> Self {
        Self { ends, bend: None }
    }

    /// The circle through equally spaced points, piece by piece.
    ///
    /// The handles of a piece of angle Δ are 4/3 · tan(Δ/4) radii long, which is off the circle by a part in a million at
    /// 15° (common knowledge). The chord from the point before to that after is 2 sin Δ radii long and along the tangent.
    pub fn circle(ring: &[Point3<f64>]) -> impl Iterator<Item = Self> + '_ {
        let count = ring.len();
        let angle = std::f64::consts::TAU / count as f64;
        let part = 4.0 / 3.0 * (angle / 4.0).tan() / (2.0 * angle.sin());
        let handle = move |i: usize| (ring[(i + 1) % count] - ring[(i + count - 1) % count]) * part;
        (0..count).map(move |i| {
            let (j, ends) = ((i + 1) % count, [ring[i], ring[(i + 1) % count]]);
            Self {
                ends,
                bend: Some([ends[0] + handle(i), ends[1] - handle(j)]),
            }
        })
    }

    /// The edge with every point moved.
    #[must_use]
    pub fn map(&self, to: impl Fn(&Point3<f64>) -> Point3<f64>) -> Self {
        Self {
            ends: self.ends.each_ref().map(&to),
            bend: self.bend.map(|bend| bend.each_ref().map(&to)),
        }
    }
}

impl Solid {
    /// Lowest and highest coordinates of the surface in m.
    pub fn bounds(&self) -> [Point3<f64>; 2] {
        [self.bounds.low, self.bounds.high]
    }

    /// Corner positions of every triangle in m.
    pub fn faces(&self) -> impl Iterator<Item = [Point3<f64>; 3]> {
        self.triangles
            .iter()
            .map(|triangle| self.corners(*triangle))
    }

    /// Corner positions of a triangle.
    pub(super) fn corners(&self, triangle: [u32; 3]) -> [Point3<f64>; 3] {
        triangle.map(|corner| self.positions[corner as usize])
    }
}

/// Right-handed frame of unit axes, for shapes that are drawn in their own coordinates.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame {
    pub(super) origin: Point3<f64>,
    pub(super) axes: [Vector3<f64>; 3],
}

impl Frame {
    /// Scene vector of components along the frame's axes.
    pub(super) fn vector(&self, components: [f64; 3]) -> Vector3<f64> {
        let [x, y, z] = self.axes;
        x * components[0] + y * components[1] + z * components[2]
    }

    /// Scene point of coordinates in the frame.
    pub(super) fn point(&self, coordinates: [f64; 3]) -> Point3<f64> {
        self.origin + self.vector(coordinates)
    }

    /// Matrix in the scene's axes of one in the frame's.
    pub(super) fn matrix(&self, components: &Matrix3<f64>) -> Matrix3<f64> {
        let axes = Matrix3::from_columns(&self.axes);
        axes * components * axes.transpose()
    }

    /// The same of a diagonal one about the third axis.
    pub(super) fn round_matrix(&self, across: f64, along: f64) -> Matrix3<f64> {
        self.matrix(&Matrix3::from_diagonal(&Vector3::new(
            across, across, along,
        )))
    }

    /// Frame whose third axis is `axis` (unit); the other two are any.
    pub(super) fn around(origin: Point3<f64>, axis: Vector3<f64>) -> Self {
        let x = any_square_to(&axis);
        Self {
            origin,
            axes: [x, axis.cross(&x), axis],
        }
    }
}

/// A unit vector square to a unit vector.
pub(super) fn any_square_to(axis: &Vector3<f64>) -> Vector3<f64> {
    let mut least = Vector3::zeros();
    least[axis.iamin()] = 1.0;
    (least - axis * axis.dot(&least)).normalize()
}

/// The vector at length 1; `None` for zero and for anything not finite.
pub(super) fn unit(vector: Vector3<f64>) -> Option<Vector3<f64>> {
    let largest = vector.amax();
    (largest > 0.0 && largest.is_finite()).then(|| (vector / largest).normalize())
}

/// A vertex: position and normal.
pub(super) type Vertex = (Point3<f64>, Vector3<f64>);

/// Triangles under construction.
#[derive(Debug, Default)]
pub(super) struct Surface {
    positions: Vec<Point3<f64>>,
    normals: Vec<Vector3<f64>>,
    triangles: Vec<[u32; 3]>,
    edges: Vec<Edge>,
}

impl Surface {
    fn vertices(&mut self, vertices: impl IntoIterator<Item = Vertex>) -> u32 {
        let first = self.positions.len() as u32;
        for (position, normal) in vertices {
            self.positions.push(position);
            self.normals.push(normal);
        }
        first
    }

    /// Band between two closed rings of equally many vertices. Both run right-handed about the way from `near` to `far`
    /// for a surface that faces away from that way, such as the outside of a tube.
    pub(super) fn band(&mut self, near: &[Vertex], far: &[Vertex]) {
        let count = near.len() as u32;
        let a = self.vertices(near.iter().copied());
        let b = self.vertices(far.iter().copied());
        for i in 0..count {
            let j = (i + 1) % count;
            self.triangles.push([a + i, a + j, b + j]);
            self.triangles.push([a + i, b + j, b + i]);
        }
    }

    /// Flat round cap over a ring that runs right-handed about `normal`.
    pub(super) fn cap(&mut self, centre: Point3<f64>, ring: &[Point3<f64>], normal: Vector3<f64>) {
        let count = ring.len() as u32;
        let hub = self.vertices([(centre, normal)]);
        let rim = self.vertices(ring.iter().map(|&point| (point, normal)));
        for i in 0..count {
            self.triangles.push([hub, rim + i, rim + (i + 1) % count]);
        }
    }

    /// Flat face with four corners, counter-clockwise seen from outside.
    pub(super) fn quad(&mut self, corners: [Point3<f64>; 4]) {
        let across = (corners[2] - corners[0]).cross(&(corners[3] - corners[1]));
        if let Some(normal) = unit(across) {
            let first = self.vertices(corners.map(|corner| (corner, normal)));
            self.triangles.push([first, first + 1, first + 2]);
            self.triangles.push([first, first + 2, first + 3]);
        }
    }

    /// Flat face given by its triangles, counter-clockwise seen from outside.
    pub(super) fn face(
        &mut self,
        corners: impl IntoIterator<Item = Point3<f64>>,
        normal: Vector3<f64>,
        triangles: impl IntoIterator<Item = [u32; 3]>,
    ) {
        let first = self.vertices(corners.into_iter().map(|corner| (corner, normal)));
        self.triangles.extend(
            triangles
                .into_iter()
                .map(|triangle| triangle.map(|corner| first + corner)),
        );
    }

    /// Line to draw.
    pub(super) fn edge(&mut self, from: Point3<f64>, to: Point3<f64>) {
        self.edges.push(Edge::straight([from, to]));
    }

    /// Circle to draw, through equally spaced points.
    pub(super) fn rim(&mut self, ring: &[Point3<f64>]) {
        self.edges.extend(Edge::circle(ring));
    }

    /// The finished solid, without triangles that have shrunk to a line; `None` if nothing is left or a number is not finite.
    pub(super) fn finish(mut self) -> Option<Solid> {
        let bounds = AlignedBox::of(&self.positions)?;
        let same = bounds.diagonal() * SAME_CORNER;
        let positions = &self.positions;
        self.triangles.retain(|&[a, b, c]| {
            let apart =
                |i: u32, j: u32| (positions[i as usize] - positions[j as usize]).norm() > same;
            apart(a, b) && apart(b, c) && apart(c, a)
        });
        let finite = self.normals.iter().all(|normal| normal.amax().is_finite());
        if self.triangles.is_empty() || !finite {
            return None;
        }
        let clusters = super::bounds::clusters(&self.positions, &self.triangles);
        Some(Solid {
            positions: self.positions,
            normals: self.normals,
            triangles: self.triangles,
            edges: self.edges,
            bounds,
            clusters,
        })
    }
}
