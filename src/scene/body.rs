//! The shapes that a rigid body is made of, as written. Lengths are in the scene's length unit.

use super::{BarSection, Direction, Place};

/// One solid piece of the body; all pieces of a scene are rigidly connected.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Shape {
    /// Round bar along a path of points.
    BentBar(BentBar),
    /// Flat plate with straight edges.
    Plate(Plate),
    /// Angle of two legs, with a gusset between them.
    Bracket(Bracket),
    /// Straight round shaft.
    Shaft(Shaft),
    /// Disc, wheel or pulley.
    Disc(Disc),
    /// Rectangular block.
    Block(Block),
}

/// Round bar of constant diameter whose centre line runs through a path of points with rounded bends.
#[derive(Debug, Clone, PartialEq)]
pub struct BentBar {
    /// At least two points, no two successive ones equal.
    pub path: Vec<Place>,
    /// Diameter of the bar, > 0.
    pub diameter: f64,
    /// Radius of the centre line at each bend, >= 0; `None` takes 1.5 diameters.
    /// Where a leg is too short for it, the bend is rounded as far as the leg allows.
    pub bend_radius: Option<f64>,
    /// What resists bending, where the body has a [`Material`](super::Material).
    pub section: BarSection,
}

/// Flat plate: a simple polygon of corners, thick to both sides of their plane.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// At least three corners in one plane, in order around the edge.
    pub corners: Vec<Place>,
    /// Thickness, > 0, half to each side of the corners' plane.
    pub thickness: f64,
    /// Round holes through the plate.
    pub holes: Vec<Hole>,
}

/// Round hole through a plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// Centre, on the plate.
    pub centre: Place,
    /// Diameter, > 0.
    pub diameter: f64,
}

/// Angle bracket: two rectangular legs that leave one edge, and a triangular gusset in the middle between them.
#[derive(Debug, Clone, PartialEq)]
pub struct Bracket {
    /// Middle of the edge that both legs share.
    pub corner: Place,
    /// Middle of the far edges of the two legs; not on one line with `corner`.
    pub legs: [Place; 2],
    /// Width of both legs along the shared edge, > 0.
    pub width: f64,
    /// Thickness of legs and gusset, > 0.
    pub thickness: f64,
    /// How far the gusset reaches along both legs from the corner; 0 for none.
    pub gusset: f64,
}

/// Straight round shaft.
#[derive(Debug, Clone, PartialEq)]
pub struct Shaft {
    /// Centre of one end.
    pub from: Place,
    /// Centre of the other end.
    pub to: Place,
    /// Diameter, > 0.
    pub diameter: f64,
}

/// Disc, wheel or pulley.
#[derive(Debug, Clone, PartialEq)]
pub struct Disc {
    /// Centre, at half the thickness.
    pub centre: Place,
    /// Direction of the axis of rotation; in a planar scene always out of the plane, so `None`.
    pub axis: Option<Direction>,
    /// Outer diameter, > 0.
    pub diameter: f64,
    /// Thickness along the axis, > 0.
    pub thickness: f64,
    /// Diameter of the hole in the middle; 0 for none.
    pub bore: f64,
    /// Depth of a rope groove around the rim; 0 for none.
    pub groove: f64,
}

/// Rectangular block.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// Centre of the block.
    pub centre: Place,
    /// Edge lengths along `lengthwise`, across both, and along `upright`; all > 0.
    /// In a planar scene the middle one is the depth out of the plane.
    pub size: [f64; 3],
    /// Direction of the first edge; `None` takes +x.
    pub lengthwise: Option<Direction>,
    /// Direction of the third edge, turned square to the first; `None` takes +z (planar: +y).
    pub upright: Option<Direction>,
}

impl Shape {
    /// Every place that the shape is defined by.
    pub fn places(&self) -> Vec<&Place> {
        match self {
            Self::BentBar(bar) => bar.path.iter().collect(),
            Self::Plate(plate) => plate.corners.iter().collect(),
            Self::Bracket(bracket) => std::iter::once(&bracket.corner)
                .chain(&bracket.legs)
                .collect(),
            Self::Shaft(shaft) => vec![&shaft.from, &shaft.to],
            Self::Disc(disc) => vec![&disc.centre],
            Self::Block(block) => vec![&block.centre],
        }
    }

    /// The largest size that the shape is given besides its places.
    pub fn largest_size(&self) -> f64 {
        match self {
            Self::BentBar(bar) => bar.diameter,
            Self::Plate(plate) => plate.thickness,
            Self::Bracket(bracket) => bracket.width.max(bracket.thickness),
            Self::Shaft(shaft) => shaft.diameter,
            Self::Disc(disc) => disc.diameter.max(disc.thickness),
            Self::Block(block) => block.size.into_iter().fold(0.0, f64::max),
        }
    }
}
