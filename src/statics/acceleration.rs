//! Which way an unbalanced load starts the body from rest, given its mass.
//!
//! Gauss's principle of least constraint: among the accelerations that the supports allow, the true one differs
//! least, measured by the mass, from the one that the load alone would give. Contacts may part and cables go
//! slack. (Gauss 1829; for one-way constraints: Moreau 1966, Glocker, *Set-Valued Force Laws*, 2001.)

use nalgebra::{DMatrix, DVector, Matrix3, Matrix6, Point3, Vector3};

use super::diagnosis::Diagnosis;
use super::freedom::{self, FreeMotion};
use super::loads::{AppliedLoad, LoadCase};
use super::matrix::{ReactionMatrix, extend};
use super::matter::Bulk;
use super::model::Model;
use super::one_way::cone;
use super::one_way::{OneWay, is_one_way, load_size, scaled_load};
use super::svd::WideSvd;
use super::wrench::Twist;
use crate::scene::Space;

/// The body's acceleration at the first instant, from rest.
#[derive(Debug, Clone)]
pub struct Acceleration {
    /// Linear part of the body point at the model's reference point, m/s², and angular part, rad/s².
    pub twist: Twist,
    /// Its axis or direction.
    pub motion: FreeMotion,
    /// Whether it goes against the positive sense of `motion`.
    pub backwards: bool,
    /// Angular acceleration about the axis, rad/s²; of a translation the linear one, m/s².
    pub size: f64,
    /// One-way reactions whose contact parts or whose cable goes slack at once.
    pub loosened: Vec<usize>,
    /// Mass that was set in motion, kg.
    pub mass: f64,
}

/// An acceleration below this, relative to that of the load alone, is none.
const STILL: f64 = 1e-9;
/// A mass matrix of size one with a Cholesky diagonal below this is no mass.
const MASSLESS: f64 = 1e-9;
/// Relative rate at which a contact counts as parting.
const PARTING: f64 = 1e-7;

impl Acceleration {
    /// The answer for one load case; `None` where the body stays at rest, has no mass in this case, or not enough
    /// of it to resist the turn (a mass at a point, of a body without volume).
    pub fn of(model: &Model, case: usize) -> Option<Self> {
        let (mass, masses) = mass_matrix(model, &model.cases[case])?;
        let (room, pushes, one_way) = room_and_pushes(model);
        let masses = restricted(&masses, model.space);
        let within = room.tr_mul(&masses) * &room;
        let lower = within.cholesky()?.l();
        if lower
            .diagonal()
            .iter()
            .any(|x| *x <= MASSLESS * mass.sqrt())
        {
            return None;
        }
        // In coordinates where the mass is the identity the least constraint is the shortest vector.
        let load = lower.solve_lower_triangular(&room.tr_mul(&scaled_load(model, case)))?;
        let pushes = lower.solve_lower_triangular(&pushes)?;
        let left = cone::nearest(&pushes, &load).left;
        let size = load_size(model, case);
        if left.norm() * lower.norm() <= STILL * size {
            return None;
        }
        let scaled = extend(
            &(room * lower.tr_solve_lower_triangular(&left)?),
            model.space,
        );
        let rates = pushes.tr_mul(&left);
        let twist = Twist::from_scaled(&scaled, model.length);
        let motion = freedom::of_twist(model, &twist)?;
        let along = motion.twist.scaled(model.length);
        let ratio = along.dot(&scaled) / along.norm_squared();
        Some(Self {
            twist,
            backwards: ratio < 0.0,
            size: ratio.abs(),
            loosened: one_way
                .iter()
                .zip(rates.iter())
                .filter(|(_, rate)| **rate > PARTING * scaled.norm())
                .map(|(j, _)| *j)
                .collect(),
            motion,
            mass,
        })
    }
}

/// Answers for every case of a diagnosed model; `None` for those at rest or without mass.
pub(super) fn of_cases(
    model: &Model,
    diagnosis: &Diagnosis,
    one_way: Option<&OneWay>,
) -> Vec<Option<Acceleration>> {
    let rests = |case: usize| {
        diagnosis.cases[case].possible && one_way.is_none_or(|found| found.cases[case].holds)
    };
    (0..model.cases.len())
        .map(|case| match rests(case) {
            true => None,
            false => Acceleration::of(model, case),
        })
        .collect()
}

/// The twists that two-way reactions leave, as orthonormal columns; one-way columns within them, and which they are.
fn room_and_pushes(model: &Model) -> (DMatrix<f64>, DMatrix<f64>, Vec<usize>) {
    let matrix = ReactionMatrix::new(model);
    let entries = matrix.entries();
    let (one_way, two_way): (Vec<usize>, Vec<usize>) =
        (0..model.reactions.len()).partition(|j| is_one_way(&model.reactions[*j]));
    let svd = WideSvd::new(&entries.select_columns(&two_way));
    let largest = svd.values.first().copied().unwrap_or(0.0);
    let rank = svd
        .values
        .iter()
        .filter(|value| **value > STILL * largest)
        .count();
    let room = svd.left.columns(rank, entries.nrows() - rank).into_owned();
    let pushes = room.tr_mul(&entries.select_columns(&one_way));
    (room, pushes, one_way)
}

/// Mass in kg and mass matrix for scaled twists `(v; L w)` about the model's reference point, kg.
///
/// The body's own shape gives the inertia to the weights that act at its centre, and to a weight that stands alone;
/// other weights at a place are masses at a point.
fn mass_matrix(model: &Model, case: &LoadCase) -> Option<(f64, Matrix6<f64>)> {
    let weights: Vec<(f64, Point3<f64>)> = case
        .loads
        .iter()
        .filter_map(|load| match load {
            AppliedLoad::Weight { at, mass, .. } => Some((*mass, *at)),
            _ => None,
        })
        .collect();
    let total: f64 = weights.iter().map(|(mass, _)| mass).sum();
    let mut matrix = Matrix6::zeros();
    for (mass, at) in &weights {
        let own = model
            .bulk()
            .filter(|bulk| weights.len() == 1 || is_centre(model, bulk, at));
        let inertia = own.map_or_else(Matrix3::zeros, |bulk| bulk.inertia_per_mass * *mass);
        matrix += of_mass(*mass, &(at - model.reference), &inertia, model.length);
    }
    (total > 0.0).then_some((total, matrix))
}

fn is_centre(model: &Model, bulk: &Bulk, at: &Point3<f64>) -> bool {
    (at - bulk.centre).norm() <= STILL * model.length
}

/// Mass matrix of a body of which centre and inertia about it are known.
fn of_mass(mass: f64, arm: &Vector3<f64>, inertia: &Matrix3<f64>, length: f64) -> Matrix6<f64> {
    let cross = arm.cross_matrix();
    let mut matrix = Matrix6::zeros();
    matrix
        .fixed_view_mut::<3, 3>(0, 0)
        .copy_from(&(Matrix3::identity() * mass));
    matrix
        .fixed_view_mut::<3, 3>(0, 3)
        .copy_from(&(-cross * (mass / length)));
    matrix
        .fixed_view_mut::<3, 3>(3, 0)
        .copy_from(&(cross * (mass / length)));
    let about = (inertia - cross * cross * mass) / (length * length);
    matrix.fixed_view_mut::<3, 3>(3, 3).copy_from(&about);
    matrix
}

fn restricted(matrix: &Matrix6<f64>, space: Space) -> DMatrix<f64> {
    let rows: Vec<DVector<f64>> = (0..6)
        .map(|column| super::matrix::restrict(&matrix.column(column).into_owned(), space))
        .collect();
    let half = DMatrix::from_columns(&rows).transpose();
    let columns: Vec<DVector<f64>> = half
        .column_iter()
        .map(|column| {
            let six = nalgebra::Vector6::from_iterator(column.iter().copied());
            super::matrix::restrict(&six, space)
        })
        .collect();
    DMatrix::from_columns(&columns)
}
