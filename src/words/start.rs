//! Words for the first instant of a motion, and for expansion by heat.

use super::motion::motion_phrase;
use super::name::listed;
use super::number::rounded;
use crate::statics::{Acceleration, Heat, Model, MotionKind};

/// Significant digits of accelerations.
const DIGITS: i32 = 4;

/// How the body starts from rest: `It starts with 7.355 rad/s²: rotation about P.`
pub fn acceleration(model: &Model, acceleration: &Acceleration) -> String {
    let unit = model.units.length;
    let size = match acceleration.motion.kind {
        MotionKind::Translation => format!(
            "{} {}/s²",
            rounded(acceleration.size / unit.in_metres(), DIGITS),
            unit.symbol()
        ),
        _ => format!("{} rad/s²", rounded(acceleration.size, DIGITS)),
    };
    let left: Vec<&str> = acceleration
        .loosened
        .iter()
        .map(|j| model.supports[model.reactions[*j].support].name.as_str())
        .collect();
    let left = if left.is_empty() {
        String::new()
    } else {
        format!(
            "; {} {} loose at once",
            listed(&left),
            if left.len() == 1 { "comes" } else { "come" }
        )
    };
    format!(
        "From rest it starts with {size}: {}{left}.",
        motion_phrase(model, &acceleration.motion)
    )
}

/// How the supports meet uniform expansion.
pub fn heat(model: &Model, heat: &Heat) -> String {
    if heat.free {
        return "Uniform expansion of the body is free: no reactions arise from it.".to_owned();
    }
    let fighting: Vec<&str> = heat
        .fighting
        .iter()
        .map(|index| model.supports[*index].name.as_str())
        .collect();
    let mut said = format!(
        "Uniform expansion is locked: {} {}.",
        listed(&fighting),
        if fighting.len() == 1 {
            "resists within itself"
        } else {
            "resist each other"
        }
    );
    if !heat.loosened.is_empty() {
        let names: Vec<&str> = heat
            .loosened
            .iter()
            .map(|j| model.supports[model.reactions[*j].support].name.as_str())
            .collect();
        said += &format!(
            " Growing would rather loosen {}; shrinking loads it.",
            listed(&names)
        );
    }
    said
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;
    use crate::statics::Depth;

    #[test]
    fn locked_and_free_expansion() {
        let said = |(model, diagnosis): (Model, crate::statics::Diagnosis)| {
            let depth = Depth::new(&model, &diagnosis, &Default::default());
            heat(&model, &depth.heat)
        };
        assert_eq!(
            said(samples::two_beam_pins()),
            "Uniform expansion is locked: A and B resist each other."
        );
        assert!(said(samples::simple_beam()).contains(" is free"));
    }
}
