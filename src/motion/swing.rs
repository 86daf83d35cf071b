//! A calm swing of a free motion for the eye: how far it goes, and where the body is at each part of it.

use nalgebra::Isometry3;

use super::mobility::Mobility;
use crate::statics::{FreeMotion, MotionKind};

/// Largest turn to each side, rad.
const WIDEST: f64 = 0.7;
/// Travel of the outermost point to each side, relative to the scene's size.
const TRAVEL: f64 = 0.4;
/// Travel of a sliding body to each side, relative to the scene's size.
const SLIDE: f64 = 0.25;

/// Default swing to each side: radians, or metres for a translation.
///
/// `reach` is the largest distance of a body point from the motion's axis, `size` the scene's, both m.
pub fn default_swing(motion: &FreeMotion, reach: f64, size: f64) -> f64 {
    match motion.kind {
        MotionKind::Translation => SLIDE * size,
        _ => {
            let turn = (TRAVEL * size / reach.max(f64::MIN_POSITIVE)).min(WIDEST);
            let advance = SLIDE * size / motion.pitch.abs().max(f64::MIN_POSITIVE);
            turn.min(advance)
        }
    }
}

/// Placement of the body at a part of a swing of `amount` to each side, −1 to 1: on its path, as far as that leads.
pub fn swung(mobility: &Mobility, part: f64, amount: f64) -> Isometry3<f64> {
    let round = mobility.path().is_some_and(|path| path.period().is_some());
    let [back, ahead] = mobility.range();
    let end = match part < 0.0 {
        _ if round => f64::INFINITY,
        true => -back,
        false => ahead,
    };
    mobility.pose_at(part * amount.min(end))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statics::testing::upright_motion as motion;

    #[test]
    fn the_swing_stays_in_view() {
        let turn = default_swing(&motion(MotionKind::Rotation, 0.0), 1.0, 1.0);
        assert!((turn * 1.0 - TRAVEL).abs() < 1e-12);
        let far = default_swing(&motion(MotionKind::Rotation, 0.0), 50.0, 1.0);
        assert!((far * 50.0 - TRAVEL).abs() < 1e-12);
        assert_eq!(
            default_swing(&motion(MotionKind::Rotation, 0.0), 0.0, 1.0),
            WIDEST
        );
        let steep = default_swing(&motion(MotionKind::Screw, -20.0), 1.0, 1.0);
        assert!((steep * 20.0 - SLIDE).abs() < 1e-12);
    }
}
