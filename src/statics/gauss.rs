//! Which way a load that is not carried starts the body.
//!
//! Gauss's principle of least constraint: among the accelerations that the supports allow, the true one differs
//! least, measured by the mass, from the one that the load alone would give. Contacts may part and cables go
//! slack. (Gauss 1829; for one-way constraints: Moreau 1966, Glocker, *Set-Valued Force Laws*, 2001.)
//!
//! A rough contact that opens gives no force, along its surface either. Which of them open is part of the answer: each
//! either stays closed and grips, or opens and is gone.

use nalgebra::{DMatrix, DVector};

use super::indices::ReactionIndex;
use super::one_way::cone;
use super::one_way::{RoughContact, Supports};
use super::ranked::RankedMatrix;
use super::svd::WideSvd;

/// The twists that two-way supports leave, and what one-way supports allow of them.
pub(super) struct Allowed<'a> {
    supports: &'a Supports<'a>,
    /// Orthonormal scaled twists as columns: first those that some one-way reaction may stop, then the free ones.
    room: DMatrix<f64>,
    /// Rates of one-way reactions on those, each of size one or zero, as columns.
    pushes: DMatrix<f64>,
}

/// Rates below this, relative to the largest, count as none; and motions that start of which no more than this part moves
/// any support are made free.
pub(super) const STILL: f64 = 1e-7;
/// Of more rough contacts than this not every set is tried.
const MOST_TRIED: usize = 8;
/// A matrix of mass of size one with a Cholesky diagonal below this resists some motion with no mass at all.
const MASSLESS: f64 = 1e-9;

impl<'a> Allowed<'a> {
    pub(super) fn new(supports: &'a Supports<'a>) -> Self {
        let ranked = supports.ranked;
        let svd = WideSvd::new(&ranked.columns_of(&supports.two_way));
        let (rank, held) = (ranked.rank(), supports.two_way_rank());
        let within = svd.left.columns(held, rank - held).into_owned();
        let mut pushes = within.tr_mul(&ranked.columns_of(&supports.one_way));
        // Which of them count is decided among the shares.
        for (mut push, share) in pushes.column_iter_mut().zip(supports.pushes.column_iter()) {
            if share.norm() == 0.0 || push.try_normalize_mut(0.0).is_none() {
                push.fill(0.0);
            }
        }
        let free = ranked.free.ncols();
        let mut room = DMatrix::zeros(ranked.free.nrows(), within.ncols() + free);
        room.columns_mut(0, within.ncols())
            .copy_from(&(&ranked.span * &within));
        room.columns_mut(within.ncols(), free)
            .copy_from(&ranked.free);
        let count = pushes.nrows();
        Self {
            supports,
            room,
            pushes: pushes.insert_rows(count, free, 0.0),
        }
    }

    /// The scaled acceleration that a scaled load gives a body of this matrix of mass; `None` where the load gives none
    /// that the supports allow, or some motion has no mass.
    ///
    /// At first every rough contact grips; those that open are let go of, one round after the other. Where that goes round
    /// in circles all sets are tried, the smallest first: friction without limit may leave several answers, or none.
    /// Where rough contacts that all grip would balance the load, but only without being pressed, some of them open.
    pub(super) fn acceleration(
        &self,
        masses: &DMatrix<f64>,
        load: &DVector<f64>,
        balanced: bool,
    ) -> Option<DVector<f64>> {
        let gripping = |open: &[usize]| match open {
            [] => self.gripping(masses, load),
            open => Allowed::new(&self.supports.without(open)).gripping(masses, load),
        };
        let nothing = self.supports.ranked.negligible * load.norm();
        let consistent = |twist: &DVector<f64>, open: &[usize]| {
            let driven = !balanced || load.dot(twist) > nothing * twist.norm();
            driven && self.starts(twist, load) && self.open_on(twist, open) == open
        };
        let mut open = Vec::new();
        let rounds = if balanced {
            0
        } else {
            self.supports.grips.len() + 1
        };
        for _ in 0..rounds {
            let Some(twist) = gripping(&open) else { break };
            if consistent(&twist, &open) {
                return Some(twist);
            }
            let next = self.open_on(&twist, &open);
            if next == open {
                break;
            }
            open = next;
        }
        sets(self.supports.grips.len())
            .into_iter()
            .find_map(|open| gripping(&open).filter(|twist| consistent(twist, &open)))
    }

    /// The rough contacts that are open on a motion, by index: those that part, and of those taken to be open already the
    /// ones that do not close.
    fn open_on(&self, twist: &DVector<f64>, open: &[usize]) -> Vec<usize> {
        let rates = rates(self.supports.ranked, twist);
        let parting = STILL * rates.amax();
        let grips = self.supports.grips.iter().enumerate();
        grips
            .filter(|(index, grip)| {
                let rate = rates[grip.push];
                rate > parting || (open.contains(index) && rate >= -parting)
            })
            .map(|(index, _)| index)
            .collect()
    }

    /// The same where every rough contact grips, though it may part.
    fn gripping(&self, masses: &DMatrix<f64>, load: &DVector<f64>) -> Option<DVector<f64>> {
        let within = self.room.tr_mul(masses) * &self.room;
        let size = masses.trace();
        let lower = within.cholesky()?.l();
        if lower
            .diagonal()
            .iter()
            .any(|x| *x <= MASSLESS * size.sqrt())
        {
            return None;
        }
        // In coordinates where the mass is the identity the least constraint is the shortest vector.
        let load_within = lower.solve_lower_triangular(&self.room.tr_mul(load))?;
        let pushes = lower.solve_lower_triangular(&self.pushes)?;
        let left = cone::nearest(&pushes, &load_within).left;
        let twist = &self.room * lower.tr_solve_lower_triangular(&left)?;
        Some(without_stir(self.supports.ranked, twist))
    }

    /// Whether a motion breaks no support and the load does work on it.
    pub(super) fn starts(&self, twist: &DVector<f64>, load: &DVector<f64>) -> bool {
        load.dot(twist) > 0.0 && self.breaks_none(twist)
    }

    /// Whether a motion breaks no support.
    pub(super) fn breaks_none(&self, twist: &DVector<f64>) -> bool {
        let rates = rates(self.supports.ranked, twist);
        let still = STILL * rates.amax();
        let mut grips = self.supports.grips.iter();
        let open: Vec<&RoughContact> = grips
            .by_ref()
            .filter(|grip| rates[grip.push] > still)
            .collect();
        let lets_go = |j: ReactionIndex| open.iter().any(|grip| grip.along.contains(&j));
        let mut two_way = self.supports.two_way.iter();
        let mut one_way = self.supports.one_way.iter();
        two_way.all(|j| rates[*j].abs() <= still || lets_go(*j))
            && one_way.all(|j| rates[*j] >= -still)
    }

    /// One-way reactions whose contact parts or whose cable goes slack on a motion.
    pub(super) fn loosened(&self, twist: &DVector<f64>) -> Vec<ReactionIndex> {
        let rates = rates(self.supports.ranked, twist);
        let parting = STILL * rates.amax();
        let one_way = self.supports.one_way.iter().copied();
        one_way.filter(|j| rates[*j] > parting).collect()
    }
}

/// All sets of a few contacts but the empty one, the smallest first; none of many.
fn sets(count: usize) -> Vec<Vec<usize>> {
    if count > MOST_TRIED {
        return Vec::new();
    }
    let mut sets: Vec<Vec<usize>> = (1_usize..1 << count)
        .map(|set| (0..count).filter(|i| set >> i & 1 == 1).collect())
        .collect();
    sets.sort_by_key(Vec::len);
    sets
}

/// Rates of the reactions on a motion; exact zeros on one that is free, as the rank has it.
fn rates(ranked: &RankedMatrix, twist: &DVector<f64>) -> DVector<f64> {
    let rates = ranked.rates(twist);
    if ranked.is_free(twist, ranked.negligible) {
        rates * 0.0
    } else {
        rates
    }
}

/// A motion that stirs the supports by a negligible part is the free motion beside that part.
fn without_stir(ranked: &RankedMatrix, twist: DVector<f64>) -> DVector<f64> {
    if ranked.is_free(&twist, STILL) {
        &ranked.free * ranked.free.tr_mul(&twist)
    } else {
        twist
    }
}
