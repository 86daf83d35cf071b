//! Runs panels by themselves, without a window, to see what they say and what clicks on them ask for.

use bevy_egui::egui::{self, Context, Event, Modifiers, PointerButton, Pos2, RawInput, Rect};

use crate::viewer::fonts;
use crate::viewer::intent::Intent;
use crate::wording::Phrase;

/// The texts that a panel draws, and where.
pub(crate) struct DrawnTexts(Vec<(String, Rect)>);

impl DrawnTexts {
    /// Whether a text contains this one.
    pub(crate) fn has(&self, text: &str) -> bool {
        self.0.iter().any(|(found, _)| found.contains(text))
    }

    /// How low a text reaches.
    pub(crate) fn bottom_of(&self, text: &str) -> Option<f32> {
        let found = self.0.iter().find(|(found, _)| found == text);
        found.map(|(_, rect)| rect.bottom())
    }

    fn middle_of(&self, text: &str) -> Option<Pos2> {
        let found = self.0.iter().find(|(found, _)| found == text);
        found.map(|(_, rect)| rect.center())
    }
}

/// The letters of a phrase as they are on the screen, with plain spaces.
pub(crate) fn written(phrase: &Phrase) -> String {
    let pieces = phrase.pieces();
    let letters: String = pieces.iter().map(|piece| piece.text.as_str()).collect();
    letters.replace('\u{a0}', " ")
}

/// What a panel writes.
pub(crate) fn text(mut panel: impl FnMut(&mut egui::Ui) -> Vec<Intent>) -> DrawnTexts {
    let ctx = context();
    // Some sizes are known only in the second pass.
    pass(&ctx, vec![], &mut panel);
    pass(&ctx, vec![], &mut panel).1
}

/// What a panel asks for when the text is clicked.
pub(crate) fn click(
    text: &str,
    mut panel: impl FnMut(&mut egui::Ui) -> Vec<Intent>,
) -> Vec<Intent> {
    let ctx = context();
    pass(&ctx, vec![], &mut panel);
    let (_, found) = pass(&ctx, vec![], &mut panel);
    let pos = found
        .middle_of(text)
        .unwrap_or_else(|| panic!("no \"{text}\" to click"));
    let button = |pressed| Event::PointerButton {
        pos,
        button: PointerButton::Primary,
        pressed,
        modifiers: Modifiers::NONE,
    };
    pass(&ctx, vec![Event::PointerMoved(pos)], &mut panel);
    let mut asked = pass(&ctx, vec![button(true)], &mut panel).0;
    asked.extend(pass(&ctx, vec![button(false)], &mut panel).0);
    asked
}

fn context() -> Context {
    let ctx = Context::default();
    fonts::install(&ctx);
    ctx
}

fn pass(
    ctx: &Context,
    events: Vec<Event>,
    panel: &mut impl FnMut(&mut egui::Ui) -> Vec<Intent>,
) -> (Vec<Intent>, DrawnTexts) {
    let screen = Rect::from_min_size(Pos2::ZERO, egui::vec2(900.0, 700.0));
    let input = RawInput {
        screen_rect: Some(screen),
        events,
        ..RawInput::default()
    };
    let mut asked = Vec::new();
    let mut output = ctx.run_ui(input, |ui| asked = panel(ui));
    output.textures_delta.clear();
    let texts = output
        .shapes
        .iter()
        .filter_map(|clipped| match &clipped.shape {
            egui::Shape::Text(text) => {
                let written = text.galley.text().replace('\u{a0}', " ");
                Some((written, text.visual_bounding_rect()))
            }
            _ => None,
        });
    (asked, DrawnTexts(texts.collect()))
}
