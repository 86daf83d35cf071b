//! Keeps graphics drivers from talking where the program has something to say.

use std::env;
use std::os::unix::process::CommandExt;
use std::process::Command;

/// Mesa leaves its layer that chooses among devices out where this is set.
const WITHOUT_LAYER: &str = "NODEVICE_SELECT";

/// Starts the program anew without that layer where it would only complain; comes back where that is not so.
///
/// The layer looks for a Wayland display, and its library prints an error where no `XDG_RUNTIME_DIR` tells of a
/// session: on servers, in containers, over ssh.
pub(crate) fn hush() {
    let is_set = |name: &str| env::var_os(name).is_some();
    if is_set("XDG_RUNTIME_DIR") || is_set(WITHOUT_LAYER) {
        return;
    }
    let mut words = env::args_os();
    if let (Ok(program), Some(name)) = (env::current_exe(), words.next()) {
        // It comes back only with an error; then the driver may complain.
        let _ = Command::new(program)
            .arg0(name)
            .args(words)
            .env(WITHOUT_LAYER, "1")
            .exec();
    }
}
