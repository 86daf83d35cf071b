//! How safely a body is held: warnings, pushes and pulls, nearness to failing, heat.

use bevy_egui::egui::{self, Ui};

use super::analysis::rows_ui;
use super::chapters::heading;
use super::say;
use crate::theme::Theme;
use crate::viewer::intent::Intent;
use crate::viewer::rich_text;
use crate::viewer::state::{Pointed, Shown};
use crate::viewer::style::colour32;
use crate::wording;

/// What must stand beside the verdict: placement tolerance and rounded decimals.
pub(crate) fn warnings_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) {
    let (model, study) = (shown.study.model(), shown.study);
    let nearness = study.nearness();
    let placement = nearness.and_then(|nearness| wording::placement(model, nearness));
    let rounding = study.rounding();
    let rounding = rounding.map(|rounding| wording::rounding(model, rounding));
    for warning in [placement, rounding].into_iter().flatten() {
        let font = egui::TextStyle::Body.resolve(ui.style());
        let text = rich_text::line(&warning, &font, colour32(theme.error));
        ui.add(egui::Label::new(text).wrap());
    }
}

/// Whether supports that only push or only pull hold the load; its row points out what lifts off or goes slack.
pub(crate) fn one_way_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) -> Vec<Intent> {
    let Some(one_way) = shown.study.one_way() else {
        return Vec::new();
    };
    heading(ui, "One-way supports");
    let intents = rows_ui(ui, shown, |thing| *thing == Pointed::Loosened, theme);
    let model = shown.study.model();
    say(ui, wording::every_load(model, one_way), theme);
    let limits = shown.study.load_limits().get(shown.case);
    if let Some(limits) = limits.and_then(Option::as_ref) {
        say(ui, wording::load_limits(model, limits), theme);
    }
    intents
}

/// How near a held body is to improper; its row points out the motion that it is held least against.
pub(crate) fn nearness_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) -> Vec<Intent> {
    section(ui, shown, Pointed::Weakest, wording::NEARNESS, theme)
}

/// What uniform expansion does; its row points out the reactions that it sets against each other.
pub(crate) fn heat_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) -> Vec<Intent> {
    section(ui, shown, Pointed::Heat, "Temperature", theme)
}

fn section(ui: &mut Ui, shown: &Shown, about: Pointed, title: &str, theme: &Theme) -> Vec<Intent> {
    if !shown.pointable().contains(&about) {
        return Vec::new();
    }
    heading(ui, title);
    let intents = rows_ui(ui, shown, |thing| *thing == about, theme);
    if about == Pointed::Weakest {
        for sentence in shown.more_on_nearness() {
            say(ui, sentence, theme);
        }
    }
    intents
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::theme::ThemeName;
    use crate::viewer::intent::StudyIntent;
    use crate::viewer::panels::testing;
    use crate::viewer::shown::testing::TestStage;

    type Page = fn(&mut Ui, &Shown, &Theme) -> Vec<Intent>;

    #[test]
    fn each_row_points_at_what_it_tells_of() {
        let theme = Theme::of(ThemeName::Hall);
        let pages: [(&str, Pointed, Page); 3] = [
            ("mirror-cell", Pointed::Weakest, nearness_ui),
            ("roof-ladder", Pointed::Loosened, one_way_ui),
            ("hoisting-tray", Pointed::Loosened, one_way_ui),
        ];
        for (name, thing, page) in pages {
            let stage = TestStage::open(name);
            let shown = stage.shown();
            let words = testing::written(&shown.words_of(thing).unwrap());
            let asked = testing::click(&words, |ui| page(ui, &shown, &theme));
            assert_eq!(asked, [Intent::Study(StudyIntent::Point(thing))], "{name}");
        }
    }

    #[test]
    fn heat_is_told_where_there_is_redundancy_only() {
        let theme = Theme::of(ThemeName::Hall);
        let stage = TestStage::open("mirror-cell");
        let found = testing::text(|ui| heat_ui(ui, &stage.shown(), &theme));
        assert!(!found.has("Temperature"));
    }
}
