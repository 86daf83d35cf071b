//! Moving pictures.

use sixhold::drawing::{self, Drawing};
use sixhold::figure::{FigureSettings, Film};
use sixhold::motion::Selection;
use sixhold::statics::{CaseIndex, MotionIndex};
use sixhold::study::Study;

use super::built_in;
use super::labels::faults;
use crate::command_line::ran;

/// All names stand still, inside the picture and off every stroke of every frame; the body does not stand still.
#[test]
fn a_film_keeps_its_names_and_moves_its_body() {
    for name in ["handrail", "cable-tray", "desk-struts", "balance-arm"] {
        let scene = built_in(name);
        let study = Study::new(scene).unwrap();
        let film = Film::new(&study, &FigureSettings::default());
        let still = film.at(0.0);
        for part in [-1.0, -0.5, 0.25, 1.0] {
            let frame = film.at(part);
            assert_eq!([frame.width, frame.height], [still.width, still.height]);
            let texts =
                |drawing: &Drawing| -> Vec<drawing::Text> { drawing.texts().cloned().collect() };
            assert_eq!(texts(&frame), texts(&still), "{name}");
            assert!(
                faults(&frame).is_empty(),
                "{name} {part}: {:?}",
                faults(&frame)
            );
            assert_ne!(frame.items, still.items, "{name} {part}");
        }
    }
}

/// The wobble of a motion that lasts for an instant only was too small to be seen by itself.
#[test]
fn a_wobble_is_seen_against_its_start() {
    for (name, keeps_start) in [
        ("strut-platform", true),
        ("spectrograph-plate", true),
        ("handrail", false),
    ] {
        let scene = built_in(name);
        let study = Study::new(scene).unwrap();
        let film = Film::new(&study, &FigureSettings::default());
        let of_role = |part: f64, role: &str| -> Vec<drawing::PathShape> {
            let frame = film.at(part);
            let shapes = frame.shapes().filter(|shape| shape.role == role);
            shapes.cloned().collect()
        };
        for role in ["ghost", "motion"] {
            let still = of_role(0.0, role);
            assert_eq!(still.is_empty(), !keeps_start, "{name} {role}");
            for part in [-1.0, 0.6] {
                assert_eq!(of_role(part, role), still, "{name} {role} {part}");
            }
        }
        assert_ne!(of_role(1.0, "body"), of_role(0.0, "body"), "{name}");
    }
}

/// The swing follows a sine: at rest in the middle of the film's start, slow at the ends, and back where it began.
#[test]
fn a_film_eases_at_its_ends() {
    let scene = built_in("handrail");
    let study = Study::new(scene).unwrap();
    let course = study.course(Selection::Free(MotionIndex::FIRST), CaseIndex::FIRST);
    let parts = course.unwrap().parts_in_time(40);
    assert_eq!(parts.len(), 40);
    assert!(parts[0].abs() < 1e-12 && (parts[10] - 1.0).abs() < 1e-12);
    assert!((parts[30] + 1.0).abs() < 1e-12);
    assert!((parts[10] - parts[9]).abs() < (parts[1] - parts[0]).abs() / 5.0);
}

#[test]
fn moving_pictures_have_their_frames() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).display().to_string();
    let short = ["--seconds", "1", "--rate", "5", "--pixels", "160"];
    let names = ["a.gif", "a.png"].into_iter();
    for name in names.chain(cfg!(feature = "films").then_some("a.mp4")) {
        let out = path(name);
        let mut arguments = vec!["animate", "handrail", "--out", &out];
        arguments.extend(short);
        let ran = ran(&arguments);
        assert_eq!((ran.code, ran.out.as_str()), (Some(0), ""), "{}", ran.err);
        // No bar where stderr is no terminal.
        assert_eq!(ran.err, format!("written: {out}\n"));
    }
    let file = std::io::BufReader::new(std::fs::File::open(path("a.png")).unwrap());
    let reader = png::Decoder::new(file).read_info().unwrap();
    assert_eq!(reader.info().animation_control().unwrap().num_frames, 5);
    assert_eq!(reader.info().width, 160);
    let mut gif = gif::DecodeOptions::new()
        .read_info(std::fs::File::open(path("a.gif")).unwrap())
        .unwrap();
    let mut delays = Vec::new();
    while let Some(frame) = gif.read_next_frame().unwrap() {
        delays.push(frame.delay);
    }
    assert_eq!(delays, [20; 5]);
    for (arguments, told) in [
        (
            vec!["animate", "handrail", "--out", "a.mov"],
            "MP4 is the only video format",
        ),
        (
            vec!["animate", "handrail", "--out", "a.txt"],
            ".gif or .png",
        ),
        (
            vec!["animate", "mirror-cell", "--out", "a.gif"],
            "the body is held",
        ),
        (
            vec!["animate", "handrail", "--out", "a.gif", "--rate", "0"],
            "2 to 50",
        ),
        (
            vec!["animate", "handrail", "--out", "a.gif", "--camera", "top"],
            "--view 3d",
        ),
        (
            vec![
                "animate", "handrail", "--out", "a.gif", "--view", "3d", "--look", "print",
            ],
            "--theme",
        ),
    ] {
        let ran = ran(&arguments);
        assert_eq!(ran.code, Some(2), "{arguments:?}");
        assert!(ran.err.contains(told), "{arguments:?}: {}", ran.err);
    }
}

/// Without an encoder the error names the feature that brings it, and what works without.
#[cfg(not(feature = "films"))]
#[test]
fn a_program_without_films_says_how_to_come_by_them() {
    let ran = ran(&["animate", "handrail", "--out", "a.mp4"]);
    assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""));
    for said in ["`--features films`", "C++ compiler", ".gif or .png"] {
        assert!(ran.err.contains(said), "{}", ran.err);
    }
}

/// With the viewer the 3D view is filmed where there is a driver to draw it; else the error says what can be done.
#[test]
fn the_3d_view_is_filmed_or_the_error_says_what_is_missing() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("a.gif");
    let ran = ran(&[
        "animate",
        "handrail",
        "--view",
        "3d",
        "--seconds",
        "1",
        "--rate",
        "4",
        "--pixels",
        "480",
        "--out",
        out.to_str().unwrap(),
    ]);
    if ran.code == Some(2) && !cfg!(feature = "viewer") {
        assert!(ran.err.contains("without its viewer"), "{}", ran.err);
        assert!(!out.exists());
        return;
    }
    if ran.err.contains("no graphics driver") && std::env::var_os("SIXHOLD_NEED_ADAPTER").is_none()
    {
        assert!(ran.err.contains("--view 3d"), "{}", ran.err);
        return;
    }
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let mut gif = gif::DecodeOptions::new()
        .read_info(std::fs::File::open(out).unwrap())
        .unwrap();
    assert_eq!((gif.width(), gif.height()), (480, 300));
    let mut frames = Vec::new();
    while let Some(frame) = gif.read_next_frame().unwrap() {
        let palette = frame.palette.clone().unwrap();
        let colour = |index: &u8| palette[3 * usize::from(*index)..][..3].to_vec();
        let colours: Vec<Vec<u8>> = frame.buffer.iter().map(colour).collect();
        frames.push(colours);
    }
    assert_eq!(frames.len(), 4);
    // In the middle twice, and at either end once. Names may have found other places meanwhile.
    let changed = |one: &[Vec<u8>], other: &[Vec<u8>]| {
        let apart = |(a, b): &(&Vec<u8>, &Vec<u8>)| (0..3).any(|k| a[k].abs_diff(b[k]) > 24);
        one.iter().zip(other).filter(apart).count() as f64 / one.len() as f64
    };
    let kept = changed(&frames[0], &frames[2]);
    for [a, b] in [[0, 1], [1, 3], [0, 3]] {
        let moved = changed(&frames[a], &frames[b]);
        assert!(moved > 2.0 * kept, "{a} {b}: {moved} {kept}");
    }
}

const CABINET: &str = "tests/one_way/tipping-cabinet.ron";
const ROLLER: &str = "tests/one_way/pulled-roller.ron";

/// A body that its load tips over could not be filmed: it was taken to be held.
#[test]
fn an_escape_is_filmed_to_its_one_side() {
    for (path, case, said) in [
        (CABINET, 1, "the body tips about the line through B and C"),
        (ROLLER, 0, "the body rotates about A and loses contact at B"),
    ] {
        let text = std::fs::read_to_string(path).unwrap();
        let scene = sixhold::scene::read_str(path, &text).unwrap().scene;
        let study = Study::new(scene).unwrap();
        let settings = FigureSettings {
            case: CaseIndex::new(case),
            motion: Selection::Escape,
            ..FigureSettings::default()
        };
        let film = Film::new(&study, &settings);
        let parts = film.parts(20);
        assert!(parts.iter().all(|part| (0.0..=1.0).contains(part)));
        assert_eq!((parts[0], parts[10]), (0.0, 1.0));
        let still = film.at(0.0);
        for part in [0.0, 0.3, 1.0] {
            let frame = film.at(part);
            assert!(faults(&frame).is_empty(), "{path} {part}");
            assert_eq!(frame.items == still.items, part == 0.0, "{path} {part}");
        }
        // What the body leaves stays behind, rollers that would go along with it, too.
        if path == ROLLER {
            let hardware = |drawing: &Drawing| -> Vec<drawing::PathShape> {
                let shapes = drawing.items.iter().filter_map(|item| match item {
                    drawing::Item::Shape(shape) if shape.role == "support" => Some(shape.clone()),
                    _ => None,
                });
                shapes.collect()
            };
            assert!(!hardware(&still).is_empty());
            assert_eq!(hardware(&film.at(1.0)), hardware(&still));
        }
        let runs = still.texts().flat_map(|text| &text.runs);
        let written: Vec<&str> = runs.map(|run| run.text.as_str()).collect();
        let written = written.join(" ");
        let words = said.split(' ');
        assert!(
            words.clone().all(|word| written.contains(word)),
            "{written}"
        );
    }
}

#[test]
fn motions_that_a_scene_does_not_have_are_refused_with_what_it_has() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("a.gif").display().to_string();
    let filmed = |scene: &str, more: &[&str]| {
        let short = [
            "--out",
            &out,
            "--seconds",
            "1",
            "--rate",
            "5",
            "--pixels",
            "160",
        ];
        ran(&[&["animate", scene], &short[..], more].concat())
    };
    for arguments in [
        &["--case", "pushed"][..],
        &["--case", "pushed", "--motion", "escape"],
    ] {
        let ran = filmed(CABINET, arguments);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
    }
    for (scene, more, said, hint) in [
        (
            CABINET,
            &[][..],
            "the body is held",
            "it escapes with --case \"pushed\"",
        ),
        (
            CABINET,
            &["--motion", "escape"],
            "under the load case \"at rest\" the body does not escape",
            "the body escapes with --case \"pushed\"",
        ),
        (
            "handrail",
            &["--motion", "escape"],
            "the body does not escape",
            "`sixhold check` says",
        ),
        (
            "handrail",
            &["--motion", "2"],
            "there is no motion 2",
            "numbers the free motions",
        ),
        (
            "handrail",
            &["--motion", "tipping"],
            "or `escape`",
            "--help",
        ),
    ] {
        let ran = filmed(scene, more);
        assert_eq!(ran.code, Some(2), "{more:?}");
        assert!(
            ran.err.contains(said) && ran.err.contains(hint),
            "{}",
            ran.err
        );
    }
}
