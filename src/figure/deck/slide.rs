//! A deck: slides with what each says and shows.

use crate::drawing::Drawing;
use crate::wording::{BigNumber, Phrase};

/// A lesson.
#[derive(Debug, Clone)]
pub struct Deck {
    /// Title of the scene.
    pub title: String,
    /// Notes of the scene: for the speaker, since they may give the answer away.
    pub notes: String,
    /// The slides in order.
    pub slides: Vec<Slide>,
}

/// A stage of the lesson.
#[derive(Debug, Clone)]
pub struct Slide {
    /// Its name in the address of the page.
    pub name: &'static str,
    /// What it asks or says.
    pub heading: Phrase,
    /// Sentences beside the figure.
    pub sentences: Vec<Phrase>,
    /// Figures as numbers, large.
    pub numbers: Vec<BigNumber>,
    /// What it shows.
    pub show: Show,
    /// What the speaker wants to be reminded of, never shown on the slide; empty where there is nothing.
    pub note: String,
}

/// What a slide shows.
#[derive(Debug, Clone)]
pub enum Show {
    /// A figure.
    Still(Box<Drawing>),
    /// One swing, there and back.
    Swing(Vec<Drawing>),
}
