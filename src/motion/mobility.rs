//! How far each free motion truly goes.

use nalgebra::{Isometry3, Point3, Vector6};

use super::constraints::Constraints;
use super::escape::{self, EscapeRoute};
use super::order::{SecondOrder, Together, unit_motion};
use super::parallel::parallel_turns;
use super::path::Path;
use super::pose;
use crate::statics::{Diagnosis, FreeMotion, Model};

/// Whether a free motion is a real one, and where it leads.
#[derive(Debug, Clone)]
pub enum Mobility {
    /// The body truly moves this way.
    Real {
        /// Whether the second-order test was needed: false where there is no self-stress to hinder the motion.
        tested: bool,
        /// Where the body truly turns about another line, parallel to that of the free motion and as free at first: a
        /// point of it, m.
        about: Option<Point3<f64>>,
        /// The placements it leads through.
        path: Path,
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
        /// Whether some self-stress is definite on all free motions: prestress in it stiffens them all.
        stiffened: bool,
        /// Whether the motion fails the second-order test; else it passed and no path was found along it, or none of an
        /// arc of 0.02, in lengths of the model and radians, to either side.
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

/// The mobility of a model along each of its free motions.
#[derive(Debug, Clone)]
pub struct Mobilities {
    /// One for each free motion of the diagnosis, in its order.
    pub motions: Vec<Mobility>,
    /// How the body gets away from contacts and cables under each load case, in the model's order; `None` where it does not.
    pub escapes: Vec<Option<EscapeRoute>>,
    /// What the second-order test says about their combinations.
    pub together: Together,
    /// Whether there is any self-stress, so that the test decides anything.
    pub self_stressed: bool,
}

impl Mobilities {
    /// Tests and follows every free motion.
    pub fn of(model: &Model, diagnosis: &Diagnosis) -> Self {
        let escapes = escape::routes(model, diagnosis);
        if diagnosis.free_motions.is_empty() {
            return Self {
                motions: Vec::new(),
                escapes,
                together: Together::Unhindered,
                self_stressed: diagnosis.counts.redundancy > 0,
            };
        }
        let constraints = Constraints::new(model);
        let (units, rates): (Vec<Vector6<f64>>, Vec<f64>) = diagnosis
            .free_motions
            .iter()
            .map(|motion| unit_motion(model, &motion.twist.scaled(model.length)))
            .unzip();
        let order = SecondOrder::new(model, &constraints, &units);
        let study = Study {
            model,
            constraints: &constraints,
            rank: diagnosis.counts.rank,
            tested: diagnosis.counts.redundancy > 0,
            order: &order,
        };
        let motions = diagnosis.free_motions.iter().enumerate();
        Self {
            motions: motions
                .map(|(index, motion)| {
                    study.mobility(index, motion, &(units[index] * rates[index]))
                })
                .collect(),
            escapes,
            together: order.together(),
            self_stressed: diagnosis.counts.redundancy > 0,
        }
    }
}

struct Study<'a> {
    model: &'a Model,
    constraints: &'a Constraints,
    rank: usize,
    tested: bool,
    order: &'a SecondOrder,
}

impl Study<'_> {
    fn mobility(&self, index: usize, motion: &FreeMotion, twist: &Vector6<f64>) -> Mobility {
        let extends = self.order.extends(index);
        let follow = |twist: &Vector6<f64>| Path::follow(self.constraints, twist, self.rank);
        let path = extends.then(|| follow(twist)).flatten();
        let path = path.map(|path| (None, path));
        let beside = || {
            let turns = parallel_turns(self.model, self.constraints, motion).into_iter();
            let mut paths = turns.filter_map(|(point, twist)| Some((Some(point), follow(&twist)?)));
            paths.next()
        };
        match path.or_else(|| extends.then(beside).flatten()) {
            Some((about, path)) => Mobility::Real {
                tested: self.tested,
                about,
                path,
            },
            None => Mobility::InstantaneousOnly {
                motion: motion.clone(),
                wobble: WOBBLE / twist.norm(),
                stiffened: self.order.stiffens_all(),
                by_second_order: !extends,
            },
        }
    }
}
