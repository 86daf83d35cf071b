//! Exercise sheets: each problem is what was asked for, none like another, the same ones for the same seed.

use std::collections::HashSet;
use std::path::PathBuf;

use sixhold::document::{self, Document, DocumentBlock};
use sixhold::exercises::{
    ExerciseChoice, ExerciseSheet, Level, MOST_PROBLEMS, Masthead, SheetError, SheetSettings,
    Topic, answers, key, questions,
};
use sixhold::scene::units::LengthUnit;
use sixhold::scene::{Place, Shape, Space, SupportKind, read_str, to_ron};
use sixhold::solution::Solution;
use sixhold::statics::{AppliedLoad, CaseIndex, ExactRank, Model, Placement, Sense, Verdict};
use sixhold::wording;

use crate::command_line::ran;
use crate::golden;

pub(super) fn settings(
    topics: &[Topic],
    count: usize,
    seed: u64,
    level: Option<Level>,
) -> SheetSettings {
    SheetSettings {
        topics: topics.to_vec(),
        count,
        seed,
        level,
        choice: ExerciseChoice::default(),
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
    assert_eq!(
        says("The supports are within 0.05 m of improper constraint."),
        9
    );
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
    for file in [
        "sheet.html",
        "sheet.pdf",
        "answers.html",
        "answers.pdf",
        "key.html",
        "key.pdf",
        "moodle.xml",
        "qti.zip",
    ] {
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

/// A student who has done one sheet finds nothing of it on another one.
#[test]
fn equal_seeds_share_no_problem_between_topics() {
    let topics = Topic::MIXED.into_iter().chain([Topic::NearMiss]);
    let mut sheets: Vec<Vec<Topic>> = topics.map(|topic| vec![topic]).collect();
    sheets.push(Topic::MIXED.to_vec());
    for seed in 0..6 {
        for level in [Some(Level::Easy), Some(Level::Middle), None] {
            let mut seen = HashSet::new();
            for topics in &sheets {
                let sheet = ExerciseSheet::new(&settings(topics, 8, seed, level)).unwrap();
                for problem in sheet.problems {
                    assert!(
                        seen.insert(problem.signature),
                        "{topics:?} {seed} {level:?}"
                    );
                }
            }
        }
    }
}

/// Where a support stands and the line along which it acts, of links and cables.
fn lines(problem: &sixhold::exercises::Exercise) -> Vec<([f64; 3], [f64; 3])> {
    let scene = problem.study.scene();
    let position = |place: &Place| scene.position(place).unwrap();
    let supports = scene.supports.iter();
    supports
        .filter_map(|support| match &support.kind {
            SupportKind::Link { ground } | SupportKind::Cable { ground } => {
                Some((position(&support.at), position(ground)))
            }
            _ => None,
        })
        .collect()
}

fn is_on_line(point: [f64; 3], (from, to): ([f64; 3], [f64; 3])) -> bool {
    let way: [f64; 3] = std::array::from_fn(|i| to[i] - from[i]);
    let off: [f64; 3] = std::array::from_fn(|i| point[i] - from[i]);
    let cross = |i: usize, j: usize| way[i] * off[j] - way[j] * off[i];
    [cross(0, 1), cross(1, 2), cross(2, 0)]
        .iter()
        .all(|part| part.abs() < 1e-9)
}

#[test]
fn a_thousand_exercises_could_be_built() {
    let mut count = 0;
    for seed in 100..120 {
        let sheet = ExerciseSheet::new(&settings(&Topic::MIXED, 50, seed, None)).unwrap();
        for problem in &sheet.problems {
            count += 1;
            let scene = problem.study.scene();
            let title = &scene.title;
            let lines = lines(problem);
            for (index, one) in lines.iter().enumerate() {
                for other in &lines[..index] {
                    let same = is_on_line(one.0, *other) && is_on_line(one.1, *other);
                    assert!(!same, "{title}: two links on one line");
                }
            }
            let is_spatial = scene.space == Space::Spatial;
            let has = |shape: fn(&Shape) -> bool| is_spatial && scene.body.iter().any(shape);
            let is_case = has(|shape| matches!(shape, Shape::Block(_)));
            let is_plate = has(|shape| matches!(shape, Shape::Plate(_)));
            let held = |kind: fn(&SupportKind) -> bool| {
                scene.supports.iter().any(|support| kind(&support.kind))
            };
            let on_shaft = held(|kind| {
                matches!(
                    kind,
                    SupportKind::JournalBearing { .. }
                        | SupportKind::ThrustBearing { .. }
                        | SupportKind::SquareJournal { .. }
                )
            });
            let on_rod = held(|kind| {
                matches!(
                    kind,
                    SupportKind::Slider { .. } | SupportKind::Collar { .. }
                )
            });
            assert!(!(is_case && on_rod), "{title}: a box on a rod");
            assert!(
                !((is_case || is_plate) && on_shaft),
                "{title}: a bearing without a shaft"
            );
        }
    }
    assert_eq!(count, 1000);
}

/// The same arrangement with other numbers, and as true.
#[test]
fn variants_are_alike_and_not_the_same() {
    let topics: Vec<Topic> = Topic::MIXED.into_iter().chain([Topic::NearMiss]).collect();
    for seed in 0..3 {
        let settings = settings(&topics, 18, seed, None);
        let sheet = ExerciseSheet::new(&settings).unwrap();
        let other = sheet.varied(&settings).unwrap();
        assert_eq!(other.problems.len(), 18);
        for (one, other) in sheet.problems.iter().zip(&other.problems) {
            assert_eq!(one.signature, other.signature);
            assert_ne!(one.study.scene(), other.study.scene());
            let counts = |problem: &sixhold::exercises::Exercise| problem.study.diagnosis().counts;
            assert_eq!(counts(one), counts(other));
            let model = other.study.model();
            let exact = ExactRank::of(model);
            let motions = model.space.motions();
            check_verdict(
                other.topic,
                model.reactions.len(),
                &exact,
                motions,
                &model.title,
            );
            let loaded = read_str("problem", &to_ron(other.study.scene())).unwrap();
            assert!(loaded.warnings.is_empty(), "{:?}", loaded.warnings);
        }
    }
}

#[test]
fn sheets_say_what_they_are() {
    let mut sheet = ExerciseSheet::new(&settings(&[Topic::Reactions], 3, 1, None)).unwrap();
    sheet.masthead = Masthead {
        course: "Mechanics 1".into(),
        marks: Some(4),
        variant: Some('B'),
        per_page: 2,
    };
    let text = document::markdown(&questions(&sheet, &[]));
    assert!(
        text.starts_with("# Support reactions, variant B\n"),
        "{text}"
    );
    assert!(
        text.contains("Mechanics 1 \u{b7} 3 problems \u{b7} 12 marks"),
        "{text}"
    );
    assert!(text.contains("Marks (of 12)") && text.contains("## Problem 2 (4 marks): "));
    let on_new_sheets = |document: &Document| {
        let blocks = document.blocks.iter();
        blocks
            .filter(|block| **block == DocumentBlock::NewSheet)
            .count()
    };
    assert_eq!(on_new_sheets(&questions(&sheet, &[])), 1);
    assert_eq!(on_new_sheets(&key(&sheet, &[])), 2);
    let brief = document::markdown(&answers(&sheet));
    for problem in &sheet.problems {
        let case = &problem.study.diagnosis().cases[CaseIndex::FIRST];
        for (reaction, value) in problem.study.model().reactions.iter().zip(&case.values) {
            let value = wording::acting(problem.study.model(), reaction, value.unwrap());
            assert!(brief.contains(&value.to_string()), "{value} of {brief}");
        }
    }
}

#[test]
fn hints_are_for_screens_alone() {
    let sheet = ExerciseSheet::new(&settings(&Topic::MIXED, 5, 4, None)).unwrap();
    let questions = questions(&sheet, &[]);
    let html = document::html(&questions);
    assert!(html.matches("<details>").count() >= 10, "{html}");
    assert!(html.contains("<summary>Hint 1</summary>"));
    assert!(!document::markdown(&questions).contains("Hint 1"));
}

#[test]
fn problems_are_chosen_by_space_unknowns_and_supports() {
    let choice = ExerciseChoice {
        space: Some(Space::Planar),
        unknowns: Some(3),
        supports: vec!["Pin", "Roller", "Link"],
        is_us: true,
    };
    let sheet = ExerciseSheet::new(&SheetSettings {
        choice,
        ..settings(&[Topic::Determinate, Topic::Improper], 8, 2, None)
    });
    for problem in sheet.unwrap().problems {
        let (scene, model) = (problem.study.scene(), problem.study.model());
        assert_eq!((scene.space, model.reactions.len()), (Space::Planar, 3));
        assert_eq!(scene.units.length, LengthUnit::Foot);
        for support in &scene.supports {
            let allowed = matches!(
                support.kind,
                SupportKind::Pin | SupportKind::Roller { .. } | SupportKind::Link { .. }
            );
            assert!(allowed, "{:?}", support.kind);
            let at = scene.position(&support.at).unwrap();
            assert!(at.iter().all(|x| (x * 8.0).fract() == 0.0), "{at:?}");
        }
        let loaded = read_str("problem", &to_ron(scene)).unwrap();
        assert_eq!((loaded.scene == *scene, loaded.warnings.len()), (true, 0));
    }
    let near = ExerciseSheet::new(&SheetSettings {
        choice: ExerciseChoice {
            is_us: true,
            ..ExerciseChoice::default()
        },
        ..settings(&[Topic::NearMiss], 2, 2, None)
    });
    assert_eq!(near.unwrap_err(), SheetError::NearInFeet);
}

/// Compiled where a LaTeX is installed; else that is said and only the structure checked.
#[test]
#[expect(clippy::print_stderr, reason = "a test that is skipped says why")]
fn latex_sources_compile_where_there_is_a_compiler() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("sheet");
    let made = ran(&[
        "sheet",
        "--about",
        "mixed,near-miss",
        "--count",
        "7",
        "--latex",
        "--out",
        out.to_str().unwrap(),
    ]);
    assert_eq!(made.code, Some(0), "{}", made.err);
    for name in ["sheet", "answers", "key"] {
        let source = std::fs::read_to_string(out.join(format!("latex/{name}.tex"))).unwrap();
        let figures: Vec<&str> = source
            .split("\\includegraphics")
            .skip(1)
            .map(|part| part.split(['{', '}']).nth(1).unwrap())
            .collect();
        assert_eq!(figures.is_empty(), name == "answers");
        for figure in figures {
            assert!(out.join("latex").join(figure).is_file(), "{figure}");
        }
        let opened = source.matches('{').count() - source.matches("\\{").count();
        let closed = source.matches('}').count() - source.matches("\\}").count();
        assert_eq!(opened, closed);
        let compiled = std::process::Command::new("pdflatex")
            .args(["-interaction=nonstopmode", "-halt-on-error", name])
            .current_dir(out.join("latex"))
            .output();
        match compiled {
            Ok(run) => assert!(
                run.status.success(),
                "{}",
                String::from_utf8_lossy(&run.stdout)
            ),
            Err(error) => eprintln!("skipped: {name}.tex was not compiled, no pdflatex: {error}"),
        }
    }
}

/// Compiled where Python has the package `typst`, which CI names in `SIXHOLD_PYTHON`; else that is said.
#[test]
#[expect(clippy::print_stderr, reason = "a test that is skipped says why")]
fn typst_sources_compile_where_there_is_a_compiler() {
    const COMPILE: &str = "import sys, typst; typst.compile(sys.argv[1], output=sys.argv[2])";
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("sheet");
    let made = ran(&[
        "sheet",
        "--about",
        "mixed,near-miss",
        "--count",
        "7",
        "--typst",
        "--paper",
        "letter",
        "--out",
        out.to_str().unwrap(),
    ]);
    assert_eq!(made.code, Some(0), "{}", made.err);
    let named = std::env::var("SIXHOLD_PYTHON");
    let python = named.as_deref().unwrap_or("python3");
    let has_compiler = std::process::Command::new(python)
        .args(["-c", "import typst"])
        .output()
        .is_ok_and(|run| run.status.success());
    assert!(has_compiler || named.is_err(), "{python} has no typst");
    for name in ["sheet", "answers", "key"] {
        let source = out.join(format!("typst/{name}.typ"));
        let text = std::fs::read_to_string(&source).unwrap();
        let figures = text.split("#image(\"").skip(1);
        for figure in figures.map(|part| part.split('"').next().unwrap()) {
            assert!(out.join("typst").join(figure).is_file(), "{figure}");
        }
        if !has_compiler {
            eprintln!("skipped: {name}.typ was not compiled, {python} has no package typst");
            continue;
        }
        let compiled = source.with_extension("pdf");
        let run = std::process::Command::new(python)
            .args(["-c", COMPILE])
            .args([&source, &compiled])
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&run.stderr);
        assert!(run.status.success() && compiled.is_file(), "{said}");
    }
}
