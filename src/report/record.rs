//! Where a report comes from, for a file: program, scene with a digest of its text, author, revision, date.

use super::Report;
use super::blocks::heading;
use crate::document::{DocumentBlock, DocumentTable};
use crate::printable::printable;
use crate::wording::Phrase;

/// What only its author knows of a report.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ReportRecord {
    /// Digest of the scene's text, with the name of its method; `None` where the text cannot be had again.
    pub digest: Option<String>,
    /// Who is responsible for it.
    pub author: Option<String>,
    /// Which revision it is.
    pub revision: Option<String>,
    /// Its date, as its author writes it.
    pub date: Option<String>,
}

/// The line below the title: `Revision B, 30 November, A. Author`; `None` where nothing of it is given.
pub(super) fn line(record: &ReportRecord) -> Option<DocumentBlock> {
    let revision = record
        .revision
        .iter()
        .map(|given| format!("Revision {given}"));
    let others = record.date.iter().chain(&record.author).cloned();
    let parts: Vec<String> = revision.chain(others).collect();
    (!parts.is_empty()).then(|| DocumentBlock::Quiet(Phrase::from(parts.join(", "))))
}

/// The table at the end.
pub(super) fn record(report: &Report, record: &ReportRecord, blocks: &mut Vec<DocumentBlock>) {
    let given = |what: &'static str, value: &Option<String>| {
        value.as_ref().map(|value| (what, value.clone()))
    };
    let program = format!("Sixhold {}", env!("CARGO_PKG_VERSION"));
    let scene = printable(report.study.name()).into_owned();
    let digest = record.digest.clone();
    let rows = [
        Some(("Program", program)),
        Some(("Scene", scene)),
        Some((
            "Scene file",
            digest.unwrap_or_else(|| "not kept, so that it has no digest".to_owned()),
        )),
        given("Revision", &record.revision),
        given("Date", &record.date),
        given("Author", &record.author),
    ];
    let row = |(what, value): (&'static str, String)| vec![what.into(), Phrase::name(value)];
    heading(blocks, "Record");
    blocks.push(DocumentBlock::Table(DocumentTable {
        head: ["Item", "value"].map(Phrase::from).into(),
        rows: rows.into_iter().flatten().map(row).collect(),
        ..DocumentTable::default()
    }));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_given_is_below_the_title() {
        assert_eq!(line(&ReportRecord::default()), None);
        let given = ReportRecord {
            revision: Some("B".to_owned()),
            author: Some("A. Author".to_owned()),
            ..ReportRecord::default()
        };
        assert_eq!(
            line(&given),
            Some(DocumentBlock::Quiet("Revision B, A. Author".into()))
        );
    }
}
