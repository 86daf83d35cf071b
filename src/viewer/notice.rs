//! Overlays: what is wrong with the file, and the list of keys.

use bevy_egui::egui::{self, FontId, Grid, RichText, ScrollArea, Stroke, Ui};

use super::intent::{Intent, Panel, PanelIntent};
use super::keys::KEYS;
use super::style::{BOLD, colour32};
use crate::theme::Theme;

/// Tallest that the list of problems grows before it scrolls.
const PROBLEMS_HEIGHT: f32 = 190.0;

/// What stands around the list of keys: its heading, the line on the mouse, the button and the edges.
const AROUND_KEYS: f32 = 170.0;

/// Says what is wrong while the last good picture stays.
pub(crate) fn trouble_ui(ui: &mut Ui, message: &str, theme: &Theme) {
    let error = colour32(theme.error);
    // A bar beside the words, so that the message does not rest on its colour.
    let bar = ui.max_rect().left_top();
    let lead = RichText::new("This cannot be shown. The picture is the last good one.");
    ui.label(lead.font(FontId::new(21.0, BOLD.clone())).color(error));
    ScrollArea::vertical()
        .max_height(PROBLEMS_HEIGHT)
        // Else it would make do with what the panel had before there was a message.
        .min_scrolled_height(PROBLEMS_HEIGHT)
        .show(ui, |ui| {
            for paragraph in message.lines() {
                let ink = colour32(theme.ink);
                ui.add(egui::Label::new(RichText::new(paragraph).size(16.0).color(ink)).wrap());
            }
        });
    let foot = egui::pos2(bar.x, ui.min_rect().bottom());
    let shift = egui::vec2(10.0, 0.0);
    ui.painter()
        .line_segment([bar - shift, foot - shift], Stroke::new(4.0, error));
}

/// Lists the keys.
pub(crate) fn keys_ui(ui: &mut Ui, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    ui.label(RichText::new("Keys").heading());
    let grid = |ui: &mut Ui| {
        for (keys, what) in KEYS {
            ui.label(RichText::new(keys).family(BOLD.clone()));
            ui.label(what);
            ui.end_row();
        }
    };
    // In large letters the list is longer than a small window.
    let height = (ui.ctx().content_rect().height() - AROUND_KEYS).max(PROBLEMS_HEIGHT);
    ScrollArea::vertical().max_height(height).show(ui, |ui| {
        Grid::new("keys")
            .num_columns(2)
            .spacing([26.0, 2.0])
            .show(ui, grid)
    });
    ui.add_space(6.0);
    let hand = "Drag to turn, drag with the right button or with Shift to shift, wheel to zoom.";
    ui.add(egui::Label::new(RichText::new(hand).color(colour32(theme.quiet_ink))).wrap());
    if ui.button("Close").clicked() {
        intents.push(Intent::Panel(PanelIntent::Toggle(Panel::Keys)));
    }
    intents
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::theme::ThemeName;
    use crate::viewer::panels::testing;

    #[test]
    fn trouble_is_told_whole_and_says_what_the_picture_is() {
        let theme = Theme::of(ThemeName::Hall);
        let found = testing::text(|ui| {
            trouble_ui(ui, "scene.ron:3:5: error: x\n    hint: y", &theme);
            Vec::new()
        });
        assert!(found.has("scene.ron:3:5: error: x"));
        assert!(found.has("The picture is the last good one."));
    }

    #[test]
    fn the_list_of_keys_can_be_closed() {
        let theme = Theme::of(ThemeName::Stark);
        let asked = testing::click("Close", |ui| keys_ui(ui, &theme));
        assert_eq!(asked, [Intent::Panel(PanelIntent::Toggle(Panel::Keys))]);
    }
}
