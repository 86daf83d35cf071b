//! What was answered in which scene, kept on this machine.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::Path;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::files::{self, WriteError};

/// The results of all scenes that have been answered, by their names.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Record(BTreeMap<String, Score>);

/// How many questions of a scene were answered rightly, when it was answered last.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Score {
    /// Right answers.
    pub right: usize,
    /// Questions.
    pub asked: usize,
}

/// Why results could not be read or kept.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum RecordError {
    /// The file is there and cannot be read.
    #[error("the results of earlier exercises cannot be read: {0}")]
    Unreadable(#[source] io::Error),
    /// The file holds something else.
    #[error("the file with the results of earlier exercises is damaged: {0}")]
    Damaged(#[source] serde_json::Error),
    /// The file cannot be written.
    #[error("the results cannot be kept: {0}")]
    Unwritable(#[source] WriteError),
}

impl Record {
    /// Reads a file of results; a file that is not there has none.
    ///
    /// # Errors
    /// A [`RecordError`] where the file is there and cannot be read, or holds something else.
    pub fn read(path: &Path) -> Result<Self, RecordError> {
        match fs::read_to_string(path) {
            Ok(text) => serde_json::from_str(&text).map_err(RecordError::Damaged),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Self::default()),
            Err(error) => Err(RecordError::Unreadable(error)),
        }
    }

    /// Writes the results, as a whole or not at all.
    ///
    /// # Errors
    /// A [`RecordError`] where the file cannot be written.
    pub fn write(&self, path: &Path) -> Result<(), RecordError> {
        let text = serde_json::to_string_pretty(self).expect("results have a JSON form");
        files::write(path, text.as_bytes()).map_err(RecordError::Unwritable)
    }

    /// Keeps the result of a scene, in place of an earlier one.
    pub fn keep(&mut self, scene: &str, score: Score) {
        self.0.insert(scene.to_owned(), score);
    }

    /// The result of a scene.
    pub fn of(&self, scene: &str) -> Option<Score> {
        self.0.get(scene).copied()
    }

    /// All results together, and of how many scenes.
    pub fn total(&self) -> (Score, usize) {
        let total = self.0.values().fold(Score::default(), |sum, one| Score {
            right: sum.right + one.right,
            asked: sum.asked + one.asked,
        });
        (total, self.0.len())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_are_kept_and_the_last_of_a_scene_counts() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("results.json");
        let mut record = Record::read(&path).unwrap();
        assert_eq!(record.total(), (Score::default(), 0));
        record.keep("handrail", Score { right: 2, asked: 7 });
        record.keep("handrail", Score { right: 5, asked: 7 });
        record.keep("mirror-cell", Score { right: 4, asked: 4 });
        record.write(&path).unwrap();
        let read = Record::read(&path).unwrap();
        assert_eq!(read, record);
        assert_eq!(read.of("handrail"), Some(Score { right: 5, asked: 7 }));
        assert_eq!(
            read.total(),
            (
                Score {
                    right: 9,
                    asked: 11
                },
                2
            )
        );
    }

    #[test]
    fn a_damaged_file_is_said_to_be_so() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("results.json");
        fs::write(&path, "[1, 2").unwrap();
        let error = Record::read(&path).unwrap_err();
        assert!(error.to_string().contains("damaged"), "{error}");
    }
}
