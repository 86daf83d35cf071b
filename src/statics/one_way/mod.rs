//! Contacts that only push and cables that only pull: whether they hold, what then comes loose, and which way.
//!
//! Every reaction that acts one way is written so that its positive values are the ones that can act. A surface
//! that holds by friction across its normal is taken to do so whenever the signs allow, within the coefficient of friction where
//! the scene gives one; where it gives none, the coefficient that friction needs is told where the reactions are decided.

mod balance;
pub(super) mod cone;
mod escape;
mod friction;
mod limit;
mod ranges;
mod slide;
mod supports;

use nalgebra::{DMatrix, DVector};

use super::acceleration::{self, Acceleration};
use super::diagnosis::Diagnosis;
use super::gauss::Allowed;
use super::matrix::restrict;
use super::model::Model;
use super::reaction::{Reaction, ReactionKind, Sense};
use crate::indexed::Indexed;
use crate::statics::indices::{CaseIndex, ReactionIndex};
pub(super) use balance::CaseBalance;
pub use escape::Escape;
use escape::Escapes;
use friction::LimitedFriction;
pub use friction::{Friction, SlidingOnset};
pub(crate) use limit::load_limits;
pub use limit::{LimitsOutcome, LoadLimits};
pub(super) use supports::{RoughContact, Supports};

/// What becomes of a model whose supports push or pull one way only.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct OneWay {
    /// Under each load case, in the model's order.
    pub cases: Indexed<CaseIndex, OneWayCase>,
    /// The motion that some load would start: `None` where every load whatever is held.
    pub escape: Option<Escape>,
}

/// What one-way supports make of a load case.
#[derive(Debug, Clone)]
#[must_use]
#[non_exhaustive]
pub enum OneWayCase {
    /// Contacts that push and cables that pull balance the load.
    Carried(OneWayBalance),
    /// They would, but no coefficient of friction at the rough contacts, however large, is enough. Contacts open, or the body
    /// slides at those that nothing presses; `None` where rounding alone tells the motion from rest.
    Slips(Option<Escape>),
    /// They would, but not with the coefficients of friction that the scene gives.
    Slides(Overcome),
    /// No contacts that push and cables that pull balance the load, and the body escapes; `None` where rounding alone tells
    /// the motion from rest.
    Uncarried(Option<Escape>),
}

/// Friction that a load overcomes.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Overcome {
    /// How the body begins to move.
    pub onset: SlidingOnset,
    /// How many times the coefficients that the scene gives would just do; infinite where none would.
    pub needed: f64,
}

/// How contacts that push and cables that pull balance a load case.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct OneWayBalance {
    /// Values that each reaction can take, N or N·m, in model order; `None` where the range was not found (more than
    /// [`MOST_RANGED`] reactions).
    pub ranges: Indexed<ReactionIndex, Option<Range>>,
    /// One-way reactions that carry nothing under the load, whatever the others do.
    pub idle: Vec<ReactionIndex>,
    /// What each rough contact asks of friction, in model order.
    pub friction: Vec<Friction>,
    /// Least coefficient of friction, the same at every rough contact, for which there is equilibrium; `None` without rough
    /// contacts.
    pub common_friction: Option<f64>,
}

/// Smallest and largest value of a reaction, N or N·m; infinite where nothing bounds it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Smallest.
    pub low: f64,
    /// Largest; equal to `low` where the value is decided.
    pub high: f64,
}

/// Beyond this many reactions the ranges of undecided ones are not sought.
pub const MOST_RANGED: usize = 40;

/// What becomes of the load cases: which of them the supports carry, and how the others start the body.
#[derive(Debug, Clone)]
pub(crate) struct CaseOutcomes {
    /// `None` where every support acts both ways.
    pub(crate) one_way: Option<OneWay>,
    /// In the model's order; `None` for cases at rest or without mass.
    pub(crate) accelerations: Indexed<CaseIndex, Option<Acceleration>>,
}

impl CaseOutcomes {
    pub(crate) fn of(model: &Model, diagnosis: &Diagnosis) -> Self {
        let supports = Supports::new(model, diagnosis);
        let allowed = Allowed::new(&supports);
        let balances: Indexed<CaseIndex, CaseBalance> = model
            .cases
            .indices()
            .map(|case| CaseBalance::of(model, diagnosis, &supports, case))
            .collect();
        let found: Indexed<CaseIndex, Signed> = balances
            .enumerate()
            .map(|(case, balance)| Signed::of(model, diagnosis, &supports, case, balance))
            .collect();
        let is_carried = |case: CaseIndex| matches!(found[case], Signed::Carried(_));
        let uncarried = |case: CaseIndex| (!is_carried(case)).then(|| &balances[case]);
        let accelerations = acceleration::of_cases(model, &allowed, uncarried);
        let escapes = Escapes {
            model,
            supports: &supports,
            allowed: &allowed,
        };
        let nothing = supports
            .ranked
            .nothing(diagnosis.numeric.tolerance.relative());
        let escaping = |(case, found): (CaseIndex, Signed)| {
            let start = accelerations[case].as_ref();
            let escape = || escapes.of_case(&balances[case], start);
            match found {
                Signed::Carried(balance) => OneWayCase::Carried(balance),
                Signed::Slips => {
                    let slide = || escapes.slide(case, &balances[case], nothing);
                    OneWayCase::Slips(escape().or_else(slide))
                }
                Signed::Slides(overcome) => OneWayCase::Slides(overcome),
                Signed::Unbalanced => OneWayCase::Uncarried(escape()),
            }
        };
        let one_way = (!supports.one_way.is_empty()).then(|| {
            let cases: Indexed<CaseIndex, OneWayCase> =
                model.cases.indices().zip(found).map(escaping).collect();
            let known = cases.iter().find_map(OneWayCase::escape);
            OneWay {
                escape: escapes.of_any_load(diagnosis, known),
                cases,
            }
        });
        Self {
            one_way,
            accelerations,
        }
    }
}

impl OneWayCase {
    /// Whether contacts that push and cables that pull carry the load.
    pub fn is_carried(&self) -> bool {
        self.balance().is_some()
    }

    /// How they do; `None` where they do not.
    pub fn balance(&self) -> Option<&OneWayBalance> {
        match self {
            Self::Carried(balance) => Some(balance),
            Self::Slips(_) | Self::Slides(_) | Self::Uncarried(_) => None,
        }
    }

    /// How the body gets away; `None` where the load is carried.
    pub fn escape(&self) -> Option<&Escape> {
        match self {
            Self::Carried(_) | Self::Slides(_) => None,
            Self::Slips(escape) | Self::Uncarried(escape) => escape.as_ref(),
        }
    }
}

impl Range {
    /// The value, where there is only one.
    pub fn value(&self) -> Option<f64> {
        (self.low == self.high).then_some(self.low)
    }
}

/// Whether a reaction acts one way only.
pub(super) fn is_one_way(reaction: &Reaction) -> bool {
    reaction.sense != Sense::Both
}

/// A load case before it is asked how the body gets away.
enum Signed {
    /// Reactions of the right signs balance it, with friction that has a limit.
    Carried(OneWayBalance),
    /// Friction would have to be without limit.
    Slips,
    /// The friction that the scene gives is not enough.
    Slides(Overcome),
    /// No reactions of the right signs balance it.
    Unbalanced,
}

impl Signed {
    fn of(
        model: &Model,
        diagnosis: &Diagnosis,
        supports: &Supports,
        case: CaseIndex,
        balance: &CaseBalance,
    ) -> Self {
        if !balance.holds {
            return Self::Unbalanced;
        }
        let ranges = reaction_ranges(model, diagnosis, supports, case, balance);
        let friction = friction::of_supports(&supports.grips, &ranges);
        let nothing = supports
            .ranked
            .nothing(diagnosis.numeric.tolerance.relative());
        let common_friction = friction::least_common(supports, &friction, balance, nothing);
        if common_friction.is_some_and(f64::is_infinite) {
            return Self::Slips;
        }
        if let Some(limited) = LimitedFriction::of(supports) {
            let (demand, floor) = (&balance.demand, nothing * balance.size);
            let left = limited.left(demand);
            if left.norm() > floor {
                return Self::Slides(Overcome {
                    onset: limited.onset(&left),
                    needed: limited.least_factor(demand, floor),
                });
            }
        }
        let is_idle = |j: &ReactionIndex| ranges[*j].is_some_and(|range| range.high == 0.0);
        Self::Carried(OneWayBalance {
            idle: supports.one_way.iter().copied().filter(is_idle).collect(),
            common_friction,
            friction,
            ranges,
        })
    }
}

fn reaction_ranges(
    model: &Model,
    diagnosis: &Diagnosis,
    supports: &Supports,
    case: CaseIndex,
    balance: &CaseBalance,
) -> Indexed<ReactionIndex, Option<Range>> {
    let decided = &diagnosis.cases[case].values;
    // Without any load, supports may still press against each other by any amount.
    let unit = if balance.size > 0.0 {
        balance.size
    } else {
        1.0
    };
    let count = model.reactions.len();
    let scaled: Indexed<ReactionIndex, _> =
        if diagnosis.counts.redundancy == 0 || count > MOST_RANGED {
            model.reactions.map(|_| None)
        } else {
            let balanced = supports.reactions(&balance.demand, &balance.pushes) / unit;
            let one_way: Vec<bool> = model.reactions.iter().map(is_one_way).collect();
            ranges::ranges(&balanced, &self_stresses(diagnosis), &one_way).into()
        };
    let in_units = |(j, bounds): (ReactionIndex, &Option<ranges::ValueBounds>)| match decided[j] {
        Some(value) => Some(Range {
            low: value,
            high: value,
        }),
        None => bounds.map(|bounds| tidy(&model.reactions[j], bounds, unit, model.length)),
    };
    scaled.enumerate().map(in_units).collect()
}

/// Reactions of this size, relative to the loads, are what linear programs leave of zero.
const NOISE: f64 = 1e-9;

/// In SI units, with rounding noise made an exact zero and equal bounds equal; bounds are per load of size `size`.
fn tidy(reaction: &Reaction, (low, high): ranges::ValueBounds, size: f64, length: f64) -> Range {
    let unit = match reaction.kind {
        ReactionKind::Force => size,
        ReactionKind::Couple => size * length,
    };
    // No contact pulls within a range, not even by rounding.
    let least = if is_one_way(reaction) {
        0.0
    } else {
        f64::NEG_INFINITY
    };
    let clean = |x: f64| {
        if x.abs() <= NOISE {
            0.0
        } else {
            (x * unit).max(least)
        }
    };
    let (low, same) = (clean(low), high - low <= NOISE);
    Range {
        low,
        high: if same { low } else { clean(high) },
    }
}

/// The load of a case, moments over the characteristic length.
pub(super) fn scaled_load(model: &Model, case: CaseIndex) -> DVector<f64> {
    let load = model.cases[case].resultant(&model.reference);
    restrict(&load.scaled(model.length), model.space)
}

/// Sum of the sizes of all loads of a case, N.
pub(crate) fn load_size(model: &Model, case: CaseIndex) -> f64 {
    let loads = model.cases[case].loads.iter();
    loads
        .map(|load| load.wrench(&model.reference))
        .map(|load| load.scaled(model.length).norm())
        .sum()
}

/// Orthonormal self-stresses as columns: sets of scaled reactions that balance no load at all.
fn self_stresses(diagnosis: &Diagnosis) -> DMatrix<f64> {
    let numeric = &diagnosis.numeric;
    let count = numeric.svd.weighted.nrows();
    let mut basis: Vec<DVector<f64>> = Vec::with_capacity(count);
    for (row, value) in numeric
        .singular_values
        .iter()
        .take(numeric.rank)
        .enumerate()
    {
        basis.push(numeric.svd.weighted.column(row) / *value);
    }
    while basis.len() < count {
        // The unit vector of which the basis holds least.
        let held = |j: usize| basis.iter().map(|b| b[j] * b[j]).sum::<f64>();
        let least = (0..count).min_by(|a, b| held(*a).total_cmp(&held(*b)));
        let mut rest = DVector::zeros(count);
        rest[least.unwrap_or(0)] = 1.0;
        for _ in 0..2 {
            for b in &basis {
                let part = b.dot(&rest);
                rest -= b * part;
            }
        }
        basis.push(rest.normalize());
    }
    let stresses = basis.split_off(numeric.rank);
    if stresses.is_empty() {
        return DMatrix::zeros(count, 0);
    }
    DMatrix::from_columns(&stresses)
}
