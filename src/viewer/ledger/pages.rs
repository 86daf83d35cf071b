//! The pages of the ledger: why, what is left to move, the shared lines, the reactions, the two ranks.

use bevy_egui::egui::{self, FontId, Grid, RichText, ScrollArea, Ui};

use super::analysis::{groups_ui, mobility_ui, reason_ui, repairs_ui};
use super::chapters::{self, heading};
use super::designing::{anchors_ui, bending_ui, utilisation_ui};
use super::equations::equations_ui;
use super::largest::largest_ui;
use super::margin::{heat_ui, nearness_ui, one_way_ui, warnings_ui};
use super::reactions::reactions_ui;
use super::springs::springs_ui;
use super::{say, whisper};
use crate::motion::Selection;
use crate::theme::{Theme, ThemeName};
use crate::viewer::framing::View;
use crate::viewer::intent::{CameraIntent, Intent, Layer, LookIntent, PlaybackIntent, SceneIntent};
use crate::viewer::playback::{AMPLITUDES, PACES};
use crate::viewer::rich_text;
use crate::viewer::state::{Look, Playback, Shown};
use crate::viewer::style::{BOLD, DRAWER_FADE, colour32};
use crate::wording::{self, Phrase, phrase};

/// What the pages are about.
pub(crate) struct LedgerPage<'a> {
    /// The scene shown.
    pub shown: &'a Shown<'a>,
    /// How it moves.
    pub playback: &'a Playback,
    /// What is drawn.
    pub look: &'a Look,
}

/// Draws the pages; returns what was asked for.
pub(crate) fn pages_ui(ui: &mut Ui, page: &LedgerPage) -> Vec<Intent> {
    let theme = Theme::of(page.look.theme);
    let mut intents = Vec::new();
    chapters::chapters_ui(ui);
    // Another scene begins at the top; one that is come back to is where it was left.
    let scroll = ScrollArea::vertical().id_salt(page.shown.source());
    scroll.auto_shrink(false).show(ui, |ui| {
        ui.set_max_width(ui.available_width() - 8.0);
        intents.extend(why_ui(ui, page.shown, &theme));
        intents.extend(motions_ui(ui, page, &theme));
        axes_ui(ui, page.shown, &theme);
        intents.extend(repairs_ui(ui, page.shown, &theme));
        intents.extend(reactions_ui(ui, page.shown, &theme));
        intents.extend(largest_ui(ui, page.shown, &theme));
        intents.extend(equations_ui(ui, page.shown, &theme));
        intents.extend(groups_ui(ui, page.shown, &theme));
        intents.extend(one_way_ui(ui, page.shown, &theme));
        springs_ui(ui, page.shown, &theme);
        bending_ui(ui, page.shown, &theme);
        anchors_ui(ui, page.shown, &theme);
        utilisation_ui(ui, page.shown, &theme);
        intents.extend(nearness_ui(ui, page.shown, &theme));
        intents.extend(heat_ui(ui, page.shown, &theme));
        ranks_ui(ui, page.shown, &theme);
        intents.extend(picture_ui(ui, page.look, &theme));
        ui.add_space(DRAWER_FADE);
    });
    chapters::forget(ui);
    intents
}

fn why_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) -> Vec<Intent> {
    let (model, diagnosis) = (shown.study.model(), shown.study.diagnosis());
    let headline = wording::headline(model, diagnosis, shown.study.uncarried());
    let font = egui::TextStyle::Heading.resolve(ui.style());
    let colour = ui.visuals().text_color();
    ui.label(rich_text::line(&headline, &font, colour));
    let intents = reason_ui(ui, shown, theme);
    warnings_ui(ui, shown, theme);
    for remark in wording::remarks(model, diagnosis) {
        say(ui, remark, theme);
    }
    if !shown.written.scene().notes.is_empty() {
        whisper(ui, shown.written.scene().notes.as_str(), theme);
    }
    intents
}

fn motions_ui(ui: &mut Ui, page: &LedgerPage, theme: &Theme) -> Vec<Intent> {
    let shown = page.shown;
    let motions = shown.selections();
    heading(ui, "Free motions");
    if shown.study.diagnosis().is_held() {
        let said = wording::at_rest(shown.study.uncarried(), shown.case);
        say(ui, said, theme);
    }
    let mut intents = Vec::new();
    for motion in &motions {
        let Some(text) = row(shown, *motion) else {
            continue;
        };
        let line = rich_text::line(&text, &FontId::proportional(16.5), colour32(theme.ink));
        let button = egui::Button::selectable(*motion == shown.motion, line)
            .wrap()
            .min_size(egui::vec2(ui.available_width(), 0.0));
        if ui.add(button).clicked() && *motion != shown.motion {
            intents.push(Intent::Scene(SceneIntent::Motion(*motion)));
        }
    }
    if motions.is_empty() {
        return intents;
    }
    mobility_ui(ui, shown, theme);
    intents.extend(swing_ui(ui, page.playback));
    intents
}

/// A motion with its number; the escape as a sentence.
fn row(shown: &Shown, motion: Selection) -> Option<Phrase> {
    let course = shown.study.course(motion, shown.case)?;
    Some(match motion {
        Selection::Free(index) => {
            phrase!(
                index.number(),
                "  ",
                wording::motion(shown.study.model(), course.motion)
            )
        }
        Selection::Escape => wording::escape(shown.study.model(), &course),
    })
}

fn swing_ui(ui: &mut Ui, playback: &Playback) -> Vec<Intent> {
    let mut intents = Vec::new();
    let (mut width, mut pace) = (playback.amplitude, playback.speed);
    Grid::new("swing").num_columns(2).show(ui, |ui| {
        ui.label("Swing");
        let slider = egui::Slider::new(&mut width, AMPLITUDES[0]..=AMPLITUDES[1]);
        let slider = slider.custom_formatter(|share, _| format!("{:.0} %", 100.0 * share));
        if ui.add(slider).changed() {
            intents.push(Intent::Playback(PlaybackIntent::Amplitude(width)));
        }
        ui.end_row();
        ui.label("Pace");
        let slider = egui::Slider::new(&mut pace, PACES[0]..=PACES[1]).logarithmic(true);
        let slider = slider.custom_formatter(|pace, _| format!("{pace:.2} ×"));
        if ui.add(slider).changed() {
            intents.push(Intent::Playback(PlaybackIntent::Pace(pace)));
        }
        ui.end_row();
    });
    intents
}

fn axes_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) {
    if shown.study.diagnosis().shared_axes.is_empty() {
        return;
    }
    heading(ui, "Shared axes");
    for axis in &shown.study.diagnosis().shared_axes {
        say(ui, wording::shared_axis(shown.study.model(), axis), theme);
    }
}

fn ranks_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) {
    heading(ui, "Rank, twice");
    let (numeric, exact) = (
        &shown.study.diagnosis().numeric,
        &shown.study.diagnosis().exact,
    );
    let values: Vec<Phrase> = wording::clean_singular_values(shown.study.diagnosis())
        .iter()
        .map(|value| Phrase::from(wording::rounded(*value, 3)))
        .collect();
    say(
        ui,
        format!("From the numbers as written, exactly: {}.", exact.rank),
        theme,
    );
    say(
        ui,
        format!("From singular values: {}.", numeric.rank),
        theme,
    );
    if !values.is_empty() {
        whisper(
            ui,
            phrase!("Singular values ", Phrase::joined(values, ", "), "."),
            theme,
        );
    }
}

fn picture_ui(ui: &mut Ui, look: &Look, theme: &Theme) -> Vec<Intent> {
    heading(ui, "Picture");
    let mut intents = Vec::new();
    let layers = [
        (Layer::Supports, look.supports, "Supports"),
        (Layer::Reactions, look.reactions, "Reactions"),
        (Layer::Values, look.values, "Magnitudes of reactions"),
        (Layer::Loads, look.loads, "Loads"),
        (Layer::Motion, look.motion, "Axis and motion"),
    ];
    for (layer, mut on, word) in layers {
        if ui.checkbox(&mut on, word).changed() {
            intents.push(Intent::Look(LookIntent::Layer(layer, on)));
        }
    }
    let mut still = look.reduced_motion;
    if ui.checkbox(&mut still, "Reduced motion").changed() {
        intents.push(Intent::Look(LookIntent::ReducedMotion(still)));
    }
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new("From").color(colour32(theme.quiet_ink)));
        for (name, view) in View::NAMED {
            if ui.button(name).clicked() {
                intents.push(Intent::Camera(CameraIntent::Look(view)));
            }
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.label(
            RichText::new("Theme")
                .color(colour32(theme.quiet_ink))
                .family(BOLD.clone()),
        );
        for name in ThemeName::ALL {
            let chosen = name == look.theme;
            if ui.selectable_label(chosen, name.word()).clicked() && !chosen {
                intents.push(Intent::Look(LookIntent::Theme(name)));
            }
        }
    });
    intents
}
