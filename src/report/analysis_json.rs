//! The parts of the JSON report that go into depth: nearness, one-way supports, acceleration, heat.

use schemars::JsonSchema;
use serde::Serialize;

use super::values::{JsonSense, Triple, names, point, sense, tidy, triple, unit};
use crate::indexed::{Indexed, Indices};
use crate::statics::{
    Acceleration, CaseIndex, Escape, FreeMotion, Friction, Heat, LimitsOutcome, MOST_ALONE, Model,
    MotionKind, Movement, Nearness, OneWay, OneWayCase, Placement, Reaction, ReactionIndex,
    ReactionKind, Rounding, SlidingOnset, SupportIndex,
};
use crate::wording;

/// A motion, free or not.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "motion")]
pub(super) struct JsonMotion {
    kind: MotionWord,
    direction: Triple,
    /// of the axis; of a translation, which has none, the reference point
    point: Triple,
    /// length per radian, right-handed positive, 0 for a rotation; null for a translation
    pitch: Option<f64>,
    words: String,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
enum MotionWord {
    Rotation,
    Translation,
    Screw,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "nearness")]
pub(super) struct NearnessPart<'a> {
    /// without unit, as `singular_values`
    #[schemars(with = "f64")]
    smallest_singular_value: Option<f64>,
    weakest: JsonMotion,
    /// supports shifted together; null where no shift releases the body
    movement: Option<MovementPart<'a>>,
    /// the supports of which a shift alone releases the body; null of more than 60 supports, where none is sought
    alone: Option<Vec<AlonePart<'a>>>,
    amplification: AmplificationPart<'a>,
    /// length; null where the scene states none
    placement_tolerance: Option<f64>,
    /// what that tolerance means for the verdict; null where the scene states none
    placement: Option<PlacementWord>,
    /// null where the body is held by more than rounded decimals
    rounding: Option<RoundingPart<'a>>,
    words: Vec<String>,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
enum PlacementWord {
    Held,
    Unclear,
    NearImproper,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "movement")]
struct MovementPart<'a> {
    /// length: root of the sum of squares of shifts below which none releases the body
    #[schemars(with = "f64")]
    bound: Option<f64>,
    /// length: the same of the least shifts found that release it
    #[schemars(with = "f64")]
    estimate: Option<f64>,
    /// those shifts
    moves: Vec<MovePart<'a>>,
    freed: JsonMotion,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "move")]
struct MovePart<'a> {
    support: &'a str,
    /// a length along each axis
    by: Triple,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "move_alone")]
struct AlonePart<'a> {
    support: &'a str,
    /// length: no shorter shift of this support alone releases the body
    #[schemars(with = "f64")]
    bound: Option<f64>,
    /// length of the least shift found that releases it; null where none was found
    estimate: Option<f64>,
    /// that shift, a length along each axis; null where none was found
    by: Option<Triple>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "amplification")]
struct AmplificationPart<'a> {
    reaction: &'a str,
    /// largest reaction per unit of load, couples over `characteristic_length`; without unit
    #[schemars(with = "f64")]
    factor: Option<f64>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "rounding")]
struct RoundingPart<'a> {
    supports: Vec<&'a str>,
    /// how far rounding of the decimals can move the smallest singular value; without unit
    #[schemars(with = "f64")]
    reach: Option<f64>,
    words: String,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "one_way")]
pub(super) struct OneWayPart<'a> {
    every_load: bool,
    /// a motion that some load would start; null where every load would be held
    escape: Option<EscapePart<'a>>,
    words: String,
    cases: Vec<OneWayCasePart<'a>>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "one_way_case")]
struct OneWayCasePart<'a> {
    case: &'a str,
    holds: bool,
    /// smallest and largest force or couple that signs and equilibrium allow, in the order of `reactions`, null for a side
    /// without limit; null for a reaction whose range is not known, since the load is not carried or there are more than 40
    /// reactions and it is statically indeterminate
    ranges: Vec<Option<[Option<f64>; 2]>>,
    idle: Vec<&'a str>,
    /// of rough contacts, which are taken to hold along their surface without limit where the scene gives no coefficient
    friction: Vec<FrictionPart<'a>>,
    /// least coefficient of friction, the same at every rough contact, for which there is equilibrium, without unit; null
    /// where there is none that will do, or no rough contact
    common_friction: Option<f64>,
    /// where the body slides, since the coefficients of friction that the scene gives are not enough; null where it does not for that
    sliding: Option<SlidingPart<'a>>,
    /// how many times those coefficients would be enough, without unit; null where they are, or no factor would do
    needed_factor: Option<f64>,
    /// null where nothing acts besides permanent loads (those of every case, in a scene without cases its weights), no load is
    /// permanent, or no factor is carried
    limits: Option<LimitsPart<'a>>,
    /// how the body escapes; null where the load is carried
    escape: Option<EscapePart<'a>>,
    words: String,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "load_limits")]
struct LimitsPart<'a> {
    /// false where the search ended without them; `least` and `most` are then null
    found: bool,
    /// smallest factor on the variable loads at which they are carried beside the permanent ones, without unit; null where none
    /// is too small
    least: Option<f64>,
    /// largest such factor, without unit; null where none is too large
    most: Option<f64>,
    /// how the body escapes below `least`; null where that is, or it slides
    below: Option<EscapePart<'a>>,
    /// how the body escapes beyond `most`; null where that is, or it slides
    beyond: Option<EscapePart<'a>>,
    /// where the body slides below `least`; null where it does not
    sliding_below: Option<SlidingPart<'a>>,
    /// where the body slides beyond `most`; null where it does not
    sliding_beyond: Option<SlidingPart<'a>>,
    words: String,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "sliding")]
struct SlidingPart<'a> {
    /// rough contacts at which the friction that the scene gives is overcome
    slides: Vec<&'a str>,
    /// rough contacts with a coefficient that open
    opens: Vec<&'a str>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "friction")]
struct FrictionPart<'a> {
    support: &'a str,
    /// whether push and force along the surface follow from equilibrium
    decided: bool,
    /// least coefficient of friction that will do, without unit; null where none would, which is so where `decided`, or
    /// where they do not follow from equilibrium
    coefficient: Option<f64>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "escape")]
struct EscapePart<'a> {
    motion: JsonMotion,
    /// `positive` along the motion's direction (right-handed about it), `negative` the other way
    sense: JsonSense,
    loosened: Vec<&'a str>,
    /// along rough surfaces on which the body slides, since nothing presses it there
    sliding: Vec<&'a str>,
    touching: Vec<&'a str>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "acceleration")]
pub(super) struct AccelerationPart<'a> {
    case: &'a str,
    motion: JsonMotion,
    sense: JsonSense,
    /// rad/s²; of a translation units.length/s²
    #[schemars(with = "f64")]
    size: Option<f64>,
    loosened: Vec<&'a str>,
    words: String,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "heat")]
pub(super) struct HeatPart<'a> {
    free: bool,
    fighting: Vec<&'a str>,
    /// of a state of self-stress, in the order of `reactions`: forces in one unit of any size, couples in that unit times
    /// units.length
    #[schemars(with = "Vec<f64>")]
    stress: Vec<Option<f64>>,
    /// whether expansion alone determines that state
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
            Placement::Held => PlacementWord::Held,
            Placement::Unclear => PlacementWord::Unclear,
            Placement::NearImproper => PlacementWord::NearImproper,
        }),
        rounding: rounding.map(|rounding| RoundingPart {
            supports: rounding
                .supports
                .iter()
                .map(|i| model.supports[*i].name.as_str())
                .collect(),
            reach: tidy(rounding.reach),
            words: wording::rounding(model, rounding).to_string(),
        }),
        words: wording::placement(model, nearness)
            .into_iter()
            .chain(wording::nearness(model, nearness))
            .map(|said| said.to_string())
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
    limits: &'a Indexed<CaseIndex, Option<LimitsOutcome>>,
    cases: Indices<CaseIndex>,
) -> OneWayPart<'a> {
    let part = |index: CaseIndex| {
        let case = &one_way.cases[index];
        let balance = case.balance();
        let range = |(j, reaction): (ReactionIndex, &Reaction)| {
            let per = unit(model, reaction.kind);
            let range = balance.and_then(|balance| balance.ranges[j]);
            range.map(|range| [tidy(range.low / per), tidy(range.high / per)])
        };
        OneWayCasePart {
            case: &model.cases[index].name,
            holds: case.is_carried(),
            ranges: model.reactions.enumerate().map(range).collect(),
            idle: balance.map_or(Vec::new(), |balance| names(model, &balance.idle)),
            friction: balance.map_or(Vec::new(), |balance| {
                let asked = balance.friction.iter();
                asked.map(|asked| friction(model, asked)).collect()
            }),
            common_friction: balance.and_then(|balance| tidy(balance.common_friction?)),
            sliding: match case {
                OneWayCase::Slides(overcome) => Some(sliding(model, &overcome.onset)),
                _ => None,
            },
            needed_factor: match case {
                OneWayCase::Slides(overcome) => tidy(overcome.needed),
                _ => None,
            },
            limits: limits[index]
                .as_ref()
                .map(|outcome| load_limits(model, outcome)),
            escape: case.escape().map(|found| escape(model, found)),
            words: wording::one_way(model, case).to_string(),
        }
    };
    OneWayPart {
        every_load: one_way.escape.is_none(),
        escape: one_way.escape.as_ref().map(|found| escape(model, found)),
        words: wording::every_load(model, one_way).to_string(),
        cases: cases.map(part).collect(),
    }
}

fn load_limits<'a>(model: &'a Model, outcome: &LimitsOutcome) -> LimitsPart<'a> {
    let found = outcome.limits();
    let away = |away: Option<&Escape>| away.map(|away| escape(model, away));
    let slides = |onset: Option<&SlidingOnset>| onset.map(|onset| sliding(model, onset));
    LimitsPart {
        found: found.is_some(),
        least: found.and_then(|limits| tidy(limits.least)),
        most: found.and_then(|limits| tidy(limits.most)),
        below: away(found.and_then(|limits| limits.below.as_ref())),
        beyond: away(found.and_then(|limits| limits.beyond.as_ref())),
        sliding_below: slides(found.and_then(|limits| limits.sliding_below.as_ref())),
        sliding_beyond: slides(found.and_then(|limits| limits.sliding_beyond.as_ref())),
        words: wording::load_limits(model, outcome).to_string(),
    }
}

fn sliding<'a>(model: &'a Model, onset: &SlidingOnset) -> SlidingPart<'a> {
    let names = |supports: &[SupportIndex]| {
        let supports = supports.iter();
        supports
            .map(|support| model.supports[*support].name.as_str())
            .collect()
    };
    SlidingPart {
        slides: names(&onset.slides),
        opens: names(&onset.opens),
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
        sliding: names(model, &escape.sliding),
        touching: names(model, &escape.touching),
    }
}

pub(super) fn accelerations<'a>(
    model: &'a Model,
    found: &'a Indexed<CaseIndex, Option<Acceleration>>,
    cases: Indices<CaseIndex>,
) -> Vec<AccelerationPart<'a>> {
    let part = |index: CaseIndex| {
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
            words: wording::acceleration(model, acceleration).to_string(),
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
            .opposed
            .iter()
            .map(|i| model.supports[*i].name.as_str())
            .collect(),
        stress: stress(model, heat),
        unique: heat.unique,
        loosened: names(model, &heat.loosened),
        words: wording::heat(model, heat).to_string(),
    }
}

pub(super) fn motion(model: &Model, motion: &FreeMotion) -> JsonMotion {
    JsonMotion {
        kind: match motion.kind {
            MotionKind::Rotation => MotionWord::Rotation,
            MotionKind::Translation => MotionWord::Translation,
            MotionKind::Screw { .. } => MotionWord::Screw,
        },
        direction: triple(&motion.direction),
        point: point(model, &motion.point),
        pitch: tidy(motion.kind.pitch() / model.units.length.in_metres()),
        words: wording::motion(model, motion).to_string(),
    }
}
