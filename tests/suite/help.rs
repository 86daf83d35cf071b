//! What the program says of itself: help on commands, the reference of the format, scenes from a pipe.

use std::io::{ErrorKind, Write};
use std::process::{Command, Stdio};

use crate::command_line::ran;

fn help(topic: &str) -> String {
    let ran = ran(&["help", topic]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{topic}");
    ran.out
}

#[test]
fn the_whole_reference_is_in_the_program() {
    let all = help("format");
    for part in [
        "SquareJournal",
        "One body",
        "placement_tolerance",
        "Encastre",
    ] {
        assert!(all.contains(part), "{part}");
    }
}

#[test]
fn kinds_sections_fields_and_commands_have_help() {
    assert!(help("Hinge").contains("Hinge(name: \"A\", at: \"A\", axis: (1, 0, 0))"));
    assert!(help("collar").contains("Collar(name: \"A\", at: \"A\", rod: (1, 0))"));
    assert!(help("Weight").contains("Weight(mass: 30)"));
    assert!(help("units").contains("`m`, `mm`, `ft`, `in`"));
    assert!(help("placement_tolerance").contains("how far each support may stand"));
    assert!(help("mend").contains("Usage: sixhold mend"));
}

#[test]
fn the_words_of_other_books_lead_to_kinds() {
    let said = help("Encastre");
    assert!(said.contains("write `Fixed`") && said.contains("Fixed, a support"));
}

#[test]
fn an_unknown_topic_is_refused_with_what_there_is() {
    let near = ran(&["help", "Hindge"]);
    assert_eq!(near.code, Some(2));
    assert!(
        near.err.contains("did you mean `sixhold help Hinge`?"),
        "{}",
        near.err
    );
    let far = ran(&["help", "elephants"]);
    assert!(far.err.contains("`sixhold help format`"), "{}", far.err);
}

fn piped(arguments: &[&str], text: &str) -> (Option<i32>, String, String) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_sixhold"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = child.stdin.take().unwrap();
    // A command that refuses its input may have ended before it was written.
    if let Err(error) = input.write_all(text.as_bytes()) {
        assert_eq!(error.kind(), ErrorKind::BrokenPipe);
    }
    drop(input);
    let output = child.wait_with_output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (
        output.status.code(),
        text(output.stdout),
        text(output.stderr),
    )
}

#[test]
fn a_scene_comes_from_standard_input() {
    let scene = ran(&["scenes", "handrail"]).out;
    let (code, out, err) = piped(&["check", "-"], &scene);
    assert_eq!((code, err.as_str()), (Some(0), ""));
    assert_eq!(out, ran(&["check", "handrail"]).out);
    let (code, _, err) = piped(&["mend", "-"], "(format: 1, body: []");
    assert_eq!(code, Some(2));
    assert!(err.starts_with("standard input:1:"), "{err}");
}

#[test]
fn the_window_refuses_standard_input() {
    let (code, _, err) = piped(&["view", "-"], "(format: 1)");
    assert_eq!(code, Some(2));
    assert!(err.contains("save the scene as a file first"), "{err}");
}

/// A scene that is mistyped or not there yet is still a scene to whoever types it.
#[test]
fn a_scene_without_a_command_is_told_the_commands() {
    for scene in ["handrail", "no-such-file.ron", "-"] {
        let ran = ran(&[scene]);
        assert_eq!(ran.code, Some(2));
        assert!(
            ran.err.contains(&format!("`sixhold check {scene}`")),
            "{}",
            ran.err
        );
    }
}
