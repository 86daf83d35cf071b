//! A support on the grid: its kind, its place and its direction.

use super::body::{GridPoint, shifted};
use crate::scene::{Coordinates, Direction, Place, Space, Support, SupportKind};

/// A support on the grid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct GridSupport {
    pub(super) kind: GridSupportKind,
    pub(super) at: GridPoint,
    /// Axis, normal, or from the body to the ground end; zero where the kind has none.
    pub(super) along: GridPoint,
    /// How far it stands off its grid point, in hundredths of a metre.
    pub(super) off: GridPoint,
}

/// The kinds that exercises have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum GridSupportKind {
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

impl GridSupportKind {
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

    /// Whether it is held by something with an end on the ground.
    pub(super) fn has_ground(self) -> bool {
        matches!(self, Self::Link | Self::Cable)
    }

    /// Whether it is held by a bearing that a shaft runs through.
    pub(super) fn is_bearing(self) -> bool {
        matches!(
            self,
            Self::Journal
                | Self::PairedJournal
                | Self::Thrust
                | Self::PairedThrust
                | Self::SquareJournal
        )
    }

    /// Whether the body runs on a rod.
    pub(super) fn runs_on_a_rod(self) -> bool {
        matches!(self, Self::Slider | Self::Collar)
    }

    /// Whether it matters which way its direction points: an axis, a rod or a slot has no sense.
    pub(super) fn has_sense(self) -> bool {
        self.is_surface() || self.has_ground()
    }

    /// Whether the body rests on a surface, and its direction is the normal.
    pub(super) fn is_surface(self) -> bool {
        matches!(
            self,
            Self::Roller | Self::Contact | Self::RoughContact | Self::Rocker
        )
    }
}

impl GridSupport {
    /// The support as a scene has it.
    pub(super) fn written(&self, name: String, space: Space) -> Support {
        let along = || Direction::Along(vector(self.along, space));
        let ground = || {
            let end = [0, 1, 2].map(|axis| self.at[axis] + self.along[axis]);
            Place::At(shifted(end, self.off, space))
        };
        let kind = match self.kind {
            GridSupportKind::BallJoint => SupportKind::BallJoint,
            GridSupportKind::Hinge | GridSupportKind::PairedHinge => SupportKind::Hinge {
                axis: along(),
                couples: self.kind == GridSupportKind::Hinge,
            },
            GridSupportKind::PairedSlidingHinge | GridSupportKind::SlidingHinge => {
                SupportKind::SlidingHinge {
                    axis: along(),
                    couples: self.kind == GridSupportKind::SlidingHinge,
                }
            }
            GridSupportKind::SmoothPin => SupportKind::SmoothPin {
                axis: along(),
                couples: true,
            },
            GridSupportKind::Slider => SupportKind::Slider {
                rod: along(),
                couples: true,
            },
            GridSupportKind::PairedThrust | GridSupportKind::Thrust => SupportKind::ThrustBearing {
                axis: along(),
                couples: self.kind == GridSupportKind::Thrust,
            },
            GridSupportKind::PairedJournal | GridSupportKind::Journal => {
                SupportKind::JournalBearing {
                    axis: along(),
                    couples: self.kind == GridSupportKind::Journal,
                }
            }
            GridSupportKind::SquareJournal => SupportKind::SquareJournal {
                axis: along(),
                couples: true,
            },
            GridSupportKind::Universal => SupportKind::UniversalJoint { axis: along() },
            GridSupportKind::RailWheel => SupportKind::RailWheel {
                rail: along(),
                normal: Direction::Along(Coordinates::Space([0.0, 0.0, 1.0])),
            },
            GridSupportKind::Roller => SupportKind::Roller { normal: along() },
            GridSupportKind::Contact => SupportKind::SmoothContact { normal: along() },
            GridSupportKind::RoughContact => SupportKind::RoughContact {
                normal: along(),
                friction: None,
            },
            GridSupportKind::Rocker => SupportKind::Rocker { normal: along() },
            GridSupportKind::Link => SupportKind::Link { ground: ground() },
            GridSupportKind::Cable => SupportKind::Cable { ground: ground() },
            GridSupportKind::Fixed => SupportKind::Fixed,
            GridSupportKind::Pin => SupportKind::Pin,
            GridSupportKind::Slot => SupportKind::Slot { along: along() },
            GridSupportKind::Collar => SupportKind::Collar { rod: along() },
        };
        let at = Place::At(self.place(space));
        Support {
            name,
            at,
            kind,
            stiffness: Default::default(),
            allowable: None,
        }
    }

    /// Where it stands.
    pub(super) fn place(&self, space: Space) -> Coordinates {
        shifted(self.at, self.off, space)
    }
}

/// Whole numbers as the components of a vector.
pub(super) fn vector(cell: GridPoint, space: Space) -> Coordinates {
    let [x, y, z] = cell.map(f64::from);
    match space {
        Space::Spatial => Coordinates::Space([x, y, z]),
        Space::Planar => Coordinates::Plane([x, y]),
    }
}
