//! A support on the grid: its kind, its place and its direction.

use super::body::{Cell, shifted};
use crate::scene::{Coordinates, Direction, Place, Space, Support, SupportKind};

/// A support on the grid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Hold {
    pub(super) kind: HoldKind,
    pub(super) at: Cell,
    /// Axis, normal, or from the body to the ground end; zero where the kind has none.
    pub(super) along: Cell,
    /// How far it stands off its grid point, in hundredths of a metre.
    pub(super) off: Cell,
}

/// The kinds that exercises have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum HoldKind {
    BallJoint,
    /// With couples, alone.
    Hinge,
    /// Without couples, one of a pair.
    PairedHinge,
    PairedSlidingHinge,
    PairedThrust,
    PairedJournal,
    Journal,
    Thrust,
    SlidingHinge,
    SmoothPin,
    Slider,
    SquareJournal,
    Universal,
    RailWheel,
    Roller,
    Contact,
    RoughContact,
    Link,
    Cable,
    Fixed,
    Pin,
    Slot,
    Collar,
    Rocker,
}

impl HoldKind {
    /// Reactions that the kind supplies.
    pub(super) fn unknowns(self, space: Space) -> usize {
        match self {
            Self::Fixed if space == Space::Planar => 3,
            Self::Fixed => 6,
            Self::Hinge | Self::Thrust | Self::SmoothPin | Self::SquareJournal => 5,
            Self::Journal | Self::SlidingHinge | Self::Slider | Self::Universal => 4,
            Self::RoughContact if space == Space::Planar => 2,
            Self::BallJoint | Self::PairedHinge | Self::PairedThrust | Self::RoughContact => 3,
            Self::PairedSlidingHinge
            | Self::PairedJournal
            | Self::RailWheel
            | Self::Pin
            | Self::Collar => 2,
            Self::Roller | Self::Contact | Self::Link | Self::Cable | Self::Slot | Self::Rocker => {
                1
            }
        }
    }

    /// Whether it matters which way its direction points: an axis, a rod or a slot has no sense.
    pub(super) fn has_sense(self) -> bool {
        self.is_surface() || matches!(self, Self::Link | Self::Cable)
    }

    /// Whether the body rests on a surface, and its direction is the normal.
    pub(super) fn is_surface(self) -> bool {
        matches!(
            self,
            Self::Roller | Self::Contact | Self::RoughContact | Self::Rocker
        )
    }
}

impl Hold {
    /// The support as a scene has it.
    pub(super) fn support(&self, name: String, space: Space) -> Support {
        let along = || Direction::Along(vector(self.along, space));
        let ground = || {
            let end = [0, 1, 2].map(|axis| self.at[axis] + self.along[axis]);
            Place::At(shifted(end, self.off, space))
        };
        let kind = match self.kind {
            HoldKind::BallJoint => SupportKind::BallJoint,
            HoldKind::Hinge | HoldKind::PairedHinge => SupportKind::Hinge {
                axis: along(),
                couples: self.kind == HoldKind::Hinge,
            },
            HoldKind::PairedSlidingHinge | HoldKind::SlidingHinge => SupportKind::SlidingHinge {
                axis: along(),
                couples: self.kind == HoldKind::SlidingHinge,
            },
            HoldKind::SmoothPin => SupportKind::SmoothPin {
                axis: along(),
                couples: true,
            },
            HoldKind::Slider => SupportKind::Slider {
                rod: along(),
                couples: true,
            },
            HoldKind::PairedThrust | HoldKind::Thrust => SupportKind::ThrustBearing {
                axis: along(),
                couples: self.kind == HoldKind::Thrust,
            },
            HoldKind::PairedJournal | HoldKind::Journal => SupportKind::JournalBearing {
                axis: along(),
                couples: self.kind == HoldKind::Journal,
            },
            HoldKind::SquareJournal => SupportKind::SquareJournal {
                axis: along(),
                couples: true,
            },
            HoldKind::Universal => SupportKind::UniversalJoint { axis: along() },
            HoldKind::RailWheel => SupportKind::RailWheel {
                rail: along(),
                normal: Direction::Along(Coordinates::Space([0.0, 0.0, 1.0])),
            },
            HoldKind::Roller => SupportKind::Roller { normal: along() },
            HoldKind::Contact => SupportKind::SmoothContact { normal: along() },
            HoldKind::RoughContact => SupportKind::RoughContact { normal: along() },
            HoldKind::Rocker => SupportKind::Rocker { normal: along() },
            HoldKind::Link => SupportKind::Link { ground: ground() },
            HoldKind::Cable => SupportKind::Cable { ground: ground() },
            HoldKind::Fixed => SupportKind::Fixed,
            HoldKind::Pin => SupportKind::Pin,
            HoldKind::Slot => SupportKind::Slot { along: along() },
            HoldKind::Collar => SupportKind::Collar { rod: along() },
        };
        let at = Place::At(self.place(space));
        Support { name, at, kind }
    }

    /// Where it stands.
    pub(super) fn place(&self, space: Space) -> Coordinates {
        shifted(self.at, self.off, space)
    }
}

/// Whole numbers as the components of a vector.
pub(super) fn vector(cell: Cell, space: Space) -> Coordinates {
    let [x, y, z] = cell.map(f64::from);
    match space {
        Space::Spatial => Coordinates::Space([x, y, z]),
        Space::Planar => Coordinates::Plane([x, y]),
    }
}
