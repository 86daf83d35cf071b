//! Figures for paper: every label readable, every number the scene's own, the same picture on every machine.

pub(crate) mod deck;
mod exercises;
mod film;
mod labels;

use std::collections::BTreeSet;
use std::path::Path;

use labels::faults;
use sixhold::drawing::{self, Drawing, Fonts};
use sixhold::figure::{self, FigureColours, FigurePart, FigureSettings, Projection};
use sixhold::scene::{self, Scene, builtin};
use sixhold::study::Study;

use crate::command_line::ran;
use crate::golden;

fn drawn(scene: &Scene, settings: &FigureSettings) -> Option<Drawing> {
    let study = Study::new(scene.clone()).ok()?;
    Some(figure::draw(&study, settings))
}

fn built_in(name: &str) -> Scene {
    let text = builtin::find(name).unwrap().text;
    scene::read_str(name, text).unwrap().scene
}

fn settings(parts: &[FigurePart], projection: Option<Projection>) -> FigureSettings {
    FigureSettings {
        parts: parts.iter().copied().collect(),
        projection,
        ..FigureSettings::default()
    }
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

#[test]
fn question_and_answer_come_from_one_scene() {
    let scene = built_in("handrail");
    let said = |parts: &[FigurePart]| -> BTreeSet<String> {
        let drawing = drawn(&scene, &settings(parts, None)).unwrap();
        let roles = drawing.shapes().map(|shape| shape.role.to_owned());
        roles
            .chain(drawing.texts().map(|text| text.role.to_owned()))
            .collect()
    };
    let (question, answer) = (said(&FigurePart::QUESTION), said(&FigurePart::USUAL));
    for role in ["body", "support", "load", "dimension", "name"] {
        assert!(question.contains(role), "{role}");
    }
    for role in ["reaction", "axis", "motion"] {
        assert!(!question.contains(role) && answer.contains(role), "{role}");
    }
}

#[test]
fn supports_that_the_body_hides_are_dashed() {
    let text = r#"(format: 1, title: "case",
        body: [Block(centre: (0, 0, 0), size: (1, 1, 1))],
        supports: [BallJoint(name: "A", at: (0, 0.5, 0)), BallJoint(name: "B", at: (0, 0, -0.5))])"#;
    let scene = scene::read_str("case", text).unwrap().scene;
    let count = |parts: &[FigurePart], azimuth| {
        let projection = Projection::Angles {
            azimuth,
            elevation: 0.0,
        };
        let drawing = drawn(&scene, &settings(parts, Some(projection))).unwrap();
        drawing
            .shapes()
            .filter(|shape| shape.role == "behind")
            .count()
    };
    // From the front the case hides A; B shows below its edge from everywhere.
    assert!(count(&FigurePart::QUESTION, 0.0) > 0);
    assert_eq!(count(&FigurePart::QUESTION, 180.0), 0);
    assert_eq!(count(&[FigurePart::Body, FigurePart::Supports], 0.0), 0);
}

/// Points on the underside of a body looked as if they lay on its top.
#[test]
fn points_that_the_body_hides_are_rings() {
    let text = r#"(format: 1, title: "case",
        body: [Block(centre: (0, 0, 0), size: (1, 1, 1))],
        supports: [BallJoint(name: "A", at: (0, -0.5, 0)), BallJoint(name: "B", at: (0, 0.5, 0))])"#;
    let scene = scene::read_str("case", text).unwrap().scene;
    let rings = |azimuth| -> Vec<bool> {
        let projection = Projection::Angles {
            azimuth,
            elevation: 0.0,
        };
        let drawing = drawn(
            &scene,
            &settings(&[FigurePart::Body, FigurePart::Names], Some(projection)),
        );
        let drawing = drawing.unwrap();
        let circles = drawing
            .shapes()
            .filter(|shape| matches!(shape.outline, drawing::PathOutline::Circle { .. }));
        circles.map(|shape| shape.stroke.is_some()).collect()
    };
    assert_eq!(rings(0.0), [false, true]);
    assert_eq!(rings(180.0), [true, false]);
    assert_eq!(rings(90.0), [false, false]);
}

/// The six struts of the stand do not end on the axis that their lines of action meet.
#[test]
fn lines_of_action_lead_to_the_shared_axis() {
    let widths = |name: &str| -> Vec<f64> {
        let drawing = drawn(&built_in(name), &settings(&[FigurePart::Axis], None)).unwrap();
        let lines = drawing.shapes().filter(|shape| shape.role == "axis");
        let dashed = lines.filter_map(|shape| shape.stroke.filter(|pen| !pen.dash.is_empty()));
        dashed.map(|pen| pen.width).collect()
    };
    let [action, axis] = widths("splayed-stand")[..] else {
        panic!("lines of action and the axis");
    };
    assert!(action < axis);
    // All reactions of the handrail act at the two ball joints on the axis.
    assert_eq!(widths("handrail"), [axis]);
}

/// Texts of a role, in the question of a built-in scene.
fn said(name: &str, role: &str) -> Vec<String> {
    let drawing = drawn(&built_in(name), &settings(&FigurePart::QUESTION, None)).unwrap();
    let texts = drawing.texts().filter(|text| text.role == role);
    texts
        .map(|text| text.runs.iter().map(|run| run.text.as_str()).collect())
        .collect()
}

/// Thirteen points had their coordinates all over the figure.
#[test]
fn many_points_have_a_table() {
    let table = said("mirror-cell", "table");
    for cell in ["x/m", "P", "0.3118", "P′", "−0.4", "G"] {
        assert!(table.iter().any(|text| text == cell), "{cell}");
    }
    assert!(said("mirror-cell", "coordinates").is_empty());
    // What is in the table bears its letter in the figure.
    let points = said("mirror-cell", "point");
    for letter in ["P′", "Q′", "R′", "S′", "T′", "U′", "G"] {
        assert!(points.iter().any(|text| text == letter), "{letter}");
    }
    // Two struts hold each point of the platform.
    assert!(
        said("strut-platform", "table")
            .iter()
            .any(|text| text == "A, B")
    );
    assert!(said("handrail", "table").is_empty());
    assert_eq!(said("handrail", "dimension"), ["1.7 m", "0.6 m", "0.75 m"]);
}

#[test]
fn ground_ends_have_letters_and_slanted_axes_are_said() {
    assert_eq!(said("street-lamp", "point"), ["S′"]);
    assert_eq!(
        said("polar-shaft", "table"),
        ["A and B: axis along (0.8, 0, 0.6)"]
    );
}

#[test]
fn a_density_says_along_what_it_counts() {
    let loads = said("portal-frame", "load");
    assert!(
        loads.contains(&"1.2 kN/m along the slope".to_owned()),
        "{loads:?}"
    );
    let level = said("sill-beam", "load");
    assert!(level.contains(&"2 kN/m".to_owned()), "{level:?}");
}

#[test]
fn labels_have_as_many_digits_as_are_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.svg");
    let out = path.to_str().unwrap();
    for (digits, weight) in [
        ("2", "weight 137 N"),
        ("4", "weight 137.3 N"),
        ("6", "weight 137.293 N"),
    ] {
        let ran = ran(&[
            "figure", "handrail", "--show", "fbd", "--digits", digits, "--out", out,
        ]);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        let svg = std::fs::read_to_string(&path).unwrap();
        assert!(svg.contains(&format!("<desc>Loads: {weight}.")), "{digits}");
        let words: Vec<&str> = svg.split(['<', '>']).collect();
        assert!(words.contains(&weight), "{digits}");
    }
}

/// Circles were polygons with 24 or 32 corners, which shows in a large figure.
#[test]
fn circles_are_true_curves() {
    let flat = r#"(format: 1, title: "disc", space: planar,
        body: [Disc(centre: (0, 0), diameter: 2, thickness: 0.1)],
        supports: [Pin(name: "A", at: (0, 0))])"#;
    let scene = scene::read_str("disc", flat).unwrap().scene;
    let drawing = drawn(&scene, &settings(&[FigurePart::Body], None)).unwrap();
    let middle = [drawing.width / 2.0, drawing.height / 2.0];
    let off = |[x, y]: [f64; 2]| (x - middle[0]).hypot(y - middle[1]);
    let mut curves = 0;
    for shape in drawing.shapes() {
        let drawing::PathOutline::Lines(lines) = &shape.outline else {
            continue;
        };
        for line in lines {
            let mut from = line.points[0];
            let radius = off(from);
            for step in line.steps() {
                let drawing::PathStep::Curve(c, d, to) = step else {
                    panic!("a straight step");
                };
                for t in [0.25, 0.5, 0.75] {
                    let s: f64 = 1.0 - t;
                    let at = [0, 1].map(|k| {
                        s * s * s * from[k]
                            + 3.0 * s * s * t * c[k]
                            + 3.0 * s * t * t * d[k]
                            + t * t * t * to[k]
                    });
                    // Rounded to a hundredth of a point.
                    assert!((off(at) - radius).abs() < 0.03, "{} {radius}", off(at));
                }
                (from, curves) = (to, curves + 1);
            }
        }
    }
    // The tint and the outline.
    assert!(curves >= 64, "{curves}");
    for (name, wanted) in [("strut-platform", "body"), ("polar-shaft", "support")] {
        let drawing = drawn(&built_in(name), &settings(&FigurePart::USUAL, None)).unwrap();
        let svg = drawing::svg(&drawing, Fonts::FromPage);
        let class = format!("class=\"{wanted}\"");
        let curved = |line: &&str| line.contains(&class) && line.contains('C');
        assert!(svg.lines().any(|line| curved(&line)), "{name}");
    }
}

#[test]
fn the_print_look_has_no_colour() {
    let scene = built_in("weather-mast");
    let print = FigureSettings {
        look: FigureColours::Print,
        ..settings(&FigurePart::ALL, None)
    };
    let svg = drawing::svg(&drawn(&scene, &print).unwrap(), Fonts::FromPage);
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
        ("handrail", &FigurePart::USUAL[..]),
        ("sill-beam", &FigurePart::QUESTION),
        ("desk-struts", &FigurePart::USUAL),
    ] {
        let drawing = drawn(&built_in(name), &settings(parts, None)).unwrap();
        let path = format!("tests/golden/figures/{name}.svg");
        golden::compare(&drawing::svg(&drawing, Fonts::FromPage), Path::new(&path));
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
