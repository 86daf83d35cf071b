//! Watching the file of the scene that is shown.

use std::sync::Arc;

use bevy::prelude::*;
use bevy::winit::{EventLoopProxyWrapper, WinitUserEvent};

use super::platform::{WakeLoop, WatchedFile};
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

/// The watch on the file that is shown.
#[derive(Resource, Default)]
pub(crate) struct FileWatch {
    current: Option<WatchedFile>,
    wake: Option<WakeLoop>,
}

impl FileWatch {
    /// Follows the file of this source, and nothing where it is none.
    pub(crate) fn follow(&mut self, source: Option<&Source>) {
        self.current = None;
        if let Some(Source::File(path)) = source {
            match WatchedFile::begin(path, self.wake.clone()) {
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
        self.current.as_ref().is_some_and(WatchedFile::has_changed)
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
    use std::time::{Duration, Instant};

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
    fn nothing_is_watched_for_a_built_in_scene() {
        let mut watch = FileWatch::default();
        watch.follow(Some(&Source::BuiltIn("handrail")));
        assert!(!watch.has_changed());
    }
}
