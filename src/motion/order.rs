//! Real or only for an instant: whether first-order motions extend to second order.
//!
//! The motion t extends when some t2 solves `Wᵗ t2 = −q(t)`, with q the second derivatives of the supports' equations
//! along `exp(s t)`: when every self-stress s has `s · q(t) = 0`. Where one self-stress that the supports can give makes
//! `s · q` negative on all free motions, prestress stiffens them all. (Calladine & Pellegrino 1991; Connelly &
//! Whiteley 1996.) What contacts that may open change is for [`signed`](super::signed).

use nalgebra::{DMatrix, DVector};

use super::constraints::Constraints;
use super::openings::openings;
use super::quadrics::{Quadrics, Searched, Zeros};
use super::signed::{FITS, SignedSupports};
use crate::statics::{Model, ReactionMatrix, RelativeTwist, ScaledTwist, WideSvd};

/// What the second-order test says about all combinations of the free motions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum CombinedMotions {
    /// No self-stress, so nothing is in the way of any combination.
    Unhindered,
    /// Every combination extends to second order; where contacts have to open for that, every one that was tried.
    AllExtend,
    /// No combination does: some self-stress that the supports can give is definite, and prestress in it stiffens every
    /// free motion.
    NoneExtends,
    /// Some combinations extend and some do not.
    SomeExtend,
    /// Not decided: several self-stresses, none found that is definite, and too many motions to try all combinations.
    Undecided,
}

/// The second-order test of the free motions, every support taken as acting both ways unless said otherwise.
#[derive(Debug, Clone)]
pub struct SecondOrder {
    /// For each free motion: what the self-stresses leave of q, over the size of q or one.
    misfits: Vec<f64>,
    together: CombinedMotions,
    /// For each self-stress of a basis, its form on the free motions, f × f; only those that are not zero.
    forms: Vec<DMatrix<f64>>,
    parts: SecondDerivatives,
    redundancy: usize,
}

impl SecondOrder {
    /// Tests motions `(v / L; w)` of unit length, one by one and together.
    pub(super) fn new(
        supports: &SignedSupports,
        model: &Model,
        constraints: &Constraints,
        motions: &[RelativeTwist],
    ) -> Self {
        let matrix = ReactionMatrix::new(model);
        let svd = WideSvd::new(matrix.entries());
        let rank = model.space.motions() - motions.len();
        // The part of q that no t2 can take away: a self-stress itself, or zero.
        let left_over = |q: &DVector<f64>| {
            let mut rest = q.clone();
            for i in 0..rank {
                let row = svd.weighted.column(i) / svd.values[i];
                rest -= &row * row.dot(q);
            }
            rest
        };
        let (mut misfits, mut parts) = (Vec::new(), Vec::new());
        for (i, first) in motions.iter().enumerate() {
            let own = constraints.second_derivatives(first);
            for second in &motions[..i] {
                let both = constraints.second_derivatives(&(*first + *second));
                let other = constraints.second_derivatives(second);
                parts.push(left_over(&((both - &own - other) / 2.0)));
            }
            let rest = left_over(&own);
            misfits.push(rest.norm() / own.norm().max(1.0));
            parts.push(rest);
        }
        let parts = SecondDerivatives {
            parts,
            motions: motions.len(),
        };
        let forms = forms(&parts);
        let redundancy = model.reactions.len() - rank;
        let together = if redundancy == 0 {
            CombinedMotions::Unhindered
        } else {
            together(
                supports,
                &parts,
                &forms,
                misfits.iter().any(|misfit| *misfit <= FITS),
            )
        };
        Self {
            misfits,
            together,
            forms,
            parts,
            redundancy,
        }
    }

    /// Whether a single motion, by its index, extends to second order with every contact kept.
    pub fn extends(&self, motion: usize) -> bool {
        self.misfits[motion] <= FITS
    }

    /// Combinations on which the forms of all self-stresses vanish; `None` where there are no forms.
    pub(super) fn zeros(&self) -> Option<Zeros> {
        Quadrics::zeros(&self.forms)
    }

    /// The same, and of combinations that pass because contacts open and cables go slack one of every kind that is found in
    /// steps of the directions.
    pub(super) fn zeros_and_openings(&self, supports: &SignedSupports) -> Option<Zeros> {
        let mut zeros = self.zeros()?;
        let passes = |motion: &DVector<f64>| supports.let_pass(&self.parts.along(motion));
        zeros.list.extend(openings(self.parts.motions, passes));
        zeros.searched = Searched::InSteps;
        Some(zeros)
    }

    /// Whether every self-stress has a form of its own, so that none speaks only at a higher order.
    pub(super) fn every_stress_has_a_form(&self) -> bool {
        self.forms.len() == self.redundancy
    }

    /// The answer over all combinations.
    pub fn together(&self) -> CombinedMotions {
        self.together
    }

    /// Whether some self-stress that the supports can give stiffens every free motion.
    pub fn stiffens_all(&self) -> bool {
        self.together == CombinedMotions::NoneExtends
    }
}

/// Second derivatives over the free motions, a symmetric form with a value for each reaction: part (i, j) with j <= i
/// stands at i (i + 1) / 2 + j.
#[derive(Debug, Clone)]
struct SecondDerivatives {
    parts: Vec<DVector<f64>>,
    motions: usize,
}

impl SecondDerivatives {
    fn at(&self, i: usize, j: usize) -> &DVector<f64> {
        let (low, high) = (i.min(j), i.max(j));
        &self.parts[high * (high + 1) / 2 + low]
    }

    /// The form that a self-stress makes of them.
    fn form(&self, stress: &DVector<f64>) -> DMatrix<f64> {
        DMatrix::from_fn(self.motions, self.motions, |i, j| stress.dot(self.at(i, j)))
    }

    /// Along a combination of the free motions.
    fn along(&self, motion: &DVector<f64>) -> DVector<f64> {
        let mut q = DVector::zeros(self.parts[0].len());
        for i in 0..self.motions {
            for j in 0..self.motions {
                q += self.at(i, j) * (motion[i] * motion[j]);
            }
        }
        q
    }

    fn units(&self) -> impl Iterator<Item = DVector<f64>> {
        let count = self.motions;
        (0..count).map(move |i| DVector::from_fn(count, |row, _| f64::from(u8::from(row == i))))
    }
}

/// What is said of the combinations of free motions under at least one self-stress.
fn together(
    supports: &SignedSupports,
    parts: &SecondDerivatives,
    forms: &[DMatrix<f64>],
    one_extends: bool,
) -> CombinedMotions {
    if forms.is_empty() {
        return CombinedMotions::AllExtend;
    }
    if is_stiffened(supports, parts) {
        return CombinedMotions::NoneExtends;
    }
    if supports.act_both_ways() {
        return match forms {
            [_] => CombinedMotions::SomeExtend,
            _ if one_extends => CombinedMotions::SomeExtend,
            _ => CombinedMotions::Undecided,
        };
    }
    let eigenvectors = forms.iter().flat_map(|form| {
        let vectors = form.clone().symmetric_eigen().eigenvectors;
        (0..vectors.ncols()).map(move |i| vectors.column(i).into_owned())
    });
    let tried: Vec<bool> = parts
        .units()
        .chain(eigenvectors)
        .map(|motion| supports.let_pass(&parts.along(&motion)))
        .collect();
    match (tried.contains(&true), tried.contains(&false)) {
        (true, false) => CombinedMotions::AllExtend,
        (true, true) => CombinedMotions::SomeExtend,
        _ => CombinedMotions::Undecided,
    }
}

/// Whether a self-stress that the supports can give hinders every combination of the free motions.
///
/// Cutting planes: a self-stress that hinders the motions looked at so far is sought, then the motion that it hinders
/// least is looked at as well.
fn is_stiffened(supports: &SignedSupports, parts: &SecondDerivatives) -> bool {
    let largest = parts
        .parts
        .iter()
        .map(|part| part.norm())
        .fold(0.0, f64::max);
    let mut looked_at: Vec<DVector<f64>> = parts
        .units()
        .map(|unit| parts.along(&unit) / largest)
        .collect();
    for _ in 0..MOST_CUTS {
        let Some(stress) = supports.hindering(&looked_at) else {
            return false;
        };
        let form = -parts.form(&stress);
        let eigen = form.clone().symmetric_eigen();
        let lowest = eigen.eigenvalues.imin();
        if eigen.eigenvalues[lowest] > DEFINITE * form.norm() {
            return true;
        }
        looked_at.push(parts.along(&eigen.eigenvectors.column(lowest).into_owned()) / largest);
    }
    false
}

/// Forms of an orthonormal basis of what the parts span; only those that are not zero.
fn forms(parts: &SecondDerivatives) -> Vec<DMatrix<f64>> {
    let largest = parts
        .parts
        .iter()
        .map(|part| part.norm())
        .fold(1.0, f64::max);
    let mut basis: Vec<DVector<f64>> = Vec::new();
    for part in &parts.parts {
        let mut rest = part.clone();
        for _ in 0..2 {
            for unit in &basis {
                rest -= unit * unit.dot(&rest);
            }
        }
        if rest.norm() > FITS * largest {
            basis.push(rest.normalize());
        }
    }
    basis.iter().map(|stress| parts.form(stress)).collect()
}

/// Motions that a stiffening self-stress is fitted to at most.
const MOST_CUTS: usize = 100;
/// A form counts as definite when its smallest eigenvalue is this part of its size.
const DEFINITE: f64 = 1e-6;

/// A motion of the model other than rest as `(v / L; w)` of unit length, with the length
/// it had.
pub(super) fn unit_motion(model: &Model, scaled: ScaledTwist) -> (RelativeTwist, f64) {
    let motion = scaled.relative(model.length);
    let size = motion.norm();
    (motion / size, size)
}
