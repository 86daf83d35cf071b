//! How an unbalanced load starts the body from rest, given its mass.

use nalgebra::{DMatrix, DVector, Matrix3, Matrix6, Point3, Vector3};

use super::freedom::{self, FreeMotion};
use super::gauss::Allowed;
use super::indices::{CaseIndex, ReactionIndex};
use super::loads::{AppliedLoad, LoadCase};
use super::mass_properties::MassProperties;
use super::matrix::extend;
use super::model::Model;
use super::one_way::CaseBalance;
use super::wrench::Twist;
use crate::indexed::Indexed;
use crate::scene::Space;

/// The body's acceleration at the first instant, from rest.
#[derive(Debug, Clone)]
#[non_exhaustive]
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
    pub loosened: Vec<ReactionIndex>,
    /// Mass that was set in motion, kg.
    pub mass: f64,
}

/// Weights act at the body's centre when they are no further from it than this, relative to the characteristic length.
const CENTRAL: f64 = 1e-9;

impl Acceleration {
    /// The answer for one load case that is not held; `None` where the body has no mass in this case, or not enough of it
    /// to resist the turn (a mass at a point, of a body without volume).
    pub(super) fn of(
        model: &Model,
        allowed: &Allowed,
        case: CaseIndex,
        balance: &CaseBalance,
    ) -> Option<Self> {
        let (mass, masses) = mass_matrix(model, &model.cases[case])?;
        let found = allowed.acceleration(
            &restricted(&masses, model.space),
            &balance.load,
            balance.holds,
        )?;
        let scaled = extend(&found, model.space);
        let twist = Twist::from_scaled(&scaled, model.length);
        let motion = freedom::of_twist(model, &twist)?;
        let along = motion.twist.scaled(model.length);
        let ratio = along.dot(&scaled) / along.norm_squared();
        Some(Self {
            twist,
            backwards: ratio < 0.0,
            size: ratio.abs(),
            loosened: allowed.loosened(&found),
            motion,
            mass,
        })
    }
}

/// Answers for every case; `None` for those at rest or without mass. `uncarried` is a case that is not carried.
pub(super) fn of_cases<'a>(
    model: &Model,
    allowed: &Allowed,
    uncarried: impl Fn(CaseIndex) -> Option<&'a CaseBalance>,
) -> Indexed<CaseIndex, Option<Acceleration>> {
    let cases = model.cases.indices();
    cases
        .map(|case| Acceleration::of(model, allowed, case, uncarried(case)?))
        .collect()
}

/// Mass in kg and mass matrix for scaled twists `(v; L w)` about the model's reference point, kg.
///
/// The body's own shape gives the inertia to the weights that act at its centre, and to a weight that stands alone;
/// other weights at a place are masses at a point, and weights along a path are thin rods.
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
            .mass_properties()
            .filter(|bulk| weights.len() == 1 || is_centre(model, bulk, at));
        let inertia = own.map_or_else(Matrix3::zeros, |bulk| bulk.inertia_per_mass * *mass);
        matrix += of_mass(*mass, &(at - model.reference), &inertia, model.length);
    }
    let mut total = total;
    for (mass, at, inertia) in case.loads.iter().flat_map(rods) {
        total += mass;
        matrix += of_mass(mass, &(at - model.reference), &inertia, model.length);
    }
    (total > 0.0).then_some((total, matrix))
}

/// The pieces of a weight along a path: mass in kg, middle, and inertia about it, kg·m², of a thin rod.
fn rods(load: &AppliedLoad) -> Vec<(f64, Point3<f64>, Matrix3<f64>)> {
    let AppliedLoad::Line {
        path,
        mass: Some(per_metre),
        ..
    } = load
    else {
        return Vec::new();
    };
    let rod = |ends: &[Point3<f64>]| {
        let along = ends[1] - ends[0];
        let mass = per_metre * along.norm();
        let across = Matrix3::identity() * along.norm_squared() - along * along.transpose();
        let middle = nalgebra::center(&ends[0], &ends[1]);
        (mass, middle, across * (mass / 12.0))
    };
    path.windows(2).map(rod).collect()
}

fn is_centre(model: &Model, bulk: &MassProperties, at: &Point3<f64>) -> bool {
    (at - bulk.centre).norm() <= CENTRAL * model.length
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
