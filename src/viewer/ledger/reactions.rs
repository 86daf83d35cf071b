//! The reactions with their values, each to be released and held again.

use bevy_egui::egui::{self, Align, Layout, RichText, Ui};

use super::analysis::rows_ui;
use super::chapters::heading;
use super::{say, whisper};
use crate::statics::{CaseAnswer, Reaction, ReactionIndex};
use crate::study::WholeReactionIndex;
use crate::theme::Theme;
use crate::viewer::intent::{Intent, SceneIntent, StudyIntent};
use crate::viewer::state::{Pointed, Shown};
use crate::viewer::style::colour32;
use crate::wording::{self, Phrase};

/// Every reaction of the scene; those that are released say so.
pub(crate) fn reactions_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) -> Vec<Intent> {
    heading(ui, "Reactions");
    let mut intents = cases_ui(ui, shown);
    let Some(case) = shown.study.diagnosis().cases.get(shown.case) else {
        return intents;
    };
    say(
        ui,
        wording::balance(shown.study.model(), shown.study.diagnosis(), case),
        theme,
    );
    let start = |thing: &Pointed| *thing == Pointed::Start;
    intents.extend(rows_ui(ui, shown, start, theme));
    for (place, reaction, acting) in shown.study.whole_reactions() {
        let top = ui.cursor().top();
        keep_in_place(ui, place, top);
        if reaction_ui(ui, shown, (reaction, acting), case, theme) {
            intents.push(Intent::Study(StudyIntent::Switch(place)));
            hold_in_place(ui, place, top);
        }
    }
    if !shown.released().is_empty() && ui.button("Hold all again").clicked() {
        intents.push(Intent::Study(StudyIntent::HoldAll));
    }
    intents
}

/// A row that stays where it is on the screen while the pages above it become longer or shorter.
#[derive(Clone, Copy)]
struct KeptRow {
    row: WholeReactionIndex,
    top: f32,
    /// Passes for which it is still kept: what is known changes in the next, sizes settle in the one after.
    passes: u8,
}

impl KeptRow {
    fn id() -> egui::Id {
        egui::Id::new("the reaction that was switched last")
    }
}

/// Keeps a row at a height of the screen while what a click on it changed settles: the pointer is still over it.
fn hold_in_place(ui: &Ui, row: WholeReactionIndex, top: f32) {
    const PASSES: u8 = 4;
    let kept = KeptRow {
        row,
        top,
        passes: PASSES,
    };
    ui.data_mut(|data| data.insert_temp(KeptRow::id(), kept));
}

/// Scrolls the pages so that a row that is kept comes to lie where it was.
fn keep_in_place(ui: &Ui, row: WholeReactionIndex, top: f32) {
    let kept: Option<KeptRow> = ui.data(|data| data.get_temp(KeptRow::id()));
    let Some(kept) = kept.filter(|kept| kept.row == row && kept.passes > 0) else {
        return;
    };
    let passes = kept.passes - 1;
    ui.data_mut(|data| data.insert_temp(KeptRow::id(), KeptRow { passes, ..kept }));
    if (top - kept.top).abs() > 0.5 {
        let shift = egui::vec2(0.0, kept.top - top);
        ui.scroll_with_delta_animation(shift, egui::style::ScrollAnimation::none());
    }
}

/// One reaction with its index among those that act; whether it is to be released or held again.
fn reaction_ui(
    ui: &mut Ui,
    shown: &Shown,
    (reaction, acting): (&Reaction, Option<ReactionIndex>),
    case: &CaseAnswer,
    theme: &Theme,
) -> bool {
    let value = acting.and_then(|index| case.values.get(index).copied().flatten());
    let text = match (acting, value) {
        (None, _) => Phrase::from("released"),
        (_, Some(value)) => wording::acting(shown.study.whole(), reaction, value),
        (_, None) => undecided(case.loaded, case.is_balanced()).into(),
    };
    let (word, hint) = match acting {
        Some(_) => ("release", "See what the others do without it"),
        None => ("hold", "Let it act again"),
    };
    let switched = ui
        .horizontal(|ui| {
            say(ui, &reaction.symbol, theme);
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let quiet = colour32(theme.quiet_ink);
                let button = egui::Button::new(RichText::new(word).size(14.5).color(quiet));
                let clicked = ui.add(button).on_hover_text(hint).clicked();
                if value.is_some() {
                    say(ui, text, theme);
                } else {
                    whisper(ui, &text, theme);
                }
                clicked
            })
            .inner
        })
        .inner;
    if let Some(note) = wording::one_way_note(reaction, value) {
        let note = RichText::new(note).color(colour32(theme.error));
        ui.add(egui::Label::new(note).wrap());
    }
    switched
}

/// Why a reaction has no value.
fn undecided(loaded: bool, possible: bool) -> &'static str {
    match (loaded, possible) {
        (false, _) => "no load",
        (true, false) => "no equilibrium",
        (true, true) => "statically indeterminate",
    }
}

fn cases_ui(ui: &mut Ui, shown: &Shown) -> Vec<Intent> {
    let mut intents = Vec::new();
    if shown.study.model().cases.len() > 1 {
        ui.horizontal_wrapped(|ui| {
            for (index, case) in shown.study.model().cases.enumerate() {
                let chosen = index == shown.case;
                if ui.selectable_label(chosen, &case.name).clicked() && !chosen {
                    intents.push(Intent::Scene(SceneIntent::Case(index)));
                }
            }
        });
    }
    intents
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::theme::ThemeName;
    use crate::viewer::panels::testing;
    use crate::viewer::shown::testing::TestStage;

    #[test]
    fn a_reaction_is_released_and_held_again_at_its_row() {
        let theme = Theme::of(ThemeName::Hall);
        let mut stage = TestStage::open("mirror-cell");
        let click = |stage: &TestStage, word: &str| {
            testing::click(word, |ui| reactions_ui(ui, &stage.shown(), &theme))
        };
        let switch = |index| Intent::Study(StudyIntent::Switch(WholeReactionIndex::new(index)));
        assert_eq!(click(&stage, "release"), [switch(0)]);
        stage.change(|shown| shown.switch(WholeReactionIndex::new(2)));
        assert_eq!(click(&stage, "hold"), [switch(2)]);
        let all = Intent::Study(StudyIntent::HoldAll);
        assert_eq!(click(&stage, "Hold all again"), [all]);
        let found = testing::text(|ui| reactions_ui(ui, &stage.shown(), &theme));
        assert!(found.has("released"));
    }
}
