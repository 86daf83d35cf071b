//! A lesson in stages as one HTML page: each stage a slide with its figure, the motion as an animation.
//!
//! The page is self-contained: letters, figures and the few lines of script are inside, nothing is loaded.

mod html;
mod scenery;
mod stages;

pub use html::html;
pub use stages::{Deck, Show, Slide};

use super::{FigureSettings, Subject};
use crate::motion::Selection;
use crate::statics::repair::Mending;

/// What a deck is made of.
#[derive(Debug, Clone, Copy)]
pub struct DeckSubject<'a> {
    /// The scene with what is known of it.
    pub subject: Subject<'a>,
    /// The links that would hold the body, with what is known of the scene that has them; `None` where it is held, or
    /// none were found.
    pub mending: Option<(&'a Mending, Subject<'a>)>,
}

/// Width of the figures of a deck, mm: narrow, so that their letters are large on a screen.
pub const DECK_MM: f64 = 84.0;

/// The deck of a scene, with a slide for each of the motions given: at most six free ones and the escape, none twice.
///
/// Of the settings it takes look, projection, case, and the motion that is drawn beside the reason.
///
/// # Panics
/// Where there is no such motion.
pub fn deck(subject: &DeckSubject, settings: &FigureSettings, motions: &[Selection]) -> Deck {
    stages::deck(subject, settings, motions)
}
