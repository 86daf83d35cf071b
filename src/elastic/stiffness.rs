//! How stiff each reaction is taken to be, and on whose word.

use crate::indexed::Indexed;
use crate::statics::{Model, Reaction, ReactionIndex, ReactionKind};

/// The stiffness of every reaction.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Stiffnesses {
    /// On what they rest.
    pub source: StiffnessSource,
    /// Of each reaction in model order: N/m, of couples N·m/rad. Where none is given, 1 for forces and the square of the
    /// characteristic length for couples, in any unit.
    pub values: Indexed<ReactionIndex, f64>,
    /// The reactions whose stiffness the scene does not give, in model order.
    pub assumed: Vec<ReactionIndex>,
    /// Largest of them in N/m, couples over the square of the characteristic length; `None` where none is given.
    pub(super) stiffest: Option<f64>,
}

/// On what stiffnesses rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StiffnessSource {
    /// None is given: all are equal, couples as forces at the characteristic length.
    Equal,
    /// All are given.
    Given,
    /// Some are given. A couple without one is as stiff as its support's stiffest force at the characteristic length; any other
    /// reaction without one is as stiff as the stiffest given.
    PartlyGiven,
}

impl Stiffnesses {
    pub(super) fn of(model: &Model) -> Self {
        let square = |reaction: &Reaction| match reaction.kind {
            ReactionKind::Force => 1.0,
            ReactionKind::Couple => model.length * model.length,
        };
        let given: Indexed<ReactionIndex, Option<f64>> = model
            .reactions
            .map(|reaction| Some(reaction.stiffness? / square(reaction)));
        let largest = |some: &[Option<f64>]| some.iter().copied().flatten().reduce(f64::max);
        let stiffest = largest(&given);
        let assumed: Vec<ReactionIndex> = given.indices().filter(|j| given[*j].is_none()).collect();
        let beside = |j: ReactionIndex| {
            let reaction = &model.reactions[j];
            let own = &model.supports[reaction.support].reactions;
            let forces = own
                .clone()
                .filter(|k| model.reactions[*k].kind == ReactionKind::Force);
            let forces: Vec<Option<f64>> = forces.map(|k| given[k]).collect();
            largest(&forces).filter(|_| reaction.kind == ReactionKind::Couple)
        };
        let scaled = |j: ReactionIndex| {
            let own = given[j].or_else(|| beside(j));
            own.or(stiffest).unwrap_or(1.0)
        };
        Self {
            source: match (stiffest, assumed.is_empty()) {
                (None, _) => StiffnessSource::Equal,
                (Some(_), true) => StiffnessSource::Given,
                (Some(_), false) => StiffnessSource::PartlyGiven,
            },
            values: given
                .indices()
                .map(|j| scaled(j) * square(&model.reactions[j]))
                .collect(),
            assumed,
            stiffest,
        }
    }

    /// Of each reaction, couples over the square of the characteristic length, relative to the largest.
    pub(super) fn relative(&self, model: &Model) -> Vec<f64> {
        let stiffest = self.stiffest.unwrap_or(1.0);
        let reactions = model.reactions.iter().zip(&self.values);
        reactions
            .map(|(reaction, stiffness)| match reaction.kind {
                ReactionKind::Force => stiffness / stiffest,
                ReactionKind::Couple => stiffness / (model.length * model.length) / stiffest,
            })
            .collect()
    }
}
