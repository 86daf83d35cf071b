//! The part of the report on elastic supports: what stiffnesses are taken, and the reactions that follow.

use schemars::JsonSchema;
use serde::Serialize;

use super::Report;
use super::blocks::heading;
use super::reactions::{below_supports, by_case};
use super::values::{Triple, names, tidy, triple, unit};
use crate::document::{DocumentBlock, DocumentTable};
use crate::elastic::{Elastic, ElasticCase, ElasticReactions, StiffnessSource};
use crate::statics::{CaseIndex, Model, ReactionIndex, ReactionKind, SupportIndex};
use crate::wording::{self, Phrase, phrase};

/// All of it, where it is asked for.
pub(super) fn elastic(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let Some(elastic) = report.study.elastic().filter(|_| has_reactions(report)) else {
        return;
    };
    heading(blocks, wording::ELASTIC);
    let basis = wording::elastic_basis(report.model(), elastic);
    blocks.push(DocumentBlock::Paragraph(basis));
    match wording::elastic_is_idle(report.diagnosis().counts.redundancy) {
        Some(idle) => blocks.push(DocumentBlock::Paragraph(idle.into())),
        None => blocks.push(DocumentBlock::Table(table(report, elastic))),
    }
    let said = report.acting_cases().into_iter().filter_map(|case| {
        let said = wording::elastic(report.model(), case, &elastic.cases[case])?;
        Some((case, said))
    });
    let said = by_case(report, said);
    if !said.is_empty() {
        blocks.push(DocumentBlock::List(said));
    }
}

fn has_reactions(report: &Report) -> bool {
    !report.model().reactions.is_empty()
}

/// Reactions below their supports, with their stiffnesses where some are given and a column for each load case.
fn table(report: &Report, elastic: &Elastic) -> DocumentTable {
    let model = report.model();
    let mut cases = report.acting_cases();
    cases.retain(|case| elastic.cases[*case].reactions().is_some());
    let has_stiffnesses = elastic.stiffnesses.source != StiffnessSource::Equal;
    let first = ["", "along"].map(Phrase::from);
    let stiffness = has_stiffnesses.then(|| Phrase::from("stiffness"));
    let columns = cases
        .iter()
        .map(|case| Phrase::name(&model.cases[*case].name));
    let head: Vec<Phrase> = first.into_iter().chain(stiffness).chain(columns).collect();
    below_supports(model, head, 2, |index| row(report, elastic, &cases, index))
}

fn row(
    report: &Report,
    elastic: &Elastic,
    cases: &[CaseIndex],
    index: ReactionIndex,
) -> Vec<Phrase> {
    let model = report.model();
    let reaction = &model.reactions[index];
    let mut row = vec![
        (&reaction.symbol).into(),
        wording::signed_direction(model, &reaction.direction),
    ];
    if elastic.stiffnesses.source != StiffnessSource::Equal {
        let value = elastic.stiffnesses.values[index];
        let assumed = elastic.stiffnesses.assumed.contains(&index);
        row.push(phrase!(
            wording::stiffness(reaction, value, &model.units),
            assumed.then_some(" (assumed)")
        ));
    }
    let found = cases
        .iter()
        .filter_map(|case| elastic.cases[*case].reactions());
    row.extend(found.map(|found| wording::acting(model, reaction, found.values[index])));
    row
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "elastic")]
pub(super) struct ElasticPart<'a> {
    /// `equal`: no stiffness is given, all reactions are equally stiff, couples as forces at `characteristic_length`
    source: SourceWord,
    /// in the order of `reactions`: units.force per units.length, of couples units.moment per radian; null where `source` is
    /// `equal`
    stiffnesses: Vec<Option<f64>>,
    /// reactions whose stiffness is not given
    assumed: Vec<&'a str>,
    cases: Vec<ElasticCasePart<'a>>,
    words: String,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
enum SourceWord {
    Equal,
    Given,
    PartlyGiven,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "elastic_case")]
struct ElasticCasePart<'a> {
    case: &'a str,
    /// `not_carried` whatever the stiffnesses; `no_stiffness` where a support settles or the body expands and `source` is
    /// `equal`; `not_found` where no reactions could be confirmed
    outcome: OutcomeWord,
    /// forces and couples in the order of `reactions`; null where `outcome` is not `solved`
    values: Vec<Option<f64>>,
    /// one-way reactions that carry nothing: contacts that lift off, cables that are slack
    open: Vec<&'a str>,
    /// what rough contacts that stay pressed need for these reactions
    friction: Vec<ElasticFrictionPart<'a>>,
    /// small displacement of the body point at `reference_point`, expansion apart, a length along each axis; null where stiffnesses are only
    /// relative, a motion is left free, or `outcome` is not `solved`
    displacement: Option<Triple>,
    /// small rotation, rad about each axis; null where `displacement` is
    rotation: Option<Triple>,
    /// null where the values say all
    words: Option<String>,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
enum OutcomeWord {
    Solved,
    NotCarried,
    NoStiffness,
    NotFound,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "elastic_friction")]
pub(super) struct ElasticFrictionPart<'a> {
    support: &'a str,
    /// force along the surface over push, without unit
    #[schemars(with = "f64")]
    coefficient: Option<f64>,
}

/// The same in JSON; `None` where it is not asked for.
pub(super) fn part<'a>(report: &Report<'a>) -> Option<ElasticPart<'a>> {
    let (model, elastic) = (report.model(), report.study.elastic()?);
    let stiffnesses = &elastic.stiffnesses;
    let per_length = model.units.length.in_metres();
    let stiffness = |j: ReactionIndex| {
        let kind = model.reactions[j].kind;
        let unit = match kind {
            ReactionKind::Force => unit(model, kind) / per_length,
            ReactionKind::Couple => unit(model, kind),
        };
        let known = (stiffnesses.source != StiffnessSource::Equal).then_some(stiffnesses.values[j]);
        known.and_then(|value| tidy(value / unit))
    };
    let cases = report.case_indices();
    Some(ElasticPart {
        source: match stiffnesses.source {
            StiffnessSource::Equal => SourceWord::Equal,
            StiffnessSource::Given => SourceWord::Given,
            StiffnessSource::PartlyGiven => SourceWord::PartlyGiven,
        },
        stiffnesses: model.reactions.indices().map(stiffness).collect(),
        assumed: names(model, &stiffnesses.assumed),
        cases: cases.map(|case| case_part(report, elastic, case)).collect(),
        words: wording::elastic_basis(model, elastic).to_string(),
    })
}

fn case_part<'a>(
    report: &Report<'a>,
    elastic: &'a Elastic,
    index: CaseIndex,
) -> ElasticCasePart<'a> {
    let (model, case) = (report.model(), &elastic.cases[index]);
    let found: Option<&ElasticReactions> = case.reactions();
    let value = |j: ReactionIndex| {
        let value = found?.values[j];
        tidy(value / unit(model, model.reactions[j].kind))
    };
    let displacement = found.and_then(|found| found.displacement);
    ElasticCasePart {
        case: &model.cases[index].name,
        outcome: match case {
            ElasticCase::Solved(_) => OutcomeWord::Solved,
            ElasticCase::NotCarried => OutcomeWord::NotCarried,
            ElasticCase::NoStiffness => OutcomeWord::NoStiffness,
            ElasticCase::NotFound => OutcomeWord::NotFound,
        },
        values: model.reactions.indices().map(value).collect(),
        open: found.map_or(Vec::new(), |found| names(model, &found.open)),
        friction: found.map_or(Vec::new(), |found| friction_parts(model, found)),
        displacement: displacement.map(|by| triple(&(by.linear / model.units.length.in_metres()))),
        rotation: displacement.map(|by| triple(&by.angular)),
        words: wording::elastic(model, index, case).map(|said| said.to_string()),
    }
}

pub(super) fn friction_parts<'a>(
    model: &'a Model,
    found: &ElasticReactions,
) -> Vec<ElasticFrictionPart<'a>> {
    let part = |(support, coefficient): &(SupportIndex, f64)| ElasticFrictionPart {
        support: &model.supports[*support].name,
        coefficient: tidy(*coefficient),
    };
    found.friction.iter().map(part).collect()
}
