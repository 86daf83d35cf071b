//! The kinds of panel: at an edge, sliding in from a side, over the foot of the picture.

use bevy_egui::egui::{self, Align2, Id};

use crate::theme::Theme;
use crate::viewer::intent::Intent;
use crate::viewer::style::{DRAWER_FADE, colour32, panel_foot, panel_frame, veil};

/// Height over which the picture fades into the caption.
pub(super) const FADE: f32 = 56.0;
const FADE_STEPS: u32 = 12;

/// A panel that keeps its size and has no line at its edge.
pub(super) fn edge(panel: egui::Panel, frame: egui::Frame) -> egui::Panel {
    panel
        .resizable(false)
        .show_separator_line(false)
        .frame(frame)
}

/// Lets the picture fade into the panel below it instead of being cut off.
pub(super) fn fade_above(
    ui: &egui::Ui,
    across: egui::Rangef,
    top: f32,
    height: f32,
    colour: egui::Color32,
) {
    let mut mesh = egui::Mesh::default();
    for step in 0..=FADE_STEPS {
        let share = step as f32 / FADE_STEPS as f32;
        let y = top - height * (1.0 - share);
        let faded = veil(colour, share * share * (3.0 - 2.0 * share));
        mesh.colored_vertex(egui::pos2(across.min, y), faded);
        mesh.colored_vertex(egui::pos2(across.max, y), faded);
        if step > 0 {
            let last = 2 * step;
            mesh.add_triangle(last - 2, last - 1, last);
            mesh.add_triangle(last - 1, last, last + 1);
        }
    }
    ui.painter().add(mesh);
}

/// A panel that slides in from a side.
pub(super) fn side_ui(
    ui: &mut egui::Ui,
    panel: egui::Panel,
    width: f32,
    open: &mut bool,
    theme: &Theme,
    contents: impl FnOnce(&mut egui::Ui),
) {
    let widest = ui.available_width() * 0.6;
    let drawer = edge(panel, panel_frame(theme))
        .exact_size(width.min(widest))
        .show_collapsible(ui, open, contents);
    if let Some(drawer) = drawer {
        // A list that goes on below fades; its last line has room above.
        let rect = drawer.response.rect;
        let fill = colour32(theme.surface);
        fade_above(ui, rect.x_range(), panel_foot(rect), DRAWER_FADE, fill);
    }
}

/// A line over the foot of the picture and whatever is written there.
pub(super) fn over_foot_ui(
    ui: &egui::Ui,
    name: &str,
    area: egui::Rect,
    theme: &Theme,
    line: impl FnOnce(&mut egui::Ui) -> Vec<Intent>,
) -> (Vec<Intent>, egui::Rect) {
    let frame = panel_frame(theme).fill(colour32(theme.background));
    let margin = frame.inner_margin.sum().x;
    let place = egui::Area::new(Id::new(name))
        .order(egui::Order::Middle)
        .pivot(Align2::LEFT_BOTTOM)
        .fixed_pos(area.left_bottom());
    let shown = place.show(ui.ctx(), |ui| {
        let contents = |ui: &mut egui::Ui| {
            // A small window may have no room for it at all.
            ui.set_width((area.width() - margin).max(0.0));
            line(ui)
        };
        frame.show(ui, contents).inner
    });
    (shown.inner, shown.response.rect)
}
