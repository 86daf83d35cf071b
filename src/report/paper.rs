//! The report as a document to file or to hand out: everything the text report says, with loads, equations and their
//! solution, figure, repairs and caution.

use super::circuits;
use super::{Report, clean_singular_values, text};
use crate::document::{Block, Document, Figure, Table};
use crate::scene::Space;
use crate::solution::{self, Solution, given, sentences};
use crate::statics::{Model, ReactionKind};
use crate::wording::{self, Phrase, phrase};

/// What a document is made of besides the report.
#[derive(Debug, Clone, Copy)]
pub struct Paper<'a> {
    /// The report.
    pub report: Report<'a>,
    /// A drawing of the scene; `None` leaves it out.
    pub figure: Option<&'a Figure>,
}

/// Load cases whose equations are written out; a report of one case alone has that one.
const MOST_WORKED: usize = 4;

/// The whole document.
pub fn document(paper: &Paper) -> Document {
    let report = &paper.report;
    let model = report.model();
    let mut blocks = Vec::new();
    verdict(report, &mut blocks);
    blocks.extend(paper.figure.cloned().map(Block::Figure));
    motions(report, &mut blocks);
    supports(model, &mut blocks);
    reactions(report, &mut blocks);
    equilibrium(report, &mut blocks);
    depth(report, &mut blocks);
    solutions(report, &mut blocks);
    repairs(report, &mut blocks);
    ranks(report, &mut blocks);
    blocks.push(Block::Caution(wording::CAUTION.into()));
    Document {
        title: title(report),
        subtitle: subtitle(report),
        blocks,
    }
}

fn title(report: &Report) -> String {
    match report.model().title.trim() {
        "" => report.study.name().to_owned(),
        title => title.to_owned(),
    }
}

fn subtitle(report: &Report) -> Phrase {
    let units = &report.model().units;
    let space = match report.model().space {
        Space::Spatial => "In space",
        Space::Planar => "In the plane",
    };
    phrase!(
        space,
        "; lengths in ",
        units.length.symbol(),
        ", forces in ",
        units.force.symbol(),
        ", moments in ",
        units.moment_symbol()
    )
}

fn heading(blocks: &mut Vec<Block>, text: impl Into<Phrase>) {
    blocks.push(Block::Heading(2, text.into()));
}

/// A heading with a list, where there is something to list.
fn listed(blocks: &mut Vec<Block>, title: impl Into<Phrase>, items: Vec<Phrase>) {
    if !items.is_empty() {
        heading(blocks, title);
        blocks.push(Block::List(items));
    }
}

fn verdict(report: &Report, blocks: &mut Vec<Block>) {
    let (model, diagnosis) = (report.model(), report.diagnosis());
    let numbers = wording::big_numbers(model.space, diagnosis);
    let numbers = numbers.map(|n| (n.name.into(), n.symbol, n.value.into()));
    blocks.push(Block::Numbers(numbers.into()));
    blocks.push(Block::Lead(report.headline()));
    let placement = report.study.nearness();
    let placement = placement.and_then(|nearness| wording::placement(model, nearness));
    let rounding = report.study.rounding();
    let rounding = rounding.map(|rounding| wording::rounding(model, rounding));
    let warnings = [placement, rounding].into_iter().flatten();
    blocks.extend(warnings.map(Block::Caution));
    blocks.push(Block::Paragraph(wording::reason(model, diagnosis)));
    let remarks = wording::remarks(model, diagnosis).into_iter();
    blocks.extend(remarks.map(Block::Paragraph));
}

fn motions(report: &Report, blocks: &mut Vec<Block>) {
    let (model, diagnosis) = (report.model(), report.diagnosis());
    let found = diagnosis.free_motions.iter();
    let mut items: Vec<Phrase> = found
        .zip(&report.study.mobilities().motions)
        .map(|(motion, mobility)| {
            let how_far = wording::mobility(model, motion, mobility);
            phrase!(wording::motion(model, motion), " ", how_far)
        })
        .collect();
    items.extend(wording::together(model, report.study.mobilities()));
    let axes = diagnosis.shared_axes.iter();
    items.extend(axes.map(|axis| wording::shared_axis(model, axis)));
    listed(blocks, "How it can still move", items);
}

fn supports(model: &Model, blocks: &mut Vec<Block>) {
    if !model.supports.is_empty() {
        heading(blocks, "Supports");
        blocks.push(given::supports(model, true));
    }
}

fn reactions(report: &Report, blocks: &mut Vec<Block>) {
    let model = report.model();
    if model.reactions.is_empty() {
        return;
    }
    heading(blocks, "Reactions");
    let cases: Vec<usize> = report.loaded_cases();
    let mut head: Vec<Phrase> = ["Reaction", "kind", "along"].map(Phrase::from).into();
    let names = cases.iter().map(|case| &model.cases[*case].name);
    head.extend(names.map(Phrase::name));
    let row = |(index, reaction): (usize, &crate::statics::Reaction)| {
        let kind = match reaction.kind {
            ReactionKind::Force => "force",
            ReactionKind::Couple => "couple",
        };
        let mut row = vec![
            (&reaction.symbol).into(),
            kind.into(),
            wording::signed_direction(model, &reaction.direction),
        ];
        let answers = cases.iter().map(|case| &report.diagnosis().cases[*case]);
        row.extend(answers.map(|case| text::cell(report, case, index, reaction)));
        row
    };
    blocks.push(Block::Table(Table {
        rows: model.reactions.iter().enumerate().map(row).collect(),
        values: (0..head.len()).map(|column| column > 2).collect(),
        head,
    }));
}

/// What is said of a case, with its name where there are several.
fn of_case(report: &Report, case: usize, said: Phrase) -> Phrase {
    match report.model().cases.len() {
        1 => said,
        _ => phrase!(Phrase::name(&report.model().cases[case].name), ": ", said),
    }
}

fn equilibrium(report: &Report, blocks: &mut Vec<Block>) {
    let items = report.case_indices().map(|index| {
        let case = &report.diagnosis().cases[index];
        let start = report.study.accelerations()[index].as_ref();
        let said = wording::balance_and_start(report.model(), report.diagnosis(), case, start);
        of_case(report, index, said)
    });
    heading(blocks, "Equilibrium");
    blocks.extend(items.map(Block::Paragraph));
    let accelerations = report.study.accelerations();
    let assumed = wording::start_assumptions(report.model(), accelerations, report.case_indices());
    blocks.extend(assumed.map(Block::Paragraph));
}

fn depth(report: &Report, blocks: &mut Vec<Block>) {
    let (model, study) = (report.model(), report.study);
    if let Some(title) = wording::listing(study) {
        let mut items = circuits::sentences(report);
        items.extend(circuits::rest(report));
        listed(blocks, title, items);
    }
    let sums = circuits::decided(report);
    listed(blocks, "Combinations that are known", sums);
    if let Some(one_way) = study.one_way() {
        let cases = report.loaded_cases().into_iter();
        let mut items: Vec<Phrase> = cases
            .map(|case| of_case(report, case, wording::one_way(model, &one_way.cases[case])))
            .collect();
        items.push(wording::every_load(model, one_way));
        listed(blocks, "One-way supports", items);
    }
    if report.diagnosis().counts.redundancy > 0 {
        let said = wording::heat(model, study.heat());
        listed(blocks, "Temperature", vec![said]);
    }
    if let Some(nearness) = study.nearness().filter(|_| report.diagnosis().is_held()) {
        listed(
            blocks,
            wording::NEARNESS,
            wording::nearness(model, nearness),
        );
    }
}

/// Equations in components, and the solution step by step, of each case.
fn solutions(report: &Report, blocks: &mut Vec<Block>) {
    let model = report.model();
    let cases = report.loaded_cases();
    for case in cases.iter().take(MOST_WORKED) {
        let of = match model.cases.len() {
            1 => Phrase::new(),
            _ => phrase!(" under ", Phrase::name(&model.cases[*case].name)),
        };
        heading(blocks, phrase!("Equations", of));
        blocks.push(given::loads(model, *case));
        components(model, *case, blocks);
        match Solution::of(model, report.diagnosis(), *case) {
            Some(working) => {
                heading(blocks, phrase!("Solution step by step", of));
                blocks.extend(sentences::blocks(model, report.diagnosis(), &working));
            }
            None => blocks.push(Block::Quiet(phrase!(
                "With more than ",
                solution::MOST_REACTIONS,
                " reactions the solution is not worked step by step."
            ))),
        }
    }
    if cases.len() > MOST_WORKED {
        let left: Vec<Phrase> = cases[MOST_WORKED..]
            .iter()
            .map(|case| Phrase::name(&model.cases[*case].name))
            .collect();
        blocks.push(Block::Quiet(phrase!(
            "Equations of ",
            wording::count(left.len()),
            " more load cases are left out: ",
            wording::listed_briefly(&left),
            ". A report of one case alone has its equations."
        )));
    }
}

fn components(model: &Model, case: usize, blocks: &mut Vec<Block>) {
    if model.reactions.len() > solution::MOST_REACTIONS {
        return;
    }
    let equations = solution::component_equations(model, case).into_iter();
    let row = |equation: solution::Equation| {
        vec![
            sentences::balance(model, &equation.balance),
            sentences::equation(model, &equation).phrase(),
        ]
    };
    blocks.push(Block::Table(Table {
        head: ["Sum", "equation"].map(Phrase::from).into(),
        rows: equations.map(row).collect(),
        values: Vec::new(),
    }));
}

fn repairs(report: &Report, blocks: &mut Vec<Block>) {
    let model = report.model();
    if let Some(mending) = report.study.repair().links() {
        let links = mending.links.iter();
        let mut items: Vec<Phrase> = links.map(|link| wording::added_link(model, link)).collect();
        items.push(wording::mending(mending));
        listed(blocks, "Links to add", items);
    }
    let spare = wording::releases(report.study);
    listed(blocks, "Removable reactions", spare);
}

fn ranks(report: &Report, blocks: &mut Vec<Block>) {
    let diagnosis = report.diagnosis();
    let values: Vec<Phrase> = clean_singular_values(diagnosis)
        .iter()
        .map(|value| Phrase::from(wording::number(*value)))
        .collect();
    let written = wording::exactly_of(&diagnosis.exact);
    heading(blocks, "Rank");
    blocks.push(Block::Paragraph(phrase!(
        "Singular values ",
        Phrase::joined(values, ", "),
        "; exact rank ",
        diagnosis.exact.rank,
        ", ",
        written,
        "."
    )));
}
