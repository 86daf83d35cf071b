//! The drawings of a deck: all on one page, so that nothing jumps from slide to slide.

use nalgebra::Isometry3;

use super::super::film::Film;
use super::super::series::{Paper, Series};
use super::super::stage::{Stage, with_one_view};
use super::super::{FigureSettings, Part};
use super::DECK_MM;
use super::slide::Show;
use crate::drawing::{Drawing, POINTS_PER_MM};
use crate::motion::Selection;
use crate::statics::Diagnosis;
use crate::study::Study;

/// A drawing that stands still.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Still {
    Body,
    Loads,
    Supports,
    Reactions,
    Reason,
    /// The reactions under the load, of a body that is held.
    Carried,
    /// The supports with the links that would hold the body.
    Mended,
}

/// Every drawing of a deck.
pub(super) struct Scenery {
    stills: Vec<(Still, Drawing)>,
    swings: Vec<Vec<Drawing>>,
}

/// Frames of a swing.
const FRAMES: usize = 36;
/// Greatest height of what is drawn, relative to the width: the shape of the room that a slide has for its figure.
const TALLEST: f64 = 0.66;

impl Still {
    /// Those that the scene itself gives.
    fn of_the_scene(study: &Study, settings: &FigureSettings) -> Vec<Self> {
        let mut all = vec![
            Self::Body,
            Self::Loads,
            Self::Supports,
            Self::Reactions,
            Self::Reason,
        ];
        if carries(study.diagnosis(), settings) {
            all.push(Self::Carried);
        }
        all
    }

    fn parts(self) -> &'static [Part] {
        match self {
            Self::Body => &[Part::Body, Part::Triad],
            Self::Loads => &[Part::Body, Part::Loads, Part::Triad],
            Self::Supports | Self::Mended => &[
                Part::Body,
                Part::Supports,
                Part::Behind,
                Part::Names,
                Part::Triad,
            ],
            Self::Reactions => &[
                Part::Body,
                Part::Supports,
                Part::Behind,
                Part::Reactions,
                Part::Names,
                Part::Triad,
            ],
            Self::Carried => &[
                Part::Body,
                Part::Supports,
                Part::Behind,
                Part::Loads,
                Part::Reactions,
                Part::Values,
                Part::Names,
                Part::Triad,
            ],
            Self::Reason => &[
                Part::Body,
                Part::Supports,
                Part::Behind,
                Part::Reactions,
                Part::Axis,
                Part::Motion,
                Part::Names,
                Part::Triad,
            ],
        }
    }
}

/// Whether the body is held under the load case of a deck, and there is a load.
pub(super) fn carries(diagnosis: &Diagnosis, settings: &FigureSettings) -> bool {
    let case = diagnosis.cases.get(settings.case);
    diagnosis.is_held() && case.is_some_and(|case| case.loaded)
}

/// Parts of the moving picture.
const MOVING: &[Part] = &[
    Part::Body,
    Part::Supports,
    Part::Axis,
    Part::Names,
    Part::Triad,
];

impl Scenery {
    /// The drawings of a scene with its links to add, if any, and a swing for each of the motions asked for.
    pub(super) fn new(study: &Study, settings: &FigureSettings, motions: &[Selection]) -> Self {
        let settings = &with_one_view(study, settings);
        let mended = study.repaired();
        let showing = |parts: &[Part]| FigureSettings {
            width_mm: DECK_MM,
            parts: parts.iter().copied().collect(),
            // The escape has a slide of its own; the reason is about what stops the free motions.
            motion: match settings.motion {
                Selection::Escape => Selection::default(),
                free => free,
            },
            ..settings.clone()
        };
        let of_the_scene = Still::of_the_scene(study, settings).into_iter();
        let of_the_scene = of_the_scene.map(|still| (still, study));
        let with_links = mended.as_ref().map(|study| (Still::Mended, study));
        let drawn: Vec<(Still, &Study, FigureSettings)> = of_the_scene
            .chain(with_links)
            .map(|(still, study)| (still, study, showing(still.parts())))
            .collect();
        let view = Stage::new(study, settings, Isometry3::identity()).view;
        let stage =
            |(_, study, settings)| Stage::seen(study, settings, Isometry3::identity(), Some(view));
        let films: Vec<Film> = motions
            .iter()
            .map(|motion| {
                let settings = FigureSettings {
                    motion: *motion,
                    ..showing(MOVING)
                };
                Film::unlaid(study, &settings).with_start()
            })
            .collect();
        let paper = Paper {
            width: DECK_MM * POINTS_PER_MM,
            tallest: TALLEST,
        };
        let stills = drawn
            .iter()
            .map(|(still, study, settings)| stage((still, study, settings)));
        let moments = films.iter().flat_map(Film::moments);
        let (drawings, frame) = Series::new(stills.collect(), moments.collect(), paper).drawn();
        let films = films.into_iter().map(|film| film.within(frame));
        Self {
            stills: drawn
                .iter()
                .map(|(still, ..)| *still)
                .zip(drawings)
                .collect(),
            swings: films.map(|film| frames(&film)).collect(),
        }
    }

    /// A drawing that stands still; without links to add, that with links shows the supports.
    pub(super) fn still(&self, wanted: Still) -> Show {
        let find = |wanted| self.stills.iter().find(|(still, _)| *still == wanted);
        let found = find(wanted).or_else(|| find(Still::Supports));
        let drawing = found.map(|(_, drawing)| drawing.clone());
        Show::Still(Box::new(drawing.unwrap_or_default()))
    }

    /// One of the motions asked for, there and back.
    pub(super) fn swing(&self, index: usize) -> Show {
        Show::Swing(self.swings[index].clone())
    }
}

fn frames(film: &Film) -> Vec<Drawing> {
    let parts = film.parts(FRAMES).into_iter();
    parts.map(|part| film.at(part)).collect()
}
