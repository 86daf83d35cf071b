//! The geometry of the supports as equations on the body's placement, one for each reaction.
//!
//! A force keeps a body point where it is along the force's direction, on a line or plane of the ground, or at its
//! distance from the ground end of a link or taut cable. A couple keeps the body's orientation: two couples keep an axis
//! parallel to itself, one or three stop the turn about their directions. The pins of a universal joint are not
//! written, so it is taken as one that passes the turn on evenly: every rotation has its axis square to the shaft.
//! Contacts keep touching and cables stay taut, but for those that the body is said to leave: what opens there is a gap to
//! be watched, not an equation. Supports have no ends. Surfaces of the ground are flat; a smooth contact on
//! the side of a round part keeps its axis, not a point of its side, at one height over the surface: it rolls.

use nalgebra::{DMatrix, DVector, Isometry3, Point3, Vector3, Vector6};

use crate::scene::Space;
use crate::statics::{
    Model, Reaction, ReactionIndex, ReactionKind, RelativeTwist, SupportIndex, extend, restrict,
    stack,
};

/// The supports' equations, in model order of the reactions.
///
/// # Shape and units
/// Lengths are divided by the model's characteristic length L, so residuals are pure numbers. Motions are
/// `(v / L; w)` with `v` the velocity of the body's reference point where it is: the rows are then those of the
/// [`ReactionMatrix`](crate::statics::ReactionMatrix), transposed, at the start.
#[derive(Debug, Clone)]
pub struct Constraints {
    list: Vec<Constraint>,
    /// Contacts and cables that were left, by reaction.
    left: Vec<(ReactionIndex, Constraint)>,
    reference: Point3<f64>,
    length: f64,
    space: Space,
}

/// One equation. Points, directions and distances as at the start, in metres.
#[derive(Debug, Clone)]
enum Constraint {
    /// A body point keeps its coordinate along a direction of the ground.
    Level {
        point: Point3<f64>,
        direction: Vector3<f64>,
    },
    /// A body point keeps its distance from a point of the ground.
    Distance {
        point: Point3<f64>,
        ground: Point3<f64>,
        distance: f64,
    },
    /// A direction of the body stays square to one of the ground.
    Square {
        body: Vector3<f64>,
        ground: Vector3<f64>,
    },
    /// The body's rotation has no part about a direction of the ground.
    Turn { axis: Vector3<f64> },
}

impl Constraints {
    /// The equations of a model's supports.
    pub fn new(model: &Model) -> Self {
        Self::leaving(model, &[])
    }

    /// The equations without those of some contacts and cables, given by their one-way reactions; what a rough contact
    /// holds along its surface goes with its push.
    pub fn leaving(model: &Model, left: &[ReactionIndex]) -> Self {
        let supports: Vec<SupportIndex> =
            left.iter().map(|j| model.reactions[*j].support).collect();
        let reactions = model.reactions.iter();
        Self {
            list: reactions
                .filter(|reaction| !supports.contains(&reaction.support))
                .map(|reaction| constraint(model, reaction))
                .collect(),
            left: left
                .iter()
                .map(|j| (*j, constraint(model, &model.reactions[*j])))
                .collect(),
            reference: model.reference,
            length: model.length,
            space: model.space,
        }
    }

    /// Reactions of the contacts and cables that were left.
    pub fn left(&self) -> impl ExactSizeIterator<Item = ReactionIndex> + '_ {
        self.left.iter().map(|(reaction, _)| *reaction)
    }

    /// How far each contact and cable that was left is open or slack, relative to the characteristic length; zero at the
    /// start, negative where the body would be in the surface or the cable longer than it is.
    pub fn gaps(&self, pose: &Isometry3<f64>) -> Vec<f64> {
        let left = self.left.iter();
        left.map(|(_, constraint)| self.residual(constraint, pose))
            .collect()
    }

    /// Rates of the gaps under a motion `(v / L; w)` at a placement.
    pub(super) fn gap_rates(&self, pose: &Isometry3<f64>, motion: &RelativeTwist) -> Vec<f64> {
        let left = self.left.iter();
        left.map(|(_, constraint)| self.gradient(constraint, pose).dot(motion))
            .collect()
    }

    /// The same equations with another body point as the reference point of motions.
    pub(super) fn seen_from(&self, reference: Point3<f64>) -> Self {
        Self {
            reference,
            ..self.clone()
        }
    }

    /// Where the body's reference point is at a placement.
    pub(super) fn centre(&self, pose: &Isometry3<f64>) -> Point3<f64> {
        pose * self.reference
    }

    /// The space in which the body moves.
    pub(super) fn space(&self) -> Space {
        self.space
    }

    /// Characteristic length, m.
    pub(super) fn length(&self) -> f64 {
        self.length
    }

    /// How far each equation is from being met at a placement of the body; zeros at the start.
    pub fn residuals(&self, pose: &Isometry3<f64>) -> DVector<f64> {
        let residuals = self.list.iter();
        let residuals = residuals.map(|constraint| self.residual(constraint, pose));
        DVector::from_iterator(self.list.len(), residuals)
    }

    fn residual(&self, constraint: &Constraint, pose: &Isometry3<f64>) -> f64 {
        match constraint {
            Constraint::Level { point, direction } => {
                (pose * point - point).dot(direction) / self.length
            }
            Constraint::Distance {
                point,
                ground,
                distance,
            } => {
                // Differences of squares as products, so that nothing cancels.
                let (before, moved) = (point - ground, pose * point - point);
                -(2.0 * before + moved).dot(&moved) / (2.0 * distance * self.length)
            }
            Constraint::Square { body, ground } => (pose.rotation * body).dot(ground),
            Constraint::Turn { axis } => 2.0 * half_turn(pose).1.dot(axis),
        }
    }

    /// Largest residual, relative to the characteristic length.
    pub fn largest_residual(&self, pose: &Isometry3<f64>) -> f64 {
        self.residuals(pose).amax()
    }

    /// Transposed Jacobian at a placement: one column for each equation, rows `vx vy vz wx wy wz` or `vx vy wz`.
    pub fn columns(&self, pose: &Isometry3<f64>) -> DMatrix<f64> {
        let mut columns = DMatrix::zeros(self.space.motions(), self.list.len());
        for (mut column, constraint) in columns.column_iter_mut().zip(&self.list) {
            let six = self.gradient(constraint, pose);
            match self.space {
                Space::Spatial => column.copy_from(&six),
                Space::Planar => column.copy_from(&restrict(&six, self.space)),
            }
        }
        columns
    }

    fn gradient(&self, constraint: &Constraint, pose: &Isometry3<f64>) -> Vector6<f64> {
        let force = |point: &Point3<f64>, along: Vector3<f64>| {
            let arm = pose * point - self.centre(pose);
            stack(&along, &(arm.cross(&along) / self.length))
        };
        let couple = |about: Vector3<f64>| stack(&Vector3::zeros(), &about);
        match constraint {
            Constraint::Level { point, direction } => force(point, *direction),
            Constraint::Distance {
                point,
                ground,
                distance,
            } => force(point, (ground - pose * point) / *distance),
            Constraint::Square { body, ground } => couple((pose.rotation * body).cross(ground)),
            Constraint::Turn { axis } => {
                let (real, vector) = half_turn(pose);
                couple(axis * real + vector.cross(axis))
            }
        }
    }

    /// Second derivative of each residual along `exp(s t)` at the start, for a motion `(v / L; w)`.
    pub(super) fn second_derivatives(&self, motion: &RelativeTwist) -> DVector<f64> {
        let linear = motion.fixed_rows::<3>(0) * self.length;
        let angular = motion.fixed_rows::<3>(3).into_owned();
        let at = |point: &Point3<f64>| {
            let velocity = linear + angular.cross(&(point - self.reference));
            (velocity, angular.cross(&velocity))
        };
        let values = self.list.iter().map(|constraint| match constraint {
            Constraint::Level { point, direction } => at(point).1.dot(direction) / self.length,
            Constraint::Distance {
                point,
                ground,
                distance,
            } => {
                let (velocity, acceleration) = at(point);
                let square = velocity.norm_squared() + acceleration.dot(&(point - ground));
                -square / (distance * self.length)
            }
            Constraint::Square { body, ground } => angular.cross(&angular.cross(body)).dot(ground),
            // 2 sin(s |w| / 2) has no second derivative at 0.
            Constraint::Turn { .. } => 0.0,
        });
        DVector::from_iterator(self.list.len(), values)
    }

    /// A motion given in the rows of this space, as `(v / L; w)`.
    pub(super) fn widened(&self, motion: &DVector<f64>) -> RelativeTwist {
        extend(motion, self.space)
    }
}

/// Cosine of half the angle turned, not negative, and the axis times the sine.
fn half_turn(pose: &Isometry3<f64>) -> (f64, Vector3<f64>) {
    let quaternion = pose.rotation.quaternion();
    let sign = if quaternion.w < 0.0 { -1.0 } else { 1.0 };
    (quaternion.w * sign, quaternion.imag() * sign)
}

fn constraint(model: &Model, reaction: &Reaction) -> Constraint {
    let support = &model.supports[reaction.support];
    let direction = reaction.direction.into_inner();
    match (reaction.kind, support.ground, support.orientation) {
        (ReactionKind::Force, Some(ground), _) => Constraint::Distance {
            point: support.point,
            ground,
            distance: (ground - support.point).norm(),
        },
        (ReactionKind::Force, None, _) => Constraint::Level {
            point: support.axle.unwrap_or(support.point),
            direction,
        },
        // Two couples are those across an axis, which they keep parallel to itself.
        (ReactionKind::Couple, _, Some(axis)) if couples(model, reaction) == 2 => {
            Constraint::Square {
                body: axis.into_inner(),
                ground: direction.cross(&axis),
            }
        }
        (ReactionKind::Couple, ..) => Constraint::Turn { axis: direction },
    }
}

fn couples(model: &Model, reaction: &Reaction) -> usize {
    let own = &model.supports[reaction.support].reactions;
    let own = model.reactions.slice(own);
    own.iter()
        .filter(|other| other.kind == ReactionKind::Couple)
        .count()
}

#[cfg(test)]
mod tests {
    use nalgebra::{Translation3, UnitQuaternion};

    use super::super::project::moved;
    use super::*;
    use crate::scene::{builtin, read_str};
    use crate::statics::ReactionMatrix;

    /// Every built-in scene, and one with the kinds that those leave out.
    fn models() -> Vec<Model> {
        const REST: &str =
            "(format: 1, body: [Block(centre: (0, 0, 0), size: (1, 1, 1))], supports: [
            UniversalJoint(name: \"U\", at: (1, 0.3, 0), axis: (1, 2, 2)),
            SquareJournal(name: \"V\", at: (0, 1, 0.4), axis: (0, 3, 4), couples: false),
            SquareJournal(name: \"W\", at: (0.5, 1, 2), axis: (1, 0, 1), couples: true),
            SlidingHinge(name: \"X\", at: (0.2, -1, 2), axis: (1, 1, 1), couples: true),
            RailWheel(name: \"Y\", at: (-1, -1, 2), rail: (1, 0, 1), normal: (0, 1, 1)),
            RoughContact(name: \"Z\", at: (-1, 1, -2), normal: (1, 0, 1))])";
        let texts = builtin::all().iter().map(|scene| scene.text);
        texts
            .chain([REST])
            .map(|text| Model::new(&read_str("test", text).unwrap().scene).unwrap())
            .collect()
    }

    fn somewhere(model: &Model) -> Isometry3<f64> {
        match model.space {
            Space::Spatial => Isometry3::from_parts(
                Translation3::new(0.3, -0.2, 0.5),
                UnitQuaternion::from_euler_angles(0.3, -0.5, 0.9),
            ),
            Space::Planar => Isometry3::from_parts(
                Translation3::new(0.3, -0.2, 0.0),
                UnitQuaternion::from_euler_angles(0.0, 0.0, 0.9),
            ),
        }
    }

    fn motions(space: Space) -> Vec<RelativeTwist> {
        let some = Vector6::new(0.3, -0.8, 0.5, 0.7, -0.4, 0.2);
        let planar = Vector6::new(0.3, -0.8, 0.0, 0.0, 0.0, 0.6);
        if space == Space::Planar {
            vec![RelativeTwist::of(planar)]
        } else {
            [some, Vector6::new(-0.1, 0.4, 0.9, 0.1, 0.9, -0.6)]
                .map(RelativeTwist::of)
                .to_vec()
        }
    }

    #[test]
    fn at_the_start_the_jacobian_is_the_reaction_matrix_transposed() {
        for model in models() {
            let constraints = Constraints::new(&model);
            let start = Isometry3::identity();
            let matrix = ReactionMatrix::new(&model);
            let off = constraints.columns(&start) - matrix.entries();
            assert!(off.amax() < 1e-14, "{}: {}", model.title, off.amax());
            assert_eq!(constraints.residuals(&start).amax(), 0.0);
        }
    }

    #[test]
    fn derivatives_agree_with_differences() {
        const H: f64 = 1e-4;
        for model in models() {
            let constraints = Constraints::new(&model);
            let start = somewhere(&model);
            for motion in motions(model.space) {
                let at = |pose: &Isometry3<f64>, s: f64| {
                    constraints.residuals(&moved(&constraints, pose, &(motion * s)))
                };
                let slope = (at(&start, H) - at(&start, -H)) / (2.0 * H);
                let rows = constraints.columns(&start).transpose();
                let expected = rows * restrict(&motion, model.space);
                let scale = 1.0 + expected.amax();
                assert!((slope - expected).amax() < 1e-5 * scale, "{}", model.title);
                let identity = Isometry3::identity();
                let bend = (at(&identity, H) + at(&identity, -H)) / (H * H);
                let expected = constraints.second_derivatives(&motion);
                let scale = 1.0 + expected.amax();
                assert!((bend - expected).amax() < 1e-4 * scale, "{}", model.title);
            }
        }
    }
}
