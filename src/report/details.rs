//! The parts of the report that few readers need: temperature, margin, removable reactions, singular values.

use super::blocks::{heading, listed};
use super::reactions::by_case;
use super::{Report, clean_singular_values};
use crate::document::DocumentBlock;
use crate::wording::{self, Phrase, phrase};

/// Heading of what can be removed.
pub(super) const RELEASES: &str = "Removable reactions";

/// All of them.
pub(super) fn details(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let (model, study) = (report.model(), report.study);
    if report.diagnosis().counts.redundancy > 0 {
        let said = wording::heat(model, study.heat());
        listed(blocks, "Temperature", vec![said]);
    }
    if let Some(nearness) = study.nearness().filter(|_| report.diagnosis().is_held()) {
        let said = wording::nearness(model, nearness);
        listed(blocks, wording::NEARNESS, said);
    }
    let limits = study.load_limits();
    let cases = report.case_indices().filter(|_| study.one_way().is_some());
    let said = cases.filter_map(|case| {
        let said = wording::load_limits(model, limits[case].as_ref()?);
        Some((case, said))
    });
    listed(blocks, wording::LOAD_LIMITS, by_case(report, said));
    listed(blocks, RELEASES, wording::releases(study));
    rank(report, blocks);
}

fn rank(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let diagnosis = report.diagnosis();
    let values: Vec<Phrase> = clean_singular_values(diagnosis)
        .iter()
        .map(|value| wording::number(*value).into())
        .collect();
    heading(blocks, "Rank");
    blocks.push(DocumentBlock::Paragraph(phrase!(
        "Singular values ",
        Phrase::joined(values, ", "),
        "; ",
        wording::scaling(report.model()),
        "."
    )));
    blocks.push(DocumentBlock::Paragraph(phrase!(
        "Exact rank ",
        diagnosis.exact.rank,
        ", ",
        wording::exactly_of(&diagnosis.exact),
        "."
    )));
}
