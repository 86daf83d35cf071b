//! Watching a file on disk, by its folder, because editors replace files instead of writing into them.

use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::Duration;

use notify::{RecommendedWatcher, RecursiveMode, Watcher};

use super::WakeLoop;

/// A burst of changes counts as one when it has been quiet for this long.
const QUIET: Duration = Duration::from_millis(150);

/// The watch on a file.
pub(crate) struct WatchedFile {
    // Held for as long as it watches.
    _watcher: RecommendedWatcher,
    changes: Mutex<Receiver<()>>,
}

impl WatchedFile {
    /// Begins to watch; every change wakes the loop.
    pub(crate) fn begin(path: &Path, wake: Option<WakeLoop>) -> notify::Result<Self> {
        let path = std::path::absolute(path)?;
        let folder = path.parent().unwrap_or(&path).to_owned();
        let (raw, bursts) = channel();
        let (settled, changes) = channel();
        let mut watcher = notify::recommended_watcher(move |event| report(event, &path, &raw))?;
        watcher.watch(&folder, RecursiveMode::NonRecursive)?;
        std::thread::Builder::new()
            .name("scene file".to_owned())
            .spawn(move || settle(&bursts, &settled, wake.as_ref()))?;
        Ok(Self {
            _watcher: watcher,
            changes: Mutex::new(changes),
        })
    }

    /// Whether the file may have changed since the last call.
    pub(crate) fn has_changed(&self) -> bool {
        let changes = self.changes.lock();
        changes.is_ok_and(|changes| changes.try_iter().count() > 0)
    }
}

/// Passes on that something happened to the watched file.
fn report(event: notify::Result<notify::Event>, path: &PathBuf, changed: &Sender<()>) {
    let concerns = match event {
        Ok(event) => !event.kind.is_access() && event.paths.contains(path),
        // Events were lost: look, to be sure.
        Err(_) => true,
    };
    if concerns {
        // Nobody listens any more only when the watch is being dropped.
        let _ = changed.send(());
    }
}

/// Turns bursts of changes into single ones and wakes the loop for each.
fn settle(bursts: &Receiver<()>, settled: &Sender<()>, wake: Option<&WakeLoop>) {
    while bursts.recv().is_ok() {
        loop {
            match bursts.recv_timeout(QUIET) {
                Ok(()) => {}
                Err(RecvTimeoutError::Timeout) => break,
                Err(RecvTimeoutError::Disconnected) => return,
            }
        }
        if settled.send(()).is_err() {
            return;
        }
        if let Some(wake) = wake {
            wake();
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;

    #[test]
    fn a_burst_is_one_change_and_wakes_once() {
        let woken = Arc::new(Mutex::new(0));
        let counter = woken.clone();
        let wake: WakeLoop = Arc::new(move || *counter.lock().unwrap() += 1);
        let (raw, bursts) = channel();
        let (settled, changes) = channel();
        for _ in 0..20 {
            raw.send(()).unwrap();
        }
        drop(raw);
        let thread = std::thread::spawn(move || settle(&bursts, &settled, Some(&wake)));
        thread.join().unwrap();
        // All twenty came at once and then the sender went away: nothing was left to settle.
        assert_eq!(changes.try_iter().count(), 0);
        assert_eq!(*woken.lock().unwrap(), 0);
    }
}
