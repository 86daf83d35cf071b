//! How far a free motion truly goes, as JSON.

use serde::Serialize;

use super::ROUNDING;
use super::depth_json::{self, Motion, names};
use super::json::{point, tidy};
use crate::motion::{Combination, Combinations, Mobility, Path, Stop};
use crate::statics::{FreeMotion, Model, MotionKind};
use crate::words;

/// The mobility of one free motion.
#[derive(Debug, Serialize)]
pub(super) struct MobilityDocument<'a> {
    /// Whether the body truly moves this way, beyond the first instant, to one side at least.
    real: bool,
    /// Whether it does so in the negative and in the positive sense; `null` unless it is real.
    senses: Option<[bool; 2]>,
    /// Reactions of the contacts that it leaves and the cables that go slack as it starts, for each sense; `null` unless
    /// it is real.
    leaves: Option<[Vec<&'a str>; 2]>,
    /// Sets of reactions that it could let go of instead.
    could_leave: Vec<Vec<&'a str>>,
    /// The reaction whose contact closes again, or whose cable is taut again, at each end.
    meets: Option<[Option<&'a str>; 2]>,
    /// Order to which the motion was tested against the self-stresses; `null` where there are none.
    order_tested: Option<u8>,
    /// Whether prestress can stiffen every free motion; `null` for a real motion.
    stiffened: Option<bool>,
    /// Where it truly turns about a line parallel to that of the free motion: a point of that line; else `null`.
    about: Option<[Option<f64>; 3]>,
    /// How far the motion was followed: degrees that the body has turned in all, or the length of the way of a
    /// translation. `null` unless it is real and ends there.
    from: Option<f64>,
    to: Option<f64>,
    /// Smallest and largest angle by which the body is ever turned, degrees; `null` unless it is real and ends.
    swing: Option<[Option<f64>; 2]>,
    ends: Option<[&'static str; 2]>,
    /// Largest distance off the supports' geometry on the way, relative to the size.
    residual: Option<f64>,
    words: String,
}

/// Combinations of the free motions.
#[derive(Debug, Serialize)]
pub(super) struct CombinationsPart<'a> {
    list: Vec<CombinationPart<'a>>,
    /// Whether no other combination goes on, but for free motions alone and members of the families listed.
    complete: bool,
}

#[derive(Debug, Serialize)]
struct CombinationPart<'a> {
    #[serde(flatten)]
    motion: Motion,
    /// How much of each free motion is in it: radians, or lengths of translations, for each radian or length of its own.
    weights: Vec<Option<f64>>,
    family: bool,
    /// Whether the second order proves that it goes on.
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
        motion: depth_json::motion(model, &combination.motion),
        weights: weights(model, motions, combination),
        family: combination.family,
        proven: combination.proven,
        mobility: document(model, &combination.motion, &combination.mobility),
    };
    CombinationsPart {
        list: found.list.iter().map(part).collect(),
        complete: found.complete,
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
    let words = words::mobility(model, motion, mobility);
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

/// How far a path leads back and ahead; nothing where it goes on.
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
    let decimals = words::settled_digits(value, error, DIGITS) - 1;
    format!("{value:.*e}", usize::try_from(decimals).unwrap_or(0))
        .parse()
        .ok()
        .and_then(tidy)
}

fn stop(stop: Stop) -> &'static str {
    match stop {
        Stop::Closed => "closed",
        Stop::Turned => "turned",
        Stop::GoesOn => "goes_on",
        Stop::Branch => "branch",
        Stop::Limit => "limit",
        Stop::Meets(_) => "meets",
        Stop::Blocked => "blocked",
    }
}
