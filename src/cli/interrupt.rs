//! Being told to stop, by Ctrl+C or by another program: at once, and with nothing left behind; a task that has something to keep is
//! let come to an end of its own.

use std::sync::atomic::{AtomicBool, AtomicI32, Ordering};

#[cfg(unix)]
pub(crate) use on_signal::watch;

/// Whether a task keeps what it has when it is told to stop.
static IS_DEFERRED: AtomicBool = AtomicBool::new(false);
/// The signal that such a task was told to stop by; 0 before.
static ASKED: AtomicI32 = AtomicI32::new(0);

/// While it lives, the first signal to stop is noted only; a second one ends the process at once.
pub(crate) struct Deferral(());

impl Deferral {
    pub(crate) fn new() -> Self {
        IS_DEFERRED.store(true, Ordering::SeqCst);
        Self(())
    }

    /// Whether the task was told to stop.
    pub(crate) fn is_asked(&self) -> bool {
        ASKED.load(Ordering::SeqCst) != 0
    }

    /// Ends the process as the signal would have, if there was one: what was to be kept is.
    pub(crate) fn end(self) {
        let signal = ASKED.load(Ordering::SeqCst);
        drop(self);
        #[cfg(unix)]
        if signal != 0 {
            on_signal::end(signal);
        }
        #[cfg(not(unix))]
        let _ = signal;
    }
}

impl Drop for Deferral {
    fn drop(&mut self) {
        IS_DEFERRED.store(false, Ordering::SeqCst);
    }
}

#[cfg(unix)]
mod on_signal {
    use std::sync::Once;
    use std::sync::atomic::Ordering;
    use std::thread;

    use signal_hook::consts::{SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;
    use signal_hook::low_level::emulate_default_handler;

    use super::{ASKED, IS_DEFERRED};
    use crate::files;

    /// Removes unfinished files when the process is told to stop, and then lets the signal end it, so that a shell sees the
    /// usual 130 or 143 and stops its loops.
    ///
    /// One watch is enough for all commands of a process: each holds a thread and two descriptors for good.
    pub(crate) fn watch() {
        static WATCHED: Once = Once::new();
        WATCHED.call_once(start);
    }

    fn start() {
        // Without it a signal still ends the process; only a file that is just being written would stay behind.
        let Ok(mut signals) = Signals::new([SIGINT, SIGTERM]) else {
            return;
        };
        thread::spawn(move || {
            for signal in signals.forever() {
                let is_first = ASKED.swap(signal, Ordering::SeqCst) == 0;
                if !(is_first && IS_DEFERRED.load(Ordering::SeqCst)) {
                    end(signal);
                }
            }
        });
    }

    /// Ends the process as a signal does.
    pub(super) fn end(signal: i32) {
        files::remove_temporaries(|| drop(emulate_default_handler(signal)));
    }
}
