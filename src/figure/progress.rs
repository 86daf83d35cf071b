//! How far a figure has come, for whoever waits for it.

use std::cell::Cell;

/// What of a figure is being drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum DrawingPhase {
    /// Lines of body and supports, each where nothing hides it.
    Lines,
    /// Labels, each to its place.
    Labels,
}

/// Is called with how many are done, and of how many.
pub type DrawingProgress<'a> = &'a dyn Fn(DrawingPhase, usize, usize);

/// Counts what is done of a phase.
pub(super) struct Count<'a> {
    watch: Option<DrawingProgress<'a>>,
    phase: DrawingPhase,
    done: Cell<usize>,
    total: usize,
}

impl<'a> Count<'a> {
    /// So many that nobody has done yet.
    pub(crate) fn new(
        watch: Option<DrawingProgress<'a>>,
        phase: DrawingPhase,
        total: usize,
    ) -> Self {
        Self {
            watch,
            phase,
            done: Cell::new(0),
            total,
        }
    }

    /// One more is done.
    pub(crate) fn step(&self) {
        self.done.set(self.done.get() + 1);
        if let Some(watch) = self.watch {
            watch(self.phase, self.done.get(), self.total);
        }
    }
}
