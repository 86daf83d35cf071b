//! Reports for a file: where they come from, what their author says of them, and the files that they consist of.

use std::fs;
use std::path::Path;
use std::process::Command;
use std::thread;

use crate::command_line::{Ran, ran};

fn report(out: &Path, more: &[&str]) -> Ran {
    let mut args = vec!["report", "roof-hatch", "--out", out.to_str().unwrap()];
    args.extend(more);
    ran(&args)
}

#[test]
fn a_figure_is_beside_a_report_in_markdown() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("my hatch (1).md");
    let ran = report(&out, &[]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let text = fs::read_to_string(&out).unwrap();
    assert!(text.contains("[figure 1]: <my hatch (1)-figure-1.svg>"));
    assert!(!text.contains("base64"));
    let figure = fs::read_to_string(folder.path().join("my hatch (1)-figure-1.svg")).unwrap();
    assert!(figure.starts_with("<svg"));
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);
}

/// Beside a pipe there is no place for a file.
#[cfg(unix)]
#[test]
fn a_report_through_a_pipe_has_its_figure_inside() {
    let folder = tempfile::tempdir().unwrap();
    let fifo = folder.path().join("pipe.md");
    assert!(
        Command::new("mkfifo")
            .arg(&fifo)
            .status()
            .unwrap()
            .success()
    );
    let path = fifo.clone();
    let reader = thread::spawn(move || fs::read_to_string(path).unwrap());
    let ran = report(&fifo, &[]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(
        reader
            .join()
            .unwrap()
            .contains("data:image/svg+xml;base64,")
    );
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn a_report_says_who_made_it_when_and_from_what() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("hatch.md");
    let given = [
        "--author",
        "Example & Partners",
        "--revision",
        "B",
        "--date",
        "2026-11-30",
    ];
    assert_eq!(report(&out, &given).code, Some(0));
    let text = fs::read_to_string(&out).unwrap();
    for said in [
        "*Revision B, 2026-11-30, Example & Partners*",
        concat!("| Program | Sixhold ", env!("CARGO_PKG_VERSION"), " |"),
        "| Scene | roof-hatch |",
        "| Scene file | BLAKE3 ",
    ] {
        assert!(text.contains(said), "{said}\n{text}");
    }
}

/// Without a date equal scenes give equal reports, whenever they are written.
#[test]
fn a_report_has_no_date_that_nobody_gave() {
    let folder = tempfile::tempdir().unwrap();
    let [one, other] = ["one.pdf", "other.pdf"].map(|name| folder.path().join(name));
    assert_eq!(report(&one, &[]).code, Some(0));
    assert_eq!(report(&other, &[]).code, Some(0));
    assert_eq!(fs::read(one).unwrap(), fs::read(other).unwrap());
}

#[test]
fn an_author_is_one_line_of_text() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("hatch.md");
    for author in ["", "  ", "two\nlines"] {
        let ran = report(&out, &["--author", author]);
        assert_eq!(ran.code, Some(2), "{author:?}");
        assert!(ran.err.contains("one line of text"), "{}", ran.err);
    }
    assert!(!out.exists());
}
