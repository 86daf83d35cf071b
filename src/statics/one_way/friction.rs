//! What rough contacts ask of friction.
//!
//! Where equilibrium decides push and force along the surface, their ratio is what a contact needs. Where it does not,
//! there is still a least coefficient, the same at every rough contact, from which on some equilibrium exists.

use nalgebra::{DMatrix, DVector};

use super::Range;
use super::balance::CaseBalance;
use super::cone::{self, Cone};
use super::supports::{RoughContact, Supports};
use crate::indexed::Indexed;
use crate::statics::indices::{ReactionIndex, SupportIndex};

/// What a rough contact asks of friction under a load.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Friction {
    /// Index of the support.
    pub support: SupportIndex,
    /// Least coefficient of friction that will do: force along the surface over push. Infinite where the contact
    /// would have to grip without pressing; `None` where equilibrium does not decide both.
    pub coefficient: Option<f64>,
}

/// What each rough contact asks, in model order.
pub(super) fn of_supports(
    grips: &[RoughContact],
    ranges: &Indexed<ReactionIndex, Option<Range>>,
) -> Vec<Friction> {
    grips
        .iter()
        .map(|grip| Friction {
            support: grip.support,
            coefficient: coefficient(grip, ranges),
        })
        .collect()
}

fn coefficient(grip: &RoughContact, ranges: &Indexed<ReactionIndex, Option<Range>>) -> Option<f64> {
    let value = |j: &ReactionIndex| ranges[*j].as_ref().and_then(Range::value);
    let push = value(&grip.push)?;
    let along = grip
        .along
        .iter()
        .try_fold(0.0_f64, |sum, j| Some(sum.hypot(value(j)?)))?;
    Some(if along == 0.0 { 0.0 } else { along / push })
}

/// Coefficients beyond this are more than any surface has: none is then said to be enough.
const LARGEST: f64 = 1e6;
/// Relative width to which the least coefficient is closed in.
const CLOSE: f64 = 1e-7;
/// Halvings of the bracket at most: from the largest coefficient to its width.
const HALVINGS: usize = 80;

/// Least coefficient of friction, the same at all rough contacts, for which some equilibrium of a balanced load exists.
///
/// Infinite where none is enough; `None` without rough contacts. The set of reactions for one coefficient is a product
/// of cones (Coulomb's, second-order in space) that grows with it, so that bisection finds the least: each step either
/// has reactions, or what is left of the demand proves that there are none.
pub(super) fn least_common(
    supports: &Supports,
    friction: &[Friction],
    balance: &CaseBalance,
    nothing: f64,
) -> Option<f64> {
    let largest = friction
        .iter()
        .map(|one| one.coefficient)
        .try_fold(0.0_f64, |most, one| Some(most.max(one?)));
    if friction.is_empty() || largest.is_some() {
        return largest.filter(|_| !friction.is_empty());
    }
    let cones = Cones::new(supports);
    let demand = cones.room.tr_mul(&balance.demand);
    let enough = |coefficient: f64| {
        let cone = Coulomb {
            cones: &cones,
            coefficient,
        };
        cone::nearest_in(&cone, &demand).1.norm() <= nothing * balance.size
    };
    if enough(0.0) {
        return Some(0.0);
    }
    let (mut low, mut high) = (0.0, 1.0);
    while !enough(high) {
        if high > LARGEST {
            return Some(f64::INFINITY);
        }
        (low, high) = (high, high * 2.0);
    }
    for _ in 0..HALVINGS {
        if high - low <= CLOSE * high {
            break;
        }
        let middle = f64::midpoint(low, high);
        if enough(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(high)
}

/// Shares of the reactions within what the two-way ones leave, those along rough surfaces not counted among these.
struct Cones {
    room: DMatrix<f64>,
    /// One-way reactions without friction.
    smooth: DMatrix<f64>,
    /// Rough contacts: the push, and the forces along the surface as columns.
    rough: Vec<(DVector<f64>, DMatrix<f64>)>,
    negligible: f64,
}

impl Cones {
    fn new(supports: &Supports) -> Self {
        let grips = &supports.grips;
        let grips_have = |j: &ReactionIndex| grips.iter().any(|grip| grip.has(*j));
        let others = |from: &[ReactionIndex]| -> Vec<ReactionIndex> {
            from.iter().copied().filter(|j| !grips_have(j)).collect()
        };
        let room = supports.room_beside(&others(&supports.two_way));
        let within =
            |reactions: &[ReactionIndex]| room.tr_mul(&supports.ranked.shares_of(reactions));
        Self {
            smooth: within(&others(&supports.one_way)),
            rough: grips
                .iter()
                .map(|grip| {
                    let push = within(&[grip.push]).column(0).into_owned();
                    (push, within(&grip.along))
                })
                .collect(),
            negligible: supports.ranked.negligible,
            room,
        }
    }
}

/// The reactions that one coefficient of friction allows.
struct Coulomb<'a> {
    cones: &'a Cones,
    coefficient: f64,
}

impl Coulomb<'_> {
    /// The reaction of a rough contact at its limit that meets `left` most squarely head on.
    fn at_limit(
        &self,
        (push, along): &(DVector<f64>, DMatrix<f64>),
        left: &DVector<f64>,
    ) -> DVector<f64> {
        let slip = along.tr_mul(left);
        match slip.try_normalize(0.0) {
            Some(way) => push - along * way * self.coefficient,
            None => push.clone(),
        }
    }
}

impl Cone for Coulomb<'_> {
    fn against(&self, left: &DVector<f64>, taken: &[usize]) -> Option<(usize, DVector<f64>)> {
        let smooth = self
            .cones
            .smooth
            .column_iter()
            .map(|column| column.into_owned());
        let rough = self
            .cones
            .rough
            .iter()
            .map(|grip| self.at_limit(grip, left));
        let units = smooth
            .chain(rough)
            .enumerate()
            .filter_map(|(generator, column)| {
                let unit = column.try_normalize(self.cones.negligible)?;
                (!taken.contains(&generator)).then_some((generator, unit))
            });
        units.min_by(|(_, a), (_, b)| a.dot(left).total_cmp(&b.dot(left)))
    }
}
