//! How far a long task has come: a line on the terminal that goes when the task is over; silent where stderr is none.

use std::borrow::Cow;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressStyle};

use super::output;
use crate::steps;

/// How often the line is drawn anew while a step takes long.
const TICK: Duration = Duration::from_millis(200);

/// The line of a task.
pub(crate) struct Progress {
    bar: ProgressBar,
    /// Whether each step is a line on stderr, for the program that runs this one.
    writes_lines: bool,
}

impl Progress {
    /// A task of so many steps, each a `noun`.
    pub(crate) fn new(noun: &'static str, steps: usize) -> Self {
        Self::shown(ProgressBar::new(steps as u64), MEASURED, noun)
    }

    /// A task whose steps are not known beforehand.
    pub(crate) fn unmeasured(name: impl Into<Cow<'static, str>>) -> Self {
        Self::shown(
            ProgressBar::new_spinner(),
            "{spinner} {msg}, {elapsed}",
            name,
        )
    }

    /// So many steps of a phase of the task are done, each a `noun`; of a task that was not measured at first, too.
    pub(crate) fn at(&self, noun: &'static str, done: usize, steps: usize) {
        if self.bar.message() != noun {
            self.bar.set_style(style(MEASURED));
            self.bar.set_message(noun);
            self.bar.reset_eta();
        }
        self.bar.set_length(steps as u64);
        self.bar.set_position(done as u64);
    }

    fn shown(bar: ProgressBar, form: &str, name: impl Into<Cow<'static, str>>) -> Self {
        bar.set_style(style(form));
        bar.set_message(name);
        bar.enable_steady_tick(TICK);
        Self {
            bar,
            writes_lines: std::env::var_os(steps::VARIABLE).is_some(),
        }
    }

    /// One more step is done.
    pub(crate) fn step(&self) {
        self.advance(1);
    }

    /// So many more steps are done.
    pub(crate) fn advance(&self, steps: u64) {
        self.bar.inc(steps);
        if self.writes_lines
            && let Some(length) = self.bar.length()
        {
            output::note(&steps::line(self.bar.position(), length));
        }
    }
}

/// The line of a task whose steps are known.
const MEASURED: &str = "{wide_bar} {msg} {pos} of {len}, {eta} left";

fn style(form: &str) -> ProgressStyle {
    let style = ProgressStyle::with_template(form).expect("the form names what the library knows");
    style.progress_chars("\u{2588}\u{2591}")
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
