//! Figures of exercises drawn at random: symbols stand beside the body, and labels can be read.

use nalgebra::Point3;
use sixhold::exercises::{ExerciseSheet, Level, SheetSettings, Topic};
use sixhold::figure::FigurePart;
use sixhold::portrayal::{HardwareShape, Layout, SymbolPart};
use sixhold::scene::solid::{self, Solid};
use sixhold::scene::{Space, SupportKind};
use sixhold::statics::SupportIndex;
use sixhold::study::Study;

use super::labels::faults;
use super::{drawn, settings};

/// Size of the body in units of the page: a usual figure.
const PAGE: f64 = 180.0;

fn studies(count: usize, seed: u64, level: Level) -> Vec<Study> {
    let sheet = ExerciseSheet::new(&SheetSettings {
        topics: Topic::MIXED.to_vec(),
        count,
        seed,
        level: Some(level),
        choice: sixhold::exercises::ExerciseChoice::default(),
    });
    let problems = sheet.unwrap().problems.into_iter();
    problems.map(|problem| problem.study).collect()
}

/// Rollers, walls and the feet of stands lay inside of bars, whose centre lines scenes give, and across edges of plates.
#[test]
fn no_support_is_drawn_inside_the_body() {
    let (mut problems, mut seen) = (0, 0);
    for (seed, level) in [(1, Level::Easy), (2, Level::Middle), (3, Level::Hard)] {
        for seed in [seed, seed + 10] {
            for study in studies(168, seed, level) {
                problems += 1;
                let body = solid::of_body(study.scene());
                let unit = size(&body) / PAGE;
                let layout = Layout {
                    model: study.model(),
                    body: &body,
                    course: None,
                    swing: &[],
                    unit,
                    thickest: 1.0,
                };
                for (support, at) in places(&layout) {
                    seen += 1;
                    let kind = &study.model().supports[support].kind;
                    let title = &study.scene().title;
                    let off = solid::distance(&body, &at);
                    assert!(off > 0.0, "{title}, {kind:?}: {at}");
                }
            }
        }
    }
    assert!(problems >= 1000 && seen > 3000, "{problems} {seen}");
}

/// Middles of rings and balls that press against the body, and of all pieces of ground, each with its support.
fn places(layout: &Layout) -> Vec<(SupportIndex, Point3<f64>)> {
    let presses = |support: SupportIndex| {
        matches!(
            layout.model.supports[support].kind,
            SupportKind::Roller { .. }
                | SupportKind::SmoothContact { .. }
                | SupportKind::RoughContact { .. }
        )
    };
    // A pin in a slot and a collar on its rod lie over the body.
    let lies_over = |support: SupportIndex| {
        let kind = &layout.model.supports[support].kind;
        matches!(kind, SupportKind::Slot { .. } | SupportKind::Collar { .. })
    };
    if layout.model.space == Space::Planar {
        let symbols = layout.symbols().into_iter();
        let middles = symbols.filter_map(|piece| match piece.shape {
            SymbolPart::Disc { centre, .. } if presses(piece.support) => {
                Some((piece.support, centre))
            }
            SymbolPart::Hatching(lines) if !lies_over(piece.support) => {
                let [a, b] = *lines.get(lines.len() / 2)?;
                Some((piece.support, nalgebra::center(&a, &b)))
            }
            _ => None,
        });
        return middles.collect();
    }
    let solids = layout.solids().into_iter();
    let middles = solids.filter_map(|piece| match piece.shape {
        HardwareShape::Ball { centre, .. } if presses(piece.support) => {
            Some((piece.support, centre))
        }
        HardwareShape::Ground { centre, .. } => Some((piece.support, centre)),
        _ => None,
    });
    middles.collect()
}

fn size(body: &[Solid]) -> f64 {
    let mut corners = body.iter().flat_map(|solid| &solid.positions);
    let first = *corners.next().unwrap();
    let around = corners.fold([first, first], |[low, high], at| {
        [low.inf(at), high.sup(at)]
    });
    (around[1] - around[0]).norm()
}

/// Values of dimensions stand beside their lines, angles at their arcs and tables below, off everything.
#[test]
fn labels_of_exercises_can_be_read() {
    for (seed, level) in [(4, Level::Easy), (5, Level::Middle), (6, Level::Hard)] {
        for study in studies(12, seed, level) {
            let drawing = drawn(study.scene(), &settings(&FigurePart::QUESTION, None)).unwrap();
            let title = &study.scene().title;
            assert_eq!(faults(&drawing), Vec::<String>::new(), "{title}");
        }
    }
}
