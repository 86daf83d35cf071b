//! The scene in the making and what of it is in hand.

use bevy::prelude::*;

use super::addition::Addition;
use super::drag::Drag;
use crate::draft::{
    Draft, EntryError, Field, Handle, Proposal, SceneItem, SentencePart, TurnableDirection,
    sentence,
};
use crate::scene::Scene;
use crate::study::Source;
use crate::viewer::shown::ShownMut;

/// The scene in the making.
#[derive(Resource, Default)]
pub(crate) struct SceneEditor {
    draft: Option<Draft>,
    source: Option<Source>,
    /// What is under the pointer.
    pub(crate) hovered: Option<SceneItem>,
    /// What is kept in hand until it is let go.
    pub(crate) kept: Option<SceneItem>,
    /// What is being dragged.
    pub(crate) drag: Option<Drag>,
    /// The scene that would come of the drag.
    tried: Option<Scene>,
    /// What is being typed.
    pub(crate) entry: Option<TypedEntry>,
    /// What the next click on the body puts there.
    pub(crate) placing: Option<Addition>,
    /// Why the last change was not made.
    pub(crate) refusal: Option<String>,
}

/// Something that is being typed into a field of the sentence.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TypedEntry {
    /// Where.
    pub(crate) field: Field,
    /// What is there so far.
    pub(crate) text: String,
    /// Whether it has had the keyboard yet.
    pub(crate) is_new: bool,
}

impl SceneEditor {
    /// The draft; `None` before the first frame.
    pub(crate) fn draft(&self) -> Option<&Draft> {
        self.draft.as_ref()
    }

    pub(crate) fn draft_mut(&mut self) -> Option<&mut Draft> {
        self.draft.as_mut()
    }

    /// The scene in the making.
    pub(crate) fn scene(&self) -> Option<&Scene> {
        self.draft.as_ref().map(|draft| &**draft.scene())
    }

    /// Where the scene is kept.
    pub(crate) fn source(&self) -> Option<&Source> {
        self.source.as_ref()
    }

    /// Whether the pointer belongs to what is dragged and not to the camera.
    pub(crate) fn holds_pointer(&self) -> bool {
        self.drag.is_some()
    }

    /// The thing that the sentence is about: what is kept, else what is hovered.
    pub(crate) fn subject(&self) -> Option<SceneItem> {
        self.kept.or(self.hovered)
    }

    /// The sentence about it, of a drag as it would end now.
    pub(crate) fn sentence(&self) -> Vec<SentencePart> {
        match (self.tried.as_ref().or(self.scene()), self.subject()) {
            (Some(scene), Some(thing)) => sentence(scene, thing),
            _ => Vec::new(),
        }
    }

    /// Begins anew with another draft; returns the one before with its source.
    pub(super) fn begin(
        &mut self,
        draft: Draft,
        source: Option<Source>,
    ) -> (Option<Draft>, Option<Source>) {
        let anew = Self {
            draft: Some(draft),
            source,
            ..Self::default()
        };
        let before = std::mem::replace(self, anew);
        (before.draft, before.source)
    }

    /// Says where the scene is kept from now on.
    pub(super) fn moved_to(&mut self, source: Source) {
        self.source = Some(source);
    }

    /// Lets everything go but the scene.
    pub(crate) fn let_go(&mut self) {
        (self.kept, self.hovered, self.drag) = (None, None, None);
        (self.entry, self.placing, self.refusal) = (None, None, None);
    }

    /// Takes a proposal up and shows what comes of it, or says why not.
    pub(crate) fn take(&mut self, proposal: Proposal, shown: &mut ShownMut) -> bool {
        let Some(draft) = &mut self.draft else {
            return false;
        };
        (self.refusal, self.tried) = (None, None);
        let steps = draft.done().len();
        if let Err(refusal) = draft.take(proposal) {
            self.refusal = Some(said(&refusal));
            return false;
        }
        if !show(draft.scene(), shown) {
            // A scene without a model, such as one whose supports all are at one point without size, cannot be shown.
            if draft.done().len() > steps {
                draft.undo();
            }
            self.refusal = Some("the scene that comes of it cannot be computed".to_owned());
            return false;
        }
        self.drop_what_is_gone();
        true
    }

    /// Shows what would come of a proposal, without keeping it.
    pub(super) fn try_out(&mut self, proposal: &Proposal, shown: &mut ShownMut) -> bool {
        let Some(draft) = &self.draft else {
            return false;
        };
        match draft.tried(proposal) {
            Ok(scene) => {
                self.refusal = None;
                let is_shown = show(&scene, shown);
                self.tried = Some(scene);
                is_shown
            }
            Err(refusal) => {
                self.refusal = Some(said(&refusal));
                false
            }
        }
    }

    /// Shows the draft as it is, after a drag that was given up.
    pub(super) fn show_again(&mut self, shown: &mut ShownMut) {
        self.tried = None;
        if let Some(draft) = &self.draft {
            show(draft.scene(), shown);
        }
    }

    /// Undoes or makes again.
    pub(super) fn step(&mut self, back: bool, shown: &mut ShownMut) {
        let Some(draft) = &mut self.draft else { return };
        let step = if back { draft.undo() } else { draft.redo() };
        if step.is_some() {
            self.refusal = None;
            self.entry = None;
            self.show_again(shown);
            self.drop_what_is_gone();
        }
    }

    fn drop_what_is_gone(&mut self) {
        let Some(draft) = &self.draft else { return };
        let scene = draft.scene();
        self.kept = self.kept.filter(|thing| thing.is_in(scene));
        self.hovered = self.hovered.filter(|thing| thing.is_in(scene));
        if self.kept.is_none() {
            self.entry = None;
        }
    }

    /// The places of what is kept.
    pub(crate) fn handles(&self) -> Vec<Handle> {
        match (self.scene(), self.kept) {
            (Some(scene), Some(thing)) => Handle::of(thing, scene),
            _ => Vec::new(),
        }
    }

    /// The directions of what is kept.
    pub(crate) fn aims(&self) -> Vec<TurnableDirection> {
        match (self.scene(), self.kept) {
            (Some(scene), Some(thing)) => TurnableDirection::of(thing, scene),
            _ => Vec::new(),
        }
    }

    pub(super) fn refuse(&mut self, error: &EntryError) {
        let hint = error
            .hint
            .as_ref()
            .map_or(String::new(), |hint| format!(": {hint}"));
        self.refusal = Some(format!("{error}{hint}"));
    }
}

fn said(refusal: &crate::draft::Refusal) -> String {
    let Some(problem) = refusal.problems.first() else {
        return refusal.to_string();
    };
    match &problem.hint {
        Some(hint) => format!("{}: {hint}", problem.message),
        None => problem.message.clone(),
    }
}

/// Shows a scene in place of the one on the stage; `false` where it has no model.
pub(super) fn show(scene: &Scene, shown: &mut ShownMut) -> bool {
    if shown.read().written.scene() == scene {
        return true;
    }
    let edited = shown.read().written.edited(scene.clone());
    match edited {
        Ok(study) => {
            shown.edit(study);
            true
        }
        Err(_) => false,
    }
}
