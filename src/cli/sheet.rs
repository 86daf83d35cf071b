//! `sixhold sheet`: exercises with their key, and each problem as a scene file.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use super::Outcome;
use super::args::{SheetArgs, TopicArg, UnitsArg};
use super::output::{self, Failure};
use super::progress::Progress;
use super::report::{self, DocumentFormat};
use crate::document::{self, Document, DocumentBlock, Paper};
use crate::drawing;
use crate::exercises::{self, ExerciseChoice, Masthead, SUPPORT_WORDS, SheetSettings, Topic};
use crate::files;
use crate::printable::shown;
use crate::scene;
use crate::worksheet::{Worksheet, WorksheetSettings};

/// Writes the sheet, or both of its variants.
pub(crate) fn run(args: &SheetArgs) -> Result<Outcome, Failure> {
    let settings = settings(args);
    let sheet = problems(&settings)?;
    let mut files = Vec::new();
    for (sheet, folder) in variants(args, &settings, sheet)? {
        files.extend(files_of(&sheet, &folder, args));
    }
    if !args.force {
        keep_others(&files, &args.out)?;
    }
    let folders: BTreeSet<&Path> = files.iter().filter_map(|(path, _)| path.parent()).collect();
    for folder in folders {
        fs::create_dir_all(folder).map_err(|error| {
            Failure::plain(format!(
                "cannot create the folder {} ({error})",
                shown(folder)
            ))
        })?;
    }
    files::write_all(&files)?;
    let twice = if args.variants { ", twice" } else { "" };
    output::note(&format!(
        "written: {} {}{twice} in {}",
        settings.count,
        if settings.count == 1 {
            "problem"
        } else {
            "problems"
        },
        shown(&args.out)
    ));
    let scenes = args.out.join(SCENES);
    let strays = strays(settings.count, &scenes);
    if strays > 0 {
        output::note(&format!(
            "{} also holds {strays} scenes of a longer sheet made before",
            shown(&scenes)
        ));
    }
    Ok(Outcome::Done)
}

fn settings(args: &SheetArgs) -> SheetSettings {
    let words = SUPPORT_WORDS.into_iter();
    SheetSettings {
        topics: topics(&args.about),
        count: args.count,
        seed: args.seed,
        level: args.level.map(Into::into),
        choice: ExerciseChoice {
            space: args.space.map(Into::into),
            unknowns: args.unknowns.map(Into::into),
            supports: words
                .filter(|word| args.supports.iter().any(|kind| kind == word))
                .collect(),
            is_us: args.units == UnitsArg::Us,
        },
    }
}

/// The sheet in the folder that is asked for, or two of them in folders of their own.
fn variants(
    args: &SheetArgs,
    settings: &SheetSettings,
    mut sheet: exercises::ExerciseSheet,
) -> Result<Vec<(exercises::ExerciseSheet, PathBuf)>, Failure> {
    sheet.masthead = Masthead {
        course: args.course.clone(),
        marks: args.marks,
        variant: args.variants.then_some('A'),
        per_page: args.per_page.into(),
    };
    if !args.variants {
        return Ok(vec![(sheet, args.out.clone())]);
    }
    let mut other = sheet.varied(settings).map_err(failure)?;
    other.masthead.variant = Some('B');
    Ok(vec![
        (sheet, args.out.join("A")),
        (other, args.out.join("B")),
    ])
}

fn failure(error: exercises::SheetError) -> Failure {
    Failure::plain(error.to_string())
}

/// Draws the problems.
fn problems(settings: &SheetSettings) -> Result<exercises::ExerciseSheet, Failure> {
    let progress = Progress::new("problem", settings.count);
    exercises::ExerciseSheet::drawn(settings, || progress.step()).map_err(failure)
}

/// Folder of the scenes, within that of the sheet.
const SCENES: &str = "scenes";

/// A file to write, and its content.
type NewFile = (PathBuf, Vec<u8>);

/// Everything that makes the sheet.
fn files_of(sheet: &exercises::ExerciseSheet, folder: &Path, args: &SheetArgs) -> Vec<NewFile> {
    let progress = Progress::new("figure", Worksheet::steps(sheet));
    let settings = WorksheetSettings {
        per_page: args.per_page,
        digits: args.rounding.digits,
    };
    let written = Worksheet::new(sheet, settings, || progress.step());
    drop(progress);
    let documents = [
        (&written.questions, "sheet"),
        (&written.answers, "answers"),
        (&written.key, "key"),
    ];
    let pages = documents.iter().flat_map(|(document, name)| {
        [DocumentFormat::Html, DocumentFormat::Pdf].map(|form| {
            let path = folder.join(name).with_extension(form.ending());
            let bytes = match form {
                DocumentFormat::Pdf => document::pdf_on(document, args.paper.into()),
                _ => report::rendered(document, form),
            };
            (path, bytes)
        })
    });
    let scenes = sheet.problems.iter().enumerate().map(|(index, problem)| {
        let path = folder.join(SCENES).join(scene_name(index + 1));
        (path, scene::to_ron(problem.study.scene()).into_bytes())
    });
    let quiz = written.quiz(sheet);
    let platforms = [
        (folder.join("moodle.xml"), quiz.moodle().into_bytes()),
        (folder.join("qti.zip"), quiz.qti()),
    ];
    let mut files: Vec<NewFile> = pages.chain(scenes).chain(platforms).collect();
    let languages = [(args.latex, LATEX), (args.typst, TYPST)];
    for (_, language) in languages.iter().filter(|(is_asked, _)| *is_asked) {
        for (document, name) in documents {
            files.extend(source_files(
                document,
                name,
                folder,
                language,
                args.paper.into(),
            ));
        }
    }
    files
}

/// A language that documents are written in for those who go on with them.
struct SourceLanguage {
    /// Folder of the sources and their figures.
    folder: &'static str,
    ending: &'static str,
    write: fn(&Document, Paper, &[String]) -> String,
}

const LATEX: SourceLanguage = SourceLanguage {
    folder: "latex",
    ending: "tex",
    write: document::latex,
};
const TYPST: SourceLanguage = SourceLanguage {
    folder: "typst",
    ending: "typ",
    write: document::typst,
};

/// The source of a document in the folder of its language, and its figures beside it.
fn source_files(
    document: &Document,
    name: &str,
    folder: &Path,
    language: &SourceLanguage,
    paper: Paper,
) -> Vec<NewFile> {
    let folder = folder.join(language.folder);
    let figures = document.blocks.iter().filter_map(|block| match block {
        DocumentBlock::Figure(figure) => Some(figure),
        _ => None,
    });
    let figures = figures.enumerate().map(|(index, figure)| {
        let file = format!("{name}-{:02}.pdf", index + 1);
        (file, drawing::pdf(&figure.drawing))
    });
    let (names, drawn): (Vec<String>, Vec<Vec<u8>>) = figures.unzip();
    let source = (language.write)(document, paper, &names);
    let path = folder.join(name).with_extension(language.ending);
    let source = (path, source.into_bytes());
    let drawn = names.into_iter().zip(drawn);
    let drawn = drawn.map(|(file, bytes)| (folder.join(file), bytes));
    drawn.chain([source]).collect()
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

fn topics(about: &[TopicArg]) -> Vec<Topic> {
    let topics = about.iter().flat_map(|about| match about {
        TopicArg::One(topic) => vec![*topic],
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
