//! Exercise sheets written out: the problems, the answers alone and the key, with their figures.

use crate::document::{Document, DocumentFigure};
use crate::exercises::{self, Exercise, ExerciseSheet, Figures, Quiz, Topic};
use crate::figure::{self, FigurePart, FigureSettings};
use crate::study::Study;
use crate::wording::{self, Phrase, phrase};

/// A sheet written out.
pub struct Worksheet {
    /// The problems.
    pub questions: Document,
    /// The answers alone.
    pub answers: Document,
    /// The problems with their worked solutions.
    pub key: Document,
    /// The figures of the problems as stated, in their order.
    stated: Vec<Figures>,
}

/// How a sheet is written out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WorksheetSettings {
    /// Problems that share a page: 1 leaves room to answer, 2 makes small figures.
    pub per_page: u8,
    /// Significant digits.
    pub digits: i32,
}

/// Width and height of the figure of a problem on a page of its own, and of one that shares a page, mm.
const SIZE_MM: [f64; 2] = [120.0, 110.0];
const SMALL_MM: [f64; 2] = [84.0, 42.0];

impl Worksheet {
    /// How many times `watch` is called for a sheet.
    pub fn steps(sheet: &ExerciseSheet) -> usize {
        2 * sheet.problems.len()
    }

    /// Writes a sheet out; `watch` is called for each problem and each answer that is drawn.
    pub fn new(sheet: &ExerciseSheet, settings: WorksheetSettings, watch: impl Fn()) -> Self {
        let drawn = |draw: &dyn Fn(&Exercise) -> Figures| -> Vec<Figures> {
            let draw = |problem| {
                watch();
                draw(problem)
            };
            sheet.problems.iter().map(draw).collect()
        };
        let WorksheetSettings { per_page, digits } = settings;
        let size = match per_page {
            1 => SIZE_MM,
            _ => SMALL_MM,
        };
        let stated = drawn(&|problem| vec![problem_figure(problem, digits, size)]);
        let answered = drawn(&|problem| answer_figures(problem, digits));
        Self {
            questions: exercises::questions(sheet, &stated).with_digits(digits),
            answers: exercises::answers(sheet).with_digits(digits),
            key: exercises::key(sheet, &answered).with_digits(digits),
            stated,
        }
    }

    /// The problems as questions for learning platforms.
    pub fn quiz<'a>(&'a self, sheet: &'a ExerciseSheet) -> Quiz<'a> {
        Quiz::new(sheet, &self.stated)
    }
}

fn drawn(study: &Study, parts: &[FigurePart], digits: i32, size_mm: [f64; 2]) -> DocumentFigure {
    let settings = FigureSettings {
        parts: parts.iter().copied().collect(),
        digits,
        ..FigureSettings::default()
    };
    // Figures of exercises are small, and counted by themselves.
    figure::in_document(study, settings, size_mm, &|_, _, _| {})
}

/// The problem as stated; of a near miss with coordinates, since lines of dimensions leave out what is too close.
fn problem_figure(problem: &Exercise, digits: i32, size_mm: [f64; 2]) -> DocumentFigure {
    let near = problem.topic == Topic::NearMiss;
    let parts: Vec<FigurePart> = FigurePart::QUESTION
        .into_iter()
        // The sheet has tables of its own.
        .filter(|part| *part != FigurePart::Table)
        .map(|part| match part {
            FigurePart::Dimensions if near => FigurePart::Coordinates,
            part => part,
        })
        .collect();
    drawn(&problem.study, &parts, digits, size_mm)
}

/// The answer, with the values of reactions where all are to be computed, and the motion that it just misses.
fn answer_figures(problem: &Exercise, digits: i32) -> Figures {
    let mut parts = FigurePart::USUAL.to_vec();
    parts.push(FigurePart::Loads);
    if matches!(problem.topic, Topic::Reactions | Topic::NearMiss) {
        parts.push(FigurePart::Values);
    }
    let draw =
        |study: &Study, parts: &[FigurePart]| drawn(study, parts, digits, figure::IN_DOCUMENT_MM);
    let missed = problem.near.iter().map(|near| {
        let improper = &near.improper;
        let support = &improper.model().supports[near.support];
        DocumentFigure {
            caption: phrase!(
                "If ",
                Phrase::name(&support.name),
                " were at ",
                wording::coordinates(improper.model(), &support.point)
            ),
            ..draw(improper, &FigurePart::USUAL)
        }
    });
    std::iter::once(draw(&problem.study, &parts))
        .chain(missed)
        .collect()
}
