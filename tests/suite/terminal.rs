//! What reaches the terminal: no title, name or file name may steer it.

use std::fs;
use std::process::Command;

use sixhold::scene::read_str;

use crate::command_line::ran;

const STEERING: [char; 8] = [
    '\u{1b}', '\u{7}', '\u{9b}', '\u{7f}', '\u{0}', '\u{202e}', '\u{2066}', '\u{fffe}',
];

fn scene(title: &str, support: &str, point: &str, case: &str) -> String {
    format!(
        "(format: 1, title: \"{title}\", points: {{\"{point}\": (0, 0, 0)}},
          body: [Block(centre: (0, 0, 0), size: (1, 1, 1))],
          supports: [BallJoint(name: \"{support}\", at: \"{point}\")],
          cases: [(name: \"{case}\", loads: [])])"
    )
}

/// A title could set the title of the terminal, move its cursor or make words read backwards.
#[test]
fn titles_and_names_with_control_characters_are_refused() {
    assert!(read_str("x", &scene("T", "A", "P", "wind")).is_ok());
    for character in STEERING {
        let bad = format!("x\\u{{{:x}}}y", u32::from(character));
        let (message, what) = (
            format!(
                "holds the character U+{:04X}, which cannot be shown",
                u32::from(character)
            ),
            [
                "`title` of the scene",
                "`name` of BallJoint",
                "the name of a point",
                "`name` of a case",
            ],
        );
        let scenes = [
            scene(&bad, "A", "P", "wind"),
            scene("T", &bad, "P", "wind"),
            scene("T", "A", &bad, "wind"),
            scene("T", "A", "P", &bad),
        ];
        for (text, what) in scenes.iter().zip(what) {
            let error = read_str("x.ron", text).unwrap_err();
            let first = &error.problems[0];
            assert_eq!(first.message, format!("{what} {message}"));
            assert!(first.position.is_some() && first.hint.is_some());
        }
    }
}

#[test]
fn notes_may_have_lines() {
    let text =
        "(format: 1, notes: \"one\\n\\ttwo\", body: [Block(centre: (0, 0, 0), size: (1, 1, 1))])";
    assert!(read_str("x", text).is_ok());
    assert!(read_str("x", &text.replace("\\t", "\\u{1b}")).is_err());
}

/// Whether a text would do more to a terminal than print lines.
fn steers(text: &str) -> bool {
    text.chars()
        .any(|c| c != '\n' && (c.is_control() || STEERING.contains(&c)))
}

/// File names went to the terminal as they are.
#[cfg(unix)]
#[test]
fn file_names_are_printed_with_escapes() {
    let folder = tempfile::tempdir().unwrap();
    let name = "h\u{1b}]0;x\u{7}\u{202e}\n.ron";
    let path = folder.path().join(name);
    fs::write(&path, "(format: 1, nonsense: 3)").unwrap();
    let path = path.to_str().unwrap();
    let out = folder.path().join(format!("{name}.doc"));
    let out = out.to_str().unwrap();
    for arguments in [
        vec!["check", path],
        vec!["check", "handrail", "--case", name],
        vec!["check", name],
        vec!["mend", "handrail", "--release", name],
        vec!["report", "handrail", "--out", out],
        vec!["figure", "handrail", "--out", out],
        vec![path],
        vec![name],
        vec!["figure", "handrail", "--out", "x.svg", "--width", name],
    ] {
        let ran = ran(&arguments);
        assert_eq!(ran.code, Some(2), "{arguments:?}");
        assert!(!steers(&ran.err) && !ran.err.is_empty(), "{:?}", ran.err);
        assert!(
            ran.err.contains("\\u{1b}]0;x\\u{7}\\u{202e}"),
            "{:?}",
            ran.err
        );
    }
    fs::copy("scenes/handrail.ron", path).unwrap();
    let checked = ran(&["check", path, "--format", "json"]);
    assert!(!steers(&checked.out));
    let json: serde_json::Value = serde_json::from_str(&checked.out).unwrap();
    assert_eq!(json["source"], path);
    let failed = ran(&["check", path, "--require", "held"]);
    assert!(
        !steers(&failed.out) && !steers(&failed.err),
        "{:?}",
        failed.err
    );
}

/// The heading of a scene without a title is the name of its file, which reached the terminal as it is.
#[test]
fn a_file_name_in_place_of_a_title_is_printed_with_escapes() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("h\u{1b}[31m\u{202e}.ron");
    fs::write(&path, scene("", "A", "P", "wind")).unwrap();
    let path = path.to_str().unwrap();
    for command in ["check", "mend"] {
        let ran = ran(&[command, path]);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        let heading = ran.out.lines().next().unwrap();
        assert!(
            heading.ends_with("h\\u{1b}[31m\\u{202e}.ron"),
            "{heading:?}"
        );
        assert!(!steers(&ran.out), "{:?}", ran.out);
    }
}

/// A name that is quoted from a scene went to the terminal as it is.
#[test]
fn words_of_a_scene_are_quoted_with_escapes() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("scene.ron");
    let text = scene("T", "A", "P", "wind")
        .replace("at: \"P\"", "at: \"\\u{1b}[2J\\nerror: all is lost\"");
    fs::write(&path, text).unwrap();
    let ran = ran(&["check", path.to_str().unwrap()]);
    assert_eq!(ran.code, Some(2));
    assert!(!steers(&ran.err), "{:?}", ran.err);
    assert!(
        ran.err.contains("\\u{1b}[2J\\nerror: all is lost"),
        "{:?}",
        ran.err
    );
}

/// Help went nowhere without a word.
#[cfg(target_os = "linux")]
#[test]
fn help_that_cannot_be_written_is_an_error() {
    let full = fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_sixhold"))
        .arg("help")
        .stdout(full)
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(
        told.starts_with("error: the answer could not be written"),
        "{told}"
    );
}
