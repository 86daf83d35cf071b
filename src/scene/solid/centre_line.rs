//! Centre lines of bars and shafts: what is left of them when they count as slender.

use nalgebra::{Point3, Rotation3, Unit, Vector3};

/// Centre line of a bar in SI units, from end to end.
#[derive(Debug, Clone, PartialEq)]
pub struct CentreLine {
    /// Its pieces; each begins where the last one ends.
    pub pieces: Vec<CentreLinePiece>,
    /// Radius of the bar, m.
    pub radius: f64,
}

/// A straight or bent piece of a centre line.
#[derive(Debug, Clone, PartialEq)]
pub enum CentreLinePiece {
    /// Straight, of a length above 0.
    Straight {
        /// Ends, m.
        ends: [Point3<f64>; 2],
    },
    /// Part of a circle.
    Bend {
        /// Centre of the circle, m.
        centre: Point3<f64>,
        /// From the centre to where the piece begins, m.
        start: Vector3<f64>,
        /// Axis about which it turns.
        axis: Unit<Vector3<f64>>,
        /// By so much, rad, > 0.
        angle: f64,
    },
}

impl CentreLinePiece {
    /// The point at a part of the piece, from 0 to 1.
    pub fn point(&self, part: f64) -> Point3<f64> {
        match self {
            Self::Straight { ends: [from, to] } => from + (to - from) * part,
            Self::Bend {
                centre,
                start,
                axis,
                angle,
            } => centre + Rotation3::from_axis_angle(axis, angle * part) * start,
        }
    }

    /// Unit direction along the piece at a part of it, from 0 to 1.
    pub fn direction(&self, part: f64) -> Vector3<f64> {
        match self {
            Self::Straight { ends: [from, to] } => (to - from).normalize(),
            Self::Bend {
                start, axis, angle, ..
            } => Rotation3::from_axis_angle(axis, angle * part) * axis.cross(start).normalize(),
        }
    }

    /// Length, m.
    pub fn length(&self) -> f64 {
        match self {
            Self::Straight { ends: [from, to] } => (to - from).norm(),
            Self::Bend { start, angle, .. } => start.norm() * angle,
        }
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;
    use crate::scene::read_str;
    use crate::scene::solid::centre_lines;

    /// By hand: legs 1.5 and 2.5 long, a quarter circle of radius 0.5 between them.
    #[test]
    fn pieces_lead_on_from_each_other() {
        let text = "(format: 1, body: [BentBar(path: [(2, 0, 0), (0, 0, 0), (0, 3, 0)], diameter: 0.2, bend_radius: 0.5)])";
        let scene = read_str("elbow", text).unwrap().scene;
        let lines = centre_lines(&scene);
        let pieces = &lines[0].as_ref().unwrap().pieces;
        assert_eq!(pieces.len(), 3);
        for pair in pieces.windows(2) {
            assert!((pair[0].point(1.0) - pair[1].point(0.0)).norm() < 1e-12);
        }
        let length: f64 = pieces.iter().map(CentreLinePiece::length).sum();
        assert!((length - (4.0 + PI / 4.0)).abs() < 1e-12);
        let middle =
            Point3::new(0.5, 0.5, 0.0) - Vector3::new(1.0, 1.0, 0.0) * (0.5 / 2.0_f64.sqrt());
        assert!((pieces[1].point(0.5) - middle).norm() < 1e-12);
    }
}
