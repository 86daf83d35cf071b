//! The second-order test for supports that act one way only: contacts may open, cables may go slack.
//!
//! `q + Wᵗ t2` are the second derivatives of what the supports keep at zero. A motion goes on past the first instant when
//! some t2 makes them zero where a support acts both ways and not negative at every contact and cable. Where none does,
//! some self-stress in which contacts only push and cables only pull has `s · q < 0` and stops the motion (Farkas).
//! q is even in the motion, so either sense passes or neither; which way a contact opens beyond second order shows on
//! the path. A rough contact that opens lets go of what its friction held.

use nalgebra::{DMatrix, DVector};

use crate::statics::{
    Diagnosis, Model, ReactionIndex, ReactionMatrix, Sense, SupportIndex, WideSvd, nearest,
};

/// The supports, with the way that each acts.
pub(super) struct SignedSupports<'a> {
    model: &'a Model,
    matrix: DMatrix<f64>,
    /// Singular values below this part of the largest are zero.
    tolerance: f64,
    one_way: Vec<ReactionIndex>,
}

/// Contacts and cables to let go of, and what that leaves.
#[derive(Debug, Clone)]
pub(super) struct ContactRelease {
    /// Reactions, by index.
    pub(super) leaves: Vec<ReactionIndex>,
    /// Rank of the equations that stay.
    pub(super) rank: usize,
    /// Sum of the second derivatives of the gaps that open.
    opening: f64,
    /// Whether each of those is positive, not merely zero.
    opens: bool,
}

/// What becomes of an equation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum EquationRole {
    /// It is met.
    Met,
    /// It is a gap that may open.
    Opening,
    /// It is gone.
    Gone,
}

/// Gaps below this, relative to the second derivatives, are closed: rounding.
pub(super) const FITS: f64 = 1e-7;
/// The shortest vector is longer than the inverse of this only where there is none.
const UNREACHABLE: f64 = 1e-6;
/// Releases are found by trying sets of contacts up to so many sets.
const MOST_SETS: usize = 300;
/// Of more contacts than this that open none is taken back.
const MOST_TAKEN_BACK: usize = 100;
/// Openings that differ by less than this part are equal.
const EQUAL: f64 = 1e-6;

impl ContactRelease {
    /// Whether this is another way as good as one: as few contacts, of which every one opens.
    pub(super) fn rivals(&self, other: &Self) -> bool {
        self.opens && self.leaves.len() == other.leaves.len() && self.leaves != other.leaves
    }
}

impl<'a> SignedSupports<'a> {
    pub(super) fn new(model: &'a Model, diagnosis: &Diagnosis) -> Self {
        let reactions = model.reactions.enumerate();
        Self {
            model,
            matrix: ReactionMatrix::new(model).entries().clone(),
            tolerance: diagnosis.numeric.tolerance.relative(),
            one_way: reactions
                .filter(|(_, reaction)| reaction.sense != Sense::Both)
                .map(|(j, _)| j)
                .collect(),
        }
    }

    /// Whether every support acts both ways.
    pub(super) fn act_both_ways(&self) -> bool {
        self.one_way.is_empty()
    }

    /// Whether a motion with these second derivatives passes, whatever it lets go of.
    pub(super) fn let_pass(&self, q: &DVector<f64>) -> bool {
        self.gaps(q, &self.roles(&self.one_way)).is_some()
    }

    /// Contacts and cables that the body can let go of so that a motion with these second derivatives passes: the
    /// fewest first, then those that open least; `None` where nothing lets it pass. Empty where friction alone is in
    /// the way of every set that was tried.
    pub(super) fn releases(&self, q: &DVector<f64>) -> Option<Vec<ContactRelease>> {
        let gaps = self.gaps(q, &self.roles(&self.one_way))?;
        let mut releases = self.small_releases(q);
        if let Some(release) = self.least_release(q, &gaps.0)
            && !releases.iter().any(|known| known.leaves == release.leaves)
        {
            releases.push(release);
        }
        Some(releases)
    }

    /// Single contacts and pairs.
    fn small_releases(&self, q: &DVector<f64>) -> Vec<ContactRelease> {
        let count = self.one_way.len();
        let singles = self.one_way.iter().map(|j| vec![*j]);
        let pairs = self.one_way.iter().enumerate().flat_map(|(at, first)| {
            let others = self.one_way[at + 1..].iter();
            others.map(|second| vec![*first, *second])
        });
        let fitting = match count {
            _ if count + count * count.saturating_sub(1) / 2 <= MOST_SETS => usize::MAX,
            _ if count <= MOST_SETS => count,
            _ => 0,
        };
        let sets = singles.chain(pairs).take(fitting);
        let mut releases: Vec<ContactRelease> =
            sets.filter_map(|leaves| self.release(q, leaves)).collect();
        let size = EQUAL * scale(q);
        let name = |release: &ContactRelease| {
            release
                .leaves
                .iter()
                .map(|j| &self.model.reactions[*j].name)
                .collect::<Vec<_>>()
        };
        releases.sort_by(|a, b| {
            let steps = |release: &ContactRelease| (release.opening / size).round();
            let by_size = a.leaves.len().cmp(&b.leaves.len());
            by_size
                .then(steps(a).total_cmp(&steps(b)))
                .then_with(|| name(a).cmp(&name(b)))
        });
        releases
    }

    /// From letting go of all that opens, contacts taken back one after the other, those that open least first.
    fn least_release(&self, q: &DVector<f64>, gaps: &DVector<f64>) -> Option<ContactRelease> {
        let opens = |j: &ReactionIndex| gaps[*j] > FITS * scale(q) || self.is_rough(*j);
        let mut leaves: Vec<ReactionIndex> = self.one_way.iter().copied().filter(opens).collect();
        let name = |j: ReactionIndex| &self.model.reactions[j].name;
        let mut order = leaves.clone();
        order.sort_by(|a, b| {
            gaps[*a]
                .total_cmp(&gaps[*b])
                .then_with(|| name(*a).cmp(name(*b)))
        });
        let few = order.len() <= MOST_TAKEN_BACK;
        for j in order.into_iter().filter(|_| few) {
            let kept: Vec<ReactionIndex> =
                leaves.iter().copied().filter(|other| *other != j).collect();
            if self.gaps(q, &self.roles(&kept)).is_some() {
                leaves = kept;
            }
        }
        (!leaves.is_empty()).then_some(())?;
        self.release(q, leaves)
    }

    /// What it takes to leave just these; `None` where the motion does not pass so.
    fn release(&self, q: &DVector<f64>, leaves: Vec<ReactionIndex>) -> Option<ContactRelease> {
        let (gaps, rank) = self.gaps(q, &self.roles(&leaves))?;
        let is_open = |j: &ReactionIndex| gaps[*j] > FITS * scale(q);
        // A rough contact holds along its surface until it is open.
        let slips = leaves.iter().any(|j| self.is_rough(*j) && !is_open(j));
        (!slips).then(|| ContactRelease {
            opening: leaves.iter().map(|j| gaps[*j]).sum(),
            opens: leaves.iter().all(is_open),
            leaves,
            rank,
        })
    }

    fn is_rough(&self, j: ReactionIndex) -> bool {
        let support = self.model.reactions[j].support;
        self.model.supports[support].reactions.len() > 1
    }

    /// Every equation's part when the body may let go of some contacts.
    fn roles(&self, opening: &[ReactionIndex]) -> Vec<EquationRole> {
        let supports: Vec<SupportIndex> = opening
            .iter()
            .map(|j| self.model.reactions[*j].support)
            .collect();
        let reactions = self.model.reactions.iter();
        reactions
            .map(|reaction| match reaction.sense {
                _ if !supports.contains(&reaction.support) => EquationRole::Met,
                Sense::Both => EquationRole::Gone,
                Sense::Push | Sense::Pull => EquationRole::Opening,
            })
            .collect()
    }

    /// Second derivatives of the gaps, where some t2 gives each equation what its role asks for, and the rank of those
    /// that are met.
    fn gaps(&self, q: &DVector<f64>, roles: &[EquationRole]) -> Option<(DVector<f64>, usize)> {
        let of = |role: EquationRole| -> Vec<usize> {
            (0..roles.len()).filter(|j| roles[*j] == role).collect()
        };
        let (met, opening) = (of(EquationRole::Met), of(EquationRole::Opening));
        let slack = FITS * scale(q);
        let held = self.matrix.select_columns(&met);
        let svd = WideSvd::new(&held);
        let floor = self.tolerance * svd.values[0];
        let rank = svd.values.iter().filter(|value| **value > floor).count();
        let wanted = -q.select_rows(&met);
        let mut onward = DVector::zeros(self.matrix.nrows());
        for i in 0..rank {
            let along = svd.weighted.column(i).dot(&wanted);
            onward += svd.left.column(i) * (along / (svd.values[i] * svd.values[i]));
        }
        let missed = held.tr_mul(&onward) - wanted;
        (missed.norm() <= slack).then_some(())?;
        let room = svd.left.columns(rank, svd.left.ncols() - rank).into_owned();
        let gaps = |onward: &DVector<f64>| q + self.matrix.tr_mul(onward);
        let least = -gaps(&onward).select_rows(&opening).add_scalar(slack);
        onward += &room * shortest(&room.tr_mul(&self.matrix.select_columns(&opening)), &least)?;
        let gaps = gaps(&onward);
        let closes = opening.iter().any(|j| gaps[*j] < -2.0 * slack);
        (!closes).then_some((gaps, rank))
    }

    /// A self-stress that the supports can give and that stops motions with each of these second derivatives:
    /// `s · q ≤ −1`. `None` where there is none.
    pub(super) fn hindering(&self, all: &[DVector<f64>]) -> Option<DVector<f64>> {
        let (motions, count) = (self.matrix.nrows(), self.matrix.ncols());
        let column = |j: ReactionIndex, sign: f64| {
            let wrench = (0..motions).map(|row| self.matrix[(row, j.get())]);
            let entries = wrench.chain(all.iter().map(|q| q[j]));
            DVector::from_iterator(motions + all.len(), entries.map(|entry| entry * sign))
        };
        let reactions = || self.model.reactions.indices();
        let pulls = || reactions().filter(|j| self.model.reactions[*j].sense == Sense::Both);
        let spare = (0..all.len()).map(|k| {
            let mut unit = DVector::zeros(motions + all.len());
            unit[motions + k] = 1.0;
            unit
        });
        let pushes = reactions().map(|j| column(j, 1.0));
        let columns: Vec<DVector<f64>> = pushes
            .chain(pulls().map(|j| column(j, -1.0)))
            .chain(spare)
            .collect();
        let mut target = DVector::from_element(motions + all.len(), 1.0);
        target.rows_mut(0, motions).fill(0.0);
        let found = nearest(&DMatrix::from_columns(&columns), &target);
        (found.left.norm() <= FITS).then(|| {
            let mut stress = found.sizes.rows(0, count).into_owned();
            for (j, pull) in pulls().zip(found.sizes.iter().skip(count)) {
                stress[j] -= pull;
            }
            stress
        })
    }
}

/// Second derivatives smaller than one, as of a body that is small against its supports' links, are measured against one.
fn scale(q: &DVector<f64>) -> f64 {
    q.norm().max(1.0)
}

/// The shortest x with `columnⱼ · x ≥ leastⱼ` for all j; `None` where there is none.
///
/// By way of the dual, least squares with unknowns that are not negative. (Lawson & Hanson 1974, chapter 23, problem LDP.)
fn shortest(columns: &DMatrix<f64>, least: &DVector<f64>) -> Option<DVector<f64>> {
    let size = columns.nrows();
    let mut tall = columns.clone().insert_row(size, 0.0);
    tall.row_mut(size).tr_copy_from(least);
    let mut target = DVector::zeros(size + 1);
    target[size] = -1.0;
    let left = nearest(&tall, &target).left;
    (left.norm() > UNREACHABLE).then(|| left.rows(0, size) / -left[size])
}
