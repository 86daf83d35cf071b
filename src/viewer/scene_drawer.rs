//! The scenes to choose from, in a panel that slides in from the left.

use std::path::PathBuf;

use bevy_egui::egui::text::{CCursor, CCursorRange, LayoutJob, TextFormat};
use bevy_egui::egui::text_edit::TextEditState;
use bevy_egui::egui::{self, RichText, ScrollArea, Ui};

use super::intent::{FilePurpose, Intent, MakingIntent, SceneIntent};
use super::platform;
use super::previews::Previews;
use super::scene_list::{ListedScene, SceneList};
use super::state::Source;
use super::style::{DRAWER_FADE, colour32};
use crate::theme::Theme;

/// What the drawer shows.
pub(crate) struct SceneDrawer<'a> {
    /// The scenes.
    pub list: &'a SceneList,
    /// Their pictures and verdicts.
    pub previews: &'a Previews,
    /// The scene on the stage.
    pub current: Option<&'a Source>,
    /// Whether verdicts may be seen at all.
    pub shows_verdicts: bool,
}

/// Draws the list and a line for the path of a file; returns what was asked for.
pub(crate) fn scenes_ui(
    ui: &mut Ui,
    drawer: &SceneDrawer,
    path: &mut String,
    theme: &Theme,
) -> Vec<Intent> {
    let quiet = colour32(theme.quiet_ink);
    let mut intents = Vec::new();
    let id = ui.id().with("path");
    if drawer.current == Some(&Source::File(PathBuf::from(path.trim()))) {
        // It has been opened; the next one begins anew, and keys are shortcuts again.
        path.clear();
        ui.memory_mut(|memory| memory.surrender_focus(id));
    }
    ui.label(RichText::new("Scenes").heading());
    if platform::HAS_PATHS {
        intents.extend(path_ui(ui, id, path, theme));
    } else if ui.button("Open a scene file").clicked() {
        let ask = MakingIntent::AskForFile(FilePurpose::Open);
        intents.push(Intent::Making(ask));
    }
    ui.add_space(6.0);
    if drawer.shows_verdicts {
        let shows = drawer.list.shows_verdicts;
        let words = if shows {
            "Hide verdicts"
        } else {
            "Show verdicts"
        };
        if ui.button(words).clicked() {
            intents.push(Intent::Scene(SceneIntent::ShowVerdicts(!shows)));
        }
        ui.add_space(6.0);
    }
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        for group in drawer.list.groups() {
            ui.label(RichText::new(group.heading).color(quiet).size(14.0));
            for entry in group.entries {
                let chosen = Some(&entry.source) == drawer.current;
                if entry_ui(ui, drawer, entry, theme) && !chosen {
                    intents.push(Intent::Scene(SceneIntent::Open(entry.source.clone())));
                }
            }
            ui.add_space(8.0);
        }
        ui.add_space(DRAWER_FADE);
    });
    intents
}

/// The line for the path of a file; returns what is to be opened.
fn path_ui(ui: &mut Ui, id: egui::Id, path: &mut String, theme: &Theme) -> Option<Intent> {
    let quiet = colour32(theme.quiet_ink);
    let hint = RichText::new("Path of a file or folder, and Enter").color(quiet);
    let field = egui::TextEdit::singleline(path)
        .id(id)
        .hint_text(hint)
        .desired_width(f32::INFINITY);
    let field = ui.add(field);
    let entered = field.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
    if entered && !path.trim().is_empty() {
        let file = Source::File(PathBuf::from(path.trim()));
        // A path that leads nowhere is typed anew: its letters are no shortcuts.
        field.request_focus();
        select_all(ui, id, path);
        return Some(Intent::Scene(SceneIntent::Open(file)));
    }
    None
}

/// Size of the picture of a scene.
const PICTURE: egui::Vec2 = egui::vec2(76.0, 52.0);
/// Between the picture and its frame.
const MARGIN: f32 = 4.0;

/// One scene: its picture, its title and what becomes of it; `true` where it is clicked.
fn entry_ui(ui: &mut Ui, drawer: &SceneDrawer, entry: &ListedScene, theme: &Theme) -> bool {
    let chosen = Some(&entry.source) == drawer.current;
    let preview = drawer.previews.of(&entry.source);
    let mut words = LayoutJob::default();
    let ink = colour32(theme.ink);
    let body = egui::TextStyle::Body.resolve(ui.style());
    words.append(&entry.title, 0.0, TextFormat::simple(body, ink));
    let shows_verdicts = drawer.shows_verdicts && drawer.list.shows_verdicts;
    if let Some(preview) = preview.filter(|_| shows_verdicts) {
        let small = egui::FontId::proportional(14.0);
        let verdict = format!("\n{}", preview.verdict);
        let quiet = colour32(theme.quiet_ink);
        words.append(&verdict, 0.0, TextFormat::simple(small, quiet));
    }
    let width = ui.available_width() - 8.0;
    words.wrap.max_width = width - PICTURE.x - 4.0 * MARGIN;
    let galley = ui.fonts_mut(|fonts| fonts.layout_job(words));
    let height = galley.size().y.max(PICTURE.y) + 2.0 * MARGIN;
    let (rect, response) = ui.allocate_exact_size(egui::vec2(width, height), egui::Sense::click());
    let label =
        || egui::WidgetInfo::selected(egui::WidgetType::Button, true, chosen, galley.text());
    response.widget_info(label);
    if ui.is_rect_visible(rect) {
        let visuals = ui.style().interact_selectable(&response, chosen);
        if chosen || response.hovered() || response.has_focus() {
            ui.painter()
                .rect_filled(rect, visuals.corner_radius, visuals.weak_bg_fill);
        }
        let frame = egui::Rect::from_min_size(rect.min + egui::Vec2::splat(MARGIN), PICTURE);
        ui.painter()
            .rect_filled(frame, 3.0, colour32(theme.background));
        if let Some(picture) = preview.and_then(|preview| preview.picture.as_ref()) {
            picture.paint(ui.painter(), frame.shrink(MARGIN), theme);
        }
        let text = egui::pos2(
            frame.right() + 2.0 * MARGIN,
            rect.center().y - galley.size().y / 2.0,
        );
        ui.painter().galley(text, galley, ink);
    }
    response.clicked()
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

    #[test]
    fn a_click_opens_a_scene_but_not_the_one_shown() {
        let (list, previews) = (SceneList::default(), Previews::default());
        let theme = Theme::of(ThemeName::Hall);
        let entries: Vec<&ListedScene> = list.entries().take(2).collect();
        let drawer = SceneDrawer {
            list: &list,
            previews: &previews,
            current: Some(&entries[0].source),
            shows_verdicts: true,
        };
        let click = |title: &str| {
            testing::click(title, |ui| {
                scenes_ui(ui, &drawer, &mut String::new(), &theme)
            })
        };
        let opened = Intent::Scene(SceneIntent::Open(entries[1].source.clone()));
        assert_eq!(click(&entries[1].title), [opened]);
        assert_eq!(click(&entries[0].title), []);
        let hidden = Intent::Scene(SceneIntent::ShowVerdicts(false));
        assert_eq!(click("Hide verdicts"), [hidden]);
    }
}
