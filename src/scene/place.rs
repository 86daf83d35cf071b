//! Positions and directions as a user writes them, before any name is looked up.

use super::Space;

/// Two or three numbers as written: a position in the scene's length unit, or the components of a vector.
///
/// Planar scenes write two, spatial scenes three; the reader refuses the other form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Coordinates {
    /// `(x, y)` of a planar scene.
    Plane([f64; 2]),
    /// `(x, y, z)` of a spatial scene.
    Space([f64; 3]),
}

impl Coordinates {
    /// Coordinates as a space writes them; the plane has no third.
    pub fn new(space: Space, [x, y, z]: [f64; 3]) -> Self {
        match space {
            Space::Planar => Self::Plane([x, y]),
            Space::Spatial => Self::Space([x, y, z]),
        }
    }

    /// The components as three numbers; the third is 0 in the plane.
    pub fn components(&self) -> [f64; 3] {
        match *self {
            Self::Plane([x, y]) => [x, y, 0.0],
            Self::Space(xyz) => xyz,
        }
    }
}

/// A position: the name of one of the scene's points, or coordinates.
#[derive(Debug, Clone, PartialEq)]
pub enum Place {
    /// The name of an entry of [`Scene::points`](super::Scene::points).
    Named(String),
    /// Coordinates in the scene's length unit.
    At(Coordinates),
}

/// A direction, of any length but not zero.
#[derive(Debug, Clone, PartialEq)]
pub enum Direction {
    /// Components along the axes.
    Along(Coordinates),
    /// From the place that the item stands at towards this one.
    Towards(Place),
    /// Planar scenes only: degrees counter-clockwise from +x.
    Angle(f64),
}
