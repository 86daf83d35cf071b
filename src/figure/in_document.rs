//! Figures of documents, with the title below them.

use super::{DrawingProgress, FigureSettings, draw_watched};
use crate::document::DocumentFigure;
use crate::statics::{CaseIndex, Model};
use crate::study::Study;
use crate::wording::{Phrase, phrase};

/// Width of figures in documents, mm, in which their letters have the size of the text, and height of what is drawn on them without
/// names and axes, so that they leave room for text on their page.
pub const IN_DOCUMENT_MM: [f64; 2] = [120.0, 96.0];

/// A figure of the parts, case and digits of the settings, with the first motion that there is, in a width and height in mm.
pub fn in_document(
    study: &Study,
    settings: FigureSettings,
    [width_mm, tallest_mm]: [f64; 2],
    watch: DrawingProgress,
) -> DocumentFigure {
    let there = study.selections(settings.case);
    let settings = FigureSettings {
        width_mm,
        tallest_mm: Some(tallest_mm),
        motion: there.first().copied().unwrap_or_default(),
        ..settings
    };
    DocumentFigure {
        drawing: draw_watched(study, &settings, watch),
        caption: caption(study.model(), settings.case),
    }
}

/// The title, and the load case where there are several.
fn caption(model: &Model, case: CaseIndex) -> Phrase {
    match model.cases.len() {
        1 => Phrase::from(&model.title),
        _ => phrase!(model.title, ": ", Phrase::name(&model.cases[case].name)),
    }
}
