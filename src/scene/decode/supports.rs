//! The kinds of support, each with its fields.

use super::super::{Space, Support, SupportKind, other_words};
use super::Kinds;
use super::fields::{Fields, Kind, Spaces};
use super::values::NumberRange;

/// Every kind of support.
pub(crate) const SUPPORTS: Kinds<Support> = Kinds {
    what: "support",
    list: "supports",
    other_words: other_words::SUPPORTS,
    all: &[
        spatial("BallJoint", |f| support(f, |_| SupportKind::BallJoint)),
        spatial("Hinge", |f| {
            support(f, |f| SupportKind::Hinge {
                axis: f.direction("axis"),
                couples: f.switch_or("couples", true),
            })
        }),
        spatial("SlidingHinge", |f| {
            support(f, |f| SupportKind::SlidingHinge {
                axis: f.direction("axis"),
                couples: f.switch_or("couples", true),
            })
        }),
        spatial("JournalBearing", |f| {
            support(f, |f| SupportKind::JournalBearing {
                axis: f.direction("axis"),
                couples: f.switch_or("couples", true),
            })
        }),
        spatial("ThrustBearing", |f| {
            support(f, |f| SupportKind::ThrustBearing {
                axis: f.direction("axis"),
                couples: f.switch_or("couples", true),
            })
        }),
        spatial("SquareJournal", |f| {
            support(f, |f| SupportKind::SquareJournal {
                axis: f.direction("axis"),
                couples: f.switch_or("couples", true),
            })
        }),
        spatial("SmoothPin", |f| {
            support(f, |f| SupportKind::SmoothPin {
                axis: f.direction("axis"),
                couples: f.switch_or("couples", true),
            })
        }),
        spatial("Slider", |f| {
            support(f, |f| SupportKind::Slider {
                rod: f.direction("rod"),
                couples: f.switch_or("couples", true),
            })
        }),
        spatial("UniversalJoint", |f| {
            support(f, |f| SupportKind::UniversalJoint {
                axis: f.direction("axis"),
            })
        }),
        spatial("RailWheel", |f| {
            support(f, |f| SupportKind::RailWheel {
                rail: f.direction("rail"),
                normal: f.direction("normal"),
            })
        }),
        either("Fixed", |f| support(f, |_| SupportKind::Fixed)),
        spatial("AnchorPlate", |f| {
            support(f, |f| SupportKind::AnchorPlate {
                normal: f.direction("normal"),
                plate: Box::new(f.anchor_plate()),
            })
        }),
        either("Roller", |f| {
            support(f, |f| SupportKind::Roller {
                normal: f.direction("normal"),
            })
        }),
        either("SmoothContact", |f| {
            support(f, |f| SupportKind::SmoothContact {
                normal: f.direction("normal"),
            })
        }),
        either("RoughContact", |f| {
            support(f, |f| SupportKind::RoughContact {
                normal: f.direction("normal"),
                friction: f.optional_number("friction", NumberRange::NotNegative),
            })
        }),
        either("Link", |f| {
            support(f, |f| SupportKind::Link {
                ground: f.place("ground"),
            })
        }),
        either("Cable", |f| {
            support(f, |f| SupportKind::Cable {
                ground: f.place("ground"),
            })
        }),
        planar("Rocker", |f| {
            support(f, |f| SupportKind::Rocker {
                normal: f.direction("normal"),
            })
        }),
        planar("Pin", |f| support(f, |_| SupportKind::Pin)),
        planar("Slot", |f| {
            support(f, |f| SupportKind::Slot {
                along: f.direction("along"),
            })
        }),
        planar("Collar", |f| {
            support(f, |f| SupportKind::Collar {
                rod: f.direction("rod"),
            })
        }),
    ],
};

type Read = fn(&mut Fields) -> Support;

const fn spatial(name: &'static str, read: Read) -> Kind<Support> {
    let spaces = Spaces::Only(Space::Spatial);
    Kind { name, spaces, read }
}

const fn planar(name: &'static str, read: Read) -> Kind<Support> {
    let spaces = Spaces::Only(Space::Planar);
    Kind { name, spaces, read }
}

const fn either(name: &'static str, read: Read) -> Kind<Support> {
    let spaces = Spaces::Both;
    Kind { name, spaces, read }
}

/// The fields of every support, then those of its kind.
fn support(fields: &mut Fields, kind: impl FnOnce(&mut Fields) -> SupportKind) -> Support {
    let given = fields.name();
    let name = given.as_ref().map(|given| given.name.clone());
    fields.decoder.places.support_names.extend(given);
    Support {
        name: name.unwrap_or_default(),
        at: fields.place("at"),
        kind: kind(fields),
        stiffness: fields.stiffness(),
        allowable: fields.allowable(),
    }
}
