//! Which scene is on the stage: opening it, stepping through scenes, motions and cases.

mod changed_file;

use super::file_watch::FileWatch;
use super::intent::{CloseAll, SceneIntent, StepDirection, add_messages};
use super::making::SceneEditor;
use super::platform;
use super::practising::Practising;
use super::recent::RecentFiles;
use super::scene_list::SceneList;
use super::shown::{ShownMut, Written};
use super::state::{FileTrouble, Playback, Source, ViewerSystems};
use super::unveiling::Unveiling;
use crate::motion::Selection;
use crate::printable;
use crate::scene::Scene;
use crate::statics::CaseIndex;
use crate::study::Study;
use bevy::prelude::*;
use bevy::window::{FileDragAndDrop, PrimaryWindow};
use std::path::PathBuf;

/// Opens scenes.
#[derive(Default)]
pub(crate) struct LibraryPlugin {
    /// Where the files opened lately are kept; nowhere without a file.
    pub(crate) recent: Option<PathBuf>,
}

impl LibraryPlugin {
    /// With the files that this user opened lately.
    pub(crate) fn of_the_user() -> Self {
        let data = platform::data_folder();
        Self {
            recent: data.map(|data| data.join("recent.json")),
        }
    }
}

impl Plugin for LibraryPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        let recent = RecentFiles::kept_in(self.recent.clone());
        app.insert_resource(SceneList::new(recent))
            .init_resource::<SceneEditor>()
            .init_resource::<FileTrouble>()
            .add_message::<FileDragAndDrop>()
            .add_systems(
                Update,
                (
                    open_dropped_files,
                    follow_intents,
                    close_trouble,
                    changed_file::read_again,
                    keep_files,
                    name_window,
                )
                    .chain()
                    .in_set(ViewerSystems::Input),
            );
    }
}

/// The motion to which one step leads; `None` where it leads past the last or the first of them, to another scene.
fn next(motion: Selection, motions: &[Selection], step: StepDirection) -> Option<Selection> {
    let at = motions.iter().position(|other| *other == motion)?;
    let next = match step {
        StepDirection::On => at.checked_add(1),
        StepDirection::Back => at.checked_sub(1),
    };
    motions.get(next?).copied()
}

fn open_dropped_files(
    mut dropped: MessageReader<FileDragAndDrop>,
    mut intents: MessageWriter<SceneIntent>,
) {
    for event in dropped.read() {
        if let FileDragAndDrop::DroppedFile { path_buf, .. } = event {
            intents.write(SceneIntent::Open(Source::File(path_buf.clone())));
        }
    }
}

fn follow_intents(
    mut intents: MessageReader<SceneIntent>,
    (mut list, unveiling, practising): (
        ResMut<SceneList>,
        Option<Res<Unveiling>>,
        Option<Res<Practising>>,
    ),
    mut shown: ShownMut,
    mut playback: ResMut<Playback>,
    mut trouble: ResMut<FileTrouble>,
    mut watch: ResMut<FileWatch>,
) {
    let is_led = unveiling.is_some_and(|unveiling| unveiling.is_on())
        || practising.is_some_and(|practising| practising.is_on());
    for intent in intents.read() {
        let now = shown.read();
        let cases = now.study.model().cases.len();
        match intent {
            SceneIntent::Open(source) => match scene_of(source, &mut list) {
                Ok(source) => {
                    open(&source, &mut shown, &mut playback, &mut trouble, &mut watch);
                }
                Err(message) => {
                    *trouble = FileTrouble {
                        message: Some(message),
                        lasts: false,
                    };
                }
            },
            SceneIntent::ShowVerdicts(wanted) => list.shows_verdicts = *wanted,
            // Steps lead through the unveiling or the questions first.
            SceneIntent::Step(_) if is_led => {}
            SceneIntent::Step(step) => match next(now.motion, &now.selections(), *step) {
                Some(motion) => choose_motion(&mut shown, &mut playback, motion),
                None => {
                    if let Some(source) = list.after(now.source(), *step) {
                        open(source, &mut shown, &mut playback, &mut trouble, &mut watch);
                    }
                }
            },
            SceneIntent::Motion(motion) => choose_motion(&mut shown, &mut playback, *motion),
            SceneIntent::Case(index) if index.get() >= cases => {}
            SceneIntent::Case(index) => choose_case(&mut shown, &mut playback, *index),
            SceneIntent::NextCase => {
                let next = StepDirection::On.around(now.case.get(), cases);
                choose_case(&mut shown, &mut playback, CaseIndex::new(next));
            }
        }
    }
}

/// Esc closes what it can: not what says that the picture is out of date.
fn close_trouble(mut closed: MessageReader<CloseAll>, mut trouble: ResMut<FileTrouble>) {
    if closed.read().count() > 0 && trouble.message.is_some() && !trouble.lasts {
        trouble.message = None;
    }
}

/// Another motion starts from where the body was written; it goes on moving if the last one did.
fn choose_motion(shown: &mut ShownMut, playback: &mut Playback, motion: Selection) {
    let now = shown.read();
    if motion != now.motion && now.selections().contains(&motion) {
        shown.select_motion(motion);
        playback.position = 0.0;
    }
}

/// Free motions go on under another load case; an escape is one of its own, and there may be none.
fn choose_case(shown: &mut ShownMut, playback: &mut Playback, case: CaseIndex) {
    let before = shown.read().motion;
    shown.select_case(case);
    let now = shown.read();
    if now.motion != before || before == Selection::Escape {
        playback.position = 0.0;
        playback.playing &= now.course().is_some();
    }
}

/// What is to be opened: of a folder the first of its scenes, which are listed from then on.
fn scene_of(source: &Source, list: &mut SceneList) -> Result<Source, String> {
    let Source::File(path) = source else {
        return Ok(source.clone());
    };
    if !path.is_dir() {
        return Ok(source.clone());
    }
    let shown = printable::shown(path);
    match list.open_folder(path) {
        Ok(Some(first)) => Ok(first),
        Ok(None) => Err(format!("the folder {shown} has no scene files (.ron)")),
        Err(error) => Err(format!("the folder {shown} cannot be read: {error}")),
    }
}

/// Puts a scene on the stage, at rest; where it cannot be opened the stage stays as it is.
fn open(
    source: &Source,
    shown: &mut ShownMut,
    playback: &mut Playback,
    trouble: &mut FileTrouble,
    watch: &mut FileWatch,
) {
    match Study::read(source.clone()) {
        Ok(study) => {
            shown.open(study);
            playback.playing = false;
            playback.position = 0.0;
            trouble.message = None;
            watch.follow(Some(source));
        }
        Err(error) => {
            *trouble = FileTrouble {
                message: Some(error.to_string()),
                lasts: Some(source) == shown.read().source(),
            };
        }
    }
}

fn keep_files(written: Res<Written>, mut list: ResMut<SceneList>) {
    if written.is_changed() {
        list.keep(written.0.source(), written.0.scene());
    }
}

fn name_window(written: Res<Written>, window: Option<Single<&mut Window, With<PrimaryWindow>>>) {
    if let Some(mut window) = window.filter(|_| written.is_changed()) {
        let title = window_title(written.0.scene());
        if window.title != title {
            window.title = title;
        }
    }
}

/// Title of the window that shows a scene.
pub(crate) fn window_title(scene: &Scene) -> String {
    format!("Sixhold — {}", scene.title)
}

#[cfg(test)]
mod tests;
