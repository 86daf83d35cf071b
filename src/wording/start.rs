//! Words for the first instant of a motion, and for expansion by heat.

use super::geometry::line;
use super::leaving::leaves;
use super::motion::{course, pitch_phrase};
use super::name::{listed, support};
use super::number::{Quantity, rounded};
use super::phrase::{Phrase, phrase};
use crate::indexed::{Indexed, Indices};
use crate::scene::Space;
use crate::statics::{Acceleration, AppliedLoad, CaseIndex, Heat, Model, MotionKind};

/// Significant digits of accelerations.
const DIGITS: i32 = 4;

/// How the body starts from rest: `Released from rest: angular acceleration 7.355 rad/s² clockwise about P.`
pub fn acceleration(model: &Model, acceleration: &Acceleration) -> Phrase {
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
        way(model, acceleration),
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
    let is_force = |load: &AppliedLoad| {
        matches!(
            load,
            AppliedLoad::Force { .. } | AppliedLoad::Distributed { .. }
        )
    };
    let forces = match loads.any(is_force) {
        true => {
            "; applied forces add no mass: anything hung on a rope or carried along would reduce \
             the acceleration"
        }
        false => "",
    };
    Some(phrase!(
        "Accelerations are those of a homogeneous body whose mass is that of the weight loads, with its centre where they act",
        forces,
        "."
    ))
}

/// ` along −x`, ` clockwise about P`, ` of a screw about the z axis`.
fn way(model: &Model, acceleration: &Acceleration) -> Phrase {
    let motion = &acceleration.motion;
    let axis = || line(model, &motion.point, &motion.direction);
    match motion.kind {
        MotionKind::Translation if acceleration.backwards => {
            phrase!(" ", course(model, &-motion.direction))
        }
        MotionKind::Translation => phrase!(" ", course(model, &motion.direction)),
        MotionKind::Rotation if model.space == Space::Planar => {
            let clockwise = (motion.direction.z < 0.0) != acceleration.backwards;
            let sense = if clockwise {
                " clockwise about "
            } else {
                " anticlockwise about "
            };
            phrase!(sense, axis())
        }
        MotionKind::Rotation => phrase!(" about ", axis()),
        MotionKind::Screw { pitch } => {
            let pitch = pitch_phrase(model, pitch);
            phrase!(" in a screw motion about ", axis(), " (", pitch, ")")
        }
    }
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
