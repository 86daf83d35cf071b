//! Written reports of a diagnosis: JSON for other programs, and a document for a terminal or to file.
//!
//! Sentences come from [`wording`], everything else from the [`Diagnosis`]; a report only arranges.

mod analysis_json;
mod blocks;
mod circuits;
mod details;
pub mod json;
mod mobility;
pub mod paper;
mod reactions;
mod reasons;
pub mod repairs;
mod schema;
mod solutions;
mod values;

pub use schema::schema;

use std::ops::Range;

use crate::statics::{CaseAnswer, Diagnosis, Model, Uncarried};
use crate::study::Study;
use crate::wording::{self, Phrase, ROUNDING, clean_singular_values};

/// What a report is about.
#[derive(Debug, Clone, Copy)]
pub struct Report<'a> {
    /// The scene with all that is known of it.
    pub study: &'a Study,
    /// The load case to report alone, an index into the model's cases; `None` for all of them.
    pub case: Option<usize>,
}

impl<'a> Report<'a> {
    fn model(&self) -> &'a Model {
        self.study.model()
    }

    fn diagnosis(&self) -> &'a Diagnosis {
        self.study.diagnosis()
    }

    /// Indices of the load cases reported.
    fn case_indices(&self) -> Range<usize> {
        match self.case {
            Some(index) => index..index + 1,
            None => 0..self.diagnosis().cases.len(),
        }
    }

    /// The load cases reported, at least one.
    fn cases(&self) -> &'a [CaseAnswer] {
        match self.case {
            Some(index) => &self.diagnosis().cases[index..=index],
            None => &self.diagnosis().cases,
        }
    }

    /// The load cases reported that the supports do not carry.
    pub fn uncarried(&self) -> Vec<Uncarried> {
        let all = self.study.uncarried().iter();
        let reported = |found: &&Uncarried| self.case.is_none_or(|only| only == found.case);
        all.filter(reported).cloned().collect()
    }

    /// The sentence that leads.
    fn headline(&self) -> Phrase {
        wording::headline(self.model(), self.diagnosis(), &self.uncarried())
    }

    /// Indices of the load cases reported in which something acts.
    fn loaded_cases(&self) -> Vec<usize> {
        let cases = &self.diagnosis().cases;
        let reported = |index: &usize| self.case.is_none_or(|only| only == *index);
        (0..cases.len())
            .filter(reported)
            .filter(|index| cases[*index].loaded)
            .collect()
    }
}
