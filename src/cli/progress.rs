//! How far a long task has come: a line on the terminal that goes when the task is over; silent where stderr is none.

use std::borrow::Cow;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressStyle};

/// How often the line is drawn anew while a step takes long.
const TICK: Duration = Duration::from_millis(200);

/// The line of a task.
pub(crate) struct Progress(ProgressBar);

impl Progress {
    /// A task of so many steps, each a `noun`.
    pub(crate) fn new(noun: &'static str, steps: usize) -> Self {
        let form = "{wide_bar} {msg} {pos} of {len}, {eta} left";
        Self::shown(ProgressBar::new(steps as u64), form, noun)
    }

    /// A task whose steps are not known beforehand.
    pub(crate) fn unmeasured(name: impl Into<Cow<'static, str>>) -> Self {
        Self::shown(
            ProgressBar::new_spinner(),
            "{spinner} {msg}, {elapsed}",
            name,
        )
    }

    fn shown(bar: ProgressBar, form: &str, name: impl Into<Cow<'static, str>>) -> Self {
        let style =
            ProgressStyle::with_template(form).expect("the form names what the library knows");
        bar.set_style(style.progress_chars("\u{2588}\u{2591}"));
        bar.set_message(name);
        bar.enable_steady_tick(TICK);
        Self(bar)
    }

    /// One more step is done.
    pub(crate) fn step(&self) {
        self.0.inc(1);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}
