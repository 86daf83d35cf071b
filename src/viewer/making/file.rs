//! Where the scene in the making is kept: saving, choosing files, work that was left behind.

use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::mpsc::Receiver;

use bevy::prelude::*;

use super::editor::{SceneEditor, show};
use crate::draft::{Draft, Journal, LeftBehind, Proposal, Unsaved};
use crate::scene::{Scene, read_str};
use crate::study::{Source, Study};
use crate::viewer::file_watch::FileWatch;
use crate::viewer::intent::{FilePurpose, MakingIntent, SceneIntent};
use crate::viewer::platform;
use crate::viewer::shown::{ShownMut, Written};

/// What the window knows of files besides the one that is shown.
#[derive(Resource, Default)]
pub(crate) struct Files {
    journal: Option<Journal>,
    /// What was last kept in the journal.
    kept: Option<Unsaved>,
    folder: Option<PathBuf>,
    /// Work on other scenes of this window that is not saved.
    aside: Vec<SetAside>,
    /// What programs that are gone left behind, to be offered one after the other.
    left: Vec<LeftBehind>,
    /// The path to save as, while it is asked for.
    pub(crate) path: Option<String>,
    /// Why the last file was not written.
    pub(crate) trouble: Option<String>,
    /// What was last saved, to be said.
    pub(crate) saved: Option<String>,
    dialog: Option<(FilePurpose, Mutex<Receiver<Option<PathBuf>>>)>,
}

/// Work on a scene that another one has taken the place of.
struct SetAside {
    draft: Draft,
    source: Option<Source>,
    journal: Option<Journal>,
}

/// The folder for work that is not saved: in the user's data folder.
pub(super) fn folder() -> Option<PathBuf> {
    platform::data_folder().map(|data| data.join("unsaved"))
}

/// Keeps what is not saved, whenever it has changed.
pub(super) fn keep_unsaved(editor: Res<SceneEditor>, mut files: ResMut<Files>) {
    if !editor.is_changed() || editor.drag.is_some() {
        return;
    }
    let Some(draft) = editor.draft() else { return };
    if !draft.is_unsaved() {
        if files.kept.take().is_some()
            && let Some(journal) = &files.journal
        {
            journal.forget();
        }
        return;
    }
    let file = match editor.source() {
        Some(Source::File(path)) => std::path::absolute(path).ok(),
        _ => None,
    };
    let unsaved = Unsaved {
        name: draft.scene().title.clone(),
        file,
        on_disk: draft.text_on_disk().map(str::to_owned),
        text: draft.text(),
    };
    if files.kept.as_ref() == Some(&unsaved) {
        return;
    }
    if let Some(Err(error)) = files.journal.as_ref().map(|journal| journal.keep(&unsaved)) {
        warn!("unsaved work is not kept: {error}");
    }
    files.kept = Some(unsaved);
}

/// Another scene on the stage is another draft.
pub(super) fn follow_stage(
    written: Res<Written>,
    mut editor: ResMut<SceneEditor>,
    mut files: ResMut<Files>,
) {
    if !written.is_changed() || editor.drag.is_some() {
        return;
    }
    let study = &written.0;
    let same = editor.scene() == Some(study.scene());
    if !same || editor.draft().is_none() {
        files.begin(&mut editor, draft_of(study), study.source().cloned());
    }
}

/// The draft that begins with a study's scene and, where it has one, its text.
fn draft_of(study: &Study) -> Draft {
    let scene = study.scene().clone();
    match study.source().and_then(Source::text) {
        Some(text) => Draft::of_file(scene, text),
        None => Draft::new(scene),
    }
}

/// Takes up what a dialog was answered with.
pub(super) fn hear_of_dialogs(
    mut files: ResMut<Files>,
    mut scenes: MessageWriter<SceneIntent>,
    mut making: MessageWriter<MakingIntent>,
) {
    let Some((purpose, answers)) = &files.dialog else {
        return;
    };
    let answer = answers
        .lock()
        .ok()
        .and_then(|answers| answers.try_recv().ok());
    let Some(answer) = answer else { return };
    if let Some(path) = answer {
        match purpose {
            FilePurpose::Open => drop(scenes.write(SceneIntent::Open(Source::File(path)))),
            FilePurpose::Save => drop(making.write(MakingIntent::SaveAs(path))),
        }
    }
    files.dialog = None;
}

impl Files {
    /// What was left behind in a folder, and a journal there.
    pub(super) fn in_folder(folder: Option<PathBuf>) -> Self {
        let Some(folder) = folder else {
            return Self::default();
        };
        let journal = Journal::begin(&folder);
        if let Err(error) = &journal {
            warn!("unsaved work is not kept in {}: {error}", folder.display());
        }
        Self {
            left: Journal::left_behind(&folder),
            journal: journal.ok(),
            folder: Some(folder),
            ..Self::default()
        }
    }

    /// The work that is offered.
    pub(crate) fn left_behind(&self) -> Option<String> {
        let aside = self
            .aside
            .last()
            .map(|aside| aside.draft.scene().title.clone());
        aside.or_else(|| self.left.first().map(|left| left.unsaved.name.clone()))
    }

    /// Begins anew with another draft; one that is not saved is set aside.
    pub(super) fn begin(&mut self, editor: &mut SceneEditor, draft: Draft, source: Option<Source>) {
        self.close();
        let (draft, source) = editor.begin(draft, source);
        if let Some(unsaved) = draft.filter(Draft::is_unsaved) {
            self.set_aside(unsaved, source);
        }
    }

    /// Keeps work that another scene takes the place of, with all its steps and its journal, to be offered.
    fn set_aside(&mut self, draft: Draft, source: Option<Source>) {
        self.kept = None;
        let folder = self.folder.clone();
        let next = folder.and_then(|folder| Journal::begin(&folder).ok());
        let journal = std::mem::replace(&mut self.journal, next);
        self.aside.push(SetAside {
            draft,
            source,
            journal,
        });
    }

    /// Asks for nothing any more.
    pub(super) fn close(&mut self) {
        (self.path, self.trouble, self.saved) = (None, None, None);
    }

    /// Saves to the scene's own file; asks for one where it has none.
    pub(super) fn save(
        &mut self,
        editor: &mut SceneEditor,
        shown: &mut ShownMut,
        watch: &mut FileWatch,
    ) {
        match editor.source().cloned() {
            Some(Source::File(path)) => self.save_as(&path, editor, shown, watch),
            // The page asks for a name by itself.
            _ if !platform::HAS_PATHS => {
                let path = PathBuf::from(suggested(editor));
                self.save_as(&path, editor, shown, watch);
            }
            _ => self.path = Some(suggested(editor)),
        }
    }

    /// Saves to a file, which is the scene's own from then on.
    pub(super) fn save_as(
        &mut self,
        path: &Path,
        editor: &mut SceneEditor,
        shown: &mut ShownMut,
        watch: &mut FileWatch,
    ) {
        let Some(draft) = editor.draft_mut() else {
            return;
        };
        if draft.has_conflict() {
            self.trouble = Some("say first whose version goes on, yours or the file's".to_owned());
            return;
        }
        let text = draft.text();
        match platform::save(path, &text) {
            Err(trouble) => {
                self.trouble = Some(trouble);
                self.path = Some(path.display().to_string());
            }
            // The page says when it is saved.
            Ok(None) => self.close(),
            Ok(Some(path)) => {
                draft.saved_as(text);
                self.close();
                self.saved = Some(format!("saved to {}", path.display()));
                let source = Source::File(path);
                if editor.source() != Some(&source) {
                    shown.move_to(source.clone());
                    watch.follow(Some(&source));
                    editor.moved_to(source);
                }
            }
        }
    }

    /// Asks for a file, once at a time.
    pub(super) fn ask(&mut self, purpose: FilePurpose, watch: &FileWatch) {
        if self.dialog.is_some() {
            return;
        }
        let answers = platform::choose_file(purpose, watch.wake());
        self.dialog = answers.map(|answers| (purpose, Mutex::new(answers)));
    }

    /// Takes up the work that was left behind, as a step from what its file said.
    pub(super) fn take_up(
        &mut self,
        editor: &mut SceneEditor,
        shown: &mut ShownMut,
        watch: &mut FileWatch,
    ) {
        if let Some(aside) = self.aside.pop() {
            return self.take_up_again(aside, editor, shown, watch);
        }
        if self.left.is_empty() {
            return;
        }
        let left = self.left.remove(0);
        let Unsaved {
            name,
            file,
            on_disk,
            text,
        } = left.unsaved.clone();
        let Ok(mine) = read_str(&name, &text) else {
            return;
        };
        let base = on_disk
            .as_deref()
            .and_then(|text| Some((read_str(&name, text).ok()?.scene, text.to_owned())));
        let (draft, taken) = match base {
            None => (Draft::unsaved(mine.scene), true),
            Some((scene, text)) => {
                let mut draft = Draft::of_file(scene, text);
                let work = |scene: &mut Scene| *scene = mine.scene;
                let proposal = Proposal::new(draft.scene(), "took up unsaved work", work);
                let taken = draft.take(proposal).is_ok();
                (draft, taken)
            }
        };
        let Ok(study) = Study::new((**draft.scene()).clone()) else {
            return;
        };
        let source = file.map(Source::File);
        shown.open(match &source {
            Some(source) => study.kept_in(source.clone()),
            None => study,
        });
        watch.follow(source.as_ref());
        self.begin(editor, draft, source);
        if taken {
            left.remove();
        }
    }

    /// Goes on with work on a scene that another one had taken the place of, as it was left.
    fn take_up_again(
        &mut self,
        aside: SetAside,
        editor: &mut SceneEditor,
        shown: &mut ShownMut,
        watch: &mut FileWatch,
    ) {
        let Ok(study) = Study::new((**aside.draft.scene()).clone()) else {
            return;
        };
        shown.open(match &aside.source {
            Some(source) => study.kept_in(source.clone()),
            None => study,
        });
        watch.follow(aside.source.as_ref());
        self.begin(editor, aside.draft, aside.source);
        if let Some(journal) = aside.journal {
            // The work is written to the window's own journal from now on.
            journal.forget();
        }
    }

    /// Throws the work away that was left behind.
    pub(super) fn throw_away(&mut self) {
        if let Some(aside) = self.aside.pop() {
            if let Some(journal) = aside.journal {
                journal.forget();
            }
            return;
        }
        if !self.left.is_empty() {
            self.left.remove(0).remove();
        }
    }
}

/// A path for a scene that has no file yet: its title in small letters.
fn suggested(editor: &SceneEditor) -> String {
    let title = editor.scene().map_or("scene", |scene| &scene.title);
    let letters = title.to_lowercase();
    let words: Vec<&str> = letters
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    match words.is_empty() {
        true => "scene.ron".to_owned(),
        false => format!("{}.ron", words.join("-")),
    }
}

/// The watched file changed: shows what it says, or keeps both where edits are not saved.
pub(crate) fn reread(editor: &mut SceneEditor, text: String, scene: Scene, shown: &mut ShownMut) {
    use crate::draft::NewsFromDisk;
    let Some(draft) = editor.draft_mut() else {
        return;
    };
    if draft.reread(text, scene) == NewsFromDisk::Taken {
        let scene = draft.scene().clone();
        show(&scene, shown);
    }
}
