//! Supports as written: name, place, kind and orientation. Which reactions a kind supplies is told in
//! [`statics::reactions`](crate::statics::reactions).

use super::{Allowable, AnchorPlate, Direction, Place, Space, SupportStiffness};

/// A support: where the ground holds the body.
#[derive(Debug, Clone, PartialEq)]
pub struct Support {
    /// Name, unique among the scene's supports.
    pub name: String,
    /// The body point that is held.
    pub at: Place,
    /// What holds it.
    pub kind: SupportKind,
    /// How stiff it is, where that is said.
    pub stiffness: SupportStiffness,
    /// What it may be loaded with, where that is said.
    pub allowable: Option<Allowable>,
}

/// The kinds of support.
///
/// `couples` says whether the reaction couples across the axis take part: a single hinge or bearing
/// supplies them, one of an aligned pair is conventionally taken without.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum SupportKind {
    /// Ball in its socket: the point is fixed, every turn is free. Spatial.
    BallJoint,
    /// Hinge that also stops sliding along its pin. Spatial.
    Hinge {
        /// Direction of the pin.
        axis: Direction,
        /// Whether couples across the axis take part.
        couples: bool,
    },
    /// Hinge that lets the body slide along its pin. Spatial.
    SlidingHinge {
        /// Direction of the pin.
        axis: Direction,
        /// Whether couples across the axis take part.
        couples: bool,
    },
    /// Bearing around a shaft, without thrust collar. Spatial.
    JournalBearing {
        /// Direction of the shaft.
        axis: Direction,
        /// Whether couples across the axis take part.
        couples: bool,
    },
    /// Bearing around a shaft, with thrust collar. Spatial.
    ThrustBearing {
        /// Direction of the shaft.
        axis: Direction,
        /// Whether couples across the axis take part.
        couples: bool,
    },
    /// Bearing around a square shaft: slides along it, does not turn. Spatial.
    SquareJournal {
        /// Direction of the shaft.
        axis: Direction,
        /// Whether couples across the axis take part.
        couples: bool,
    },
    /// Smooth pin through a clevis. Spatial.
    SmoothPin {
        /// Direction of the pin.
        axis: Direction,
        /// Whether couples across the axis take part.
        couples: bool,
    },
    /// Sleeve of the body on a smooth round rod: slides along it and turns about it. Spatial.
    Slider {
        /// Direction of the rod.
        rod: Direction,
        /// Whether couples across the rod take part.
        couples: bool,
    },
    /// Universal joint: the point is fixed and the turn about the shaft axis is stopped. Spatial.
    UniversalJoint {
        /// Direction of the shaft, square to both pins of the cross.
        axis: Direction,
    },
    /// Wheel on a rail: rolls along the rail, held across it. Spatial.
    RailWheel {
        /// Direction of the rail.
        rail: Direction,
        /// Direction from the rail into the wheel, turned square to the rail.
        normal: Direction,
    },
    /// Built in: no motion at all. Spatial or planar.
    Fixed,
    /// Plate that anchors hold on a wall: no motion at all, as long as they hold. Spatial.
    AnchorPlate {
        /// Direction from the wall into the body.
        normal: Direction,
        /// The plate with its anchors.
        plate: Box<AnchorPlate>,
    },
    /// Roller on a surface: pushes along the normal. Spatial or planar.
    Roller {
        /// Direction from the surface into the body.
        normal: Direction,
    },
    /// Smooth contact: pushes along the normal. Spatial or planar.
    SmoothContact {
        /// Direction from the surface into the body.
        normal: Direction,
    },
    /// Rough contact: pushes along the normal and holds by friction across it. Spatial or planar.
    RoughContact {
        /// Direction from the surface into the body.
        normal: Direction,
        /// Coefficient of friction, ≥ 0; `None` takes friction to be as large as required.
        friction: Option<f64>,
    },
    /// Short link with an eye at each end: pushes and pulls along itself. Spatial or planar.
    Link {
        /// Eye on the ground.
        ground: Place,
    },
    /// Cable: pulls along itself. Spatial or planar.
    Cable {
        /// Eye on the ground.
        ground: Place,
    },
    /// Rocker on a surface: pushes along the normal. Planar.
    Rocker {
        /// Direction from the surface into the body.
        normal: Direction,
    },
    /// Pin: the point is fixed. Planar.
    Pin,
    /// Pin of the body in a straight slot of the ground: held across the slot both ways. Planar.
    Slot {
        /// Direction of the slot.
        along: Direction,
    },
    /// Collar fixed to the body on a smooth rod: slides along it, does not turn. Planar.
    Collar {
        /// Direction of the rod.
        rod: Direction,
    },
}

/// The switch for couples of a kind that has one, of a reference or of a mutable one: one list of those kinds.
macro_rules! couples_of {
    ($kind:expr) => {
        match $kind {
            SupportKind::Hinge { couples, .. }
            | SupportKind::SlidingHinge { couples, .. }
            | SupportKind::JournalBearing { couples, .. }
            | SupportKind::ThrustBearing { couples, .. }
            | SupportKind::SquareJournal { couples, .. }
            | SupportKind::SmoothPin { couples, .. }
            | SupportKind::Slider { couples, .. } => Some(couples),
            _ => None,
        }
    };
}

/// The direction that orients a kind, borrowed as the kind is, with the name of its field.
macro_rules! orientation_of {
    ($kind:expr) => {
        match $kind {
            SupportKind::Hinge { axis, .. }
            | SupportKind::SlidingHinge { axis, .. }
            | SupportKind::JournalBearing { axis, .. }
            | SupportKind::ThrustBearing { axis, .. }
            | SupportKind::SquareJournal { axis, .. }
            | SupportKind::SmoothPin { axis, .. }
            | SupportKind::UniversalJoint { axis } => Some(("axis", axis)),
            SupportKind::Slider { rod, .. } | SupportKind::Collar { rod } => Some(("rod", rod)),
            SupportKind::RailWheel { rail, .. } => Some(("rail", rail)),
            SupportKind::Slot { along } => Some(("along", along)),
            SupportKind::Roller { normal }
            | SupportKind::SmoothContact { normal }
            | SupportKind::RoughContact { normal, .. }
            | SupportKind::AnchorPlate { normal, .. }
            | SupportKind::Rocker { normal } => Some(("normal", normal)),
            SupportKind::BallJoint
            | SupportKind::Fixed
            | SupportKind::Pin
            | SupportKind::Link { .. }
            | SupportKind::Cable { .. } => None,
        }
    };
}

impl SupportKind {
    /// Whether the kind exists in scenes of this space.
    pub fn exists_in(&self, space: Space) -> bool {
        match self {
            Self::Fixed
            | Self::Roller { .. }
            | Self::SmoothContact { .. }
            | Self::RoughContact { .. }
            | Self::Link { .. }
            | Self::Cable { .. } => true,
            Self::Rocker { .. } | Self::Pin | Self::Slot { .. } | Self::Collar { .. } => {
                space == Space::Planar
            }
            _ => space == Space::Spatial,
        }
    }

    /// How many forces and couples it supplies; [`statics::reactions`](crate::statics::reactions) says which.
    pub fn counts(&self, space: Space) -> [usize; 2] {
        let is_spatial = space == Space::Spatial;
        let in_space = |spatial, planar| if is_spatial { spatial } else { planar };
        match self {
            Self::BallJoint => [3, 0],
            Self::Hinge { couples, .. }
            | Self::ThrustBearing { couples, .. }
            | Self::SmoothPin { couples, .. } => [3, if *couples { 2 } else { 0 }],
            Self::SlidingHinge { couples, .. }
            | Self::JournalBearing { couples, .. }
            | Self::Slider { couples, .. } => [2, if *couples { 2 } else { 0 }],
            Self::SquareJournal { couples, .. } => [2, if *couples { 3 } else { 1 }],
            Self::UniversalJoint { .. } => [3, 1],
            Self::RailWheel { .. } | Self::Pin => [2, 0],
            Self::AnchorPlate { .. } => [3, 3],
            Self::Fixed => [in_space(3, 2), in_space(3, 1)],
            Self::RoughContact { .. } => [in_space(3, 2), 0],
            Self::Roller { .. }
            | Self::SmoothContact { .. }
            | Self::Link { .. }
            | Self::Cable { .. }
            | Self::Rocker { .. }
            | Self::Slot { .. } => [1, 0],
            Self::Collar { .. } => [1, 1],
        }
    }

    /// Ground end of a link or cable.
    pub fn ground(&self) -> Option<&Place> {
        match self {
            Self::Link { ground } | Self::Cable { ground } => Some(ground),
            _ => None,
        }
    }

    /// The direction that orients the kind: axis, rod, rail, slot or normal.
    pub fn orientation(&self) -> Option<&Direction> {
        orientation_of!(self).map(|(_, direction)| direction)
    }

    /// The same, to be turned.
    pub(crate) fn orientation_mut(&mut self) -> Option<&mut Direction> {
        orientation_of!(self).map(|(_, direction)| direction)
    }

    /// The plate of an anchor plate.
    pub fn plate(&self) -> Option<&AnchorPlate> {
        match self {
            Self::AnchorPlate { plate, .. } => Some(plate),
            _ => None,
        }
    }

    /// Whether couples across the axis take part; `None` of kinds that have no such choice.
    pub fn couples(&self) -> Option<bool> {
        couples_of!(self).copied()
    }

    /// The same, to be switched.
    pub(crate) fn couples_mut(&mut self) -> Option<&mut bool> {
        couples_of!(self)
    }

    /// The normal of a wheel on a rail.
    pub fn second_orientation(&self) -> Option<&Direction> {
        match self {
            Self::RailWheel { normal, .. } => Some(normal),
            _ => None,
        }
    }

    /// Every direction of the kind, with the name of its field.
    pub(crate) fn directions(&self) -> impl Iterator<Item = (&'static str, &Direction)> {
        let second = self.second_orientation();
        let second = second.map(|direction| ("normal", direction));
        orientation_of!(self).into_iter().chain(second)
    }
}
