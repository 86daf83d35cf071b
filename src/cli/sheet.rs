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
use crate::practice::{self, Figures, Problem, SheetSettings, Topic};
use crate::scene::{self, Scene};
use crate::statics::{Diagnosis, Model};
use crate::words;

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
    let questions = practice::questions(&sheet, &figures(&sheet, question_figures));
    let key = practice::key(&sheet, &figures(&sheet, answer_figures));
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
    let strays = strays(sheet.problems.len(), &scenes);
    if strays > 0 {
        output::note(&format!(
            "{} also holds {strays} scenes of a longer sheet made before",
            scenes.display()
        ));
    }
    Ok(Outcome::Done)
}

fn figures(sheet: &practice::Sheet, draw: fn(&Problem) -> Figures) -> Vec<Figures> {
    sheet.problems.iter().map(draw).collect()
}

/// The problem as stated; of a near miss with coordinates, since lines of dimensions leave out what is too close.
fn question_figures(problem: &Problem) -> Figures {
    let stated = (&problem.scene, &problem.model, &problem.diagnosis);
    let near = problem.topic == Topic::NearMiss;
    let parts = Part::QUESTION.map(|part| match part {
        Part::Dimensions if near => Part::Coordinates,
        part => part,
    });
    vec![figure(stated, &parts)]
}

/// The answer, with the values of reactions where all are to be computed, and the motion that it just misses.
fn answer_figures(problem: &Problem) -> Figures {
    let mut parts = Part::USUAL.to_vec();
    parts.push(Part::Loads);
    if matches!(problem.topic, Topic::Reactions | Topic::NearMiss) {
        parts.push(Part::Values);
    }
    let stated = (&problem.scene, &problem.model, &problem.diagnosis);
    let missed = problem.near.iter().map(|near| {
        let improper = &near.improper;
        let stated = (&improper.scene, &improper.model, &improper.diagnosis);
        let support = &improper.model.supports[near.support];
        Figure {
            caption: format!(
                "If {} stood at {}",
                support.name,
                words::coordinates(&improper.model, &support.point)
            ),
            ..figure(stated, &Part::USUAL)
        }
    });
    std::iter::once(figure(stated, &parts))
        .chain(missed)
        .collect()
}

fn figure((scene, model, diagnosis): (&Scene, &Model, &Diagnosis), parts: &[Part]) -> Figure {
    let subject = Subject {
        scene,
        model,
        diagnosis,
        mobilities: &Mobilities::of(model, diagnosis),
    };
    report::drawn(&subject, parts, 0)
}

fn topics(about: &[About]) -> Vec<Topic> {
    let topics = about.iter().flat_map(|about| match about {
        About::Improper => vec![Topic::Improper],
        About::Partial => vec![Topic::Partial],
        About::Redundant => vec![Topic::Redundant],
        About::Determinate => vec![Topic::Determinate],
        About::Reactions => vec![Topic::Reactions],
        About::NearMiss => vec![Topic::NearMiss],
        About::Mixed => Topic::MIXED.to_vec(),
    });
    topics.collect()
}

fn scene_name(number: usize) -> String {
    format!("problem-{number:02}.ron")
}

/// How many problems beyond the count the folder has scenes of.
fn strays(count: usize, folder: &Path) -> usize {
    let beyond = (count + 1..=practice::MOST_PROBLEMS).map(scene_name);
    beyond.filter(|name| folder.join(name).exists()).count()
}

fn write_scenes(sheet: &practice::Sheet, folder: &Path) -> Result<(), Failure> {
    for (index, problem) in sheet.problems.iter().enumerate() {
        let path = folder.join(scene_name(index + 1));
        scene::save_file(&problem.scene, &path)
            .map_err(|error| Failure::plain(error.to_string()))?;
    }
    Ok(())
}
