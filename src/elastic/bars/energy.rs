//! The reactions that balance a load and store the least energy in bars and supports.
//!
//! Of all reactions ρ that balance the demand those are sought with the least complementary energy `½ ρᵗ C ρ + hᵗ ρ`, contacts
//! only pushing and cables only pulling (Castigliano; Menabrea). Reactions are counted in the shares of the ranked matrix, so that
//! a load is carried here just where it is elsewhere. Where some would have to act the wrong way, those that are idle are found as a
//! least-distance problem by least squares with signs (Lawson & Hanson, *Solving Least Squares Problems*, 1974, chapter 23).

use nalgebra::{DMatrix, DVector, SymmetricEigen};

use crate::statics::{WideSvd, nearest};

/// Self-stresses that store less than this part of the largest compliance store nothing: bars do not decide them.
const IDLE: f64 = 1e-10;
/// Reactions below this part of the largest are rounding.
const NOISE: f64 = 1e-9;

/// What is minimised: reactions scaled, couples over the characteristic length.
pub(super) struct EnergyProblem<'a> {
    /// Shares as columns, rank × reactions.
    pub(super) shares: &'a DMatrix<f64>,
    /// Part of a unit share below which it counts as nothing.
    pub(super) negligible: f64,
    /// Displacement at each reaction along it, from a unit of each, m/N; bars and supports together.
    pub(super) compliance: &'a DMatrix<f64>,
    pub(super) one_way: &'a [bool],
    /// The load, in the span of the shares.
    pub(super) demand: DVector<f64>,
    /// Displacement at each reaction from loads and from what is imposed, m.
    pub(super) given: DVector<f64>,
}

/// Why no reactions are found.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum EnergyFault {
    /// Bars and supports leave these, by number, undecided.
    Undecided(Vec<usize>),
    /// The demand is not balanced, or not to within rounding.
    NotBalanced,
}

impl EnergyProblem<'_> {
    /// The reactions, without those that are let go of.
    pub(super) fn least(&self, loose: &[bool]) -> Result<DVector<f64>, EnergyFault> {
        let acting: Vec<usize> = (0..loose.len()).filter(|j| !loose[*j]).collect();
        let (free, idle) = self.least_of(&acting)?;
        if idle.is_empty() {
            return Ok(free);
        }
        let kept: Vec<usize> = acting.into_iter().filter(|j| !idle.contains(j)).collect();
        let (least, wrong) = self.least_of(&kept)?;
        match wrong.is_empty() {
            true => Ok(least),
            false => Err(EnergyFault::NotBalanced),
        }
    }

    /// The least of those that act, as if all acted both ways, and of its one-way ones that then act the wrong way those that are
    /// idle.
    fn least_of(&self, acting: &[usize]) -> Result<(DVector<f64>, Vec<usize>), EnergyFault> {
        let stresses = SelfStresses::of(self, acting)?;
        let mut all = DVector::zeros(self.one_way.len());
        let least = stresses.least();
        let size = least.amax().max(stresses.smallest.amax());
        for (value, j) in least.iter().zip(acting) {
            all[*j] = if value.abs() <= NOISE * size {
                0.0
            } else {
                *value
            };
        }
        let one_way = |k: &usize| self.one_way[acting[*k]];
        let signed: Vec<usize> = (0..acting.len()).filter(one_way).collect();
        if signed.iter().all(|k| all[acting[*k]] >= 0.0) {
            return Ok((all, Vec::new()));
        }
        let idle = stresses.idle(&signed, size);
        Ok((all, idle.into_iter().map(|k| acting[k]).collect()))
    }
}

/// All reactions that balance a demand: the smallest, and self-stresses added to it.
struct SelfStresses {
    smallest: DVector<f64>,
    /// Orthonormal self-stresses, along which the energy has no mixed parts, as columns.
    basis: DMatrix<f64>,
    /// Energy of each, twice, m/N.
    energies: DVector<f64>,
    /// What the smallest and the loads do on each.
    work: DVector<f64>,
}

impl SelfStresses {
    fn of(problem: &EnergyProblem, acting: &[usize]) -> Result<Self, EnergyFault> {
        let shares = problem.shares.select_columns(acting);
        let svd = WideSvd::new(&shares);
        let counted = svd
            .values
            .iter()
            .filter(|value| **value > problem.negligible);
        let rank = counted.count();
        let mut held = svd.weighted.columns(0, rank).into_owned();
        let mut smallest = DVector::zeros(acting.len());
        let mut left = problem.demand.clone();
        for (i, value) in svd.values.iter().take(rank).enumerate() {
            held.column_mut(i).unscale_mut(*value);
            let direction = svd.left.column(i);
            let part = direction.dot(&problem.demand);
            smallest.axpy(-part / value, &held.column(i), 1.0);
            left.axpy(-part, &direction, 1.0);
        }
        if left.norm() > NOISE.max(problem.negligible) * problem.demand.norm() {
            return Err(EnergyFault::NotBalanced);
        }
        let compliance = problem
            .compliance
            .select_rows(acting)
            .select_columns(acting);
        let given = problem.given.select_rows(acting);
        let beside = complement(&held);
        let (energies, basis) = match beside.ncols() {
            0 => (DVector::zeros(0), beside),
            _ => {
                let energy = SymmetricEigen::new(beside.tr_mul(&(&compliance * &beside)));
                (energy.eigenvalues, beside * energy.eigenvectors)
            }
        };
        let floor = IDLE * compliance.diagonal().amax();
        let idle = energies.iter().enumerate();
        let mut undecided: Vec<usize> = idle
            .filter(|(_, value)| **value <= floor)
            .flat_map(|(i, _)| {
                let parts = basis.column(i).into_owned();
                (0..parts.len()).filter(move |k| parts[*k].abs() > UNDECIDED)
            })
            .map(|k| acting[k])
            .collect();
        undecided.sort_unstable();
        undecided.dedup();
        if !undecided.is_empty() {
            return Err(EnergyFault::Undecided(undecided));
        }
        Ok(Self {
            work: basis.tr_mul(&(&compliance * &smallest + given)),
            energies,
            smallest,
            basis,
        })
    }

    fn least(&self) -> DVector<f64> {
        let sizes = -self.work.component_div(&self.energies);
        &self.smallest + &self.basis * sizes
    }

    /// Of some reactions that must not be negative those that are zero where the energy is least.
    ///
    /// With `y = √λ (z + g/λ)` the energy is `½ y·y`, and a reaction is not negative where `A y ≥ b`.
    fn idle(&self, signed: &[usize], size: f64) -> Vec<usize> {
        let roots = self.energies.map(f64::sqrt);
        let widest = roots.amax();
        let free = self.least();
        let count = roots.len();
        let columns = signed.iter().map(|k| {
            let row = self.basis.row(*k).transpose();
            let mut column = row.component_div(&roots) * widest;
            column = column.push(-free[*k] / size);
            column
        });
        let columns: Vec<DVector<f64>> = columns.collect();
        let columns = DMatrix::from_columns(&columns);
        let mut target = DVector::zeros(count + 1);
        target[count] = -1.0;
        let found = nearest(&columns, &target);
        let pressed = signed.iter().zip(found.sizes.iter());
        pressed
            .filter(|(_, size)| **size > 0.0)
            .map(|(k, _)| *k)
            .collect()
    }
}

/// A reaction takes part in a self-stress with more than this part of it.
const UNDECIDED: f64 = 1e-6;

/// Orthonormal columns square to those given, which are orthonormal, and together with them a basis.
fn complement(columns: &DMatrix<f64>) -> DMatrix<f64> {
    let (rows, count) = columns.shape();
    if count == 0 {
        return DMatrix::identity(rows, rows);
    }
    let mut all = DMatrix::identity(rows, rows);
    columns.clone().qr().q_tr_mul(&mut all);
    all.rows(count, rows - count).transpose()
}
