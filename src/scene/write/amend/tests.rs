//! What an edit changes of the text, and what it leaves.

use super::super::{to_ron, to_ron_like};
use crate::scene::{Coordinates, Direction, Load, Place, Scene, SupportKind, builtin, read_str};

const TEXT: &str = r#"// A lamp boom under trial.
(
    format: 1,
    title: "Lamp boom", // shown as the heading
    points: {"B": (1.50, 0, 0)},
    body: [BentBar(path: [(0, 0, 0), "B"], diameter: 0.050)],
    supports: [
        // The lower one carries the weight.
        Hinge(name: "A", at: (0, 0, 0), axis: (0, 0, 1), couples: true),
        Cable(name: "C", at: "B", ground: (0, 0, 1.0)), // to the mast
    ],
    loads: [Weight(mass: 12)]
)
"#;

fn scene(text: &str) -> Scene {
    read_str("boom", text).unwrap().scene
}

fn at(x: f64, y: f64, z: f64) -> Place {
    Place::At(Coordinates::Space([x, y, z]))
}

/// The text after an edit, which reads as the scene that was asked for.
fn edited(text: &str, edit: impl FnOnce(&mut Scene)) -> String {
    let mut scene = scene(text);
    edit(&mut scene);
    let amended = to_ron_like(text, &scene);
    let read = read_str("boom", &amended).unwrap().scene;
    assert_eq!(to_ron(&read), to_ron(&scene), "{amended}");
    amended
}

/// Asserts that an edit changes one stretch of the text to another.
fn assert_edit(edit: impl FnOnce(&mut Scene), old: &str, new: &str) {
    assert_eq!(TEXT.matches(old).count(), 1, "{old}");
    assert_eq!(edited(TEXT, edit), TEXT.replace(old, new));
}

#[test]
fn what_does_not_change_stays_as_written() {
    assert_eq!(edited(TEXT, |_| ()), TEXT);
    for built_in in builtin::all() {
        let (name, text) = (built_in.name, built_in.text);
        assert_eq!(edited(text, |_| ()), text, "{name}");
    }
}

#[test]
fn numbers_names_and_kinds_change_in_their_places() {
    assert_edit(
        |scene| scene.supports[0].at = at(0.0, 0.25, 0.0),
        "at: (0, 0, 0), axis",
        "at: (0, 0.25, 0), axis",
    );
    assert_edit(
        |scene| scene.supports[1].at = at(1.5, 0.0, 0.0),
        "at: \"B\"",
        "at: (1.5, 0, 0)",
    );
    assert_edit(
        |scene| scene.supports[1].name = "D".to_owned(),
        "name: \"C\"",
        "name: \"D\"",
    );
    assert_edit(
        |scene| scene.supports[0].kind = SupportKind::BallJoint,
        "Hinge(name: \"A\", at: (0, 0, 0), axis: (0, 0, 1), couples: true)",
        "BallJoint(name: \"A\", at: (0, 0, 0))",
    );
    assert_edit(
        |scene| {
            let axis = Direction::Towards(Place::Named("B".to_owned()));
            scene.supports[0].kind = SupportKind::Hinge {
                axis,
                couples: false,
            };
        },
        "axis: (0, 0, 1), couples: true",
        "axis: Towards(\"B\"), couples: false",
    );
    assert_edit(
        |scene| scene.points[0].at = Coordinates::Space([1.5, 0.0, 0.1]),
        "(1.50, 0, 0)",
        "(1.50, 0, 0.1)",
    );
    assert_edit(
        |scene| scene.title.clear(),
        "\n    title: \"Lamp boom\", // shown",
        "\n    // shown",
    );
    assert_edit(
        |scene| scene.notes = "Seen from the east.".to_owned(),
        "// shown as the heading\n",
        "// shown as the heading\n    notes: \"Seen from the east.\",\n",
    );
}

#[test]
fn items_come_and_go_with_their_lines() {
    let cable = "        Cable(name: \"C\", at: \"B\", ground: (0, 0, 1.0)), // to the mast\n";
    assert_edit(
        |scene| {
            scene.supports.remove(0);
        },
        "        Hinge(name: \"A\", at: (0, 0, 0), axis: (0, 0, 1), couples: true),\n",
        "",
    );
    // Comments are never taken away.
    assert_edit(
        |scene| {
            scene.supports.remove(1);
        },
        cable,
        "        // to the mast\n",
    );
    assert_edit(
        |scene| {
            let mut link = scene.supports[1].clone();
            link.name = "D".to_owned();
            scene.supports.push(link);
        },
        cable,
        &format!("{cable}        Cable(name: \"D\", at: \"B\", ground: (0, 0, 1)),\n"),
    );
    assert_edit(
        |scene| {
            let force = scene.loads[0].clone();
            scene.loads.push(force);
        },
        "[Weight(mass: 12)]",
        "[Weight(mass: 12), Weight(mass: 12)]",
    );
    assert_edit(
        |scene| {
            if let Load::Weight { gravity, .. } = &mut scene.loads[0] {
                *gravity = 1.62;
            }
        },
        "Weight(mass: 12)",
        "Weight(mass: 12, gravity: 1.62)",
    );
    assert_edit(
        |scene| scene.loads.clear(),
        "    loads: [Weight(mass: 12)]\n",
        "",
    );
}

#[test]
fn a_list_that_was_missing_is_written_as_a_new_file_has_it() {
    let bare = "(format: 1, body: [Shaft(from: (0, 0, 0), to: (1, 0, 0), diameter: 0.1)])";
    let support = scene(TEXT).supports[0].clone();
    let amended = edited(bare, |scene| scene.supports.push(support));
    assert!(amended.starts_with(&bare[..bare.len() - 1]), "{amended}");
    let empty = bare.replace("])", "], supports: [])");
    let support = scene(TEXT).supports[0].clone();
    let amended = edited(&empty, |scene| scene.supports.push(support));
    assert!(amended.contains("supports: [\n        Hinge("), "{amended}");
}

#[test]
fn line_ends_and_the_mark_of_the_encoding_stay() {
    let windows = format!("\u{feff}{}", TEXT.replace('\n', "\r\n"));
    let amended = edited(&windows, |scene| {
        let mut copy = scene.supports[1].clone();
        copy.name = "D".to_owned();
        scene.supports.push(copy);
    });
    assert!(amended.starts_with('\u{feff}'));
    assert_eq!(
        amended.matches('\n').count(),
        amended.matches("\r\n").count()
    );
    assert_eq!(amended.lines().count(), windows.lines().count() + 1);
}

#[test]
fn a_text_that_is_no_scene_is_written_anew() {
    let scene = scene(TEXT);
    assert_eq!(to_ron_like("half a fi", &scene), to_ron(&scene));
}
