//! A straight line in space.

use nalgebra::{Point3, Unit, Vector3};

use super::freedom::{distance_to_line, tidy_direction};

/// A straight line, by a point and its direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// A point of the line, m.
    pub point: Point3<f64>,
    /// Its direction; the largest component is positive.
    pub direction: Unit<Vector3<f64>>,
}

impl Line {
    /// The line through a point along a direction, whose sense is forgotten.
    pub fn new(point: Point3<f64>, direction: &Unit<Vector3<f64>>) -> Self {
        Self {
            point,
            direction: tidy_direction(direction),
        }
    }

    /// Distance of a point, m.
    pub fn distance(&self, point: &Point3<f64>) -> f64 {
        distance_to_line(point, &self.point, &self.direction)
    }
}
