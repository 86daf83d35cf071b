//! Files that were opened lately, kept on this machine so that the list of scenes leads back to them.

use std::fs;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::files;

/// Most that are kept.
const KEPT: usize = 12;

/// A file that was opened.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Recent {
    /// Where it is.
    pub path: PathBuf,
    /// The title that its scene had.
    pub title: String,
}

/// The files, the one opened last first.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct RecentFiles {
    files: Vec<Recent>,
    /// Where they are kept; nowhere without a file.
    kept_in: Option<PathBuf>,
}

impl RecentFiles {
    /// Those that are kept in a file and are still there. One that cannot be read is left alone: it may be another program's.
    pub(crate) fn kept_in(file: Option<PathBuf>) -> Self {
        let Some(path) = &file else {
            return Self::default();
        };
        match fs::read_to_string(path) {
            Ok(text) => match serde_json::from_str::<Vec<Recent>>(&text) {
                Ok(files) => Self {
                    files: files.into_iter().filter(|one| one.path.exists()).collect(),
                    kept_in: file,
                },
                Err(_) => Self::default(),
            },
            Err(_) => Self {
                files: Vec::new(),
                kept_in: file,
            },
        }
    }

    /// The files, the one opened last first.
    pub(crate) fn files(&self) -> &[Recent] {
        &self.files
    }

    /// Notes that a file is open, under the title it has now.
    pub(crate) fn note(&mut self, path: &Path, title: &str) {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        let recent = Recent {
            path,
            title: title.to_owned(),
        };
        if self.files.first() == Some(&recent) {
            return;
        }
        self.files.retain(|other| other.path != recent.path);
        self.files.insert(0, recent);
        self.files.truncate(KEPT);
        self.keep();
    }

    /// What cannot be kept is forgotten with the program: nobody's work is lost with it.
    fn keep(&self) {
        let Some(path) = &self.kept_in else { return };
        let text = serde_json::to_string_pretty(&self.files);
        if let (Some(folder), Ok(text)) = (path.parent(), text)
            && fs::create_dir_all(folder).is_ok()
        {
            let _ = files::write(path, text.as_bytes());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_file_opened_last_comes_first_and_those_that_are_gone_are_not_listed() {
        let folder = tempfile::tempdir().unwrap();
        let kept = folder.path().join("data").join("recent.json");
        let scene = |name: &str| {
            let path = folder.path().join(name);
            fs::write(&path, "a scene").unwrap();
            path
        };
        let [first, second] = [scene("first.ron"), scene("second.ron")];
        let mut recent = RecentFiles::kept_in(Some(kept.clone()));
        recent.note(&first, "First");
        recent.note(&second, "Second");
        recent.note(&first, "First again");
        let titles = |recent: &RecentFiles| -> Vec<String> {
            recent.files().iter().map(|one| one.title.clone()).collect()
        };
        assert_eq!(titles(&recent), ["First again", "Second"]);
        assert_eq!(RecentFiles::kept_in(Some(kept.clone())), recent);
        fs::remove_file(second).unwrap();
        let again = RecentFiles::kept_in(Some(kept));
        assert_eq!(titles(&again), ["First again"]);
    }

    #[test]
    fn no_more_are_kept_than_can_be_read() {
        let mut recent = RecentFiles::default();
        for number in 0..2 * KEPT {
            recent.note(Path::new(&format!("/{number}.ron")), "scene");
        }
        assert_eq!(recent.files().len(), KEPT);
        let last = recent.files()[0].path.clone();
        assert_eq!(last, PathBuf::from(format!("/{}.ron", 2 * KEPT - 1)));
    }

    #[test]
    fn a_file_that_holds_something_else_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let kept = folder.path().join("recent.json");
        fs::write(&kept, "something else").unwrap();
        let mut recent = RecentFiles::kept_in(Some(kept.clone()));
        recent.note(Path::new("/a.ron"), "A");
        assert_eq!(fs::read_to_string(&kept).unwrap(), "something else");
    }
}
