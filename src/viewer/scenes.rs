//! The scenes to choose from, in a panel that slides in from the left.

use std::path::PathBuf;

use bevy_egui::egui::{self, RichText, ScrollArea, Ui};

use super::intent::Intent;
use super::skin::colour32;
use super::state::Source;
use crate::theme::Theme;

/// A scene in the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// What opens it.
    pub source: Source,
    /// Its title.
    pub title: String,
}

/// Draws the list and a line for the path of a file; returns what was asked for.
pub fn scenes_ui(
    ui: &mut Ui,
    entries: &[Entry],
    current: &Source,
    path: &mut String,
    theme: &Theme,
) -> Vec<Intent> {
    let quiet = colour32(theme.quiet_ink);
    let mut intents = Vec::new();
    if *current == Source::File(PathBuf::from(path.trim())) {
        // It has been opened; the next one begins anew.
        path.clear();
    }
    ui.label(RichText::new("Scenes").heading());
    let hint = RichText::new("A file: drop it here, or its path and Enter").color(quiet);
    let field = egui::TextEdit::singleline(path)
        .hint_text(hint)
        .desired_width(f32::INFINITY);
    let field = ui.add(field);
    let entered = field.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
    if entered && !path.trim().is_empty() {
        intents.push(Intent::Open(Source::File(PathBuf::from(path.trim()))));
    }
    ui.add_space(6.0);
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        for entry in entries {
            let chosen = entry.source == *current;
            let button = egui::Button::selectable(chosen, &entry.title)
                .wrap()
                .min_size(egui::vec2(ui.available_width() - 8.0, 0.0));
            let response = ui.add(button);
            if response.clicked() && !chosen {
                intents.push(Intent::Open(entry.source.clone()));
            }
        }
    });
    intents
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::theme::ThemeName;
    use crate::viewer::panels::testing;

    fn entries() -> Vec<Entry> {
        ["Handrail", "Roof hatch"]
            .map(|title| Entry {
                source: Source::BuiltIn(title.to_lowercase()),
                title: title.to_owned(),
            })
            .to_vec()
    }

    #[test]
    fn a_click_opens_a_scene_but_not_the_one_shown() {
        let (entries, theme) = (entries(), Theme::of(ThemeName::Hall));
        let current = entries[0].source.clone();
        let click = |title: &str| {
            testing::click(title, |ui| {
                scenes_ui(ui, &entries, &current, &mut String::new(), &theme)
            })
        };
        assert_eq!(
            click("Roof hatch"),
            [Intent::Open(entries[1].source.clone())]
        );
        assert_eq!(click("Handrail"), []);
    }
}
