//! Reading the file of the scene shown again when it has changed.

use bevy::prelude::*;

use crate::study::OpenError;
use crate::viewer::file_watch::FileWatch;
use crate::viewer::making::{self, SceneEditor};
use crate::viewer::shown::ShownMut;
use crate::viewer::state::{FileTrouble, Playback};

/// The watched file changed: shows it with everything else as it was, keeps both where edits are not saved, or says what is
/// wrong with it.
pub(super) fn read_again(
    watch: Res<FileWatch>,
    mut shown: ShownMut,
    mut editor: ResMut<SceneEditor>,
    mut playback: ResMut<Playback>,
    mut trouble: ResMut<FileTrouble>,
) {
    if !watch.has_changed() {
        return;
    }
    let now = shown.read();
    let Some(source) = now.source() else { return };
    let read = source.load().map_err(OpenError::from).and_then(|loaded| {
        // A scene without a model is an error too.
        let edited = now.written.edited(loaded.scene.clone())?;
        Ok((loaded.scene, edited, source.text()))
    });
    match read {
        Ok((scene, edited, text)) => {
            if trouble.message.is_some() {
                trouble.message = None;
            }
            match (text, editor.draft().is_some()) {
                (Some(text), true) => making::reread(&mut editor, text, scene, &mut shown),
                _ if scene == *shown.read().written.scene() => {}
                _ => shown.edit(edited),
            }
            rest_if_held(&shown, &mut playback);
        }
        Err(error) => {
            *trouble = FileTrouble {
                message: Some(error.to_string()),
                lasts: true,
            };
        }
    }
}

/// A body that an edit holds cannot go on moving.
fn rest_if_held(shown: &ShownMut, playback: &mut Playback) {
    if shown.read().course().is_none() {
        playback.playing = false;
        playback.position = 0.0;
    }
}
