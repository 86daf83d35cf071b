//! The built-in scenes: what each is expected to show, and that between them they show everything.

use sixhold::scene::{Load, Scene, Space, builtin, read_str, solid};
use sixhold::statics::{Diagnosis, Model, Verdict};
use sixhold::study::Study;

use crate::expected_motions::{Motion, O, X, Y, Z, assert_motions, screw, slide, turn};
use Verdict::{
    ImproperlyConstrained as Improper, PartiallyConstrained as Partial,
    ProperlyConstrained as Proper,
};

/// What a scene is expected to show.
struct Expected {
    name: &'static str,
    /// n, rank, freedom, redundancy.
    counts: [usize; 4],
    verdict: Verdict,
    motions: &'static [Motion],
}

const fn scene(
    name: &'static str,
    counts: [usize; 4],
    verdict: Verdict,
    motions: &'static [Motion],
) -> Expected {
    Expected {
        name,
        counts,
        verdict,
        motions,
    }
}

const ROD: [f64; 3] = [0.0, 3.0, 4.0];
const TIP: [f64; 3] = [0.0, 0.0, 0.5];

/// By hand from the geometry of each scene; the reasons stand in its opening comment.
const EXPECTED: [Expected; 39] = [
    scene(
        "handrail",
        [6, 5, 1, 1],
        Improper,
        &[turn([1.7, 0.6, 0.75], O, &["A", "B"])],
    ),
    scene("mirror-cell", [6, 6, 0, 0], Proper, &[]),
    scene("vee-mount", [6, 6, 0, 0], Proper, &[]),
    scene("lamp-boom", [7, 6, 0, 1], Proper, &[]),
    scene("pier-tripod", [9, 6, 0, 3], Proper, &[]),
    scene(
        "weather-mast",
        [5, 5, 1, 0],
        Partial,
        &[turn(Z, O, &["A", "B", "C"])],
    ),
    scene("rail-ladder", [5, 5, 1, 0], Partial, &[slide(X)]),
    scene(
        "dome-shutter",
        [4, 4, 2, 0],
        Partial,
        &[slide(ROD), turn(ROD, O, &["A", "B"])],
    ),
    scene(
        "hoisting-tray",
        [3, 3, 3, 0],
        Partial,
        &[slide(X), slide(Y), turn(Z, [0.4, 0.0, 0.0], &["A"])],
    ),
    scene(
        "ball-head",
        [3, 3, 3, 0],
        Partial,
        &[turn(X, O, &["O"]), turn(Y, O, &["O"]), turn(Z, O, &["O"])],
    ),
    scene(
        "battery-box",
        [6, 5, 1, 1],
        Improper,
        &[turn(Z, [0.2, 0.0, 0.0], &[])],
    ),
    scene("vent-pipe", [6, 5, 1, 1], Improper, &[slide(Z)]),
    scene(
        "cable-tray",
        [6, 3, 3, 3],
        Improper,
        &[slide(X), slide(Y), turn(Z, [-1.3, -0.2, 0.0], &["A"])],
    ),
    scene(
        "splayed-stand",
        [6, 3, 3, 3],
        Improper,
        &[turn(X, TIP, &[]), turn(Y, TIP, &[]), turn(Z, TIP, &[])],
    ),
    scene(
        "filter-plate",
        [6, 3, 3, 3],
        Improper,
        &[
            slide(Z),
            turn(Y, [100.0, 0.0, 0.0], &["A", "B"]),
            turn(X, [0.0, 100.0, 0.0], &["C", "D"]),
        ],
    ),
    scene(
        "finder-rings",
        [6, 4, 2, 2],
        Improper,
        &[slide(Y), turn(Y, O, &[])],
    ),
    scene("roof-hatch", [6, 6, 0, 0], Proper, &[]),
    scene("hatch-prop", [11, 6, 0, 5], Proper, &[]),
    scene(
        "mirror-fork",
        [9, 5, 1, 4],
        Improper,
        &[turn(X, O, &["A", "B"])],
    ),
    scene(
        "shutter-winch",
        [5, 5, 1, 0],
        Partial,
        &[turn(X, [0.0, 0.0, 36.0], &["A", "B"])],
    ),
    scene("polar-shaft", [6, 6, 0, 0], Proper, &[]),
    scene("focus-slide", [6, 6, 0, 0], Proper, &[]),
    scene("camera-bracket", [6, 6, 0, 0], Proper, &[]),
    scene(
        "spectrograph-plate",
        [6, 5, 1, 1],
        Improper,
        &[screw(Z, O, 250.0)],
    ),
    scene(
        "strut-platform",
        [6, 5, 1, 1],
        Improper,
        &[screw(Z, O, 0.14)],
    ),
    scene("sill-beam", [3, 3, 0, 0], Proper, &[]),
    scene("roof-ladder", [3, 3, 0, 0], Proper, &[]),
    scene("eyepiece-shelf", [3, 3, 0, 0], Proper, &[]),
    scene("balance-arm", [2, 2, 1, 0], Partial, &[turn(Z, O, &["P"])]),
    scene("step-rollers", [3, 2, 1, 1], Improper, &[slide(X)]),
    scene(
        "desk-struts",
        [3, 2, 1, 1],
        Improper,
        &[turn(Z, [1.0, 2.0, 0.0], &[])],
    ),
    scene("portal-frame", [4, 3, 0, 1], Proper, &[]),
    scene("street-lamp", [4, 3, 0, 1], Proper, &[]),
    scene("bracket-anchors", [6, 6, 0, 0], Proper, &[]),
    scene("prying-shelf", [6, 6, 0, 0], Proper, &[]),
    scene("cabinet-bolts", [9, 6, 0, 3], Proper, &[]),
    scene("shutter-rail", [8, 6, 0, 2], Proper, &[]),
    scene("clamped-pipe", [10, 6, 0, 4], Proper, &[]),
    scene("balcony-rail", [18, 6, 0, 12], Proper, &[]),
];

fn text(name: &str) -> &'static str {
    builtin::find(name)
        .unwrap_or_else(|| panic!("no scene {name}"))
        .text
}

fn read(name: &str) -> Scene {
    let loaded = read_str(name, text(name)).unwrap_or_else(|error| panic!("{error}"));
    assert!(loaded.warnings.is_empty(), "{name}: {:?}", loaded.warnings);
    loaded.scene
}

fn diagnosed(name: &str) -> (Model, Diagnosis) {
    let study = Study::new(read(name)).unwrap();
    (study.model().clone(), study.diagnosis().clone())
}

#[test]
fn the_table_lists_every_scene_in_order() {
    let table: Vec<&str> = EXPECTED.iter().map(|expected| expected.name).collect();
    assert_eq!(table, builtin::names().collect::<Vec<_>>());
}

#[test]
fn every_scene_has_its_numbers() {
    for expected in &EXPECTED {
        let (_, diagnosis) = diagnosed(expected.name);
        let counts = diagnosis.counts;
        let found = [
            counts.unknowns,
            counts.rank,
            counts.freedom,
            counts.redundancy,
        ];
        assert_eq!(found, expected.counts, "{}", expected.name);
        assert_eq!(diagnosis.verdict(), expected.verdict, "{}", expected.name);
        let exact = diagnosis.exact.rank;
        assert_eq!(exact, expected.counts[1], "{}, exact", expected.name);
    }
}

#[test]
fn every_opening_comment_tells_the_numbers() {
    for expected in &EXPECTED {
        let first = text(expected.name).lines().next().unwrap();
        let [n, rank, freedom, redundancy] = expected.counts;
        let told = format!(
            "// expected: n = {n}, rank = {rank}, freedom = {freedom}, redundancy = {redundancy}"
        );
        assert_eq!(first, told, "{}", expected.name);
    }
}

#[test]
fn every_scene_moves_as_its_comment_says() {
    for expected in &EXPECTED {
        let (model, diagnosis) = diagnosed(expected.name);
        assert_motions(expected.name, &model, &diagnosis, expected.motions);
    }
}

#[test]
fn supports_stand_on_the_body_and_rods_stay_clear_of_it() {
    for name in builtin::names() {
        let scene = read(name);
        assert_eq!(solid::stands_off(&scene), [], "{name}");
        let model = Model::new(&scene).unwrap();
        let solids = solid::of_body(&scene);
        for support in &model.supports {
            let Some(ground) = support.ground else {
                continue;
            };
            for step in 2..=10 {
                let on_rod = support.point + (ground - support.point) * (f64::from(step) / 10.0);
                let clear = solid::distance(&solids, &on_rod) > 0.0;
                assert!(clear, "{name}: {} runs through the body", support.name);
            }
        }
    }
}

#[test]
fn the_scenes_use_every_shape_support_load_and_space() {
    let all: String = builtin::all().iter().map(|scene| scene.text).collect();
    let used = |word: &str| assert!(all.contains(word), "no scene uses {word}");
    for shape in ["BentBar", "Plate", "Bracket", "Shaft", "Disc", "Block"] {
        used(&format!("{shape}("));
    }
    let supports = "BallJoint Hinge SlidingHinge JournalBearing ThrustBearing SquareJournal SmoothPin Slider \
                    UniversalJoint RailWheel Fixed Roller SmoothContact RoughContact AnchorPlate Link Cable Rocker Pin Slot Collar";
    for support in supports.split_whitespace() {
        let name = |space: &str| format!(" {support}({space}name:");
        assert!(
            all.contains(&name("")) || all.contains(&name("\n            ")),
            "no scene uses {support}"
        );
    }
    for load in [
        "Force(at",
        "Couple(",
        "Distributed(",
        "Weight(mass",
        "Weight(density",
        "Line(path",
        "Area(corners",
    ] {
        used(load);
    }
    for unit in [
        "length: mm",
        "length: ft",
        "length: in",
        "force: kN",
        "force: lbf",
    ] {
        used(unit);
    }
    for way in [
        "Towards(",
        "Angle(",
        "couples: true",
        "couples: false",
        "size: 3,",
        "cases:",
    ] {
        used(way);
    }
    let planar = builtin::names().filter(|name| read(name).space == Space::Planar);
    assert!(planar.count() >= 4);
}

#[test]
fn titles_are_short_and_notes_ask() {
    for name in builtin::names() {
        let scene = read(name);
        assert!(
            (8..=40).contains(&scene.title.len()),
            "{name}: {}",
            scene.title
        );
        assert!(scene.notes.contains('?'), "{name}");
        let acts = |loads: &[Load]| !loads.is_empty();
        let loaded = acts(&scene.loads) || scene.cases.iter().any(|case| acts(&case.loads));
        assert!(loaded, "{name} has no load");
    }
}

/// Value of a reaction in the scene's units under a case.
fn value(name: &str, case: &str, reaction: &str) -> f64 {
    let (model, diagnosis) = diagnosed(name);
    let case = model.case_index(case).unwrap();
    let index = model.reactions.position(|r| r.name == reaction);
    let value = diagnosis.cases[case].values[index.unwrap()];
    value.unwrap() / model.units.force.in_newtons()
}

/// Sums of moments by hand.
#[test]
fn reactions_are_those_of_a_hand_calculation() {
    let close = |found: f64, by_hand: f64| {
        assert!(
            (found - by_hand).abs() < 1e-9 * by_hand.abs().max(1.0),
            "{found} {by_hand}"
        );
    };
    // Moments about A along y: 40 B = 85·18 + 150·16 + 60·51.
    let b = (85.0 * 18.0 + 150.0 * 16.0 + 60.0 * 51.0) / 40.0;
    close(value("shutter-winch", "held by hand", "B_z"), b);
    close(
        value("shutter-winch", "held by hand", "A_z"),
        85.0 + 150.0 + 60.0 - b,
    );
    // About the foot: 3.5 N_B = 16 g · 0.6 + 800 · 0.9.
    let wall = (16.0 * 9.806_65 * 0.6 + 800.0 * 0.9) / 3.5;
    close(value("roof-ladder", "observer near the top", "N_B"), wall);
    // 0.8 · 360 = 1.2 · 240, so the pin carries their sum.
    close(value("balance-arm", "in balance", "P_y"), 600.0);
    // About the rail: 0.9 N_C = 22 g · 0.45 + 780 · 0.324.
    let wheel = (22.0 * 9.806_65 * 0.45 + 780.0 * 0.324) / 0.9;
    close(
        value("rail-ladder", "observer on the fourth rung", "N_C"),
        wheel,
    );
    // About the hinge line: the weight at x = 0.32; the cable from (0.6, 0.45) along (−0.8, 0.6).
    let cable = 28.0 * 9.81 * 0.32 / (0.6 * 0.6 + 0.45 * 0.8);
    close(value("roof-hatch", "loads", "T_C"), cable);
}

/// Loads that drive a motion, and loads that do not although the body is free.
#[test]
fn cases_balance_or_drive_as_named() {
    let possible = |name: &str, case: &str| {
        let (model, diagnosis) = diagnosed(name);
        diagnosis.cases[model.case_index(case).unwrap()].is_balanced()
    };
    for (name, balanced, driven) in [
        ("handrail", "rope from the bend to A", "visitor leans over"),
        ("weather-mast", "wind from the north", "gust on the cups"),
        (
            "rail-ladder",
            "observer on the fourth rung",
            "push along the rail",
        ),
        ("splayed-stand", "weight on the tip", "push at the ring"),
        ("vent-pipe", "wind", "own weight"),
        ("battery-box", "own weight", "knock at the corner"),
        ("strut-platform", "side wind", "own weight"),
        ("mirror-fork", "balanced", "camera at the top"),
        ("shutter-winch", "held by the brake", "let go"),
        ("balance-arm", "in balance", "camera taken off"),
        ("step-rollers", "standing still", "stepping on"),
        ("desk-struts", "own weight", "elbow on the edge"),
    ] {
        assert!(possible(name, balanced), "{name}: {balanced}");
        assert!(!possible(name, driven), "{name}: {driven}");
    }
}
