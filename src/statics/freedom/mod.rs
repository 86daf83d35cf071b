//! Free motions: the null space of the reaction matrix in plain words, as rotations, translations and screws.
//!
//! The null space itself is a bare subspace; any basis spans it. The one given here is the plainest: first
//! translations, then rotations about lines through support points and along scene axes where such lines
//! exist, then other rotations, and screws only for what is left.

mod candidates;
mod directions;
mod space;

use nalgebra::{Point3, Unit, Vector3};

use super::matrix::ReactionMatrix;
use super::model::Model;
use super::rank::{NumericRank, Tolerance};
use super::wrench::{Screw, Twist};
use crate::indexed::Indexed;
use crate::statics::indices::{MotionIndex, ReactionIndex};
use space::FreeSpace;

/// What kind of motion a twist is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MotionKind {
    /// About a line, without advance.
    Rotation,
    /// Along a direction, without turning.
    Translation,
    /// About a line with advance along it.
    Screw {
        /// Advance per radian, m; not 0. Positive is right-handed.
        pitch: f64,
    },
}

impl MotionKind {
    /// Advance per radian, m; 0 for a rotation, infinite for a translation. Positive is right-handed.
    pub fn pitch(&self) -> f64 {
        match self {
            Self::Rotation => 0.0,
            Self::Translation => f64::INFINITY,
            Self::Screw { pitch } => *pitch,
        }
    }
}

/// What other motions come with one: the family that it stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Family {
    /// The motion alone.
    Alone,
    /// Any line through this point would do.
    LinesThrough(Point3<f64>),
    /// Any line through this point in the plane with this normal would do.
    PencilAt(Point3<f64>, Unit<Vector3<f64>>),
    /// Any line of the plane through this point with this normal would do.
    LinesInPlane(Point3<f64>, Unit<Vector3<f64>>),
    /// Any line parallel to this one in the plane with this normal would do.
    ParallelsInPlane(Unit<Vector3<f64>>),
    /// Any parallel line would do.
    Parallels,
}

/// One way in which the body can still move, at least for an instant.
#[derive(Debug, Clone, PartialEq)]
pub struct FreeMotion {
    /// Rotation, translation or screw.
    pub kind: MotionKind,
    /// Direction of the axis or of the translation; its largest component is positive.
    pub direction: Unit<Vector3<f64>>,
    /// A point of the axis, m: a support's where it passes through one. For a translation the reference point.
    pub point: Point3<f64>,
    /// The motion at unit rate about the model's reference point: 1 rad/s, or 1 m/s for a translation. Of a free motion it
    /// is free to rounding; axis and pitch are plainer than it where they differ by what is negligible.
    pub twist: Twist,
    /// Which other motions of the same sort there are.
    pub family: Family,
}

/// Relative size below which a length, an angle or a pitch counts as zero once rank is decided.
///
/// Null vectors carry the rounding of the matrix divided by the gap of singular values; this leaves room for it.
pub(super) const NEGLIGIBLE: f64 = 1e-7;

/// As many independent motions as there is freedom, plainest first.
pub(crate) fn free_motions(
    model: &Model,
    numeric: &NumericRank,
) -> Indexed<MotionIndex, FreeMotion> {
    if numeric.free.is_empty() {
        return Indexed::new();
    }
    let space = FreeSpace::new(model, numeric);
    let mut chosen = space.translations();
    let candidates = candidates::rotations_and_screws(model, &space);
    space.complete(&mut chosen, candidates);
    let motions: Vec<FreeMotion> = chosen.iter().map(|screw| tidy(model, screw)).collect();
    let mut motions = candidates::with_families(model, &space, motions);
    for motion in &mut motions {
        motion.make_free(&space);
    }
    motions.into()
}

/// What would be free without some of the reactions, by index: as many independent motions as that leaves.
pub fn motions_without(
    model: &Model,
    released: &[ReactionIndex],
    tolerance: Tolerance,
) -> Vec<FreeMotion> {
    let rest = model.without(released);
    let numeric = NumericRank::new(&ReactionMatrix::new(&rest), tolerance);
    free_motions(&rest, &numeric).into_iter().collect()
}

impl FreeMotion {
    /// Replaces a twist that is only nearly free, since it was made plain, by the nearest free one.
    fn make_free(&mut self, space: &FreeSpace) {
        let scaled = self.twist.scaled(space.length).unit();
        if space.residual(&scaled) <= ROUNDING {
            return;
        }
        let free = Twist::from_scaled(&space.projected(&scaled), space.length);
        let rate = match self.kind {
            MotionKind::Translation => free.linear.norm(),
            MotionKind::Rotation | MotionKind::Screw { .. } => free.angular.norm(),
        };
        self.twist = Twist {
            linear: free.linear / rate,
            angular: free.angular / rate,
        };
    }

    /// The axis and pitch of the motion.
    pub fn screw(&self) -> Screw {
        Screw {
            direction: self.direction,
            point: self.point,
            pitch: self.kind.pitch(),
        }
    }

    /// Any twist about the model's reference point as a motion, free or not; `None` for the zero twist.
    pub fn of_twist(model: &Model, twist: &Twist) -> Option<Self> {
        of_twist(model, twist)
    }
}

/// Any twist about the model's reference point as a motion; `None` for the zero twist.
pub(super) fn of_twist(model: &Model, twist: &Twist) -> Option<FreeMotion> {
    let screw = twist.screw(&model.reference, model.length, NEGLIGIBLE)?;
    Some(tidy(model, &screw))
}

/// A motion with canonical sign, exact zeros, and its point at a support where the axis passes one.
fn tidy(model: &Model, screw: &Screw) -> FreeMotion {
    let direction = tidy_direction(&screw.direction);
    let kind = if screw.pitch.is_infinite() {
        MotionKind::Translation
    } else if screw.pitch.abs() <= NEGLIGIBLE * model.length {
        MotionKind::Rotation
    } else {
        MotionKind::Screw { pitch: screw.pitch }
    };
    let point = match kind {
        MotionKind::Translation => model.reference,
        MotionKind::Rotation | MotionKind::Screw { .. } => point_on_axis(model, screw),
    };
    let tidied = Screw {
        direction,
        point,
        pitch: kind.pitch(),
    };
    FreeMotion {
        kind,
        direction,
        point,
        twist: Twist::of_screw(&tidied, &model.reference),
        family: Family::Alone,
    }
}

fn point_on_axis(model: &Model, screw: &Screw) -> Point3<f64> {
    let through = model.supports.iter().find(|support| {
        distance_to_line(&support.point, &screw.point, &screw.direction)
            <= NEGLIGIBLE * model.length
    });
    through.map_or_else(
        || snapped(&screw.point, model.length),
        |support| support.point,
    )
}

/// Distance of a point from a line, m.
pub(super) fn distance_to_line(
    point: &Point3<f64>,
    through: &Point3<f64>,
    direction: &Unit<Vector3<f64>>,
) -> f64 {
    (point - through).cross(direction).norm()
}

/// The same line direction with its largest component positive and rounding noise removed.
pub(super) fn tidy_direction(direction: &Unit<Vector3<f64>>) -> Unit<Vector3<f64>> {
    let clean = direction.map(|x| if x.abs() < ROUNDING { 0.0 } else { x });
    // The first of the components that are largest to within rounding, so that (1, −1) keeps one sign.
    let largest = clean.amax();
    let leading = clean
        .iter()
        .find(|x| x.abs() > largest * (1.0 - NEGLIGIBLE))
        .copied();
    // Adding zero makes one of the two zeros.
    Unit::new_normalize((clean * leading.unwrap_or(1.0).signum()).add_scalar(0.0))
}

fn snapped(point: &Point3<f64>, length: f64) -> Point3<f64> {
    point.map(|x| if x.abs() < ROUNDING * length { 0.0 } else { x })
}

/// Relative rounding noise of computed coordinates and twists.
const ROUNDING: f64 = 1e-12;
