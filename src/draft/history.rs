//! The scene in the making with every step that led to it.

use std::sync::Arc;

use super::edit::Edit;
use super::proposal::Proposal;
use crate::scene::{Problem, ReadError, Scene, to_ron, to_ron_like, validated};

/// A scene in the making. It can be read back at any moment: no step leads to a scene that the reader refuses.
#[derive(Debug, Clone)]
pub struct Draft {
    now: State,
    done: Vec<HistoryStep>,
    undone: Vec<HistoryStep>,
    /// How many states there have been, so that none is taken for another.
    states: u64,
    /// The text on disk that the scene was read from or saved as.
    disk: Option<OnDisk>,
    /// What somebody else wrote to the file while edits were not saved.
    theirs: Option<(String, Scene)>,
}

/// The text of a file as far as it is known.
#[derive(Debug, Clone)]
struct OnDisk {
    text: String,
    /// The state of the history that it says; `None` where it says none of them.
    state: Option<u64>,
}

#[derive(Debug, Clone)]
struct State {
    id: u64,
    scene: Arc<Scene>,
}

/// A step of the history.
#[derive(Debug, Clone)]
pub struct HistoryStep {
    name: String,
    edit: Edit,
    from: u64,
    to: u64,
}

impl HistoryStep {
    /// What it does, to follow "undo": `moved A by 0.2 m`.
    pub fn name(&self) -> &str {
        &self.name
    }
}

/// Why a proposal was not taken up.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{}", self.first())]
pub struct Refusal {
    /// What the reader has against the scene that would come of it, the first first; places in the text mean nothing here.
    pub problems: Vec<Problem>,
}

impl Refusal {
    fn first(&self) -> &str {
        self.problems.first().map_or("", |problem| &problem.message)
    }
}

impl From<ReadError> for Refusal {
    fn from(error: ReadError) -> Self {
        Self {
            problems: error.problems,
        }
    }
}

/// What has become of a file that was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[must_use]
#[non_exhaustive]
pub enum NewsFromDisk {
    /// It says what is known.
    Nothing,
    /// It was changed, nothing was unsaved, and the change is the last step now.
    Taken,
    /// It was changed while edits were not saved: both are kept, see [`Draft::take_theirs`] and [`Draft::keep_mine`].
    Conflict,
}

impl Draft {
    /// A draft that begins with a scene read from a file's text.
    pub fn of_file(scene: Scene, text: String) -> Self {
        Self {
            disk: Some(OnDisk {
                text,
                state: Some(0),
            }),
            ..Self::new(scene)
        }
    }

    /// A draft that begins with a scene that no file holds yet.
    pub fn new(scene: Scene) -> Self {
        Self {
            now: State {
                id: 0,
                scene: Arc::new(scene),
            },
            done: Vec::new(),
            undone: Vec::new(),
            states: 1,
            disk: None,
            theirs: None,
        }
    }

    /// A draft that begins with work on a scene that no file holds, and that is not to be lost.
    pub fn unsaved(scene: Scene) -> Self {
        let mut draft = Self::new(scene);
        (draft.now.id, draft.states) = (1, 2);
        draft
    }

    /// The scene as it is now.
    pub fn scene(&self) -> &Arc<Scene> {
        &self.now.scene
    }

    /// The steps that led here, the last one last.
    pub fn done(&self) -> &[HistoryStep] {
        &self.done
    }

    /// The steps that were undone, the next to be redone last.
    pub fn undone(&self) -> &[HistoryStep] {
        &self.undone
    }

    /// The scene that would come of a proposal; nothing is kept.
    ///
    /// # Errors
    /// What the reader has against it.
    pub fn tried(&self, proposal: &Proposal) -> Result<Scene, Refusal> {
        Ok(validated(&proposal.scene)?)
    }

    /// Takes a proposal up as the next step; one that changes nothing is none. Undone steps are gone then.
    ///
    /// # Errors
    /// What the reader has against the scene that would come of it; the draft stays as it is.
    pub fn take(&mut self, proposal: Proposal) -> Result<(), Refusal> {
        let scene = self.tried(&proposal)?;
        self.step_to(proposal.name, scene);
        Ok(())
    }

    fn step_to(&mut self, name: String, scene: Scene) {
        let edit = Edit::between(&self.now.scene, &scene);
        if edit.is_empty() {
            return;
        }
        let (from, to) = (self.now.id, self.states);
        self.states += 1;
        self.done.push(HistoryStep {
            name,
            edit,
            from,
            to,
        });
        self.undone.clear();
        self.now = State {
            id: to,
            scene: Arc::new(scene),
        };
    }

    /// Undoes the last step; `None` where there is none.
    pub fn undo(&mut self) -> Option<&HistoryStep> {
        let step = self.done.pop()?;
        self.go(&step.edit.reversed(), step.from);
        self.undone.push(step);
        self.undone.last()
    }

    /// Makes the step again that was undone last; `None` where there is none.
    pub fn redo(&mut self) -> Option<&HistoryStep> {
        let step = self.undone.pop()?;
        self.go(&step.edit, step.to);
        self.done.push(step);
        self.done.last()
    }

    fn go(&mut self, edit: &Edit, to: u64) {
        let scene = edit.applied(&self.now.scene);
        let scene = scene.expect("a history's edits follow one another");
        self.now = State {
            id: to,
            scene: Arc::new(scene),
        };
    }

    /// Whether the scene is not what the file says.
    pub fn is_unsaved(&self) -> bool {
        match &self.disk {
            Some(disk) => disk.state != Some(self.now.id),
            None => self.now.id != 0,
        }
    }

    /// The text to save: the file's own, with only that changed which differs from it.
    pub fn text(&self) -> String {
        match &self.disk {
            Some(disk) if !self.is_unsaved() => disk.text.clone(),
            Some(disk) => to_ron_like(&disk.text, self.scene()),
            None => to_ron(self.scene()),
        }
    }

    /// The text on disk as far as it is known.
    pub fn text_on_disk(&self) -> Option<&str> {
        self.disk.as_ref().map(|disk| disk.text.as_str())
    }

    /// Notes that the scene was saved as this text.
    pub fn saved_as(&mut self, text: String) {
        self.disk = Some(OnDisk {
            text,
            state: Some(self.now.id),
        });
        self.theirs = None;
    }

    /// Notes what the file says now.
    pub fn reread(&mut self, text: String, scene: Scene) -> NewsFromDisk {
        if self.text_on_disk() == Some(text.as_str()) {
            return NewsFromDisk::Nothing;
        }
        if self.is_unsaved() {
            self.theirs = Some((text, scene));
            return NewsFromDisk::Conflict;
        }
        self.take_from_disk(text, scene);
        NewsFromDisk::Taken
    }

    fn take_from_disk(&mut self, text: String, scene: Scene) {
        self.step_to("read the file again".to_owned(), scene);
        self.saved_as(text);
    }

    /// Whether somebody else has changed the file while edits were not saved.
    pub fn has_conflict(&self) -> bool {
        self.theirs.is_some()
    }

    /// Takes what the file says now, as a step that can be undone.
    pub fn take_theirs(&mut self) {
        if let Some((text, scene)) = self.theirs.take() {
            self.take_from_disk(text, scene);
        }
    }

    /// Stays with the scene as it is; saving it changes the file as it now is.
    pub fn keep_mine(&mut self) {
        if let Some((text, scene)) = self.theirs.take() {
            let same = scene == **self.scene();
            // No state of the history is what the file says, unless by chance the present one.
            let state = same.then_some(self.now.id);
            self.disk = Some(OnDisk { text, state });
        }
    }
}
