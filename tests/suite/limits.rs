//! Scenes that are too much: refused with the limit, before they fill the memory or take minutes.

use std::fmt::Write;
use std::fs;

use sixhold::scene::{ReadError, read_str};

use crate::command_line::{Ran, ran};

fn bar(points: usize) -> String {
    let mut path = String::new();
    for i in 0..points {
        let _ = write!(path, "({i}, {}, 0), ", i % 2);
    }
    format!("BentBar(path: [{path}], diameter: 0.1)")
}

fn scene(body: &str) -> String {
    format!("(format: 1, body: [{body}])")
}

fn first(error: &ReadError) -> (&str, Option<&str>) {
    let first = &error.problems[0];
    (&first.message, first.expected.as_deref())
}

/// A bent bar of 10 000 points took half a minute and two gigabytes, and so did 10 000 bars.
#[test]
fn bodies_without_end_are_refused_with_the_limit() {
    assert!(read_str("x", &scene(&bar(2000))).is_ok());
    let long = read_str("x", &scene(&bar(2001))).unwrap_err();
    let told = (
        "the paths of the bars have 2001 points in all",
        Some("at most 2000 points"),
    );
    assert_eq!(first(&long), told);
    let several = scene(&format!("{}, {}", bar(1500), bar(501)));
    assert_eq!(first(&read_str("x", &several).unwrap_err()), told);
    let shafts = "Shaft(from: (0, 0, 0), to: (1, 0, 0), diameter: 0.1), ";
    assert!(read_str("x", &scene(&shafts.repeat(2000))).is_ok());
    let many = read_str("x", &scene(&shafts.repeat(2001))).unwrap_err();
    let told = ("the body has 2001 shapes", Some("at most 2000 shapes"));
    assert_eq!(first(&many), told);
}

/// Lines of a report were broken again for each letter of a name, and labels of a figure cut letter by letter.
#[test]
fn names_without_end_are_refused_with_the_limit() {
    let named = |letters: usize| {
        let name = "a".repeat(letters);
        let body = "body: [Block(centre: (0, 0, 0), size: (1, 1, 1))]";
        format!("(format: 1, {body}, supports: [BallJoint(name: \"{name}\", at: (0, 0, 0))])")
    };
    assert!(read_str("x", &named(200)).is_ok());
    let long = read_str("x", &named(201)).unwrap_err();
    let told = (
        "`name` of BallJoint has 201 letters",
        Some("at most 200 letters"),
    );
    assert_eq!(first(&long), told);
}

fn crowded(loads: usize) -> String {
    let mut list = String::new();
    for i in 0..loads {
        let _ = write!(
            list,
            "Force(at: ({}, 0, 0), force: (0, 0, -{})), ",
            i % 7,
            i + 1
        );
    }
    format!(
        "(format: 1, body: [Block(centre: (0, 0, 0), size: (16, 1, 1))],
          supports: [Fixed(name: \"A\", at: (-8, 0, 0))], loads: [{list}])"
    )
}

/// Drawings of more supports and loads than a page holds took minutes and came out empty. What has stages or moves is drawn over
/// and over, and shows fewer.
#[test]
fn a_figure_of_too_many_supports_and_loads_is_refused_and_a_report_says_that_it_has_none() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("crowded.ron");
    fs::write(&path, crowded(1000)).unwrap();
    let drawn = |command: &str, out: &str| -> Ran {
        let out = folder.path().join(out);
        ran(&[
            command,
            path.to_str().unwrap(),
            "--out",
            out.to_str().unwrap(),
        ])
    };
    let refused = |command: &str, out: &str, told: &str| {
        let refused = drawn(command, out);
        assert_eq!(refused.code, Some(2), "{command}");
        let told = format!("{told}\n    hint: ");
        assert!(refused.err.contains(&told), "{}", refused.err);
    };
    let told = "a figure shows at most 1000 supports and loads; this scene has 1001";
    refused("figure", "x.svg", told);
    let report = drawn("report", "x.html");
    assert_eq!(report.code, Some(0), "{}", report.err);
    assert!(
        report.err.contains("warning:") && report.err.contains("has no figure"),
        "{}",
        report.err
    );
    let page = fs::read_to_string(folder.path().join("x.html")).unwrap();
    assert!(!page.contains("<svg") && page.contains("<sub>A</sub><sub><var>y</var></sub>"));
    fs::write(&path, crowded(100)).unwrap();
    let told = "a film or deck shows at most 100 supports and loads; this scene has 101";
    refused("deck", "x.html", told);
    refused("animate", "x.gif", told);
    let figure = drawn("figure", "x.svg");
    assert_eq!(figure.code, Some(0), "{}", figure.err);
}

/// Letters that the font lacks came out as boxes without a word.
#[test]
fn letters_that_come_out_as_boxes_are_named() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("letters.ron");
    let text = crowded(1).replace("name: \"A\"", "name: \"\u{6881}\"");
    fs::write(&path, text).unwrap();
    for (out, warned) in [("x.pdf", true), ("x.png", true), ("x.svg", false)] {
        let out = folder.path().join(out);
        let figure = ran(&[
            "figure",
            path.to_str().unwrap(),
            "--out",
            out.to_str().unwrap(),
        ]);
        assert_eq!(figure.code, Some(0), "{}", figure.err);
        assert_eq!(
            figure
                .err
                .contains("no font on this machine has \u{6881}: boxes"),
            warned,
            "{}",
            figure.err
        );
    }
}
