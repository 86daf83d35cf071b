//! What of a scene cannot be drawn as it is: letters that no font has, and more supports and loads than a page holds.

use std::collections::BTreeSet;

use super::output::{self, Failure};
use crate::drawing::{self, Weight};
use crate::study::Study;

/// Most supports and loads of a figure: names and arrows of more find no room beside each other, and looking for it takes
/// longer with the square of their number.
pub(crate) const MOST_MARKS: usize = 100;

/// How many supports, and loads of the fullest case, a figure would show.
pub(crate) fn marks(study: &Study) -> usize {
    let cases = study.model().cases.iter().map(|case| case.loads.len());
    study.model().supports.len() + cases.max().unwrap_or(0)
}

/// Fails for a scene of which no figure could be read.
pub(crate) fn check_marks(study: &Study) -> Result<(), Failure> {
    match marks(study) {
        ..=MOST_MARKS => Ok(()),
        count => Err(Failure::new(
            format!(
                "{}: a figure shows at most {MOST_MARKS} supports and loads; this scene has {count}",
                study.name()
            ),
            "draw a scene of some of them; `sixhold check` reports on all",
        )),
    }
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
