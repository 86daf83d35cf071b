//! Hints to a problem, each giving away a little more than the one before.

use super::{Exercise, Topic};
use crate::solution::{Solution, sentences};
use crate::statics::CaseIndex;
use crate::wording::{self, Phrase, phrase};

/// The hints, the least telling first.
pub(super) fn hints(problem: &Exercise) -> Vec<Phrase> {
    let (model, diagnosis) = (problem.study.model(), problem.study.diagnosis());
    let supplied = model.supports.iter().map(|support| {
        let count = support.reactions.len();
        phrase!(Phrase::name(&support.name), " ", wording::count(count))
    });
    let supplied = wording::listed(&supplied.collect::<Vec<_>>());
    let mut hints = vec![phrase!(
        "Count the reactions of each support: ",
        supplied,
        "."
    )];
    if problem.topic != Topic::Reactions {
        let motions = model.space.motions();
        let needed = wording::count(motions);
        hints.push(match model.reactions.len() {
            unknowns if unknowns < motions => phrase!(
                "A body has ",
                needed,
                " independent motions to prevent. Can so few reactions prevent them all?"
            ),
            _ => phrase!(
                "The count alone proves nothing. Look for an axis that every line of action meets or is parallel to, \
                 and for a direction that every reaction is perpendicular to."
            ),
        });
    }
    match diagnosis.free_motions.iter().next() {
        Some(motion) => hints.push(phrase!(
            "Try the ",
            wording::motion_phrase(model, motion),
            ": does any reaction do work in it?"
        )),
        None => hints.extend(first_step(problem)),
    }
    hints
}

/// The axis with which the worked solution begins.
fn first_step(problem: &Exercise) -> Option<Phrase> {
    let (model, diagnosis) = (problem.study.model(), problem.study.diagnosis());
    let working = Solution::of(model, diagnosis, CaseIndex::FIRST)?;
    let step = working.steps.first()?;
    let balance = sentences::balance(model, &step.equations.first()?.balance);
    Some(phrase!("Begin with this equation: ", balance, "."))
}
