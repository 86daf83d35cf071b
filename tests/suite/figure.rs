//! Figures for paper: every label readable, every number the scene's own, the same picture on every machine.

use std::collections::BTreeSet;
use std::path::Path;

use proptest::prelude::*;
use sixhold::figure::{self, FigureSettings, Film, Look, Part, Projection, Subject};
use sixhold::motion::Mobilities;
use sixhold::page::{self, Drawing, Fonts, Outline};
use sixhold::scene::{self, Scene, builtin};
use sixhold::statics::{Diagnosis, Model, Tolerance};

use crate::command_line::ran;
use crate::{arbitrary_scenes, golden};

fn drawn(scene: &Scene, settings: &FigureSettings) -> Option<Drawing> {
    let model = Model::new(scene).ok()?;
    let diagnosis = Diagnosis::new(&model, Tolerance::default());
    let mobilities = Mobilities::of(&model, &diagnosis);
    let subject = Subject {
        scene,
        model: &model,
        diagnosis: &diagnosis,
        mobilities: &mobilities,
    };
    Some(figure::draw(&subject, settings))
}

fn built_in(name: &str) -> Scene {
    let text = builtin::find(name).unwrap().text;
    scene::read_str(name, text).unwrap().scene
}

fn settings(parts: &[Part], projection: Option<Projection>) -> FigureSettings {
    FigureSettings {
        parts: parts.iter().copied().collect(),
        projection,
        ..FigureSettings::default()
    }
}

type Area = [[f64; 2]; 2];

/// Whether a straight line of a width has a point in an area: by clipping it to the area grown by half the width.
fn meets([from, to]: [[f64; 2]; 2], width: f64, area: &Area) -> bool {
    let (mut start, mut end) = (0.0_f64, 1.0_f64);
    for k in 0..2 {
        let (low, high) = (area[0][k] - width / 2.0, area[1][k] + width / 2.0);
        let along = to[k] - from[k];
        if along == 0.0 {
            if from[k] <= low || from[k] >= high {
                return false;
            }
        } else {
            let (a, b) = ((low - from[k]) / along, (high - from[k]) / along);
            (start, end) = (start.max(a.min(b)), end.min(a.max(b)));
        }
    }
    start < end
}

/// What is wrong with the labels of a drawing.
///
/// Every text must lie inside the page; no two may overlap; and no stroke, whole or dashed, hatching and leaders included,
/// nor the rim of any filled head or dot may touch one. Tints of body and hardware are no strokes: a label may stand on them.
fn faults(drawing: &Drawing) -> Vec<String> {
    let texts: Vec<_> = drawing.texts().collect();
    let said = |i: usize| -> String { texts[i].runs.iter().map(|run| run.text.as_str()).collect() };
    let areas: Vec<Area> = texts.iter().map(|text| text.area()).collect();
    let mut faults = Vec::new();
    for (i, area) in areas.iter().enumerate() {
        let page = [drawing.width, drawing.height];
        if (0..2).any(|k| area[0][k] < 0.0 || area[1][k] > page[k]) {
            faults.push(format!("{} leaves the page", said(i)));
        }
        for (j, other) in areas.iter().enumerate().skip(i + 1) {
            if (0..2).all(|k| area[0][k] < other[1][k] && other[0][k] < area[1][k]) {
                faults.push(format!("{} overlaps {}", said(i), said(j)));
            }
        }
        for shape in drawing.shapes() {
            let tint = shape.stroke.is_none() && ["body", "support"].contains(&shape.role);
            let width = shape.stroke.map_or(0.0, |stroke| stroke.width);
            let touched = match &shape.outline {
                Outline::Lines(lines) if !tint => lines
                    .iter()
                    .flat_map(|line| line.pieces())
                    .any(|piece| meets(piece, width, area)),
                Outline::Lines(_) => false,
                Outline::Circle { centre, radius } => {
                    let nearest =
                        [0, 1].map(|k| centre[k].clamp(area[0][k], area[1][k]) - centre[k]);
                    let farthest = [0, 1].map(|k| {
                        (area[0][k] - centre[k])
                            .abs()
                            .max((area[1][k] - centre[k]).abs())
                    });
                    let rim = radius + width / 2.0;
                    nearest[0].hypot(nearest[1]) < rim
                        && farthest[0].hypot(farthest[1]) > radius - width / 2.0
                }
            };
            if touched {
                faults.push(format!("{} lies on a stroke of {}", said(i), shape.role));
            }
        }
    }
    faults
}

#[test]
fn labels_of_every_built_in_scene_are_off_the_lines_and_each_other() {
    let mut faulty = Vec::new();
    for built_in in builtin::all() {
        let scene = scene::read_str(built_in.name, built_in.text).unwrap().scene;
        for (what, parts) in [
            ("answer", &Part::USUAL[..]),
            ("question", &Part::QUESTION),
            ("all", &Part::ALL),
        ] {
            for projection in [
                Projection::Oblique,
                Projection::Isometric,
                Projection::Perspective,
            ] {
                let drawing = drawn(&scene, &settings(parts, Some(projection))).unwrap();
                assert!(drawing.texts().count() >= scene.supports.len());
                for fault in faults(&drawing) {
                    faulty.push(format!("{} {what} {projection:?}: {fault}", built_in.name));
                }
            }
        }
    }
    assert!(faulty.is_empty(), "{}", faulty.join("\n"));
}

#[test]
fn the_width_is_the_one_asked_for() {
    for width_mm in [40.0, 84.0, 174.0] {
        let settings = FigureSettings {
            width_mm,
            ..FigureSettings::default()
        };
        let drawing = drawn(&built_in("mirror-cell"), &settings).unwrap();
        assert!((drawing.width - width_mm * 72.0 / 25.4).abs() < 1e-9);
        assert!(faults(&drawing).is_empty());
    }
}

/// A fault in the picture is a fault that is seen: the measure itself is put to the test.
#[test]
fn a_label_moved_onto_a_line_is_a_fault() {
    let mut drawing = drawn(&built_in("sill-beam"), &FigureSettings::default()).unwrap();
    let corner = drawing
        .shapes()
        .find_map(|shape| match &shape.outline {
            Outline::Lines(lines) if shape.stroke.is_some() => Some(lines[0].points[0]),
            _ => None,
        })
        .unwrap();
    assert!(faults(&drawing).is_empty());
    let text = drawing.items.iter_mut().find_map(|item| match item {
        page::Item::Text(text) => Some(text),
        page::Item::Shape(_) => None,
    });
    text.unwrap().at = [corner[0] - 1.0, corner[1] + 1.0];
    assert!(!faults(&drawing).is_empty());
}

#[test]
fn question_and_answer_come_from_one_scene() {
    let scene = built_in("handrail");
    let said = |parts: &[Part]| -> BTreeSet<String> {
        let drawing = drawn(&scene, &settings(parts, None)).unwrap();
        let roles = drawing.shapes().map(|shape| shape.role.to_owned());
        roles
            .chain(drawing.texts().map(|text| text.role.to_owned()))
            .collect()
    };
    let (question, answer) = (said(&Part::QUESTION), said(&Part::USUAL));
    for role in ["body", "support", "load", "dimension", "name"] {
        assert!(question.contains(role), "{role}");
    }
    for role in ["reaction", "axis", "motion"] {
        assert!(!question.contains(role) && answer.contains(role), "{role}");
    }
}

#[test]
fn the_print_look_has_no_colour() {
    let scene = built_in("weather-mast");
    let print = FigureSettings {
        look: Look::Print,
        ..settings(&Part::ALL, None)
    };
    let svg = page::svg(&drawn(&scene, &print).unwrap(), Fonts::FromPage);
    for (at, _) in svg.match_indices("=\"#") {
        let colour = &svg[at + 3..at + 9];
        assert!(
            colour[..2] == colour[2..4] && colour[2..4] == colour[4..],
            "{colour}"
        );
    }
}

#[test]
fn figures_are_what_they_were() {
    for (name, parts) in [
        ("handrail", &Part::USUAL[..]),
        ("sill-beam", &Part::QUESTION),
        ("desk-struts", &Part::USUAL),
    ] {
        let drawing = drawn(&built_in(name), &settings(parts, None)).unwrap();
        let path = format!("tests/golden/figures/{name}.svg");
        golden::compare(&page::svg(&drawing, Fonts::FromPage), Path::new(&path));
    }
}

#[test]
fn the_program_writes_each_form() {
    let folder = tempfile::tempdir().unwrap();
    for (name, start) in [
        ("a.svg", &b"<svg "[..]),
        ("a.pdf", b"%PDF-1."),
        ("a.png", b"\x89PNG"),
    ] {
        let path = folder.path().join(name);
        let ran = ran(&["figure", "handrail", "--out", path.to_str().unwrap()]);
        assert_eq!((ran.code, ran.out.as_str()), (Some(0), ""), "{}", ran.err);
        assert!(std::fs::read(&path).unwrap().starts_with(start), "{name}");
    }
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 3);
}

#[test]
fn wrong_use_is_told_in_one_error() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("a.svg");
    let out = out.to_str().unwrap();
    for (arguments, told) in [
        (
            vec!["figure", "handrail", "--out", "a.jpg"],
            "SVG, PDF or PNG",
        ),
        (
            vec!["figure", "handrail", "--out", "/no/such/folder/a.svg"],
            "there is no folder",
        ),
        (
            vec!["figure", "handrail", "--out", out, "--show", "suports"],
            "did you mean `supports`",
        ),
        (
            vec!["figure", "handrail", "--out", out, "--width", "5"],
            "40 to 1200",
        ),
        (
            vec![
                "figure",
                "handrail",
                "--out",
                out,
                "--projection",
                "sideways",
            ],
            "name a projection",
        ),
        (
            vec!["figure", "handrail", "--out", out, "--motion", "2"],
            "one free motion",
        ),
        (
            vec!["figure", "handrail", "--out", out, "--case", "own"],
            "load case",
        ),
    ] {
        let ran = ran(&arguments);
        assert_eq!(ran.code, Some(2), "{arguments:?}");
        assert!(ran.err.contains(told), "{arguments:?}: {}", ran.err);
    }
    assert!(!Path::new(out).exists());
}

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

#[test]
fn a_deck_has_every_stage_and_loads_nothing() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["handrail", "mirror-cell", "strut-platform", "street-lamp"] {
        let out = folder.path().join("deck.html");
        let ran = ran(&["deck", name, "--out", out.to_str().unwrap()]);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        let page = std::fs::read_to_string(&out).unwrap();
        let stages = [
            "body",
            "loads",
            "supports",
            "reactions",
            "count",
            "rank",
            "reason",
            "motion",
            "mend",
        ];
        let mut from = 0;
        for stage in stages {
            let mark = format!("<section id=\"{stage}\">");
            let at = page[from..].find(&mark);
            from += at.unwrap_or_else(|| panic!("{name}: no {stage}, or out of order"));
            let end = from + page[from..].find("</section>").unwrap();
            assert!(page[from..end].contains("<svg "), "{name}: {stage}");
        }
        // Addresses only name the format of SVG; nothing is fetched.
        let addresses = page.matches("http").count();
        assert_eq!(
            addresses,
            page.matches("http://www.w3.org/2000/svg").count()
        );
        for word in ["<link", "src=\"", "@import", "fetch("] {
            assert!(!page.contains(word), "{name}: {word}");
        }
        let frames = page.matches("<div hidden>").count();
        assert_eq!(
            frames > 10,
            name != "mirror-cell" && name != "street-lamp",
            "{name}"
        );
    }
}

/// Whether some number of the scene is a thousand times larger than sizes of bodies ever are here.
fn is_lopsided(scene: &Scene) -> bool {
    let text = format!("{scene:?}");
    let words = text.split(|sign: char| !(sign.is_ascii_digit() || "+-.e".contains(sign)));
    words
        .filter_map(|word| word.parse::<f64>().ok())
        .any(|number| number.abs() > 1e6)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Any scene, degenerate and huge ones included, has a figure; its labels can be read where not all but one
    /// thing shrinks to a point.
    #[test]
    fn labels_of_any_scene_are_off_the_lines_and_each_other(
        scene in arbitrary_scenes::scene(),
        isometric: bool,
    ) {
        let projection = if isometric { Projection::Isometric } else { Projection::Oblique };
        if let Some(drawing) = drawn(&scene, &settings(&Part::ALL, Some(projection))) {
            let faults = faults(&drawing);
            prop_assert!(faults.is_empty() || is_lopsided(&scene), "{}", faults.join("\n"));
            prop_assert!(drawing.height.is_finite() && drawing.height > 0.0);
            prop_assert!(page::pdf(&[drawing], "any").starts_with(b"%PDF"));
        }
    }
}
