//! The sheet, its answers and its key as documents.

use super::hints::hints;
use super::masthead::{form, heading, subtitle, title};
use super::{Exercise, ExerciseSheet, NearMiss, Topic};
use crate::document::{Document, DocumentBlock, DocumentFigure, Tone};
use crate::scene::units::LengthUnit;
use crate::solution::{Balance, Equation, Solution, given, sentences};
use crate::statics::CaseIndex;
use crate::wording::{self, Operator, Phrase, phrase};

/// Figures of one problem, in the order in which its text needs them: of it, and in the key of what it just misses.
pub type Figures = Vec<DocumentFigure>;

/// The problems: figure, what is given, what is asked. `figures` are in the order of the problems; those that are
/// missing are left out.
pub fn questions(sheet: &ExerciseSheet, figures: &[Figures]) -> Document {
    let mut blocks = vec![form(sheet), DocumentBlock::Quiet(introduction(sheet))];
    for (index, problem) in sheet.problems.iter().enumerate() {
        opening(sheet, index, sheet.masthead.per_page, figures, &mut blocks);
        blocks.push(given::supports(problem.study.model(), false));
        blocks.push(given::loads(problem.study.model(), CaseIndex::FIRST));
        blocks.push(DocumentBlock::List(tasks(problem)));
        blocks.push(DocumentBlock::Hints(hints(problem)));
    }
    Document {
        title: title(sheet),
        subtitle: subtitle(sheet),
        blocks,
    }
}

/// The answers alone, to mark by: verdict, numbers, motions and reactions of each problem.
pub fn answers(sheet: &ExerciseSheet) -> Document {
    let answers = sheet.problems.iter().map(brief_answer).collect();
    Document {
        title: format!("Answers: {}", title(sheet)),
        subtitle: subtitle(sheet),
        blocks: vec![
            DocumentBlock::Numbered(answers),
            DocumentBlock::Caution(wording::CAUTION.into()),
        ],
    }
}

/// Verdict, numbers, motions, values.
fn brief_answer(problem: &Exercise) -> Vec<Phrase> {
    let study = &problem.study;
    let (model, diagnosis) = (study.model(), study.diagnosis());
    let mut lines = vec![
        wording::headline(model, diagnosis, study.uncarried()),
        counts(problem),
    ];
    let motions = diagnosis.free_motions.iter();
    lines.extend(motions.map(|motion| wording::motion_phrase(model, motion).sentence()));
    let case = &diagnosis.cases[CaseIndex::FIRST];
    let reactions = model.reactions.iter().zip(&case.values);
    let values: Vec<Phrase> = reactions
        .filter_map(|(reaction, value)| {
            let value = wording::acting(model, reaction, (*value)?);
            Some(phrase!(reaction.symbol, Operator::Equals, value))
        })
        .collect();
    if !values.is_empty() {
        lines.push(phrase!(Phrase::joined(values, ", "), "."));
    }
    lines
}

/// The answers, with the solution of each problem worked. `figures` as for [`questions`].
pub fn key(sheet: &ExerciseSheet, figures: &[Figures]) -> Document {
    let mut blocks = Vec::new();
    for (index, problem) in sheet.problems.iter().enumerate() {
        opening(sheet, index, 1, figures, &mut blocks);
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
        title: format!("Key: {}", title(sheet)),
        subtitle: subtitle(sheet),
        blocks,
    }
}

fn introduction(sheet: &ExerciseSheet) -> Phrase {
    let units = sheet
        .problems
        .first()
        .map(|problem| problem.study.model().units);
    let length = match units.unwrap_or_default().length {
        LengthUnit::Foot => "feet",
        _ => "metres",
    };
    phrase!(
        "Bodies are rigid and supports ideal. A hinge or bearing has reaction couples, unless a second one shares its \
         axis. Contacts, rollers and cables are treated as two-way. Lengths are in ",
        length,
        "."
    )
}

/// A heading with the figure, on a page of its own after so many problems.
fn opening(
    sheet: &ExerciseSheet,
    index: usize,
    per_page: usize,
    figures: &[Figures],
    blocks: &mut Vec<DocumentBlock>,
) {
    if index > 0 && index.is_multiple_of(per_page.max(1)) {
        blocks.push(DocumentBlock::NewSheet);
    }
    let title = heading(sheet, &sheet.problems[index], index);
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

/// The four numbers in one line.
fn counts(problem: &Exercise) -> Phrase {
    let (model, diagnosis) = (problem.study.model(), problem.study.diagnosis());
    let numbers = wording::big_numbers(model.space, diagnosis);
    let numbers = numbers.iter().map(|number| {
        phrase!(
            number.label(),
            " ",
            number.symbol,
            Operator::Equals,
            number.value
        )
    });
    phrase!(Phrase::joined(numbers, ", "), ".").capitalised()
}

fn answer(problem: &Exercise, blocks: &mut Vec<DocumentBlock>) {
    let study = &problem.study;
    let (model, diagnosis) = (study.model(), study.diagnosis());
    let headline = wording::headline(model, diagnosis, study.uncarried());
    let is_good = diagnosis.is_held() && study.uncarried().is_empty();
    let tone = if is_good { Tone::Good } else { Tone::Bad };
    blocks.push(DocumentBlock::Lead(tone, headline));
    blocks.push(DocumentBlock::Paragraph(counts(problem)));
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

#[cfg(test)]
mod tests {
    use super::super::{ExerciseChoice, ExerciseSheet, SheetSettings, Topic};
    use super::*;
    use crate::document::breaks::{assert_good_breaks, figure};

    #[test]
    fn keys_have_no_nearly_empty_sheet_and_no_heading_at_the_foot() {
        let mut pages = 0;
        for seed in 0..6 {
            let sheet = ExerciseSheet::new(&SheetSettings {
                topics: Topic::MIXED.to_vec(),
                count: 10,
                seed,
                level: None,
                choice: ExerciseChoice::default(),
            })
            .unwrap();
            let heights = (0..10_u32).map(|index| f64::from(120 + (37 * index + 11) % 190));
            let figures: Vec<_> = heights.map(|height| vec![figure(height)]).collect();
            pages += assert_good_breaks(&key(&sheet, &figures));
            pages += assert_good_breaks(&questions(&sheet, &figures));
        }
        assert!(pages > 130, "{pages}");
    }
}
