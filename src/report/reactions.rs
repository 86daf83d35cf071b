//! The parts of the report on reactions: their values, what follows from equilibrium, one-way supports, redundant sets.

use super::blocks::{heading, listed};
use super::{Report, circuits};
use crate::document::{DocumentBlock, DocumentTable};
use crate::statics::{
    CaseAnswer, CaseIndex, Model, OneWayCase, PlacedSupport, Reaction, ReactionIndex, ReactionKind,
};
use crate::wording::{self, Phrase, phrase};

/// The values of the reactions, and a sentence on each load case; of a body that is not held the sentences lead.
pub(super) fn reactions(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let is_held = report.diagnosis().is_held();
    if !is_held {
        heading(blocks, "Equilibrium");
        equilibrium(report, blocks);
    }
    if !report.model().reactions.is_empty() {
        heading(blocks, "Reactions");
        let cases = balanced(report);
        blocks.push(DocumentBlock::Table(table(report, &cases)));
        let answers: Vec<&CaseAnswer> = cases
            .iter()
            .map(|case| &report.diagnosis().cases[*case])
            .collect();
        let key = wording::key_to_members(report.model(), &answers);
        let marked = (cases.len() > 1).then_some(KEY_TO_LARGEST);
        let keys = [key, marked].into_iter().flatten();
        blocks.extend(keys.map(|key| DocumentBlock::Quiet(key.into())));
    }
    if is_held {
        equilibrium(report, blocks);
    }
}

/// Behind the largest value of a reaction over several load cases, and what it means.
pub(super) const LARGEST: &str = " *";
const KEY_TO_LARGEST: &str = "* largest magnitude of this reaction over all load cases.";

/// The load cases that act and have an equilibrium.
pub(super) fn balanced(report: &Report) -> Vec<CaseIndex> {
    let mut cases = report.loaded_cases();
    cases.retain(|case| report.diagnosis().cases[*case].is_balanced());
    cases
}

/// Reactions below their supports, with a column for each load case.
fn table(report: &Report, cases: &[CaseIndex]) -> DocumentTable {
    let model = report.model();
    let mut head: Vec<Phrase> = ["", "kind", "along"].map(Phrase::from).into();
    head.extend(
        cases
            .iter()
            .map(|case| Phrase::name(&model.cases[*case].name)),
    );
    below_supports(model, head, 3, |index| row(report, cases, index))
}

/// A table with a row for each reaction, below its support; values begin in a column.
pub(super) fn below_supports(
    model: &Model,
    head: Vec<Phrase>,
    first_value: usize,
    row: impl Fn(ReactionIndex) -> Vec<Phrase>,
) -> DocumentTable {
    DocumentTable {
        rows: model.reactions.indices().map(row).collect(),
        values: (0..head.len())
            .map(|column| column >= first_value)
            .collect(),
        head,
        groups: model
            .supports
            .iter()
            .filter_map(|support| group(model, support))
            .collect(),
    }
}

/// What stands in front of the reactions of a support: `A, ball joint at (0, 0, 0) m`.
pub(super) fn group(model: &Model, support: &PlacedSupport) -> Option<(usize, Phrase)> {
    let words = phrase!(
        Phrase::name(&support.name),
        ", ",
        wording::support_kind(&support.kind),
        " at ",
        wording::coordinates(model, &support.point)
    );
    let first = support.reactions.lowest()?;
    Some((first.get(), words))
}

fn row(report: &Report, cases: &[CaseIndex], index: ReactionIndex) -> Vec<Phrase> {
    let (model, diagnosis) = (report.model(), report.diagnosis());
    let reaction = &model.reactions[index];
    let kind = match reaction.kind {
        ReactionKind::Force => "force",
        ReactionKind::Couple => "couple",
    };
    let largest = diagnosis.largest(index, cases.iter().copied());
    let is_largest = |case: CaseIndex| {
        let found = largest.filter(|_| cases.len() > 1);
        found.is_some_and(|largest| largest.case == case)
    };
    let mut row = vec![
        (&reaction.symbol).into(),
        kind.into(),
        wording::signed_direction(model, &reaction.direction),
    ];
    row.extend(cases.iter().map(|case| {
        let value = diagnosis.cases[*case].values[index];
        let mark = is_largest(*case).then_some(LARGEST);
        phrase!(cell(model, reaction, value), mark)
    }));
    row
}

fn cell(model: &Model, reaction: &Reaction, value: Option<f64>) -> Phrase {
    let Some(known) = value else {
        return "indeterminate".into();
    };
    let text = wording::acting(model, reaction, known);
    match wording::one_way_note(reaction, value) {
        Some(note) => phrase!(text, " (", note, ")"),
        None => text,
    }
}

/// What is said of load cases, those of which the same is said together; without names where it is said of all.
pub(super) fn by_case(
    report: &Report,
    said: impl Iterator<Item = (CaseIndex, Phrase)>,
) -> Vec<Phrase> {
    let mut groups: Vec<(Vec<Phrase>, Phrase)> = Vec::new();
    for (case, sentence) in said {
        let name = Phrase::name(&report.model().cases[case].name);
        match groups.iter_mut().find(|(_, other)| *other == sentence) {
            Some((names, _)) => names.push(name),
            None => groups.push((vec![name], sentence)),
        }
    }
    match groups.as_slice() {
        [(_, all)] if report.case.is_none() || report.model().cases.len() == 1 => {
            vec![all.clone()]
        }
        groups => groups
            .iter()
            .map(|(names, sentence)| phrase!(wording::listed(names), ": ", sentence))
            .collect(),
    }
}

fn equilibrium(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let (model, diagnosis) = (report.model(), report.diagnosis());
    let (accelerations, mobilities) = (report.study.accelerations(), report.study.mobilities());
    let said = report.case_indices().map(|index| {
        let (case, start) = (&diagnosis.cases[index], accelerations[index].as_ref());
        let sentence = wording::balance_and_start(model, diagnosis, mobilities, case, start);
        (index, sentence)
    });
    blocks.push(DocumentBlock::List(by_case(report, said)));
    if mobilities.all_are_infinitesimal() {
        // No acceleration has been said.
        return;
    }
    let assumed = wording::start_assumptions(model, accelerations, report.case_indices());
    blocks.extend(assumed.map(DocumentBlock::Quiet));
}

/// Whether contacts that push and cables that pull carry the loads, where there are such.
pub(super) fn one_way(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let (model, Some(found)) = (report.model(), report.study.one_way()) else {
        return;
    };
    let cases = report.loaded_cases().into_iter();
    let answers: Vec<&OneWayCase> = cases.clone().map(|case| &found.cases[case]).collect();
    let said = cases.map(|case| (case, wording::one_way(model, &found.cases[case])));
    let mut items = by_case(report, said);
    items.extend(wording::every_load_beside(model, found, &answers));
    listed(blocks, "One-way supports", items);
}

/// Sets of redundant reactions, and the combinations of them that are known.
pub(super) fn sets(report: &Report, has_details: bool, blocks: &mut Vec<DocumentBlock>) {
    if let Some(title) = wording::listing(report.study) {
        heading(blocks, title);
        let said = circuits::sentences(report, has_details);
        blocks.push(match said.as_slice() {
            [all] if wording::alike(report.study).is_some() => {
                DocumentBlock::Paragraph(all.clone())
            }
            _ => DocumentBlock::Numbered(said.into_iter().map(|sentence| vec![sentence]).collect()),
        });
        blocks.extend(circuits::rest(report, has_details).map(DocumentBlock::Paragraph));
    }
    let sums = circuits::decided(report);
    listed(blocks, "Known combinations", sums);
}
