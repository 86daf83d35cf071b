//! Rough contacts on springs: what parts from a surface does not hold along it either.

use nalgebra::DVector;

use super::springs::{SettledSprings, SpringAction, Springs};
use crate::indexed::Indexed;
use crate::scene::SupportKind;
use crate::statics::{Model, ReactionIndex, Sense, SupportIndex};

/// Lets go of rough contacts that part, one round after the other, until those that are let go of are just those that part.
/// `None` where that does not end, or the rest does not balance the load.
pub(super) fn settled(
    model: &Model,
    springs: &Springs,
    action: &SpringAction,
) -> Option<SettledSprings> {
    let rough = rough_contacts(model);
    let mut loose = vec![false; model.reactions.len()];
    loop {
        let settled = springs.settled(action, &loose)?;
        let parted = |contact: &&RoughSpring| {
            let holds = contact.along.iter().any(|j| settled.forces[*j] != 0.0);
            settled.forces[contact.push] <= 0.0 && holds
        };
        let parting: Vec<&RoughSpring> = rough.iter().filter(parted).collect();
        if parting.is_empty() {
            let closes = |contact: &RoughSpring| {
                loose[contact.push.get()] && settled.gaps[contact.push] < -springs.floor(action)
            };
            return (!rough.iter().any(closes)).then_some(settled);
        }
        let_go(&parting, &mut loose);
    }
}

fn let_go(parting: &[&RoughSpring], loose: &mut [bool]) {
    for contact in parting {
        loose[contact.push.get()] = true;
        for j in &contact.along {
            loose[j.get()] = true;
        }
    }
}

/// Reactions of a body that bends: lets go of rough contacts that part, one round after the other.
///
/// # Errors
/// Those of the reactions sought.
pub(super) fn least<E>(
    model: &Model,
    reactions: impl Fn(&[bool]) -> Result<DVector<f64>, E>,
) -> Result<DVector<f64>, E> {
    let rough = rough_contacts(model);
    let mut loose = vec![false; model.reactions.len()];
    loop {
        let found = reactions(&loose)?;
        let parted = |contact: &&RoughSpring| {
            let holds = contact.along.iter().any(|j| found[*j] != 0.0);
            found[contact.push] <= 0.0 && holds
        };
        let parting: Vec<&RoughSpring> = rough.iter().filter(parted).collect();
        if parting.is_empty() {
            return Ok(found);
        }
        let_go(&parting, &mut loose);
    }
}

/// A rough contact that can part.
struct RoughSpring {
    support: SupportIndex,
    push: ReactionIndex,
    along: Vec<ReactionIndex>,
}

fn rough_contacts(model: &Model) -> Vec<RoughSpring> {
    let supports = model.supports.enumerate();
    let rough =
        supports.filter(|(_, support)| matches!(support.kind, SupportKind::RoughContact { .. }));
    let spring = |(support, index): (SupportIndex, Vec<ReactionIndex>)| {
        let (push, along): (Vec<ReactionIndex>, Vec<ReactionIndex>) = index
            .into_iter()
            .partition(|j| model.reactions[*j].sense != Sense::Both);
        Some(RoughSpring {
            support,
            push: *push.first()?,
            along,
        })
    };
    rough
        .map(|(support, placed)| (support, placed.reactions.clone().collect()))
        .filter_map(spring)
        .collect()
}

/// The coefficient of friction that each rough contact needs for these reactions, if it is pressed.
pub(super) fn friction(
    model: &Model,
    values: &Indexed<ReactionIndex, f64>,
) -> Vec<(SupportIndex, f64)> {
    let needed = |contact: RoughSpring| {
        let push = values[contact.push];
        let along = contact.along.iter().map(|j| values[*j]);
        let along = along.fold(0.0, f64::hypot);
        (push > 0.0).then_some((contact.support, along / push))
    };
    rough_contacts(model)
        .into_iter()
        .filter_map(needed)
        .collect()
}
