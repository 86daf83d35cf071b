//! Real or only for an instant: whether first-order motions extend to second order.
//!
//! The motion t extends when some t2 solves `Wᵗ t2 = −q(t)`, with q the second derivatives of the supports' equations
//! along `exp(s t)`: when every self-stress s has `s · q(t) = 0`. Where one self-stress makes `s · q` definite on all
//! free motions, prestress stiffens them all. (Calladine & Pellegrino 1991; Connelly & Whiteley 1996.)

use nalgebra::{DMatrix, DVector, Vector6};

use super::constraints::Constraints;
use crate::statics::{Model, ReactionMatrix, WideSvd};

/// What the second-order test says about all combinations of the free motions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Together {
    /// No self-stress, so nothing is in the way of any combination.
    Unhindered,
    /// Every combination extends to second order.
    AllExtend,
    /// No combination does: some self-stress is definite, and prestress in it stiffens every free motion.
    NoneExtends,
    /// Some combinations extend and some do not.
    SomeExtend,
    /// Several self-stresses, none found that is definite.
    Undecided,
}

/// The second-order form of every self-stress on the free motions.
#[derive(Debug, Clone)]
pub struct SecondOrder {
    /// For each self-stress of a basis, its form on the free motions, f × f; only those that are not zero.
    forms: Vec<DMatrix<f64>>,
    /// For each free motion: what the self-stresses leave of q, over the size of q or one.
    misfits: Vec<f64>,
    redundancy: usize,
}

/// A misfit below this is rounding: null vectors carry that of the matrix over the gap of its singular values.
const FITS: f64 = 1e-7;

impl SecondOrder {
    /// Tests motions `(v / L; w)` of unit length, one by one and together.
    pub fn new(model: &Model, constraints: &Constraints, motions: &[Vector6<f64>]) -> Self {
        let redundancy;
        let mut misfits = Vec::new();
        let mut parts = Vec::new();
        {
            let matrix = ReactionMatrix::new(model);
            let svd = WideSvd::new(matrix.entries());
            let rank = model.space.motions() - motions.len();
            redundancy = model.reactions.len() - rank;
            // The part of q that no t2 can take away: a self-stress itself, or zero.
            let left_over = |q: &DVector<f64>| {
                let mut rest = q.clone();
                for i in 0..rank {
                    let row = svd.weighted_right.row(i).transpose() / svd.values[i];
                    rest -= &row * row.dot(q);
                }
                rest
            };
            for (i, first) in motions.iter().enumerate() {
                let own = constraints.second_derivatives(first);
                for second in &motions[..i] {
                    let both = constraints.second_derivatives(&(first + second));
                    let other = constraints.second_derivatives(second);
                    parts.push(left_over(&((both - &own - other) / 2.0)));
                }
                let rest = left_over(&own);
                misfits.push(rest.norm() / own.norm().max(1.0));
                parts.push(rest);
            }
        }
        Self {
            forms: forms(&parts, motions.len()),
            misfits,
            redundancy,
        }
    }

    /// Whether a single motion, by its index, extends to second order.
    pub fn extends(&self, motion: usize) -> bool {
        self.misfits[motion] <= FITS
    }

    /// What is left of the second derivatives along a motion, by its index; 0 where it extends.
    pub fn misfit(&self, motion: usize) -> f64 {
        self.misfits[motion]
    }

    /// The answer over all combinations.
    pub fn together(&self) -> Together {
        match self.forms.as_slice() {
            _ if self.redundancy == 0 => Together::Unhindered,
            [] => Together::AllExtend,
            forms if definite_combination(forms).is_some() => Together::NoneExtends,
            [_] => Together::SomeExtend,
            _ if (0..self.misfits.len()).any(|motion| self.extends(motion)) => Together::SomeExtend,
            _ => Together::Undecided,
        }
    }

    /// Whether some self-stress stiffens every free motion.
    pub fn stiffens_all(&self) -> bool {
        self.together() == Together::NoneExtends
    }
}

/// Forms of an orthonormal basis of what the parts span; part (i, j) with j <= i stands at i (i + 1) / 2 + j.
fn forms(parts: &[DVector<f64>], motions: usize) -> Vec<DMatrix<f64>> {
    let largest = parts.iter().map(|part| part.norm()).fold(1.0, f64::max);
    let mut basis: Vec<DVector<f64>> = Vec::new();
    for part in parts {
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
    let entry = |stress: &DVector<f64>, i: usize, j: usize| {
        let (low, high) = (i.min(j), i.max(j));
        // Row by row as they were made: those before the diagonal, then the diagonal.
        stress.dot(&parts[high * (high + 1) / 2 + low])
    };
    basis
        .iter()
        .map(|stress| DMatrix::from_fn(motions, motions, |i, j| entry(stress, i, j)))
        .collect()
}

/// Steps of the search for a definite combination.
const MOST_STEPS: usize = 200;
/// A form counts as definite when its smallest eigenvalue is this part of its size.
const DEFINITE: f64 = 1e-6;

/// Coefficients of a combination of forms that is positive definite, if the search finds one.
///
/// The smallest eigenvalue is a concave function of the coefficients: climbed along its subgradient, the form's values
/// on the eigenvector. What is returned is checked, so only "none found" is uncertain, and with one form not even that.
fn definite_combination(forms: &[DMatrix<f64>]) -> Option<Vec<f64>> {
    let traces = DVector::from_iterator(forms.len(), forms.iter().map(DMatrix::trace));
    let mut at = traces.clone().try_normalize(0.0)?;
    for step in 0..MOST_STEPS {
        let sum = forms.iter().zip(at.iter()).fold(
            DMatrix::zeros(forms[0].nrows(), forms[0].ncols()),
            |sum, (form, c)| sum + form * *c,
        );
        let eigen = sum.clone().symmetric_eigen();
        let lowest = eigen.eigenvalues.imin();
        if eigen.eigenvalues[lowest] > DEFINITE * sum.norm() {
            return Some(at.iter().copied().collect());
        }
        if forms.len() == 1 {
            return None;
        }
        let vector = eigen.eigenvectors.column(lowest).into_owned();
        let slope = DVector::from_iterator(
            forms.len(),
            forms.iter().map(|form| (form * &vector).dot(&vector)),
        );
        let rate = 1.0 / (1.0 + step as f64).sqrt();
        at = (at + slope.try_normalize(0.0)? * rate).try_normalize(0.0)?;
    }
    None
}

/// A motion of the model other than rest as `(v / L; w)` of unit length, with the length
/// it had.
pub(super) fn unit_motion(model: &Model, scaled: &Vector6<f64>) -> (Vector6<f64>, f64) {
    let motion = scaled / model.length;
    let size = motion.norm();
    (motion / size, size)
}
