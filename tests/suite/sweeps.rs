//! `sixhold sweep`: whole, in shares by processes of their own, stopped, and told what makes no sense.

use std::fs;
use std::path::Path;
use std::process::{Child, Stdio};

use serde_json::Value;

use crate::command_line::{ran, sixhold};

const SCENE: &str = "camera-bracket";

fn options(more: &[&str]) -> Vec<String> {
    let all = [
        "sweep",
        SCENE,
        "--placement",
        "0.004",
        "--direction",
        "2",
        "--load",
        "10",
        "--count",
    ];
    all.iter()
        .chain(more)
        .map(|word| (*word).to_owned())
        .collect()
}

fn swept(more: &[&str]) -> crate::command_line::Ran {
    let words = options(more);
    ran(&words.iter().map(String::as_str).collect::<Vec<_>>())
}

fn path(folder: &Path, name: &str) -> String {
    folder.join(name).display().to_string()
}

/// As a scheduler does: every share is a process, all at the same time, and nobody waits for one to begin the next.
#[test]
fn shares_of_several_processes_join_to_the_whole() {
    let folder = tempfile::tempdir().unwrap();
    let file = |number: usize| path(folder.path(), &format!("share-{number}.json"));
    let started = |number: usize| -> Child {
        let (part, file) = (format!("{number}/4"), file(number));
        let words = options(&["30001", "--part", &part, "--share", &file]);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let quiet = || Stdio::null();
        sixhold(&words)
            .stdout(quiet())
            .stderr(quiet())
            .spawn()
            .unwrap()
    };
    for mut share in [1, 2, 3, 4].map(started) {
        assert!(share.wait().unwrap().success());
    }
    let files = [3, 1, 4, 2].map(file);
    let mut words = vec!["sweep", "--join", "--format", "json"];
    words.extend(files.iter().map(String::as_str));
    let (joined, whole) = (ran(&words), swept(&["30001", "--format", "json"]));
    assert_eq!(joined.code, Some(0), "{}", joined.err);
    let [mut joined, mut whole] =
        [joined, whole].map(|ran| serde_json::from_str::<Value>(&ran.out).unwrap());
    assert_eq!(whole["placements"], 30001);
    // The name of the file is not known where shares are joined.
    joined["source"].take();
    whole["source"].take();
    assert_eq!(joined, whole);
    let missing = ran(&["sweep", "--join", &files[0], &files[2]]);
    assert_eq!(missing.code, Some(2));
    assert!(
        missing.err.contains("2 of 4 shares are missing: 1, 2"),
        "{}",
        missing.err
    );
    fs::write(&files[1], "{\"sixhold_sweep\": 1,\n \"scene\"").unwrap();
    let broken = ran(&["sweep", "--join", &files[1], &files[0]]);
    assert_eq!(broken.code, Some(2));
    assert!(broken.err.contains("share-1.json:2:8: "), "{}", broken.err);
}

#[test]
fn the_worst_placement_is_a_scene_with_that_margin() {
    let folder = tempfile::tempdir().unwrap();
    let worst = path(folder.path(), "worst.ron");
    let found = swept(&["2000", "--worst", &worst, "--format", "json"]);
    assert_eq!(found.code, Some(0), "{}", found.err);
    let found: Value = serde_json::from_str(&found.out).unwrap();
    let checked: Value =
        serde_json::from_str(&ran(&["check", &worst, "--format", "json"]).out).unwrap();
    let written: Value =
        serde_json::from_str(&ran(&["check", SCENE, "--format", "json"]).out).unwrap();
    let margin = |report: &Value| {
        let smallest = report["singular_values"]
            .as_array()
            .unwrap()
            .last()
            .unwrap();
        smallest.as_f64().unwrap() * report["characteristic_length"].as_f64().unwrap()
    };
    let least = found["margin"]["least"]["value"].as_f64().unwrap();
    assert!(least < margin(&written));
    // The report of the scene has a reference point and a length of its own.
    assert!(
        (margin(&checked) / least - 1.0).abs() < 0.02,
        "{} {least}",
        margin(&checked)
    );
}

/// The table has what the report has, a row for the margin and for each reaction.
#[test]
fn tables_and_histograms_show_what_was_found() {
    let folder = tempfile::tempdir().unwrap();
    let (table, figure) = (
        path(folder.path(), "spread.csv"),
        path(folder.path(), "spread.svg"),
    );
    let found = swept(&[
        "3000", "--csv", &table, "--figure", &figure, "--format", "json",
    ]);
    assert_eq!(found.code, Some(0), "{}", found.err);
    let found: Value = serde_json::from_str(&found.out).unwrap();
    let text = fs::read_to_string(&table).unwrap();
    let mut rows = text.lines().map(|line| line.split(',').collect::<Vec<_>>());
    let head = rows.next().unwrap();
    let number = |row: &[&str], column: &str| -> f64 {
        let at = head.iter().position(|name| *name == column).unwrap();
        row[at].parse().unwrap()
    };
    let near = |found: f64, expected: &Value| {
        let expected = expected.as_f64().unwrap();
        assert!(
            (found - expected).abs() <= 1e-9 * expected.abs(),
            "{found} is not {expected}"
        );
    };
    near(
        number(&rows.next().unwrap(), "least"),
        &found["margin"]["least"]["value"],
    );
    let figure = fs::read_to_string(&figure).unwrap();
    let mut count = 0;
    for case in found["cases"].as_array().unwrap() {
        for reaction in case["reactions"].as_array().unwrap() {
            let row = rows.next().unwrap();
            assert_eq!(row.len(), head.len());
            assert_eq!(row[1], reaction["name"]);
            for column in ["as_written", "mean", "deviation"] {
                near(number(&row, column), &reaction[column]);
            }
            for (column, at) in [("q05", 0), ("q50", 1), ("q95", 2)] {
                near(number(&row, column), &reaction["quantiles"][at]);
            }
            near(number(&row, "greatest"), &reaction["greatest"]["value"]);
            count += 1;
        }
    }
    assert_eq!(rows.next(), None);
    assert_eq!(figure.matches("class=\"axis\"").count(), count + 1);
    let refused = swept(&["10", "--figure", &path(folder.path(), "spread.jpg")]);
    assert_eq!(refused.code, Some(2));
    assert!(
        refused.err.contains("figures are SVG, PDF or PNG files"),
        "{}",
        refused.err
    );
}

/// Every band of the key is a colour of its own, and contours bear their values.
#[test]
fn a_map_has_bands_contours_and_a_key() {
    let folder = tempfile::tempdir().unwrap();
    let figure = path(folder.path(), "map.svg");
    for added in ["anchor", "link"] {
        let drawn = ran(&["figure", SCENE, "--map", added, "--out", &figure]);
        assert_eq!(drawn.code, Some(0), "{}", drawn.err);
        let text = fs::read_to_string(&figure).unwrap();
        let samples: Vec<&str> = text
            .split('<')
            .filter(|item| item.contains("class=\"key\"") && item.starts_with("path"))
            .map(|item| {
                item.split("fill=\"")
                    .nth(1)
                    .unwrap()
                    .split('"')
                    .next()
                    .unwrap()
            })
            .collect();
        let colours: std::collections::BTreeSet<&&str> = samples.iter().collect();
        assert!(
            samples.len() > 2 && colours.len() == samples.len(),
            "{samples:?}"
        );
        assert!(text.matches("class=\"contour\"").count() > 20);
        assert!(text.matches("class=\"plate\"").count() >= samples.len() - 2);
    }
}

#[test]
fn what_makes_no_sense_is_refused_before_anything_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let share = path(folder.path(), "share.json");
    let cases: [(&[&str], &str); 9] = [
        (&["sweep", SCENE], "no tolerance is given"),
        (
            &["sweep", SCENE, "--placement", "0"],
            "give a number above 0",
        ),
        (
            &["sweep", SCENE, "--placement", "0,5"],
            "with a decimal point",
        ),
        (
            &["sweep", SCENE, "--load", "5", "--count", "0"],
            "a sweep has 1 to",
        ),
        (&["sweep", SCENE, "--stiffness", "100"], "less than 100 %"),
        (
            &["sweep", SCENE, "--direction", "90"],
            "less than a right angle",
        ),
        (
            &[
                "sweep", SCENE, "--load", "5", "--part", "5/4", "--share", &share,
            ],
            "from 1/N to N/N",
        ),
        (&["sweep", SCENE, "--load", "5", "--part", "1/4"], "--share"),
        (
            &["sweep", SCENE, "handrail", "--load", "5"],
            "a sweep is of one scene",
        ),
    ];
    for (words, said) in cases {
        let ran = ran(words);
        assert_eq!(ran.code, Some(2), "{words:?}");
        assert!(ran.err.contains(said), "{words:?}: {}", ran.err);
        assert_eq!(ran.out, "");
    }
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
}

/// Told to stop, it keeps what it has, as a share that says how far it came, and ends as whoever is told to stop.
#[cfg(unix)]
#[test]
fn a_sweep_that_is_stopped_keeps_what_it_has() {
    use std::io::Read;
    use std::os::unix::process::ExitStatusExt;
    use std::process::Command;
    use std::thread::sleep;
    use std::time::Duration;

    const SIGINT: i32 = 2;
    let folder = tempfile::tempdir().unwrap();
    let share = path(folder.path(), "share.json");
    let words = options(&["1000000000000", "--share", &share]);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let mut process = sixhold(&words);
    let piped = process.stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut running = piped.env("SIXHOLD_STEPS", "1").spawn().unwrap();
    // Once a block is done it has something to keep.
    let mut told = running.stderr.take().unwrap();
    let mut first = [0; 5];
    told.read_exact(&mut first).unwrap();
    assert_eq!(&first, b"step ");
    let reader = std::thread::spawn(move || {
        let mut rest = String::new();
        told.read_to_string(&mut rest).unwrap();
        rest
    });
    sleep(Duration::from_millis(50));
    let id = running.id().to_string();
    assert!(
        Command::new("kill")
            .args(["-s", "INT", &id])
            .status()
            .unwrap()
            .success()
    );
    let ended = running.wait_with_output().unwrap();
    let said = reader.join().unwrap();
    assert_eq!(ended.status.signal(), Some(SIGINT), "{said}");
    assert!(said.contains(" of 1000000000000 placements"), "{said}");
    assert!(String::from_utf8(ended.stdout).unwrap().contains("Margin"));
    let joined = ran(&["sweep", "--join", &share]);
    assert_eq!(joined.code, Some(2));
    assert!(joined.err.contains("was stopped after"), "{}", joined.err);
}
