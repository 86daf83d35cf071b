//! How far a body is turned along its way.

use nalgebra::{Isometry3, Quaternion, Vector3};

/// The turn from the start to a placement, with the way it came: turns by 0° and by 360° are told apart, and turns to one
/// side from those to the other.
///
/// A unit quaternion that changes without jumps along the way: the lift of the rotation to the 3-sphere. Turned once
/// around an axis it is −1; a way that leads back and can be drawn together to a point ends at 1.
///
/// A turn is positive where its axis has a part along the axis that the body first turned about. In space the sign may
/// so change while the angle is not zero: there the turn is by that angle to both sides. Where the axis is square to
/// the first, or there is none, the side is that of the way before.
#[derive(Debug, Clone, Copy)]
pub(super) struct AccumulatedRotation {
    lift: Quaternion<f64>,
    /// 1 for a positive turn, −1 for a negative one.
    side: f64,
}

/// Parts of a turn along the first axis below this, as sines of half the angle, are none: they come of rounding.
const SIDELESS: f64 = 1e-7;
/// Turns whose sine of half the angle is below this have no axis.
const AXISLESS: f64 = 1e-9;

impl AccumulatedRotation {
    /// No turn.
    pub(super) fn none() -> Self {
        Self {
            lift: Quaternion::identity(),
            side: 1.0,
        }
    }

    /// The turn at a placement less than half a turn on; `about` is the axis of positive turns, once there is one.
    pub(super) fn onward(self, to: &Isometry3<f64>, about: Option<&Vector3<f64>>) -> Self {
        let next = to.rotation.into_inner();
        let lift = if next.dot(&self.lift) < 0.0 {
            -next
        } else {
            next
        };
        let along = about.map_or(0.0, |about| lift.imag().dot(about));
        let side = if along.abs() > SIDELESS {
            along.signum()
        } else {
            self.side
        };
        Self { lift, side }
    }

    /// The same turn at the start or a whole turn on, to the same side: for a placement known to be unturned.
    pub(super) fn settled(self) -> Self {
        Self {
            lift: Quaternion::identity() * self.lift.w.signum(),
            side: self.side,
        }
    }

    /// Its angle, 0 to 2π: not what was turned to and fro on the way, but how far the body is turned.
    pub(super) fn angle(self) -> f64 {
        2.0 * self.lift.imag().norm().atan2(self.lift.w)
    }

    /// The angle, negative for a turn to the other side than the first; 0 where it is too small to have a side.
    pub(super) fn signed(self) -> f64 {
        let angle = self.angle();
        if angle <= 2.0 * SIDELESS {
            0.0
        } else {
            angle * self.side
        }
    }

    /// 1 for a turn to the side of the first, −1 for one to the other.
    pub(super) fn side(self) -> f64 {
        self.side
    }

    /// Sine of half the angle, times the cosine between its axis and another.
    pub(super) fn along(self, about: &Vector3<f64>) -> f64 {
        self.lift.imag().dot(about)
    }

    /// Sine of half the angle.
    pub(super) fn sine(self) -> f64 {
        self.lift.imag().norm()
    }

    /// Whether it is more than half a turn.
    pub(super) fn is_beyond_half(self) -> bool {
        self.lift.w < 0.0
    }

    /// The unit axis of the turn; `None` where there is none.
    pub(super) fn axis(self) -> Option<Vector3<f64>> {
        let axis = self.lift.imag();
        (axis.norm() > AXISLESS).then(|| axis.normalize())
    }

    /// Rate of the angle under a spin. (The axis of a rotation is the same seen from the body.)
    pub(super) fn rate(self, spin: &Vector3<f64>) -> f64 {
        self.axis().map_or(spin.norm(), |axis| axis.dot(spin))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{Translation3, UnitQuaternion};
    use std::f64::consts::TAU;

    fn turned(axis: Vector3<f64>, angle: f64) -> Isometry3<f64> {
        let rotation = UnitQuaternion::from_scaled_axis(axis.normalize() * angle);
        Isometry3::from_parts(Translation3::identity(), rotation)
    }

    #[test]
    fn a_whole_turn_about_an_axis_is_one() {
        let axis = Vector3::new(1.0, 2.0, -2.0);
        let mut turn = AccumulatedRotation::none();
        for step in 1..=100 {
            let angle = TAU * f64::from(step) / 100.0;
            turn = turn.onward(&turned(axis, angle), None);
            assert!((turn.angle() - angle).abs() < 1e-9, "{step}");
        }
    }

    /// A body that leans round in a circle has spun all the way when it comes back, and was turned by twice its lean.
    #[test]
    fn what_is_turned_to_and_fro_does_not_add_up() {
        let (mut turn, mut farthest) = (AccumulatedRotation::none(), 0.0_f64);
        let tilt = 0.4_f64;
        let lean = |phase: f64| turned(Vector3::new(phase.cos(), phase.sin(), 0.0), tilt);
        let home = lean(0.0).inverse();
        for step in 1..=200 {
            turn = turn.onward(&(lean(TAU * f64::from(step) / 200.0) * home), None);
            farthest = farthest.max(turn.angle());
        }
        assert!(turn.angle() < 1e-9);
        assert!((farthest - 2.0 * tilt).abs() < 1e-9, "{farthest}");
    }

    #[test]
    fn the_angle_grows_at_its_rate() {
        let turn = AccumulatedRotation::none().onward(&turned(Vector3::x(), 1.0), None);
        assert!((turn.rate(&Vector3::new(0.3, 5.0, 0.0)) - 0.3).abs() < 1e-12);
        assert!(
            (AccumulatedRotation::none().rate(&Vector3::new(3.0, 4.0, 0.0)) - 5.0).abs() < 1e-12
        );
    }

    /// The axis of a turn by nearly 360° was taken from rounding.
    #[test]
    fn a_whole_turn_keeps_its_side() {
        for side in [1.0, -1.0] {
            let (about, axis) = (Vector3::z(), Vector3::z() * side);
            let mut turn = AccumulatedRotation::none();
            for step in 1..=50 {
                let angle = TAU * f64::from(step) / 50.0;
                turn = turn.onward(&turned(axis, angle + 1e-9), Some(&about));
            }
            assert_eq!(turn.settled().signed(), TAU * side);
        }
    }
}
