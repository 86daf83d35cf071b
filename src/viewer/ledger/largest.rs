//! The reactions over all load cases, the largest of each marked.

use bevy_egui::egui::{self, FontId, Grid, RichText, ScrollArea, Ui};

use super::chapters::heading;
use super::whisper;
use crate::statics::ReactionIndex;
use crate::theme::Theme;
use crate::viewer::intent::{Intent, SceneIntent};
use crate::viewer::rich_text;
use crate::viewer::state::Shown;
use crate::viewer::style::{BOLD, colour32, veil};
use crate::wording::{self, Phrase};

/// Size of the values.
const VALUE: f32 = 15.5;

/// A column for each load case, where there are several; the head of a column shows its case.
pub(crate) fn largest_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) -> Vec<Intent> {
    let model = shown.study.model();
    let mut intents = Vec::new();
    if model.cases.len() < 2 || model.reactions.is_empty() {
        return intents;
    }
    heading(ui, "Over all load cases");
    ScrollArea::horizontal()
        .id_salt(("largest", shown.source()))
        .show(ui, |ui| {
            let grid = Grid::new("largest").spacing(egui::vec2(14.0, 5.0));
            grid.show(ui, |ui| {
                ui.label("");
                for (index, case) in model.cases.enumerate() {
                    let chosen = index == shown.case;
                    let name = RichText::new(&case.name).size(VALUE);
                    if ui.selectable_label(chosen, name).clicked() && !chosen {
                        intents.push(Intent::Scene(SceneIntent::Case(index)));
                    }
                }
                ui.end_row();
                for reaction in model.reactions.indices() {
                    row_ui(ui, shown, reaction, theme);
                    ui.end_row();
                }
            });
            // The bar that scrolls the cases lies below the last row.
            ui.add_space(10.0);
        });
    whisper(ui, key(shown), theme);
    intents
}

/// What frames and dashes mean, where there are any.
fn key(shown: &Shown) -> String {
    let diagnosis = shown.study.diagnosis();
    let cases = || diagnosis.cases.indices();
    let mut reactions = shown.study.model().reactions.indices();
    let framed = reactions.any(|reaction| diagnosis.largest(reaction, cases()).is_some());
    let dashed = diagnosis.cases.iter().any(|case| !case.is_balanced());
    let words = [
        (
            framed,
            "In a frame: the largest magnitude of a reaction over all load cases.",
        ),
        (dashed, "A dash: no equilibrium."),
    ];
    let said = words.into_iter().filter(|(is_there, _)| *is_there);
    said.map(|(_, words)| words).collect::<Vec<_>>().join(" ")
}

fn row_ui(ui: &mut Ui, shown: &Shown, index: ReactionIndex, theme: &Theme) {
    let (model, diagnosis) = (shown.study.model(), shown.study.diagnosis());
    let reaction = &model.reactions[index];
    let largest = diagnosis.largest(index, diagnosis.cases.indices());
    let symbol = FontId::proportional(VALUE + 1.0);
    ui.label(rich_text::line(
        &(&reaction.symbol).into(),
        &symbol,
        colour32(theme.ink),
    ));
    for (case, answer) in diagnosis.cases.enumerate() {
        let value = answer.values[index];
        let text: Phrase = match value {
            Some(value) => wording::acting(model, reaction, value),
            None if answer.is_balanced() => "indeterminate".into(),
            None => "\u{2013}".into(),
        };
        let is_largest = largest.is_some_and(|largest| largest.case == case);
        let (family, colour) = match (is_largest, value) {
            (true, _) => (BOLD.clone(), theme.ink),
            (false, Some(_)) => (egui::FontFamily::Proportional, theme.ink),
            (false, None) => (egui::FontFamily::Proportional, theme.quiet_ink),
        };
        let line = rich_text::line(&text, &FontId::new(VALUE, family), colour32(colour));
        let frame = colour32(theme.reaction);
        let plate = match is_largest {
            true => egui::Frame::new()
                .stroke(egui::Stroke::new(1.5, frame))
                .fill(veil(frame, 0.12)),
            false => egui::Frame::new(),
        };
        let plate = plate
            .inner_margin(egui::Margin::symmetric(5, 1))
            .corner_radius(4);
        plate.show(ui, |ui| ui.label(line));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statics::CaseIndex;
    use crate::theme::ThemeName;
    use crate::viewer::panels::testing;
    use crate::viewer::shown::testing::TestStage;

    #[test]
    fn every_case_has_a_column_that_shows_it() {
        let theme = Theme::of(ThemeName::Hall);
        let stage = TestStage::open("handrail");
        let shown = stage.shown();
        let names: Vec<&String> = shown
            .study
            .model()
            .cases
            .iter()
            .map(|case| &case.name)
            .collect();
        assert!(names.len() > 1);
        let asked = testing::click(names[1], |ui| largest_ui(ui, &shown, &theme));
        assert_eq!(asked, [Intent::Scene(SceneIntent::Case(CaseIndex::new(1)))]);
        let one = TestStage::open("mirror-cell");
        let found = testing::text(|ui| largest_ui(ui, &one.shown(), &theme));
        assert!(!found.has("Over all load cases"), "there is one case only");
    }
}
