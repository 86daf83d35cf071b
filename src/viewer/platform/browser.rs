//! A browser: the page around the window keeps files, dialogs and handouts. It hears what the window says, and asks of it what
//! is done in the next frame.

use std::cell::RefCell;
use std::path::{Path, PathBuf};
use std::sync::mpsc::Receiver;

use serde::Serialize;

use super::WakeLoop;
use crate::viewer::intent::FilePurpose;

/// What the window tells the page.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(
    rename_all = "camelCase",
    rename_all_fields = "camelCase",
    tag = "says"
)]
pub(crate) enum WindowNews {
    /// The first picture is there.
    Ready {
        /// What the panels leave to the scene: left, top, width and height, pixels of the page.
        area: [f32; 4],
    },
    /// Another scene or a changed one is shown.
    Shown {
        /// Name of a built-in scene.
        name: Option<String>,
        /// Its text.
        text: String,
        /// Whether it has just been opened, and is no change of what was shown before.
        is_opened: bool,
        /// What was done last, of a scene that was changed.
        step: Option<String>,
        /// Name of the load case.
        case: String,
    },
    /// These colours are on.
    Dressed {
        /// Name of the theme.
        theme: &'static str,
    },
    /// The scene is to be saved.
    Save {
        /// The text of its file.
        text: String,
    },
    /// A file is to be opened.
    Choose,
    /// This is to be taken home.
    Handout {
        /// What.
        what: &'static str,
    },
}

/// What the page asks of the window.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum PageOrder {
    /// To show this scene.
    Open {
        /// Its text.
        text: String,
    },
    /// To take up what was made of the scene elsewhere, as a step.
    Change {
        /// The text that came of it.
        text: String,
    },
    /// To take it that this text of the scene is saved.
    Saved {
        /// The text.
        text: String,
    },
    /// To put on these colours.
    Dress {
        /// Name of the theme.
        theme: String,
    },
}

/// Hears news as JSON.
type Listener = Box<dyn Fn(&str)>;

// A page has one thread.
thread_local! {
    static LISTENER: RefCell<Option<Listener>> = const { RefCell::new(None) };
    static ORDERS: RefCell<Vec<PageOrder>> = const { RefCell::new(Vec::new()) };
    static WAKE: RefCell<Option<WakeLoop>> = const { RefCell::new(None) };
}

/// Says who hears news.
pub(crate) fn listen(listener: Listener) {
    LISTENER.set(Some(listener));
}

/// Tells the page.
pub(crate) fn tell(news: &WindowNews) {
    // Plain texts have a JSON form.
    let news = serde_json::to_string(news).unwrap_or_default();
    LISTENER.with_borrow(|listener| {
        if let Some(listener) = listener {
            listener(&news);
        }
    });
}

/// Takes an order of the page's, and wakes the window for it.
pub(crate) fn order(order: PageOrder) {
    ORDERS.with_borrow_mut(|orders| orders.push(order));
    WAKE.with_borrow(|wake| {
        if let Some(wake) = wake {
            wake();
        }
    });
}

/// Says what wakes the window.
pub(crate) fn wake_by(wake: Option<WakeLoop>) {
    WAKE.set(wake);
}

/// The orders since the last call.
pub(crate) fn orders() -> Vec<PageOrder> {
    ORDERS.take()
}

/// Whether scenes are opened and saved by the paths of files.
pub(crate) const HAS_PATHS: bool = false;

/// There is no folder: what is to be known next time, the page keeps.
pub(crate) fn data_folder() -> Option<PathBuf> {
    None
}

/// The page asks for the file, and orders what is in it to be shown.
pub(crate) fn choose_file(
    purpose: FilePurpose,
    _wake: Option<WakeLoop>,
) -> Option<Receiver<Option<PathBuf>>> {
    if purpose == FilePurpose::Open {
        tell(&WindowNews::Choose);
    }
    None
}

/// Hands a scene to the page, which knows where it goes, and says so once it is saved.
#[expect(
    clippy::unnecessary_wraps,
    reason = "files can fail where there are any"
)]
pub(crate) fn save(_path: &Path, text: &str) -> Result<Option<PathBuf>, String> {
    let text = text.to_owned();
    tell(&WindowNews::Save { text });
    Ok(None)
}

/// Files are not watched: there are none.
pub(crate) enum NoFile {}

impl NoFile {
    /// There is nothing to watch.
    pub(crate) fn begin(_path: &Path, _wake: Option<WakeLoop>) -> Result<Self, &'static str> {
        Err("a page has no files")
    }

    /// Whether the file may have changed.
    pub(crate) fn has_changed(&self) -> bool {
        match *self {}
    }
}
