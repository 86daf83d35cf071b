//! How far a free motion truly goes, as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::ROUNDING;
use super::analysis_json::{self, JsonMotion};
use super::values::{Triple, names, point, tidy};
use crate::motion::{Combination, Combinations, Mobility, Path, Searched, Stop};
use crate::statics::{FreeMotion, Model, MotionKind};
use crate::wording;

/// The mobility of one free motion.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "mobility")]
pub(super) struct MobilityDocument<'a> {
    /// beyond the first instant, to one side at least
    real: bool,
    /// whether it is real in the negative and in the positive sense; null unless it is real
    senses: Option<[bool; 2]>,
    /// reactions of contacts that open and cables that go slack at the start, for each sense; null unless it is real
    leaves: Option<[Vec<&'a str>; 2]>,
    /// sets that could open instead of those
    could_leave: Vec<Vec<&'a str>>,
    /// reaction of the contact that closes again at each end, null at an end of another kind; null as a whole unless it is
    /// real
    meets: Option<[Option<&'a str>; 2]>,
    /// order of the motion up to which the self-stresses were asked; null where there are none
    order_tested: Option<u8>,
    /// whether prestress can stiffen it; null for a real motion
    stiffened: Option<bool>,
    /// a point of the line that the body truly turns about, where that is another than the motion's, parallel to it; null
    /// where there is no other
    about: Option<Triple>,
    /// degrees turned, or the length of the way of a translation; null unless real and ended there
    from: Option<f64>,
    /// degrees turned, or the length of the way of a translation; null unless real and ended there
    to: Option<f64>,
    /// smallest and largest angle of rotation on the way, degrees; null unless real and ended on both sides
    swing: Option<[Option<f64>; 2]>,
    /// how it ends behind and ahead; null unless it is real
    ends: Option<[StopWord; 2]>,
    /// largest distance off the supports' geometry on the way, over the size, without unit; null unless it is real
    residual: Option<f64>,
    words: String,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
enum StopWord {
    Closed,
    Turned,
    GoesOn,
    Branch,
    Limit,
    Meets,
    Blocked,
}

/// Combinations of the free motions.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "combinations")]
pub(super) struct CombinationsPart<'a> {
    list: Vec<CombinationPart<'a>>,
    /// whether no other is more than infinitesimal, but for free motions alone and members of families listed
    complete: bool,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "motion_in_combination")]
struct CombinationPart<'a> {
    #[serde(flatten)]
    motion: JsonMotion,
    /// of the free motions, in their order: radians or lengths for each radian or length of its own
    #[schemars(with = "Vec<f64>")]
    weights: Vec<Option<f64>>,
    /// whether it is one of a continuous family
    family: bool,
    /// whether the second-order test proves that it is finite
    proven: bool,
    mobility: MobilityDocument<'a>,
}

/// The combinations that may go on, in the scene's units.
pub(super) fn combinations<'a>(
    model: &'a Model,
    motions: &[FreeMotion],
    found: &Combinations,
) -> CombinationsPart<'a> {
    let part = |combination: &Combination| CombinationPart {
        motion: analysis_json::motion(model, &combination.motion),
        weights: weights(model, motions, combination),
        family: combination.family,
        proven: combination.proven,
        mobility: document(model, &combination.motion, &combination.mobility),
    };
    CombinationsPart {
        list: found.list.iter().map(part).collect(),
        complete: found.searched == Searched::All,
    }
}

fn weights(model: &Model, motions: &[FreeMotion], combination: &Combination) -> Vec<Option<f64>> {
    let unit = |motion: &FreeMotion| match motion.kind {
        MotionKind::Translation => model.units.length.in_metres(),
        _ => 1.0,
    };
    let weights = combination.weights.iter().zip(motions);
    weights
        .map(|(weight, motion)| tidy(weight * unit(&combination.motion) / unit(motion)))
        .collect()
}

/// The mobility of a free motion, in the scene's units.
pub(super) fn document<'a>(
    model: &'a Model,
    motion: &FreeMotion,
    mobility: &Mobility,
) -> MobilityDocument<'a> {
    let words = wording::mobility(model, motion, mobility).to_string();
    match mobility {
        Mobility::Real {
            tested,
            about,
            instead,
            path,
        } => {
            let [from, to] = amounts(model, motion, path);
            let ends = [path.end_back.stop, path.end_ahead.stop];
            let has_ends = !ends.contains(&Stop::GoesOn);
            MobilityDocument {
                real: true,
                senses: Some(mobility.senses()),
                leaves: Some(path.leaves().map(|left| names(model, &left))),
                could_leave: instead.iter().map(|set| names(model, set)).collect(),
                meets: Some(ends.map(|end| match end {
                    Stop::Meets(reaction) => Some(model.reactions[reaction].name.as_str()),
                    _ => None,
                })),
                order_tested: tested.then_some(2),
                stiffened: None,
                about: about.map(|at| point(model, &at)),
                from,
                to,
                swing: has_ends.then(|| {
                    let error = path.end_back.error.max(path.end_ahead.error).to_degrees();
                    path.swing().map(|angle| digits(angle.to_degrees(), error))
                }),
                ends: Some(ends.map(stop)),
                residual: tidy(if path.residual <= ROUNDING {
                    0.0
                } else {
                    path.residual
                }),
                words,
            }
        }
        Mobility::InstantaneousOnly { stiffened, .. } => MobilityDocument {
            real: false,
            senses: None,
            leaves: None,
            could_leave: Vec::new(),
            meets: None,
            order_tested: Some(2),
            stiffened: Some(*stiffened),
            about: None,
            from: None,
            to: None,
            swing: None,
            ends: None,
            residual: None,
            words,
        },
    }
}

/// How far a path leads back and ahead; nothing where it continues.
fn amounts(model: &Model, motion: &FreeMotion, path: &Path) -> [Option<f64>; 2] {
    let ends = [path.end_back, path.end_ahead];
    let unit = model.units.length.in_metres();
    let amounts = match motion.kind {
        MotionKind::Translation => {
            let [back, ahead] = path.ways();
            [(-1.0, back), (1.0, ahead)]
                .map(|(sign, way)| digits(sign * way.length / unit, way.error / unit))
        }
        _ => ends.map(|end| digits(end.turned.to_degrees(), end.error.to_degrees())),
    };
    [0, 1].map(|i| amounts[i].filter(|_| ends[i].stop != Stop::GoesOn))
}

/// Angles in degrees and lengths below this come of rounding.
const NOISE: f64 = 1e-7;
/// Significant digits of angles and ways.
const DIGITS: i32 = 6;

/// A value with the digits that are right, where it may be wrong by `error`.
fn digits(value: f64, error: f64) -> Option<f64> {
    if value.abs() < NOISE.max(error) {
        return Some(0.0);
    }
    let decimals = wording::settled_digits(value, error, DIGITS) - 1;
    format!("{value:.*e}", usize::try_from(decimals).unwrap_or(0))
        .parse()
        .ok()
        .and_then(tidy)
}

fn stop(stop: Stop) -> StopWord {
    match stop {
        Stop::Closed => StopWord::Closed,
        Stop::Turned => StopWord::Turned,
        Stop::GoesOn => StopWord::GoesOn,
        Stop::Branch => StopWord::Branch,
        Stop::Limit => StopWord::Limit,
        Stop::Meets(_) => StopWord::Meets,
        Stop::Blocked => StopWord::Blocked,
    }
}
