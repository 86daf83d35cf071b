//! What of a scene cannot be drawn as it is: letters that no font has, and more supports and loads than a page holds.

use std::collections::BTreeSet;

use super::output::{self, Failure};
use crate::drawing::{self, Weight};
use crate::study::Study;

/// How many supports and loads a drawing shows at most.
pub(crate) struct Limit {
    /// The start of a sentence on it.
    pub what: &'static str,
    /// Supports, and loads of the fullest case.
    pub most: usize,
}

/// A figure of so many takes seconds, and its names fill a long page.
pub(crate) const FIGURE: Limit = Limit {
    what: "a figure",
    most: 1000,
};
/// What moves or has stages is drawn a hundred times over.
pub(crate) const SERIES: Limit = Limit {
    what: "a film or deck",
    most: 100,
};

/// How many supports, and loads of the fullest case, a figure would show.
pub(crate) fn marks(study: &Study) -> usize {
    let cases = study.model().cases.iter().map(|case| case.loads.len());
    study.model().supports.len() + cases.max().unwrap_or(0)
}

/// Fails for a scene with more supports and loads than a drawing shows.
pub(crate) fn check_marks(study: &Study, limit: &Limit) -> Result<(), Failure> {
    let count = marks(study);
    let Limit { what, most } = limit;
    if count <= *most {
        return Ok(());
    }
    Err(Failure::new(
        format!(
            "{}: {what} shows at most {most} supports and loads; this scene has {count}",
            study.name()
        ),
        match count <= FIGURE.most {
            true => "`sixhold figure` draws as many, and `sixhold check` reports on all",
            false => "draw a scene of some of them; `sixhold check` reports on all",
        },
    ))
}

/// Warns of letters that come out as boxes in images and PDF, since no font has them.
pub(crate) fn warn_of_boxes(study: &Study) {
    let lacking = |letter: &char| !drawing::can_be_drawn(*letter, Weight::Medium);
    let letters: BTreeSet<char> = study
        .scene()
        .worded()
        .flat_map(str::chars)
        .filter(lacking)
        .collect();
    if !letters.is_empty() {
        let letters: Vec<String> = letters.iter().map(char::to_string).collect();
        output::warning(&format!(
            "{}: no font on this machine has {}: boxes take their place in images and on the pages of a PDF, whose text can \
             still be copied as it is written",
            study.name(),
            letters.join(" ")
        ));
    }
}
