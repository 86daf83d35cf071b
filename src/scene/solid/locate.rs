//! Positions, directions and lengths of a scene in SI units, with names looked up once.

use std::collections::HashMap;

use nalgebra::{Point3, Vector3};

use super::surface::unit;
use crate::scene::{Direction, Place, Scene, Space};

/// The scene's named points and length unit.
pub(super) struct SolidPlaces<'a> {
    metres: f64,
    pub(super) planar: bool,
    named: HashMap<&'a str, [f64; 3]>,
}

impl<'a> SolidPlaces<'a> {
    pub(super) fn new(scene: &'a Scene) -> Self {
        let mut named = HashMap::with_capacity(scene.points.len());
        for point in &scene.points {
            // The first of two equal names counts, as in `Scene::point`.
            named
                .entry(point.name.as_str())
                .or_insert_with(|| point.at.components());
        }
        Self {
            metres: scene.units.length.in_metres(),
            planar: scene.space == Space::Planar,
            named,
        }
    }

    /// Where a place is in m; `None` for an unknown name or a number that is not finite.
    pub(super) fn point(&self, place: &Place) -> Option<Point3<f64>> {
        let written = match place {
            Place::At(coordinates) => coordinates.components(),
            Place::Named(name) => *self.named.get(name.as_str())?,
        };
        let point = Point3::from(written) * self.metres;
        point.coords.iter().all(|x| x.is_finite()).then_some(point)
    }

    /// Unit vector of a direction that is written at `from`; `None` if it is zero or unknown.
    pub(super) fn direction(
        &self,
        direction: &Direction,
        from: &Point3<f64>,
    ) -> Option<Vector3<f64>> {
        match direction {
            Direction::Along(components) => unit(Vector3::from(components.components())),
            Direction::Towards(place) => unit(self.point(place)? - from),
            Direction::Angle(degrees) => {
                let (sin, cos) = degrees.to_radians().sin_cos();
                unit(Vector3::new(cos, sin, 0.0))
            }
        }
    }

    /// A length that must be greater than 0 in m.
    pub(super) fn length(&self, written: f64) -> Option<f64> {
        let length = written * self.metres;
        (length > 0.0 && length.is_finite()).then_some(length)
    }

    /// A length that may be 0 in m; anything else than a finite length above 0 counts as 0.
    pub(super) fn length_or_zero(&self, written: f64) -> f64 {
        self.length(written).unwrap_or(0.0)
    }
}
