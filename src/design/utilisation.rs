//! How much of what each support may be loaded with it is loaded with, the governing case first.

use super::{Design, DesignCase};
use crate::statics::{CaseIndex, Model, ReactionKind, SplitForce, SupportIndex};

/// A support with allowable forces under a load case.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Utilisation {
    /// Which support.
    pub support: SupportIndex,
    /// Under which load case.
    pub case: CaseIndex,
    /// What becomes of it.
    pub outcome: UtilisationOutcome,
}

/// What becomes of a support with allowable forces under a load case.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum UtilisationOutcome {
    /// The supports do not carry the load.
    NotCarried,
    /// Equilibrium leaves the force of the support open, or no reactions of elastic supports were found.
    Unknown,
    /// The force is known.
    Known {
        /// The force on the body.
        force: SplitForce,
        /// Share of what is allowed, 1 at the limit, proportional to the force.
        share: f64,
    },
}

impl UtilisationOutcome {
    /// What sorts the worst first: a load that is not carried before one that is not known, then by the share.
    fn severity(&self) -> (u8, f64) {
        match self {
            Self::NotCarried => (2, 0.0),
            Self::Unknown => (1, 0.0),
            Self::Known { share, .. } => (0, without_last_digits(*share)),
        }
    }
}

impl Design {
    /// Every support with allowable forces under some load cases, the worst first; of equal ones as in the scene.
    pub fn utilisations(
        &self,
        model: &Model,
        cases: impl IntoIterator<Item = CaseIndex>,
    ) -> Vec<Utilisation> {
        let limited = |support: &SupportIndex| model.supports[*support].allowable.is_some();
        let mut found: Vec<Utilisation> = cases
            .into_iter()
            .flat_map(|case| {
                let supports = model.supports.indices().filter(limited);
                supports.map(move |support| (support, case))
            })
            .map(|(support, case)| Utilisation {
                support,
                case,
                outcome: self.outcome(model, support, case),
            })
            .collect();
        found.sort_by(|a, b| {
            let ((a_class, a), (b_class, b)) = (a.outcome.severity(), b.outcome.severity());
            b_class.cmp(&a_class).then(b.total_cmp(&a))
        });
        found
    }

    fn outcome(&self, model: &Model, support: SupportIndex, case: CaseIndex) -> UtilisationOutcome {
        if matches!(self.cases[case], DesignCase::NotCarried) {
            return UtilisationOutcome::NotCarried;
        }
        let allowable = model.supports[support].allowable.as_ref();
        let force = self.force(model, support, case);
        allowable
            .zip(force)
            .map_or(UtilisationOutcome::Unknown, |(allowable, force)| {
                let force = SplitForce::of(&force, &allowable.outwards);
                UtilisationOutcome::Known {
                    share: allowable.utilisation(&force),
                    force,
                }
            })
    }

    /// Parts of the reactions of a support that act under some case and that nothing in the scene limits, in the scene's words.
    pub fn unlimited(
        &self,
        model: &Model,
        support: SupportIndex,
        cases: impl IntoIterator<Item = CaseIndex>,
    ) -> Vec<&'static str> {
        let Some(allowable) = &model.supports[support].allowable else {
            return Vec::new();
        };
        let mut acts = [false; 4];
        for case in cases {
            if let Some(force) = self.force(model, support, case) {
                let force = SplitForce::of(&force, &allowable.outwards);
                let floor = ROUNDING * force.normal.hypot(force.shear);
                acts[0] |= force.normal < -floor;
                acts[1] |= force.normal > floor;
                acts[2] |= force.shear > floor;
            }
            let mut reactions = model.supports[support].reactions.clone();
            acts[3] |= reactions.any(|j| {
                let is_couple = model.reactions[j].kind == ReactionKind::Couple;
                is_couple && self.cases[case].value(j) != Some(0.0)
            });
        }
        let limits = [
            allowable.tension,
            allowable.compression,
            allowable.shear,
            None,
        ];
        let names = ["tension", "compression", "shear", "couples"];
        let all = names.into_iter().zip(acts).zip(limits);
        all.filter(|((_, acts), limit)| *acts && limit.is_none())
            .map(|((name, _), _)| name)
            .collect()
    }
}

/// Parts of a force below this are rounding.
const ROUNDING: f64 = 1e-9;

/// A share to some nine digits, so that no last one decides what governs.
fn without_last_digits(share: f64) -> f64 {
    const LAST: u64 = (1 << 22) - 1;
    f64::from_bits((share.to_bits() + LAST / 2) & !LAST)
}
