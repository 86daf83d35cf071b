//! The scenes to choose from, in a panel that slides in from the left.

use std::path::PathBuf;

use bevy_egui::egui::text::{CCursor, CCursorRange};
use bevy_egui::egui::text_edit::TextEditState;
use bevy_egui::egui::{self, RichText, ScrollArea, Ui};

use super::intent::{Intent, SceneIntent};
use super::skin::colour32;
use super::state::Source;
use crate::theme::Theme;

/// A scene in the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Entry {
    /// What opens it.
    pub source: Source,
    /// Its title.
    pub title: String,
}

/// Draws the list and a line for the path of a file; returns what was asked for.
pub(crate) fn scenes_ui(
    ui: &mut Ui,
    entries: &[Entry],
    current: Option<&Source>,
    path: &mut String,
    theme: &Theme,
) -> Vec<Intent> {
    let quiet = colour32(theme.quiet_ink);
    let mut intents = Vec::new();
    let id = ui.id().with("path");
    if current == Some(&Source::File(PathBuf::from(path.trim()))) {
        // It has been opened; the next one begins anew, and keys are shortcuts again.
        path.clear();
        ui.memory_mut(|memory| memory.surrender_focus(id));
    }
    ui.label(RichText::new("Scenes").heading());
    let hint = RichText::new("A file: drop it here, or its path and Enter").color(quiet);
    let field = egui::TextEdit::singleline(path)
        .id(id)
        .hint_text(hint)
        .desired_width(f32::INFINITY);
    let field = ui.add(field);
    let entered = field.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
    if entered && !path.trim().is_empty() {
        let file = Source::File(PathBuf::from(path.trim()));
        intents.push(Intent::Scene(SceneIntent::Open(file)));
        // A path that leads nowhere is typed anew: its letters are no shortcuts.
        field.request_focus();
        select_all(ui, id, path);
    }
    ui.add_space(6.0);
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        for entry in entries {
            let chosen = Some(&entry.source) == current;
            let button = egui::Button::selectable(chosen, &entry.title)
                .wrap()
                .min_size(egui::vec2(ui.available_width() - 8.0, 0.0));
            let response = ui.add(button);
            if response.clicked() && !chosen {
                intents.push(Intent::Scene(SceneIntent::Open(entry.source.clone())));
            }
        }
    });
    intents
}

/// Selects the whole text of a field.
pub(crate) fn select_all(ui: &Ui, field: egui::Id, text: &str) {
    let mut state = TextEditState::load(ui.ctx(), field).unwrap_or_default();
    let ends = [0, text.chars().count()].map(CCursor::new);
    let all = CCursorRange::two(ends[0], ends[1]);
    state.cursor.set_char_range(Some(all));
    state.store(ui.ctx(), field);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::theme::ThemeName;
    use crate::viewer::panels::testing;

    fn entries() -> Vec<Entry> {
        ["Handrail", "Roof hatch"]
            .map(|title| Entry {
                source: Source::File(title.into()),
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
                scenes_ui(ui, &entries, Some(&current), &mut String::new(), &theme)
            })
        };
        assert_eq!(
            click("Roof hatch"),
            [Intent::Scene(SceneIntent::Open(entries[1].source.clone()))]
        );
        assert_eq!(click("Handrail"), []);
    }
}
