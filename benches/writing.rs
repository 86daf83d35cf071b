//! How long it takes to work a solution, to write a report to file, and to make a sheet of exercises.

use sixhold::document::{self, Document, DocumentFigure};
use sixhold::exercises::{
    ExerciseChoice, ExerciseSheet, Figures, SheetSettings, Topic, key, questions,
};
use sixhold::figure::{self, FigurePart, FigureSettings};
use sixhold::report::Report;
use sixhold::report::paper::{self, ReportDocument};
use sixhold::scene::Scene;
use sixhold::solution::Solution;
use sixhold::statics::CaseIndex;
use sixhold::study::Study;
use std::hint::black_box;

use super::cases::built_in;
use super::clock::Criterion;

/// Aims: a report under 50 ms, a hundred exercises under 10 s.
pub(crate) fn documents(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("documents");
    for name in ["handrail", "roof-hatch", "street-lamp"] {
        let scene = built_in(name);
        group.bench_function(format!("solution of {name}"), |bencher| {
            let study = Study::new(scene.clone()).expect("the scene is valid");
            let (model, diagnosis) = (study.model(), study.diagnosis());
            bencher.iter(|| Solution::of(black_box(model), diagnosis, CaseIndex::FIRST));
        });
        group.bench_function(format!("report of {name}"), |bencher| {
            bencher.iter(|| report(black_box(&scene)));
        });
    }
    group.sample_size(10);
    group.bench_function("sheet and key of 100 exercises", |bencher| {
        bencher.iter(|| exercises(black_box(100)));
    });
    group.finish();
}

fn report(scene: &Scene) -> usize {
    let study = Study::new(scene.clone()).expect("the scene is valid");
    let figure = figure(&study, &FigurePart::USUAL);
    let paper = ReportDocument {
        report: Report {
            study: &study,
            case: None,
        },
        figure: Some(&figure),
        diagrams: &[],
        is_worked: true,
        has_details: true,
        digits: 4,
        record: None,
    };
    document::html(&paper::document(&paper)).len() + document::pdf(&paper::document(&paper)).len()
}

/// Sheet and key with their figures, as HTML and PDF.
fn exercises(count: usize) -> usize {
    let settings = SheetSettings {
        topics: Topic::MIXED.to_vec(),
        count,
        seed: 1,
        level: None,
        choice: ExerciseChoice::default(),
    };
    let sheet = ExerciseSheet::new(&settings).expect("so many different exercises are found");
    let figures = |parts: &[FigurePart]| -> Vec<Figures> {
        let problems = sheet.problems.iter();
        problems
            .map(|problem| vec![figure(&problem.study, parts)])
            .collect()
    };
    let documents = [
        questions(&sheet, &figures(&FigurePart::QUESTION)),
        key(&sheet, &figures(&FigurePart::USUAL)),
    ];
    let written = |d: &Document| document::html(d).len() + document::pdf(d).len();
    documents.iter().map(written).sum()
}

fn figure(study: &Study, parts: &[FigurePart]) -> DocumentFigure {
    let settings = FigureSettings {
        parts: parts.iter().copied().collect(),
        ..FigureSettings::default()
    };
    DocumentFigure {
        drawing: figure::draw(study, &settings),
        caption: (study.scene().title.clone()).into(),
    }
}
