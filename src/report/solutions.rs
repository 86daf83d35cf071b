//! The worked part of the report: supports, loads, equations in components, and the solution step by step.

use super::Report;
use super::blocks::heading;
use crate::document::{DocumentBlock, DocumentTable};
use crate::solution::{self, Solution, given, sentences};
use crate::statics::{CaseIndex, Model};
use crate::wording::{self, Phrase, phrase};

/// Load cases whose equations are written out; a report of one case alone has that one.
const MOST_WORKED: usize = 4;

pub(super) fn supports(model: &Model, blocks: &mut Vec<DocumentBlock>) {
    if !model.supports.is_empty() {
        heading(blocks, "Supports");
        blocks.push(given::supports(model, true));
    }
}

/// Equations in components, and the solution step by step, of each case.
pub(super) fn solutions(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let model = report.model();
    let cases = report.loaded_cases();
    for case in cases.iter().take(MOST_WORKED) {
        let of = match model.cases.len() {
            1 => Phrase::new(),
            _ => phrase!(
                ": load case \u{201c}",
                Phrase::name(&model.cases[*case].name),
                "\u{201d}"
            ),
        };
        heading(blocks, phrase!("Equations", of));
        blocks.push(given::loads(model, *case));
        components(model, *case, blocks);
        match Solution::of(model, report.diagnosis(), *case) {
            Some(working) => {
                heading(blocks, phrase!("Solution step by step", of));
                blocks.extend(sentences::blocks(model, report.diagnosis(), &working));
            }
            None => blocks.push(DocumentBlock::Quiet(phrase!(
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
        blocks.push(DocumentBlock::Quiet(phrase!(
            "Equations of ",
            wording::count(left.len()),
            " more load cases are left out: ",
            wording::listed_briefly(&left),
            ". A report of one case alone has its equations."
        )));
    }
}

fn components(model: &Model, case: CaseIndex, blocks: &mut Vec<DocumentBlock>) {
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
    blocks.push(DocumentBlock::Table(DocumentTable {
        head: ["Sum", "equation"].map(Phrase::from).into(),
        rows: equations.map(row).collect(),
        ..DocumentTable::default()
    }));
}
