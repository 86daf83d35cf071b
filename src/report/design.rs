//! The parts of the report for design: the envelope of the reactions, and how much of what is allowed they are.

use schemars::JsonSchema;
use serde::Serialize;

use super::Report;
use super::blocks::heading;
use super::reactions::group;
use super::values::{tidy, unit};
use crate::design::{Envelope, Utilisation, UtilisationOutcome};
use crate::document::{DocumentBlock, DocumentTable};
use crate::statics::{CaseIndex, CaseValue, Model, ReactionIndex, ReactionKind};
use crate::wording::{self, Phrase};

/// Smallest and largest value of each reaction over the load cases reported, where there are several.
pub(super) fn envelope(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let cases = report.acting_cases();
    let known = |j: &ReactionIndex| of(report, *j).is_some();
    if cases.len() < 2 || !report.model().reactions.indices().any(|j| known(&j)) {
        return;
    }
    heading(blocks, wording::ENVELOPE);
    blocks.push(DocumentBlock::Table(envelope_table(report)));
    let left_out = wording::left_out(report.model(), report.study.design(), &cases);
    blocks.extend(left_out.map(DocumentBlock::Paragraph));
}

fn of(report: &Report, reaction: ReactionIndex) -> Option<Envelope> {
    let design = report.study.design();
    design.envelope(reaction, report.acting_cases())
}

fn envelope_table(report: &Report) -> DocumentTable {
    let model = report.model();
    let row = |j: ReactionIndex| {
        let reaction = &model.reactions[j];
        let ends = match of(report, j) {
            Some(Envelope { least, most }) => [Some(least), Some(most)],
            None => [None, None],
        };
        let cells = ends.into_iter().flat_map(|end| match end {
            Some(CaseValue { case, value }) => [
                wording::acting(model, reaction, value),
                Phrase::name(&model.cases[case].name),
            ],
            None => ["indeterminate".into(), Phrase::new()],
        });
        std::iter::once(Phrase::from(&reaction.symbol))
            .chain(cells)
            .collect()
    };
    DocumentTable {
        head: ["", "smallest", "load case", "largest", "load case"]
            .map(Phrase::from)
            .into(),
        values: vec![false, true, false, true, false],
        rows: model.reactions.indices().map(row).collect(),
        groups: model
            .supports
            .iter()
            .filter_map(|support| group(model, support))
            .collect(),
    }
}

/// How much of what is allowed each support is loaded with, where the scene says what is.
pub(super) fn utilisation(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let (model, design) = (report.model(), report.study.design());
    let cases = report.acting_cases();
    let found = design.utilisations(model, cases.iter().copied());
    let Some(governing) = wording::governing(model, &found) else {
        return;
    };
    heading(blocks, wording::UTILISATION);
    blocks.push(DocumentBlock::Paragraph(governing));
    blocks.push(DocumentBlock::Table(utilisation_table(model, &found)));
    blocks.push(DocumentBlock::Quiet(wording::UTILISATION_KEY.into()));
    let unlimited = wording::unlimited(model, design, &cases);
    blocks.extend(unlimited.map(DocumentBlock::Paragraph));
}

/// A row for each support, under its governing case.
fn utilisation_table(model: &Model, found: &[Utilisation]) -> DocumentTable {
    let shown = Utilisation::worst_of_each(found);
    let row = |one: &&Utilisation| {
        let rest = match &one.outcome {
            UtilisationOutcome::Known { force, share } => [
                wording::normal_force(force, &model.units),
                wording::force(force.shear, &model.units).into(),
                wording::utilisation(*share).into(),
            ],
            UtilisationOutcome::Unknown => [(); 3].map(|()| "indeterminate".into()),
            UtilisationOutcome::NotCarried => [(); 3].map(|()| "not carried".into()),
        };
        let first = [
            wording::loaded(model, one),
            Phrase::name(&model.cases[one.case].name),
        ];
        first.into_iter().chain(rest).collect()
    };
    DocumentTable {
        head: ["", "load case", "normal force", "shear", "share"]
            .map(Phrase::from)
            .into(),
        values: vec![false, false, true, true, true],
        rows: shown.iter().map(row).collect(),
        groups: Vec::new(),
    }
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "case_value")]
pub(super) struct CaseValuePart<'a> {
    case: &'a str,
    /// force or couple
    #[schemars(with = "f64")]
    value: Option<f64>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "envelope")]
pub(super) struct EnvelopePart<'a> {
    least: CaseValuePart<'a>,
    most: CaseValuePart<'a>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "utilisation")]
pub(super) struct UtilisationPart<'a> {
    support: &'a str,
    case: &'a str,
    /// of an anchor plate the anchor that is loaded most, from 0, in the order of its pattern; null of other supports, and unless
    /// `outcome` is `known`
    anchor: Option<usize>,
    /// `unknown` where the force is statically indeterminate, or no reactions of elastic supports were found
    outcome: UtilisationWord,
    /// force on the body along the line out of the ground, a push positive; null unless `outcome` is `known`
    normal: Option<f64>,
    /// force across that line; null unless `outcome` is `known`
    shear: Option<f64>,
    /// of what is allowed, 1 at the limit, proportional to the force, without unit; null unless `outcome` is `known`
    share: Option<f64>,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
enum UtilisationWord {
    Known,
    Unknown,
    NotCarried,
}

/// The value of a reaction under a case in JSON.
pub(super) fn case_value<'a>(
    model: &'a Model,
    found: &CaseValue,
    kind: ReactionKind,
) -> CaseValuePart<'a> {
    CaseValuePart {
        case: &model.cases[found.case].name,
        value: tidy(found.value / unit(model, kind)),
    }
}

/// The envelope of a reaction in JSON.
pub(super) fn envelope_part<'a>(
    report: &Report<'a>,
    reaction: ReactionIndex,
) -> Option<EnvelopePart<'a>> {
    let model = report.model();
    let kind = model.reactions[reaction].kind;
    let Envelope { least, most } = of(report, reaction)?;
    Some(EnvelopePart {
        least: case_value(model, &least, kind),
        most: case_value(model, &most, kind),
    })
}

/// The utilisations in JSON, the worst first.
pub(super) fn utilisation_parts<'a>(report: &Report<'a>) -> Vec<UtilisationPart<'a>> {
    let model = report.model();
    let newtons = |force: f64| tidy(force / model.units.force.in_newtons());
    let part = |one: &Utilisation| {
        let known = match &one.outcome {
            UtilisationOutcome::Known { force, share } => Some((force, share)),
            _ => None,
        };
        UtilisationPart {
            support: &model.supports[one.support].name,
            case: &model.cases[one.case].name,
            anchor: one.anchor,
            outcome: match one.outcome {
                UtilisationOutcome::Known { .. } => UtilisationWord::Known,
                UtilisationOutcome::Unknown => UtilisationWord::Unknown,
                UtilisationOutcome::NotCarried => UtilisationWord::NotCarried,
            },
            normal: known.and_then(|(force, _)| newtons(force.normal)),
            shear: known.and_then(|(force, _)| newtons(force.shear)),
            share: known.and_then(|(_, share)| tidy(*share)),
        }
    };
    let cases: Vec<CaseIndex> = report.acting_cases();
    let design = report.study.design();
    design.utilisations(model, cases).iter().map(part).collect()
}
