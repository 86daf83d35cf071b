//! The equations of equilibrium with the numbers of the scene, each summand lit together with its arrow.

use bevy_egui::egui::{self, FontId, Label, Ui};

use super::chapters::heading;
use super::{say, whisper};
use crate::solution::{self, Cause, Equation, MOST_REACTIONS, MomentCentre, Summand};
use crate::theme::Theme;
use crate::viewer::intent::{Intent, StudyIntent};
use crate::viewer::rich_text;
use crate::viewer::shown::Pivot;
use crate::viewer::state::{Pointed, Shown};
use crate::viewer::style::{colour32, veil};

use crate::wording::{Operator, Phrase, phrase};

/// Size of the equations.
const SIZE: f32 = 16.0;
/// Width of the column of what is summed up.
const SUM_WIDTH: f32 = 46.0;
/// Places that are offered to take moments about; others are clicked in the picture.
const MOST_OFFERED: usize = 12;

/// The equations of the case shown; without a load those of the reactions alone.
pub(crate) fn equations_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) -> Vec<Intent> {
    let model = shown.study.model();
    let mut intents = Vec::new();
    let Some((pivot, about)) = shown
        .sums
        .pivot(shown)
        .and_then(|pivot| Some((pivot, pivot.about(shown)?)))
        .filter(|_| model.cases.get(shown.case).is_some())
    else {
        return intents;
    };
    heading(ui, "Equations");
    if model.reactions.len() > MOST_REACTIONS {
        let words = format!("With more than {MOST_REACTIONS} reactions they are not written out.");
        whisper(ui, words, theme);
        return intents;
    }
    intents.extend(pivots_ui(ui, shown, pivot, theme));
    let mut over = None;
    for equation in solution::equations_about(model, shown.case, &about) {
        ui.add_space(3.0);
        row_ui(
            ui,
            shown,
            (&equation, &about),
            theme,
            &mut over,
            &mut intents,
        );
    }
    if let Pivot::Axis(axis) = pivot {
        ui.add_space(4.0);
        let said = solution::proof(model, shown.study.diagnosis(), shown.case, axis);
        say(ui, said, theme);
    }
    // The pointer is over this panel and no longer over a summand.
    let left = over.is_none() && ui.ui_contains_pointer();
    if over != shown.glanced && (over.is_some() || left) {
        intents.push(Intent::Study(StudyIntent::Glance(over)));
    }
    intents
}

/// What moments can be taken about.
fn pivots_ui(ui: &mut Ui, shown: &Shown, pivot: Pivot, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    let all = Pivot::all(shown);
    let offered = |at: usize, other: Pivot| {
        at < MOST_OFFERED || other == pivot || matches!(other, Pivot::Axis(_))
    };
    let mut left = 0;
    ui.horizontal_wrapped(|ui| {
        whisper(ui, "Moments about", theme);
        for (at, other) in all.into_iter().enumerate() {
            if !offered(at, other) {
                left += 1;
                continue;
            }
            let font = FontId::proportional(SIZE - 1.5);
            let name = rich_text::line(&other.name(shown), &font, colour32(theme.ink));
            if ui.selectable_label(other == pivot, name).clicked() && other != pivot {
                intents.push(Intent::Study(StudyIntent::SumAbout(other)));
            }
        }
    });
    if left > 0 {
        let words = format!("{left} more places: click one in the picture.");
        whisper(ui, words, theme);
    }
    intents
}

fn row_ui(
    ui: &mut Ui,
    shown: &Shown,
    (equation, about): (&Equation, &MomentCentre),
    theme: &Theme,
    over: &mut Option<Pointed>,
    intents: &mut Vec<Intent>,
) {
    let model = shown.study.model();
    let summands = solution::summands(model, equation);
    let font = FontId::proportional(SIZE);
    ui.horizontal_top(|ui| {
        let symbol = solution::sentences::sum(model, &equation.balance);
        let symbol = rich_text::line(&symbol, &font, colour32(theme.quiet_ink));
        ui.spacing_mut().item_spacing.x = 2.0;
        ui.scope(|ui| {
            ui.set_width(SUM_WIDTH);
            ui.add(Label::new(symbol).extend());
        });
        ui.vertical(|ui| {
            ui.horizontal_wrapped(|ui| {
                ui.spacing_mut().item_spacing = egui::vec2(0.0, 2.0);
                ui.spacing_mut().button_padding = egui::vec2(3.0, 0.0);
                ui.spacing_mut().interact_size.y = 0.0;
                if summands.is_empty() {
                    plain_ui(ui, &"0".into(), theme);
                }
                for (index, summand) in summands.iter().enumerate() {
                    let response = summand_ui(ui, shown, (index, summand), theme);
                    let thing = thing(summand.cause);
                    if response.hovered() {
                        *over = Some(thing);
                    }
                    if response.clicked() {
                        intents.push(Intent::Study(StudyIntent::Point(thing)));
                    }
                }
                let relation = relation(shown, equation, about);
                plain_ui(ui, &phrase!(relation, "0"), theme);
            });
        });
    });
}

/// Where only loads are left in a sum, it cannot be zero.
fn relation(shown: &Shown, equation: &Equation, about: &MomentCentre) -> Operator {
    let axes = shown.study.diagnosis().shared_axes.iter();
    let powers = &shown.study.diagnosis().cases[shown.case].powers;
    let is_still = |line: &crate::statics::Line| {
        axes.clone()
            .any(|axis| axis.point == line.point && powers[axis.motion] == 0.0)
    };
    match about {
        _ if !equation.terms.is_empty() || equation.load == 0.0 => Operator::Equals,
        MomentCentre::Line(line) if is_still(line) => Operator::Equals,
        _ => Operator::Differs,
    }
}

fn thing(cause: Cause) -> Pointed {
    match cause {
        Cause::Reaction(index) => Pointed::Reaction(index),
        Cause::Load(index) => Pointed::Load(index),
        Cause::Loads => Pointed::Loads,
    }
}

fn plain_ui(ui: &mut Ui, text: &Phrase, theme: &Theme) {
    let font = FontId::proportional(SIZE);
    ui.add(Label::new(rich_text::line(text, &font, colour32(theme.ink))).extend());
}

/// A summand with the sign in front of it, on a plate while its arrow is lit.
fn summand_ui(
    ui: &mut Ui,
    shown: &Shown,
    (index, summand): (usize, &Summand),
    theme: &Theme,
) -> egui::Response {
    let sign = match (index, summand.is_negative) {
        (0, false) => None,
        (0, true) => Some(Operator::Negative),
        (_, false) => Some(Operator::Plus),
        (_, true) => Some(Operator::Minus),
    };
    if let Some(sign) = sign {
        plain_ui(ui, &sign.into(), theme);
    }
    let lit = is_lit(shown, summand.cause);
    let font = FontId::proportional(SIZE);
    let colour = match summand.cause {
        Cause::Reaction(_) => theme.reaction,
        Cause::Load(_) | Cause::Loads => theme.load,
    };
    let plate = colour32(theme.group);
    let (fill, edge) = match lit {
        true => (veil(plate, 0.3), plate),
        false => (egui::Color32::TRANSPARENT, egui::Color32::TRANSPARENT),
    };
    let ink = if lit { theme.ink } else { colour };
    let line = rich_text::line(&summand.size, &font, colour32(ink));
    // A button knows its size before it is placed, so that it goes to the next line where it does not fit.
    let button = egui::Button::new(line)
        .fill(fill)
        .stroke(egui::Stroke::new(1.5, edge))
        .corner_radius(4)
        .wrap_mode(egui::TextWrapMode::Extend);
    ui.add(button)
}

/// Whether the arrow of a summand is lit.
fn is_lit(shown: &Shown, cause: Cause) -> bool {
    match cause {
        Cause::Reaction(index) => shown.pointed_reactions().contains(&index),
        Cause::Load(index) => shown.is_load_pointed(index),
        Cause::Loads => matches!(shown.lit(), Some(Pointed::Load(_) | Pointed::Loads)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statics::CaseIndex;
    use crate::statics::SupportIndex;
    use crate::theme::ThemeName;
    use crate::viewer::panels::testing;
    use crate::viewer::shown::Sums;
    use crate::viewer::shown::testing::TestStage;

    #[test]
    fn a_click_on_a_summand_points_its_arrow_out() {
        let (stage, theme) = (TestStage::open("mirror-cell"), Theme::of(ThemeName::Hall));
        let shown = stage.shown();
        let about = Pivot::Support(SupportIndex::new(0)).about(&shown).unwrap();
        let equations = solution::equations_about(shown.study.model(), CaseIndex::FIRST, &about);
        let summands = solution::summands(shown.study.model(), &equations[2]);
        let last = summands.last().unwrap();
        assert_eq!(last.cause, Cause::Load(0));
        let words = testing::written(&last.size);
        let asked = testing::click(&words, |ui| equations_ui(ui, &shown, &theme));
        assert!(
            asked.contains(&Intent::Study(StudyIntent::Point(Pointed::Load(0)))),
            "{asked:?}"
        );
    }

    #[test]
    fn about_the_shared_axis_a_sentence_says_what_it_proves() {
        let (stage, theme) = (TestStage::open("handrail"), Theme::of(ThemeName::Hall));
        let mut shown = stage.shown();
        let words = testing::written(&Pivot::Axis(0).name(&shown));
        let asked = testing::click(&words, |ui| equations_ui(ui, &shown, &theme));
        let about_axis = Intent::Study(StudyIntent::SumAbout(Pivot::Axis(0)));
        assert!(asked.contains(&about_axis), "{asked:?}");
        let found = testing::text(|ui| equations_ui(ui, &shown, &theme));
        assert!(!found.has("Every reaction drops out"));
        let sums = Sums::about(Pivot::Axis(0), &shown);
        shown.sums = &sums;
        let found = testing::text(|ui| equations_ui(ui, &shown, &theme));
        assert!(found.has("Every reaction drops out"));
    }
}
