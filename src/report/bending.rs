//! The part of the report on bars that bend: reactions, the largest forces along every bar, stresses, displacements.

use schemars::JsonSchema;
use serde::Serialize;

use super::Report;
use super::blocks::heading;
use super::elastic::{ElasticFrictionPart, friction_parts};
use super::reactions::{below_supports, by_case};
use super::values::{Triple, names, point, tidy, triple, unit};
use crate::document::{DocumentBlock, DocumentFigure, DocumentTable};
use crate::elastic::{BarFrame, FrameAnswer, FrameBar, FrameCase, SectionForces, SectionMeasure};
use crate::scene::Space;
use crate::statics::{CaseIndex, Model, ReactionIndex};
use crate::wording::{self, Phrase, phrase};

/// All of it, where the scene gives a material.
pub(super) fn bending(
    report: &Report,
    diagrams: &[DocumentFigure],
    blocks: &mut Vec<DocumentBlock>,
) {
    let (model, study) = (report.model(), report.study);
    let Some((frame, material)) = study.frame().zip(study.scene().material) else {
        return;
    };
    heading(blocks, wording::BENDING);
    let basis = wording::bending_basis(model, &material);
    blocks.push(DocumentBlock::Paragraph(basis));
    let answers: Vec<(CaseIndex, &FrameAnswer)> = report
        .acting_cases()
        .into_iter()
        .filter_map(|case| Some((case, frame.cases[case].answer()?)))
        .collect();
    if !answers.is_empty() {
        if report.diagnosis().counts.redundancy > 0 {
            blocks.push(DocumentBlock::Table(reactions(model, &answers)));
        }
        blocks.push(DocumentBlock::Table(largest(model, frame, &answers)));
        blocks.push(DocumentBlock::Quiet(KEY.into()));
    }
    let said = report.acting_cases().into_iter().filter_map(|case| {
        let said = wording::bending(model, frame, case, &frame.cases[case])?;
        Some((case, said))
    });
    let said = by_case(report, said);
    if !said.is_empty() {
        blocks.push(DocumentBlock::List(said));
    }
    if !diagrams.is_empty() && diagrams.len() < frame.bars.len() {
        let left_out = phrase!(
            "Diagrams are drawn of the ",
            diagrams.len(),
            " bars of ",
            frame.bars.len(),
            " that are stressed hardest."
        );
        blocks.push(DocumentBlock::Quiet(left_out));
    }
    blocks.extend(diagrams.iter().cloned().map(DocumentBlock::Figure));
}

/// What the columns of the largest values mean.
const KEY: &str = "Largest along each bar, at places of its own for each; axial force positive in tension. The stress is the equivalent one, \
    of bending, axial force and torsion in the outermost fibre.";

/// Reactions below their supports, with a column for each load case.
fn reactions(model: &Model, answers: &[(CaseIndex, &FrameAnswer)]) -> DocumentTable {
    let first = ["", "along"].map(Phrase::from);
    let head: Vec<Phrase> = first
        .into_iter()
        .chain(case_names(model, answers))
        .collect();
    below_supports(model, head, 2, |j| {
        let reaction = &model.reactions[j];
        let along = wording::signed_direction(model, &model.reactions[j].direction);
        let values = answers
            .iter()
            .map(|(_, answer)| wording::acting(model, reaction, answer.reactions.values[j]));
        [Phrase::from(&reaction.symbol), along]
            .into_iter()
            .chain(values)
            .collect()
    })
}

fn case_names(
    model: &Model,
    answers: &[(CaseIndex, &FrameAnswer)],
) -> impl Iterator<Item = Phrase> {
    answers
        .iter()
        .map(|(case, _)| Phrase::name(&model.cases[*case].name))
}

/// The measures of a table, each with its head; in the plane nothing twists.
fn measures(space: Space) -> Vec<(SectionMeasure, &'static str)> {
    let all = [
        (SectionMeasure::Axial, "axial"),
        (SectionMeasure::Shear, "shear"),
        (SectionMeasure::Bending, "bending"),
        (SectionMeasure::Torque, "torque"),
        (SectionMeasure::Stress, "stress"),
        (SectionMeasure::Displacement, "moves by"),
    ];
    let is_there = |(measure, _): &(SectionMeasure, _)| {
        space == Space::Spatial || *measure != SectionMeasure::Torque
    };
    all.into_iter().filter(is_there).collect()
}

/// The largest values along each bar, below it a row for each load case.
fn largest(
    model: &Model,
    frame: &BarFrame,
    answers: &[(CaseIndex, &FrameAnswer)],
) -> DocumentTable {
    let measures = measures(model.space);
    let heads = measures.iter().map(|(_, head)| Phrase::from(*head));
    let head: Vec<Phrase> = std::iter::once("".into()).chain(heads).collect();
    let bars = 0..frame.bars.len();
    let row = |bar: usize, name: Phrase, answer: &FrameAnswer| {
        let values = measures.iter().map(|(measure, _)| {
            let found = frame.largest_in(answer, bar, *measure);
            found.map_or_else(Phrase::new, |found| value(model, *measure, found.value))
        });
        std::iter::once(name).chain(values).collect::<Vec<_>>()
    };
    let rows = bars.clone().flat_map(|bar| {
        let named = case_names(model, answers).zip(answers);
        named.map(move |(name, (_, answer))| row(bar, name, answer))
    });
    DocumentTable {
        rows: rows.collect(),
        values: (0..head.len()).map(|column| column > 0).collect(),
        head,
        groups: bars
            .map(|bar| (bar * answers.len(), bar_line(model, frame, bar)))
            .collect(),
    }
}

fn bar_line(model: &Model, frame: &BarFrame, bar: usize) -> Phrase {
    let bar = &frame.bars[bar];
    let long = wording::length(bar.length, &model.units);
    phrase!(wording::bar_name(bar), ", ", long, " long")
}

fn value(model: &Model, measure: SectionMeasure, value: f64) -> Phrase {
    let units = &model.units;
    match measure {
        SectionMeasure::Axial | SectionMeasure::Shear => wording::force(value, units),
        SectionMeasure::Bending | SectionMeasure::Torque => wording::couple(value, units),
        SectionMeasure::Stress => wording::stress(value, units),
        _ => wording::length(value, units),
    }
    .into()
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "bending")]
pub(super) struct BendingPart<'a> {
    /// in units.force per square of units.length
    #[schemars(with = "f64")]
    youngs_modulus: Option<f64>,
    /// in units.force per square of units.length
    #[schemars(with = "f64")]
    shear_modulus: Option<f64>,
    /// whether bars give way by shearing, too
    shear: bool,
    bars: Vec<BarPart>,
    cases: Vec<BendingCasePart<'a>>,
    /// what these values rest on
    words: String,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "bar")]
struct BarPart {
    /// place among the shapes of the body, from 1
    shape: usize,
    /// of the centre line, a length
    #[schemars(with = "f64")]
    length: Option<f64>,
    /// of the section, a length squared
    #[schemars(with = "f64")]
    area: Option<f64>,
    /// of the section, a length to the fourth power
    #[schemars(with = "f64")]
    second_moment: Option<f64>,
    /// of the section, a length to the fourth power
    #[schemars(with = "f64")]
    torsion_constant: Option<f64>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "bending_case")]
struct BendingCasePart<'a> {
    case: &'a str,
    /// `not_carried` whatever the stiffnesses; `no_stiffness` where a rigid support is prestressed; `undecided` where only stiffnesses of
    /// supports could share the load; `apart` where bars are not joined; `not_found` where nothing could be confirmed
    outcome: BendingWord,
    /// reactions that the bars do not decide
    undecided: Vec<&'a str>,
    /// forces and couples in the order of `reactions`; null where `outcome` is not `solved`
    values: Vec<Option<f64>>,
    /// one-way reactions that carry nothing: contacts that lift off, cables that are slack
    open: Vec<&'a str>,
    /// what rough contacts that stay pressed need for these reactions
    friction: Vec<ElasticFrictionPart<'a>>,
    /// along each of `bars`, from its start to its end; where forces jump there are two at one place
    sections: Vec<Vec<SectionPart>>,
    /// null where the values say all
    words: Option<String>,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
enum BendingWord {
    Solved,
    NotCarried,
    NoStiffness,
    Undecided,
    Apart,
    NotFound,
}

/// what follows a section of a bar does to what leads up to it
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "section")]
struct SectionPart {
    /// from the start of the bar along its centre line, a length
    #[schemars(with = "f64")]
    along: Option<f64>,
    point: Triple,
    /// positive in tension, a force
    #[schemars(with = "f64")]
    axial: Option<f64>,
    /// a force along each axis
    shear: Triple,
    /// a couple about each axis
    bending: Triple,
    /// about the way along the bar, a couple
    #[schemars(with = "f64")]
    torque: Option<f64>,
    /// equivalent stress in the outermost fibre, units.force per square of units.length
    #[schemars(with = "f64")]
    stress: Option<f64>,
    /// a length along each axis; null where a motion is left free
    displacement: Option<Triple>,
}

/// The same in JSON; `None` where the scene gives no material.
pub(super) fn part<'a>(report: &Report<'a>) -> Option<BendingPart<'a>> {
    let (model, study) = (report.model(), report.study);
    let (frame, material) = study.frame().zip(study.scene().material)?;
    let metres = model.units.length.in_metres();
    let bar = |bar: &FrameBar| BarPart {
        shape: bar.shape + 1,
        length: tidy(bar.length / metres),
        area: tidy(bar.stiffness.area / metres.powi(2)),
        second_moment: tidy(bar.stiffness.second_moment / metres.powi(4)),
        torsion_constant: tidy(bar.stiffness.torsion_constant / metres.powi(4)),
    };
    let cases = report.case_indices();
    Some(BendingPart {
        youngs_modulus: tidy(material.youngs_modulus),
        shear_modulus: tidy(material.shear_modulus),
        shear: material.shear,
        bars: frame.bars.iter().map(bar).collect(),
        cases: cases.map(|case| case_part(report, frame, case)).collect(),
        words: wording::bending_basis(model, &material).to_string(),
    })
}

fn case_part<'a>(
    report: &Report<'a>,
    frame: &'a BarFrame,
    index: CaseIndex,
) -> BendingCasePart<'a> {
    let (model, case) = (report.model(), &frame.cases[index]);
    let found = case.answer();
    let value = |j: ReactionIndex| {
        let value = found?.reactions.values[j];
        tidy(value / unit(model, model.reactions[j].kind))
    };
    let of_bar = |(bar, sections): (usize, &Vec<SectionForces>)| {
        let part = |section| section_part(model, frame, bar, section);
        sections.iter().map(part).collect()
    };
    BendingCasePart {
        case: &model.cases[index].name,
        outcome: match case {
            FrameCase::Solved(_) => BendingWord::Solved,
            FrameCase::NotCarried => BendingWord::NotCarried,
            FrameCase::NoStiffness => BendingWord::NoStiffness,
            FrameCase::Undecided(_) => BendingWord::Undecided,
            FrameCase::Apart(_) => BendingWord::Apart,
            FrameCase::NotFound => BendingWord::NotFound,
        },
        undecided: match case {
            FrameCase::Undecided(reactions) => names(model, reactions),
            _ => Vec::new(),
        },
        values: model.reactions.indices().map(value).collect(),
        open: found.map_or(Vec::new(), |found| names(model, &found.reactions.open)),
        friction: found.map_or(Vec::new(), |found| friction_parts(model, &found.reactions)),
        sections: found.map_or(Vec::new(), |found| {
            found.sections.iter().enumerate().map(of_bar).collect()
        }),
        words: wording::bending(model, frame, index, case).map(|said| said.to_string()),
    }
}

fn section_part(
    model: &Model,
    frame: &BarFrame,
    bar: usize,
    section: &SectionForces,
) -> SectionPart {
    let (metres, newtons) = (
        model.units.length.in_metres(),
        model.units.force.in_newtons(),
    );
    let couple = model.units.moment_in_newton_metres();
    let stress = section.stress(&frame.bars[bar].stiffness).equivalent;
    SectionPart {
        along: tidy(section.along / metres),
        point: point(model, &section.point),
        axial: tidy(section.axial / newtons),
        shear: triple(&(section.shear / newtons)),
        bending: triple(&(section.bending / couple)),
        torque: tidy(section.torque / couple),
        stress: tidy(stress * metres * metres / newtons),
        displacement: section.displacement.map(|by| triple(&(by / metres))),
    }
}
