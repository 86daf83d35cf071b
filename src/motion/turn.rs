//! How far a body is turned along its way.

use nalgebra::{Isometry3, Quaternion, Vector3};

/// The turn from the start to a placement, with the way it came: turns by 0° and by 360° are told apart.
///
/// A unit quaternion that changes without jumps along the way: the lift of the rotation to the 3-sphere. Turned once
/// around an axis it is −1; a way that leads back and can be drawn together to a point ends at 1.
#[derive(Debug, Clone, Copy)]
pub(super) struct Turn(Quaternion<f64>);

/// Turns whose sine of half the angle is below this have no axis.
const AXISLESS: f64 = 1e-9;

impl Turn {
    /// No turn.
    pub(super) fn none() -> Self {
        Self(Quaternion::identity())
    }

    /// The turn at a placement less than half a turn on.
    pub(super) fn onward(self, to: &Isometry3<f64>) -> Self {
        let next = to.rotation.into_inner();
        Self(if next.dot(&self.0) < 0.0 { -next } else { next })
    }

    /// Its angle, 0 to 2π: not what was turned to and fro on the way, but how far the body is turned.
    pub(super) fn angle(self) -> f64 {
        2.0 * self.0.imag().norm().atan2(self.0.w)
    }

    /// The unit axis of the turn; `None` where there is none.
    pub(super) fn axis(self) -> Option<Vector3<f64>> {
        let axis = self.0.imag();
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
        let mut turn = Turn::none();
        for step in 1..=100 {
            let angle = TAU * f64::from(step) / 100.0;
            turn = turn.onward(&turned(axis, angle));
            assert!((turn.angle() - angle).abs() < 1e-9, "{step}");
        }
    }

    /// A body that leans round in a circle has spun all the way when it comes back, and was turned by twice its lean.
    #[test]
    fn what_is_turned_to_and_fro_does_not_add_up() {
        let (mut turn, mut farthest) = (Turn::none(), 0.0_f64);
        let tilt = 0.4_f64;
        let lean = |phase: f64| turned(Vector3::new(phase.cos(), phase.sin(), 0.0), tilt);
        let home = lean(0.0).inverse();
        for step in 1..=200 {
            turn = turn.onward(&(lean(TAU * f64::from(step) / 200.0) * home));
            farthest = farthest.max(turn.angle());
        }
        assert!(turn.angle() < 1e-9);
        assert!((farthest - 2.0 * tilt).abs() < 1e-9, "{farthest}");
    }

    #[test]
    fn the_angle_grows_at_its_rate() {
        let turn = Turn::none().onward(&turned(Vector3::x(), 1.0));
        assert!((turn.rate(&Vector3::new(0.3, 5.0, 0.0)) - 0.3).abs() < 1e-12);
        assert!((Turn::none().rate(&Vector3::new(3.0, 4.0, 0.0)) - 5.0).abs() < 1e-12);
    }
}
