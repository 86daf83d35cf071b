//! Moving pictures.

use sixhold::figure::{FigureSettings, Film, Subject};
use sixhold::motion::Mobilities;
use sixhold::page::{self, Drawing};
use sixhold::statics::{Diagnosis, Model, Tolerance};

use super::built_in;
use super::labels::faults;
use crate::command_line::ran;

/// All names stand still, inside the picture and off every stroke of every frame; the body does not stand still.
#[test]
fn a_film_keeps_its_names_and_moves_its_body() {
    for name in ["handrail", "cable-tray", "desk-struts", "balance-arm"] {
        let scene = built_in(name);
        let model = Model::new(&scene).unwrap();
        let diagnosis = Diagnosis::new(&model, Tolerance::default());
        let mobilities = Mobilities::of(&model, &diagnosis);
        let subject = Subject {
            scene: &scene,
            model: &model,
            diagnosis: &diagnosis,
            mobilities: &mobilities,
        };
        let film = Film::new(&subject, &FigureSettings::default());
        let still = film.at(0.0);
        for part in [-1.0, -0.5, 0.25, 1.0] {
            let frame = film.at(part);
            assert_eq!([frame.width, frame.height], [still.width, still.height]);
            let texts =
                |drawing: &Drawing| -> Vec<page::Text> { drawing.texts().cloned().collect() };
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

/// The swing follows a sine: at rest in the middle of the film's start, slow at the ends, and back where it began.
#[test]
fn a_film_eases_at_its_ends() {
    let parts: Vec<f64> = Film::parts(40).collect();
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
    for name in ["a.gif", "a.png"] {
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
            vec!["animate", "handrail", "--out", "a.mp4"],
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
    ] {
        let ran = ran(&arguments);
        assert_eq!(ran.code, Some(2), "{arguments:?}");
        assert!(ran.err.contains(told), "{arguments:?}: {}", ran.err);
    }
}
