//! Labels that can be read: inside the page, off every line and off each other.

use proptest::prelude::*;
use sixhold::drawing::{self, Drawing, PathOutline};
use sixhold::exercises::{ExerciseSheet, SheetSettings, Topic};
use sixhold::figure::{FigurePart, FigureSettings, Projection};
use sixhold::scene::{self, Scene, builtin};

use super::{built_in, drawn, settings};
use crate::arbitrary_scenes;

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
pub(crate) fn faults(drawing: &Drawing) -> Vec<String> {
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
                PathOutline::Lines(lines) if !tint => lines
                    .iter()
                    .flat_map(|line| line.pieces())
                    .any(|piece| meets(piece, width, area)),
                PathOutline::Lines(_) => false,
                PathOutline::Circle { centre, radius } => {
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

fn faults_of_every_built_in_scene(projection: Projection) -> Vec<String> {
    let mut faulty = Vec::new();
    for built_in in builtin::all() {
        let scene = scene::read_str(built_in.name, built_in.text).unwrap().scene;
        for (what, parts) in [
            ("answer", &FigurePart::USUAL[..]),
            ("question", &FigurePart::QUESTION),
            ("all", &FigurePart::ALL),
        ] {
            let drawing = drawn(&scene, &settings(parts, Some(projection))).unwrap();
            assert!(drawing.texts().count() >= scene.supports.len());
            for fault in faults(&drawing) {
                faulty.push(format!("{} {what}: {fault}", built_in.name));
            }
        }
    }
    faulty
}

#[test]
fn labels_of_every_built_in_scene_can_be_read_in_oblique_projection() {
    let faulty = faults_of_every_built_in_scene(Projection::Oblique);
    assert!(faulty.is_empty(), "{}", faulty.join("\n"));
}

#[test]
fn labels_of_every_built_in_scene_can_be_read_in_isometric_projection() {
    let faulty = faults_of_every_built_in_scene(Projection::Isometric);
    assert!(faulty.is_empty(), "{}", faulty.join("\n"));
}

#[test]
fn labels_of_every_built_in_scene_can_be_read_in_perspective() {
    let faulty = faults_of_every_built_in_scene(Projection::Perspective);
    assert!(faulty.is_empty(), "{}", faulty.join("\n"));
}

/// Every point at which a load of an exercise acts has its name in the figure, once, and readable.
#[test]
fn load_points_of_exercises_are_named() {
    for seed in 0..3 {
        let topics = [Topic::Reactions, Topic::NearMiss];
        let sheet = ExerciseSheet::new(&SheetSettings {
            topics: topics.to_vec(),
            count: 12,
            seed,
            level: None,
            choice: sixhold::exercises::ExerciseChoice::default(),
        });
        for problem in sheet.unwrap().problems {
            let drawing = drawn(
                problem.study.scene(),
                &settings(&FigurePart::QUESTION, None),
            )
            .unwrap();
            let title = &problem.study.scene().title;
            assert_eq!(faults(&drawing), Vec::<String>::new(), "{title}");
            let names: Vec<&str> = drawing
                .texts()
                .filter(|text| ["name", "point"].contains(&text.role))
                .map(|text| text.runs[0].text.as_str())
                .collect();
            for point in &problem.study.scene().points {
                let count = names.iter().filter(|name| **name == point.name).count();
                assert_eq!(count, 1, "{title}: {}", point.name);
            }
            let without = [FigurePart::Body, FigurePart::Supports, FigurePart::Names];
            let bare = drawn(problem.study.scene(), &settings(&without, None)).unwrap();
            let held = problem.study.scene().supports.len();
            assert_eq!(bare.texts().count(), held, "{title}");
        }
    }
}

/// A fault in the picture is a fault that is seen: the measure itself is put to the test.
#[test]
fn a_label_moved_onto_a_line_is_a_fault() {
    let mut drawing = drawn(&built_in("sill-beam"), &FigureSettings::default()).unwrap();
    let corner = drawing
        .shapes()
        .find_map(|shape| match &shape.outline {
            PathOutline::Lines(lines) if shape.stroke.is_some() => Some(lines[0].points[0]),
            _ => None,
        })
        .unwrap();
    assert!(faults(&drawing).is_empty());
    let text = drawing.items.iter_mut().find_map(|item| match item {
        drawing::Item::Text(text) => Some(text),
        drawing::Item::Shape(_) => None,
    });
    text.unwrap().at = [corner[0] - 1.0, corner[1] + 1.0];
    assert!(!faults(&drawing).is_empty());
}

/// Whether some number of the scene is a thousand times larger than sizes of bodies ever are here.
pub(crate) fn is_lopsided(scene: &Scene) -> bool {
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
        if let Some(drawing) = drawn(&scene, &settings(&FigurePart::ALL, Some(projection))) {
            let faults = faults(&drawing);
            prop_assert!(faults.is_empty() || is_lopsided(&scene), "{}", faults.join("\n"));
            prop_assert!(drawing.height.is_finite() && drawing.height > 0.0);
            prop_assert!(drawing::pdf(&drawing).starts_with(b"%PDF"));
        }
    }
}
