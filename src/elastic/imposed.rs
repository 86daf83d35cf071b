//! How far springs are off their natural length before the body moves: settlements, prestress, expansion.

use nalgebra::{DVector, Vector3};

use super::stiffness::Stiffnesses;
use crate::statics::{ImposedAction, LoadCase, Model, Reaction, ReactionKind};

/// Whether a case has actions that make forces only with stiffnesses in numbers.
pub(super) fn needs_stiffness(case: &LoadCase) -> bool {
    case.imposed.iter().any(|action| match action {
        ImposedAction::Settlement { by, .. } => *by != Vector3::zeros(),
        ImposedAction::Expansion { strain } => *strain != 0.0,
        ImposedAction::Prestress { .. } => false,
    })
}

/// How much the body expands in all.
pub(super) fn strain(case: &LoadCase) -> f64 {
    let actions = case.imposed.iter();
    actions
        .map(|action| match action {
            ImposedAction::Expansion { strain } => *strain,
            _ => 0.0,
        })
        .sum()
}

/// By how much each spring is opened while the body stays, scaled, times the largest stiffness.
///
/// Expansion is about the reference point; about another it differs by a translation, which is one of the displacements sought.
pub(super) fn offsets(model: &Model, case: &LoadCase, stiffnesses: &Stiffnesses) -> DVector<f64> {
    let stiffest = stiffnesses.stiffest.unwrap_or(1.0);
    let relative = stiffnesses.relative(model);
    let mut offsets = DVector::zeros(model.reactions.len());
    let forces = model.reactions.enumerate();
    for (j, reaction) in forces.filter(|(_, one)| one.kind == ReactionKind::Force) {
        for action in &case.imposed {
            offsets[j] += match action {
                ImposedAction::Prestress { support, force } if *support == reaction.support => {
                    -force / relative[j.get()]
                }
                ImposedAction::Prestress { .. } => 0.0,
                moving => stiffest * opened(model, reaction, moving),
            };
        }
    }
    offsets
}

/// By how much an action opens a force's spring, m.
pub(super) fn opened(model: &Model, reaction: &Reaction, action: &ImposedAction) -> f64 {
    match action {
        ImposedAction::Settlement { support, by } if *support == reaction.support => {
            -reaction.direction.dot(by)
        }
        ImposedAction::Expansion { strain } => {
            strain * reaction.direction.dot(&(reaction.point - model.reference))
        }
        _ => 0.0,
    }
}
