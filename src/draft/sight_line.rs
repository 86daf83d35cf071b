//! What a pointer aims at in a scene.

use nalgebra::{Point3, Vector3};

use crate::scene::solid::{self, Solid};

/// A line of sight in the scene, and how far from it, in pixels, points are seen.
pub struct SightLine<'a> {
    origin: Point3<f64>,
    way: Vector3<f64>,
    facing: Vector3<f64>,
    /// The line of sight through the next pixel to the right.
    beside: [Vector3<f64>; 2],
    pixels: PixelDistance<'a>,
}

/// A ray in the scene.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SightRay {
    /// Where it begins, m.
    pub origin: Point3<f64>,
    /// Its direction, unit.
    pub way: Vector3<f64>,
}

/// Distance from the pointer at which a point, m, is seen, in pixels; `None` for one that is not seen.
pub type PixelDistance<'a> = Box<dyn Fn(&Point3<f64>) -> Option<f32> + 'a>;

/// Axes that point at the eye more than this cosine are not drawn along: a small pull would lead far away.
const END_ON: f64 = 0.88;
/// Planes that are seen flatter than this sine are not drawn in.
const EDGE_ON: f64 = 0.2;
/// A direction that points away from the eye by more than this cosine is turned on the side that is not seen.
const BEHIND: f64 = 0.05;

impl<'a> SightLine<'a> {
    /// The line of sight from a point, m, along a unit direction.
    pub fn new(
        line: SightRay,
        beside: SightRay,
        facing: Vector3<f64>,
        pixels: PixelDistance<'a>,
    ) -> Self {
        Self {
            origin: line.origin,
            way: line.way,
            facing,
            beside: [beside.origin.coords, beside.way],
            pixels,
        }
    }

    /// A point of the line of sight, m, and its direction.
    pub fn line(&self) -> (Point3<f64>, Vector3<f64>) {
        (self.origin, self.way)
    }

    /// Distance from the pointer at which a point is seen, in pixels.
    pub fn pixels(&self, point: &Point3<f64>) -> Option<f32> {
        (self.pixels)(point)
    }

    /// The length, m, that a pixel covers at a point.
    pub fn pixel_at(&self, point: &Point3<f64>) -> f64 {
        let depth = |origin: &Point3<f64>, way: &Vector3<f64>| {
            origin + way * ((point - origin).dot(&self.facing) / way.dot(&self.facing))
        };
        let [origin, way] = &self.beside;
        (depth(&Point3::from(*origin), way) - depth(&self.origin, &self.way)).norm()
    }

    /// Where the line of sight meets a body, and the direction from there into it.
    pub fn first_hit(&self, solids: &[Solid]) -> Option<(Point3<f64>, Vector3<f64>)> {
        let hit = solid::first_hit(solids, &self.origin, &self.way)?;
        let inward = solid::first_face(solids, &self.origin, &self.way)?;
        Some((hit, inward))
    }

    /// How far along the line of sight, m, it meets a body.
    pub fn depth(&self, solids: &[Solid]) -> Option<f64> {
        let hit = solid::first_hit(solids, &self.origin, &self.way)?;
        Some((hit - self.origin).dot(&self.way))
    }

    /// The point of the plane z = 0 that is seen.
    pub fn plane_point(&self) -> Option<Point3<f64>> {
        let step = -self.origin.z / self.way.z;
        (step.is_finite() && step > 0.0).then(|| self.origin + self.way * step)
    }

    /// The point of the axis through `from` that is nearest to the line of sight.
    pub fn on_axis(&self, from: &Point3<f64>, axis: usize) -> Option<Point3<f64>> {
        let mut along = Vector3::zeros();
        along[axis] = 1.0;
        let lean = along.dot(&self.way);
        if lean.abs() > END_ON {
            return None;
        }
        // Feet of the common perpendicular of two lines with unit directions.
        let apart = from - self.origin;
        let step = (lean * apart.dot(&self.way) - apart.dot(&along)) / (1.0 - lean * lean);
        Some(from + along * step)
    }

    /// The point seen in the plane through `from` that is square to an axis; `None` where that plane is seen edge-on.
    pub fn on_plane(&self, from: &Point3<f64>, normal: usize) -> Option<Point3<f64>> {
        if self.way[normal].abs() < EDGE_ON {
            return None;
        }
        let distance = (from - self.origin)[normal] / self.way[normal];
        (distance > 0.0).then(|| self.origin + self.way * distance)
    }

    /// The unit vector from a point to where the line of sight meets a ball around it, on the side that `near` is on; beside the
    /// ball that to its rim.
    pub fn on_ball(
        &self,
        centre: &Point3<f64>,
        radius: f64,
        near: &Vector3<f64>,
    ) -> Option<Vector3<f64>> {
        let foot = self.origin + self.way * (centre - self.origin).dot(&self.way) - centre;
        let depth = (radius * radius - foot.norm_squared()).max(0.0).sqrt();
        // What points at neither side is turned on the side that is seen.
        let behind = near.dot(&self.way) > BEHIND;
        let side = if behind { depth } else { -depth };
        (foot + self.way * side).try_normalize(0.0)
    }

    /// The point seen in the plane through `from` that faces the viewer.
    pub fn facing_point(&self, from: &Point3<f64>) -> Option<Point3<f64>> {
        let distance = (from - self.origin).dot(&self.facing) / self.way.dot(&self.facing);
        (distance > 0.0).then(|| self.origin + self.way * distance)
    }
}

#[cfg(test)]
impl SightLine<'static> {
    /// The line of sight straight down through a point; a metre is 100 pixels.
    pub(crate) fn from_above(x: f64, y: f64) -> Self {
        Self {
            origin: Point3::new(x, y, 10.0),
            way: -Vector3::z(),
            facing: -Vector3::z(),
            beside: [Vector3::new(x + 0.01, y, 10.0), -Vector3::z()],
            pixels: Box::new(move |point| Some(100.0 * (point.x - x).hypot(point.y - y) as f32)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn planes_are_drawn_in_where_they_are_not_seen_edge_on() {
        let from = Point3::new(1.0, 2.0, 3.0);
        let aim = SightLine::from_above(4.0, 5.0);
        assert_eq!(aim.on_plane(&from, 2), Some(Point3::new(4.0, 5.0, 3.0)));
        assert_eq!(aim.on_plane(&from, 0), None);
    }

    #[test]
    fn a_ball_is_met_on_the_side_that_is_turned_and_at_its_rim_from_beside_it() {
        let on_ball = |x, near: Vector3<f64>| {
            SightLine::from_above(x, 0.0).on_ball(&Point3::origin(), 1.0, &near)
        };
        let half = 0.75_f64.sqrt();
        let expected = Vector3::new(0.5, 0.0, half);
        assert!((on_ball(0.5, Vector3::z()).unwrap() - expected).norm() < 1e-12);
        let below = Vector3::new(0.5, 0.0, -half);
        assert!((on_ball(0.5, -Vector3::z()).unwrap() - below).norm() < 1e-12);
        assert_eq!(on_ball(3.0, Vector3::z()), Some(Vector3::x()));
    }
}
