//! How far the loads of a case can grow or shrink while contacts that push and cables that pull carry them.
//!
//! The factors at which a load is carried are an interval, since the loads that are carried make a convex cone. Each of its ends is
//! found from outside: what a factor leaves of the load is a motion that breaks no support, and the factor at which the load does no
//! more work on it is the next to try. The last such motion proves that the load is not carried beyond (Farkas), the reactions at the
//! end itself that it is carried up to there.

use nalgebra::DVector;

use super::escape::{Escape, Escapes};
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
}

/// Rounds at most; each gives up a motion for good, and a few are usual.
const MOST_ROUNDS: usize = 100;

/// Of every load case that has permanent and variable loads, where some factor carries them.
pub(crate) fn load_limits(
    model: &Model,
    diagnosis: &Diagnosis,
) -> Indexed<CaseIndex, Option<LoadLimits>> {
    let supports = Supports::new(model, diagnosis);
    let allowed = Allowed::new(&supports);
    let escapes = Escapes {
        model,
        supports: &supports,
        allowed: &allowed,
    };
    let limits = |case: &LoadCase| {
        let loads = VariableLoads::of(model, diagnosis, case)?;
        let most = loads.end(&supports, 1.0)?;
        let least = loads.end(&supports, -1.0)?;
        let escape = |end: &FactorEnd| escapes.along(end.motion.as_ref()?, &supports);
        (least.factor <= most.factor).then(|| LoadLimits {
            least: least.factor,
            most: most.factor,
            below: escape(&least),
            beyond: escape(&most),
        })
    };
    model.cases.map(limits)
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

    /// The largest factor, or for `sense` −1 the smallest; `None` where no factor is carried.
    fn end(&self, supports: &Supports, sense: f64) -> Option<FactorEnd> {
        let variable = &self.variable * sense;
        let mut motion = supports.nearest(&variable).left;
        if motion.norm() <= self.nothing * variable.norm() {
            let factor = sense * f64::INFINITY;
            return Some(FactorEnd {
                factor,
                motion: None,
            });
        }
        for _ in 0..MOST_ROUNDS {
            let rate = motion.dot(&variable);
            if rate <= 0.0 {
                return None;
            }
            let factor = -motion.dot(&self.permanent) / rate;
            let demand = &self.permanent + &variable * factor;
            let size = self.permanent.norm() + (&variable * factor).norm();
            let left = supports.nearest(&demand).left;
            if left.norm() <= self.nothing * size {
                let (factor, motion) = (sense * factor, Some(motion));
                return Some(FactorEnd { factor, motion });
            }
            motion = left;
        }
        None
    }
}

impl Escapes<'_> {
    /// The escape along a motion in the span of the shares.
    fn along(&self, motion: &DVector<f64>, supports: &Supports) -> Option<Escape> {
        let rows = supports.ranked.twist_of(motion);
        let six: ScaledTwist = extend(&rows, self.model.space);
        self.of_motion(&six)
    }
}
