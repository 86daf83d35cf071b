//! Load cases that the supports do not carry: there is no equilibrium, or none with contacts that push and cables that pull.

use super::diagnosis::Diagnosis;
use super::indices::{CaseIndex, ReactionIndex, SupportIndex};
use super::model::Model;
use super::one_way::{Escape, OneWay, OneWayCase, SlidingOnset};
use super::reaction::Sense;
use crate::indexed::Indexed;

/// A load case that the supports do not carry.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Uncarried {
    /// Index of the case.
    pub case: CaseIndex,
    /// One-way reactions that equilibrium decides, with the sign that they cannot have: contacts that would have to pull,
    /// cables that would have to push. Empty where equilibrium leaves open which would.
    pub against: Vec<ReactionIndex>,
    /// Whether reactions of the right signs balance the load, but no coefficient of friction is enough for them.
    pub slips: bool,
    /// How friction gives way, where its coefficients in the scene are not enough.
    pub sliding: Option<SlidingOnset>,
    /// How the body gets away, where one-way supports let it; `None` where a free motion is all that the load drives.
    pub escape: Option<Escape>,
    /// Anchor plates whose anchors and wall do not balance what their support would carry; named where nothing else fails.
    pub anchors: Vec<SupportIndex>,
}

impl Uncarried {
    /// The load cases in which something acts that the supports do not carry, in the model's order.
    ///
    /// `one_way` is what the model's one-way supports make of its loads; `None` where all act both ways.
    pub(crate) fn of(model: &Model, diagnosis: &Diagnosis, one_way: Option<&OneWay>) -> Vec<Self> {
        let uncarried = |(case, answer): (CaseIndex, &super::CaseAnswer)| {
            let pushed = one_way.map(|found| &found.cases[case]);
            let carried = answer.is_balanced() && pushed.is_none_or(|found| found.is_carried());
            (answer.loaded && !carried).then(|| Self {
                case,
                against: against(model, &answer.values),
                slips: matches!(pushed, Some(OneWayCase::Slips(_))),
                sliding: match pushed {
                    Some(OneWayCase::Slides(overcome)) => Some(overcome.onset.clone()),
                    _ => None,
                },
                escape: pushed
                    .and_then(|found| found.escape().cloned())
                    .filter(|escape| !escape.loosened.is_empty() || !escape.sliding.is_empty()),
                anchors: Vec::new(),
            })
        };
        let cases = diagnosis.cases.enumerate();
        cases.filter_map(uncarried).collect()
    }

    /// A load case that the supports would carry, if the anchors of these did.
    pub(crate) fn by_anchors(case: CaseIndex, anchors: Vec<SupportIndex>) -> Self {
        Self {
            case,
            against: Vec::new(),
            slips: false,
            sliding: None,
            escape: None,
            anchors,
        }
    }
}

fn against(model: &Model, values: &Indexed<ReactionIndex, Option<f64>>) -> Vec<ReactionIndex> {
    let reactions = model.reactions.enumerate();
    reactions
        .filter(|(index, reaction)| {
            reaction.sense != Sense::Both && values[*index].is_some_and(|value| value < 0.0)
        })
        .map(|(index, _)| index)
        .collect()
}
