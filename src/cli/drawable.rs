//! What of a scene cannot be drawn as it is: letters that no font has, and more supports and loads than a page holds.

use std::collections::BTreeSet;

use super::output::{self, Failure};
use crate::drawing::{self, Weight};
use crate::figure::DrawingLimit;
use crate::study::Study;

/// Fails for a scene with more supports and loads than a drawing shows.
pub(crate) fn check_marks(study: &Study, limit: DrawingLimit) -> Result<(), Failure> {
    let Some(excess) = limit.excess(study) else {
        return Ok(());
    };
    Err(Failure::new(
        format!("{}: {excess}", study.name()),
        match DrawingLimit::FIGURE.excess(study) {
            None => "`sixhold figure` draws as many, and `sixhold check` reports on all",
            Some(_) => "draw a scene of some of them; `sixhold check` reports on all",
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
