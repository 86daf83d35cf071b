//! Written reports of a diagnosis: JSON for other programs, and a document for a terminal or to file.
//!
//! Sentences come from [`wording`], everything else from the [`Diagnosis`]; a report only arranges.

mod analysis_json;
mod anchorage;
mod assumptions;
mod bending;
mod blocks;
mod circuits;
mod design;
mod details;
mod elastic;
pub mod json;
mod mobility;
pub mod paper;
mod reactions;
mod reasons;
mod record;
pub mod repairs;
mod resultants;
mod schema;
mod solutions;
#[cfg(feature = "cli")]
pub mod sweep;
mod values;

pub use record::ReportRecord;
pub use schema::schema;

use crate::indexed::Indices;
use crate::statics::{CaseAnswer, CaseIndex, Diagnosis, Model, Uncarried};
use crate::study::Study;
use crate::wording::{self, Phrase, ROUNDING, clean_singular_values};

/// What a report is about.
#[derive(Debug, Clone, Copy)]
pub struct Report<'a> {
    /// The scene with all that is known of it.
    pub study: &'a Study,
    /// The load case to report alone, an index into the model's cases; `None` for all of them.
    pub case: Option<CaseIndex>,
}

impl<'a> Report<'a> {
    fn model(&self) -> &'a Model {
        self.study.model()
    }

    fn diagnosis(&self) -> &'a Diagnosis {
        self.study.diagnosis()
    }

    /// Indices of the load cases reported.
    fn case_indices(&self) -> Indices<CaseIndex> {
        match self.case {
            Some(index) => Indices::only(index),
            None => self.diagnosis().cases.indices(),
        }
    }

    /// The load cases reported, at least one.
    fn cases(&self) -> &'a [CaseAnswer] {
        self.diagnosis().cases.slice(&self.case_indices())
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

    /// The load cases reported in which something acts or is imposed.
    fn acting_cases(&self) -> Vec<CaseIndex> {
        let cases = &self.model().cases;
        let acts = |case: &CaseIndex| {
            let case = &cases[*case];
            !(case.loads.is_empty() && case.imposed.is_empty())
        };
        self.case_indices().filter(acts).collect()
    }

    /// Indices of the load cases reported in which something acts.
    fn loaded_cases(&self) -> Vec<CaseIndex> {
        let cases = &self.diagnosis().cases;
        let reported = |index: &CaseIndex| self.case.is_none_or(|only| only == *index);
        cases
            .indices()
            .filter(reported)
            .filter(|index| cases[*index].loaded)
            .collect()
    }
}
