//! Walls that ground ends may lie on.

use nalgebra::{Point3, Unit, Vector3};

use crate::scene::{Scene, Space};

/// The walls of a scene in m; in the plane each is a straight piece.
pub(super) struct Walls(Vec<FlatWall>);

struct FlatWall {
    corners: Vec<Point3<f64>>,
    normal: Unit<Vector3<f64>>,
}

/// A way this near to a wall's plane, by its sine, does not meet it.
const GRAZING: f64 = 1e-6;

impl Walls {
    pub(super) fn of(scene: &Scene) -> Self {
        let metres = scene.units.length.in_metres();
        let walls = scene.walls.iter().filter_map(|wall| {
            let written = wall.corners.iter();
            let corners: Option<Vec<Point3<f64>>> = written
                .map(|corner| Some(Point3::from(scene.position(corner)?) * metres))
                .collect();
            let corners = corners?;
            let normal = normal(&corners, scene.space)?;
            Some(FlatWall { corners, normal })
        });
        Self(walls.collect())
    }

    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The first wall that a way from a point meets farther away than a distance, by index, and where.
    pub(super) fn first_hit(
        &self,
        from: &Point3<f64>,
        unit: &Vector3<f64>,
        beyond: f64,
    ) -> Option<(usize, Point3<f64>)> {
        let walls = self.0.iter().enumerate();
        let hits = walls.filter_map(|(index, wall)| {
            let far = wall.meets(from, unit)?;
            (far > beyond).then_some((index, far))
        });
        let (index, far) = hits.min_by(|a, b| a.1.total_cmp(&b.1))?;
        Some((index, from + unit * far))
    }

    /// Whether a point lies on a wall, to within a distance.
    pub(super) fn has(&self, wall: usize, point: &Point3<f64>, within: f64) -> bool {
        self.0
            .get(wall)
            .is_some_and(|wall| wall.height(point).abs() <= within && wall.surrounds(point))
    }

    /// The axis that a wall is square to, if it is to one.
    pub(super) fn level_axis(&self, wall: usize) -> Option<usize> {
        let normal = &self.0.get(wall)?.normal;
        (0..3).find(|axis| normal[*axis].abs() > 1.0 - GRAZING * GRAZING)
    }

    /// Whether a way passes through no wall before it ends.
    pub(super) fn are_clear(&self, from: &Point3<f64>, to: &Point3<f64>, within: f64) -> bool {
        let length = (to - from).norm();
        let unit = (to - from) / length;
        let mut hits = self.0.iter().filter_map(|wall| wall.meets(from, &unit));
        // What the body touches lies behind the link, not in its way.
        hits.all(|far| far <= within || far >= length - within)
    }
}

impl FlatWall {
    fn height(&self, point: &Point3<f64>) -> f64 {
        self.normal.dot(&(point - self.corners[0]))
    }

    /// How far along a way, forwards, it meets the wall within its outline.
    fn meets(&self, from: &Point3<f64>, unit: &Vector3<f64>) -> Option<f64> {
        let sine = self.normal.dot(unit);
        if sine.abs() <= GRAZING {
            return None;
        }
        let far = -self.height(from) / sine;
        (far > 0.0 && self.surrounds(&(from + unit * far))).then_some(far)
    }

    /// Whether a point of the wall's plane lies within the outline: an odd number of sides lie on one side of it.
    fn surrounds(&self, point: &Point3<f64>) -> bool {
        if let [a, b] = self.corners.as_slice() {
            let along = b - a;
            return (0.0..=along.norm_squared()).contains(&along.dot(&(point - a)));
        }
        // Seen along the axis that the wall is squarest to.
        let skip = self.normal.iamax();
        let [u, v] = [(skip + 1) % 3, (skip + 2) % 3];
        let count = self.corners.len();
        let crossed = (0..count).filter(|i| {
            let (a, b) = (&self.corners[*i], &self.corners[(i + 1) % count]);
            let spans = (a[v] > point[v]) != (b[v] > point[v]);
            spans && point[u] < a[u] + (point[v] - a[v]) / (b[v] - a[v]) * (b[u] - a[u])
        });
        crossed.count() % 2 == 1
    }
}

/// Normal of a plane outline, or in the plane of a straight piece.
fn normal(corners: &[Point3<f64>], space: Space) -> Option<Unit<Vector3<f64>>> {
    let normal = match (space, corners) {
        (Space::Planar, [a, b]) => Vector3::z().cross(&(b - a)),
        (Space::Planar, _) | (_, [] | [_] | [_, _]) => return None,
        (Space::Spatial, [first, rest @ ..]) => rest
            .windows(2)
            .map(|pair| (pair[0] - first).cross(&(pair[1] - first)))
            .sum(),
    };
    Unit::try_new(normal, 0.0)
}
