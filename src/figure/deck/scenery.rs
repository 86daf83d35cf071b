//! The drawings of a deck: all on one page, so that nothing jumps from slide to slide.

use nalgebra::Isometry3;

use super::super::film::{Film, MOVING};
use super::super::series::{PageSize, Series};
use super::super::stage::{Stage, with_one_view};
use super::super::{FigurePart, FigureSettings};
use super::DECK_MM;
use super::slide::Show;
use crate::drawing::{Drawing, POINTS_PER_MM};
use crate::motion::Selection;
use crate::scene::LessonStage;
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
pub(super) const FRAMES: usize = 36;
/// Greatest height of what is drawn, relative to the width: the shape of the room that a slide has for its figure.
const TALLEST: f64 = 0.66;

impl Still {
    /// All of them, in the order in which a page is laid out.
    const ALL: [Self; 7] = [
        Self::Body,
        Self::Loads,
        Self::Supports,
        Self::Reactions,
        Self::Reason,
        Self::Carried,
        Self::Mended,
    ];

    /// Whether some stage of a lesson may show it.
    fn is_in(self, stages: &[LessonStage]) -> bool {
        let of = |stage: &LessonStage| match stage {
            LessonStage::Body => self == Self::Body,
            LessonStage::Loads => self == Self::Loads,
            LessonStage::Supports => self == Self::Supports,
            LessonStage::Reactions | LessonStage::Count | LessonStage::Rank => {
                self == Self::Reactions
            }
            LessonStage::Reason => self == Self::Reason,
            LessonStage::Motion => matches!(self, Self::Supports | Self::Carried),
            LessonStage::Mend => matches!(self, Self::Supports | Self::Reactions | Self::Mended),
        };
        stages.iter().any(of)
    }

    fn parts(self, stages: &[LessonStage]) -> &'static [FigurePart] {
        match self {
            Self::Body => &[FigurePart::Body, FigurePart::Triad],
            Self::Loads if comes_before(stages, LessonStage::Supports, LessonStage::Loads) => &[
                FigurePart::Body,
                FigurePart::Supports,
                FigurePart::Behind,
                FigurePart::Loads,
                FigurePart::Names,
                FigurePart::Triad,
            ],
            Self::Loads => &[FigurePart::Body, FigurePart::Loads, FigurePart::Triad],
            Self::Supports | Self::Mended => &[
                FigurePart::Body,
                FigurePart::Supports,
                FigurePart::Behind,
                FigurePart::Names,
                FigurePart::Triad,
            ],
            Self::Reactions => &[
                FigurePart::Body,
                FigurePart::Supports,
                FigurePart::Behind,
                FigurePart::Reactions,
                FigurePart::Names,
                FigurePart::Triad,
            ],
            Self::Carried => &[
                FigurePart::Body,
                FigurePart::Supports,
                FigurePart::Behind,
                FigurePart::Loads,
                FigurePart::Reactions,
                FigurePart::Values,
                FigurePart::Names,
                FigurePart::Triad,
            ],
            Self::Reason => &[
                FigurePart::Body,
                FigurePart::Supports,
                FigurePart::Behind,
                FigurePart::Reactions,
                FigurePart::Axis,
                FigurePart::Motion,
                FigurePart::Names,
                FigurePart::Triad,
            ],
        }
    }
}

/// Whether one stage of a lesson comes before another.
fn comes_before(stages: &[LessonStage], one: LessonStage, other: LessonStage) -> bool {
    let mut before = stages.iter().take_while(|stage| **stage != other);
    before.any(|stage| *stage == one)
}

/// Whether the body is held under the load case of a deck, and there is a load.
pub(super) fn carries(diagnosis: &Diagnosis, settings: &FigureSettings) -> bool {
    let case = diagnosis.cases.get(settings.case);
    diagnosis.is_held() && case.is_some_and(|case| case.loaded)
}

impl Scenery {
    /// The drawings of the stages of a lesson, and a swing for each of the motions asked for; `step` is called after each frame
    /// of these.
    pub(super) fn new(
        study: &Study,
        settings: &FigureSettings,
        motions: &[Selection],
        stages: &[LessonStage],
        step: &mut dyn FnMut(),
    ) -> Self {
        let settings = &with_one_view(study, settings);
        let mends = stages.contains(&LessonStage::Mend);
        let mended = mends.then(|| study.repaired()).flatten();
        let showing = |parts: &[FigurePart]| FigureSettings {
            width_mm: DECK_MM,
            parts: parts.iter().copied().collect(),
            // The escape has a slide of its own; the reason is about what stops the free motions.
            motion: match settings.motion {
                Selection::Escape => Selection::default(),
                free => free,
            },
            ..settings.clone()
        };
        let study_of = |still| match still {
            Still::Mended => mended.as_ref(),
            Still::Carried if !carries(study.diagnosis(), settings) => None,
            _ => Some(study),
        };
        let stills = Still::ALL.into_iter().filter(|still| still.is_in(stages));
        let drawn: Vec<(Still, &Study, FigureSettings)> = stills
            .filter_map(|still| Some((still, study_of(still)?, showing(still.parts(stages)))))
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
        let paper = PageSize {
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
            swings: films.map(|film| frames(&film, step)).collect(),
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

fn frames(film: &Film, step: &mut dyn FnMut()) -> Vec<Drawing> {
    let parts = film.parts(FRAMES).into_iter();
    let drawn = |part| {
        let frame = film.at(part);
        step();
        frame
    };
    parts.map(drawn).collect()
}
