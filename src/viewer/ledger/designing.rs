//! What designers ask: how bars bend, what the anchors of plates take, how much of what is allowed each support is loaded with.

use bevy_egui::egui::{Align, Layout, Ui};

use super::chapters::heading;
use super::{say, whisper};
use crate::design::{Utilisation, UtilisationOutcome};
use crate::theme::Theme;
use crate::viewer::state::Shown;
use crate::wording::{self, Phrase, phrase};

/// A name at the left, its value at the right.
fn row(ui: &mut Ui, name: impl Into<Phrase>, value: impl Into<Phrase>, theme: &Theme) {
    ui.horizontal(|ui| {
        say(ui, name, theme);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            say(ui, value, theme);
        });
    });
}

/// The reactions of bars that bend under the load case shown, and where they are stressed hardest.
pub(crate) fn bending_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) {
    let (study, model) = (&shown.study, shown.study.model());
    let Some((frame, material)) = study.frame().zip(study.scene().material) else {
        return;
    };
    let case = &frame.cases[shown.case];
    heading(ui, wording::BENDING);
    whisper(ui, wording::bending_basis(model, &material), theme);
    let is_open = study.diagnosis().counts.redundancy > 0;
    if let Some(found) = case.answer().filter(|_| is_open) {
        for (index, reaction) in model.reactions.enumerate() {
            let value = wording::acting(model, reaction, found.reactions.values[index]);
            row(ui, &reaction.symbol, value, theme);
        }
    }
    if let Some(said) = wording::bending(model, frame, shown.case, case) {
        say(ui, said, theme);
    }
}

/// What the anchors of each plate take under the load case shown.
pub(crate) fn anchors_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) {
    let model = shown.study.model();
    let all = &shown.study.design().anchorages;
    if all.is_empty() {
        return;
    }
    heading(ui, wording::ANCHORS);
    whisper(ui, wording::anchor_basis(model, all), theme);
    for anchorage in all {
        let case = &anchorage.cases[shown.case];
        let name = wording::support(model, anchorage.support);
        for (index, anchor) in case
            .forces()
            .iter()
            .flat_map(|found| &found.anchors)
            .enumerate()
        {
            let shear = wording::force(anchor.shear, &model.units);
            let value = phrase!(
                wording::normal_force(anchor, &model.units),
                ", shear ",
                shear
            );
            row(ui, phrase!(&name, ", anchor ", index + 1), value, theme);
        }
        let said = wording::anchorage(model, case);
        say(ui, phrase!(name, ": ", said), theme);
    }
}

/// The share of what is allowed of each support over all load cases, the governing one first.
pub(crate) fn utilisation_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) {
    let (model, design) = (shown.study.model(), shown.study.design());
    let found = design.utilisations(model, model.cases.indices());
    let Some(governing) = wording::governing(model, &found) else {
        return;
    };
    heading(ui, wording::UTILISATION);
    say(ui, governing, theme);
    for one in Utilisation::worst_of_each(&found) {
        let share: Phrase = match &one.outcome {
            UtilisationOutcome::Known { share, .. } => wording::utilisation(*share).into(),
            UtilisationOutcome::Unknown => "indeterminate".into(),
            UtilisationOutcome::NotCarried => "not carried".into(),
        };
        row(ui, wording::loaded(model, one), share, theme);
    }
    whisper(ui, wording::UTILISATION_KEY, theme);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::Study;
    use crate::theme::ThemeName;
    use crate::viewer::panels::testing;
    use crate::viewer::shown::testing::TestStage;

    #[test]
    fn each_page_is_there_for_the_scenes_that_ask_for_it() {
        let theme = Theme::of(ThemeName::Hall);
        let said = |name: &str| {
            let stage = TestStage::of(Study::open(name).unwrap());
            testing::text(|ui| {
                bending_ui(ui, &stage.shown(), &theme);
                anchors_ui(ui, &stage.shown(), &theme);
                utilisation_ui(ui, &stage.shown(), &theme);
                Vec::new()
            })
        };
        let heads = [wording::BENDING, wording::ANCHORS, wording::UTILISATION];
        for (name, expected) in [
            ("clamped-pipe", [true, false, false]),
            ("bracket-anchors", [false, true, true]),
            ("cabinet-bolts", [false, false, true]),
            ("handrail", [false; 3]),
        ] {
            let found = said(name);
            assert_eq!(heads.map(|head| found.has(head)), expected, "{name}");
        }
        assert!(said("bracket-anchors").has("P, anchor 4"));
        assert!(said("clamped-pipe").has("The equivalent stress is largest"));
    }
}
