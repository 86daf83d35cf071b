//! Warnings on scenes that probably mean something else: none is raised on scenes that mean what they say, and each is
//! worded as it is shown. (Published examples are asserted to be read without any where they are read.)

use std::path::Path;

use sixhold::exercises::{ExerciseSheet, Level, SheetSettings, Topic};
use sixhold::scene::{builtin, read_file, read_str, to_ron};

use crate::golden;

#[test]
fn no_built_in_scene_is_warned_of() {
    for scene in builtin::all() {
        let loaded = read_str(scene.name, scene.text).unwrap();
        assert_eq!(loaded.warnings, [], "{}", scene.name);
    }
}

#[test]
fn no_exercise_is_warned_of() {
    const TOPICS: [Topic; 5] = [
        Topic::Improper,
        Topic::Partial,
        Topic::Redundant,
        Topic::Determinate,
        Topic::NearMiss,
    ];
    for level in [Level::Easy, Level::Middle, Level::Hard] {
        let sheet = ExerciseSheet::new(&SheetSettings {
            topics: TOPICS.to_vec(),
            count: 15,
            seed: 3,
            level: Some(level),
            choice: sixhold::exercises::ExerciseChoice::default(),
        });
        for problem in sheet.unwrap().problems {
            let text = to_ron(problem.study.scene());
            let loaded = read_str(&problem.study.scene().title, &text).unwrap();
            assert_eq!(
                loaded.warnings,
                [],
                "{}\n{text}",
                problem.study.scene().title
            );
        }
    }
}

#[test]
fn warnings_say_what_is_suspected_and_what_to_try() {
    let folder = Path::new("tests/golden/warnings");
    let entries = folder
        .read_dir()
        .unwrap()
        .map(|entry| entry.unwrap().path());
    let scenes: Vec<_> = entries
        .filter(|path| path.extension().is_some_and(|end| end == "ron"))
        .collect();
    assert!(scenes.len() >= 6, "only {} scenes found", scenes.len());
    for path in scenes {
        let loaded = read_file(&path).unwrap_or_else(|error| panic!("{error}"));
        let file = path.display().to_string();
        let words: String = loaded
            .warnings
            .iter()
            .map(|warning| format!("{}\n", warning.in_file(&file)))
            .collect();
        assert!(!words.is_empty(), "{file}");
        golden::compare(&words.replace('\\', "/"), &path.with_extension("txt"));
    }
}
