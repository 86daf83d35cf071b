//! Loads as written. Forces are in the scene's force unit, moments in force times length.

use super::{Coordinates, Direction, Imposed, Place};

/// A named set of loads that acts together with [`Scene::loads`](super::Scene::loads).
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// Name, unique among the scene's cases.
    pub name: String,
    /// Loads of this case alone.
    pub loads: Vec<Load>,
    /// What is imposed besides loads in this case alone.
    pub imposed: Vec<Imposed>,
}

/// Something that acts on the body besides its supports.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Load {
    /// Force at a point of the body.
    Force {
        /// Where it acts.
        at: Place,
        /// The force.
        force: ForceVector,
    },
    /// Couple.
    Couple {
        /// Moment vector; in the plane a moment about +z (counter-clockwise).
        moment: Moment,
        /// Where it is drawn; mechanics does not depend on it.
        at: Option<Place>,
    },
    /// Force spread along a straight segment, linear from one end to the other.
    Distributed {
        /// First end of the segment.
        from: Place,
        /// Other end of the segment.
        to: Place,
        /// Force per length at `from`.
        start: Coordinates,
        /// Force per length at `to`; `None` takes `start`.
        end: Option<Coordinates>,
    },
    /// Force or weight spread evenly along a path, as along a bent bar.
    Line {
        /// Its points, two or more.
        path: Vec<Place>,
        /// What acts on each piece of its length.
        amount: LineAmount,
    },
    /// Force spread evenly over a flat face. Spatial.
    Area {
        /// Corners of the face, in order around its edge.
        corners: Vec<Place>,
        /// What acts on each piece of it.
        amount: AreaAmount,
        /// Whether it counts per area of the plan, the face seen from above, as snow does, and not of the face itself.
        on_plan: bool,
    },
    /// Own weight of the body, in direction −z (planar: −y).
    Weight {
        /// How heavy it is.
        amount: Heaviness,
        /// Where it acts; `None` takes the centre of volume of the body's shapes.
        at: Option<Place>,
        /// Acceleration of free fall in m/s²; [`STANDARD_GRAVITY`](super::units::STANDARD_GRAVITY) unless written.
        gravity: f64,
    },
}

/// A force, by its components or by size and direction.
#[derive(Debug, Clone, PartialEq)]
pub enum ForceVector {
    /// Components along the axes.
    Components(Coordinates),
    /// Size along a direction.
    Directed {
        /// Size; negative points the other way.
        size: f64,
        /// Where it points.
        direction: Direction,
    },
}

/// A moment: a vector in space, a number in the plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Moment {
    /// About +z, planar scenes.
    Plane(f64),
    /// Components along the axes, spatial scenes.
    Space([f64; 3]),
}

/// What is spread along a path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LineAmount {
    /// Force per length.
    Force(Coordinates),
    /// Weight, in direction −z (planar: −y).
    Mass {
        /// In the scene's mass unit per metre (kg, t) or per foot (lb), > 0.
        per_length: f64,
        /// Acceleration of free fall in m/s².
        gravity: f64,
    },
}

/// What is spread over a face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AreaAmount {
    /// Force per area.
    Force(Coordinates),
    /// Force per area square to the face: it presses on the side from which the corners run counter-clockwise; negative pulls there.
    Pressure(f64),
}

/// How the heaviness of the body is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Heaviness {
    /// Mass of the whole body in the scene's mass unit, > 0.
    Mass(f64),
    /// Density in the scene's mass unit per cubic metre (kg, t) or per cubic foot (lb), > 0.
    Density(f64),
}
