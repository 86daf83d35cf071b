//! What the window needs of the machine it runs on: a folder of its own, news of files, dialogs, saving. On a desktop that is
//! the system; in a browser it is the page around the window, which has files and storage of its own.

use std::sync::Arc;

#[cfg(not(feature = "viewer"))]
pub(crate) mod browser;
#[cfg(feature = "viewer")]
mod desktop;
#[cfg(feature = "viewer")]
mod watched_file;

#[cfg(not(feature = "viewer"))]
pub(crate) use browser::{HAS_PATHS, NoFile as WatchedFile, choose_file, data_folder, save};
#[cfg(feature = "viewer")]
pub(crate) use desktop::{HAS_PATHS, choose_file, data_folder, save};
#[cfg(feature = "viewer")]
pub(crate) use watched_file::WatchedFile;

/// What wakes the window's loop.
pub(crate) type WakeLoop = Arc<dyn Fn() + Send + Sync>;
