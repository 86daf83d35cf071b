//! Names in letters that the embedded font lacks, drawn with fonts of the machine: here those of a folder made for the test.

use std::fs;
use std::path::Path;

use crate::command_line::{Ran, ran_with_fonts};
use crate::pages::poppler;

#[path = "../../src/fonts/relabelled.rs"]
mod relabelled;

/// "beam" in Chinese, and Arabic letters beh, teh and reh.
const BEAM: char = '\u{6881}';
const BEH: char = '\u{628}';
const TEH: char = '\u{62a}';
const REH: char = '\u{631}';

fn embedded(weight: &str) -> Vec<u8> {
    let assets = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/fonts");
    fs::read(assets.join(format!("IBMPlexSans-{weight}.ttf"))).unwrap()
}

/// A folder of fonts in which the foreign letters look like Latin ones.
fn fonts() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let letters = [(BEAM, 'B'), (BEH, 'E'), (TEH, 'T'), (REH, 'R'), (' ', ' ')];
    for weight in ["Medium", "Bold"] {
        let font = relabelled::relabelled(&embedded(weight), &letters);
        fs::write(folder.path().join(weight).with_extension("ttf"), font).unwrap();
    }
    folder
}

/// A file of a scene with a support of a name.
fn drawn(command: &str, name: &str, form: &str, fonts: &Path, folder: &Path) -> (Ran, Vec<u8>) {
    let scene = folder.join("scene.ron");
    let text = format!(
        "(format: 1, title: \"{name}\", body: [Block(centre: (0, 0, 0), size: (2, 1, 1))],
          supports: [Fixed(name: \"{name}\", at: (-1, 0, 0))], loads: [Weight(mass: 2)])"
    );
    fs::write(&scene, text).unwrap();
    let out = folder.join("out").with_extension(form);
    let arguments = [
        command,
        scene.to_str().unwrap(),
        "--out",
        out.to_str().unwrap(),
    ];
    let ran = ran_with_fonts(fonts, &arguments);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let file = fs::read(out).unwrap();
    (ran, file)
}

#[test]
fn a_font_of_the_machine_draws_what_the_embedded_one_lacks() {
    let (fonts, folder) = (fonts(), tempfile::tempdir().unwrap());
    let draw = |name: &str, form: &str| drawn("figure", name, form, fonts.path(), folder.path());
    let (foreign, image) = draw("\u{6881}", "png");
    assert!(!foreign.err.contains("warning"), "{}", foreign.err);
    assert!(image == draw("B", "png").1, "the letters look the same");
    assert!(image != draw("E", "png").1);
    let text = String::from_utf8(draw("\u{6881}", "svg").1).unwrap();
    assert!(text.contains('\u{6881}') && text.contains("sans-serif"));
}

#[test]
fn letters_of_no_font_are_still_boxes() {
    let (none, folder) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let (ran, _) = drawn("figure", "\u{6881}", "png", none.path(), folder.path());
    assert!(
        ran.err
            .contains("no font on this machine has \u{6881}: boxes"),
        "{}",
        ran.err
    );
}

#[test]
fn a_pdf_says_foreign_names_as_they_are_written() {
    let (fonts, folder) = (fonts(), tempfile::tempdir().unwrap());
    let beam = format!("{BEAM}{BEAM} A");
    let leftwards: String = [BEH, TEH, ' ', REH].into_iter().collect();
    for name in [&beam, &leftwards] {
        drawn("report", name, "pdf", fonts.path(), folder.path());
        let page = folder.path().join("out.pdf");
        let page = page.to_str().unwrap();
        // In the order of the file; the reader marks pieces that run leftwards.
        let Some(text) = poppler("pdftotext", &["-raw", page, "-"]) else {
            return;
        };
        let text = text.replace(['\u{202a}', '\u{202b}', '\u{202c}'], "");
        assert_eq!(text.lines().next(), Some(name.as_str()), "{text}");
        // Plex in both weights and the two files of the folder, all of them inside.
        let listed = poppler("pdffonts", &[page]).unwrap();
        assert_eq!(listed.lines().skip(2).count(), 4, "{listed}");
    }
}
