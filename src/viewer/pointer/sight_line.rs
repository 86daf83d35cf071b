//! What the pointer aims at: a place on the body, and where a link pulled from there ends.

use bevy::prelude::*;
use nalgebra::{Point3, Vector3};

use crate::repair::{Drawable, LinkEnd};
use crate::scene::solid::{self, Solid};
use crate::scene::{Coordinates, Space};
use crate::viewer::stage::StageFrame;

/// A line of sight in the scene, and how far from it, in pixels, points are seen.
pub(crate) struct SightLine<'a> {
    origin: Point3<f64>,
    way: Vector3<f64>,
    facing: Vector3<f64>,
    /// The line of sight through the next pixel to the right.
    beside: [Vector3<f64>; 2],
    pixels: PixelDistance<'a>,
}

/// Distance from the pointer at which a point is seen.
type PixelDistance<'a> = Box<dyn Fn(&Point3<f64>) -> Option<f32> + 'a>;

/// A named point, or a direction of the axes, draws the pointer to it from this many pixels.
const PULL: f32 = 14.0;
/// Axes that point at the eye more than this cosine are not drawn along: a small pull would lead far away.
const END_ON: f64 = 0.88;
/// Planes that are seen flatter than this sine are not drawn in.
const EDGE_ON: f64 = 0.2;
/// A direction that points away from the eye by more than this cosine is turned on the side that is not seen.
const BEHIND: f64 = 0.05;

impl<'a> SightLine<'a> {
    /// The line of sight through a place of the window, in logical pixels.
    pub(crate) fn through(
        at: Vec2,
        camera: &'a Camera,
        place: &'a GlobalTransform,
        frame: &'a StageFrame,
    ) -> Option<Self> {
        let ray = camera.viewport_to_world(place, at).ok()?;
        let direction = |way: Vec3| {
            let [x, y, z] = (frame.turn().inverse() * way).to_array().map(f64::from);
            Vector3::new(x, y, z)
        };
        let next = camera.viewport_to_world(place, at + Vec2::X).ok()?;
        let origin = |ray: &Ray3d| frame.scene_point(frame.turn().inverse() * ray.origin);
        Some(Self {
            origin: origin(&ray),
            way: direction(*ray.direction),
            beside: [origin(&next).coords, direction(*next.direction)],
            facing: direction(*place.forward()),
            pixels: Box::new(move |point| {
                let seen = camera.world_to_viewport(place, frame.world(point)).ok()?;
                Some(seen.distance(at))
            }),
        })
    }

    /// A point of the line of sight, m, and its direction.
    pub(crate) fn line(&self) -> (Point3<f64>, Vector3<f64>) {
        (self.origin, self.way)
    }

    /// Distance from the pointer at which a point is seen, in pixels.
    pub(crate) fn pixels(&self, point: &Point3<f64>) -> Option<f32> {
        (self.pixels)(point)
    }

    /// The length, m, that a pixel covers at a point.
    pub(crate) fn pixel_at(&self, point: &Point3<f64>) -> f64 {
        let depth = |origin: &Point3<f64>, way: &Vector3<f64>| {
            origin + way * ((point - origin).dot(&self.facing) / way.dot(&self.facing))
        };
        let [origin, way] = &self.beside;
        (depth(&Point3::from(*origin), way) - depth(&self.origin, &self.way)).norm()
    }

    /// Where the line of sight meets a body, and the direction from there into it.
    pub(crate) fn first_hit(&self, solids: &[Solid]) -> Option<(Point3<f64>, Vector3<f64>)> {
        let hit = solid::first_hit(solids, &self.origin, &self.way)?;
        let inward = solid::first_face(solids, &self.origin, &self.way)?;
        Some((hit, inward))
    }

    /// How far along the line of sight, m, it meets a body.
    pub(crate) fn depth(&self, solids: &[Solid]) -> Option<f64> {
        let hit = solid::first_hit(solids, &self.origin, &self.way)?;
        Some((hit - self.origin).dot(&self.way))
    }

    /// The point of the plane z = 0 that is seen.
    pub(crate) fn plane_point(&self) -> Option<Point3<f64>> {
        let step = -self.origin.z / self.way.z;
        (step.is_finite() && step > 0.0).then(|| self.origin + self.way * step)
    }

    /// Where on the body a link would start: a named point close by, else what is seen.
    pub(crate) fn eye(&self, body: &Drawable) -> Option<LinkEnd> {
        let near = body
            .named()
            .filter_map(|eye| Some(((self.pixels)(&eye.point)?, eye)))
            .filter(|(pixels, _)| *pixels < PULL)
            .min_by(|(a, _), (b, _)| a.total_cmp(b));
        match near {
            Some((_, eye)) => Some(eye),
            None => body.seen(&self.origin, &self.way),
        }
    }

    /// The ground end of a link pulled from an eye: along an axis of the scene where the pointer is close to that, else
    /// in the plane through the eye that faces the viewer.
    pub(crate) fn ground_end(
        &self,
        body: &Drawable,
        eye: &LinkEnd,
        space: Space,
    ) -> Option<Coordinates> {
        let along = (0..space.axes()).filter_map(|axis| self.on_axis(&eye.point, axis));
        let along = along
            .filter_map(|point| Some(((self.pixels)(&point)?, point)))
            .filter(|(pixels, _)| *pixels < PULL)
            .min_by(|(a, _), (b, _)| a.total_cmp(b));
        let end = match along {
            Some((_, point)) => point,
            None => self.facing_point(&eye.point)?,
        };
        body.ground_end(eye, &end)
    }

    /// The point of the axis through `from` that is nearest to the line of sight.
    pub(crate) fn on_axis(&self, from: &Point3<f64>, axis: usize) -> Option<Point3<f64>> {
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
    pub(crate) fn on_plane(&self, from: &Point3<f64>, normal: usize) -> Option<Point3<f64>> {
        if self.way[normal].abs() < EDGE_ON {
            return None;
        }
        let distance = (from - self.origin)[normal] / self.way[normal];
        (distance > 0.0).then(|| self.origin + self.way * distance)
    }

    /// The unit vector from a point to where the line of sight meets a ball around it, on the side that `near` is on; beside the
    /// ball that to its rim.
    pub(crate) fn on_ball(
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
    pub(crate) fn facing_point(&self, from: &Point3<f64>) -> Option<Point3<f64>> {
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
    use crate::scene::{Place, read_str};

    /// A plate of 2 m by 1 m.
    fn plate() -> Drawable {
        let scene = r#"(format: 1, title: "shelf", points: { "A": (0, 0, 0) },
            body: [Block(centre: (1, 0.5, -0.1), size: (2, 1, 0.2))],
            supports: [Fixed(name: "A", at: "A")])"#;
        Drawable::of(&read_str("shelf", scene).unwrap().scene).unwrap()
    }

    #[test]
    fn named_points_draw_the_pointer() {
        let named = SightLine::from_above(0.06, 0.08).eye(&plate()).unwrap();
        assert_eq!(named.at, Place::Named("A".to_owned()));
        let beside = SightLine::from_above(0.12, 0.1).eye(&plate()).unwrap();
        assert_eq!(beside.at, Place::At(Coordinates::Space([0.12, 0.1, 0.0])));
        assert_eq!(SightLine::from_above(3.0, 0.5).eye(&plate()), None);
    }

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

    #[test]
    fn links_follow_the_axes_or_the_plane_that_faces_the_viewer() {
        let eye = SightLine::from_above(1.0, 0.5).eye(&plate()).unwrap();
        let end = |x, y| SightLine::from_above(x, y).ground_end(&plate(), &eye, Space::Spatial);
        assert_eq!(end(3.0, 0.58), Some(Coordinates::Space([3.0, 0.5, 0.0])));
        assert_eq!(end(1.1, -2.0), Some(Coordinates::Space([1.0, -2.0, 0.0])));
        assert_eq!(end(3.0, 1.2), Some(Coordinates::Space([3.0, 1.2, 0.0])));
        assert_eq!(end(1.001, 0.5), None, "no length");
    }
}
