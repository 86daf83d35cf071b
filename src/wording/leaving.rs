//! Words for motions of which supports that act one way let the body go: to which side, and what it leaves.

use super::geometry::signed_direction;
use super::motion::clockwise;
use super::name::{either, listed, support};
use super::phrase::{Phrase, phrase};
use crate::motion::{Path, Stop};
use crate::scene::Space;
use crate::statics::{FreeMotion, Model, MotionKind, ReactionIndex, Sense};

/// How supports that act one way let the body go on a path, as the end of a phrase: `where contact is lost at B`, `clockwise
/// only`; `None` where it goes either way and nothing opens.
pub(super) fn let_go(model: &Model, motion: &FreeMotion, path: &Path) -> Option<Phrase> {
    let [back, ahead] = path.leaves().map(|left| leaves(model, &left));
    let one_side = |backwards, left: Option<Phrase>| {
        let side = side(model, motion, backwards);
        let left = left.map_or_else(Phrase::new, |left| phrase!(", where ", left));
        Some(phrase!(side, " only", left))
    };
    match (path.end_back.stop, path.end_ahead.stop) {
        (_, Stop::Blocked) => one_side(true, back),
        (Stop::Blocked, _) => one_side(false, ahead),
        _ if back == ahead => Some(phrase!("where ", ahead?)),
        _ => {
            let parts: Vec<Phrase> = [ahead, back].into_iter().flatten().collect();
            Some(phrase!("where ", Phrase::joined(parts, " or ")))
        }
    }
}

/// A sense of a motion: `anticlockwise`, `along −x`, `clockwise when viewed along z`.
pub(super) fn side(model: &Model, motion: &FreeMotion, backwards: bool) -> Phrase {
    let along = if backwards {
        -motion.direction
    } else {
        motion.direction
    };
    match (motion.kind, model.space) {
        (MotionKind::Translation, _) => phrase!("along ", signed_direction(model, &along)),
        (_, Space::Planar) if along.z < 0.0 => "clockwise".into(),
        (_, Space::Planar) => "anticlockwise".into(),
        _ => clockwise(model, &motion.point, &along),
    }
}

/// `contact is lost at A and B, and C goes slack`; `None` where nothing is left.
pub(super) fn leaves(model: &Model, reactions: &[ReactionIndex]) -> Option<Phrase> {
    let of = |sense: Sense| -> Vec<Phrase> {
        let those = reactions.iter().map(|j| &model.reactions[*j]);
        those
            .filter(|reaction| reaction.sense == sense)
            .map(|reaction| support(model, reaction.support))
            .collect()
    };
    let (contacts, cables) = (of(Sense::Push), of(Sense::Pull));
    let open = (!contacts.is_empty()).then(|| phrase!("contact is lost at ", listed(&contacts)));
    let slack = (!cables.is_empty()).then(|| {
        let verb = if cables.len() == 1 { "goes" } else { "go" };
        phrase!(listed(&cables), " ", verb, " slack")
    });
    let parts: Vec<Phrase> = [open, slack].into_iter().flatten().collect();
    (!parts.is_empty()).then(|| Phrase::joined(parts, ", and "))
}

/// The contacts and cables that could open just as well.
pub(super) fn rivals(model: &Model, instead: &[Vec<ReactionIndex>]) -> Option<Phrase> {
    let name = |j: &ReactionIndex| support(model, model.reactions[*j].support);
    let names = |set: &Vec<ReactionIndex>| listed(&set.iter().map(name).collect::<Vec<_>>());
    let sets: Vec<Phrase> = instead.iter().map(names).collect();
    (!sets.is_empty()).then(|| {
        phrase!(
            "It could equally begin by releasing ",
            either(&sets),
            " instead."
        )
    })
}
