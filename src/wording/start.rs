//! Words for the first instant of a motion, and for expansion by heat.

use std::ops::Range;

use super::geometry::line;
use super::motion::{course, pitch};
use super::name::{listed, support};
use super::number::rounded;
use super::phrase::{Phrase, phrase};
use crate::scene::Space;
use crate::statics::{Acceleration, AppliedLoad, Heat, Model, MotionKind};

/// Significant digits of accelerations.
const DIGITS: i32 = 4;

/// How the body starts from rest: `From rest it starts to turn clockwise about P at 7.355 rad/s².`
pub fn acceleration(model: &Model, acceleration: &Acceleration) -> Phrase {
    start(model, acceleration).capitalised()
}

/// What the first accelerations of some load cases rest on; `None` where the body stays at rest in all of them.
pub fn start_assumptions(
    model: &Model,
    accelerations: &[Option<Acceleration>],
    cases: Range<usize>,
) -> Option<Phrase> {
    let mut loads = cases
        .filter(|case| accelerations[*case].is_some())
        .flat_map(|case| &model.cases[case].loads)
        .peekable();
    loads.peek()?;
    let is_force = |load: &AppliedLoad| {
        matches!(
            load,
            AppliedLoad::Force { .. } | AppliedLoad::Distributed { .. }
        )
    };
    let forces = match loads.any(is_force) {
        true => {
            "; forces act without a mass of their own, so that whatever hangs on a rope or is carried along \
             would start more slowly"
        }
        false => "",
    };
    Some(phrase!(
        "How it starts is worked out for a homogeneous body with the mass of its weights",
        forces,
        "."
    ))
}

/// The same as the end of a sentence.
pub(super) fn start(model: &Model, acceleration: &Acceleration) -> Phrase {
    let unit = model.units.length;
    let size = match acceleration.motion.kind {
        MotionKind::Translation => phrase!(
            rounded(acceleration.size / unit.in_metres(), DIGITS),
            " ",
            unit.symbol(),
            "/s²"
        ),
        _ => phrase!(rounded(acceleration.size, DIGITS), " rad/s²"),
    };
    let left: Vec<Phrase> = acceleration
        .loosened
        .iter()
        .map(|j| support(model, model.reactions[*j].support))
        .collect();
    let left = if left.is_empty() {
        Phrase::new()
    } else {
        phrase!(
            "; ",
            listed(&left),
            " ",
            if left.len() == 1 { "comes" } else { "come" },
            " loose at once"
        )
    };
    phrase!(
        "from rest it starts ",
        way(model, acceleration),
        " at ",
        size,
        left,
        "."
    )
}

/// `to move along −x`, `to turn about P`, `in a screw about the z axis`.
fn way(model: &Model, acceleration: &Acceleration) -> Phrase {
    let motion = &acceleration.motion;
    let axis = || line(model, &motion.point, &motion.direction);
    match motion.kind {
        MotionKind::Translation if acceleration.backwards => {
            phrase!("to move ", course(model, &-motion.direction))
        }
        MotionKind::Translation => phrase!("to move ", course(model, &motion.direction)),
        MotionKind::Rotation if model.space == Space::Planar => {
            let clockwise = (motion.direction.z < 0.0) != acceleration.backwards;
            let sense = if clockwise {
                "clockwise"
            } else {
                "anticlockwise"
            };
            phrase!("to turn ", sense, " about ", axis())
        }
        MotionKind::Rotation => phrase!("to turn about ", axis()),
        MotionKind::Screw => {
            let pitch = pitch(model, motion.pitch);
            phrase!("in a screw about ", axis(), " (", pitch, ")")
        }
    }
}

/// How the supports meet uniform expansion.
pub fn heat(model: &Model, heat: &Heat) -> Phrase {
    if heat.free {
        return "Uniform expansion of the body is free: no reactions arise from it.".into();
    }
    let fighting: Vec<Phrase> = heat
        .fighting
        .iter()
        .map(|index| support(model, *index))
        .collect();
    let mut said = phrase!(
        "Uniform expansion is locked: ",
        listed(&fighting),
        " ",
        match fighting.len() {
            1 => "resists within itself",
            2 => "resist each other",
            _ => "resist one another",
        },
        "."
    );
    if !heat.loosened.is_empty() {
        let names: Vec<Phrase> = heat
            .loosened
            .iter()
            .map(|j| support(model, model.reactions[*j].support))
            .collect();
        said.push(phrase!(
            " Expansion would loosen ",
            listed(&names),
            ", contraction load ",
            if names.len() == 1 { "it" } else { "them" },
            "."
        ));
    }
    said
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;

    #[test]
    fn locked_and_free_expansion() {
        let said = |sample| {
            let study = samples::study(sample);
            heat(study.model(), study.heat())
        };
        assert_eq!(
            said(samples::two_beam_pins()),
            "Uniform expansion is locked: A and B resist each other."
        );
        assert!(
            said(samples::simple_beam())
                .to_string()
                .contains(" is free")
        );
    }
}
