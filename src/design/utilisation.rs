//! How much of what each support may be loaded with it is loaded with, the governing case first.

use super::{AnchorageCase, Design, DesignCase};
use crate::statics::{CaseIndex, Model, ReactionKind, SplitForce, SupportIndex};

/// A support with allowable forces under a load case.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Utilisation {
    /// Which support.
    pub support: SupportIndex,
    /// Under which load case.
    pub case: CaseIndex,
    /// Of an anchor plate the anchor that is loaded most, by its place in the pattern.
    pub anchor: Option<usize>,
    /// What becomes of it.
    pub outcome: UtilisationOutcome,
}

impl Utilisation {
    /// Of a list with the worst first, the worst of each support.
    pub fn worst_of_each(found: &[Self]) -> Vec<&Self> {
        let mut worst: Vec<&Self> = Vec::new();
        for one in found {
            if !worst.iter().any(|other| other.support == one.support) {
                worst.push(one);
            }
        }
        worst
    }
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
            .map(|(support, case)| {
                let (outcome, anchor) = self.outcome(model, support, case);
                Utilisation {
                    support,
                    case,
                    anchor,
                    outcome,
                }
            })
            .collect();
        found.sort_by(|a, b| {
            let ((a_class, a), (b_class, b)) = (a.outcome.severity(), b.outcome.severity());
            b_class.cmp(&a_class).then(b.total_cmp(&a))
        });
        found
    }

    /// What becomes of a support under a load case, and at which of its anchors.
    fn outcome(
        &self,
        model: &Model,
        support: SupportIndex,
        case: CaseIndex,
    ) -> (UtilisationOutcome, Option<usize>) {
        if matches!(self.cases[case], DesignCase::NotCarried) {
            return (UtilisationOutcome::NotCarried, None);
        }
        let forces = match self.split_forces(model, support, case) {
            Ok(forces) => forces,
            Err(unknown) => return (unknown, None),
        };
        let Some(allowable) = &model.supports[support].allowable else {
            return (UtilisationOutcome::Unknown, None);
        };
        let outcomes = forces.into_iter().enumerate().map(|(index, force)| {
            let share = allowable.utilisation(&force);
            (UtilisationOutcome::Known { force, share }, Some(index))
        });
        let worse = |one: &UtilisationOutcome, other: &UtilisationOutcome| {
            let ((a_class, a), (b_class, b)) = (one.severity(), other.severity());
            (b_class, b) > (a_class, a)
        };
        let worst = outcomes.reduce(|worst, next| match worse(&worst.0, &next.0) {
            true => next,
            false => worst,
        });
        let (outcome, index) = worst.unwrap_or((UtilisationOutcome::Unknown, None));
        let has_anchors = model.supports[support].anchors.is_some();
        (outcome, index.filter(|_| has_anchors))
    }

    /// The force on the body of each anchor of a plate, of other supports the one force that they have.
    fn split_forces(
        &self,
        model: &Model,
        support: SupportIndex,
        case: CaseIndex,
    ) -> Result<Vec<SplitForce>, UtilisationOutcome> {
        if let Some(anchorage) = self.anchorage(support, case) {
            return match anchorage {
                AnchorageCase::Solved(found) => Ok(found.anchors.clone()),
                AnchorageCase::NotCarried => Err(UtilisationOutcome::NotCarried),
                AnchorageCase::Unknown | AnchorageCase::NotFound => {
                    Err(UtilisationOutcome::Unknown)
                }
            };
        }
        let allowable = model.supports[support].allowable.as_ref();
        let force = self.force(model, support, case).zip(allowable);
        match force {
            Some((force, allowable)) => Ok(vec![SplitForce::of(&force, &allowable.outwards)]),
            None => Err(UtilisationOutcome::Unknown),
        }
    }

    /// Parts of the reactions of a support that act under some case and that nothing in the scene limits, in the scene's words.
    pub fn unlimited(
        &self,
        model: &Model,
        support: SupportIndex,
        cases: impl IntoIterator<Item = CaseIndex>,
    ) -> Vec<&'static str> {
        let placed = &model.supports[support];
        let Some(allowable) = &placed.allowable else {
            return Vec::new();
        };
        let mut acts = [false; 4];
        for case in cases {
            let forces = self.split_forces(model, support, case).unwrap_or_default();
            for force in forces {
                let floor = ROUNDING * force.normal.hypot(force.shear);
                acts[0] |= force.normal < -floor;
                acts[1] |= force.normal > floor;
                acts[2] |= force.shear > floor;
            }
            // Of a plate with anchors these are what couples come to.
            let mut reactions = placed.reactions.clone();
            acts[3] |= placed.anchors.is_none()
                && reactions.any(|j| {
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
