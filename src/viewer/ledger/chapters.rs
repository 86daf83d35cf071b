//! The headings of the ledger, and going to the one that is clicked.

use bevy_egui::egui::{self, RichText, Ui};

/// Headings that are far from each other; a click on one brings it to the top.
const CHAPTERS: [&str; 4] = ["Free motions", "Reactions", "Equations", "Picture"];

fn chapter() -> egui::Id {
    egui::Id::new("the chapter of the ledger that is asked for")
}

/// A word for each, to be clicked.
pub(super) fn chapters_ui(ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        for title in CHAPTERS {
            if ui.button(RichText::new(title).size(14.0)).clicked() {
                ui.data_mut(|data| data.insert_temp(chapter(), title.to_owned()));
            }
        }
    });
    ui.add_space(4.0);
}

/// Begins a part of the pages, and brings it to the top where that was asked for.
pub(super) fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(10.0);
    let heading = ui.label(RichText::new(text).heading());
    if ui.data(|data| data.get_temp(chapter()) == Some(text.to_owned())) {
        ui.data_mut(|data| data.remove::<String>(chapter()));
        heading.scroll_to_me(Some(egui::Align::TOP));
    }
}

/// Of what is not there nothing comes into view later.
pub(super) fn forget(ui: &Ui) {
    ui.data_mut(|data| data.remove::<String>(chapter()));
}
