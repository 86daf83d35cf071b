//! Values on the command line, and errors that say too little.

use std::fs;

use crate::command_line::ran;

/// A minus sign was taken for an option, and the message spoke of anything but the range.
#[test]
fn a_negative_number_is_a_value_out_of_its_range() {
    let figure = |option| vec!["figure", "handrail", "--out", "x.svg", option, "-1"];
    let film = |option| vec!["animate", "handrail", "--out", "x.mp4", option, "-1"];
    let sheet = |option| vec!["sheet", "--about", "partial", "--out", "x", option, "-1"];
    for (arguments, told) in [
        (
            figure("--width"),
            "give a width from 40 to 1200 millimetres",
        ),
        (figure("--dpi"), "give a resolution from 20 to 2400"),
        (
            figure("--motion"),
            "give the number of a free motion, from 1, or `escape`",
        ),
        (film("--seconds"), "give a time from 0.5 to 60 seconds"),
        (film("--rate"), "give a rate from 2 to 50"),
        (film("--pixels"), "give a whole number from 100 to 4000"),
        (sheet("--count"), "a sheet has 1 to 200 problems"),
        (sheet("--seed"), "give a whole number from 0 to"),
    ] {
        let ran = ran(&arguments);
        assert_eq!(ran.code, Some(2), "{arguments:?}");
        assert!(ran.err.contains(told), "{}", ran.err);
    }
}

fn told(scene: &str) -> String {
    let file = tempfile::NamedTempFile::new().unwrap();
    fs::write(file.path(), scene).unwrap();
    let path = file.path().to_str().unwrap();
    let ran = ran(&["check", path]);
    assert_eq!(ran.code, Some(2));
    ran.err.replace(path, "scene.ron")
}

/// These errors had no line, or did not say what would be right.
#[test]
fn what_a_load_lacks_is_told_with_its_place() {
    let force = told(
        "(format: 1, body: [Block(centre: (0, 0, 0), size: (1, 1, 1))],\n loads: [Force(at: (0, 0, 0))])",
    );
    let expected = "scene.ron:2:10: error: Force needs either `force`, or `size` and `direction`\n    \
        expected: such as `force: (0, 0, -100)`, or `size: 100, direction: (0, 0, -1)`\n";
    assert_eq!(force, expected);
    let weight = told(
        "(format: 1, body: [Shaft(from: (0, 0, 0), to: (1, 0, 0), diameter: 1e-200)],\n loads: [Weight(mass: 3)])",
    );
    let expected = "scene.ron:2:10: error: the body has no volume, and so no centre at which its weight would act\n    \
        hint: give the weight as a mass at a place, or the shapes more thickness\n";
    assert!(weight.ends_with(expected), "{weight}");
}

/// What was left out of a long list of problems was counted as "1 more problems".
#[test]
fn a_single_problem_is_counted_as_one() {
    let scene = |count: usize| {
        let bad = "Nothing(), ".repeat(count);
        told(&format!(
            "(format: 1, body: [Block(centre: (0, 0, 0), size: (1, 1, 1))], supports: [{bad}])"
        ))
    };
    assert!(scene(201).ends_with("scene.ron: and 1 more problem\n"));
    assert!(scene(202).ends_with("scene.ron: and 2 more problems\n"));
}

/// A link to add can end beyond the largest number of a scene; the file with it could not be opened.
#[test]
fn a_mended_scene_can_always_be_read() {
    let folder = tempfile::tempdir().unwrap();
    let within = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (scene, out) = (within("far.ron"), within("mended.ron"));
    // The body ends just below the largest number; every direct link leads past it.
    let text = "(format: 1, body: [Block(centre: (9.5e29, 9.5e29, 9.5e29), size: (1e29, 1e29, 1e29))],
        supports: [BallJoint(name: \"A\", at: (1e30, 1e30, 1e30)), BallJoint(name: \"B\", at: (9e29, 1e30, 1e30))])";
    fs::write(&scene, text).unwrap();
    let mended = ran(&["mend", &scene, "--out", &out]);
    match mended.code {
        Some(0) => assert_eq!(ran(&["check", &out, "--require", "held"]).code, Some(0)),
        _ => {
            assert!(
                mended
                    .err
                    .contains("the mended scene could not be read again"),
                "{}",
                mended.err
            );
            assert!(!fs::exists(&out).unwrap());
        }
    }
}
