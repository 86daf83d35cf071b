//! What can be done with one click to a thing in hand.

use serde::Serialize;

use super::drag::{PageMove, place_of};
use crate::draft::{Proposal, SceneItem, aside, support_kinds};
use crate::scene::{self, Scene, Space};
use crate::wording;

/// A change of one thing, and the scene that would come of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PageChange {
    /// What is chosen: `take it out`, `make it a roller`.
    pub words: String,
    /// Whether it is one of the kinds that the thing can be.
    #[serde(rename = "isKind")]
    pub is_kind: bool,
    /// What comes of it.
    #[serde(flatten)]
    pub change: PageMove,
}

/// The changes of the thing that a place belongs to, by its place in the list.
pub(super) fn changes(scene: &Scene, text: &str, index: usize) -> Vec<PageChange> {
    let Some(handle) = place_of(scene, index) else {
        return Vec::new();
    };
    let thing = handle.thing();
    let own = |words: &str, proposal: Option<Proposal>| {
        Some(change(text, words.to_owned(), false, &proposal?))
    };
    let plain = [
        own(
            "duplicate it",
            Proposal::duplicated(scene, thing, aside(scene)),
        ),
        own("take it out", Proposal::removed(scene, thing)),
    ];
    let kinds = kinds(scene, thing).into_iter();
    let kinds = kinds.map(|(words, proposal)| change(text, words, true, &proposal));
    plain.into_iter().flatten().chain(kinds).collect()
}

fn change(text: &str, words: String, is_kind: bool, proposal: &Proposal) -> PageChange {
    PageChange {
        words,
        is_kind,
        change: PageMove {
            text: scene::to_ron_like(text, &proposal.scene),
            name: proposal.name.clone(),
        },
    }
}

/// The other kinds that a support can be of.
fn kinds(scene: &Scene, thing: SceneItem) -> Vec<(String, Proposal)> {
    let SceneItem::Support(index) = thing else {
        return Vec::new();
    };
    let Some(support) = scene.supports.get(index) else {
        return Vec::new();
    };
    let position = scene.position(&support.at).unwrap_or_default();
    let up = match scene.space {
        Space::Planar => [0.0, 1.0, 0.0],
        Space::Spatial => [0.0, 0.0, 1.0],
    };
    let now = wording::support_kind(&support.kind);
    let all = support_kinds(scene, position, up, Some(&support.kind)).into_iter();
    all.filter_map(|kind| {
        let word = wording::support_kind(&kind);
        let proposal = Proposal::made(scene, index, kind)?;
        (word != now).then(|| (format!("make it a {word}"), proposal))
    })
    .collect()
}
