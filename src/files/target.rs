//! Where a path leads, and whether it may be written to.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::WriteError;

/// What is written to.
pub(crate) enum Target {
    /// A regular file, to be replaced or made.
    File {
        /// The file itself, links followed.
        path: PathBuf,
        /// What is there already.
        old: Option<Metadata>,
    },
    /// Anything else that takes bytes.
    Stream {
        /// What opens it.
        path: PathBuf,
        /// Whether a file open elsewhere has to keep what it holds.
        append: bool,
    },
}

impl Target {
    /// Looks up where a path leads.
    pub(crate) fn of(path: &Path) -> Result<Self, WriteError> {
        let Some(path) = followed(path).map_err(WriteError::system(path))? else {
            let path = path.to_owned();
            return Ok(Self::Stream { path, append: true });
        };
        match fs::metadata(&path) {
            Ok(old) if old.is_dir() => Err(WriteError::Folder { path }),
            Ok(old) if old.is_file() => {
                refuse_read_only(&path, &old)?;
                let old = Some(old);
                Ok(Self::File { path, old })
            }
            Ok(_) => Ok(Self::Stream {
                path,
                append: false,
            }),
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                let folder = folder_of(&path);
                if !folder.is_dir() {
                    let folder = folder.to_owned();
                    return Err(WriteError::NoFolder { folder });
                }
                Ok(Self::File { path, old: None })
            }
            Err(error) => Err(WriteError::system(&path)(error)),
        }
    }
}

/// The folder that a file is in.
pub(crate) fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    }
}

/// Where the links lead that a path may end in, whether or not there is something; `None` where that is a stream that
/// this or another process has open.
fn followed(path: &Path) -> io::Result<Option<PathBuf>> {
    // As many as Linux follows.
    const MOST_LINKS: usize = 40;
    let mut path = path.to_owned();
    for _ in 0..MOST_LINKS {
        match path.read_link() {
            Ok(_) if is_open_stream(&path) => return Ok(None),
            Ok(link) => path = folder_of(&path).join(link),
            // No link, or nothing there.
            Err(_) => return Ok(Some(path)),
        }
    }
    Err(io::Error::other("too many links lead to it"))
}

/// Whether a link is one of those by which Linux names what a process has open: `/dev/stdout` leads to one. What it reads
/// as is no path, and a file behind it must not be replaced, since the process would go on writing to the old one.
fn is_open_stream(link: &Path) -> bool {
    let folder = folder_of(link).canonicalize();
    folder.is_ok_and(|folder| folder.starts_with("/proc") && folder.ends_with("fd"))
}

/// Replacing a file takes a writable folder only; one that is protected stays as it is all the same.
fn refuse_read_only(path: &Path, old: &Metadata) -> Result<(), WriteError> {
    let read_only = || WriteError::ReadOnly {
        path: path.to_owned(),
    };
    if old.permissions().readonly() {
        return Err(read_only());
    }
    match OpenOptions::new().write(true).open(path) {
        Ok(_) => Ok(()),
        Err(error) => Err(match error.kind() {
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => read_only(),
            _ => WriteError::system(path)(error),
        }),
    }
}

/// Writes to what cannot be replaced.
pub(crate) fn write_through(path: &Path, append: bool, content: &[u8]) -> io::Result<()> {
    let mut options = OpenOptions::new();
    let mut stream = options.write(true).append(append).open(path)?;
    stream.write_all(content)?;
    stream.flush()
}

/// Writes over a regular file that has to stay the same file.
pub(crate) fn write_over(path: &Path, content: &[u8]) -> io::Result<()> {
    let mut file: File = OpenOptions::new().write(true).open(path)?;
    file.write_all(content)?;
    file.set_len(content.len() as u64)?;
    file.sync_all()
}
