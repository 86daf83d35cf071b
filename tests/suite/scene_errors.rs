//! The words of reading errors: each `tests/golden/errors/NAME.ron` beside what is said about it.

use std::path::{Path, PathBuf};

use sixhold::scene::read_file;

use crate::golden;

/// Broken scenes, in the order of their names.
fn broken_scenes() -> Vec<PathBuf> {
    let folder = Path::new("tests/golden/errors");
    let entries = folder
        .read_dir()
        .unwrap()
        .map(|entry| entry.unwrap().path());
    let mut scenes: Vec<_> = entries
        .filter(|path| path.extension().is_some_and(|end| end == "ron"))
        .collect();
    scenes.sort();
    scenes
}

#[test]
fn errors_say_what_is_wrong_where_and_what_to_do() {
    let scenes = broken_scenes();
    assert!(
        scenes.len() >= 10,
        "only {} broken scenes found",
        scenes.len()
    );
    for path in scenes {
        let error = read_file(&path).expect_err("a broken scene");
        let words = error.to_string().replace('\\', "/") + "\n";
        golden::compare(&words, &path.with_extension("txt"));
    }
}

#[test]
fn problems_stand_in_the_order_of_the_text() {
    for path in broken_scenes() {
        let problems = read_file(&path).unwrap_err().problems;
        assert!(
            problems.is_sorted_by_key(|problem| problem.position),
            "{}",
            path.display()
        );
    }
}
