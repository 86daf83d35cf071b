//! Values of reports in JSON: numbers, points and words that several parts share.

use nalgebra::{Point3, Vector3};
use schemars::JsonSchema;
use serde::Serialize;

use crate::printable::for_json;
use crate::statics::{Model, ReactionIndex, ReactionKind};

// What a reaction is, and what a sum of reactions is.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
pub(super) enum ReactionWord {
    Force,
    Couple,
}

// No comment: a description here would stand at every field in place of the field's own.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(rename = "sense")]
pub(super) enum JsonSense {
    Positive,
    Negative,
}

/// components along x, y and z: of points, from the origin, in units.length; of directions, unit vectors without unit
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(transparent)]
#[schemars(rename = "triple")]
pub(super) struct Triple(#[schemars(with = "[f64; 3]")] [Option<f64>; 3]);

/// A value as JSON to read, which says nothing else on a terminal than it holds.
pub(super) fn pretty(value: &impl Serialize) -> serde_json::Result<String> {
    let text = serde_json::to_string_pretty(value)?;
    Ok(for_json(&text).into_owned())
}

/// What a reaction is, by its kind.
pub(super) fn reaction_word(kind: ReactionKind) -> ReactionWord {
    match kind {
        ReactionKind::Force => ReactionWord::Force,
        ReactionKind::Couple => ReactionWord::Couple,
    }
}

/// SI units in the scene's unit of a reaction.
pub(super) fn unit(model: &Model, kind: ReactionKind) -> f64 {
    match kind {
        ReactionKind::Force => model.units.force.in_newtons(),
        ReactionKind::Couple => model.units.moment_in_newton_metres(),
    }
}

/// From the origin, in the scene's length unit, coordinates that vanish beside the size of the scene made zero.
pub(super) fn point(model: &Model, point: &Point3<f64>) -> Triple {
    let metres = model.units.length.in_metres();
    let noise = super::ROUNDING * model.length;
    let from_datum = point
        .coords
        .map(|x| if x.abs() <= noise { 0.0 } else { x / metres });
    Triple(std::array::from_fn(|axis| {
        tidy(from_datum[axis]).map(|x| model.datum.from_origin(axis, x))
    }))
}

pub(super) fn triple(vector: &Vector3<f64>) -> Triple {
    Triple([tidy(vector.x), tidy(vector.y), tidy(vector.z)])
}

/// A number to twelve significant digits, without negative zero; `None` for what is no number.
pub(super) fn tidy(value: f64) -> Option<f64> {
    if !value.is_finite() {
        return None;
    }
    // Adding zero turns −0 into 0.
    format!("{value:.11e}").parse::<f64>().ok().map(|x| x + 0.0)
}

/// Which way along a positive direction.
pub(super) fn sense(backwards: bool) -> JsonSense {
    match backwards {
        true => JsonSense::Negative,
        false => JsonSense::Positive,
    }
}

/// Names of reactions.
pub(super) fn names<'a>(model: &'a Model, reactions: &[ReactionIndex]) -> Vec<&'a str> {
    reactions
        .iter()
        .map(|j| model.reactions[*j].name.as_str())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_tidied() {
        assert_eq!(tidy(0.1 + 0.2), Some(0.3));
        assert!(tidy(-0.0).unwrap().is_sign_positive());
        assert_eq!(tidy(f64::INFINITY), None);
        assert_eq!(tidy(f64::NAN), None);
        assert_eq!(tidy(1e300), Some(1e300));
    }
}
