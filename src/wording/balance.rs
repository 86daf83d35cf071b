//! What equilibrium says under a load case.

use super::motion::motion_phrase;
use super::name::{listed, listed_briefly};
use super::start;
use crate::statics::{Acceleration, CaseAnswer, Diagnosis, Model, Reaction, Sense};

/// Whether there is equilibrium, what it decides, and what an unbalanced load drives.
pub fn balance(model: &Model, diagnosis: &Diagnosis, case: &CaseAnswer) -> String {
    if !case.loaded {
        return "Nothing acts on the body besides its supports.".to_owned();
    }
    if !case.is_balanced() {
        return driven(model, diagnosis, case);
    }
    let named = |decided: bool| -> Vec<&str> {
        let pairs = model.reactions.iter().zip(&case.values);
        pairs
            .filter(|(_, value)| value.is_some() == decided)
            .map(|(reaction, _)| reaction.name.as_str())
            .collect()
    };
    let (known, open) = (named(true), named(false));
    let decided = match (known.len(), open.len()) {
        (_, 0) => "decides every reaction".to_owned(),
        (0, _) => "decides none of the reactions alone".to_owned(),
        (known_ones, open_ones) if known_ones < open_ones => {
            format!("decides only {}", listed_briefly(&known))
        }
        _ => format!("does not decide {}", listed_briefly(&open)),
    };
    if diagnosis.is_held() {
        format!("Equilibrium {decided}.")
    } else {
        format!("This load drives none of the free motions; under it equilibrium {decided}.")
    }
}

/// The same, and how the load starts the body, if it does.
///
/// Where there is an equilibrium, only contacts that push and cables that pull can let the body start.
pub fn balance_and_start(
    model: &Model,
    diagnosis: &Diagnosis,
    case: &CaseAnswer,
    acceleration: Option<&Acceleration>,
) -> String {
    let said = balance(model, diagnosis, case);
    let Some(acceleration) = acceleration else {
        return said;
    };
    if !case.is_balanced() {
        return format!("{said} {}", start::acceleration(model, acceleration));
    }
    let any = |sense| model.reactions.iter().any(|r| r.sense == sense);
    let but = match (any(Sense::Push), any(Sense::Pull)) {
        (true, false) => "contacts only push",
        (false, true) => "cables only pull",
        _ => "contacts only push and cables only pull",
    };
    format!("{said} But {but}: {}", start::start(model, acceleration))
}

fn driven(model: &Model, diagnosis: &Diagnosis, case: &CaseAnswer) -> String {
    format!(
        "No equilibrium: this load {}.",
        drives(model, diagnosis, case)
    )
}

/// Which free motions an unbalanced load drives: `drives motion 1, the rotation about P`.
pub(super) fn drives(model: &Model, diagnosis: &Diagnosis, case: &CaseAnswer) -> String {
    let driven = case.powers.iter().enumerate();
    let driven: Vec<usize> = driven
        .filter(|(_, power)| **power != 0.0)
        .map(|(index, _)| index)
        .collect();
    match driven.as_slice() {
        [] => "drives the free motions together".to_owned(),
        [only] => format!(
            "drives motion {}, the {}",
            only + 1,
            motion_phrase(model, &diagnosis.free_motions[*only])
        ),
        several => {
            let numbers: Vec<String> = several
                .iter()
                .map(|index| (index + 1).to_string())
                .collect();
            format!("drives motions {}", listed(&numbers))
        }
    }
}

/// A note where a support that can only push or only pull would have to do the other.
pub fn one_way_note(reaction: &Reaction, value: Option<f64>) -> Option<&'static str> {
    let against = value.is_some_and(|value| value < 0.0);
    match reaction.sense {
        Sense::Push if against => Some("can only push"),
        Sense::Pull if against => Some("can only pull"),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;

    #[test]
    fn a_beam_is_decided() {
        let (model, diagnosis) = samples::simple_beam();
        assert_eq!(
            balance(&model, &diagnosis, &diagnosis.cases[0]),
            "Equilibrium decides every reaction."
        );
    }

    #[test]
    fn a_driven_motion_is_named() {
        let (model, diagnosis) = samples::swinging_beam();
        assert_eq!(
            balance(&model, &diagnosis, &diagnosis.cases[0]),
            "No equilibrium: this load drives motion 1, the rotation about P."
        );
    }

    #[test]
    fn what_stays_open_is_listed() {
        let (model, diagnosis) = samples::two_beam_pins();
        assert_eq!(
            balance(&model, &diagnosis, &diagnosis.cases[0]),
            "Equilibrium does not decide A_x and B_x."
        );
    }

    #[test]
    fn a_roller_cannot_pull() {
        let (model, diagnosis) = samples::simple_beam();
        let roller = &model.reactions[2];
        assert_eq!(one_way_note(roller, Some(5.0)), None);
        assert_eq!(one_way_note(roller, None), None);
        assert!(one_way_note(roller, Some(-5.0)).is_some());
        assert!(diagnosis.cases[0].values[2] > Some(0.0));
    }
}
