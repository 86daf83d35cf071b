//! Whether the supports carry a load case, decided once for all that follows from it.

use nalgebra::DVector;

use super::supports::Supports;
use super::{load_size, scaled_load};
use crate::statics::diagnosis::Diagnosis;
use crate::statics::indices::CaseIndex;
use crate::statics::model::Model;

/// What supports that act both ways and supports that act one way make of a load case.
#[derive(Debug, Clone)]
pub(in crate::statics) struct CaseBalance {
    /// Whether reactions with the signs that they can have balance the load.
    pub(in crate::statics) holds: bool,
    /// The load, scaled, without what counts as nothing of it.
    pub(in crate::statics) load: DVector<f64>,
    /// Sum of the sizes of the loads, N.
    pub(super) size: f64,
    /// What the reactions have to balance, in the span of their shares.
    pub(super) demand: DVector<f64>,
    /// Part of the load that no reaction takes; zero where some set of reactions of any signs balances it.
    driving: DVector<f64>,
    /// One-way reactions of the nearest balance.
    pub(super) pushes: DVector<f64>,
    /// Demand that the nearest balance leaves.
    left: DVector<f64>,
}

/// A decided reaction of the wrong sign that equilibrium counts, at just what counts as nothing, is left of the load all the
/// same, though rounding makes a little less of it.
const BELOW: f64 = 1.0 - 1e-6;

impl CaseBalance {
    /// The answer for one load case of a diagnosed model.
    pub(in crate::statics) fn of(
        model: &Model,
        diagnosis: &Diagnosis,
        supports: &Supports,
        case: CaseIndex,
    ) -> Self {
        let ranked = supports.ranked;
        let answer = &diagnosis.cases[case];
        let size = load_size(model, case);
        let driving = match answer.is_balanced() {
            true => DVector::zeros(ranked.free.nrows()),
            false => &ranked.free * ranked.free.tr_mul(&scaled_load(model, case)),
        };
        let demand = ranked.demand_of(&answer.reactions);
        let nearest = supports.nearest(&demand);
        let nothing = ranked.nothing(diagnosis.numeric.tolerance.relative());
        Self {
            holds: answer.is_balanced() && nearest.left.norm() <= BELOW * nothing * size,
            load: ranked.load_of(&demand) + &driving,
            size,
            demand,
            driving,
            pushes: nearest.sizes,
            left: nearest.left,
        }
    }

    /// The same where the supports leave some of the demand.
    pub(super) fn leaving(&self, left: DVector<f64>) -> Self {
        Self {
            holds: false,
            left,
            ..self.clone()
        }
    }

    /// A scaled motion that breaks no support and on which the load does work, whatever the mass (Farkas' lemma):
    /// what the nearest balance leaves, as a motion. `None` where that is nothing but rounding.
    pub(super) fn certificate(&self, supports: &Supports) -> Option<DVector<f64>> {
        if self.holds {
            return None;
        }
        Some(match self.driving.norm() > 0.0 {
            true => self.driving.clone(),
            false => supports.ranked.twist_of(&self.left),
        })
    }
}
