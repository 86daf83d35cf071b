//! `sixhold sheet`: exercises with their key, and each problem as a scene file.

use std::fs;
use std::path::{Path, PathBuf};

use super::Outcome;
use super::args::{RoundingArgs, SheetArgs, TopicArg};
use super::output::{self, Failure};
use super::progress::Progress;
use super::report::{self, DocumentFormat};
use crate::document::DocumentFigure;
use crate::exercises::{self, Exercise, Figures, SheetSettings, Topic};
use crate::figure::{DrawingProgress, FigurePart};
use crate::files;
use crate::printable::shown;
use crate::scene;
use crate::statics::CaseIndex;
use crate::wording::{self, Phrase, phrase};

/// Writes the sheet.
pub(crate) fn run(args: &SheetArgs) -> Result<Outcome, Failure> {
    let settings = SheetSettings {
        topics: topics(&args.about),
        count: args.count,
        seed: args.seed,
        level: args.level.map(Into::into),
    };
    let sheet = problems(&settings)?;
    let scenes = args.out.join(SCENES);
    let files = files_of(&sheet, &args.out, args.rounding);
    if !args.force {
        keep_others(&files, &args.out)?;
    }
    fs::create_dir_all(&scenes).map_err(|error| {
        Failure::plain(format!(
            "the folder could not be made ({error}): {}",
            shown(&scenes)
        ))
    })?;
    files::write_all(&files)?;
    output::note(&format!(
        "written: {} problems in {}",
        sheet.problems.len(),
        shown(&args.out)
    ));
    let strays = strays(sheet.problems.len(), &scenes);
    if strays > 0 {
        output::note(&format!(
            "{} also holds {strays} scenes of a longer sheet made before",
            shown(&scenes)
        ));
    }
    Ok(Outcome::Done)
}

/// Draws the problems.
fn problems(settings: &SheetSettings) -> Result<exercises::ExerciseSheet, Failure> {
    let progress = Progress::new("problem", settings.count);
    let sheet = exercises::ExerciseSheet::drawn(settings, || progress.step());
    sheet.map_err(|error| Failure::plain(error.to_string()))
}

/// Folder of the scenes, within that of the sheet.
/// Figures of exercises are small, and counted by themselves.
const UNWATCHED: DrawingProgress = &|_, _, _| {};
const SCENES: &str = "scenes";

/// A file to write, and its content.
type NewFile = (PathBuf, Vec<u8>);

/// Everything that makes the sheet.
fn files_of(
    sheet: &exercises::ExerciseSheet,
    folder: &Path,
    rounding: RoundingArgs,
) -> Vec<NewFile> {
    let progress = Progress::new("figure", 2 * sheet.problems.len());
    let questions = exercises::questions(sheet, &figures(sheet, question_figures, &progress));
    let key = exercises::key(sheet, &figures(sheet, answer_figures, &progress));
    drop(progress);
    let documents = [(questions, "sheet"), (key, "key")];
    let documents = documents.map(|(document, name)| (document.with_digits(rounding.digits), name));
    let documents = documents.iter().flat_map(|(document, name)| {
        [DocumentFormat::Html, DocumentFormat::Pdf].map(|form| {
            let path = folder.join(name).with_extension(form.ending());
            (path, report::rendered(document, form))
        })
    });
    let scenes = sheet.problems.iter().enumerate().map(|(index, problem)| {
        let path = folder.join(SCENES).join(scene_name(index + 1));
        (path, scene::to_ron(problem.study.scene()).into_bytes())
    });
    documents.chain(scenes).collect()
}

/// Fails where a file of another content would be replaced: it may be someone's own, or a problem that was worked over.
fn keep_others(files: &[NewFile], folder: &Path) -> Result<(), Failure> {
    let differs = |(path, content): &&NewFile| {
        path.is_file() && fs::read(path).is_ok_and(|old| old != *content)
    };
    let within = |(path, _): &NewFile| shown(path.strip_prefix(folder).unwrap_or(path));
    let others: Vec<String> = files.iter().filter(differs).map(within).collect();
    if others.is_empty() {
        return Ok(());
    }
    Err(Failure::new(
        format!(
            "{} holds other files under the names of this sheet: {}; nothing was written",
            shown(folder),
            others.join(", ")
        ),
        "write to another folder, or replace them with --force",
    ))
}

fn figures(
    sheet: &exercises::ExerciseSheet,
    draw: fn(&Exercise) -> Figures,
    progress: &Progress,
) -> Vec<Figures> {
    let drawn = |problem: &Exercise| {
        progress.step();
        draw(problem)
    };
    sheet.problems.iter().map(drawn).collect()
}

/// The problem as stated; of a near miss with coordinates, since lines of dimensions leave out what is too close.
fn question_figures(problem: &Exercise) -> Figures {
    let near = problem.topic == Topic::NearMiss;
    let parts = FigurePart::QUESTION.map(|part| match part {
        FigurePart::Dimensions if near => FigurePart::Coordinates,
        part => part,
    });
    vec![report::drawn(
        &problem.study,
        &parts,
        CaseIndex::FIRST,
        UNWATCHED,
    )]
}

/// The answer, with the values of reactions where all are to be computed, and the motion that it just misses.
fn answer_figures(problem: &Exercise) -> Figures {
    let mut parts = FigurePart::USUAL.to_vec();
    parts.push(FigurePart::Loads);
    if matches!(problem.topic, Topic::Reactions | Topic::NearMiss) {
        parts.push(FigurePart::Values);
    }
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
            ..report::drawn(improper, &FigurePart::USUAL, CaseIndex::FIRST, UNWATCHED)
        }
    });
    std::iter::once(report::drawn(
        &problem.study,
        &parts,
        CaseIndex::FIRST,
        UNWATCHED,
    ))
    .chain(missed)
    .collect()
}

fn topics(about: &[TopicArg]) -> Vec<Topic> {
    let topics = about.iter().flat_map(|about| match about {
        TopicArg::Improper => vec![Topic::Improper],
        TopicArg::Partial => vec![Topic::Partial],
        TopicArg::Redundant => vec![Topic::Redundant],
        TopicArg::Determinate => vec![Topic::Determinate],
        TopicArg::Reactions => vec![Topic::Reactions],
        TopicArg::NearMiss => vec![Topic::NearMiss],
        TopicArg::Mixed => Topic::MIXED.to_vec(),
    });
    topics.collect()
}

fn scene_name(number: usize) -> String {
    format!("problem-{number:02}.ron")
}

/// How many problems beyond the count the folder has scenes of.
fn strays(count: usize, folder: &Path) -> usize {
    let beyond = (count + 1..=exercises::MOST_PROBLEMS).map(scene_name);
    beyond.filter(|name| folder.join(name).exists()).count()
}
