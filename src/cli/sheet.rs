//! `sixhold sheet`: exercises with their key, and each problem as a scene file.

use std::fs;
use std::path::Path;

use super::Outcome;
use super::args::{About, Sheet};
use super::output::{self, Failure};
use super::report::{self, Form};
use crate::document::Figure;
use crate::figure::{Part, Subject};
use crate::motion::Mobilities;
use crate::practice::{self, Problem, SheetSettings, Topic};
use crate::scene;

/// Writes the sheet.
pub fn run(args: &Sheet) -> Result<Outcome, Failure> {
    let settings = SheetSettings {
        topics: topics(&args.about),
        count: args.count,
        seed: args.seed,
        level: args.level.map(Into::into),
    };
    let sheet =
        practice::Sheet::new(&settings).map_err(|error| Failure::plain(error.to_string()))?;
    let scenes = args.out.join("scenes");
    fs::create_dir_all(&scenes).map_err(|error| {
        Failure::plain(format!(
            "the folder could not be made ({error}): {}",
            scenes.display()
        ))
    })?;
    write_scenes(&sheet, &scenes)?;
    let questions = practice::questions(&sheet, &figures(&sheet, question_figure));
    let key = practice::key(&sheet, &figures(&sheet, answer_figure));
    for (document, name) in [(questions, "sheet"), (key, "key")] {
        for form in [Form::Html, Form::Pdf] {
            let path = args.out.join(name).with_extension(form.ending());
            report::write(&document, form, &path)?;
        }
    }
    output::note(&format!(
        "written: {} problems in {}",
        sheet.problems.len(),
        args.out.display()
    ));
    Ok(Outcome::Done)
}

fn figures(sheet: &practice::Sheet, figure: fn(&Problem, &Subject) -> Figure) -> Vec<Figure> {
    let problems = sheet.problems.iter();
    problems
        .map(|problem| {
            let subject = Subject {
                scene: &problem.scene,
                model: &problem.model,
                diagnosis: &problem.diagnosis,
                mobilities: &Mobilities::of(&problem.model, &problem.diagnosis),
            };
            figure(problem, &subject)
        })
        .collect()
}

/// The problem as stated.
fn question_figure(_problem: &Problem, subject: &Subject) -> Figure {
    report::drawn(subject, &Part::QUESTION, 0)
}

/// The answer, with the values of reactions where all are to be computed.
fn answer_figure(problem: &Problem, subject: &Subject) -> Figure {
    let mut parts = Part::USUAL.to_vec();
    parts.push(Part::Loads);
    if problem.topic == Topic::Reactions {
        parts.push(Part::Values);
    }
    report::drawn(subject, &parts, 0)
}

fn topics(about: &[About]) -> Vec<Topic> {
    let topics = about.iter().flat_map(|about| match about {
        About::Improper => vec![Topic::Improper],
        About::Partial => vec![Topic::Partial],
        About::Redundant => vec![Topic::Redundant],
        About::Determinate => vec![Topic::Determinate],
        About::Reactions => vec![Topic::Reactions],
        About::Mixed => Topic::ALL.to_vec(),
    });
    topics.collect()
}

fn write_scenes(sheet: &practice::Sheet, folder: &Path) -> Result<(), Failure> {
    for (index, problem) in sheet.problems.iter().enumerate() {
        let path = folder.join(format!("problem-{:02}.ron", index + 1));
        scene::save_file(&problem.scene, &path)
            .map_err(|error| Failure::plain(error.to_string()))?;
    }
    Ok(())
}
