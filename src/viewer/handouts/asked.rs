//! Handouts that the page around the window makes.

use bevy::prelude::*;
use bevy_egui::egui::{self, RichText, Ui};

use super::Handout;
use crate::theme::Theme;
use crate::viewer::intent::{HandoutIntent, Intent, add_messages};
use crate::viewer::platform::browser::{self, WindowNews};
use crate::viewer::state::ViewerSystems;
use crate::viewer::style::colour32;

/// Passes on to the page what is to be taken home.
pub(crate) struct AskedHandoutsPlugin;

impl Plugin for AskedHandoutsPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<AskedHandouts>()
            .add_systems(Update, follow_intents.in_set(ViewerSystems::Input));
    }
}

/// What is being made is for the page to know.
#[derive(Resource, Default)]
pub(crate) struct AskedHandouts;

/// What the page makes, and by which of its words.
const MADE: [(Handout, &str, &str); 4] = [
    (Handout::Film, "gif", "The motion as a film (GIF)"),
    (Handout::Figure, "svg", "A line figure for print (SVG)"),
    (Handout::Report, "pdf", "The report (PDF)"),
    (Handout::Slides, "deck", "Slides for a browser (HTML)"),
];

fn follow_intents(mut intents: MessageReader<HandoutIntent>) {
    for intent in intents.read() {
        let what = match intent {
            HandoutIntent::CopyLink => Some("link"),
            HandoutIntent::Make(handout) => {
                let made = MADE.iter().find(|(made, ..)| made == handout);
                made.map(|(_, what, _)| *what)
            }
            // What the page makes it does not stop.
            HandoutIntent::Stop(_) => None,
        };
        if let Some(what) = what {
            browser::tell(&WindowNews::Handout { what });
        }
    }
}

/// Draws the drawer; returns what was asked for.
pub(crate) fn handouts_ui(
    ui: &mut Ui,
    _handouts: &AskedHandouts,
    (moves, releases): (bool, bool),
    theme: &Theme,
) -> Vec<Intent> {
    let quiet = colour32(theme.quiet_ink);
    let mut asked = Vec::new();
    ui.label(RichText::new("Handouts").heading());
    let mut note = "Each is made in this browser and saved as a download.".to_owned();
    if releases {
        note += " They are of the scene with all its reactions.";
    }
    ui.add(egui::Label::new(RichText::new(note).color(quiet)).wrap());
    ui.add_space(6.0);
    let mut row = |ui: &mut Ui, words: &str, intent: HandoutIntent| {
        let button = egui::Button::new(words).min_size(egui::vec2(ui.available_width(), 0.0));
        if ui.add(button.wrap()).clicked() {
            asked.push(Intent::Handout(intent));
        }
    };
    row(ui, "A link with this scene", HandoutIntent::CopyLink);
    for (handout, _, words) in MADE {
        if handout != Handout::Film || moves {
            row(ui, words, HandoutIntent::Make(handout));
        }
    }
    asked
}
