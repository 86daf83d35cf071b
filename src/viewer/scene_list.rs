//! The scenes to choose from.

use std::io;
use std::path::Path;

use bevy::prelude::*;

use super::intent::StepDirection;
use super::recent::RecentFiles;
use super::state::Source;
use crate::scene::{Scene, builtin};

/// A scene in the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct ListedScene {
    /// What opens it.
    pub source: Source,
    /// Its title.
    pub title: String,
}

/// Scenes that are listed together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct SceneGroup<'a> {
    /// What they have in common.
    pub heading: &'a str,
    /// The scenes.
    pub entries: &'a [ListedScene],
}

/// The scenes to choose from: those of a folder, files that were opened, files that were opened another day, then the built-in ones.
#[derive(Resource, Debug)]
pub(crate) struct SceneList {
    /// The name of the folder that was opened, and its scenes.
    folder: (String, Vec<ListedScene>),
    opened: Vec<ListedScene>,
    earlier: Vec<ListedScene>,
    built_in: Vec<ListedScene>,
    recent: RecentFiles,
    /// Whether verdicts stand beside the scenes.
    pub(crate) shows_verdicts: bool,
}

impl Default for SceneList {
    fn default() -> Self {
        Self::new(RecentFiles::default())
    }
}

impl SceneList {
    /// The built-in scenes and the files that were opened another day.
    pub(crate) fn new(recent: RecentFiles) -> Self {
        let entry = |scene: &builtin::BuiltIn| {
            let source = Source::BuiltIn(scene.name);
            let title = source
                .load()
                .map_or_else(|_| scene.name.to_owned(), |loaded| loaded.scene.title);
            ListedScene { source, title }
        };
        let earlier = recent.files().iter().map(|one| ListedScene {
            source: Source::File(one.path.clone()),
            title: titled(&one.title, &one.path),
        });
        Self {
            folder: (String::new(), Vec::new()),
            opened: Vec::new(),
            earlier: earlier.collect(),
            built_in: builtin::all().iter().map(entry).collect(),
            recent,
            shows_verdicts: true,
        }
    }

    /// All of them, in groups with a heading each.
    pub(crate) fn groups(&self) -> impl Iterator<Item = SceneGroup<'_>> {
        let groups = [
            (self.folder.0.as_str(), &self.folder.1),
            ("Opened", &self.opened),
            ("Opened earlier", &self.earlier),
            ("Built in", &self.built_in),
        ];
        let groups = groups
            .into_iter()
            .filter(|(_, entries)| !entries.is_empty());
        groups.map(|(heading, entries)| SceneGroup { heading, entries })
    }

    /// All of them.
    pub(crate) fn entries(&self) -> impl Iterator<Item = &ListedScene> {
        self.groups().flat_map(|group| group.entries)
    }

    /// Lists the scene files of a folder, by name, and returns the first.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub(crate) fn open_folder(&mut self, folder: &Path) -> io::Result<Option<Source>> {
        let sources = Source::in_folder(folder)?.into_iter();
        let entries = sources.map(|source| {
            let name = source.name();
            let path = Path::new(&name);
            // What cannot be read says why when it is opened.
            let title = source.load().map_or_else(
                |_| file_name(path),
                |loaded| titled(&loaded.scene.title, path),
            );
            ListedScene { source, title }
        });
        let entries: Vec<ListedScene> = entries.collect();
        let first = entries.first().map(|entry| entry.source.clone());
        if first.is_some() {
            self.folder = (format!("In {}", folder.display()), entries);
        }
        Ok(first)
    }

    /// Keeps a file, under its name and the title it has now, so that steps and the list lead back to it.
    pub(crate) fn keep(&mut self, source: Option<&Source>, scene: &Scene) {
        let Some(source @ Source::File(path)) = source else {
            return;
        };
        self.recent.note(path, &scene.title);
        let title = titled(&scene.title, path);
        self.earlier.retain(|entry| entry.source != *source);
        let mut known = self.folder.1.iter_mut().chain(&mut self.opened);
        match known.find(|entry| entry.source == *source) {
            Some(entry) if entry.title != title => entry.title = title,
            Some(_) => {}
            None => {
                let source = source.clone();
                self.opened.push(ListedScene { source, title });
            }
        }
    }

    /// The scene that comes a step after this one: among those of its folder, else among those opened and the built-in ones.
    pub(crate) fn after(&self, source: Option<&Source>, step: StepDirection) -> Option<&Source> {
        let is_this = |entry: &&ListedScene| Some(&entry.source) == source;
        let in_folder = self.folder.1.iter().any(|entry| is_this(&entry));
        let round: Vec<&ListedScene> = match in_folder {
            true => self.folder.1.iter().collect(),
            false => self.opened.iter().chain(&self.built_in).collect(),
        };
        let at = round.iter().position(is_this);
        let next = match (at, step) {
            (Some(at), _) => step.around(at, round.len()),
            (None, StepDirection::On) => 0,
            (None, StepDirection::Back) => round.len().checked_sub(1)?,
        };
        round.get(next).map(|entry| &entry.source)
    }
}

/// The title of a scene with the name of its file.
fn titled(title: &str, path: &Path) -> String {
    format!("{title}  \u{b7}  {}", file_name(path))
}

fn file_name(path: &Path) -> String {
    let file = path.file_name().unwrap_or(path.as_os_str());
    file.to_string_lossy().into_owned()
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::PathBuf;

    use super::*;

    fn file(folder: &Path, name: &str) -> PathBuf {
        let path = folder.join(name);
        fs::write(&path, builtin::find("handrail").unwrap().text).unwrap();
        path
    }

    #[test]
    fn the_scenes_of_a_folder_are_gone_through_round_and_round() {
        let folder = tempfile::tempdir().unwrap();
        let names = ["a.ron", "b.ron", "notes.txt"];
        let [a, b, _] = names.map(|name| Source::File(file(folder.path(), name)));
        let mut list = SceneList::default();
        assert_eq!(list.open_folder(folder.path()).unwrap(), Some(a.clone()));
        assert_eq!(list.after(Some(&a), StepDirection::On), Some(&b));
        assert_eq!(list.after(Some(&b), StepDirection::On), Some(&a));
        assert_eq!(list.after(Some(&a), StepDirection::Back), Some(&b));
        let built_in = Source::BuiltIn(builtin::all()[0].name);
        let next = list.after(Some(&built_in), StepDirection::On).unwrap();
        assert!(matches!(next, Source::BuiltIn(_)));
    }

    #[test]
    fn a_folder_without_scenes_changes_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let mut list = SceneList::default();
        assert_eq!(list.open_folder(folder.path()).unwrap(), None);
        assert_eq!(list.groups().count(), 1);
        assert!(list.open_folder(&folder.path().join("none")).is_err());
    }

    #[test]
    fn a_file_that_was_opened_another_day_is_listed_and_once_only() {
        let folder = tempfile::tempdir().unwrap();
        let path = file(folder.path(), "rail.ron");
        let mut recent = RecentFiles::default();
        recent.note(&path, "Rail");
        let mut list = SceneList::new(recent);
        let headings = |list: &SceneList| -> Vec<String> {
            list.groups()
                .map(|group| group.heading.to_owned())
                .collect()
        };
        assert_eq!(headings(&list), ["Opened earlier", "Built in"]);
        let source = Source::File(path);
        list.keep(Some(&source), &source.load().unwrap().scene);
        assert_eq!(headings(&list), ["Opened", "Built in"]);
    }
}
