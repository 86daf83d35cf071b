//! Being told to stop, by Ctrl+C or by another program: at once, and with nothing left behind.

use std::sync::Once;
use std::thread;

use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::iterator::Signals;
use signal_hook::low_level::emulate_default_handler;

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
            files::remove_temporaries(|| drop(emulate_default_handler(signal)));
        }
    });
}
