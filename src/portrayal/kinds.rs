//! The table of the kinds of support: which hardware stands for each in space, and which symbol in the plane.

use super::hardware_builder::HardwareBuilder;
use super::shape::{HardwareShape, SymbolPart};
use super::{solids, symbols};
use crate::scene::SupportKind;

/// Lays out hardware as solids.
type LayOutSolids = fn(&mut HardwareBuilder<HardwareShape>);
/// Lays out a textbook symbol.
type LayOutSymbol = fn(&mut HardwareBuilder<SymbolPart>);

/// What stands for a kind of support.
pub(super) struct KindPortrayal {
    /// Lays out its hardware as solids.
    pub solid: LayOutSolids,
    /// Lays out its textbook symbol.
    pub symbol: LayOutSymbol,
}

/// The row of a kind. Kinds of space alone have the symbol of a pin, which no scene asks for.
pub(super) fn portrayal_of(kind: &SupportKind) -> KindPortrayal {
    let (solid, symbol): (LayOutSolids, LayOutSymbol) = match kind {
        SupportKind::BallJoint => (solids::ball_joint, symbols::pin),
        SupportKind::Hinge { .. } => (|bench| solids::hinge(bench, true), symbols::pin),
        SupportKind::SlidingHinge { .. } => (|bench| solids::hinge(bench, false), symbols::pin),
        SupportKind::JournalBearing { .. } => {
            (|bench| solids::bearing(bench, false, false), symbols::pin)
        }
        SupportKind::ThrustBearing { .. } => {
            (|bench| solids::bearing(bench, true, false), symbols::pin)
        }
        SupportKind::SquareJournal { .. } => {
            (|bench| solids::bearing(bench, false, true), symbols::pin)
        }
        SupportKind::SmoothPin { .. } => (solids::clevis, symbols::pin),
        SupportKind::Slider { .. } => (solids::slider, symbols::pin),
        SupportKind::UniversalJoint { .. } => (solids::universal, symbols::pin),
        SupportKind::RailWheel { .. } => (solids::rail_wheel, symbols::pin),
        SupportKind::Fixed => (solids::fixed, symbols::wall),
        SupportKind::AnchorPlate { .. } => (solids::anchor_plate, symbols::wall),
        SupportKind::Roller { .. } => (solids::roller, symbols::roller),
        SupportKind::SmoothContact { .. } => (
            |bench| solids::contact(bench, false),
            |bench| symbols::contact(bench, false),
        ),
        SupportKind::RoughContact { .. } => (
            |bench| solids::contact(bench, true),
            |bench| symbols::contact(bench, true),
        ),
        SupportKind::Link { .. } => (solids::link, symbols::link),
        SupportKind::Cable { .. } => (solids::cable, symbols::cable),
        SupportKind::Rocker { .. } => (solids::rocker, symbols::rocker),
        SupportKind::Pin => (solids::bracket, symbols::pin),
        SupportKind::Slot { .. } => (solids::slot, symbols::slot),
        SupportKind::Collar { .. } => (solids::collar, symbols::collar),
    };
    KindPortrayal { solid, symbol }
}
