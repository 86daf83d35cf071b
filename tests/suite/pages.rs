//! Pages to file: expected Markdown, one self-contained HTML file, and what the command writes.

use std::path::PathBuf;

use crate::command_line::ran;
use crate::golden;

/// Held, not held, and held by too many.
const PAGES: [&str; 3] = ["roof-hatch", "handrail", "street-lamp"];

#[test]
fn pages_are_as_expected() {
    let folder = tempfile::tempdir().unwrap();
    for name in PAGES {
        let out = folder.path().join("page.md");
        let ran = ran(&["report", name, "--out", out.to_str().unwrap()]);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        assert!(ran.err.contains("written: "), "{}", ran.err);
        let path =
            PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!("tests/golden/pages/{name}.md"));
        golden::compare(
            &without_figures(&std::fs::read_to_string(&out).unwrap()),
            &path,
        );
    }
}

/// Drawings have tests of their own.
fn without_figures(text: &str) -> String {
    let lines = text.split_inclusive('\n');
    lines
        .map(|line| match line.split_once("data:image/svg+xml") {
            Some((before, _)) => format!("{before}…\n"),
            None => line.to_owned(),
        })
        .collect()
}

#[test]
fn an_html_page_fetches_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("page.html");
    let ran = ran(&["report", "sill-beam", "--out", out.to_str().unwrap()]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let text = std::fs::read_to_string(&out).unwrap();
    assert!(text.starts_with("<!DOCTYPE html>"));
    for fetched in ["src=", "@import", "<link", "<script"] {
        assert!(!text.contains(fetched), "{fetched}");
    }
    assert!(text.contains("N<sub>B</sub>") && text.contains("licensed engineer"));
}

#[test]
fn a_pdf_has_its_text_and_its_pages() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("page.pdf");
    let ran = ran(&["report", "handrail", "--out", out.to_str().unwrap()]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let bytes = std::fs::read(&out).unwrap();
    assert!(bytes.starts_with(b"%PDF-1."));
    let text = String::from_utf8_lossy(&bytes);
    let pages = text.matches("/Type/Page/").count();
    assert!((3..12).contains(&pages), "{pages}");
}

#[test]
fn one_case_alone_has_its_own_page() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("page.md");
    let path = out.to_str().unwrap();
    let ran = ran(&["report", "handrail", "--case", "own weight", "--out", path]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let text = std::fs::read_to_string(&out).unwrap();
    assert!(text.contains("under own weight") && !text.contains("visitor"));
}

#[test]
fn bad_use_is_one_clear_error() {
    let folder = tempfile::tempdir().unwrap();
    let missing = folder.path().join("missing/page.html");
    for (arguments, says) in [
        (
            ["report", "handrail", "--out", "page.doc"],
            "let the name end in",
        ),
        (["report", "no-such", "--out", "page.md"], "no-such"),
        (
            ["report", "handrail", "--out", missing.to_str().unwrap()],
            "there is no folder",
        ),
    ] {
        let ran = ran(&arguments);
        assert_eq!(ran.code, Some(2), "{}", ran.err);
        assert!(ran.err.contains(says), "{}", ran.err);
        assert!(ran.out.is_empty());
    }
}
