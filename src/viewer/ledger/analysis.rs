//! What can be pointed out: the reason and its objects, dependent groups, repairs; and how far motions go.

use bevy_egui::egui::{self, FontId, Ui};

use super::chapters::heading;
use super::{say, whisper};
use crate::motion::Course;
use crate::study::Repair;
use crate::theme::Theme;
use crate::viewer::intent::{Intent, LinkIntent, StudyIntent};
use crate::viewer::rich_text;
use crate::viewer::state::{Pointed, Shown};
use crate::viewer::style::colour32;
use crate::wording::{self, Operator, Phrase, phrase};

/// The reason; its rows point at its geometry.
pub(crate) fn reason_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) -> Vec<Intent> {
    if shown.study.objects().is_empty() {
        say(
            ui,
            wording::reason(shown.study.model(), shown.study.diagnosis()),
            theme,
        );
        return Vec::new();
    }
    let is_reason = |thing: &Pointed| matches!(thing, Pointed::Reason | Pointed::Object(_));
    rows_ui(ui, shown, is_reason, theme)
}

/// Groups of reactions that equilibrium cannot separate, and what is still known.
pub(crate) fn groups_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) -> Vec<Intent> {
    let Some(listing) = wording::listing(shown.study) else {
        return Vec::new();
    };
    heading(ui, "Redundant reactions");
    whisper(ui, phrase!(listing, "."), theme);
    let intents = rows_ui(ui, shown, |thing| matches!(thing, Pointed::Group(_)), theme);
    for combination in shown.study.combinations() {
        let left = wording::combination(shown.study.model(), combination);
        let value = wording::combination_value(shown.study.model(), combination, shown.case);
        let loaded = shown.study.diagnosis().cases.get(shown.case);
        if let (Some(value), true) = (value, loaded.is_some_and(|case| case.loaded)) {
            say(ui, phrase!(left, Operator::Equals, value), theme);
        }
    }
    intents
}

/// Links to add and reactions to do without.
pub(crate) fn repairs_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) -> Vec<Intent> {
    heading(ui, "Repairs");
    let Some(repair) = shown.repair() else {
        // Not while something is dragged: finding them takes longer than all else that follows the hand.
        whisper(ui, "Looked for again when you let go.", theme);
        return Vec::new();
    };
    let releases = wording::releases(shown.study);
    let mut intents = rows_ui(ui, shown, |thing| matches!(thing, Pointed::Link(_)), theme);
    if ui.button("Draw a link").on_hover_text("N").clicked() {
        intents.push(Intent::Link(LinkIntent::Draw));
    }
    match repair {
        Repair::Links(mending) => say(ui, wording::mending(mending), theme),
        Repair::NotNeeded => {}
        Repair::NoneFound => whisper(ui, "No link was found that would hold the body.", theme),
    }
    for sentence in releases {
        say(ui, sentence, theme);
    }
    intents
}

/// Whether the selected motion is real and where it leads.
pub(crate) fn mobility_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) {
    let free = shown.course().filter(|course| course.route.is_none());
    if let Some(Course {
        motion, mobility, ..
    }) = free
    {
        say(
            ui,
            wording::mobility(shown.study.model(), motion, mobility),
            theme,
        );
    }
    if shown.study.diagnosis().is_held() {
        return;
    }
    for sentence in wording::together(shown.study.model(), shown.study.mobilities()) {
        say(ui, sentence, theme);
    }
}

/// A row for each thing of a kind; a click points it out.
pub(crate) fn rows_ui(
    ui: &mut Ui,
    shown: &Shown,
    kind: impl Fn(&Pointed) -> bool,
    theme: &Theme,
) -> Vec<Intent> {
    let mut intents = Vec::new();
    for thing in shown.pointable().into_iter().filter(kind) {
        let Some(words) = shown.words_of(thing) else {
            continue;
        };
        if row_ui(ui, &words, shown.pointed == Some(thing), theme) {
            intents.push(Intent::Study(StudyIntent::Point(thing)));
        }
    }
    intents
}

/// A line of text to be chosen; whether it was clicked.
fn row_ui(ui: &mut Ui, text: &Phrase, chosen: bool, theme: &Theme) -> bool {
    let line = rich_text::line(text, &FontId::proportional(16.5), colour32(theme.ink));
    let button = egui::Button::selectable(chosen, line)
        .wrap()
        .min_size(egui::vec2(ui.available_width(), 0.0));
    let response = ui.add(button);
    let was_chosen = ui.id().with(("chosen", text));
    let fresh = ui.data_mut(|data| {
        let before = data.get_temp(was_chosen).unwrap_or(false);
        data.insert_temp(was_chosen, chosen);
        chosen && !before
    });
    if fresh {
        // What a key points out comes into view.
        response.scroll_to_me(None);
    }
    response.clicked()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::theme::ThemeName;
    use crate::viewer::panels::testing;
    use crate::viewer::shown::testing::TestStage;

    #[test]
    fn a_click_on_the_reason_points_it_out() {
        let (stage, theme) = (TestStage::open("handrail"), Theme::of(ThemeName::Hall));
        let shown = stage.shown();
        let words = testing::written(&shown.words_of(Pointed::Reason).unwrap());
        let asked = testing::click(&words, |ui| reason_ui(ui, &shown, &theme));
        assert_eq!(asked, [Intent::Study(StudyIntent::Point(Pointed::Reason))]);
    }

    #[test]
    fn repairs_keep_their_place_and_are_rows_once_they_are_found() {
        let (mut stage, theme) = (TestStage::open("handrail"), Theme::of(ThemeName::Hall));
        let before = testing::text(|ui| repairs_ui(ui, &stage.shown(), &theme));
        assert!(before.has("Repairs") && before.has("when you let go"));
        stage.change(|shown| shown.seek_repair());
        let shown = stage.shown();
        let words = testing::written(&shown.words_of(Pointed::Link(0)).unwrap());
        let asked = testing::click(&words, |ui| repairs_ui(ui, &shown, &theme));
        assert_eq!(asked, [Intent::Study(StudyIntent::Point(Pointed::Link(0)))]);
    }

    #[test]
    fn the_selected_motion_says_whether_it_is_real() {
        let (stage, theme) = (TestStage::open("handrail"), Theme::of(ThemeName::Hall));
        let shown = stage.shown();
        let found = testing::text(|ui| {
            mobility_ui(ui, &shown, &theme);
            Vec::new()
        });
        assert!(found.has("A finite motion"));
    }
}
