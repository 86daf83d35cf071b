//! The system that a program runs on.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};
use std::thread;

use super::WakeLoop;
use crate::files;
use crate::viewer::intent::FilePurpose;

/// Whether scenes are opened and saved by the paths of files.
pub(crate) const HAS_PATHS: bool = true;

/// Where this user's programs keep what they need to know next time.
pub(crate) fn data_folder() -> Option<PathBuf> {
    dirs::data_dir().map(|data| data.join("sixhold"))
}

/// Asks the system for a file, in a thread of its own since the answer may take a while.
pub(crate) fn choose_file(
    purpose: FilePurpose,
    wake: Option<WakeLoop>,
) -> Option<Receiver<Option<PathBuf>>> {
    let (sender, answers) = channel();
    let asking = move || {
        let dialog = rfd::FileDialog::new().add_filter("scenes", &["ron"]);
        let answer = match purpose {
            FilePurpose::Open => dialog.pick_file(),
            FilePurpose::Save => dialog.save_file(),
        };
        // Nobody waits any more only when the window is closed.
        let _ = sender.send(answer);
        if let Some(wake) = wake {
            wake();
        }
    };
    let thread = thread::Builder::new().name("file dialog".to_owned());
    thread.spawn(asking).ok().map(|_| answers)
}

/// Writes a scene to a file, as a whole or not at all; the file is the scene's own from then on.
pub(crate) fn save(path: &Path, text: &str) -> Result<Option<PathBuf>, String> {
    files::write(path, text.as_bytes())
        .map(|()| Some(path.to_owned()))
        .map_err(|error| {
            let hint = error.hint();
            format!(
                "{error}{}",
                hint.map_or(String::new(), |hint| format!(": {hint}"))
            )
        })
}
