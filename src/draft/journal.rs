//! Work that is not saved, kept on disk so that it survives a program that is killed.
//!
//! Each running program has a journal of its own in a folder, held by a lock that the system takes away with the program. What
//! a journal holds that nobody locks was left behind.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use serde::{Deserialize, Serialize};

use crate::files::{self, WriteError};

/// Work that is not saved.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Unsaved {
    /// What the scene was opened as, or its title.
    pub name: String,
    /// The file that it belongs to; `None` for a scene that has none yet.
    pub file: Option<PathBuf>,
    /// What that file said when it was last read or saved.
    pub on_disk: Option<String>,
    /// The scene as it would be saved.
    pub text: String,
}

/// The journal of a running program.
#[derive(Debug)]
pub struct Journal {
    path: PathBuf,
    lock: PathBuf,
    _held: File,
}

const ENDING: &str = "unsaved.json";
const LOCK_ENDING: &str = "lock";

impl Journal {
    /// Begins a journal in a folder, which is made where it is missing.
    ///
    /// # Errors
    /// What the system says against a file there.
    pub fn begin(folder: &Path) -> io::Result<Self> {
        fs::create_dir_all(folder)?;
        sweep(folder);
        let process = std::process::id();
        for number in 0_u32.. {
            let path = folder.join(format!("{process}-{number}.{ENDING}"));
            let lock = lock_of(&path);
            let held = match File::create_new(&lock) {
                Ok(held) => held,
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => continue,
                Err(error) => return Err(error),
            };
            held.try_lock()?;
            return Ok(Self {
                path,
                lock,
                _held: held,
            });
        }
        Err(io::Error::from(io::ErrorKind::AlreadyExists))
    }

    /// Keeps the work, in place of what was kept before: after a crash there is one or the other, never a part.
    ///
    /// # Errors
    /// As [`files::write`].
    pub fn keep(&self, unsaved: &Unsaved) -> Result<(), WriteError> {
        let text = serde_json::to_string(unsaved).unwrap_or_default();
        files::write(&self.path, text.as_bytes())
    }

    /// Forgets the work, which is saved or given up.
    pub fn forget(&self) {
        // A journal that was never written has no file.
        let _ = fs::remove_file(&self.path);
    }

    /// What programs that are gone have left in a folder, the newest first.
    pub fn left_behind(folder: &Path) -> Vec<LeftBehind> {
        let Ok(entries) = folder.read_dir() else {
            return Vec::new();
        };
        let paths = entries.flatten().map(|entry| entry.path());
        let mut found: Vec<LeftBehind> = paths.filter_map(LeftBehind::at).collect();
        found.sort_by_key(|left| std::cmp::Reverse(left.modified));
        found
    }
}

impl Drop for Journal {
    fn drop(&mut self) {
        if !self.path.exists() {
            let _ = fs::remove_file(&self.lock);
        }
    }
}

/// Work that a program left behind when it ended.
#[derive(Debug)]
pub struct LeftBehind {
    /// The work.
    pub unsaved: Unsaved,
    path: PathBuf,
    modified: Option<SystemTime>,
}

impl LeftBehind {
    fn at(path: PathBuf) -> Option<Self> {
        let name = path.file_name()?.to_str()?;
        if !name.ends_with(ENDING) || !is_abandoned(&path) {
            return None;
        }
        let unsaved = serde_json::from_str(&fs::read_to_string(&path).ok()?).ok()?;
        let modified = path.metadata().and_then(|about| about.modified()).ok();
        Some(Self {
            unsaved,
            path,
            modified,
        })
    }

    /// Removes it, once it is taken over or not wanted.
    pub fn remove(self) {
        let _ = fs::remove_file(&self.path);
        let _ = fs::remove_file(lock_of(&self.path));
    }
}

/// A write takes no hour: what is older was left by a program that was killed in the middle of one.
const STALE: Duration = Duration::from_secs(3600);

/// Removes halves of files that were being written when a program was killed.
fn sweep(folder: &Path) {
    let entries = folder.read_dir().into_iter().flatten().flatten();
    for entry in entries {
        let name = entry.file_name().to_string_lossy().into_owned();
        let is_half = !name.ends_with(ENDING) && !name.ends_with(LOCK_ENDING);
        let age = entry.metadata().and_then(|about| about.modified());
        let is_stale = age
            .ok()
            .and_then(|at| at.elapsed().ok())
            .is_some_and(|age| age > STALE);
        if is_half && is_stale {
            let _ = fs::remove_file(entry.path());
        }
    }
}

fn lock_of(journal: &Path) -> PathBuf {
    let name = journal.file_name().unwrap_or_default().to_string_lossy();
    let stem = name.strip_suffix(ENDING).unwrap_or(&name).to_owned();
    journal.with_file_name(format!("{stem}{LOCK_ENDING}"))
}

/// Whether no running program holds a journal's lock.
fn is_abandoned(journal: &Path) -> bool {
    match File::open(lock_of(journal)) {
        Ok(lock) => lock.try_lock().is_ok(),
        Err(error) => error.kind() == io::ErrorKind::NotFound,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unsaved(text: &str) -> Unsaved {
        Unsaved {
            name: "lamp boom".to_owned(),
            file: Some(PathBuf::from("boom.ron")),
            on_disk: None,
            text: text.to_owned(),
        }
    }

    #[test]
    fn what_a_program_leaves_is_offered_when_it_is_gone_and_not_before() {
        let folder = tempfile::tempdir().unwrap();
        let journal = Journal::begin(folder.path()).unwrap();
        journal.keep(&unsaved("one")).unwrap();
        journal.keep(&unsaved("two")).unwrap();
        assert!(
            Journal::left_behind(folder.path()).is_empty(),
            "it is still running"
        );
        drop(journal);
        let mut left = Journal::left_behind(folder.path());
        assert_eq!(left.len(), 1);
        let left = left.remove(0);
        assert_eq!(left.unsaved, unsaved("two"));
        left.remove();
        assert_eq!(folder.path().read_dir().unwrap().count(), 0);
    }

    #[test]
    fn saved_work_leaves_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let journal = Journal::begin(&folder.path().join("made for it")).unwrap();
        journal.keep(&unsaved("one")).unwrap();
        journal.forget();
        drop(journal);
        assert!(Journal::left_behind(&folder.path().join("made for it")).is_empty());
        assert_eq!(
            folder
                .path()
                .join("made for it")
                .read_dir()
                .unwrap()
                .count(),
            0
        );
    }

    #[test]
    fn a_broken_journal_and_other_files_are_passed_over() {
        let folder = tempfile::tempdir().unwrap();
        fs::write(
            folder.path().join("1-0.unsaved.json"),
            "{\"name\": \"half a fi",
        )
        .unwrap();
        fs::write(folder.path().join("notes.txt"), "").unwrap();
        assert!(Journal::left_behind(folder.path()).is_empty());
        assert!(Journal::left_behind(&folder.path().join("missing")).is_empty());
    }
}
