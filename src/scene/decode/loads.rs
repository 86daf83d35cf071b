//! The kinds of load, each with its fields.

use super::super::units::STANDARD_GRAVITY;
use super::super::{ForceVector, Heaviness, Load, Space, other_words};
use super::fields::{Fields, Kind, Spaces};
use super::values::NumberRange;
use super::{FormatFault, Kinds};

/// Every kind of load.
pub(crate) const LOADS: Kinds<Load> = Kinds {
    what: "load",
    list: "loads",
    other_words: other_words::LOADS,
    all: &[
        load("Force", |f| Load::Force {
            at: f.place("at"),
            force: force(f),
        }),
        load("Couple", |f| Load::Couple {
            moment: f.moment("moment"),
            at: f.optional_place("at"),
        }),
        load("Distributed", |f| Load::Distributed {
            from: f.place("from"),
            to: f.place("to"),
            start: f.vector("start"),
            end: f.optional_vector("end"),
        }),
        load("Weight", |f| Load::Weight {
            amount: heaviness(f),
            at: f.optional_place("at"),
            gravity: f.number_or("gravity", NumberRange::NotNegative, STANDARD_GRAVITY),
        }),
    ],
};

const fn load(name: &'static str, read: fn(&mut Fields) -> Load) -> Kind<Load> {
    Kind {
        name,
        spaces: Spaces::Both,
        read,
    }
}

fn force(fields: &mut Fields) -> ForceVector {
    let directed = fields.has("size") || fields.has("direction");
    if directed && fields.has("force") {
        let (first, second) = (
            "force",
            if fields.has("size") {
                "size"
            } else {
                "direction"
            },
        );
        fields.refuse(|owner| FormatFault::Both {
            owner,
            first,
            second,
        });
    }
    if directed {
        fields.know("force");
        return ForceVector::Directed {
            size: fields.number("size", NumberRange::Any),
            direction: fields.direction("direction"),
        };
    }
    let components = fields.optional_vector("force");
    fields.know("size");
    fields.know("direction");
    if !fields.has("force") {
        let choice = "either `force`, or `size` and `direction`";
        let form = match fields.decoder.space {
            Space::Spatial => {
                "such as `force: (0, 0, -100)`, or `size: 100, direction: (0, 0, -1)`"
            }
            Space::Planar => "such as `force: (0, -100)`, or `size: 100, direction: (0, -1)`",
        };
        fields.refuse(|owner| FormatFault::MissingChoice {
            owner,
            choice,
            form,
        });
    }
    ForceVector::Components(components.unwrap_or(super::fields::STAND_IN))
}

fn heaviness(fields: &mut Fields) -> Heaviness {
    let mass = fields.optional_number("mass", NumberRange::Positive);
    let density = fields.optional_number("density", NumberRange::Positive);
    match (fields.has("mass"), fields.has("density")) {
        (true, true) => {
            let (first, second) = ("mass", "density");
            fields.refuse(|owner| FormatFault::Both {
                owner,
                first,
                second,
            });
        }
        (false, false) => {
            fields.refuse(|owner| FormatFault::MissingChoice {
                owner,
                choice: "either `mass` or `density`",
                form: "such as `mass: 60`, or `density: 7850` for the whole body",
            });
        }
        _ => {}
    }
    match density {
        Some(density) => Heaviness::Density(density),
        None => Heaviness::Mass(mass.unwrap_or(1.0)),
    }
}
