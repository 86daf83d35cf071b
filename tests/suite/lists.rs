//! Nothing is cut from a list without a word: each is complete, or says how many more there are, and of what kind.

use std::fmt::Write as _;

use crate::command_line::ran;

/// A file of a scene in a folder of its own.
struct File {
    _folder: tempfile::TempDir,
    path: String,
}

fn file(text: &str) -> File {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("scene.ron");
    std::fs::write(&path, text).unwrap();
    let path = path.to_str().unwrap().to_owned();
    File {
        _folder: folder,
        path,
    }
}

/// Text without its breaks of lines.
fn flowing(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn checked(text: &str) -> String {
    let file = file(text);
    flowing(&ran(&["check", &file.path, "--details"]).out)
}

fn json(text: &str) -> serde_json::Value {
    let file = file(text);
    let printed = ran(&["check", &file.path, "--format", "json"]);
    serde_json::from_str(&printed.out).unwrap()
}

/// A counterweight box on as many ball joints as asked, on a spiral.
fn box_on_joints(count: usize) -> String {
    let mut text =
        "(format: 1, body: [Block(centre: (0, 0, 0), size: (2, 2, 2))], supports: [".to_owned();
    for i in 0..count {
        let turn = i as f64;
        let at = [turn.sin(), turn.cos(), (0.37 * turn).sin()].map(|x| (x * 1e3).round() / 1e3);
        write!(
            text,
            "BallJoint(name: \"J{i}\", at: ({}, {}, {})),",
            at[0], at[1], at[2]
        )
        .unwrap();
    }
    text + "], loads: [Force(at: (0, 0, 0), force: (0, 0, -10))])"
}

/// Releases were cut after 24 reactions, and a support counted only when all of its own were among those: of nine ball
/// joints six could go. In truth any one can.
#[test]
fn each_of_nine_joints_can_go() {
    let scene = box_on_joints(9);
    let releases = &json(&scene)["releases"];
    assert_eq!(releases["supports"].as_array().unwrap().len(), 9);
    assert_eq!(releases["alone"].as_array().unwrap().len(), 27);
    assert_eq!(releases["together"].as_array().unwrap().len(), 21);
    let said = checked(&scene);
    assert!(
        said.contains("and 15 more, the most important of them"),
        "{said}"
    );
    assert!(said.contains("All reactions but "), "{said}");
    assert!(
        said.contains("Any one of J0, J1, J2, J3, J4, J5, J6, J7 and J8 can be removed entirely."),
        "{said}"
    );
}

/// Sets to release together were not sought among more than sixty reactions.
#[test]
fn many_reactions_can_go_together() {
    let scene = box_on_joints(40);
    let releases = &json(&scene)["releases"];
    assert_eq!(releases["together"].as_array().unwrap().len(), 114);
    assert_eq!(releases["supports"].as_array().unwrap().len(), 40);
    assert!(checked(&scene).contains("Any one of the supports can be removed entirely."));
}

/// Six pins in a plane: two of the three sums that are decided have more than eight terms, and were left out.
#[test]
fn sums_of_many_reactions_are_listed() {
    let scene = r#"(format: 1, space: planar, body: [Block(centre: (0, 0), size: (10, 10, 1))], supports: [
        Pin(name: "A", at: (0, 0)), Pin(name: "B", at: (2, 0.5)), Pin(name: "C", at: (3, 2)),
        Pin(name: "D", at: (1, 3)), Pin(name: "E", at: (-1, 2)), Pin(name: "F", at: (-2, 1))],
        loads: [Force(at: (0, 0), force: (0, -10))])"#;
    let value = json(scene);
    let sums = value["decided_combinations"].as_array().unwrap();
    assert_eq!(sums.len(), 3);
    assert_eq!(sums[0]["equation"]["kind"], "forces");
    assert_eq!(sums[2]["equation"]["kind"], "moments");
    // Force and moment about C, (3, 2), of 10 N at (0, 0) downwards.
    let values: Vec<f64> = sums
        .iter()
        .map(|sum| sum["values"][0].as_f64().unwrap())
        .collect();
    for (found, by_hand) in values.iter().zip([0.0, 10.0, -30.0]) {
        assert!((found.abs() - f64::abs(by_hand)).abs() < 1e-9, "{values:?}");
    }
    let said = checked(scene);
    assert!(
        said.contains("along y: A_y + B_y + C_y + D_y + E_y + F_y = 10 N"),
        "{said}"
    );
    assert!(said.contains("moments about C: "), "{said}");
}

/// The document to file stopped after eight groups of reactions without saying that there are more.
#[test]
fn documents_say_how_many_groups_there_are() {
    let file = file(&box_on_joints(9));
    let out = format!("{}.md", file.path);
    let printed = ran(&["report", &file.path, "--details", "--out", &out]);
    assert_eq!(printed.code, Some(0), "{}", printed.err);
    let page = flowing(&std::fs::read_to_string(&out).unwrap());
    assert!(page.contains("13 more sets, each of six to seven reactions"));
    assert!(checked(&box_on_joints(9)).contains("13 more sets, each of six to seven reactions"));
    let many = checked(&box_on_joints(80));
    assert!(
        many.contains("The first 200 of 234 independent sets"),
        "{many}"
    );
}

/// What is sought among few only: where there are more, the report says that it was not sought.
#[test]
fn searches_that_were_not_made_are_named() {
    let contacts = |count: usize| {
        let mut text = "(format: 1, space: planar, body: [Block(centre: (0, 0), size: (200, 2, 1))], supports: [
            Roller(name: \"A\", at: (-100, 0), normal: (1, 0)), "
            .to_owned();
        for i in 0..count {
            write!(
                text,
                "Roller(name: \"R{i}\", at: ({}, -1), normal: (0, 1)),",
                i as f64 - 30.0
            )
            .unwrap();
        }
        text + "], loads: [Force(at: (0, 0), force: (-1, -10))])"
    };
    let (few, many) = (checked(&contacts(20)), checked(&contacts(70)));
    for (sentence, limit) in [
        ("Bounds of indeterminate reactions", "40"),
        ("Shifts of one support alone", "60"),
    ] {
        assert!(!few.contains(sentence), "{few}");
        assert!(many.contains(sentence) && many.contains(limit), "{many}");
    }
}

/// A wrong name was answered with twelve names and three dots.
#[test]
fn points_that_are_not_named_in_a_hint_are_counted() {
    let points: String = (0..30)
        .map(|i| format!("\"point {i}\": ({i}, 0, 0),"))
        .collect();
    let scene = format!(
        "(format: 1, points: {{{points}}}, supports: [BallJoint(name: \"A\", at: \"zzzzz\")])"
    );
    let file = file(&scene);
    let printed = ran(&["check", &file.path]);
    assert!(
        printed.err.contains("point 11, and 18 more"),
        "{}",
        printed.err
    );
}

/// The slide of supports said how many it left out, but not what they are.
#[test]
fn supports_beyond_a_slide_are_counted_by_kind() {
    let scene = box_on_joints(9).replace(
        "], loads:",
        "Link(name: \"L\", at: (1, 0, 0), ground: (2, 0, 0)), Link(name: \"M\", at: (1, 0, 0), ground: (2, 1, 0))], loads:",
    );
    let file = file(&scene);
    let out = format!("{}.html", file.path);
    let printed = ran(&["deck", &file.path, "--out", &out]);
    assert_eq!(printed.code, Some(0), "{}", printed.err);
    let page = flowing(&std::fs::read_to_string(&out).unwrap());
    assert!(page.contains("and a ball joint and two links more"));
}
