//! Pages to file: expected Markdown, one self-contained HTML file, and what the command writes.

use std::path::{Path, PathBuf};
use std::process::Command;

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
    assert!(text.contains("<var>N</var><sub>B</sub>") && text.contains("licensed engineer"));
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

/// What a program of poppler-utils says; `None` where it is missing and need not be there.
#[expect(
    clippy::print_stderr,
    reason = "a test that does nothing should say so"
)]
pub(crate) fn poppler(program: &str, arguments: &[&str]) -> Option<String> {
    let output = Command::new(program).args(arguments).output();
    match output {
        Ok(output) => Some(String::from_utf8(output.stdout).unwrap()),
        Err(error) => {
            let is_needed = std::env::var_os("SIXHOLD_NEED_ADAPTER").is_some();
            assert!(!is_needed, "{program} of poppler-utils: {error}");
            eprintln!("skipped: {program} of poppler-utils is missing");
            None
        }
    }
}

fn report_as_pdf(scene: &str, folder: &Path) -> PathBuf {
    let out = folder.join("page.pdf");
    let ran = ran(&["report", scene, "--out", out.to_str().unwrap()]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    out
}

/// Read back with a library that is not the one that wrote it: the tags of ISO 32000-1, 14.8.4.
#[test]
fn a_pdf_is_tagged() {
    let folder = tempfile::tempdir().unwrap();
    let page = report_as_pdf("street-lamp", folder.path());
    let Some(tags) = poppler("pdfinfo", &["-struct-text", page.to_str().unwrap()]) else {
        return;
    };
    // Elements by their depth, two spaces each, and the texts in them.
    let lines: Vec<&str> = tags.lines().collect();
    let has = |wanted: &[&str]| {
        let found = lines.windows(wanted.len()).any(|part| part == wanted);
        assert!(found, "{wanted:?} in\n{tags}");
    };
    assert_eq!(lines[0], "Document");
    has(&[
        "  H1 \"Path lamp with a backstay\" (block)",
        "    \"Path lamp with a backstay\"",
    ]);
    has(&["  H2 \"Supports\" (block)", "    \"Supports\""]);
    has(&["  Table (block)", "    THead", "      TR", "        TH:"]);
    has(&["    TBody", "      TR", "        TD", "          \"A\""]);
    has(&["    Caption", "      \"Path lamp with a backstay\""]);
    for element in ["    Figure", "    Formula", "    LI (block)", "  P (block)"] {
        has(&[element]);
    }
    // A line that goes on ends in a space, so that words are read apart.
    let long: Vec<&&str> = lines.iter().filter(|line| line.len() > 95).collect();
    assert!(!long.is_empty());
    for pair in lines.windows(2) {
        let both_texts = pair.iter().all(|line| line.trim().starts_with('"'));
        assert!(
            !both_texts || pair[0].len() < 90 || pair[0].ends_with(" \""),
            "{pair:?}"
        );
    }
    let bytes = std::fs::read(&page).unwrap();
    let text = String::from_utf8_lossy(&bytes);
    for said in [
        "/Lang(en)",
        "/DisplayDocTitle true",
        "<pdfuaid:part>1</pdfuaid:part>",
        "/S/Figure",
        "/Alt(Path lamp with a backstay)",
    ] {
        assert!(text.contains(said), "{said}");
    }
}

#[test]
fn a_pdf_has_an_outline() {
    let folder = tempfile::tempdir().unwrap();
    let page = report_as_pdf("street-lamp", folder.path());
    let Some(xml) = poppler(
        "pdftohtml",
        &["-xml", "-i", "-stdout", page.to_str().unwrap()],
    ) else {
        return;
    };
    let (_, outline) = xml.split_once("<outline>").expect("an outline");
    for said in [
        "Path lamp with a backstay</item>",
        "page=\"1\">Supports</item>",
    ] {
        assert!(outline.contains(said), "{outline}");
    }
}

/// Letters that the font lacks were copied as others that it lacks, and spaces as other spaces.
#[test]
fn every_letter_of_a_pdf_can_be_copied() {
    let folder = tempfile::tempdir().unwrap();
    let scene = folder.path().join("letters.ron");
    let text = include_str!("../../scenes/sill-beam.ron");
    let start = text.find("title: \"").unwrap() + "title: \"".len();
    let end = start + text[start..].find('"').unwrap();
    let title = "\u{6881} Tr\u{e4}ger A\u{e0} \u{2212}3 \u{4e00}\u{4e8c}";
    std::fs::write(&scene, format!("{}{title}{}", &text[..start], &text[end..])).unwrap();
    let page = report_as_pdf(scene.to_str().unwrap(), folder.path());
    let Some(copied) = poppler("pdftotext", &[page.to_str().unwrap(), "-"]) else {
        return;
    };
    assert_eq!(copied.lines().next(), Some(title));
}

#[test]
fn one_case_alone_has_its_own_page() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("page.md");
    let path = out.to_str().unwrap();
    let ran = ran(&["report", "handrail", "--case", "own weight", "--out", path]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let text = std::fs::read_to_string(&out).unwrap();
    assert!(text.contains("load case “own weight”") && !text.contains("visitor"));
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
