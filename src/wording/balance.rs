//! What equilibrium says under a load case.

use super::motion::motion_phrase;
use super::name::{listed, listed_briefly};
use super::phrase::{Phrase, phrase};
use super::start;
use crate::statics::{Acceleration, CaseAnswer, Diagnosis, Model, Reaction, Sense};

/// Whether there is equilibrium, what it decides, and what an unbalanced load drives.
pub fn balance(model: &Model, diagnosis: &Diagnosis, case: &CaseAnswer) -> Phrase {
    if !case.loaded {
        return "Nothing acts on the body besides its supports.".into();
    }
    if !case.is_balanced() {
        return driven(model, diagnosis, case);
    }
    let named = |decided: bool| -> Vec<Phrase> {
        let pairs = model.reactions.iter().zip(&case.values);
        pairs
            .filter(|(_, value)| value.is_some() == decided)
            .map(|(reaction, _)| Phrase::from(&reaction.symbol))
            .collect()
    };
    let (known, open) = (named(true), named(false));
    let decided = match (known.len(), open.len()) {
        (_, 0) => "decides every reaction".into(),
        (0, _) => "decides none of the reactions alone".into(),
        (known_ones, open_ones) if known_ones < open_ones => {
            phrase!("decides only ", listed_briefly(&known))
        }
        _ => phrase!("does not decide ", listed_briefly(&open)),
    };
    if diagnosis.is_held() {
        phrase!("Equilibrium ", decided, ".")
    } else {
        phrase!(
            "This load drives none of the free motions; under it equilibrium ",
            decided,
            "."
        )
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
) -> Phrase {
    let said = balance(model, diagnosis, case);
    let Some(acceleration) = acceleration else {
        return said;
    };
    if !case.is_balanced() {
        return phrase!(said, " ", start::acceleration(model, acceleration));
    }
    let any = |sense| model.reactions.iter().any(|r| r.sense == sense);
    let but = match (any(Sense::Push), any(Sense::Pull)) {
        (true, false) => "contacts only push",
        (false, true) => "cables only pull",
        _ => "contacts only push and cables only pull",
    };
    phrase!(said, " But ", but, ": ", start::start(model, acceleration))
}

fn driven(model: &Model, diagnosis: &Diagnosis, case: &CaseAnswer) -> Phrase {
    phrase!(
        "No equilibrium: this load ",
        drives(model, diagnosis, case),
        "."
    )
}

/// Which free motions an unbalanced load drives: `drives motion 1, the rotation about P`.
pub(super) fn drives(model: &Model, diagnosis: &Diagnosis, case: &CaseAnswer) -> Phrase {
    let driven = case.powers.iter().enumerate();
    let driven: Vec<usize> = driven
        .filter(|(_, power)| **power != 0.0)
        .map(|(index, _)| index)
        .collect();
    match driven.as_slice() {
        [] => "drives the free motions together".into(),
        [only] => phrase!(
            "drives motion ",
            only + 1,
            ", the ",
            motion_phrase(model, &diagnosis.free_motions[*only])
        ),
        several => {
            let numbers: Vec<Phrase> = several
                .iter()
                .map(|index| Phrase::from(index + 1))
                .collect();
            phrase!("drives motions ", listed(&numbers))
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
