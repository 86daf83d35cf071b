//! How far a free motion truly goes, as JSON.

use serde::Serialize;

use super::ROUNDING;
use super::json::{point, tidy};
use crate::motion::{End, Mobility, Stop};
use crate::statics::{FreeMotion, Model, MotionKind};
use crate::words;

/// The mobility of one free motion.
#[derive(Debug, Serialize)]
pub(super) struct MobilityDocument {
    /// Whether the body truly moves this way, beyond the first instant.
    real: bool,
    /// Order to which the motion was tested against the self-stresses; `null` where there are none.
    order_tested: Option<u8>,
    /// Whether prestress can stiffen every free motion; `null` for a real motion.
    stiffened: Option<bool>,
    /// Where it truly turns about a line parallel to that of the free motion: a point of that line; else `null`.
    about: Option<[Option<f64>; 3]>,
    /// How far the motion was followed: degrees that the body has turned in all, or the length of the way of a
    /// translation. `null` unless it is real.
    from: Option<f64>,
    to: Option<f64>,
    /// Smallest and largest angle by which the body is ever turned, degrees; `null` unless real.
    swing: Option<[Option<f64>; 2]>,
    ends: Option<[&'static str; 2]>,
    /// Largest distance off the supports' geometry on the way, relative to the size.
    residual: Option<f64>,
    words: String,
}

/// The mobility of a free motion, in the scene's units.
pub(super) fn document(
    model: &Model,
    motion: &FreeMotion,
    mobility: &Mobility,
) -> MobilityDocument {
    let words = words::mobility(model, motion, mobility);
    match mobility {
        Mobility::Real {
            tested,
            about,
            path,
        } => {
            let amount = |end: End| match motion.kind {
                MotionKind::Translation => {
                    six_digits(end.travelled / model.units.length.in_metres())
                }
                _ => six_digits(end.turned.to_degrees()),
            };
            MobilityDocument {
                real: true,
                order_tested: tested.then_some(2),
                stiffened: None,
                about: about.map(|at| point(model, &at)),
                from: amount(path.end_back),
                to: amount(path.end_ahead),
                swing: Some(path.swing().map(|angle| six_digits(angle.to_degrees()))),
                ends: Some([stop(path.end_back.stop), stop(path.end_ahead.stop)]),
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

/// Angles in degrees and lengths below this come of rounding.
const NOISE: f64 = 1e-9;

/// Where a path ends is found to about so many digits.
fn six_digits(value: f64) -> Option<f64> {
    let value = if value.abs() < NOISE { 0.0 } else { value };
    format!("{value:.5e}").parse().ok().and_then(tidy)
}

fn stop(stop: Stop) -> &'static str {
    match stop {
        Stop::Closed => "closed",
        Stop::Turned => "turned",
        Stop::Travelled => "travelled",
        Stop::Branch => "branch",
        Stop::Limit => "limit",
    }
}
