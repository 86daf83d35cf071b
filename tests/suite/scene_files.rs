//! Scene files as a whole: what is saved is read back, nothing makes the reader panic, reading grows linearly.

use std::fmt::Write;
use std::time::Instant;

use proptest::collection::vec;
use proptest::prelude::*;
use sixhold::scene::{
    Coordinates, Severity, SupportKind, read_file, read_str, save_file, to_json, to_ron,
};

use crate::arbitrary_scenes::scene;
use crate::golden;

/// One of everything, in the way a user would write it.
const EVERYTHING: &str = r#"
// The handrail of the dome stairs.
(
    format: 1,
    title: "Handrail",
    notes: "two lines,\nand \"quotes\" /* no comment */",
    units: (length: mm, force: kN, mass: t),
    placement_tolerance: 2,
    points: { "A": (0, 0, 0), "B": (600, 0, 400), /* unused */ "a b": (1e3, .5, -2.5e-1) },
    body: [
        BentBar(path: ["A", (0, 0, 1000), "B"], diameter: 40, bend_radius: 50),
        Plate(corners: ["A", "B", (1000, 0, 0)], thickness: 10, holes: [(centre: (500, 0, 100), diameter: 50)]),
        Bracket(corner: "A", legs: ("B", (0, 1000, 0)), width: 100, thickness: 10, gusset: 80),
        Shaft(from: "A", to: "B", diameter: 30),
        Disc(centre: "A", axis: (1, 0, 0), diameter: 300, thickness: 40, bore: 30, groove: 10),
        Block(centre: "A", size: (300, 200, 100), lengthwise: (1, 1, 0), upright: (0, 0, 1)),
    ],
    supports: [
        BallJoint(name: "A", at: "A"),
        Hinge(name: "B", at: "B", axis: (1, 0, 0), couples: false),
        SlidingHinge(name: "B2", at: "B", axis: Towards((0, 0, 7))),
        JournalBearing(name: "J", at: "B", axis: (1, 0, 0)),
        ThrustBearing(name: "T", at: "B", axis: (1, 0, 0), couples: true),
        SquareJournal(name: "S", at: "B", axis: (1, 0, 0)),
        SmoothPin(name: "P", at: "B", axis: (1, 0, 0)),
        Slider(name: "Sl", at: "B", rod: (1, 0, 0)),
        UniversalJoint(name: "U", at: "B", axis: (1, 0, 0)),
        RailWheel(name: "W", at: "A", rail: (1, 0, 0), normal: (0, 0, 1)),
        Fixed(name: "F", at: "A"),
        Roller(name: "D", at: "A", normal: Towards("B")),
        SmoothContact(name: "SC", at: "A", normal: Towards("B")),
        RoughContact(name: "RC", at: "A", normal: Towards("B")),
        Link(name: "C", at: (1, 0, 0), ground: (1, 0, -300)),
        Cable(name: "K", at: (1, 0, 0), ground: "a b"),
    ],
    loads: [
        Force(at: "B", force: (0, 0, -100)),
        Force(at: "B", size: 500, direction: Towards("A")),
        Couple(moment: (0, 0, 50), at: "B"),
        Distributed(from: "A", to: "B", start: (0, 0, -10), end: (0, 0, -20)),
        Weight(mass: 30, at: "A", gravity: 1.62),
        Weight(density: 7850),
    ],
    cases: [(name: "wind", loads: [Force(at: "B", force: (20, 0, 0))])],
) // the end"#;

/// A planar scene.
const PLANAR: &str = r#"(format: 1, space: planar, points: {"P": (1, 2)},
    body: [Disc(centre: "P", diameter: 1, thickness: 0.1), Block(centre: (0, 0), size: (1, 2, 3), upright: Angle(30))],
    supports: [Pin(name: "A", at: "P"), Slot(name: "S", at: (0, 0), along: Angle(-45.5)), Rocker(name: "R", at: (3, 0), normal: (0, 1)),
        Collar(name: "C", at: "P", rod: Towards((7, 7)))],
    loads: [Couple(moment: -50), Force(at: "P", size: -3, direction: Angle(180))])"#;

#[test]
fn one_of_everything_is_read_saved_and_read_again() {
    for text in [EVERYTHING, PLANAR] {
        let read = read_str("test.ron", text).unwrap_or_else(|error| panic!("{error}"));
        let saved = to_ron(&read.scene);
        let again =
            read_str("saved.ron", &saved).unwrap_or_else(|error| panic!("{error}\n{saved}"));
        assert_eq!(again.scene, read.scene);
    }
    let scene = read_str("test.ron", EVERYTHING).unwrap().scene;
    assert_eq!(scene.notes, "two lines,\nand \"quotes\" /* no comment */");
    assert_eq!(scene.points[2].at, Coordinates::Space([1000.0, 0.5, -0.25]));
    assert_eq!(scene.supports.len(), 16);
    let couples = |i: usize| match scene.supports[i].kind {
        SupportKind::Hinge { couples, .. } | SupportKind::SlidingHinge { couples, .. } => couples,
        _ => panic!("no hinge"),
    };
    assert!(!couples(1) && couples(2));
}

#[test]
fn saved_scenes_stand_one_item_on_a_line_and_leave_defaults_out() {
    let scene = read_str("test.ron", PLANAR).unwrap().scene;
    golden::compare(&to_ron(&scene), "tests/golden/saved_planar.ron".as_ref());
}

#[test]
fn saving_replaces_a_file_whole_and_keeps_its_permissions() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("handrail.ron");
    let scene = read_str("test.ron", EVERYTHING).unwrap().scene;
    save_file(&scene, &path).unwrap();
    assert_eq!(read_file(&path).unwrap().scene, scene);
    let mut permissions = path.metadata().unwrap().permissions();
    #[cfg(unix)]
    std::os::unix::fs::PermissionsExt::set_mode(&mut permissions, 0o640);
    std::fs::set_permissions(&path, permissions).unwrap();
    let planar = read_str("test.ron", PLANAR).unwrap().scene;
    save_file(&planar, &path).unwrap();
    assert_eq!(read_file(&path).unwrap().scene, planar);
    #[cfg(unix)]
    assert_eq!(
        std::os::unix::fs::PermissionsExt::mode(&path.metadata().unwrap().permissions()) & 0o777,
        0o640
    );
    let left = folder.path().read_dir().unwrap().count();
    assert_eq!(left, 1, "no temporary file stays behind");
    assert!(save_file(&scene, &folder.path().join("no such folder/x.ron")).is_err());
}

#[cfg(unix)]
#[test]
fn saving_through_a_link_replaces_the_file_it_points_to() {
    let folder = tempfile::tempdir().unwrap();
    let (file, link) = (
        folder.path().join("file.ron"),
        folder.path().join("link.ron"),
    );
    let scene = read_str("test.ron", PLANAR).unwrap().scene;
    std::fs::write(&file, "old").unwrap();
    std::os::unix::fs::symlink(&file, &link).unwrap();
    save_file(&scene, &link).unwrap();
    assert!(link.symlink_metadata().unwrap().is_symlink());
    assert_eq!(read_file(&file).unwrap().scene, scene);
}

#[test]
fn deep_nesting_is_refused_without_overflow() {
    for (open, close) in [
        ("(", ")"),
        ("[", "]"),
        ("{1:", "}"),
        ("Some(", ")"),
        ("a(b:", ")"),
        ("/*", "*/"),
    ] {
        for depth in [10, 50, 100, 100_000] {
            let deep = format!("{}{}", open.repeat(depth), close.repeat(depth));
            for text in [format!("(format: 1, notes: {deep})"), deep] {
                read_str("deep.ron", &text).expect_err("no scene");
            }
        }
    }
}

#[test]
fn many_problems_are_cut_off_and_counted() {
    let items = "x,".repeat(100_000);
    let error = read_str("test.ron", &format!("(format: 1, body: [{items}])")).unwrap_err();
    assert_eq!(error.problems.len() + error.left_out, 100_000);
    assert!(error.problems.len() < 1000);
    assert!(error.to_string().contains("more problems"));
}

/// A plate on many links.
fn many_links(count: usize) -> String {
    let mut text = String::from("(format: 1, points: {");
    for i in 0..count {
        let _ = write!(text, "\"P{i}\": ({}.25, {}, 0.5),", i % 100, i / 100);
    }
    text += "}, body: [Block(centre: (0, 0, 0), size: (1, 1, 1))], supports: [\n";
    for i in 0..count {
        let _ = writeln!(
            text,
            "    Link(name: \"L{i}\", at: \"P{i}\", ground: ({}.25, {}, -1.5)),",
            i % 100,
            i / 100
        );
    }
    text + "])"
}

#[test]
fn ten_thousand_links_are_read_in_linear_time() {
    let seconds = |count: usize| {
        let text = many_links(count);
        let best = (0..3).map(|_| {
            let start = Instant::now();
            assert_eq!(
                read_str("links.ron", &text).unwrap().scene.supports.len(),
                count
            );
            start.elapsed().as_secs_f64()
        });
        best.fold(f64::INFINITY, f64::min)
    };
    let (few, many) = (seconds(1_000), seconds(10_000));
    // Quadratic growth would be 100; the margin is for a machine with other work to do.
    assert!(
        many / few < 40.0,
        "{few} s for 1000 links, {many} s for 10 000"
    );
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_saved_is_read_back(scene in scene()) {
        let text = to_ron(&scene);
        match read_str("test.ron", &text) {
            Ok(loaded) if loaded.scene.datum.is_origin() => prop_assert_eq!(loaded.scene, scene, "{}", text),
            // Counted from elsewhere, the positions are the same; where they are not, that is said.
            Ok(loaded) if loaded.warnings.iter().any(|p| p.message.contains("more digits than are kept")) => {}
            Ok(loaded) => prop_assert_eq!(to_json(&loaded.scene), to_json(&scene), "{}", text),
            // Arbitrary places make bars that fold and links without length: rejected, but never misread.
            Err(error) => {
                let errors = error.problems.iter().filter(|p| p.severity == Severity::Error);
                let geometry = ["lie", "path", "place", "along", "no volume", "other than solid"];
                let geometry = errors.map(|p| &p.message).all(|said| geometry.iter().any(|word| said.contains(word)));
                prop_assert!(geometry, "{}\n{}", error, text);
                return Err(TestCaseError::reject("degenerate geometry"));
            }
        }
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in "(?s).{0,200}") {
        let _ = read_str("test.ron", &text).map_err(|error| error.to_string());
    }

    /// Pieces of a scene cut out, doubled, swapped or overwritten.
    #[test]
    fn no_mutated_scene_makes_the_reader_panic(
        planar in any::<bool>(),
        edits in vec((any::<prop::sample::Index>(), any::<prop::sample::Index>(), 0usize..8, "[-(){}\\[\\]\",:/*a-z0-9.∞é\\\\#']{0,3}"), 1..8),
    ) {
        let mut text: Vec<char> = if planar { PLANAR } else { EVERYTHING }.chars().collect();
        for (from, to, keep, patch) in edits {
            let a = from.index(text.len());
            let b = (a + to.index(8)).min(text.len());
            let piece: Vec<char> = text[a..b].iter().copied().take(keep).collect();
            text.splice(a..b, patch.chars().chain(piece));
            if text.is_empty() { break; }
        }
        let text: String = text.into_iter().collect();
        let _ = read_str("test.ron", &text).map_err(|error| error.to_string());
    }
}
