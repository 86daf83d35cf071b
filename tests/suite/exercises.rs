//! Exercise sheets: each problem is what was asked for, none like another, the same ones for the same seed.

use std::collections::HashSet;
use std::path::PathBuf;

use sixhold::document::{self, Document, DocumentBlock};
use sixhold::exercises::{
    ExerciseSheet, Level, MOST_PROBLEMS, SheetError, SheetSettings, Topic, key, questions,
};
use sixhold::scene::{read_str, to_ron};
use sixhold::solution::Solution;
use sixhold::statics::{AppliedLoad, CaseIndex, ExactRank, Model, Placement, Sense, Verdict};
use sixhold::wording;

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
        Topic::Determinate | Topic::Reactions | Topic::NearMiss => held && unknowns == motions,
        _ => unreachable!("a topic that this test does not know"),
    };
    assert!(
        right,
        "{title}: {topic:?}, n = {unknowns}, r = {}",
        exact.rank
    );
}

/// A sentence on a group that leaves a member out gives a reason that does not hold.
#[test]
fn sentences_on_groups_name_every_member() {
    let mut met = 0;
    for seed in 0..6 {
        let sheet = ExerciseSheet::new(&settings(
            &[Topic::Redundant, Topic::Improper],
            20,
            seed,
            None,
        ));
        for problem in sheet.unwrap().problems {
            let model = problem.study.model();
            for (index, circuit) in problem.study.circuits().circuits.iter().enumerate() {
                let said = wording::circuit(&problem.study, index).to_string();
                for reaction in &circuit.reactions {
                    let name = &model.reactions[*reaction].name;
                    let mut words = said.split(|c: char| !(c.is_alphanumeric() || c == '_'));
                    assert!(words.any(|word| word == name), "{said} lacks {name}");
                    met += 1;
                }
            }
        }
    }
    assert!(met > 200, "{met}");
}

#[test]
fn problems_are_what_was_asked_for() {
    for seed in 0..12 {
        for level in LEVELS {
            let sheet = ExerciseSheet::new(&settings(&Topic::MIXED, 10, seed, level)).unwrap();
            for topic in Topic::MIXED {
                let about = sheet.problems.iter().filter(|p| p.topic == topic);
                assert_eq!(about.count(), 2, "{topic:?}");
            }
            for problem in &sheet.problems {
                let model = problem.study.model();
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
        let sheet = ExerciseSheet::new(&settings(&topics, 12, seed, None)).unwrap();
        for problem in &sheet.problems {
            let model = problem.study.model();
            let nearness = problem.study.nearness().expect("there are reactions");
            if let Some(movement) = &nearness.movement {
                assert!(movement.estimate > 0.1 * model.length, "{}", model.title);
            }
            assert_eq!(
                problem.study.diagnosis().verdict(),
                Verdict::ProperlyConstrained
            );
        }
    }
}

/// Held as written and no longer so with one support moved by a few centimetres at most: by exact rank, and measured anew.
#[test]
fn near_misses_are_held_and_near() {
    let mut spatial = 0;
    for seed in 0..4 {
        for level in LEVELS {
            let sheet = ExerciseSheet::new(&settings(&[Topic::NearMiss], 6, seed, level)).unwrap();
            for problem in &sheet.problems {
                let (model, near) = (problem.study.model(), problem.near.as_ref().unwrap());
                let motions = model.space.motions();
                let exact = ExactRank::of(model);
                check_verdict(
                    Topic::NearMiss,
                    model.reactions.len(),
                    &exact,
                    motions,
                    &model.title,
                );
                let exact = ExactRank::of(&Model::new(near.improper.scene()).unwrap());
                check_verdict(
                    Topic::Improper,
                    model.reactions.len(),
                    &exact,
                    motions,
                    &model.title,
                );

                let reaction = &model.reactions[near.miss.reaction];
                let power = reaction.wrench(&model.reference);
                let power = near.miss.turn.twist.power(&power).abs();
                assert!((power - near.miss.arm).abs() < 1e-9, "{}", model.title);
                for other in model
                    .reactions
                    .iter()
                    .filter(|other| other.name != reaction.name)
                {
                    let power = near.miss.turn.twist.power(&other.wrench(&model.reference));
                    assert!(power.abs() < 1e-9, "{}: {}", model.title, other.name);
                }
                let nearness = problem.study.nearness().unwrap();
                assert_eq!(nearness.placement, Some(Placement::NearImproper));
                let alone = nearness.alone[near.support]
                    .unwrap()
                    .estimate
                    .unwrap()
                    .norm();
                assert!(alone <= near.miss.distance * 1.000_001, "{}", model.title);
                assert!(nearness.movement.as_ref().unwrap().estimate <= alone * 1.000_001);
                spatial += usize::from(!problem.is_planar());
            }
        }
    }
    assert!(spatial > 20, "{spatial}");
}

#[test]
fn near_misses_differ_in_one_support_that_the_key_names() {
    let sheet = ExerciseSheet::new(&settings(&[Topic::NearMiss], 9, 2, None)).unwrap();
    let blocks = key(&sheet, &[]).blocks;
    let says = |wanted: &str| {
        let texts = blocks.iter().filter_map(|block| match block {
            DocumentBlock::Lead(_, text) | DocumentBlock::Paragraph(text) => Some(text),
            _ => None,
        });
        texts
            .filter(|text| text.to_string().starts_with(wanted))
            .count()
    };
    assert_eq!(says("Held, but within 0.05 m of improper constraint."), 9);
    for problem in &sheet.problems {
        let near = problem.near.as_ref().unwrap();
        let pairs = problem
            .study
            .scene()
            .supports
            .iter()
            .zip(&near.improper.scene().supports);
        let moved: Vec<usize> = pairs
            .enumerate()
            .filter(|(_, (one, other))| one != other)
            .map(|(index, _)| index)
            .collect();
        assert_eq!(moved, [near.support.get()]);
        let place = near.improper.model().supports[near.support].point;
        let distance = (place - problem.study.model().supports[near.support].point).norm();
        let told = format!(
            "If {} were {} away, at {},",
            problem.study.scene().supports[near.support.get()].name,
            wording::length(distance, &problem.study.model().units),
            wording::coordinates(problem.study.model(), &place)
        );
        assert!(says(&told) > 0, "{told}");
        let told = wording::miss(problem.study.model(), &near.miss).to_string();
        assert!(says(&told) > 0, "{told}");
    }
}

#[test]
fn near_misses_come_on_request_alone() {
    for seed in 0..4 {
        let sheet = ExerciseSheet::new(&settings(&Topic::MIXED, 20, seed, None)).unwrap();
        assert!(sheet.problems.iter().all(|problem| problem.near.is_none()));
        assert!(
            sheet
                .problems
                .iter()
                .all(|problem| problem.topic != Topic::NearMiss)
        );
    }
}

fn spread_loads(sheet: &ExerciseSheet) -> usize {
    let loads = sheet
        .problems
        .iter()
        .flat_map(|problem| &problem.study.model().cases[CaseIndex::FIRST].loads);
    loads
        .filter(|load| matches!(load, AppliedLoad::Distributed { .. }))
        .count()
}

/// Some problems have one, and the key tells its resultant each time.
#[test]
fn spread_loads_come_and_are_worked() {
    for (topics, least) in [(&[Topic::Reactions][..], 6), (&Topic::MIXED, 2)] {
        let sheet = ExerciseSheet::new(&settings(topics, 40, 6, None)).unwrap();
        let count = spread_loads(&sheet);
        assert!((least..=20).contains(&count), "{count}");
        let text = document::markdown(&key(&sheet, &[]));
        assert_eq!(text.matches("The distributed load ").count(), count);
        let text = document::markdown(&questions(&sheet, &[]));
        assert_eq!(text.matches("| distributed load |").count(), count);
    }
}

#[test]
fn reactions_to_compute_are_there_and_possible() {
    for seed in 0..6 {
        let sheet = ExerciseSheet::new(&settings(&[Topic::Reactions], 10, seed, None)).unwrap();
        for problem in &sheet.problems {
            let case = &problem.study.diagnosis().cases[CaseIndex::FIRST];
            assert!(case.is_determinate());
            for (reaction, value) in problem.study.model().reactions.iter().zip(&case.values) {
                let value = value.unwrap();
                assert!(
                    reaction.sense == Sense::Both || value > 0.0,
                    "{}",
                    reaction.name
                );
            }
            let working = Solution::of(
                problem.study.model(),
                problem.study.diagnosis(),
                CaseIndex::FIRST,
            )
            .unwrap();
            assert!(working.check.is_some(), "{}", problem.study.model().title);
        }
    }
}

#[test]
fn bodies_that_are_not_held_are_set_in_motion() {
    let sheet =
        ExerciseSheet::new(&settings(&[Topic::Improper, Topic::Partial], 30, 7, None)).unwrap();
    for problem in &sheet.problems {
        assert!(!problem.study.diagnosis().cases[CaseIndex::FIRST].is_balanced());
    }
}

#[test]
fn no_two_problems_are_alike() {
    let sheet = ExerciseSheet::new(&settings(&Topic::MIXED, 100, 3, None)).unwrap();
    let signatures: HashSet<_> = sheet.problems.iter().map(|p| &p.signature).collect();
    assert_eq!(signatures.len(), 100);
    let scenes: HashSet<String> = sheet
        .problems
        .iter()
        .map(|p| to_ron(p.study.scene()))
        .collect();
    assert_eq!(scenes.len(), 100);
    assert!(
        sheet
            .problems
            .iter()
            .any(sixhold::exercises::Exercise::is_planar)
    );
    assert!(
        !sheet
            .problems
            .iter()
            .all(sixhold::exercises::Exercise::is_planar)
    );
}

/// Else the number of a problem would tell its answer to who has seen another sheet.
#[test]
fn topics_come_in_another_order_on_another_sheet() {
    let order = |seed: u64| -> Vec<Topic> {
        let sheet = ExerciseSheet::new(&settings(&Topic::MIXED, 10, seed, None)).unwrap();
        sheet.problems.iter().map(|problem| problem.topic).collect()
    };
    for index in 0..10 {
        let topics: Vec<Topic> = (0..12).map(|seed| order(seed)[index]).collect();
        assert!(topics.iter().any(|topic| *topic != topics[0]), "{index}");
    }
}

/// Twenty kinds exist; sixteen sheets have them all.
#[test]
fn every_kind_of_support_comes() {
    let mut kinds = HashSet::new();
    for seed in 40..56 {
        let sheet = ExerciseSheet::new(&settings(&Topic::MIXED, 50, seed, None)).unwrap();
        let supports = sheet
            .problems
            .iter()
            .flat_map(|p| &p.study.scene().supports);
        kinds.extend(supports.map(|support| wording::support_kind(&support.kind)));
    }
    assert_eq!(kinds.len(), 20, "{kinds:?}");
}

#[test]
fn scenes_are_read_back_without_a_warning() {
    for seed in 30..34 {
        let topics: Vec<Topic> = Topic::MIXED.into_iter().chain([Topic::NearMiss]).collect();
        for problem in ExerciseSheet::new(&settings(&topics, 24, seed, None))
            .unwrap()
            .problems
        {
            let loaded = read_str("problem", &to_ron(problem.study.scene())).unwrap();
            assert_eq!(loaded.scene, *problem.study.scene());
            assert!(
                loaded.warnings.is_empty(),
                "{}: {:?}",
                problem.study.scene().title,
                loaded.warnings
            );
        }
    }
}

#[test]
fn a_seed_gives_the_same_sheet_and_another_seed_another() {
    let of = |seed| {
        let sheet = ExerciseSheet::new(&settings(&Topic::MIXED, 5, seed, None)).unwrap();
        document::markdown(&key(&sheet, &[]))
    };
    assert_eq!(of(1), of(1));
    assert_ne!(of(1), of(2));
}

/// The golden files hold for every machine.
#[test]
fn small_sheets_are_as_expected() {
    for (topics, count, prefix) in [(&Topic::MIXED[..], 5, ""), (&[Topic::NearMiss], 3, "near-")] {
        let sheet = ExerciseSheet::new(&settings(topics, count, 2026, None)).unwrap();
        for (document, name) in [(questions(&sheet, &[]), "sheet"), (key(&sheet, &[]), "key")] {
            let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
                .join(format!("tests/golden/pages/{prefix}{name}.md"));
            golden::compare(&document::markdown(&document), &path);
        }
    }
}

#[test]
fn questions_do_not_tell_the_answer() {
    let sheet = ExerciseSheet::new(&settings(&Topic::MIXED, 10, 5, None)).unwrap();
    let text = document::markdown(&questions(&sheet, &[]));
    for problem in &sheet.problems {
        let (model, diagnosis) = (problem.study.model(), problem.study.diagnosis());
        let headline = wording::headline(model, diagnosis, problem.study.uncarried());
        assert!(!text.contains(&headline.to_string()));
        let reason = wording::reason(model, diagnosis);
        let said = Document {
            blocks: vec![DocumentBlock::Paragraph(reason)],
            ..Document::default()
        };
        let said = document::markdown(&said);
        let reason = said.trim_start_matches("# ").trim();
        assert!(!reason.is_empty() && !text.contains(reason));
    }
    assert_eq!(text.matches("## Problem").count(), 10);
}

#[test]
fn a_sheet_out_of_range_is_refused() {
    for count in [0, MOST_PROBLEMS + 1] {
        let refused = ExerciseSheet::new(&settings(&Topic::MIXED, count, 0, None));
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
        "improper,determinate,near-miss",
        "--count",
        "6",
        "--seed",
        "9",
        "--out",
        path,
    ]);
    assert_eq!(sheet.code, Some(0), "{}", sheet.err);
    for file in ["sheet.html", "sheet.pdf", "key.html", "key.pdf"] {
        assert!(out.join(file).is_file(), "{file}");
    }
    let mut codes: Vec<Option<i32>> = (1..=6)
        .map(|number| {
            let scene = out.join(format!("scenes/problem-0{number}.ron"));
            ran(&["check", scene.to_str().unwrap(), "--require", "determinate"]).code
        })
        .collect();
    codes.sort_unstable();
    // Two of each: improper, determinate, and determinate but only just.
    assert_eq!(codes, [0, 0, 0, 0, 1, 1].map(Some));
    let shorter = ran(&[
        "sheet", "--about", "partial", "--count", "2", "--out", path, "--force",
    ]);
    assert!(
        shorter.err.contains("4 scenes of a longer sheet"),
        "{}",
        shorter.err
    );
    let refused = ran(&["sheet", "--about", "mixed", "--count", "0", "--out", path]);
    assert_eq!(refused.code, Some(2));
    assert!(refused.err.contains("1 to 200"), "{}", refused.err);
}
