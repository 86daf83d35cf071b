//! Puts the panels together around the scene, and passes on what they are asked for.

mod contents;
mod frames;
mod open;
#[cfg(test)]
pub(crate) mod testing;

use bevy::prelude::*;
use bevy_egui::egui::{self, Align2, Id, Margin, UiBuilder};
use bevy_egui::{EguiContexts, EguiPrimaryContextPass};

use super::camera::{Covered, FreeArea};
use super::caption::caption_ui;
use super::handouts::handouts_ui;
use super::intent::{Intent, Intents, add_messages};
use super::ledger::{HiddenNumbers, LedgerPage, figures_ui, pages_ui};
use super::making::{add_ui, form_ui, is_silent};
use super::notice::{keys_ui, trouble_ui};
use super::practising::{self, Practising};
use super::redraw::FramesToDraw;
use super::scene_drawer::{SceneDrawer, scenes_ui};
use super::state::{PanelSystems, ViewerSystems};
use super::style::{colour32, panel_frame};
use crate::theme::Theme;
use crate::wording;
use contents::Contents;
use frames::{FADE, edge, fade_above, over_foot_ui, side_ui};
pub(crate) use open::OpenPanels;
use open::{FIGURES_WIDTH, LEDGER_WIDTH, SCENES_WIDTH};

/// Draws every panel.
pub(crate) struct PanelsPlugin;

impl Plugin for PanelsPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<OpenPanels>()
            .init_resource::<FreeArea>()
            .init_resource::<Covered>()
            .add_systems(
                Update,
                (open::follow_intents, open::want_previews)
                    .chain()
                    .in_set(ViewerSystems::Input),
            )
            .add_systems(
                EguiPrimaryContextPass,
                show_panels.in_set(PanelSystems::Panels),
            );
    }
}

fn show_panels(
    mut contexts: EguiContexts,
    contents: Contents,
    mut open: ResMut<OpenPanels>,
    (mut free, mut covered): (ResMut<FreeArea>, ResMut<Covered>),
    mut frames: ResMut<FramesToDraw>,
    mut intents: Intents,
) -> Result {
    let ctx = contexts.ctx_mut()?.clone();
    let mut ui = egui::Ui::new(
        ctx.clone(),
        Id::new("window"),
        UiBuilder::new()
            .layer_id(egui::LayerId::background())
            .max_rect(ctx.viewport_rect()),
    );
    let mut state = open.clone();
    state.make_room(ctx.viewport_rect().width());
    let (asked, area, line) = edges_ui(&mut ui, &contents, &mut state);
    open.set_if_neq(state);
    let zoom = ctx.zoom_factor();
    let in_window = |area: egui::Rect| {
        let corners = [area.min, area.max].map(|at| Vec2::new(at.x, at.y) * zoom);
        Rect::from_corners(corners[0], corners[1])
    };
    covered.set_if_neq(Covered(line.map_or_else(Rect::default, in_window)));
    let area = FreeArea(in_window(area));
    // While a link is pulled the picture stays under the hand, whatever the caption grows to.
    let dragged = contents
        .editor
        .as_ref()
        .is_some_and(|editor| editor.holds_pointer());
    if !contents.drawing.holds_pointer() && !dragged && free.set_if_neq(area) {
        frames.until_settled();
    }
    for intent in asked {
        intents.send(intent);
    }
    Ok(())
}

/// The panels at the edges, from the outside in; what remains is the scene's. The line that says what is in hand lies over
/// the scene, which must not move under the pointer when it comes and goes; where it lies comes last.
fn edges_ui(
    ui: &mut egui::Ui,
    contents: &Contents,
    open: &mut OpenPanels,
) -> (Vec<Intent>, egui::Rect, Option<egui::Rect>) {
    let theme = Theme::of(contents.look.theme);
    let mut asked = right_edge_ui(ui, contents, &mut open.ledger, &theme);
    let drawer = SceneDrawer {
        list: &contents.scenes,
        previews: &contents.previews,
        current: contents.shown.read().source(),
        shows_verdicts: !contents.keeps_secrets(),
    };
    let (shown, path) = (&mut open.scenes, &mut open.path);
    let scenes = egui::Panel::left("scenes");
    side_ui(ui, scenes, SCENES_WIDTH, shown, &theme, |ui| {
        asked.extend(scenes_ui(ui, &drawer, path, &theme));
    });
    let add = egui::Panel::left("add");
    let scene = contents.shown.read().written.scene();
    side_ui(ui, add, SCENES_WIDTH, &mut open.add, &theme, |ui| {
        asked.extend(add_ui(ui, scene));
    });
    if let Some(handouts) = &contents.handouts {
        let panel = egui::Panel::left("handouts");
        let shown = contents.shown.read();
        let subject = (shown.course().is_some(), !shown.released().is_empty());
        side_ui(ui, panel, SCENES_WIDTH, &mut open.handouts, &theme, |ui| {
            asked.extend(handouts_ui(ui, handouts, subject, &theme));
        });
    }
    let foot = panel_frame(&theme).fill(colour32(theme.background));
    let across = ui.available_rect_before_wrap().x_range();
    let caption = edge(egui::Panel::bottom("caption"), foot).show(ui, |ui| {
        asked.extend(caption_ui(
            ui,
            &contents.caption(),
            &contents.playback,
            &theme,
        ));
    });
    let top = caption.response.rect.top();
    fade_above(ui, across, top, FADE, colour32(theme.background));
    if let Some(message) = &contents.trouble.message {
        let panel = edge(egui::Panel::top("trouble"), panel_frame(&theme));
        panel.show(ui, |ui| trouble_ui(ui, message, &theme));
    }
    let mut area = ui.available_rect_before_wrap();
    let mut line = None;
    let practising = contents.practising.as_deref();
    if let Some(practising) = practising.filter(|practising| practising.is_on()) {
        let shown = contents.shown.read();
        let subject = (shown.written, shown.trial);
        let (intents, rect) = over_foot_ui(ui, "questions", area, &theme, |ui| {
            practising::line_ui(ui, practising, subject, &theme)
        });
        asked.extend(intents);
        line = Some(rect);
        // It is there as long as questions are asked, so nothing of the scene is to lie under it.
        area.max.y = area.max.y.min(rect.min.y);
    } else if let (Some(editor), Some(files)) = (&contents.editor, &contents.files)
        && !is_silent(editor, files)
    {
        let (intents, rect) = over_foot_ui(ui, "making", area, &theme, |ui| {
            form_ui(ui, editor, files, &theme)
        });
        asked.extend(intents);
        line = Some(rect);
    }
    if open.keys {
        asked.extend(overlay_ui(ui, &theme));
    }
    (asked, area, line)
}

/// The ledger: its figures, and its pages where they are open.
fn right_edge_ui(
    ui: &mut egui::Ui,
    contents: &Contents,
    open: &mut bool,
    theme: &Theme,
) -> Vec<Intent> {
    let mut asked = Vec::new();
    let shown = contents.shown.read();
    let numbers = wording::big_numbers(shown.study.model().space, shown.study.diagnosis());
    let mut veil = contents
        .unveiling
        .as_ref()
        .map_or_else(HiddenNumbers::default, |unveiling| HiddenNumbers {
            seen: unveiling.numbers(),
            guess: unveiling.guess_to_show(),
            smallest: None,
        });
    let dragged = contents.editor.as_ref();
    if dragged.is_some_and(|editor| editor.holds_pointer()) {
        let values = wording::clean_singular_values(shown.study.diagnosis());
        veil.smallest = values.last().copied();
    }
    let practising = contents.practising.as_deref();
    if let Some(seen) = practising.and_then(Practising::numbers) {
        veil.seen = seen;
    }
    // Its pages give the answers away.
    *open &= !contents.keeps_secrets();
    let slim = panel_frame(theme).inner_margin(Margin::symmetric(6, 10));
    edge(egui::Panel::right("figures"), slim)
        .exact_size(FIGURES_WIDTH)
        .show(ui, |ui| {
            asked.extend(figures_ui(ui, &numbers, &veil, theme))
        });
    let page = LedgerPage {
        shown: &shown,
        playback: &contents.playback,
        look: &contents.look,
    };
    let pages = egui::Panel::right("ledger");
    side_ui(ui, pages, LEDGER_WIDTH, open, theme, |ui| {
        asked.extend(pages_ui(ui, &page));
    });
    asked
}

fn overlay_ui(ui: &egui::Ui, theme: &Theme) -> Vec<Intent> {
    let area = egui::Area::new(Id::new("keys"))
        .anchor(Align2::CENTER_CENTER, egui::Vec2::ZERO)
        .order(egui::Order::Foreground);
    let frame = panel_frame(theme)
        .stroke(egui::Stroke::new(1.0, colour32(theme.quiet_ink)))
        .corner_radius(6);
    area.show(ui.ctx(), |ui| frame.show(ui, |ui| keys_ui(ui, theme)).inner)
        .inner
}
