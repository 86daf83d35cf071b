//! The shapes that hardware is made of.

use nalgebra::{Point3, Vector3};

use super::carrier::Carrier;
use crate::statics::SupportIndex;

/// A part of a support's hardware.
#[derive(Debug, Clone, PartialEq)]
pub struct HardwarePiece<S> {
    /// Index of the support in the model.
    pub support: SupportIndex,
    /// What it moves with.
    pub carrier: Carrier,
    /// Its shape with the body as written.
    pub shape: S,
}

/// A simple solid; lengths in metres, directions of unit length.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum HardwareShape {
    /// Ball.
    Ball {
        /// Centre.
        centre: Point3<f64>,
        /// Radius.
        radius: f64,
    },
    /// Eye at the end of a link or cable, around a pin.
    Eye {
        /// Its centre.
        centre: Point3<f64>,
        /// Direction of its pin.
        pin: Vector3<f64>,
        /// Its outer radius.
        radius: f64,
    },
    /// A round piece whose radius changes linearly from station to station along its axis; closed at both ends.
    Turned {
        /// Where its stations are counted from.
        from: Point3<f64>,
        /// Its axis.
        axis: Vector3<f64>,
        /// Its stations in order.
        stations: Vec<Station>,
    },
    /// Round rod between two points.
    Rod {
        /// Its ends.
        ends: [Point3<f64>; 2],
        /// Its radius.
        radius: f64,
    },
    /// Ring around an axis: a round or square hole in a round or square piece.
    Ring {
        /// Its centre.
        centre: Point3<f64>,
        /// Its axis.
        axis: Vector3<f64>,
        /// Inner and outer radius, or half the sides of the squares.
        radii: [f64; 2],
        /// Its width along the axis.
        width: f64,
        /// Whether it is square.
        square: bool,
    },
    /// Box.
    Block {
        /// Centre.
        centre: Point3<f64>,
        /// Half its edges, square to each other.
        halves: [Vector3<f64>; 3],
    },
    /// Flat convex outline swept along a way square to it.
    Prism {
        /// The outline.
        outline: Vec<Point3<f64>>,
        /// How far and which way it is swept.
        sweep: Vector3<f64>,
    },
    /// Hatched rectangle of the ground.
    Ground {
        /// A point of it, from which its sides are counted.
        centre: Point3<f64>,
        /// Directions of its sides, right-handed with its normal.
        axes: [Vector3<f64>; 2],
        /// From where to where it reaches along each.
        spans: [[f64; 2]; 2],
        /// Distance between lines of hatching.
        spacing: f64,
        /// Sum of the coordinates along the sides at which a line of hatching passes.
        phase: f64,
    },
    /// Cable.
    Cord {
        /// Its ends.
        ends: [Point3<f64>; 2],
    },
}

/// A place along the axis of a round piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Station {
    /// Distance along the axis, m.
    pub along: f64,
    /// Radius there, m.
    pub radius: f64,
    /// Whether the piece has an edge there.
    pub edge: bool,
}

/// A part of a flat symbol, painted over what comes before it.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum SymbolPart {
    /// A line through points.
    Line(Vec<Point3<f64>>),
    /// A closed outline that hides what lies behind it.
    Plate(Vec<Point3<f64>>),
    /// A ring that hides what lies behind it.
    Disc {
        /// Its centre.
        centre: Point3<f64>,
        /// Its radius, m.
        radius: f64,
    },
    /// Hatching of the ground.
    Hatching(Vec<[Point3<f64>; 2]>),
    /// Cable.
    Cord([Point3<f64>; 2]),
}
