//! What a designer compares: each reaction over all load cases, and each support with what it may be loaded with.
//!
//! Reactions are those of elastic supports where the scene asks for them, else those that follow from equilibrium. Nothing is
//! taken from any design code: allowable forces and factors are the scene's own.

mod anchorage;
mod envelope;
mod utilisation;

use nalgebra::Vector3;

use crate::elastic::{Elastic, ElasticCase};
use crate::indexed::Indexed;
use crate::statics::{
    CaseIndex, Diagnosis, Model, OneWay, OneWayCase, Range, ReactionIndex, ReactionKind,
    SupportIndex,
};
pub use anchorage::{AnchorForces, Anchorage, AnchorageCase, USUAL_BEDDING};
pub use envelope::Envelope;
pub use utilisation::{Utilisation, UtilisationOutcome};

/// The reactions that count for design.
#[derive(Debug, Clone)]
#[must_use]
#[non_exhaustive]
pub struct Design {
    /// Under each load case, in the model's order.
    pub cases: Indexed<CaseIndex, DesignCase>,
    /// What the anchors of each anchor plate take, in scene order.
    pub anchorages: Vec<Anchorage>,
}

/// The reactions to a load case that count for design.
#[derive(Debug, Clone)]
#[must_use]
#[non_exhaustive]
pub enum DesignCase {
    /// As far as they are known, N or N·m, in model order; `None` where equilibrium leaves a reaction open.
    Known(Indexed<ReactionIndex, Option<f64>>),
    /// The supports do not carry the load.
    NotCarried,
    /// No reactions of elastic supports were found.
    NotFound,
}

impl DesignCase {
    /// The value of a reaction, N or N·m, where it is known.
    pub fn value(&self, reaction: ReactionIndex) -> Option<f64> {
        match self {
            Self::Known(values) => values[reaction],
            Self::NotCarried | Self::NotFound => None,
        }
    }
}

impl Design {
    pub(crate) fn of(
        model: &Model,
        diagnosis: &Diagnosis,
        one_way: Option<&OneWay>,
        elastic: Option<&Elastic>,
    ) -> Self {
        let of_case = |case: CaseIndex| match (elastic, one_way) {
            (Some(elastic), _) => of_springs(&elastic.cases[case]),
            (None, Some(one_way)) => of_signs(&one_way.cases[case]),
            (None, None) if diagnosis.cases[case].is_balanced() => {
                DesignCase::Known(diagnosis.cases[case].values.iter().copied().collect())
            }
            (None, None) => DesignCase::NotCarried,
        };
        let cases: Indexed<CaseIndex, DesignCase> = model.cases.indices().map(of_case).collect();
        Self {
            anchorages: Anchorage::all(model, &cases),
            cases,
        }
    }

    /// The anchor plates whose anchors, with the wall, do not balance what their support would carry under a load case.
    pub fn failing_anchors(&self, case: CaseIndex) -> Vec<SupportIndex> {
        let fails =
            |anchorage: &&Anchorage| matches!(anchorage.cases[case], AnchorageCase::NotCarried);
        let failing = self.anchorages.iter().filter(fails);
        failing.map(|anchorage| anchorage.support).collect()
    }

    /// The anchors of a support under a load case; `None` of supports without any.
    pub fn anchorage(&self, support: SupportIndex, case: CaseIndex) -> Option<&AnchorageCase> {
        let mut all = self.anchorages.iter();
        let own = all.find(|anchorage| anchorage.support == support)?;
        Some(&own.cases[case])
    }

    /// The force of a support under a load case, N; `None` where a part of it is not known.
    fn force(&self, model: &Model, support: SupportIndex, case: CaseIndex) -> Option<Vector3<f64>> {
        let reactions = model.supports[support].reactions.clone();
        let forces = reactions.filter(|j| model.reactions[*j].kind == ReactionKind::Force);
        let known = forces.map(|j| {
            let direction = model.reactions[j].direction.into_inner();
            Some(direction * self.cases[case].value(j)?)
        });
        known.sum()
    }
}

fn of_springs(case: &ElasticCase) -> DesignCase {
    match case {
        ElasticCase::Solved(found) => {
            DesignCase::Known(found.values.iter().copied().map(Some).collect())
        }
        ElasticCase::NotCarried => DesignCase::NotCarried,
        ElasticCase::NoStiffness | ElasticCase::NotFound => DesignCase::NotFound,
    }
}

fn of_signs(case: &OneWayCase) -> DesignCase {
    match case.balance() {
        Some(balance) => {
            let values = balance.ranges.iter();
            let value = |range: &Option<Range>| range.as_ref().and_then(Range::value);
            DesignCase::Known(values.map(value).collect())
        }
        None => DesignCase::NotCarried,
    }
}
