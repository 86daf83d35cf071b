//! The report as a document, for a terminal, to file or to hand out: what matters first, and on request the equations with
//! their solution, and the details.

use super::blocks::{heading, listed};
use super::{Report, ReportRecord};
use super::{
    anchorage, assumptions, bending, design, details, elastic, reactions, record, resultants,
    solutions,
};
use crate::document::{Document, DocumentBlock, DocumentFigure, Tone};
use crate::printable::printable;
use crate::scene::Space;
use crate::statics::Model;
use crate::wording::{self, Phrase, phrase};

/// What a document is made of.
#[derive(Debug, Clone, Copy)]
pub struct ReportDocument<'a> {
    /// The report.
    pub report: Report<'a>,
    /// A drawing of the scene; `None` leaves it out.
    pub figure: Option<&'a DocumentFigure>,
    /// Diagrams of the forces in bars that bend, where there are any.
    pub diagrams: &'a [DocumentFigure],
    /// Whether supports, loads and equations are listed and the equations solved.
    pub is_worked: bool,
    /// Whether all that is known is said: temperature, margin, removable reactions, singular values.
    pub has_details: bool,
    /// Significant digits of values.
    pub digits: i32,
    /// Where the report comes from, to be said in it; `None` leaves that out, and the assumptions.
    pub record: Option<&'a ReportRecord>,
}

/// The whole document.
pub fn document(paper: &ReportDocument) -> Document {
    let report = &paper.report;
    let mut blocks = Vec::new();
    blocks.extend(paper.record.and_then(record::line));
    verdict(report, &mut blocks);
    blocks.extend(paper.figure.cloned().map(DocumentBlock::Figure));
    motions(report, &mut blocks);
    axes(report, &mut blocks);
    if paper.is_worked {
        solutions::supports(report.model(), &mut blocks);
    }
    reactions::reactions(report, &mut blocks);
    reactions::one_way(report, &mut blocks);
    reactions::sets(report, paper.has_details, &mut blocks);
    elastic::elastic(report, &mut blocks);
    bending::bending(report, paper.diagrams, &mut blocks);
    anchorage::anchorages(report, &mut blocks);
    design::utilisation(report, &mut blocks);
    if paper.is_worked || paper.has_details {
        design::envelope(report, &mut blocks);
    }
    if paper.is_worked {
        resultants::resultants(report, &mut blocks);
        solutions::solutions(report, &mut blocks);
    }
    links(report, &mut blocks);
    if paper.has_details {
        details::details(report, &mut blocks);
    }
    if let Some(record) = paper.record {
        assumptions::assumptions(report, &mut blocks);
        record::record(report, record, &mut blocks);
    }
    blocks.push(DocumentBlock::Caution(
        wording::caution(report.study).into(),
    ));
    let document = Document {
        title: title(report),
        subtitle: subtitle(report.model()),
        blocks,
    };
    document.with_digits(paper.digits)
}

pub(super) fn title(report: &Report) -> String {
    match report.model().title.trim() {
        // A name of a file may hold anything.
        "" => printable(report.study.name()).into_owned(),
        title => title.to_owned(),
    }
}

fn subtitle(model: &Model) -> Phrase {
    let units = &model.units;
    let space = match model.space {
        Space::Spatial => "In space",
        Space::Planar => "In the plane",
    };
    phrase!(
        space,
        "; lengths in ",
        units.length.symbol(),
        ", forces in ",
        units.force.symbol()
    )
}

fn verdict(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let (model, diagnosis) = (report.model(), report.diagnosis());
    let numbers = wording::big_numbers(model.space, diagnosis);
    let numbers = numbers.map(|n| (n.label().into(), n.symbol, n.value.into()));
    blocks.push(DocumentBlock::Numbers(numbers.into()));
    let is_good = diagnosis.is_held() && report.uncarried().is_empty();
    let tone = if is_good { Tone::Good } else { Tone::Bad };
    blocks.push(DocumentBlock::Lead(tone, report.headline()));
    let nearness = report.study.nearness();
    let placement = nearness.and_then(|nearness| wording::placement(model, nearness));
    let rounding = report.study.rounding();
    let rounding = rounding.map(|rounding| wording::rounding(model, rounding));
    let sentences = [placement, rounding, Some(wording::reason(model, diagnosis))];
    let remarks = wording::remarks(model, diagnosis);
    let all = sentences.into_iter().flatten().chain(remarks);
    blocks.extend(all.map(DocumentBlock::Paragraph));
}

fn motions(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let (model, motions) = (report.model(), &report.diagnosis().free_motions);
    let title = match motions.len() {
        0 => return,
        1 => "Free motion",
        _ => "Free motions, singly and combined",
    };
    heading(blocks, title);
    let mobilities = report.study.mobilities();
    let family = wording::common_family(model, motions.as_slice());
    let items = motions.iter().zip(&mobilities.motions);
    let items = items.map(|(motion, mobility)| {
        let name = match family {
            Some(_) => wording::motion_alone(model, motion),
            None => wording::motion(model, motion),
        };
        vec![name, wording::mobility(model, motion, mobility)]
    });
    blocks.push(DocumentBlock::Numbered(items.collect()));
    blocks.extend(family.map(DocumentBlock::Paragraph));
    let together = wording::together(model, mobilities);
    blocks.extend(together.into_iter().map(DocumentBlock::Paragraph));
}

fn axes(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let (model, axes) = (report.model(), &report.diagnosis().shared_axes);
    let title = match (axes.len(), model.space) {
        (1, Space::Spatial) => "Shared axis",
        (_, Space::Spatial) => "Shared axes",
        (1, Space::Planar) => "Shared point",
        (_, Space::Planar) => "Shared points",
    };
    // Without reactions nothing is shared.
    let axes = axes.iter().filter(|_| !model.reactions.is_empty());
    let said = axes.map(|axis| wording::shared_axis(model, axis));
    listed(blocks, title, said.collect());
}

fn links(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let Some(mending) = report.study.repair().links() else {
        return;
    };
    let model = report.model();
    heading(blocks, LINKS);
    let links = mending.links.iter();
    let links = links.map(|link| wording::added_link(model, link));
    blocks.push(DocumentBlock::List(links.collect()));
    blocks.push(DocumentBlock::Paragraph(wording::mending(mending)));
}

/// Heading of the links.
pub(super) const LINKS: &str = "Suggested links";
