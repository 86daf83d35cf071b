//! The parts of the JSON report that go into depth: nearness, one-way supports, acceleration, heat.

use serde::Serialize;

use super::json::{point, tidy, triple, unit};
use crate::statics::{
    Acceleration, Escape, FreeMotion, Friction, Heat, MOST_ALONE, Model, MotionKind, Movement,
    Nearness, OneWay, Placement, ReactionKind, Rounding,
};
use crate::words;

/// A motion, free or not.
#[derive(Debug, Serialize)]
pub(super) struct Motion {
    kind: &'static str,
    direction: [Option<f64>; 3],
    /// A point of the axis; of a translation, which has none, the reference point.
    point: [Option<f64>; 3],
    /// Length per radian, right-handed positive; `null` for a translation.
    pitch: Option<f64>,
    words: String,
}

#[derive(Debug, Serialize)]
pub(super) struct NearnessPart<'a> {
    smallest_singular_value: Option<f64>,
    weakest: Motion,
    /// Supports shifted together; `null` where no shift lets the body go.
    movement: Option<MovementPart<'a>>,
    /// The supports of which a shift alone lets the body go; `null` where there are too many to look.
    alone: Option<Vec<AlonePart<'a>>>,
    amplification: AmplificationPart<'a>,
    placement_tolerance: Option<f64>,
    placement: Option<&'static str>,
    rounding: Option<RoundingPart<'a>>,
    words: Vec<String>,
}

#[derive(Debug, Serialize)]
struct MovementPart<'a> {
    bound: Option<f64>,
    estimate: Option<f64>,
    moves: Vec<MovePart<'a>>,
    freed: Motion,
}

#[derive(Debug, Serialize)]
struct MovePart<'a> {
    support: &'a str,
    by: [Option<f64>; 3],
}

#[derive(Debug, Serialize)]
struct AlonePart<'a> {
    support: &'a str,
    bound: Option<f64>,
    estimate: Option<f64>,
    by: Option<[Option<f64>; 3]>,
}

#[derive(Debug, Serialize)]
struct AmplificationPart<'a> {
    reaction: &'a str,
    factor: Option<f64>,
}

#[derive(Debug, Serialize)]
struct RoundingPart<'a> {
    supports: Vec<&'a str>,
    reach: Option<f64>,
    words: String,
}

#[derive(Debug, Serialize)]
pub(super) struct OneWayPart<'a> {
    every_load: bool,
    escape: Option<EscapePart<'a>>,
    words: String,
    cases: Vec<OneWayCasePart<'a>>,
}

#[derive(Debug, Serialize)]
struct OneWayCasePart<'a> {
    case: &'a str,
    holds: bool,
    /// In the order of `reactions`: smallest and largest value, `null` for a side without limit.
    ranges: Vec<Option<[Option<f64>; 2]>>,
    idle: Vec<&'a str>,
    /// Of rough contacts, which are taken to hold along their surface without limit.
    friction: Vec<FrictionPart<'a>>,
    /// Least coefficient, the same at every rough contact, for which there is equilibrium; `null` without rough
    /// contacts, where the load is not held, and where none is enough.
    common_friction: Option<f64>,
    escape: Option<EscapePart<'a>>,
    words: String,
}

#[derive(Debug, Serialize)]
struct FrictionPart<'a> {
    support: &'a str,
    /// Whether equilibrium decides push and force along the surface.
    decided: bool,
    /// Least coefficient that will do; `null` where not decided, and where it would have to hold without a push.
    coefficient: Option<f64>,
}

#[derive(Debug, Serialize)]
struct EscapePart<'a> {
    motion: Motion,
    /// `positive` along the motion's direction (right-handed about it), `negative` the other way.
    sense: &'static str,
    loosened: Vec<&'a str>,
    touching: Vec<&'a str>,
}

#[derive(Debug, Serialize)]
pub(super) struct AccelerationPart<'a> {
    case: &'a str,
    motion: Motion,
    sense: &'static str,
    /// rad/s², of a translation length/s².
    size: Option<f64>,
    loosened: Vec<&'a str>,
    words: String,
}

#[derive(Debug, Serialize)]
pub(super) struct HeatPart<'a> {
    free: bool,
    fighting: Vec<&'a str>,
    /// In the order of `reactions`; couples over the characteristic length.
    stress: Vec<Option<f64>>,
    unique: bool,
    loosened: Vec<&'a str>,
    words: String,
}

pub(super) fn nearness<'a>(
    model: &'a Model,
    nearness: &Nearness,
    rounding: Option<&Rounding>,
) -> NearnessPart<'a> {
    let length = |metres: f64| tidy(metres / model.units.length.in_metres());
    NearnessPart {
        smallest_singular_value: tidy(nearness.smallest),
        weakest: motion(model, &nearness.weakest),
        movement: nearness
            .movement
            .as_ref()
            .map(|found| movement(model, found)),
        alone: (model.supports.len() <= MOST_ALONE).then(|| {
            nearness
                .alone
                .iter()
                .zip(&model.supports)
                .filter_map(|(alone, support)| {
                    let alone = alone.as_ref()?;
                    Some(AlonePart {
                        support: &support.name,
                        bound: length(alone.bound),
                        estimate: alone.estimate.and_then(|by| length(by.norm())),
                        by: alone
                            .estimate
                            .map(|by| triple(&(by / model.units.length.in_metres()))),
                    })
                })
                .collect()
        }),
        amplification: AmplificationPart {
            reaction: &model.reactions[nearness.amplification.reaction].name,
            factor: tidy(nearness.amplification.factor),
        },
        placement_tolerance: model.placement_tolerance.and_then(length),
        placement: nearness.placement.map(|placement| match placement {
            Placement::Held => "held",
            Placement::Unclear => "unclear",
            Placement::NearImproper => "near_improper",
        }),
        rounding: rounding.map(|rounding| RoundingPart {
            supports: rounding
                .supports
                .iter()
                .map(|i| model.supports[*i].name.as_str())
                .collect(),
            reach: tidy(rounding.reach),
            words: words::rounding(model, rounding),
        }),
        words: words::placement(model, nearness)
            .into_iter()
            .chain(words::nearness(model, nearness))
            .collect(),
    }
}

fn movement<'a>(model: &'a Model, movement: &Movement) -> MovementPart<'a> {
    let metres = model.units.length.in_metres();
    MovementPart {
        bound: tidy(movement.bound / metres),
        estimate: tidy(movement.estimate / metres),
        moves: movement
            .moves
            .iter()
            .zip(&model.supports)
            .map(|(by, support)| MovePart {
                support: &support.name,
                by: triple(&(by / metres)),
            })
            .collect(),
        freed: motion(model, &movement.freed),
    }
}

pub(super) fn one_way<'a>(
    model: &'a Model,
    one_way: &'a OneWay,
    cases: std::ops::Range<usize>,
) -> OneWayPart<'a> {
    let part = |index: usize| {
        let case = &one_way.cases[index];
        let ranges = model.reactions.iter().zip(&case.ranges);
        OneWayCasePart {
            case: &model.cases[index].name,
            holds: case.holds,
            ranges: ranges
                .map(|(reaction, range)| {
                    let per = unit(model, reaction.kind);
                    range.map(|range| [tidy(range.low / per), tidy(range.high / per)])
                })
                .collect(),
            idle: names(model, &case.idle),
            friction: case.friction.iter().map(|f| friction(model, f)).collect(),
            common_friction: case.common_friction.and_then(tidy),
            escape: case.escape.as_ref().map(|found| escape(model, found)),
            words: words::one_way(model, case),
        }
    };
    OneWayPart {
        every_load: one_way.escape.is_none(),
        escape: one_way.escape.as_ref().map(|found| escape(model, found)),
        words: words::every_load(model, one_way),
        cases: cases.map(part).collect(),
    }
}

fn friction<'a>(model: &'a Model, friction: &Friction) -> FrictionPart<'a> {
    FrictionPart {
        support: &model.supports[friction.support].name,
        decided: friction.coefficient.is_some(),
        coefficient: friction.coefficient.and_then(tidy),
    }
}

fn escape<'a>(model: &'a Model, escape: &Escape) -> EscapePart<'a> {
    EscapePart {
        motion: motion(model, &escape.motion),
        sense: sense(escape.backwards),
        loosened: names(model, &escape.loosened),
        touching: names(model, &escape.touching),
    }
}

pub(super) fn accelerations<'a>(
    model: &'a Model,
    found: &'a [Option<Acceleration>],
    cases: std::ops::Range<usize>,
) -> Vec<AccelerationPart<'a>> {
    let part = |index: usize| {
        let acceleration = found[index].as_ref()?;
        let unit = match acceleration.motion.kind {
            MotionKind::Translation => model.units.length.in_metres(),
            _ => 1.0,
        };
        Some(AccelerationPart {
            case: &model.cases[index].name,
            motion: motion(model, &acceleration.motion),
            sense: sense(acceleration.backwards),
            size: tidy(acceleration.size / unit),
            loosened: names(model, &acceleration.loosened),
            words: words::acceleration(model, acceleration),
        })
    };
    cases.filter_map(part).collect()
}

/// Couples in the scene's unit for each unit of force, as every number here is in the scene's units.
fn stress(model: &Model, heat: &Heat) -> Vec<Option<f64>> {
    let length = model.length / model.units.length.in_metres();
    let entries = heat.stress.iter().zip(&model.reactions);
    entries
        .map(|(part, reaction)| match reaction.kind {
            ReactionKind::Force => tidy(*part),
            ReactionKind::Couple => tidy(part * length),
        })
        .collect()
}

pub(super) fn heat<'a>(model: &'a Model, heat: &Heat) -> HeatPart<'a> {
    HeatPart {
        free: heat.free,
        fighting: heat
            .fighting
            .iter()
            .map(|i| model.supports[*i].name.as_str())
            .collect(),
        stress: stress(model, heat),
        unique: heat.unique,
        loosened: names(model, &heat.loosened),
        words: words::heat(model, heat),
    }
}

pub(super) fn motion(model: &Model, motion: &FreeMotion) -> Motion {
    Motion {
        kind: match motion.kind {
            MotionKind::Rotation => "rotation",
            MotionKind::Translation => "translation",
            MotionKind::Screw => "screw",
        },
        direction: triple(&motion.direction),
        point: point(model, &motion.point),
        pitch: tidy(motion.pitch / model.units.length.in_metres()),
        words: words::motion(model, motion),
    }
}

fn sense(backwards: bool) -> &'static str {
    if backwards { "negative" } else { "positive" }
}

/// Names of reactions.
pub(super) fn names<'a>(model: &'a Model, reactions: &[usize]) -> Vec<&'a str> {
    reactions
        .iter()
        .map(|j| model.reactions[*j].name.as_str())
        .collect()
}
