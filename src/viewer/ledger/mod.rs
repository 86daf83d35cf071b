//! The ledger at the right edge: the four numbers always, and on request the pages behind them.

mod analysis;
mod margin;
mod pages;
mod reactions;

use bevy_egui::egui::{self, FontId, Label, RichText, Ui, WidgetText};

use super::intent::{Intent, Panel, PanelIntent};
use super::rich;
use super::skin::{BOLD, colour32};
use crate::theme::Theme;
use crate::wording::{BigNumber, Phrase};

pub(crate) use pages::{Page, pages_ui};

/// Size of the figures.
const FIGURE: f32 = 62.0;

/// Draws n, rank, freedom and redundancy below each other; a click opens the pages.
pub(crate) fn figures_ui(ui: &mut Ui, numbers: &[BigNumber; 4], theme: &Theme) -> Vec<Intent> {
    ui.spacing_mut().item_spacing.y = 0.0;
    let each = ui.available_height() / 4.0;
    let mut intents = Vec::new();
    for number in numbers {
        let response = ui
            .allocate_ui(egui::vec2(ui.available_width(), each), |ui| {
                ui.set_min_height(each);
                ui.add_space(((each - FIGURE * 1.9) / 2.0).max(0.0));
                figure_ui(ui, number, theme);
            })
            .response
            .interact(egui::Sense::click());
        if response.clicked() {
            intents.push(Intent::Panel(PanelIntent::Toggle(Panel::Ledger)));
        }
    }
    intents
}

fn figure_ui(ui: &mut Ui, number: &BigNumber, theme: &Theme) {
    let colour = match (number.name, number.value) {
        ("freedom", 1..) => theme.motion,
        ("redundancy", 1..) => theme.group,
        _ => theme.ink,
    };
    let figure = RichText::new(number.value.to_string())
        .font(FontId::new(FIGURE, BOLD.clone()))
        .color(colour32(colour));
    let name = RichText::new(number.name)
        .size(17.0)
        .color(colour32(theme.ink));
    let font = FontId::proportional(15.0);
    let symbol = rich::line(&number.symbol, &font, colour32(theme.quiet_ink));
    ui.vertical_centered(|ui| {
        let texts: [WidgetText; 3] = [figure.into(), name.into(), symbol.into()];
        for text in texts {
            ui.add(
                Label::new(text)
                    .selectable(false)
                    .sense(egui::Sense::hover()),
            );
        }
    });
}

/// A phrase that wraps.
fn say(ui: &mut Ui, text: impl Into<Phrase>, theme: &Theme) {
    let font = FontId::proportional(16.5);
    ui.add(Label::new(rich::line(&text.into(), &font, colour32(theme.ink))).wrap());
}

/// The same, less loud.
fn whisper(ui: &mut Ui, text: impl Into<Phrase>, theme: &Theme) {
    let font = FontId::proportional(15.0);
    ui.add(Label::new(rich::line(&text.into(), &font, colour32(theme.quiet_ink))).wrap());
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::theme::ThemeName;
    use crate::viewer::panels::testing;

    fn numbers() -> [BigNumber; 4] {
        [
            ("unknowns", "n", 6),
            ("rank", "r", 5),
            ("freedom", "6 − r", 1),
            ("redundancy", "n − r", 1),
        ]
        .map(|(name, symbol, value)| BigNumber {
            name,
            symbol: symbol.into(),
            value,
        })
    }

    #[test]
    fn the_four_numbers_are_written_with_their_names() {
        let theme = Theme::of(ThemeName::Hall);
        let found = testing::text(|ui| figures_ui(ui, &numbers(), &theme));
        for text in ["6", "5", "1", "unknowns", "rank", "freedom", "redundancy"] {
            assert!(found.has(text), "{text}");
        }
    }

    #[test]
    fn a_click_on_a_number_opens_the_pages() {
        let theme = Theme::of(ThemeName::Hall);
        let asked = testing::click("5", |ui| figures_ui(ui, &numbers(), &theme));
        assert_eq!(asked, [Intent::Panel(PanelIntent::Toggle(Panel::Ledger))]);
    }
}
