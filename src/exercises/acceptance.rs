//! Whether an arrangement is what is asked for: proven by the exact rank, clear, and worth the work.

use super::Topic;
use crate::scene::Scene;
use crate::statics::{
    CaseAnswer, CaseIndex, Diagnosis, Model, NumericRank, ReactionMatrix, Sense, Tolerance, Verdict,
};
use crate::study::Study;

/// The smallest singular value that counts is at least this: what is held is held well, and what is not would not be
/// rescued by a small shift. An odd number, so that no arrangement lies on it.
const CLEAR: f64 = 0.1037;
/// Reactions smaller than this part of the loads are not worth asking for; odd for the same reason.
const WORTH: f64 = 0.0173;
/// Free motions of a body that is not held, at most.
const MOST_FREE: usize = 2;

/// The study of a scene that fits the topic; `None` where it does not.
pub(super) fn accepted(scene: Scene, topic: Topic) -> Option<Study> {
    let model = Model::new(&scene).ok()?;
    let places = model.supports.iter().map(|support| support.point);
    let first = model.supports.first()?.point;
    if !places.into_iter().any(|point| point != first) {
        return None;
    }
    // The quick question first: most arrangements fail it.
    let numeric = NumericRank::new(&ReactionMatrix::new(&model), Tolerance::default());
    let (unknowns, motions) = (model.reactions.len(), model.space.motions());
    let last = numeric.rank.checked_sub(1)?;
    // What a near miss misses was clear, and is all that can make it small.
    let is_clear = topic == Topic::NearMiss || numeric.singular_values[last] >= CLEAR;
    if !fits(topic, unknowns, numeric.rank, motions) || !is_clear {
        return None;
    }
    let study = Study::of(scene, model);
    let (model, diagnosis) = (study.model(), study.diagnosis());
    let proven = diagnosis.exact.rank == diagnosis.counts.rank && diagnosis.exact.as_written;
    let is_good = proven && is_worth_it(model, diagnosis, topic);
    // The questions take contacts and cables as two-way; the answer must not depend on it.
    (is_good && (topic != Topic::Redundant || study.uncarried().is_empty())).then_some(study)
}

fn fits(topic: Topic, unknowns: usize, rank: usize, motions: usize) -> bool {
    let held = rank == motions;
    match topic {
        Topic::Determinate | Topic::Reactions | Topic::NearMiss => held && unknowns == rank,
        Topic::Redundant => held && unknowns > rank,
        Topic::Improper => !held && unknowns >= motions && rank + MOST_FREE >= motions,
        Topic::Partial => unknowns < motions && rank == unknowns,
    }
}

fn is_worth_it(model: &Model, diagnosis: &Diagnosis, topic: Topic) -> bool {
    let case = &diagnosis.cases[CaseIndex::FIRST];
    match topic {
        Topic::Improper => diagnosis.verdict() == Verdict::ImproperlyConstrained && drives(case),
        Topic::Partial => diagnosis.verdict() == Verdict::PartiallyConstrained && drives(case),
        Topic::Redundant => true,
        Topic::Determinate | Topic::NearMiss => is_worth_computing(model, case, [1, 2]),
        Topic::Reactions => is_worth_computing(model, case, [2, 3]),
    }
}

/// Whether the load sets the body in motion, so that there is something to see.
fn drives(case: &CaseAnswer) -> bool {
    !case.is_balanced()
}

/// Whether so many of so many reactions act, and contacts push and cables pull.
fn is_worth_computing(model: &Model, case: &CaseAnswer, [times, of]: [usize; 2]) -> bool {
    let loads = model.cases[CaseIndex::FIRST].loads.iter();
    let size: f64 = loads
        .map(|load| {
            let wrench = load.wrench(&model.reference);
            wrench.force.norm() + wrench.moment.norm() / model.length
        })
        .sum();
    let acting = case.values.iter().flatten();
    let acting = acting.filter(|value| value.abs() > WORTH * size).count();
    let one_way = model
        .reactions
        .iter()
        .zip(&case.values)
        .filter(|(reaction, _)| reaction.sense != Sense::Both)
        .all(|(_, value)| value.is_some_and(|value| value > WORTH * size));
    one_way && acting * of >= model.reactions.len() * times
}
