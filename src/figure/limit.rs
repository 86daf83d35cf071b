//! How much of a scene a drawing shows.

use crate::study::Study;

/// How many supports and loads a drawing shows at most.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DrawingLimit {
    /// The start of a sentence on it.
    what: &'static str,
    /// Supports, and loads of the fullest case.
    pub most: usize,
}

impl DrawingLimit {
    /// A figure of so many takes seconds, and its names fill a long page.
    pub const FIGURE: Self = Self {
        what: "a figure",
        most: 1000,
    };
    /// What moves or has stages is drawn a hundred times over.
    pub const SERIES: Self = Self {
        what: "a film or deck",
        most: 100,
    };

    /// How many supports, and loads of the fullest case, a drawing would show.
    pub fn marks(study: &Study) -> usize {
        let cases = study.model().cases.iter().map(|case| case.loads.len());
        study.model().supports.len() + cases.max().unwrap_or(0)
    }

    /// By how much a scene is too large to be drawn, as a sentence; `None` where it is not.
    pub fn excess(self, study: &Study) -> Option<String> {
        let count = Self::marks(study);
        let Self { what, most } = self;
        (count > most).then(|| {
            format!("{what} shows at most {most} supports and loads; this scene has {count}")
        })
    }
}
