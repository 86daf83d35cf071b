//! Finite motion: where the body is after it has moved along a free motion, and whether it can.
//!
//! A free motion is only the first instant. [`Mobilities`] tells which are real and follows them along the supports'
//! own geometry ([`Constraints`]); those that are not are shown as a small wobble along the twist. The way on which a body
//! gets away from one-way supports under a load ([`EscapeRoute`]) is followed likewise, to its one side.

mod accumulated_rotation;
mod circle;
mod closing;
mod combination;
mod constraints;
mod course;
mod end;
mod escape;
mod extremes;
mod mobilities;
mod mobility;
mod node;
mod openings;
mod order;
mod parallel;
mod path;
mod path_length;
mod project;
mod quadrics;
mod root;
mod signed;
mod walk;

pub use combination::{Combination, Combinations};
pub use constraints::Constraints;
pub use course::{Course, Selection, Sides, default_swing};
pub use end::{End, Stop};
pub use escape::EscapeRoute;
pub use mobilities::Mobilities;
pub use mobility::{Mobility, WOBBLE};
pub use order::{CombinedMotions, SecondOrder};
pub use path::Path;
pub use path_length::PathLength;
pub use quadrics::Searched;

use nalgebra::{Isometry3, Translation3, UnitQuaternion};

use crate::statics::{FreeMotion, MotionKind};

/// Placement of the body after moving by `amount` along a free motion: radians about its axis, or metres for a
/// translation. Maps points of the body as written to where they are then; exact for any amount.
pub fn pose(motion: &FreeMotion, amount: f64) -> Isometry3<f64> {
    let direction = motion.direction.into_inner();
    if motion.kind == MotionKind::Translation {
        return Isometry3::from_parts(
            Translation3::from(direction * amount),
            UnitQuaternion::identity(),
        );
    }
    let turn = UnitQuaternion::from_axis_angle(&motion.direction, amount);
    let shift = motion.point.coords - turn * motion.point.coords
        + direction * (motion.kind.pitch() * amount);
    Isometry3::from_parts(Translation3::from(shift), turn)
}
