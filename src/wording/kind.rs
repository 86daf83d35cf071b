//! Words for the kinds of support.

use super::geometry::{coordinates, signed_direction};
use super::name::count;
use crate::scene::SupportKind;
use crate::statics::{Model, PlacedSupport, Sense, reactions};

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

/// Which way a support stands: `axis along x`, `normal along z`, `to (0, 0.4, 1) m`; a dash where it has no way.
pub fn orientation(model: &Model, support: &PlacedSupport) -> String {
    if let Some(ground) = &support.ground {
        return format!("to {}", coordinates(model, ground));
    }
    let Some(along) = &support.orientation else {
        return "\u{2013}".to_owned();
    };
    let word = match support.kind {
        SupportKind::RailWheel { .. } => "rail",
        SupportKind::Slot { .. } => "slot",
        SupportKind::Slider { .. } | SupportKind::Collar { .. } => "rod",
        _ if reactions::supply(&support.kind).sense == Sense::Push => "normal",
        _ => "axis",
    };
    let own = format!("{word} along {}", signed_direction(model, along));
    match &support.normal {
        Some(normal) => format!("{own}, normal along {}", signed_direction(model, normal)),
        None => own,
    }
}

/// A kind of support with its count: `a cable`, `two ball joints`, `three wheels on rails`.
pub fn supports_counted(kind: &str, number: usize) -> String {
    let kind = if kind == "fixed" { "fixed end" } else { kind };
    if number == 1 {
        return format!("a {kind}");
    }
    let (head, tail) = match kind
        .find(" on ")
        .or(kind.find(" in "))
        .or(kind.find(" without "))
    {
        Some(at) => kind.split_at(at),
        None => (kind, ""),
    };
    let tail = match tail.strip_prefix(" on a ").or(tail.strip_prefix(" in a ")) {
        Some(place) => format!("{}{place}s", &tail[..4]),
        None => tail.to_owned(),
    };
    format!("{} {head}s{tail}", count(number))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_have_their_plural() {
        for (kind, number, text) in [
            ("cable", 1, "a cable"),
            ("ball joint", 2, "two ball joints"),
            ("wheel on a rail", 3, "three wheels on rails"),
            ("hinge without thrust", 2, "two hinges without thrust"),
            ("pin in a slot", 2, "two pins in slots"),
            ("fixed", 1, "a fixed end"),
        ] {
            assert_eq!(supports_counted(kind, number), text);
        }
    }
}
