//! Words for the kinds of support.

use super::geometry::{coordinates, signed_direction};
use super::name::count;
use super::phrase::{Phrase, phrase};
use crate::scene::{Space, SupportKind};
use crate::statics::reactions::Directions;
use crate::statics::{Model, PlacedSupport, Sense, reactions};

/// What one support of a kind is called, and several.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Noun {
    /// `ball joint`.
    pub one: &'static str,
    /// `ball joints`.
    pub many: &'static str,
}

impl Noun {
    /// With a count: `a cable`, `two ball joints`, `three wheels on rails`.
    pub fn counted(self, number: usize) -> String {
        match number {
            1 => format!("a {}", self.one),
            _ => format!("{} {}", count(number), self.many),
        }
    }
}

/// The noun for a kind of support.
pub fn support_noun(kind: &SupportKind) -> Noun {
    let (one, many) = match kind {
        SupportKind::BallJoint => ("ball joint", "ball joints"),
        SupportKind::Hinge { .. } => ("hinge", "hinges"),
        SupportKind::SlidingHinge { .. } => (
            "hinge without axial restraint",
            "hinges without axial restraint",
        ),
        SupportKind::JournalBearing { .. } => ("journal bearing", "journal bearings"),
        SupportKind::ThrustBearing { .. } => ("thrust bearing", "thrust bearings"),
        SupportKind::SquareJournal { .. } => ("square-shaft journal", "square-shaft journals"),
        SupportKind::SmoothPin { .. } => ("smooth pin", "smooth pins"),
        SupportKind::Slider { .. } => ("slider on a rod", "sliders on rods"),
        SupportKind::UniversalJoint { .. } => ("universal joint", "universal joints"),
        SupportKind::RailWheel { .. } => ("wheel on a rail", "wheels on rails"),
        SupportKind::Fixed => ("fixed support", "fixed supports"),
        SupportKind::AnchorPlate { .. } => ("anchor plate", "anchor plates"),
        SupportKind::Roller { .. } => ("roller", "rollers"),
        SupportKind::SmoothContact { .. } => ("smooth contact", "smooth contacts"),
        SupportKind::RoughContact { .. } => ("rough contact", "rough contacts"),
        SupportKind::Link { .. } => ("link", "links"),
        SupportKind::Cable { .. } => ("cable", "cables"),
        SupportKind::Rocker { .. } => ("rocker", "rockers"),
        SupportKind::Pin => ("pin", "pins"),
        SupportKind::Slot { .. } => ("pin in a slot", "pins in slots"),
        SupportKind::Collar { .. } => ("collar on a rod", "collars on rods"),
    };
    Noun { one, many }
}

/// The kind of a support in words: `ball joint`, `link`.
pub fn support_kind(kind: &SupportKind) -> &'static str {
    support_noun(kind).one
}

/// How many forces and how many couples a kind of support supplies in a space.
pub fn supplied(kind: &SupportKind, space: Space) -> (usize, usize) {
    let supply = reactions::supply(kind);
    let forces = match supply.forces {
        Directions::None => 0,
        Directions::Along => 1,
        Directions::Across => space.axes() - 1,
        Directions::All => space.axes(),
    };
    let couples = match (supply.couples, space) {
        (Directions::None, _) => 0,
        (Directions::Along, Space::Spatial) => 1,
        (Directions::Across, Space::Spatial) => 2,
        (Directions::All, Space::Spatial) => 3,
        // In the plane couples act about z alone, which is across everything.
        (Directions::Along, Space::Planar) => 0,
        (Directions::Across | Directions::All, Space::Planar) => 1,
    };
    (forces, couples)
}

/// Which way a support stands: `axis along x`, `normal along z`, `to (0, 0.4, 1) m`; a dash where it has no way.
pub fn orientation(model: &Model, support: &PlacedSupport) -> Phrase {
    if let Some(ground) = &support.ground {
        return phrase!("to ", coordinates(model, ground));
    }
    let Some(along) = &support.orientation else {
        return "\u{2013}".into();
    };
    let word = match support.kind {
        SupportKind::RailWheel { .. } => "rail",
        SupportKind::Slot { .. } => "slot",
        SupportKind::Slider { .. } | SupportKind::Collar { .. } => "rod",
        SupportKind::AnchorPlate { .. } => "normal",
        _ if reactions::supply(&support.kind).sense == Sense::Push => "normal",
        _ => "axis",
    };
    let own = phrase!(word, " along ", signed_direction(model, along));
    match &support.normal {
        Some(normal) => phrase!(own, ", normal along ", signed_direction(model, normal)),
        None => own,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{Coordinates, Direction};

    #[test]
    fn kinds_have_their_plural() {
        let along = Direction::Along(Coordinates::Plane([0.0, 1.0]));
        for (kind, number, text) in [
            (SupportKind::BallJoint, 2, "two ball joints"),
            (
                SupportKind::Slot {
                    along: along.clone(),
                },
                2,
                "two pins in slots",
            ),
            (SupportKind::Roller { normal: along }, 1, "a roller"),
            (SupportKind::Fixed, 1, "a fixed support"),
        ] {
            assert_eq!(support_noun(&kind).counted(number), text);
        }
    }
}
