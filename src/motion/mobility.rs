//! Whether a free motion is real, and where it leads.

use nalgebra::{Isometry3, Point3};

use super::end::Stop;
use super::path::Path;
use super::pose;
use crate::statics::{FreeMotion, ReactionIndex};

/// Whether a free motion is a real one, and where it leads.
#[derive(Debug, Clone)]
#[must_use]
#[non_exhaustive]
pub enum Mobility {
    /// The body truly moves this way, to one side at least: contacts may open for that and cables go slack
    /// ([`Path::leaves`]).
    Real {
        /// Whether the second-order test was needed: false where there is no self-stress to hinder the motion.
        tested: bool,
        /// Where the body truly turns about another line, parallel to that of the free motion and as free at first: a
        /// point of it, m.
        about: Option<Point3<f64>>,
        /// Sets of reactions that the body could let go of just as well as of those that it leaves on the path.
        instead: Vec<Vec<ReactionIndex>>,
        /// The placements it leads through.
        path: Box<Path>,
    },
    /// The body starts to move this way, and its supports stop it at once.
    ///
    /// Tested to second order along this motion; a mechanism that starts out of rest with a cusp would escape the
    /// test unless no combination extends. (Connelly & Servatius 1994, after Tachi 2024.)
    InstantaneousOnly {
        /// The motion, for a small wobble along its twist.
        motion: FreeMotion,
        /// Largest amount of the wobble to each side, rad or m.
        wobble: f64,
        /// Whether some self-stress that the supports can give is definite on all free motions: prestress in it stiffens
        /// them all.
        stiffened: bool,
        /// Whether the motion fails the second-order test, whatever contact opens and cable goes slack; else it passed
        /// and no path was found along it, or none of an arc of 0.02, in lengths of the model and radians, to either
        /// side.
        by_second_order: bool,
    },
}

/// Arc of the wobble of an instantaneous motion to each side, relative to the characteristic length.
pub const WOBBLE: f64 = 0.03;

impl Mobility {
    /// Whether the motion is real.
    pub fn is_real(&self) -> bool {
        matches!(self, Self::Real { .. })
    }

    /// Whether the body starts to move in the negative and in the positive sense.
    pub fn senses(&self) -> [bool; 2] {
        self.path().map_or([true; 2], |path| {
            [path.end_back, path.end_ahead].map(|end| end.stop != Stop::Blocked)
        })
    }

    /// The path of a real motion.
    pub fn path(&self) -> Option<&Path> {
        match self {
            Self::Real { path, .. } => Some(path),
            Self::InstantaneousOnly { .. } => None,
        }
    }

    /// Smallest and largest amount that [`Mobility::pose_at`] tells apart, rad or m.
    pub fn range(&self) -> [f64; 2] {
        match self {
            Self::Real { path, .. } => [path.end_back.amount, path.end_ahead.amount],
            Self::InstantaneousOnly { wobble, .. } => [-wobble, *wobble],
        }
    }

    /// Placement of the body: on its path, or, for an instantaneous motion, along the twist within a small wobble.
    ///
    /// Maps points of the body as written to where they are then. `amount` as for [`pose`]: rad or m at the start.
    pub fn pose_at(&self, amount: f64) -> Isometry3<f64> {
        match self {
            Self::Real { path, .. } => path.pose_at(amount),
            Self::InstantaneousOnly { motion, wobble, .. } => {
                pose(motion, amount.clamp(-wobble, *wobble))
            }
        }
    }
}
