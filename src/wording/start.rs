//! Words for the first instant of a motion, and for expansion by heat.

use super::geometry::{SAME, line};
use super::leaving::leaves;
use super::motion::{clockwise, course, pitch_phrase};
use super::name::{listed, support};
use super::number::{Quantity, rounded};
use super::phrase::{Phrase, phrase};
use crate::indexed::{Indexed, Indices};
use crate::scene::Space;
use crate::statics::{Acceleration, AppliedLoad, CaseIndex, FreeMotion, Heat, Model, MotionKind};

/// Significant digits of accelerations.
const DIGITS: i32 = 4;

/// How the body starts from rest: `Released from rest: angular acceleration 7.355 rad/s² clockwise about P.`
pub fn acceleration(model: &Model, acceleration: &Acceleration) -> Phrase {
    acceleration_of(model, acceleration, None)
}

/// The same behind a sentence that names a free motion, whose axis need not be named again.
pub(super) fn acceleration_of(
    model: &Model,
    acceleration: &Acceleration,
    said: Option<&FreeMotion>,
) -> Phrase {
    let unit = model.units.length;
    let quantity = |size, unit: &str| Quantity::new(rounded(size, DIGITS), format!("{unit}/s²"));
    let size = acceleration.size;
    let (word, value) = match acceleration.motion.kind {
        MotionKind::Translation => ("", quantity(size / unit.in_metres(), unit.symbol())),
        _ => ("angular ", quantity(size, "rad")),
    };
    let left = leaves(model, &acceleration.loosened).map(|left| phrase!("; ", left));
    phrase!(
        "Released from rest: ",
        word,
        "acceleration ",
        value,
        way(
            model,
            acceleration,
            said.is_some_and(|said| is_same_axis(model, said, &acceleration.motion))
        ),
        left,
        "."
    )
}

/// What the first accelerations of some load cases rest on; `None` where the body stays at rest in all of them.
pub fn start_assumptions(
    model: &Model,
    accelerations: &Indexed<CaseIndex, Option<Acceleration>>,
    cases: Indices<CaseIndex>,
) -> Option<Phrase> {
    let mut loads = cases
        .filter(|case| accelerations[*case].is_some())
        .flat_map(|case| &model.cases[case].loads)
        .peekable();
    loads.peek()?;
    let is_force =
        |load: &AppliedLoad| !(load.is_weight() || matches!(load, AppliedLoad::Couple { .. }));
    let forces = match loads.any(is_force) {
        true => {
            "; applied forces add no mass: anything hung on a rope or carried along would reduce \
             the acceleration"
        }
        false => "",
    };
    Some(phrase!(
        "Accelerations are those of a homogeneous body whose mass is that of the weight loads, with its centre of mass where they act",
        forces,
        "."
    ))
}

/// ` along −x`, ` clockwise about P`, ` about the z axis, clockwise when viewed along z`; without the axis where it has been said.
fn way(model: &Model, acceleration: &Acceleration, axis_is_said: bool) -> Phrase {
    let motion = &acceleration.motion;
    let along = match acceleration.backwards {
        true => -motion.direction,
        false => motion.direction,
    };
    let axis = |words: &str| match axis_is_said {
        true => Phrase::new(),
        false => phrase!(words, line(model, &motion.point, &motion.direction)),
    };
    let seen = || phrase!(", ", clockwise(model, &motion.point, &along));
    match motion.kind {
        MotionKind::Translation => phrase!(" ", course(model, &along)),
        MotionKind::Rotation if model.space == Space::Planar => {
            let sense = match along.z < 0.0 {
                true => " clockwise",
                false => " anticlockwise",
            };
            phrase!(sense, axis(" about "))
        }
        MotionKind::Rotation => phrase!(axis(" about "), seen()),
        MotionKind::Screw { .. } if axis_is_said => seen(),
        MotionKind::Screw { pitch } => {
            let pitch = pitch_phrase(model, pitch);
            phrase!(axis(" in a screw motion about "), " (", pitch, ")", seen())
        }
    }
}

/// Whether two motions are rotations about one line, or screw motions about it.
fn is_same_axis(model: &Model, one: &FreeMotion, other: &FreeMotion) -> bool {
    let turns = |motion: &FreeMotion| motion.kind != MotionKind::Translation;
    let is_parallel = one.direction.cross(&other.direction).norm() <= SAME;
    let off = (one.point - other.point).cross(&other.direction).norm();
    let is_alike = std::mem::discriminant(&one.kind) == std::mem::discriminant(&other.kind);
    turns(one) && is_alike && is_parallel && off <= SAME * model.length
}

/// How the supports meet uniform expansion.
pub fn heat(model: &Model, heat: &Heat) -> Phrase {
    if heat.free {
        return "Uniform expansion of the body is free and causes no reactions.".into();
    }
    let restrained: Vec<Phrase> = heat
        .opposed
        .iter()
        .map(|index| support(model, *index))
        .collect();
    let place = match restrained.as_slice() {
        [one] => phrase!("within ", one),
        several => phrase!("between ", listed(several)),
    };
    let mut said = phrase!("Uniform expansion is restrained ", place, ".");
    if !heat.loosened.is_empty() {
        let names: Vec<Phrase> = heat
            .loosened
            .iter()
            .map(|j| support(model, model.reactions[*j].support))
            .collect();
        said.push(phrase!(
            " Expansion would unload ",
            listed(&names),
            "; contraction would load ",
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
            "Uniform expansion is restrained between A and B."
        );
        assert!(
            said(samples::simple_beam())
                .to_string()
                .contains(" is free and")
        );
    }
}
