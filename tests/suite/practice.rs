//! Exercise sheets: each problem is what was asked for, none like another, the same ones for the same seed.

use std::collections::HashSet;
use std::path::PathBuf;

use sixhold::document;
use sixhold::practice::{
    Level, MOST_PROBLEMS, Sheet, SheetError, SheetSettings, Topic, key, questions,
};
use sixhold::scene::{read_str, to_ron};
use sixhold::statics::{Depth, DepthSettings, ExactRank, Sense, Verdict};
use sixhold::words;
use sixhold::working::Working;

use crate::command_line::ran;
use crate::golden;

fn settings(topics: &[Topic], count: usize, seed: u64, level: Option<Level>) -> SheetSettings {
    SheetSettings {
        topics: topics.to_vec(),
        count,
        seed,
        level,
    }
}

const LEVELS: [Option<Level>; 4] = [
    None,
    Some(Level::Easy),
    Some(Level::Middle),
    Some(Level::Hard),
];

/// The verdict by the exact rank alone.
fn check_verdict(topic: Topic, unknowns: usize, exact: &ExactRank, motions: usize, title: &str) {
    assert!(exact.as_written, "{title}");
    let held = exact.rank == motions;
    let right = match topic {
        Topic::Improper => !held && unknowns >= motions,
        Topic::Partial => !held && unknowns < motions,
        Topic::Redundant => held && unknowns > motions,
        Topic::Determinate | Topic::Reactions => held && unknowns == motions,
    };
    assert!(
        right,
        "{title}: {topic:?}, n = {unknowns}, r = {}",
        exact.rank
    );
}

#[test]
fn problems_are_what_was_asked_for() {
    for seed in 0..12 {
        for level in LEVELS {
            let sheet = Sheet::new(&settings(&Topic::ALL, 10, seed, level)).unwrap();
            for (index, problem) in sheet.problems.iter().enumerate() {
                let model = &problem.model;
                assert_eq!(problem.topic, Topic::ALL[index % 5]);
                assert!(level.is_none_or(|level| problem.level == level));
                let motions = model.space.motions();
                let exact = ExactRank::of(model);
                check_verdict(
                    problem.topic,
                    model.reactions.len(),
                    &exact,
                    motions,
                    &model.title,
                );
            }
        }
    }
}

#[test]
fn held_bodies_are_held_clearly() {
    for seed in 20..24 {
        let topics = [Topic::Determinate, Topic::Redundant, Topic::Reactions];
        let sheet = Sheet::new(&settings(&topics, 12, seed, None)).unwrap();
        for problem in &sheet.problems {
            let model = &problem.model;
            let depth = Depth::new(model, &problem.diagnosis, &DepthSettings::default());
            let nearness = depth.nearness.expect("there are reactions");
            if let Some(movement) = nearness.movement {
                assert!(movement.estimate > 0.1 * model.length, "{}", model.title);
            }
            assert_eq!(problem.diagnosis.verdict(), Verdict::ProperlyConstrained);
        }
    }
}

#[test]
fn reactions_to_compute_are_there_and_possible() {
    for seed in 0..6 {
        let sheet = Sheet::new(&settings(&[Topic::Reactions], 10, seed, None)).unwrap();
        for problem in &sheet.problems {
            let case = &problem.diagnosis.cases[0];
            assert!(case.is_decided());
            for (reaction, value) in problem.model.reactions.iter().zip(&case.values) {
                let value = value.unwrap();
                assert!(
                    reaction.sense == Sense::Both || value > 0.0,
                    "{}",
                    reaction.name
                );
            }
            let working = Working::of(&problem.model, &problem.diagnosis, 0).unwrap();
            assert!(working.check.is_some(), "{}", problem.model.title);
        }
    }
}

#[test]
fn bodies_that_are_not_held_are_set_in_motion() {
    let sheet = Sheet::new(&settings(&[Topic::Improper, Topic::Partial], 30, 7, None)).unwrap();
    for problem in &sheet.problems {
        assert!(!problem.diagnosis.cases[0].possible);
    }
}

#[test]
fn no_two_problems_are_alike() {
    let sheet = Sheet::new(&settings(&Topic::ALL, 100, 3, None)).unwrap();
    let signatures: HashSet<_> = sheet.problems.iter().map(|p| &p.signature).collect();
    assert_eq!(signatures.len(), 100);
    let scenes: HashSet<String> = sheet.problems.iter().map(|p| to_ron(&p.scene)).collect();
    assert_eq!(scenes.len(), 100);
    assert!(
        sheet
            .problems
            .iter()
            .any(sixhold::practice::Problem::is_planar)
    );
    assert!(
        !sheet
            .problems
            .iter()
            .all(sixhold::practice::Problem::is_planar)
    );
}

/// Twenty kinds exist; a dozen sheets have them all.
#[test]
fn every_kind_of_support_comes() {
    let mut kinds = HashSet::new();
    for seed in 40..52 {
        let sheet = Sheet::new(&settings(&Topic::ALL, 50, seed, None)).unwrap();
        let supports = sheet.problems.iter().flat_map(|p| &p.scene.supports);
        kinds.extend(supports.map(|support| words::support_kind(&support.kind)));
    }
    assert_eq!(kinds.len(), 20, "{kinds:?}");
}

#[test]
fn scenes_are_read_back_without_a_warning() {
    for seed in 30..34 {
        for problem in Sheet::new(&settings(&Topic::ALL, 20, seed, None))
            .unwrap()
            .problems
        {
            let loaded = read_str("problem", &to_ron(&problem.scene)).unwrap();
            assert_eq!(loaded.scene, problem.scene);
            assert!(
                loaded.warnings.is_empty(),
                "{}: {:?}",
                problem.scene.title,
                loaded.warnings
            );
        }
    }
}

#[test]
fn a_seed_gives_the_same_sheet_and_another_seed_another() {
    let of = |seed| {
        let sheet = Sheet::new(&settings(&Topic::ALL, 5, seed, None)).unwrap();
        document::markdown(&key(&sheet, &[]))
    };
    assert_eq!(of(1), of(1));
    assert_ne!(of(1), of(2));
}

/// The golden files hold for every machine.
#[test]
fn a_small_sheet_is_as_expected() {
    let sheet = Sheet::new(&settings(&Topic::ALL, 5, 2026, None)).unwrap();
    for (document, name) in [(questions(&sheet, &[]), "sheet"), (key(&sheet, &[]), "key")] {
        let path =
            PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!("tests/golden/pages/{name}.md"));
        golden::compare(&document::markdown(&document), &path);
    }
}

#[test]
fn questions_do_not_tell_the_answer() {
    let sheet = Sheet::new(&settings(&Topic::ALL, 10, 5, None)).unwrap();
    let text = document::markdown(&questions(&sheet, &[]));
    for problem in &sheet.problems {
        assert!(!text.contains(&words::headline(&problem.diagnosis)));
        assert!(!text.contains(&words::reason(&problem.model, &problem.diagnosis)));
    }
    assert_eq!(text.matches("## Problem").count(), 10);
}

#[test]
fn a_sheet_out_of_range_is_refused() {
    for count in [0, MOST_PROBLEMS + 1] {
        let refused = Sheet::new(&settings(&Topic::ALL, count, 0, None));
        assert_eq!(refused.unwrap_err(), SheetError::Count(count));
    }
}

#[test]
fn the_command_writes_files_that_open() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("sheet");
    let path = out.to_str().unwrap();
    let sheet = ran(&[
        "sheet",
        "--about",
        "improper,determinate",
        "--count",
        "4",
        "--seed",
        "9",
        "--out",
        path,
    ]);
    assert_eq!(sheet.code, Some(0), "{}", sheet.err);
    for file in ["sheet.html", "sheet.pdf", "key.html", "key.pdf"] {
        assert!(out.join(file).is_file(), "{file}");
    }
    for (number, code) in [(1, 1), (2, 0), (3, 1), (4, 0)] {
        let scene = out.join(format!("scenes/problem-0{number}.ron"));
        let checked = ran(&["check", scene.to_str().unwrap(), "--require", "determinate"]);
        assert_eq!(checked.code, Some(code), "{}", checked.err);
    }
    let refused = ran(&["sheet", "--about", "mixed", "--count", "0", "--out", path]);
    assert_eq!(refused.code, Some(2));
    assert!(refused.err.contains("1 to 200"), "{}", refused.err);
}
