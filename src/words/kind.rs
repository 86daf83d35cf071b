//! Words for the kinds of support.

use crate::scene::SupportKind;

/// The kind of a support in words: `ball joint`, `short link`.
pub fn support_kind(kind: &SupportKind) -> &'static str {
    match kind {
        SupportKind::BallJoint => "ball joint",
        SupportKind::Hinge { .. } => "hinge",
        SupportKind::SlidingHinge { .. } => "hinge without thrust",
        SupportKind::JournalBearing { .. } => "journal bearing",
        SupportKind::ThrustBearing { .. } => "thrust bearing",
        SupportKind::SquareJournal { .. } => "square-shaft journal",
        SupportKind::SmoothPin { .. } => "smooth pin",
        SupportKind::Slider { .. } => "slider on a rod",
        SupportKind::UniversalJoint { .. } => "universal joint",
        SupportKind::RailWheel { .. } => "wheel on a rail",
        SupportKind::Fixed => "fixed",
        SupportKind::Roller { .. } => "roller",
        SupportKind::SmoothContact { .. } => "smooth contact",
        SupportKind::RoughContact { .. } => "rough contact",
        SupportKind::Link { .. } => "short link",
        SupportKind::Cable { .. } => "cable",
        SupportKind::Rocker { .. } => "rocker",
        SupportKind::Pin => "pin",
        SupportKind::Slot { .. } => "pin in a slot",
        SupportKind::Collar { .. } => "collar on a rod",
    }
}
