//! Whether the body can expand evenly without its supports resisting.
//!
//! The body alone is warmed, not the ground and not the links; ground ends stay where they are, so that to first
//! order a link resists as any support does that holds its body end along one direction.

use nalgebra::DVector;

use super::diagnosis::Diagnosis;
use super::indices::{ReactionIndex, SupportIndex};
use super::model::Model;
use super::one_way::is_one_way;
use super::reaction::ReactionKind;
use crate::indexed::{Indexed, Indices};

/// How the supports meet uniform expansion.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Heat {
    /// Whether expansion is free: no reactions arise from it.
    pub free: bool,
    /// The self-stress that growing excites, in model order, largest entry ±1, couples over the characteristic
    /// length; zeros where expansion is free. Sizes are those of equally stiff supports; with one degree of
    /// redundancy they are the same whatever the stiffnesses.
    pub stress: Indexed<ReactionIndex, f64>,
    /// Whether `stress` is the only pattern there can be: at most one degree of redundancy.
    pub unique: bool,
    /// Supports that take part in it, in model order.
    pub opposed: Vec<SupportIndex>,
    /// One-way reactions on the wrong side of the pattern: growing would loosen them, shrinking load them.
    pub loosened: Vec<ReactionIndex>,
    /// How far the supports are from allowing the expansion: elongation that the pattern has to take up, m per
    /// unit strain.
    pub misfit: f64,
}

/// Misfit below this, relative to the characteristic length, is none.
const FREE: f64 = 1e-9;
/// A reaction takes part in a pattern when its entry is above this.
const PART: f64 = 1e-7;

impl Heat {
    /// Expands a diagnosed model.
    pub(crate) fn of(model: &Model, diagnosis: &Diagnosis) -> Self {
        // Displacement e (p − c) for unit strain e, along each direction.
        let growth = model.reactions.iter().map(|reaction| match reaction.kind {
            ReactionKind::Force => reaction.direction.dot(&(reaction.point - model.reference)),
            ReactionKind::Couple => 0.0,
        });
        let growth = DVector::from_iterator(model.reactions.len(), growth);
        let misfit = without_rigid_motion(diagnosis, &growth);
        let size = misfit.norm();
        let free = size <= FREE * model.length;
        let largest = misfit.amax();
        // Reactions push back against the growth.
        let stress: Indexed<ReactionIndex, f64> = misfit
            .iter()
            .map(|part| -part / largest)
            .map(|part| {
                if free || part.abs() <= PART {
                    0.0
                } else {
                    part
                }
            })
            .collect();
        let takes_part = |own: &Indices<ReactionIndex>| stress.slice(own).iter().any(|x| *x != 0.0);
        let supports = model.supports.enumerate();
        Self {
            free,
            unique: diagnosis.counts.redundancy <= 1,
            opposed: supports
                .filter(|(_, s)| takes_part(&s.reactions))
                .map(|(i, _)| i)
                .collect(),
            loosened: model
                .reactions
                .indices()
                .filter(|j| is_one_way(&model.reactions[*j]) && stress[*j] < 0.0)
                .collect(),
            stress,
            misfit: if free { 0.0 } else { size },
        }
    }
}

/// What no rigid motion of the body gives: the part of the growth within the self-stresses.
fn without_rigid_motion(diagnosis: &Diagnosis, growth: &DVector<f64>) -> DVector<f64> {
    let ranked = &diagnosis.ranked;
    let mut rest = growth.clone();
    for _ in 0..2 {
        rest -= ranked.of_shares(&rest);
    }
    for (part, decided) in rest.iter_mut().zip(&ranked.decided) {
        if *decided {
            *part = 0.0;
        }
    }
    rest
}
