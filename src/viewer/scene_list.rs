//! The scenes to choose from.

use bevy::prelude::*;

use super::intent::Step;
use super::scenes::Entry;
use super::state::Source;
use crate::scene::{Scene, builtin};

/// The scenes to choose from: files that were opened, then the built-in ones.
#[derive(Resource, Debug)]
pub(crate) struct SceneList {
    entries: Vec<Entry>,
}

impl Default for SceneList {
    fn default() -> Self {
        let entry = |scene: &builtin::BuiltIn| {
            let source = Source::BuiltIn(scene.name);
            let title = source
                .load()
                .map_or_else(|_| scene.name.to_owned(), |loaded| loaded.scene.title);
            Entry { source, title }
        };
        Self {
            entries: builtin::all().iter().map(entry).collect(),
        }
    }
}

impl SceneList {
    /// The scenes: files in the order they were opened, then the built-in ones in teaching order.
    pub(crate) fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// Keeps a file, under its name and the title it has now, so that steps and the list lead back to it.
    pub(crate) fn keep(&mut self, source: Option<&Source>, scene: &Scene) {
        let Some(source @ Source::File(path)) = source else {
            return;
        };
        let file = path.file_name().unwrap_or(path.as_os_str());
        let title = format!("{}  \u{b7}  {}", scene.title, file.to_string_lossy());
        let place = self
            .entries
            .iter()
            .position(|entry| entry.source == *source);
        match place {
            Some(at) if self.entries[at].title != title => self.entries[at].title = title,
            Some(_) => {}
            None => {
                let is_file = |entry: &Entry| matches!(entry.source, Source::File(_));
                let files = self
                    .entries
                    .iter()
                    .take_while(|entry| is_file(entry))
                    .count();
                let source = source.clone();
                self.entries.insert(files, Entry { source, title });
            }
        }
    }

    /// The scene that comes a step after this one.
    pub(crate) fn after(&self, source: Option<&Source>, step: Step) -> Option<&Source> {
        let at = self
            .entries
            .iter()
            .position(|entry| Some(&entry.source) == source);
        let next = match (at, step) {
            (Some(at), _) => step.around(at, self.entries.len()),
            (None, Step::On) => 0,
            (None, Step::Back) => self.entries.len().checked_sub(1)?,
        };
        self.entries.get(next).map(|entry| &entry.source)
    }
}
