//! Words for motions of which supports that act one way let the body go: to which side, and what it leaves.

use super::geometry::signed_direction;
use super::name::listed;
use crate::motion::{Path, Stop};
use crate::scene::Space;
use crate::statics::{FreeMotion, Model, MotionKind, Sense};

/// How supports that act one way let the body go on a path, as the end of a phrase: `where the body leaves B`, `clockwise
/// only`; `None` where it goes either way and nothing opens.
pub(super) fn let_go(model: &Model, motion: &FreeMotion, path: &Path) -> Option<String> {
    let [back, ahead] = path.leaves().map(|left| leaves(model, &left));
    let one_side = |backwards, left: Option<String>| {
        let side = side(model, motion, backwards);
        let left = left.map_or_else(String::new, |left| format!(", where {left}"));
        Some(format!("{side} only{left}"))
    };
    match (path.end_back.stop, path.end_ahead.stop) {
        (_, Stop::Blocked) => one_side(true, back),
        (Stop::Blocked, _) => one_side(false, ahead),
        _ if back == ahead => Some(format!("where {}", ahead?)),
        _ => {
            let parts: Vec<String> = [ahead, back].into_iter().flatten().collect();
            Some(format!("where {}", parts.join(" or ")))
        }
    }
}

/// A sense of a motion: `anticlockwise`, `along −x`, `turning right-handed about z`.
pub(super) fn side(model: &Model, motion: &FreeMotion, backwards: bool) -> String {
    let along = if backwards {
        -motion.direction
    } else {
        motion.direction
    };
    match (motion.kind, model.space) {
        (MotionKind::Translation, _) => format!("along {}", signed_direction(model, &along)),
        (_, Space::Planar) if along.z < 0.0 => "clockwise".to_owned(),
        (_, Space::Planar) => "anticlockwise".to_owned(),
        _ => format!(
            "turning right-handed about {}",
            signed_direction(model, &along)
        ),
    }
}

/// `the body leaves A and B and C goes slack`; `None` where nothing is left.
pub(super) fn leaves(model: &Model, reactions: &[usize]) -> Option<String> {
    let of = |sense: Sense| -> Vec<&str> {
        let those = reactions.iter().map(|j| &model.reactions[*j]);
        those
            .filter(|reaction| reaction.sense == sense)
            .map(|reaction| model.supports[reaction.support].name.as_str())
            .collect()
    };
    let (contacts, cables) = (of(Sense::Push), of(Sense::Pull));
    let open = (!contacts.is_empty()).then(|| format!("the body leaves {}", listed(&contacts)));
    let slack = (!cables.is_empty()).then(|| {
        let verb = if cables.len() == 1 { "goes" } else { "go" };
        format!("{} {verb} slack", listed(&cables))
    });
    let parts: Vec<String> = [open, slack].into_iter().flatten().collect();
    (!parts.is_empty()).then(|| parts.join(" and "))
}

/// The contacts and cables that could open just as well.
pub(super) fn rivals(model: &Model, instead: &[Vec<usize>]) -> Option<String> {
    let name = |j: &usize| model.supports[model.reactions[*j].support].name.as_str();
    let sets: Vec<String> = instead
        .iter()
        .map(|set| listed(&set.iter().map(name).collect::<Vec<_>>()))
        .collect();
    let list = match sets.as_slice() {
        [] => return None,
        [first @ .., last] if !first.is_empty() => format!("{} or {last}", first.join(", ")),
        _ => sets.concat(),
    };
    Some(format!("It could go on by letting go of {list} instead."))
}
