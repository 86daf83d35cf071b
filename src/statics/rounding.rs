//! As written versus as meant: a rank that is full only because decimals were rounded.
//!
//! A direction written (0.866, 0.5) for one at 30 degrees is off by up to half a unit in the last place. Where
//! such roundings, all taken at their worst, could make the smallest singular value vanish, nothing but they
//! may be holding the body.

use nalgebra::Vector3;

use super::diagnosis::Diagnosis;
use super::indices::SupportIndex;
use super::matrix::extend;
use super::model::Model;
use super::reaction::{Reaction, ReactionKind};
use super::wrench::Twist;
use super::written::WrittenDirection;
use crate::scene::Decimal;

/// A smallest singular value that rounding of the written decimals may account for.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Rounding {
    /// The smallest singular value that counts.
    pub smallest: f64,
    /// How far roundings can move it, to first order; at least `smallest`.
    pub reach: f64,
    /// Supports whose directions or places do it, those with the most effect first.
    pub supports: Vec<SupportIndex>,
    /// Whether rounded directions of the first of them weigh more than its place.
    pub by_direction: bool,
}

/// Decimals with fewer digits than this are taken as meant: nobody rounds to 0.5 or 1.2 and expects an answer.
const DIGITS: u32 = 3;
/// Decimals with more digits than this are numbers of a computation.
const MOST_DIGITS: u32 = 12;
/// A support matters when it has at least this share of the largest effect.
const SHARE: f64 = 0.1;
/// Below this, relative to the largest, the singular value is small enough for first order to tell.
const SMALL: f64 = 1e-2;

impl Rounding {
    /// Looks for roundings that hold a held body; `None` where there are none.
    pub(crate) fn of(model: &Model, diagnosis: &Diagnosis) -> Option<Self> {
        let numeric = &diagnosis.numeric;
        let last = numeric.rank.checked_sub(1)?;
        let smallest = numeric.singular_values[last];
        if !diagnosis.is_held() || smallest > SMALL * numeric.singular_values[0] {
            return None;
        }
        let weakest = extend(&numeric.svd.left.column(last).into_owned(), model.space);
        let twist = Twist::from_scaled(&weakest, model.length);
        let mut effects = model.supports.map(|_| [0.0; 2]);
        for (index, reaction) in model.reactions.enumerate() {
            let part = numeric.svd.weighted[(index.get(), last)] / smallest;
            let [direction, place] = effect(model, reaction, &twist);
            effects[reaction.support][0] += (part * direction).abs();
            effects[reaction.support][1] += (part * place).abs();
        }
        let total = |effect: &[f64; 2]| effect[0] + effect[1];
        let reach: f64 = effects.iter().map(total).sum();
        let most = effects.iter().map(total).fold(0.0, f64::max);
        if reach < smallest || most == 0.0 {
            return None;
        }
        let mut supports: Vec<SupportIndex> = effects
            .indices()
            .filter(|i| total(&effects[*i]) >= SHARE * most)
            .collect();
        supports.sort_by(|a, b| total(&effects[*b]).total_cmp(&total(&effects[*a])));
        let first = effects[supports[0]];
        Some(Self {
            smallest,
            reach,
            by_direction: first[0] >= first[1],
            supports,
        })
    }
}

/// How far roundings of a reaction's direction and of its place can move its power on a twist.
fn effect(model: &Model, reaction: &Reaction, twist: &Twist) -> [f64; 2] {
    let velocity = match reaction.kind {
        ReactionKind::Force => twist.velocity_at(&reaction.point, &model.reference),
        ReactionKind::Couple => twist.angular * model.length,
    };
    let unit = reaction.direction.into_inner();
    let turned = |direction: &WrittenDirection| {
        direction.unit().map_or(0.0, |other| {
            (other.into_inner() - unit).dot(&velocity).abs()
        })
    };
    let mut direction = 0.0;
    let mut count = 0;
    let numbers = reaction.written_direction.clone();
    numbers.map_numbers(&mut |number| {
        count += 1;
        number
    });
    for index in 0..count {
        let mut at = 0;
        let moved = reaction
            .written_direction
            .clone()
            .map_numbers(&mut |number| {
                let here = at == index;
                at += 1;
                if here {
                    number + half_unit(number)
                } else {
                    number
                }
            });
        direction += turned(&moved);
    }
    let metres = model.units.length.in_metres();
    let place = match reaction.kind {
        ReactionKind::Couple => 0.0,
        ReactionKind::Force => {
            let sensitivity: Vector3<f64> = unit.cross(&twist.angular);
            let halves = reaction.written_point.iter().zip(sensitivity.iter());
            halves
                .map(|(number, gain)| half_unit(*number) * metres * gain.abs())
                .sum()
        }
    };
    [direction, place]
}

/// Half a unit in the last written place of a decimal that looks rounded; 0 for others.
fn half_unit(number: f64) -> f64 {
    let decimal = Decimal::of(number);
    if decimal.exponent < 0 && (DIGITS..=MOST_DIGITS).contains(&decimal.digits()) {
        10_f64.powi(decimal.exponent) / 2.0
    } else {
        0.0
    }
}
