//! Forces on and motions of a rigid body as six-vectors: wrenches, twists and their screws.
//!
//! Both are tied to a reference point that the caller keeps; `about` moves one to another point.

use nalgebra::{Point3, Unit, Vector3, Vector6};

use super::scaled::{ScaledTwist, ScaledWrench};

/// A force and a moment about a reference point.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Wrench {
    /// Force, N.
    pub force: Vector3<f64>,
    /// Moment about the reference point, N·m.
    pub moment: Vector3<f64>,
}

/// A velocity of a rigid body, seen at a reference point.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Twist {
    /// Velocity of the body point at the reference point, m/s.
    pub linear: Vector3<f64>,
    /// Angular velocity, rad/s.
    pub angular: Vector3<f64>,
}

/// The axis and pitch that a wrench or twist reduces to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screw {
    /// Direction of the axis; the rotation or force is positive along it.
    pub direction: Unit<Vector3<f64>>,
    /// Point of the axis nearest to the reference point. For an infinite pitch: the reference point.
    pub point: Point3<f64>,
    /// Metres of advance per radian (twist) or metres of moment per force (wrench); infinite for a
    /// translation or a pure couple.
    pub pitch: f64,
}

impl Wrench {
    /// Wrench of a force through a point.
    pub fn of_force(force: Vector3<f64>, at: &Point3<f64>, reference: &Point3<f64>) -> Self {
        Self {
            force,
            moment: (at - reference).cross(&force),
        }
    }

    /// Wrench of a couple.
    pub fn of_couple(moment: Vector3<f64>) -> Self {
        Self {
            force: Vector3::zeros(),
            moment,
        }
    }

    /// The same wrench about another reference point.
    #[must_use]
    pub fn about(&self, from: &Point3<f64>, to: &Point3<f64>) -> Self {
        Self {
            force: self.force,
            moment: self.moment + (from - to).cross(&self.force),
        }
    }

    /// `(f; m / length)`: the six-vector in which both halves have the unit of a force.
    pub(crate) fn scaled(&self, length: f64) -> ScaledWrench {
        ScaledWrench::of(stack(&self.force, &(self.moment / length)))
    }

    /// Inverse of [`Wrench::scaled`].
    pub(crate) fn from_scaled(scaled: &ScaledWrench, length: f64) -> Self {
        Self {
            force: scaled.fixed_rows::<3>(0).into_owned(),
            moment: scaled.fixed_rows::<3>(3) * length,
        }
    }

    /// Axis and pitch `q = c + f × m / f·f`, `h = f·m / f·f`; `None` for the zero wrench.
    ///
    /// A force smaller than `zero` times the moment over `length` counts as none: the wrench is then a
    /// couple, of infinite pitch.
    pub fn screw(&self, reference: &Point3<f64>, length: f64, zero: f64) -> Option<Screw> {
        screw_of(&self.force, &self.moment, reference, length, zero)
    }
}

impl std::ops::Add for Wrench {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self {
            force: self.force + other.force,
            moment: self.moment + other.moment,
        }
    }
}

impl Twist {
    /// Rotation at unit rate about a line.
    pub fn rotation(
        direction: &Unit<Vector3<f64>>,
        through: &Point3<f64>,
        reference: &Point3<f64>,
    ) -> Self {
        Self {
            linear: (through - reference).cross(direction),
            angular: direction.into_inner(),
        }
    }

    /// Translation at unit speed.
    pub fn translation(direction: &Unit<Vector3<f64>>) -> Self {
        Self {
            linear: direction.into_inner(),
            angular: Vector3::zeros(),
        }
    }

    /// Twist of unit rotation about a screw, or of unit translation where its pitch is infinite.
    pub fn of_screw(screw: &Screw, reference: &Point3<f64>) -> Self {
        if screw.pitch.is_infinite() {
            return Self::translation(&screw.direction);
        }
        let turn = Self::rotation(&screw.direction, &screw.point, reference);
        Self {
            linear: turn.linear + screw.direction.into_inner() * screw.pitch,
            ..turn
        }
    }

    /// Velocity of a body point, m/s.
    pub fn velocity_at(&self, point: &Point3<f64>, reference: &Point3<f64>) -> Vector3<f64> {
        self.linear + self.angular.cross(&(point - reference))
    }

    /// The same motion seen at another reference point.
    #[must_use]
    pub fn about(&self, from: &Point3<f64>, to: &Point3<f64>) -> Self {
        Self {
            linear: self.velocity_at(to, from),
            angular: self.angular,
        }
    }

    /// Power of a wrench on this motion, W; both about the same reference point.
    pub fn power(&self, wrench: &Wrench) -> f64 {
        self.linear.dot(&wrench.force) + self.angular.dot(&wrench.moment)
    }

    /// Axis and pitch `q = c + w × v / w·w`, `h = w·v / w·w`; `None` for the zero twist.
    ///
    /// A rotation smaller than `zero` times the velocity over `length` counts as none: the motion is then a
    /// translation, of infinite pitch. (Ball 1900, chapter 1; Lynch & Park 2017, section 3.3.2.2.)
    pub fn screw(&self, reference: &Point3<f64>, length: f64, zero: f64) -> Option<Screw> {
        screw_of(&self.angular, &self.linear, reference, length, zero)
    }

    /// `(v; length · w)`: the six-vector in which both halves have the unit of a velocity.
    pub(crate) fn scaled(&self, length: f64) -> ScaledTwist {
        ScaledTwist::of(stack(&self.linear, &(self.angular * length)))
    }

    /// Inverse of [`Twist::scaled`].
    pub(crate) fn from_scaled(scaled: &ScaledTwist, length: f64) -> Self {
        Self {
            linear: scaled.fixed_rows::<3>(0).into_owned(),
            angular: scaled.fixed_rows::<3>(3) / length,
        }
    }
}

/// Two three-vectors above each other.
pub(crate) fn stack(upper: &Vector3<f64>, lower: &Vector3<f64>) -> Vector6<f64> {
    Vector6::new(upper.x, upper.y, upper.z, lower.x, lower.y, lower.z)
}

fn screw_of(
    along: &Vector3<f64>,
    about: &Vector3<f64>,
    reference: &Point3<f64>,
    length: f64,
    zero: f64,
) -> Option<Screw> {
    if along.norm() * length <= zero * about.norm() {
        return Unit::try_new(*about, 0.0).map(|direction| Screw {
            direction,
            point: *reference,
            pitch: f64::INFINITY,
        });
    }
    let square = along.norm_squared();
    Some(Screw {
        direction: Unit::new_normalize(*along),
        point: reference + along.cross(about) / square,
        pitch: along.dot(about) / square,
    })
}
