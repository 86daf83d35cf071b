//! A lesson in stages as one HTML page: each stage a slide with its figure, the motion as an animation.
//!
//! The page is self-contained: letters, figures and the few lines of script are inside, nothing is loaded.

mod html;
mod notes;
mod scenery;
mod slide;
mod stages;

pub use html::html;
pub use slide::{Deck, Show, Slide};

use super::FigureSettings;
use crate::motion::Selection;
use crate::study::Study;

/// Width of the figures of a deck, mm: narrow, so that their letters are large on a screen.
pub const DECK_MM: f64 = 84.0;

/// The deck of a scene: the stages of its lesson, with a slide for each of the motions given, at most six free ones and the escape,
/// none twice.
///
/// Of the settings it takes look, projection, case, and the motion that is drawn beside the reason.
///
/// # Panics
/// Where there is no such motion.
pub fn deck(study: &Study, settings: &FigureSettings, motions: &[Selection]) -> Deck {
    deck_watched(study, settings, motions, &mut || {})
}

/// As [`deck`]; `step` is called after each of the [`frames`], which are drawn after everything that stands still.
///
/// # Panics
/// As [`deck`].
pub fn deck_watched(
    study: &Study,
    settings: &FigureSettings,
    motions: &[Selection],
    step: &mut dyn FnMut(),
) -> Deck {
    stages::deck(study, settings, motions, step)
}

/// How many frames a deck of these motions has.
pub fn frames(motions: &[Selection]) -> usize {
    motions.len() * scenery::FRAMES
}
