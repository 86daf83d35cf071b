//! Combinations of free motions that go on past the first instant.
//!
//! A combination goes on only where the forms of all self-stresses vanish on it. Where their derivatives are independent
//! there, and every self-stress has a form, it does go on: divided by the square of the step, the equations left over are
//! the forms and terms that vanish with the step, and the theorem of implicit functions applies. (After Connelly &
//! Whiteley 1996; the argument is that of blowing up a singular point.)

use nalgebra::{DVector, Vector6};

use super::mobility::Mobility;
use super::quadrics::{Searched, Zero, Zeros};
use crate::statics::{FreeMotion, Model, RelativeTwist, Twist};

/// Combinations that may go on.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Combinations {
    /// Those that pass the test of second order, besides the free motions themselves.
    pub list: Vec<Combination>,
    /// How they were searched. After a complete search every other combination is proven to be gone after the first instant,
    /// but for those of the families and the free motions that pass the test themselves.
    pub searched: Searched,
}

/// A combination of free motions that passes the test of second order.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Combination {
    /// The motion that it is.
    pub motion: FreeMotion,
    /// How much of each free motion is in it, rad or m for each one of its own.
    pub weights: Vec<f64>,
    /// Where it leads; an instantaneous motion where no way on was found.
    pub mobility: Mobility,
    /// Whether the second order proves that it goes on.
    pub proven: bool,
    /// Whether it is one of a continuous family that passes the test.
    pub family: bool,
}

/// Parts of a combination below this are none.
const ABSENT: f64 = 1e-6;

impl Combinations {
    /// Follows the common zeros of the forms; each unit motion has the rate of the free motion along it.
    ///
    /// `independent` says that every self-stress has a form of its own, `follow` where a motion leads.
    pub(super) fn new(
        model: &Model,
        zeros: &Zeros,
        (units, rates): (&[RelativeTwist], &[f64]),
        independent: bool,
        follow: impl Fn(&FreeMotion) -> Mobility,
    ) -> Self {
        let combined = zeros.list.iter().filter(|zero| !is_single(&zero.direction));
        let combination = |zero: &Zero| {
            let sum = units
                .iter()
                .zip(zero.direction.iter())
                .fold(Vector6::zeros(), |sum, (unit, part)| sum + **unit * *part);
            let sum = RelativeTwist::of(sum);
            let twist = Twist::from_scaled(&sum.scaled(model.length), model.length);
            let motion = FreeMotion::of_twist(model, &twist)?;
            let unit_rate = motion.twist.scaled(model.length).relative(model.length);
            let size = unit_rate.dot(&sum) / sum.norm_squared();
            let parts = zero.direction.iter().zip(rates);
            Some(Combination {
                weights: parts.map(|(part, rate)| part * size / rate).collect(),
                mobility: follow(&motion),
                motion,
                proven: independent && zero.regular,
                family: zero.family,
            })
        };
        Self {
            list: combined.filter_map(combination).collect(),
            searched: zeros.searched,
        }
    }
}

/// Whether a combination is one of the motions alone.
fn is_single(direction: &DVector<f64>) -> bool {
    direction.iter().filter(|part| part.abs() > ABSENT).count() == 1
}
