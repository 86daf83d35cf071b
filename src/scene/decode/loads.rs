//! The kinds of load, each with its fields.

use super::super::units::STANDARD_GRAVITY;
use super::super::{AreaAmount, ForceVector, Heaviness, LineAmount, Load, Space, other_words};
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
        load("Line", |f| Load::Line {
            path: f.places("path"),
            amount: line_amount(f),
        }),
        Kind {
            spaces: Spaces::Only(Space::Spatial),
            ..load("Area", |f| Load::Area {
                corners: f.places("corners"),
                amount: area_amount(f),
                on_plan: f.switch_or("on_plan", false),
            })
        },
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

fn line_amount(fields: &mut Fields) -> LineAmount {
    let force = fields.optional_vector("force");
    let mass = fields.optional_number("mass", NumberRange::Positive);
    let gravity = fields.number_or("gravity", NumberRange::NotNegative, STANDARD_GRAVITY);
    let form = "such as `force: (0, 0, -50)` per length, or `mass: 3.2` per metre or foot";
    one_of(fields, ["force", "mass"], "either `force` or `mass`", form);
    if fields.has("force") && fields.has("gravity") {
        fields.refuse(|owner| FormatFault::Both {
            owner,
            first: "force",
            second: "gravity",
        });
    }
    match mass {
        Some(per_length) => LineAmount::Mass {
            per_length,
            gravity,
        },
        None => LineAmount::Force(force.unwrap_or(super::fields::STAND_IN)),
    }
}

fn area_amount(fields: &mut Fields) -> AreaAmount {
    let force = fields.optional_vector("force");
    let pressure = fields.optional_number("pressure", NumberRange::Any);
    let form = "such as `force: (0, 0, -800)`, or `pressure: 500` square to the face";
    one_of(
        fields,
        ["force", "pressure"],
        "either `force` or `pressure`",
        form,
    );
    match pressure {
        Some(pressure) => AreaAmount::Pressure(pressure),
        None => AreaAmount::Force(force.unwrap_or(super::fields::STAND_IN)),
    }
}

/// Refuses an item that has both of two fields, or none of them.
fn one_of(
    fields: &mut Fields,
    [first, second]: [&'static str; 2],
    choice: &'static str,
    form: &'static str,
) {
    match (fields.has(first), fields.has(second)) {
        (true, true) => fields.refuse(|owner| FormatFault::Both {
            owner,
            first,
            second,
        }),
        (false, false) => fields.refuse(|owner| FormatFault::MissingChoice {
            owner,
            choice,
            form,
        }),
        _ => {}
    }
}

fn heaviness(fields: &mut Fields) -> Heaviness {
    let mass = fields.optional_number("mass", NumberRange::Positive);
    let density = fields.optional_number("density", NumberRange::Positive);
    let form = "such as `mass: 60`, or `density: 7850` for the whole body";
    one_of(
        fields,
        ["mass", "density"],
        "either `mass` or `density`",
        form,
    );
    match density {
        Some(density) => Heaviness::Density(density),
        None => Heaviness::Mass(mass.unwrap_or(1.0)),
    }
}
