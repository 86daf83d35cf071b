//! Writing files: each as a whole or not at all, and nothing left behind.
//!
//! A regular file is replaced at once by its new content and keeps its owner and permissions. Whatever else a path leads
//! to (a device, a pipe, a stream of this process) is written through. Links are followed, also to a file yet to be made.

mod target;
mod temporary;

pub use temporary::remove_temporaries;

use std::io;
use std::path::{Path, PathBuf};

use crate::printable::shown;
use target::Target;
use temporary::Temporary;

/// A file that could not be written. Nothing that was there has changed.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum WriteError {
    /// The folder of the file is missing.
    #[error("there is no folder {}", shown(folder))]
    NoFolder {
        /// The folder.
        folder: PathBuf,
    },
    /// A folder has the name of the file.
    #[error("this is a folder, not a file to write to: {}", shown(path))]
    Folder {
        /// The folder.
        path: PathBuf,
    },
    /// The file must not be changed.
    #[error("the file is read-only: {}", shown(path))]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// No new file can be made in the folder.
    #[error("no file can be made in the folder ({source}): {}", shown(folder))]
    ClosedFolder {
        /// The folder.
        folder: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// Anything else that the system says.
    #[error("the file could not be written ({source}): {}", shown(path))]
    System {
        /// The file.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
}

impl WriteError {
    /// What to try.
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            Self::NoFolder { .. } => Some("make it first, or write somewhere else"),
            Self::Folder { .. } => Some("name a file in it"),
            Self::ReadOnly { .. } => Some("make it writable, or write to another file"),
            Self::ClosedFolder { .. } => Some("write to another folder"),
            Self::System { .. } => None,
        }
    }

    fn system(path: &Path) -> impl FnOnce(io::Error) -> Self + '_ {
        |source| Self::System {
            path: path.to_owned(),
            source,
        }
    }
}

/// Fails where a file plainly cannot be written, before the work that its content takes.
///
/// # Errors
/// As [`write()`], as far as that can be known without writing.
pub fn check(path: &Path) -> Result<(), WriteError> {
    Target::of(path).map(|_| ())
}

/// Writes a file.
///
/// # Errors
/// If the folder is missing or closed, the file read-only or a folder, or the disk full.
pub fn write(path: &Path, content: &[u8]) -> Result<(), WriteError> {
    write_all(&[(path, content)])
}

/// Writes files that belong together. All contents are on the disk before the first file is replaced, so that what can
/// fail does so while the old files are still in place; signals wait until all are replaced.
///
/// # Errors
/// As [`write()`].
pub fn write_all(files: &[(impl AsRef<Path>, impl AsRef<[u8]>)]) -> Result<(), WriteError> {
    let mut staged = Vec::with_capacity(files.len());
    for (path, content) in files {
        let (path, content) = (path.as_ref(), content.as_ref());
        match Target::of(path)? {
            Target::File { path, old } => staged.push(Temporary::new(path, old, content)?),
            Target::Stream { path, append } => {
                target::write_through(&path, append, content).map_err(WriteError::system(&path))?
            }
        }
    }
    temporary::put_in_place(staged)
}
