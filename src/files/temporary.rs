//! Files under another name until they are whole, which are removed if the process is stopped before.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use tempfile::NamedTempFile;

use super::WriteError;
use super::target::{folder_of, write_over};

/// Names of the temporary files that are there now. Who holds the lock keeps signals waiting.
static NAMES: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

fn names() -> MutexGuard<'static, Vec<PathBuf>> {
    NAMES.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Removes all temporary files, then ends the process in the given way, while none can be made.
pub fn remove_temporaries(end: impl FnOnce()) {
    let names = names();
    for name in names.iter() {
        // What is gone already needs no removing, and there is nobody left to be told of anything else.
        let _ = fs::remove_file(name);
    }
    end();
}

/// New content that waits to take the place of a file.
pub(crate) struct Temporary {
    target: PathBuf,
    file: NamedTempFile,
    /// The content, where the file that is there cannot be replaced by one of the same owner.
    over: Option<Vec<u8>>,
}

impl Temporary {
    /// Puts the content on the disk beside the file that it is to replace.
    pub(crate) fn new(
        target: PathBuf,
        old: Option<Metadata>,
        content: &[u8],
    ) -> Result<Self, WriteError> {
        let mut file = made_in(folder_of(&target))?;
        let failed = WriteError::system(&target);
        let over = filled(&mut file, old, content).map_err(failed)?;
        Ok(Self { target, file, over })
    }

    fn put_in_place(self) -> Result<(), WriteError> {
        let failed = WriteError::system(&self.target);
        match self.over {
            Some(content) => write_over(&self.target, &content),
            None => self
                .file
                .persist(&self.target)
                .map(drop)
                .map_err(io::Error::from),
        }
        .map_err(failed)
    }
}

/// Lets every temporary file take the place of its target. Signals wait, so that a set is not left half old, half new.
pub(crate) fn put_in_place(files: Vec<Temporary>) -> Result<(), WriteError> {
    let mut names = names();
    let result = files.into_iter().try_for_each(Temporary::put_in_place);
    names.retain(|name| name.exists());
    result
}

/// A new file, known to [`remove_temporaries`], with the permissions that any program gives to its files.
fn made_in(folder: &Path) -> Result<NamedTempFile, WriteError> {
    let mut names = names();
    let make = |path: &Path| OpenOptions::new().write(true).create_new(true).open(path);
    let file = tempfile::Builder::new().make_in(folder, make);
    let file = file.map_err(|source| WriteError::ClosedFolder {
        folder: folder.to_owned(),
        source,
    })?;
    names.push(file.path().to_owned());
    Ok(file)
}

/// Writes the content and takes over permissions and owner; returns the content again if the owner cannot be kept.
fn filled(
    file: &mut NamedTempFile<File>,
    old: Option<Metadata>,
    content: &[u8],
) -> io::Result<Option<Vec<u8>>> {
    file.write_all(content)?;
    let mut over = None;
    if let Some(old) = old {
        if !keeps_owner(file.as_file(), &old)? {
            over = Some(content.to_owned());
        }
        // After the owner, whose change takes some permissions away.
        file.as_file().set_permissions(old.permissions())?;
    }
    file.as_file().sync_all()?;
    Ok(over)
}

/// Gives a file the owner and group of another; whether that was possible.
#[cfg(unix)]
fn keeps_owner(file: &File, old: &Metadata) -> io::Result<bool> {
    use std::os::unix::fs::{MetadataExt, fchown};
    let new = file.metadata()?;
    if (new.uid(), new.gid()) == (old.uid(), old.gid()) {
        return Ok(true);
    }
    match fchown(file, Some(old.uid()), Some(old.gid())) {
        Err(error) if error.kind() == io::ErrorKind::PermissionDenied => Ok(false),
        result => result.map(|()| true),
    }
}

/// Elsewhere the folder decides who owns a file.
#[cfg(not(unix))]
fn keeps_owner(_file: &File, _old: &Metadata) -> io::Result<bool> {
    Ok(true)
}
