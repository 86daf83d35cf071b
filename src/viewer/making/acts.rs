//! What is asked for by words and keys.

use bevy::prelude::*;

use super::bench::SceneEditor;
use super::file::Files;
use crate::draft::{Draft, Field, NewScene, Proposal, SceneItem};
use crate::scene::Place;
use crate::study::Study;
use crate::viewer::intent::{CloseAll, LinkIntent, MakingIntent};
use crate::viewer::shown::ShownMut;
use crate::viewer::state::Playback;
use crate::viewer::watch::FileWatch;

/// How far a duplicate stands from what it is a copy of, in tenths of the scene's size.
const ASIDE: f64 = 1.0;

#[expect(
    clippy::too_many_arguments,
    reason = "a system takes what it reads and changes"
)]
pub(super) fn follow_intents(
    mut intents: MessageReader<MakingIntent>,
    mut closed: MessageReader<CloseAll>,
    mut links: MessageWriter<LinkIntent>,
    mut bench: ResMut<SceneEditor>,
    mut files: ResMut<Files>,
    mut shown: ShownMut,
    mut playback: ResMut<Playback>,
    mut watch: ResMut<FileWatch>,
) {
    if closed.read().count() > 0 {
        if bench.drag.take().is_some() {
            bench.show_again(&mut shown);
        }
        bench.let_go();
        files.close();
    }
    for intent in intents.read() {
        let changed = follow(
            intent, &mut bench, &mut files, &mut shown, &mut links, &mut watch,
        );
        if changed {
            (playback.playing, playback.position) = (false, 0.0);
        }
    }
}

/// Does what is asked for; `true` where the scene changed.
fn follow(
    intent: &MakingIntent,
    bench: &mut SceneEditor,
    files: &mut Files,
    shown: &mut ShownMut,
    links: &mut MessageWriter<LinkIntent>,
    watch: &mut FileWatch,
) -> bool {
    match intent {
        MakingIntent::Undo => bench.step(true, shown),
        MakingIntent::Redo => bench.step(false, shown),
        MakingIntent::Remove => match bench.kept {
            Some(_) => {
                let removed = act(bench, shown, Proposal::removed);
                // The next thing has its index now, and nobody took that in hand.
                if removed {
                    bench.let_go();
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
            return act(bench, shown, |scene, thing| {
                Proposal::duplicated(scene, thing, [ASIDE * crate::draft::tenth(scene), 0.0, 0.0])
            });
        }
        MakingIntent::Mirror(axis) => {
            return act(bench, shown, |scene, thing| {
                Proposal::mirrored(scene, thing, *axis)
            });
        }
        MakingIntent::Reshape(how) => {
            return act(bench, shown, |scene, thing| match thing {
                SceneItem::Shape(index) => Proposal::reshaped(scene, index, *how),
                _ => None,
            });
        }
        MakingIntent::LetGo => {
            bench.let_go();
            return false;
        }
        MakingIntent::Place(addition) => {
            bench.let_go();
            bench.placing = Some(addition.clone());
            return false;
        }
        MakingIntent::Edit(field) => {
            edit(bench, *field);
            return false;
        }
        MakingIntent::Type(text) => {
            if let Some(entry) = &mut bench.entry {
                entry.text.clone_from(text);
                entry.is_new = false;
            }
            return false;
        }
        MakingIntent::Enter => return enter(bench, shown),
        MakingIntent::Take(proposal) => {
            bench.entry = None;
            return bench.take((**proposal).clone(), shown);
        }
        MakingIntent::KeepLink => return keep_link(bench, shown),
        MakingIntent::New(start) => begin(*start, bench, files, shown, watch),
        MakingIntent::Save => {
            files.save(bench, shown, watch);
            return false;
        }
        MakingIntent::SaveAs(path) => {
            files.save_as(path, bench, shown, watch);
            return false;
        }
        MakingIntent::AskForFile(purpose) => {
            files.ask(*purpose, watch);
            return false;
        }
        MakingIntent::TakeTheirs => {
            if let Some(draft) = bench.draft_mut() {
                draft.take_theirs();
            }
            bench.show_again(shown);
        }
        MakingIntent::KeepMine => {
            if let Some(draft) = bench.draft_mut() {
                draft.keep_mine();
            }
        }
        MakingIntent::TakeUp => files.take_up(bench, shown, watch),
        MakingIntent::ThrowAway => files.throw_away(),
    }
    true
}

/// Makes a change of what is kept.
fn act(
    bench: &mut SceneEditor,
    shown: &mut ShownMut,
    propose: impl FnOnce(&crate::scene::Scene, SceneItem) -> Option<Proposal>,
) -> bool {
    let proposal = bench
        .kept
        .zip(bench.scene())
        .and_then(|(thing, scene)| propose(scene, thing));
    proposal.is_some_and(|proposal| bench.take(proposal, shown))
}

/// Begins to type into a field; what is chosen is not typed.
fn edit(bench: &mut SceneEditor, field: Field) {
    let Some(scene) = bench.scene() else { return };
    let text = field.typed_now(scene);
    bench.kept = bench.subject();
    bench.refusal = None;
    bench.entry = Some(super::bench::TypedEntry {
        field,
        text,
        is_new: true,
    });
}

/// Makes the change that was typed.
fn enter(bench: &mut SceneEditor, shown: &mut ShownMut) -> bool {
    let Some((entry, scene)) = bench.entry.clone().zip(bench.scene()) else {
        return false;
    };
    match entry.field.typed(scene, &entry.text) {
        Ok(Some(proposal)) => {
            let taken = bench.take(proposal, shown);
            if taken {
                bench.entry = None;
            }
            taken
        }
        Ok(None) => {
            bench.entry = None;
            false
        }
        Err(error) => {
            bench.refuse(&error);
            false
        }
    }
}

/// Makes the link on trial a support of the scene.
fn keep_link(bench: &mut SceneEditor, shown: &mut ShownMut) -> bool {
    let Some((link, scene)) = shown.read().trial.cloned().zip(bench.scene()) else {
        return false;
    };
    let at: Place = link.at.clone();
    let proposal = Proposal::with_link(scene, &link.name, at, link.ground);
    shown.drop_trial();
    bench.take(proposal, shown)
}

/// Puts a new scene on the stage.
fn begin(
    start: NewScene,
    bench: &mut SceneEditor,
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
    files.begin(bench, draft, None);
}
