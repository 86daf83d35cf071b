//! What equilibrium says under a load case.

use super::motion::motion_phrase;
use super::name::{listed, listed_briefly};
use super::phrase::{Phrase, phrase};
use super::start;
use crate::motion::Mobilities;
use crate::statics::{
    Acceleration, CaseAnswer, Diagnosis, FreeMotion, Model, MotionIndex, Reaction, Sense,
};

/// Whether there is equilibrium, what follows from it, and in which motions an unbalanced load does work.
pub fn balance(model: &Model, diagnosis: &Diagnosis, case: &CaseAnswer) -> Phrase {
    balance_with(model, diagnosis, case, DOES_WORK)
}

/// What an unbalanced load does with a motion: what is said in front of its number and behind it.
type Effect = [&'static str; 2];
const DOES_WORK: Effect = ["does work in motion ", ", the "];
/// Of a finite motion alone: others are blocked at second order.
const SETS_GOING: Effect = ["sets motion ", " going, the "];

fn balance_with(model: &Model, diagnosis: &Diagnosis, case: &CaseAnswer, effect: Effect) -> Phrase {
    if !case.loaded {
        return "No load acts on the body.".into();
    }
    if !case.is_balanced() {
        return phrase!(
            "No equilibrium: this load ",
            affects(model, diagnosis, case, effect),
            "."
        );
    }
    let named = |decided: bool| -> Vec<Phrase> {
        let pairs = model.reactions.iter().zip(&case.values);
        pairs
            .filter(|(_, value)| value.is_some() == decided)
            .map(|(reaction, _)| Phrase::from(&reaction.symbol))
            .collect()
    };
    let (known, open) = (named(true), named(false));
    let said = match (known.len(), open.len()) {
        (_, 0) => "All reactions follow from equilibrium.".into(),
        (0, _) => "No reaction follows from equilibrium.".into(),
        (known_ones, open_ones) if known_ones <= open_ones => {
            let follow = if known_ones == 1 { "follows" } else { "follow" };
            phrase!(
                "Only ",
                listed_briefly(&known),
                " ",
                follow,
                " from equilibrium."
            )
        }
        (_, open_ones) => {
            let are = if open_ones == 1 { "is" } else { "are" };
            phrase!(
                listed_briefly(&open),
                " ",
                are,
                " statically indeterminate; all other reactions follow from equilibrium."
            )
        }
    };
    match diagnosis.is_held() {
        true => said,
        false => phrase!(
            "In equilibrium, since this load does no work in any free motion. ",
            said
        ),
    }
}

/// The same, and how the load starts the body, if it does.
///
/// Where there is an equilibrium, only contacts that push and cables that pull can let the body start.
pub fn balance_and_start(
    model: &Model,
    diagnosis: &Diagnosis,
    mobilities: &Mobilities,
    case: &CaseAnswer,
    acceleration: Option<&Acceleration>,
) -> Phrase {
    let effect = match driven(case).as_slice() {
        [only] if mobilities.motions[*only].is_real() => SETS_GOING,
        _ => DOES_WORK,
    };
    let said = balance_with(model, diagnosis, case, effect);
    let Some(acceleration) = acceleration else {
        return said;
    };
    if !case.is_balanced() {
        let start = match mobilities.all_are_infinitesimal() {
            false => start::acceleration_of(model, acceleration, driven_alone(diagnosis, case)),
            // Rigid supports let it do no such thing: only the first derivative of the motion is free.
            true => "Every free motion is infinitesimal only: the supports, which in truth stretch a little, stop the body \
                      once they are taut, with forces that equilibrium of the rigid body does not give."
                .into(),
        };
        return phrase!(said, " ", start);
    }
    let any = |sense| model.reactions.iter().any(|r| r.sense == sense);
    let but = match (any(Sense::Push), any(Sense::Pull)) {
        (true, false) => "contacts can only push",
        (false, true) => "cables can only pull",
        _ => "contacts can only push and cables only pull",
    };
    let start = start::acceleration(model, acceleration);
    phrase!(
        said,
        " These values hold for two-way supports; however, ",
        but,
        ". ",
        start
    )
}

/// The free motions in which an unbalanced load does work.
fn driven(case: &CaseAnswer) -> Vec<MotionIndex> {
    let powers = case.powers.enumerate();
    let driven = powers.filter(|(_, power)| **power != 0.0);
    driven.map(|(index, _)| index).collect()
}

/// The one of them, where there is one only.
fn driven_alone<'a>(diagnosis: &'a Diagnosis, case: &CaseAnswer) -> Option<&'a FreeMotion> {
    match driven(case).as_slice() {
        [only] => Some(&diagnosis.free_motions[*only]),
        _ => None,
    }
}

/// In which free motions an unbalanced load does work: `does work in motion 1, the rotation about P`.
///
pub(super) fn drives(model: &Model, diagnosis: &Diagnosis, case: &CaseAnswer) -> Phrase {
    affects(model, diagnosis, case, DOES_WORK)
}

fn affects(
    model: &Model,
    diagnosis: &Diagnosis,
    case: &CaseAnswer,
    [before, behind]: Effect,
) -> Phrase {
    match driven(case).as_slice() {
        [] => "does work in combinations of the free motions".into(),
        [only] => phrase!(
            before,
            only.number(),
            behind,
            motion_phrase(model, &diagnosis.free_motions[*only])
        ),
        several => {
            let numbers: Vec<Phrase> = several
                .iter()
                .map(|index| Phrase::from(index.number()))
                .collect();
            phrase!("does work in motions ", listed(&numbers))
        }
    }
}

/// A note where a support that can only push or only pull would have to do the other.
pub fn one_way_note(reaction: &Reaction, value: Option<f64>) -> Option<&'static str> {
    let against = value.is_some_and(|value| value < 0.0);
    match reaction.sense {
        Sense::Push if against => Some("would have to pull"),
        Sense::Pull if against => Some("would have to push"),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;
    use crate::statics::CaseIndex;
    use crate::statics::ReactionIndex;

    #[test]
    fn a_beam_is_decided() {
        let (model, diagnosis) = samples::simple_beam();
        assert_eq!(
            balance(&model, &diagnosis, &diagnosis.cases[CaseIndex::FIRST]),
            "All reactions follow from equilibrium."
        );
    }

    #[test]
    fn a_driven_motion_is_named() {
        let (model, diagnosis) = samples::swinging_beam();
        assert_eq!(
            balance(&model, &diagnosis, &diagnosis.cases[CaseIndex::FIRST]),
            "No equilibrium: this load does work in motion 1, the rotation about P."
        );
    }

    #[test]
    fn what_stays_open_is_listed() {
        let (model, diagnosis) = samples::two_beam_pins();
        assert_eq!(
            balance(&model, &diagnosis, &diagnosis.cases[CaseIndex::FIRST]),
            "Only A_y and B_y follow from equilibrium."
        );
    }

    #[test]
    fn a_roller_cannot_pull() {
        let (model, diagnosis) = samples::simple_beam();
        let roller = &model.reactions[ReactionIndex::new(2)];
        assert_eq!(one_way_note(roller, Some(5.0)), None);
        assert_eq!(one_way_note(roller, None), None);
        assert!(one_way_note(roller, Some(-5.0)).is_some());
        assert!(diagnosis.cases[CaseIndex::FIRST].values[ReactionIndex::new(2)] > Some(0.0));
    }
}
