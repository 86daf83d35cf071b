//! How far the loads of a case can grow or shrink while contacts that push and cables that pull carry them.
//!
//! The factors at which a load is carried are an interval, since the loads that are carried make a convex cone. Each of its ends is
//! found from outside: what a factor leaves of the load is a motion that breaks no support, and the factor at which the load does no
//! more work on it is the next to try. The last such motion proves that the load is not carried beyond (Farkas), the reactions at the
//! end itself that it is carried up to there. With friction that the scene limits the cone is round, and the factors tried close in on
//! the end.

use nalgebra::DVector;

use super::escape::{Escape, Escapes};
use super::friction::{LimitedFriction, SlidingOnset};
use super::supports::Supports;
use crate::indexed::Indexed;
use crate::statics::diagnosis::Diagnosis;
use crate::statics::gauss::Allowed;
use crate::statics::indices::CaseIndex;
use crate::statics::loads::LoadCase;
use crate::statics::matrix::{extend, restrict};
use crate::statics::model::Model;
use crate::statics::scaled::ScaledTwist;
use crate::statics::wrench::Wrench;

/// The factors on the variable loads of a case at which the supports carry them beside the permanent ones.
///
/// Permanent are the loads that act in every case; of a scene without cases its weights.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct LoadLimits {
    /// Smallest factor; −∞ where there is none.
    pub least: f64,
    /// Largest factor; ∞ where there is none.
    pub most: f64,
    /// How the body gets away below the smallest.
    pub below: Option<Escape>,
    /// How it gets away beyond the largest.
    pub beyond: Option<Escape>,
    /// What gives way below the smallest, where that is friction with a coefficient.
    pub sliding_below: Option<SlidingOnset>,
    /// What gives way beyond the largest, where that is friction with a coefficient.
    pub sliding_beyond: Option<SlidingOnset>,
}

/// What the search for limits came to.
#[derive(Debug, Clone)]
#[must_use]
#[non_exhaustive]
pub enum LimitsOutcome {
    /// These.
    Found(Box<LoadLimits>),
    /// The search ended without them, as it may where rounding or round cones of friction decide.
    NotFound,
}

impl LimitsOutcome {
    /// The limits, where they were found.
    pub fn limits(&self) -> Option<&LoadLimits> {
        match self {
            Self::Found(limits) => Some(limits),
            Self::NotFound => None,
        }
    }
}

/// Rounds at most; each gives up a motion for good, and a few are usual.
const MOST_ROUNDS: usize = 100;

/// Of every load case that has permanent and variable loads, where some factor carries them.
pub(crate) fn load_limits(
    model: &Model,
    diagnosis: &Diagnosis,
) -> Indexed<CaseIndex, Option<LimitsOutcome>> {
    let supports = Supports::new(model, diagnosis);
    let allowed = Allowed::new(&supports);
    let friction = LimitedFriction::of(&supports);
    let seeker = LimitSeeker {
        escapes: Escapes {
            model,
            supports: &supports,
            allowed: &allowed,
        },
        friction: friction.as_ref(),
    };
    let limits = |case: &LoadCase| seeker.limits(&VariableLoads::of(model, diagnosis, case)?);
    model.cases.map(limits)
}

/// What limits are sought with.
struct LimitSeeker<'a> {
    escapes: Escapes<'a>,
    friction: Option<&'a LimitedFriction>,
}

impl LimitSeeker<'_> {
    /// `None` where no factor is carried.
    fn limits(&self, loads: &VariableLoads) -> Option<LimitsOutcome> {
        let (most, least) = match (self.end(loads, 1.0), self.end(loads, -1.0)) {
            (FactorSearch::End(most), FactorSearch::End(least)) => (most, least),
            (FactorSearch::NoneCarried, _) | (_, FactorSearch::NoneCarried) => return None,
            _ => return Some(LimitsOutcome::NotFound),
        };
        (least.factor <= most.factor).then(|| {
            LimitsOutcome::Found(Box::new(LoadLimits {
                least: least.factor,
                most: most.factor,
                below: self.escape(&least),
                beyond: self.escape(&most),
                sliding_below: self.sliding(&least),
                sliding_beyond: self.sliding(&most),
            }))
        })
    }

    fn sliding(&self, end: &FactorEnd) -> Option<SlidingOnset> {
        let onset = self.friction?.onset(end.motion.as_ref()?);
        (!onset.slides.is_empty()).then_some(onset)
    }

    /// The escape beyond an end; `None` where the body slides, since contacts do not lift off as the motion that is left does.
    fn escape(&self, end: &FactorEnd) -> Option<Escape> {
        match self.sliding(end) {
            Some(_) => None,
            None => self.escapes.along(end.motion.as_ref()?),
        }
    }

    /// What the supports leave of a demand.
    fn left(&self, demand: &DVector<f64>) -> DVector<f64> {
        match self.friction {
            Some(friction) => friction.left(demand),
            None => self.escapes.supports.nearest(demand).left,
        }
    }

    /// The largest factor, or for `sense` −1 the smallest.
    fn end(&self, loads: &VariableLoads, sense: f64) -> FactorSearch {
        let variable = &loads.variable * sense;
        let mut motion = self.left(&variable);
        if motion.norm() <= loads.nothing * variable.norm() {
            let factor = sense * f64::INFINITY;
            return FactorSearch::End(FactorEnd {
                factor,
                motion: None,
            });
        }
        for _ in 0..MOST_ROUNDS {
            let rate = motion.dot(&variable);
            if rate <= 0.0 {
                return FactorSearch::NoneCarried;
            }
            let factor = -motion.dot(&loads.permanent) / rate;
            let demand = &loads.permanent + &variable * factor;
            let size = loads.permanent.norm() + (&variable * factor).norm();
            let left = self.left(&demand);
            if left.norm() <= loads.nothing * size {
                let (factor, motion) = (sense * factor, Some(motion));
                return FactorSearch::End(FactorEnd { factor, motion });
            }
            motion = left;
        }
        FactorSearch::NotFound
    }
}

/// The loads of a case as demands on the supports.
struct VariableLoads {
    permanent: DVector<f64>,
    variable: DVector<f64>,
    /// Part of the loads that counts as nothing.
    nothing: f64,
}

/// An end of the factors that are carried.
struct FactorEnd {
    factor: f64,
    /// What the body does beyond, in the span of the shares; `None` where there is no end.
    motion: Option<DVector<f64>>,
}

/// What the search for an end came to.
enum FactorSearch {
    End(FactorEnd),
    /// No factor is carried.
    NoneCarried,
    /// It ended before it came to the end.
    NotFound,
}

impl VariableLoads {
    /// `None` where one of the two is missing, or drives a free motion.
    fn of(model: &Model, diagnosis: &Diagnosis, case: &LoadCase) -> Option<Self> {
        let ranked = &diagnosis.ranked;
        let tolerance = diagnosis.numeric.tolerance.relative();
        let demand = |is_permanent: bool| {
            let loads = case.loads.iter().enumerate();
            let those = loads.filter(|(index, _)| case.is_permanent(*index) == is_permanent);
            let sum = those
                .map(|(_, load)| load.wrench(&model.reference))
                .fold(Wrench::default(), |sum, wrench| sum + wrench);
            let load = restrict(&sum.scaled(model.length), model.space);
            let driving = ranked.free.tr_mul(&load).norm();
            let is_balanced = load.norm() > 0.0 && driving <= tolerance * load.norm();
            is_balanced.then(|| ranked.demand(&load))
        };
        Some(Self {
            permanent: demand(true)?,
            variable: demand(false)?,
            nothing: ranked.nothing(tolerance),
        })
    }
}

impl Escapes<'_> {
    /// The escape along a motion in the span of the shares.
    fn along(&self, motion: &DVector<f64>) -> Option<Escape> {
        let rows = self.supports.ranked.twist_of(motion);
        let six: ScaledTwist = extend(&rows, self.model.space);
        self.of_motion(&six)
    }
}
