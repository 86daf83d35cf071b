//! Reading scene files: bytes to text to a checked [`Scene`], with every problem at once.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use super::decode::{self, Findings};
use super::problem::{Explain, Lines, Problem, ReadError, Severity, did_you_mean, nearest};
use super::source_offsets::SourceOffsets;
use super::syntax::SyntaxNode;
use super::{Scene, check, to_ron};

/// Largest scene file that is read, in bytes.
pub const SIZE_LIMIT: u64 = 16 * 1024 * 1024;

/// A scene that can be used.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Loaded {
    /// The scene.
    pub scene: Scene,
    /// What it probably does not say as meant, in the order of the text.
    pub warnings: Vec<Problem>,
}

/// Reads a scene file.
///
/// # Errors
/// If the file cannot be read or is no whole scene: all problems at once.
pub fn read_file(path: &Path) -> Result<Loaded, ReadError> {
    let name = path.display().to_string();
    let text = read_text(path).map_err(|fault| refusal(&name, &fault))?;
    read_str(&name, &text)
}

/// What standard input is called in messages.
pub const INPUT: &str = "standard input";

/// Reads a scene from standard input, to its end.
///
/// # Errors
/// If the input cannot be read or is no whole scene: all problems at once.
pub fn read_input() -> Result<Loaded, ReadError> {
    let text = text_of(io::stdin().lock()).map_err(|fault| refusal(INPUT, &fault))?;
    read_str(INPUT, &text)
}

/// Reads a scene from text; `name` stands for the file in messages.
///
/// # Errors
/// If it is no whole scene: all problems at once.
pub fn read_str(name: &str, text: &str) -> Result<Loaded, ReadError> {
    let (scene, warnings) = read(name, text, check::warn)?;
    Ok(Loaded { scene, warnings })
}

/// Reads a scene from text without looking for what was probably meant otherwise, which takes most of the time.
///
/// # Errors
/// As [`read_str`].
pub(super) fn read_unwarned(name: &str, text: &str) -> Result<Scene, ReadError> {
    read(name, text, |_, _, _| ()).map(|(scene, _)| scene)
}

/// The scene as its reader has it: made in memory it may say what no text says, such as two supports of one name.
///
/// # Errors
/// What the reader has against it, placed in the text that [`to_ron`] makes of it.
pub fn validated(scene: &Scene) -> Result<Scene, ReadError> {
    read_unwarned("", &to_ron(scene))
}

fn read(
    name: &str,
    text: &str,
    warn: fn(&Scene, &SourceOffsets, &mut Findings),
) -> Result<(Scene, Vec<Problem>), ReadError> {
    // Some editors begin a UTF-8 file with this mark.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.contains('\0') {
        return Err(refusal(name, &FileFault::Binary));
    }
    let document = SyntaxNode::document(text).map_err(|(position, fault)| ReadError {
        file: name.to_owned(),
        problems: vec![Problem::new(Severity::Error, position, &fault)],
        left_out: 0,
    })?;
    let mut findings = Findings::default();
    let (scene, places) = decode::scene(document, &mut findings);
    if !findings.unreadable {
        check::check(&scene, &places, &mut findings);
        if !findings.failed {
            warn(&scene, &places, &mut findings);
        }
    }
    let (failed, left_out) = (findings.failed, findings.left_out);
    let problems = placed(findings, text);
    if failed {
        let file = name.to_owned();
        return Err(ReadError {
            file,
            problems,
            left_out,
        });
    }
    Ok((scene, problems))
}

/// Findings in the order of the text.
fn placed(mut findings: Findings, text: &str) -> Vec<Problem> {
    findings.problems.sort_by_key(|found| found.offset);
    let lines = Lines::new(text);
    let problem = |found: decode::Finding| {
        let position = lines.position(found.offset);
        Problem::new(found.severity, Some(position), &*found.fault)
    };
    findings.problems.into_iter().map(problem).collect()
}

fn refusal(name: &str, fault: &FileFault) -> ReadError {
    ReadError {
        file: name.to_owned(),
        problems: vec![Problem::new(Severity::Error, None, fault)],
        left_out: 0,
    }
}

/// A file whose content is no text to begin with.
#[derive(Debug, thiserror::Error)]
enum FileFault {
    #[error("there is no such file")]
    Missing { near: Option<String> },
    #[error("this is a folder")]
    Folder,
    #[error("the file is larger than {} MiB", SIZE_LIMIT / (1024 * 1024))]
    TooLarge,
    #[error("the file holds binary data")]
    Binary,
    #[error("byte {offset} is not UTF-8 text")]
    NotUtf8 { offset: usize },
    #[error("the file cannot be read: {source}")]
    Unreadable { source: io::Error },
}

impl Explain for FileFault {
    fn expected(&self) -> Option<String> {
        match self {
            Self::Folder | Self::TooLarge | Self::Binary | Self::NotUtf8 { .. } => {
                Some("a scene: a text file with a few lines for each part".to_owned())
            }
            Self::Missing { .. } | Self::Unreadable { .. } => None,
        }
    }

    fn hint(&self) -> Option<String> {
        match self {
            Self::Missing { near: Some(near) } => did_you_mean(Some(near)),
            Self::Missing { near: None } => {
                Some("`sixhold scenes` lists the built-in scenes, which need no file".to_owned())
            }
            Self::Binary | Self::NotUtf8 { .. } => Some("save it as UTF-8 text".to_owned()),
            Self::Folder => Some("name a file in it".to_owned()),
            Self::TooLarge | Self::Unreadable { .. } => None,
        }
    }
}

fn read_text(path: &Path) -> Result<String, FileFault> {
    let unreadable = |source: io::Error| match source.kind() {
        io::ErrorKind::NotFound => FileFault::Missing {
            near: near_file(path),
        },
        _ => FileFault::Unreadable { source },
    };
    let about = path.metadata().map_err(unreadable)?;
    if about.is_dir() {
        return Err(FileFault::Folder);
    }
    if about.len() > SIZE_LIMIT {
        return Err(FileFault::TooLarge);
    }
    text_of(File::open(path).map_err(unreadable)?)
}

/// The text of a file, a device or a pipe; the limit holds here again, since these may grow or have no length.
fn text_of(input: impl Read) -> Result<String, FileFault> {
    let mut bytes = Vec::new();
    input
        .take(SIZE_LIMIT + 1)
        .read_to_end(&mut bytes)
        .map_err(|source| FileFault::Unreadable { source })?;
    if bytes.len() as u64 > SIZE_LIMIT {
        return Err(FileFault::TooLarge);
    }
    if bytes.contains(&0) {
        return Err(FileFault::Binary);
    }
    String::from_utf8(bytes).map_err(|error| FileFault::NotUtf8 {
        offset: error.utf8_error().valid_up_to(),
    })
}

/// A file of the same folder whose name is close to a missing one.
fn near_file(path: &Path) -> Option<String> {
    // A folder with more entries is no place where someone mistypes a scene.
    const MOST_ENTRIES: usize = 10_000;
    let folder = match path.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    };
    let entries = folder.read_dir().ok()?.take(MOST_ENTRIES).flatten();
    let files = entries.filter(|entry| entry.file_type().is_ok_and(|kind| !kind.is_dir()));
    let mut names: Vec<String> = files
        .filter_map(|entry| entry.file_name().into_string().ok())
        .collect();
    names.sort();
    let sought = path.file_name()?.to_str()?;
    let near = nearest(sought, names.iter().map(String::as_str))?;
    Some(path.with_file_name(near).display().to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn problem(result: Result<Loaded, ReadError>) -> Problem {
        let mut problems = result.unwrap_err().problems;
        assert_eq!(problems.len(), 1);
        problems.remove(0)
    }

    #[test]
    fn a_missing_file_is_refused_and_a_near_name_is_offered() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("shutter.ron"), "").unwrap();
        let missing = problem(read_file(&folder.path().join("shuter.ron")));
        assert_eq!(missing.message, "there is no such file");
        assert!(missing.hint.unwrap().contains("shutter.ron"));
        let far = problem(read_file(&folder.path().join("lamp-boom.ron")));
        assert!(far.hint.unwrap().contains("built-in"));
    }

    #[test]
    fn a_file_of_100_mb_is_refused_before_it_is_read() {
        let file = tempfile::NamedTempFile::new().unwrap();
        file.as_file().set_len(100_000_000).unwrap();
        let large = problem(read_file(file.path()));
        assert_eq!(large.message, "the file is larger than 16 MiB");
    }

    #[test]
    fn folders_binary_data_and_other_encodings_are_refused() {
        let folder = tempfile::tempdir().unwrap();
        let written = |bytes: &[u8]| {
            let path = folder.path().join("scene.ron");
            std::fs::write(&path, bytes).unwrap();
            problem(read_file(&path)).message
        };
        assert_eq!(
            problem(read_file(folder.path())).message,
            "this is a folder"
        );
        assert_eq!(written(b"\x89PNG\r\n\0\x01"), "the file holds binary data");
        assert_eq!(written(b"(title: \"f\xfcr\")"), "byte 10 is not UTF-8 text");
    }

    #[cfg(unix)]
    #[test]
    fn an_endless_device_is_refused() {
        let endless = problem(read_file(Path::new("/dev/zero")));
        assert_eq!(endless.message, "the file is larger than 16 MiB");
    }
}
