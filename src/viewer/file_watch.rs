//! Watching the scene file on disk, by its folder, because editors replace files instead of writing into them.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Mutex};
use std::time::Duration;

use bevy::prelude::*;
use bevy::winit::{EventLoopProxyWrapper, WinitUserEvent};
use notify::{RecommendedWatcher, RecursiveMode, Watcher};

use super::shown::Written;
use super::state::Source;

/// Watches the file that is shown.
pub(crate) struct WatchPlugin;

impl Plugin for WatchPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<FileWatch>()
            .add_systems(Startup, watch_first_scene);
    }
}

/// A burst of changes counts as one when it has been quiet for this long.
const QUIET: Duration = Duration::from_millis(150);

/// What wakes the window's loop.
pub(crate) type WakeLoop = Arc<dyn Fn() + Send + Sync>;

/// The watch on the file that is shown.
#[derive(Resource, Default)]
pub(crate) struct FileWatch {
    current: Option<Current>,
    wake: Option<WakeLoop>,
}

struct Current {
    // Held for as long as it watches.
    _watcher: RecommendedWatcher,
    changes: Mutex<Receiver<()>>,
}

impl FileWatch {
    /// Follows the file of this source, and nothing where it is none.
    pub(crate) fn follow(&mut self, source: Option<&Source>) {
        self.current = None;
        if let Some(Source::File(path)) = source {
            match self.watch(path) {
                Ok(current) => self.current = Some(current),
                Err(error) => warn!("{} is not watched: {error}", path.display()),
            }
        }
    }

    /// What wakes the window's loop, once it runs.
    pub(crate) fn wake(&self) -> Option<WakeLoop> {
        self.wake.clone()
    }

    /// Whether the file may have changed since the last call.
    pub(crate) fn has_changed(&self) -> bool {
        let Some(current) = &self.current else {
            return false;
        };
        let changes = current.changes.lock();
        changes.is_ok_and(|changes| changes.try_iter().count() > 0)
    }

    fn watch(&self, path: &Path) -> notify::Result<Current> {
        let path = std::path::absolute(path)?;
        let folder = path.parent().unwrap_or(&path).to_owned();
        let (raw, bursts) = channel();
        let (settled, changes) = channel();
        let mut watcher = notify::recommended_watcher(move |event| report(event, &path, &raw))?;
        watcher.watch(&folder, RecursiveMode::NonRecursive)?;
        let wake = self.wake.clone();
        std::thread::Builder::new()
            .name("scene file".to_owned())
            .spawn(move || settle(&bursts, &settled, wake.as_ref()))?;
        Ok(Current {
            _watcher: watcher,
            changes: Mutex::new(changes),
        })
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

fn watch_first_scene(
    written: Res<Written>,
    proxy: Option<Res<EventLoopProxyWrapper>>,
    mut watch: ResMut<FileWatch>,
) {
    watch.wake = proxy.map(|proxy| {
        let proxy = (**proxy).clone();
        let wake: WakeLoop = Arc::new(move || {
            // It fails only when the loop has ended.
            let _ = proxy.send_event(WinitUserEvent::WakeUp);
        });
        wake
    });
    watch.follow(written.0.source());
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::time::Instant;

    use super::*;

    /// Waits until the watch reports a change; `false` if it does not within the time.
    fn changes_within(watch: &FileWatch, time: Duration) -> bool {
        let end = Instant::now() + time;
        while Instant::now() < end {
            if watch.has_changed() {
                return true;
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        false
    }

    #[test]
    fn writing_and_replacing_the_file_are_seen_and_neighbours_are_not() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("scene.ron");
        fs::write(&path, "one").unwrap();
        let mut watch = FileWatch::default();
        watch.follow(Some(&Source::File(path.clone())));
        assert!(!changes_within(&watch, Duration::from_millis(400)));
        fs::write(&path, "two").unwrap();
        assert!(changes_within(&watch, Duration::from_secs(5)));
        let other = folder.path().join("other.ron");
        fs::write(&other, "three").unwrap();
        assert!(!changes_within(&watch, Duration::from_millis(500)));
        // As editors save: a new file takes the place of the old one.
        fs::rename(&other, &path).unwrap();
        assert!(changes_within(&watch, Duration::from_secs(5)));
    }

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

    #[test]
    fn nothing_is_watched_for_a_built_in_scene() {
        let mut watch = FileWatch::default();
        watch.follow(Some(&Source::BuiltIn("handrail")));
        assert!(!watch.has_changed());
    }
}
