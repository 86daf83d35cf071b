//! What is asked for by words and keys.

use bevy::prelude::*;

use super::editor::SceneEditor;
use super::file::Files;
use crate::draft::{Draft, Field, NewScene, Proposal, SceneItem};
use crate::scene::Place;
use crate::study::Study;
use crate::viewer::file_watch::FileWatch;
use crate::viewer::intent::{CloseAll, LinkIntent, MakingIntent};
use crate::viewer::shown::ShownMut;
use crate::viewer::state::Playback;

#[expect(
    clippy::too_many_arguments,
    reason = "a system takes what it reads and changes"
)]
pub(super) fn follow_intents(
    mut intents: MessageReader<MakingIntent>,
    mut closed: MessageReader<CloseAll>,
    mut links: MessageWriter<LinkIntent>,
    mut editor: ResMut<SceneEditor>,
    mut files: ResMut<Files>,
    mut shown: ShownMut,
    mut playback: ResMut<Playback>,
    mut watch: ResMut<FileWatch>,
) {
    if closed.read().count() > 0 {
        if editor.drag.take().is_some() {
            editor.show_again(&mut shown);
        }
        editor.let_go();
        files.close();
    }
    for intent in intents.read() {
        let changed = follow(
            intent,
            &mut editor,
            &mut files,
            &mut shown,
            &mut links,
            &mut watch,
        );
        if changed {
            (playback.playing, playback.position) = (false, 0.0);
        }
    }
}

/// Does what is asked for; `true` where the scene changed.
fn follow(
    intent: &MakingIntent,
    editor: &mut SceneEditor,
    files: &mut Files,
    shown: &mut ShownMut,
    links: &mut MessageWriter<LinkIntent>,
    watch: &mut FileWatch,
) -> bool {
    match intent {
        MakingIntent::Undo => editor.step(true, shown),
        MakingIntent::Redo => editor.step(false, shown),
        MakingIntent::Remove => match editor.kept {
            Some(_) => {
                let removed = act(editor, shown, Proposal::removed);
                // The next thing has its index now, and nobody took that in hand.
                if removed {
                    editor.let_go();
                }
                return removed;
            }
            // With nothing in hand the key takes the link on trial away.
            None => {
                links.write(LinkIntent::Drop);
                return false;
            }
        },
        MakingIntent::Duplicate => {
            return act(editor, shown, |scene, thing| {
                Proposal::duplicated(scene, thing, crate::draft::aside(scene))
            });
        }
        MakingIntent::Mirror(axis) => {
            return act(editor, shown, |scene, thing| {
                Proposal::mirrored(scene, thing, *axis)
            });
        }
        MakingIntent::Reshape(how) => {
            return act(editor, shown, |scene, thing| match thing {
                SceneItem::Shape(index) => Proposal::reshaped(scene, index, *how),
                _ => None,
            });
        }
        MakingIntent::LetGo => {
            editor.let_go();
            return false;
        }
        MakingIntent::Place(addition) => {
            editor.let_go();
            editor.placing = Some(addition.clone());
            return false;
        }
        MakingIntent::Edit(field) => {
            edit(editor, *field);
            return false;
        }
        MakingIntent::Type(text) => {
            if let Some(entry) = &mut editor.entry {
                entry.text.clone_from(text);
                entry.is_new = false;
            }
            return false;
        }
        MakingIntent::Enter => return enter(editor, shown),
        MakingIntent::Take(proposal) => {
            editor.entry = None;
            return editor.take((**proposal).clone(), shown);
        }
        MakingIntent::KeepLink => return keep_link(editor, shown),
        MakingIntent::New(start) => begin(*start, editor, files, shown, watch),
        MakingIntent::Save => {
            files.save(editor, shown, watch);
            return false;
        }
        MakingIntent::SaveAs(path) => {
            files.save_as(path, editor, shown, watch);
            return false;
        }
        MakingIntent::AskForFile(purpose) => {
            files.ask(*purpose, watch);
            return false;
        }
        MakingIntent::TakeTheirs => {
            if let Some(draft) = editor.draft_mut() {
                draft.take_theirs();
            }
            editor.show_again(shown);
        }
        MakingIntent::KeepMine => {
            if let Some(draft) = editor.draft_mut() {
                draft.keep_mine();
            }
        }
        MakingIntent::TakeUp => files.take_up(editor, shown, watch),
        MakingIntent::ThrowAway => files.throw_away(),
    }
    true
}

/// Makes a change of what is kept.
fn act(
    editor: &mut SceneEditor,
    shown: &mut ShownMut,
    propose: impl FnOnce(&crate::scene::Scene, SceneItem) -> Option<Proposal>,
) -> bool {
    let proposal = editor
        .kept
        .zip(editor.scene())
        .and_then(|(thing, scene)| propose(scene, thing));
    proposal.is_some_and(|proposal| editor.take(proposal, shown))
}

/// Begins to type into a field; what is chosen is not typed.
fn edit(editor: &mut SceneEditor, field: Field) {
    let Some(scene) = editor.scene() else { return };
    let text = field.typed_now(scene);
    editor.kept = editor.subject();
    editor.refusal = None;
    editor.entry = Some(super::editor::TypedEntry {
        field,
        text,
        is_new: true,
    });
}

/// Makes the change that was typed.
fn enter(editor: &mut SceneEditor, shown: &mut ShownMut) -> bool {
    let Some((entry, scene)) = editor.entry.clone().zip(editor.scene()) else {
        return false;
    };
    match entry.field.typed(scene, &entry.text) {
        Ok(Some(proposal)) => {
            let taken = editor.take(proposal, shown);
            if taken {
                editor.entry = None;
            }
            taken
        }
        Ok(None) => {
            editor.entry = None;
            false
        }
        Err(error) => {
            editor.refuse(&error);
            false
        }
    }
}

/// Makes the link on trial a support of the scene.
fn keep_link(editor: &mut SceneEditor, shown: &mut ShownMut) -> bool {
    let Some((link, scene)) = shown.read().trial.cloned().zip(editor.scene()) else {
        return false;
    };
    let at: Place = link.at.clone();
    let proposal = Proposal::with_link(scene, &link.name, at, link.ground);
    shown.drop_trial();
    editor.take(proposal, shown)
}

/// Puts a new scene on the stage.
fn begin(
    start: NewScene,
    editor: &mut SceneEditor,
    files: &mut Files,
    shown: &mut ShownMut,
    watch: &mut FileWatch,
) {
    let Ok(study) = Study::new(start.scene()) else {
        return;
    };
    let draft = Draft::of_file(study.scene().clone(), start.text().to_owned());
    shown.open(study);
    watch.follow(None);
    files.begin(editor, draft, None);
}
