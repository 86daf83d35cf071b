//! The sheet and its key as documents.

use super::{Exercise, ExerciseSheet, NearMiss, Topic};
use crate::document::{Document, DocumentBlock, DocumentFigure, Tone};
use crate::solution::{Balance, Equation, Solution, given, sentences};
use crate::statics::CaseIndex;
use crate::wording::{self, Operator, Phrase, phrase};

/// Figures of one problem, in the order in which its text needs them: of it, and in the key of what it just misses.
pub type Figures = Vec<DocumentFigure>;

/// The problems: figure, what is given, what is asked. `figures` are in the order of the problems; those that are
/// missing are left out.
pub fn questions(sheet: &ExerciseSheet, figures: &[Figures]) -> Document {
    let mut blocks = vec![DocumentBlock::Quiet(INTRODUCTION.into())];
    for (index, problem) in sheet.problems.iter().enumerate() {
        opening(problem, index, figures, &mut blocks);
        blocks.push(given::supports(problem.study.model(), false));
        blocks.push(given::loads(problem.study.model(), CaseIndex::FIRST));
        blocks.push(DocumentBlock::List(tasks(problem)));
    }
    Document {
        title: "Exercises: is the body held?".to_owned(),
        subtitle: subtitle(sheet),
        blocks,
    }
}

/// The answers, with the solution of each problem worked. `figures` as for [`questions`].
pub fn key(sheet: &ExerciseSheet, figures: &[Figures]) -> Document {
    let mut blocks = Vec::new();
    for (index, problem) in sheet.problems.iter().enumerate() {
        opening(problem, index, figures, &mut blocks);
        answer(problem, &mut blocks);
        if let Some(working) = Solution::of(
            problem.study.model(),
            problem.study.diagnosis(),
            CaseIndex::FIRST,
        ) {
            blocks.extend(sentences::blocks(
                problem.study.model(),
                problem.study.diagnosis(),
                &working,
            ));
        }
        // Last, since its figure is that of another body.
        if let Some(near) = &problem.near {
            nearly(problem, near, &mut blocks);
            let second = figures.get(index).and_then(|own| own.get(1));
            blocks.extend(second.cloned().map(DocumentBlock::Figure));
        }
    }
    blocks.push(DocumentBlock::Caution(wording::CAUTION.into()));
    Document {
        title: "Key to the exercises".to_owned(),
        subtitle: subtitle(sheet),
        blocks,
    }
}

const INTRODUCTION: &str = "Bodies are rigid and supports ideal. A hinge or bearing has reaction couples, unless a \
second one shares its axis. Contacts, rollers and cables are treated as two-way. Lengths are in metres.";

fn subtitle(sheet: &ExerciseSheet) -> Phrase {
    match sheet.problems.len() {
        1 => "One problem".into(),
        number => phrase!(number, " problems"),
    }
}

fn opening(problem: &Exercise, index: usize, figures: &[Figures], blocks: &mut Vec<DocumentBlock>) {
    if index > 0 {
        blocks.push(DocumentBlock::NewSheet);
    }
    let title = phrase!("Problem ", index + 1, ": ", problem.study.model().title);
    blocks.push(DocumentBlock::Heading(2, title));
    let first = figures.get(index).and_then(|own| own.first());
    blocks.extend(first.cloned().map(DocumentBlock::Figure));
}

/// What is asked; the same for all problems on whether a body is held, so that nothing is given away.
fn tasks(problem: &Exercise) -> Vec<Phrase> {
    const COUNT: &str = "Draw the free-body diagram. How many unknown reactions are there?";
    let tasks = match problem.topic {
        Topic::Reactions => vec![
            "Draw the free-body diagram.",
            "Find every reaction, choosing axes of moments that leave few unknowns.",
            "Check the result with one more equation.",
        ],
        Topic::NearMiss => vec![
            COUNT,
            "Is the body held as given? Which motion does one reaction alone prevent, and how long is its moment arm?",
            "Find every reaction under the given load. How do they compare with the load?",
        ],
        _ => vec![
            COUNT,
            "Is the body held? If not, how can it move, and what do its reactions have in common?",
            "Are any reactions redundant? Which of them can equilibrium not separate?",
            "Is there equilibrium under the given load? Find every reaction that follows from it.",
        ],
    };
    let tolerance = problem.study.model().placement_tolerance.map(|tolerance| {
        phrase!(
            "Each support may be misplaced by up to ",
            wording::length(tolerance, &problem.study.model().units),
            ". What can happen then?"
        )
    });
    tasks
        .into_iter()
        .map(Phrase::from)
        .chain(tolerance)
        .collect()
}

fn answer(problem: &Exercise, blocks: &mut Vec<DocumentBlock>) {
    let study = &problem.study;
    let (model, diagnosis) = (study.model(), study.diagnosis());
    let headline = wording::headline(model, diagnosis, study.uncarried());
    let is_good = diagnosis.is_held() && study.uncarried().is_empty();
    let tone = if is_good { Tone::Good } else { Tone::Bad };
    blocks.push(DocumentBlock::Lead(tone, headline));
    let numbers = wording::big_numbers(model.space, diagnosis);
    let numbers: Vec<Phrase> = numbers
        .iter()
        .map(|number| {
            phrase!(
                number.name,
                " ",
                number.symbol,
                Operator::Equals,
                number.value
            )
        })
        .collect();
    blocks.push(DocumentBlock::Paragraph(phrase!(
        Phrase::joined(numbers, ", "),
        "."
    )));
    blocks.push(DocumentBlock::Paragraph(wording::reason(model, diagnosis)));
    let motions = diagnosis.free_motions.iter();
    let mut items: Vec<Phrase> = motions
        .map(|motion| wording::motion(model, motion))
        .collect();
    if diagnosis.counts.redundancy > 0 {
        let groups = 0..study.circuits().circuits.len();
        match wording::alike(study) {
            Some(all) => items.push(all),
            None => items.extend(groups.map(|index| wording::circuit(study, index))),
        }
    }
    items.push(wording::balance(
        model,
        diagnosis,
        &diagnosis.cases[CaseIndex::FIRST],
    ));
    blocks.push(DocumentBlock::List(items));
}

/// Which axis is nearly shared, what that does to the reaction that misses it, and what happens where it does not.
fn nearly(problem: &Exercise, near: &NearMiss, blocks: &mut Vec<DocumentBlock>) {
    let (model, improper) = (problem.study.model(), &near.improper);
    let nearness = problem.study.nearness();
    let verdict = nearness.and_then(|nearness| wording::placement(model, nearness));
    blocks.extend(verdict.map(|said| DocumentBlock::Lead(Tone::Good, said)));
    blocks.push(DocumentBlock::Paragraph(wording::miss(model, &near.miss)));
    let equation = Equation::new(model, CaseIndex::FIRST, Balance::of_motion(&near.miss.turn));
    blocks.push(DocumentBlock::Equation {
        label: String::new(),
        formula: sentences::equation(model, &equation),
    });
    let [stands, would_stand] =
        [model, improper.model()].map(|model| model.supports[near.support].point);
    blocks.push(DocumentBlock::Paragraph(phrase!(
        "If ",
        wording::support(model, near.support),
        " were ",
        wording::length((would_stand - stands).norm(), &model.units),
        " away, at ",
        wording::coordinates(model, &would_stand),
        ", that arm would be zero, and no reaction could balance the load. ",
        wording::reason(improper.model(), improper.diagnosis())
    )));
}
