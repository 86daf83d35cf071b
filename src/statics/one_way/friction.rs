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
    let cones = Cones::new(supports, |_| true);
    let enough = |coefficient: f64| {
        let left = cones.left(&balance.demand, |_| coefficient);
        left.norm() <= nothing * balance.size
    };
    Some(least(enough))
}

/// The least number from which on something is enough; infinite where nothing is.
fn least(enough: impl Fn(f64) -> bool) -> f64 {
    if enough(0.0) {
        return 0.0;
    }
    let (mut low, mut high) = (0.0, 1.0);
    while !enough(high) {
        if high > LARGEST {
            return f64::INFINITY;
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
    high
}

/// Friction that the scene limits by coefficients: the reactions that these allow.
///
/// Rough contacts without a coefficient hold along their surface without limit, as everywhere.
pub(super) struct LimitedFriction {
    cones: Cones,
    coefficients: Vec<f64>,
}

/// How a body begins to move where the friction that the scene gives no longer holds it.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct SlidingOnset {
    /// Rough contacts at which the body slides, in model order.
    pub slides: Vec<SupportIndex>,
    /// Rough contacts with a coefficient that open, in model order.
    pub opens: Vec<SupportIndex>,
}

/// Parts of the fastest motion of a contact below this are rounding.
const RESTING: f64 = 1e-5;

impl LimitedFriction {
    /// `None` where the scene gives no coefficient.
    pub(super) fn of(supports: &Supports) -> Option<Self> {
        let given = supports.grips.iter().filter_map(|grip| grip.friction);
        let coefficients: Vec<f64> = given.collect();
        (!coefficients.is_empty()).then(|| Self {
            cones: Cones::new(supports, |grip| grip.friction.is_some()),
            coefficients,
        })
    }

    /// What the reactions leave of a demand, in the span of the shares: zero but for rounding where they balance it.
    pub(super) fn left(&self, demand: &DVector<f64>) -> DVector<f64> {
        self.left_with(demand, 1.0)
    }

    fn left_with(&self, demand: &DVector<f64>, factor: f64) -> DVector<f64> {
        let left = self
            .cones
            .left(demand, |index| factor * self.coefficients[index]);
        &self.cones.room * left
    }

    /// How many times the coefficients would just balance a demand, less than `floor` of which counts as none.
    pub(super) fn least_factor(&self, demand: &DVector<f64>, floor: f64) -> f64 {
        least(|factor| self.left_with(demand, factor).norm() <= floor)
    }

    /// What a motion that these reactions leave does at the contacts.
    ///
    /// The motion that bounds a cone of friction lifts off as steeply as the cone is wide; where it lifts off no faster, the body
    /// slides, where it lifts off faster, the contact opens.
    pub(super) fn onset(&self, motion: &DVector<f64>) -> SlidingOnset {
        let rough = self.cones.rough.iter();
        let within = self.cones.room.tr_mul(motion);
        let speeds: Vec<[f64; 2]> = rough
            .map(|(_, push, along)| [push.dot(&within), along.tr_mul(&within).norm()])
            .collect();
        let fastest = speeds.iter().flatten().copied().fold(0.0, f64::max);
        let still = RESTING * fastest;
        let supports = self.cones.rough.iter().map(|(support, ..)| *support);
        let all = supports.zip(&speeds).zip(&self.coefficients);
        let (mut slides, mut opens) = (Vec::new(), Vec::new());
        for ((support, [lift, slip]), coefficient) in all {
            if lift - coefficient * slip > still {
                opens.push(support);
            } else if *slip > still {
                slides.push(support);
            }
        }
        SlidingOnset { slides, opens }
    }
}

/// Shares of the reactions within what the two-way ones leave, those along rough surfaces with limited friction not counted among
/// these.
struct Cones {
    room: DMatrix<f64>,
    /// One-way reactions without friction, or with friction that has no limit.
    smooth: DMatrix<f64>,
    /// Rough contacts with limited friction: the push, and the forces along the surface as columns.
    rough: Vec<(SupportIndex, DVector<f64>, DMatrix<f64>)>,
    negligible: f64,
}

impl Cones {
    fn new(supports: &Supports, is_limited: impl Fn(&RoughContact) -> bool) -> Self {
        let limited: Vec<&RoughContact> = supports
            .grips
            .iter()
            .filter(|grip| is_limited(grip))
            .collect();
        let others = |from: &[ReactionIndex]| -> Vec<ReactionIndex> {
            let of_limited = |j: &ReactionIndex| limited.iter().any(|grip| grip.has(*j));
            from.iter().copied().filter(|j| !of_limited(j)).collect()
        };
        let room = supports.room_beside(&others(&supports.two_way));
        let within =
            |reactions: &[ReactionIndex]| room.tr_mul(&supports.ranked.shares_of(reactions));
        Self {
            smooth: within(&others(&supports.one_way)),
            rough: limited
                .iter()
                .map(|grip| {
                    let push = within(&[grip.push]).column(0).into_owned();
                    (grip.support, push, within(&grip.along))
                })
                .collect(),
            negligible: supports.ranked.negligible,
            room,
        }
    }

    /// What reactions with these coefficients leave of a demand, within the room.
    fn left(&self, demand: &DVector<f64>, coefficient: impl Fn(usize) -> f64) -> DVector<f64> {
        let cone = Coulomb {
            cones: self,
            coefficients: (0..self.rough.len()).map(coefficient).collect(),
        };
        cone::nearest_in(&cone, &self.room.tr_mul(demand)).1
    }
}

/// The reactions that coefficients of friction allow.
struct Coulomb<'a> {
    cones: &'a Cones,
    coefficients: Vec<f64>,
}

impl Coulomb<'_> {
    /// The reaction of a rough contact at its limit that meets `left` most squarely head on.
    fn at_limit(&self, index: usize, left: &DVector<f64>) -> DVector<f64> {
        let (_, push, along) = &self.cones.rough[index];
        let slip = along.tr_mul(left);
        match slip.try_normalize(0.0) {
            Some(way) => push - along * way * self.coefficients[index],
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
        let rough = (0..self.cones.rough.len()).map(|index| self.at_limit(index, left));
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
