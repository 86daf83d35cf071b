//! One placement on the supports' geometry: rigid steps, Newton projection, and the motions free there.

use nalgebra::{
    DMatrix, Isometry3, Matrix3, Point3, Translation3, UnitQuaternion, Vector3, Vector6,
};

use super::constraints::Constraints;
use crate::statics::{RelativeTwist, WideSvd, restrict, stack};

/// A placement counts as on the supports' geometry below this residual, relative to the size.
pub(crate) const ACCEPTED: f64 = 1e-10;
/// Newton's method aims for this.
const AIM: f64 = 1e-14;
const MOST_ITERATIONS: usize = 12;
/// A correction longer than this leaves the neighbourhood.
const LONGEST_CORRECTION: f64 = 0.5;

/// A placement that meets the equations, with what is free there.
#[derive(Debug, Clone)]
pub(super) struct ProjectedPlacement {
    pub(super) pose: Isometry3<f64>,
    /// Orthonormal free motions `(v / L; w)`.
    pub(super) free: Vec<RelativeTwist>,
    /// How well the supports hold all other motions; `None` where rank is 0.
    pub(super) hold: Option<HeldMotions>,
    pub(super) residual: f64,
    /// Length of all corrections.
    pub(super) corrected: f64,
}

/// The motions that the supports hold, and the stresses that hold them.
#[derive(Debug, Clone)]
pub(super) struct HeldMotions {
    /// The smallest singular value that counts, over the largest.
    pub(super) weakest: f64,
    /// Unit vectors, a column for each singular value that counts.
    motions: DMatrix<f64>,
    /// Unit vectors, a row for each.
    stresses: DMatrix<f64>,
}

impl HeldMotions {
    /// Whether a singular value, followed with its sign, has changed it between two placements, or an odd number of them.
    ///
    /// Their product is taken for all: singly, they cannot be told apart where two of them are close.
    pub(super) fn crosses(&self, other: &Self) -> bool {
        let motions = self.motions.tr_mul(&other.motions).determinant();
        let stresses = (&self.stresses * other.stresses.transpose()).determinant();
        motions.abs().min(stresses.abs()) > ALIKE && motions * stresses < 0.0
    }
}

/// Held motions of two placements this close to being the same are followed from one to the other.
const ALIKE: f64 = 0.5;

/// Moves a placement along a motion `(v / L; w)` held for one unit: a screw about a fixed axis.
pub(super) fn moved(
    constraints: &Constraints,
    pose: &Isometry3<f64>,
    motion: &RelativeTwist,
) -> Isometry3<f64> {
    let linear = motion.fixed_rows::<3>(0) * constraints.length();
    let angular = motion.fixed_rows::<3>(3).into_owned();
    let centre = constraints.centre(pose);
    about(&centre, &advance(&linear, &angular), &angular) * pose
}

fn about(centre: &Point3<f64>, shift: &Vector3<f64>, rotation: &Vector3<f64>) -> Isometry3<f64> {
    let turn = UnitQuaternion::from_scaled_axis(*rotation);
    let place = centre.coords - turn * centre.coords + shift;
    Isometry3::from_parts(Translation3::from(place), turn)
}

/// Displacement of the reference point under a screw motion held for one unit. (Lynch & Park 2017, eq. 3.88.)
fn advance(linear: &Vector3<f64>, angular: &Vector3<f64>) -> Vector3<f64> {
    let angle = angular.norm();
    let cross = Matrix3::new(
        0.0, -angular.z, angular.y, angular.z, 0.0, -angular.x, -angular.y, angular.x, 0.0,
    );
    let square = angle * angle;
    let (first, second) = if angle < SMALL_ANGLE {
        (0.5 - square / 24.0, 1.0 / 6.0 - square / 120.0)
    } else {
        (
            (1.0 - angle.cos()) / square,
            (angle - angle.sin()) / (square * angle),
        )
    };
    linear + cross * linear * first + cross * (cross * linear) * second
}

/// Below it two terms of the series are exact to rounding.
const SMALL_ANGLE: f64 = 1e-3;

/// The placement nearest to one off the supports' geometry, by Newton's method with `rank` equations counted
/// as independent; `None` where it does not get there.
pub(super) fn project(
    constraints: &Constraints,
    start: &Isometry3<f64>,
    rank: usize,
) -> Option<ProjectedPlacement> {
    let (mut pose, mut corrected) = (*start, 0.0);
    let mut before = f64::INFINITY;
    for _ in 0..MOST_ITERATIONS {
        let residuals = constraints.residuals(&pose);
        let residual = if residuals.is_empty() {
            0.0
        } else {
            residuals.amax()
        };
        let svd = WideSvd::new(&constraints.columns(&pose));
        // Rounding keeps it from shrinking further; a few more steps would change nothing.
        if residual <= AIM || (residual <= ACCEPTED && residual >= before / 2.0) {
            return Some(foothold(constraints, pose, &svd, rank, residual, corrected));
        }
        before = residual;
        let floor = svd.values[0] * f64::EPSILON;
        let mut step = nalgebra::DVector::zeros(svd.left.nrows());
        for i in (0..rank).filter(|i| svd.values[*i] > floor) {
            let along = svd.weighted.column(i).dot(&residuals);
            step -= svd.left.column(i) * (along / (svd.values[i] * svd.values[i]));
        }
        corrected += step.norm();
        if corrected.is_nan() || corrected > LONGEST_CORRECTION {
            return None;
        }
        pose = moved(constraints, &pose, &constraints.widened(&step));
        pose.rotation.renormalize_fast();
    }
    None
}

fn foothold(
    constraints: &Constraints,
    pose: Isometry3<f64>,
    svd: &WideSvd,
    rank: usize,
    residual: f64,
    corrected: f64,
) -> ProjectedPlacement {
    let vector = |i: usize| constraints.widened(&svd.left.column(i).into_owned());
    let hold = rank.checked_sub(1).map(|last| HeldMotions {
        weakest: svd.values[last] / svd.values[0],
        motions: svd.left.columns(0, rank).into_owned(),
        stresses: DMatrix::from_fn(rank, svd.weighted.nrows(), |i, j| {
            svd.weighted[(j, i)] / svd.values[i].max(f64::MIN_POSITIVE)
        }),
    });
    ProjectedPlacement {
        pose,
        free: (rank..svd.left.ncols()).map(vector).collect(),
        hold,
        residual,
        corrected,
    }
}

impl ProjectedPlacement {
    /// The unit free motion closest to a motion; with the cosine between them.
    pub(super) fn nearest_free(&self, motion: &RelativeTwist) -> Option<(RelativeTwist, f64)> {
        let projected = self.free.iter().fold(Vector6::zeros(), |sum, free| {
            sum + **free * free.dot(motion)
        });
        let cosine = projected.norm() / motion.norm();
        (cosine > 0.0).then(|| (RelativeTwist::of(projected.normalize()), cosine))
    }
}

/// The same screw motion seen at the reference point after it has moved from one placement to another.
pub(super) fn carried(
    constraints: &Constraints,
    motion: &RelativeTwist,
    from: &Isometry3<f64>,
    to: &Isometry3<f64>,
) -> RelativeTwist {
    let shift = (constraints.centre(to) - constraints.centre(from)) / constraints.length();
    let angular = motion.fixed_rows::<3>(3).into_owned();
    let linear = motion.fixed_rows::<3>(0) + angular.cross(&shift);
    RelativeTwist::of(stack(&linear, &angular))
}

/// The screw motion `(v / L; w)` that leads in one unit from one placement to another: the inverse of [`moved`].
pub(super) fn difference(
    constraints: &Constraints,
    from: &Isometry3<f64>,
    to: &Isometry3<f64>,
) -> RelativeTwist {
    let shift = (constraints.centre(to) - constraints.centre(from)) / constraints.length();
    let turn = (to.rotation * from.rotation.inverse()).scaled_axis();
    let six = stack(&retreat(&shift, &turn), &turn);
    // Out of its plane a body of the plane does not move.
    constraints.widened(&restrict(&six, constraints.space()))
}

/// Inverse of [`advance`] in its first argument. (Lynch & Park 2017, eq. 3.92.)
fn retreat(shift: &Vector3<f64>, angular: &Vector3<f64>) -> Vector3<f64> {
    let (angle, across) = (angular.norm(), angular.cross(shift));
    let second = if angle < SMALL_ANGLE {
        1.0 / 12.0 + angle * angle / 720.0
    } else {
        let half = angle / 2.0;
        (1.0 - half / half.tan()) / (angle * angle)
    };
    shift - across / 2.0 + angular.cross(&across) * second
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_screw_is_found_back() {
        for scale in [1e-6, 1e-3, 0.3, 1.0, 2.0] {
            let linear = Vector3::new(0.3, -1.0, 0.4) * scale;
            let angular = Vector3::new(-0.5, 0.7, 1.0) * scale;
            let back = retreat(&advance(&linear, &angular), &angular);
            assert!((back - linear).norm() < 1e-12 * scale, "{scale}");
        }
    }

    /// A quarter turn about z with the reference point on the unit circle. (Closed form.)
    #[test]
    fn a_turn_carries_the_reference_point_along_its_circle() {
        let quarter = std::f64::consts::FRAC_PI_2;
        let shift = advance(
            &Vector3::new(0.0, quarter, 0.0),
            &Vector3::new(0.0, 0.0, quarter),
        );
        assert!((shift - Vector3::new(-1.0, 1.0, 0.0)).norm() < 1e-15);
    }
}
