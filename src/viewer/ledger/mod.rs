//! The ledger at the right edge: the four numbers always, and on request the pages behind them.

mod analysis;
mod chapters;
mod designing;
mod equations;
mod largest;
mod margin;
mod pages;
mod reactions;
mod springs;

use bevy_egui::egui::{self, FontId, Label, RichText, Ui, WidgetText};

use super::intent::{Intent, Panel, PanelIntent};
use super::rich_text;
use super::style::{BOLD, colour32};
use crate::theme::Theme;
use crate::wording::{self, BigNumber, Phrase, Symbol, phrase};

pub(crate) use pages::{LedgerPage, pages_ui};

/// Size of the figures, of their names and of their symbols, where there is room.
const FIGURE: f32 = 62.0;
const NAME: f32 = 17.0;
const SYMBOL: f32 = 15.0;
/// Height that a figure takes with its name and symbol.
const BLOCK: f32 = 1.34 * (FIGURE + NAME + SYMBOL);

/// What of the numbers a class has not seen yet, and what is said beside them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct HiddenNumbers {
    /// Which of the four can be seen.
    pub(crate) seen: [bool; 4],
    /// What the class guessed the freedom to be.
    pub(crate) guess: Option<usize>,
    /// The smallest singular value, while something is dragged: how near the rank is to falling.
    pub(crate) smallest: Option<f64>,
}

impl Default for HiddenNumbers {
    fn default() -> Self {
        Self {
            seen: [true; 4],
            guess: None,
            smallest: None,
        }
    }
}

/// Draws n, rank, freedom and redundancy below each other; a click opens the pages.
pub(crate) fn figures_ui(
    ui: &mut Ui,
    numbers: &[BigNumber; 4],
    veil: &HiddenNumbers,
    theme: &Theme,
) -> Vec<Intent> {
    ui.spacing_mut().item_spacing.y = 0.0;
    let each = ui.available_height() / 4.0;
    let scale = (each / BLOCK).min(1.0);
    let mut intents = Vec::new();
    for (number, seen) in numbers.iter().zip(veil.seen) {
        let response = ui
            .allocate_ui(egui::vec2(ui.available_width(), each), |ui| {
                ui.set_min_height(each);
                ui.add_space(((each - scale * BLOCK) / 2.0).max(0.0));
                let smallest = veil.smallest.filter(|_| number.name == "rank" && seen);
                let number = &BigNumber {
                    symbol: beside(&number.symbol, smallest),
                    ..number.clone()
                };
                figure_ui(ui, number, (seen, scale), theme);
                if let ("freedom", Some(guess)) = (number.name, veil.guess) {
                    ui.vertical_centered(|ui| ui.label(format!("your guess: {guess}")));
                }
            })
            .response
            .interact(egui::Sense::click());
        if response.clicked() {
            intents.push(Intent::Panel(PanelIntent::Toggle(Panel::Ledger)));
        }
    }
    intents
}

fn figure_ui(ui: &mut Ui, number: &BigNumber, (seen, scale): (bool, f32), theme: &Theme) {
    let colour = match (number.name, number.value) {
        _ if !seen => theme.quiet_ink,
        ("freedom", 1..) => theme.motion,
        ("redundancy", 1..) => theme.group,
        _ => theme.ink,
    };
    let value = if seen {
        number.value.to_string()
    } else {
        "\u{2013}".to_owned()
    };
    let figure = RichText::new(value)
        .font(FontId::new(scale * FIGURE, BOLD.clone()))
        .color(colour32(colour));
    let name = RichText::new(number.name)
        .size(scale * NAME)
        .color(colour32(theme.ink));
    let font = FontId::proportional(scale * SYMBOL);
    let symbol = rich_text::line(&number.symbol, &font, colour32(theme.quiet_ink));
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

/// The symbol of a number with the smallest singular value in the same line, where nothing has to make room for it.
fn beside(symbol: &Phrase, smallest: Option<f64>) -> Phrase {
    let Some(smallest) = smallest else {
        return symbol.clone();
    };
    let sigma = Symbol {
        label: "min".to_owned(),
        ..Symbol::plain("σ")
    };
    let value = wording::rounded(smallest, 2);
    phrase!(symbol.clone(), ",  ", sigma, " = ", value)
}

/// A phrase that wraps.
fn say(ui: &mut Ui, text: impl Into<Phrase>, theme: &Theme) {
    let font = FontId::proportional(16.5);
    ui.add(Label::new(rich_text::line(&text.into(), &font, colour32(theme.ink))).wrap());
}

/// The same, less loud.
fn whisper(ui: &mut Ui, text: impl Into<Phrase>, theme: &Theme) {
    let font = FontId::proportional(15.0);
    ui.add(
        Label::new(rich_text::line(
            &text.into(),
            &font,
            colour32(theme.quiet_ink),
        ))
        .wrap(),
    );
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
        let found =
            testing::text(|ui| figures_ui(ui, &numbers(), &HiddenNumbers::default(), &theme));
        for text in ["6", "5", "1", "unknowns", "rank", "freedom", "redundancy"] {
            assert!(found.has(text), "{text}");
        }
    }

    /// While something is dragged, and of nothing that a class has not seen.
    #[test]
    fn the_smallest_singular_value_stands_beside_the_symbol_of_the_rank() {
        let theme = Theme::of(ThemeName::Hall);
        let written = |seen: bool, smallest: Option<f64>| {
            let veil = HiddenNumbers {
                seen: [seen; 4],
                smallest,
                ..HiddenNumbers::default()
            };
            testing::text(|ui| figures_ui(ui, &numbers(), &veil, &theme)).has("0.031")
        };
        assert!(written(true, Some(0.0312)));
        assert!(!written(false, Some(0.0312)));
        assert!(!written(true, None));
    }

    /// Large letters in a low window cut the fourth number off.
    #[test]
    fn all_four_numbers_are_there_however_low_the_window_is() {
        let theme = Theme::of(ThemeName::Hall);
        for height in [200.0, 330.0, 700.0] {
            let found = testing::text(|ui| {
                ui.set_max_height(height);
                let area = egui::Rect::from_min_size(ui.min_rect().min, egui::vec2(130.0, height));
                let numbers = numbers();
                let mut column = ui.new_child(egui::UiBuilder::new().max_rect(area));
                figures_ui(&mut column, &numbers, &HiddenNumbers::default(), &theme)
            });
            let lowest = found.bottom_of("n \u{2212} r").unwrap();
            assert!(lowest <= height + 12.0, "{lowest} in {height}");
        }
    }

    #[test]
    fn a_click_on_a_number_opens_the_pages() {
        let theme = Theme::of(ThemeName::Hall);
        let asked = testing::click("5", |ui| {
            figures_ui(ui, &numbers(), &HiddenNumbers::default(), &theme)
        });
        assert_eq!(asked, [Intent::Panel(PanelIntent::Toggle(Panel::Ledger))]);
    }
}
