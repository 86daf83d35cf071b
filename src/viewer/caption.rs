//! The caption along the bottom: the title, one sentence in large type, and the few words to act by.

use bevy_egui::egui::text::LayoutJob;
use std::sync::Arc;

use bevy_egui::egui::{self, Align, FontId, Galley, Layout, RichText, Ui};

use super::intent::{
    CameraIntent, Intent, LinkIntent, MakingIntent, Panel, PanelIntent, PlaybackIntent,
    SceneIntent, StepDirection, StudyIntent,
};
use super::rich_text;
use super::state::Playback;
use super::style::{BOLD, colour32};
use crate::motion::{Selection, Sides};
use crate::theme::Theme;
use crate::wording::{Phrase, phrase};

/// What the caption says.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Caption {
    /// Title of the scene.
    pub title: String,
    /// The verdict, in the bold face.
    pub verdict: Phrase,
    /// What follows it in the same sentence, and what else must be said.
    pub reason: Phrase,
    /// The motions that can be shown.
    pub motions: Vec<Selection>,
    /// The one that is.
    pub motion: Selection,
    /// To which sides it goes.
    pub sides: Sides,
    /// What is said where there is none.
    pub at_rest: &'static str,
    /// How the scene is seen.
    pub view: String,
    /// Whether a scene file is watched: its name.
    pub watched: Option<String>,
    /// What is pointed out, in a sentence.
    pub pointed: Option<Phrase>,
    /// The released reactions, listed; empty where none is.
    pub released: Phrase,
    /// The link on trial, in a sentence.
    pub trial: Option<Phrase>,
    /// Whether links are drawn now.
    pub drawing: bool,
}

/// Narrower than this, what moves the body and what opens panels stand in two rows.
const ONE_ROW: f32 = 860.0;
/// Sizes of the sentence, the largest first: what is long must leave room for the picture.
const SIZES: [f32; 7] = [27.0, 24.0, 22.0, 20.0, 18.0, 16.0, 14.0];
/// Share of the window's height that the sentence takes at most, where that can be.
const HIGHEST: f32 = 0.16;
/// Share of the window's height that all texts of the caption take at most; more is scrolled.
const ALL_TEXTS: f32 = 0.42;

/// Draws the caption; returns what was asked for.
pub(crate) fn caption_ui(
    ui: &mut Ui,
    caption: &Caption,
    playback: &Playback,
    theme: &Theme,
) -> Vec<Intent> {
    let quiet = colour32(theme.quiet_ink);
    let heading = match &caption.watched {
        Some(file) => format!("{}  ·  {file}", caption.title),
        None => caption.title.clone(),
    };
    let mut intents = Vec::new();
    let height = ui.ctx().viewport_rect().height();
    egui::ScrollArea::vertical()
        .id_salt("caption")
        .auto_shrink([false, true])
        .max_height(ALL_TEXTS * height)
        .show(ui, |ui| {
            ui.label(RichText::new(heading).color(quiet).size(15.5));
            let sentence = sentence(ui, caption, HIGHEST * height, theme);
            ui.add(egui::Label::new(sentence).wrap());
            if let Some(pointed) = &caption.pointed {
                let job =
                    rich_text::line(pointed, &FontId::proportional(18.0), colour32(theme.axis));
                ui.add(egui::Label::new(job).wrap());
            }
            if !caption.released.is_empty() {
                intents.extend(released_ui(ui, &caption.released, theme));
            }
            intents.extend(trial_ui(ui, caption, theme));
        });
    ui.add_space(2.0);
    let doors = |ui: &mut Ui| {
        let row = Layout::right_to_left(Align::Center);
        ui.with_layout(row, |ui| doors_ui(ui, caption)).inner
    };
    if ui.available_width() < ONE_ROW {
        ui.horizontal_wrapped(|ui| intents.extend(swing_ui(ui, caption, playback, theme)));
        ui.horizontal(|ui| intents.extend(doors(ui)));
    } else {
        ui.horizontal_wrapped(|ui| {
            intents.extend(swing_ui(ui, caption, playback, theme));
            intents.extend(doors(ui));
        });
    }
    intents
}

/// What is released, and the word that holds it again.
fn released_ui(ui: &mut Ui, names: &Phrase, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    ui.horizontal_wrapped(|ui| {
        let text = phrase!("Released: ", names, ".");
        let job = rich_text::line(&text, &FontId::proportional(18.0), colour32(theme.group));
        ui.label(job);
        if ui.button("Hold all again").on_hover_text("H").clicked() {
            intents.push(Intent::Study(StudyIntent::HoldAll));
        }
    });
    intents
}

/// The link drawn by hand, and how to draw one.
fn trial_ui(ui: &mut Ui, caption: &Caption, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    let colour = colour32(theme.trial);
    if let Some(trial) = &caption.trial {
        ui.horizontal_wrapped(|ui| {
            ui.label(rich_text::line(trial, &FontId::proportional(18.0), colour));
            if ui
                .button("Keep it")
                .on_hover_text("as a support of the scene (Enter)")
                .clicked()
            {
                intents.push(Intent::Making(MakingIntent::KeepLink));
            }
            if ui.button("Take it away").on_hover_text("Delete").clicked() {
                intents.push(Intent::Link(LinkIntent::Drop));
            }
        });
    }
    if caption.drawing {
        ui.horizontal_wrapped(|ui| {
            let hint = "Press on the body and pull to where a link meets the ground.";
            ui.label(rich_text::line(
                &hint.into(),
                &FontId::proportional(18.0),
                colour,
            ));
            if ui.button("Done").on_hover_text("N").clicked() {
                intents.push(Intent::Link(LinkIntent::Draw));
            }
        });
    }
    intents
}

/// The sentence as large as there is room for, its lines about equally long: no word is left alone on the last.
fn sentence(ui: &Ui, caption: &Caption, highest: f32, theme: &Theme) -> Arc<Galley> {
    let width = ui.available_width();
    let laid_out = |size: f32, width: f32| {
        let mut job = sentence_in(caption, size, theme);
        job.wrap.max_width = width;
        ui.painter().layout_job(job)
    };
    let fits = |size: &&f32| laid_out(**size, width).size().y <= highest;
    let size = *SIZES.iter().find(fits).unwrap_or(&SIZES[SIZES.len() - 1]);
    let lines = laid_out(size, width).rows.len();
    // The narrowest that takes no more lines, to within a few points.
    let (mut narrow, mut wide) = (width / 2.0, width);
    while wide - narrow > 4.0 {
        let middle = (narrow + wide) / 2.0;
        match laid_out(size, middle).rows.len() > lines {
            true => narrow = middle,
            false => wide = middle,
        }
    }
    laid_out(size, wide)
}

/// The sentence at a size, its verdict in the bold face.
fn sentence_in(caption: &Caption, size: f32, theme: &Theme) -> LayoutJob {
    let ink = colour32(theme.ink);
    let mut job = LayoutJob::default();
    let bold = FontId::new(size, BOLD.clone());
    rich_text::append(&mut job, &caption.verdict, &bold, ink);
    rich_text::append(&mut job, &caption.reason, &FontId::proportional(size), ink);
    job
}

/// Moving the body: play, where it is, which motion.
fn swing_ui(ui: &mut Ui, caption: &Caption, playback: &Playback, theme: &Theme) -> Vec<Intent> {
    let quiet = |text: &str| RichText::new(text).color(colour32(theme.quiet_ink));
    if caption.motions.is_empty() {
        ui.label(quiet(caption.at_rest));
        return Vec::new();
    }
    let mut intents = Vec::new();
    let word = if playback.playing {
        "Hold it"
    } else {
        "Let it move"
    };
    if ui
        .button(RichText::new(word).family(BOLD.clone()))
        .clicked()
    {
        intents.push(Intent::Playback(PlaybackIntent::PlayOrPause));
    }
    let mut position = playback.position;
    let slider = egui::Slider::new(&mut position, range(caption.sides)).show_value(false);
    if ui
        .add(slider)
        .on_hover_text("Move the body by hand")
        .changed()
    {
        intents.push(Intent::Playback(PlaybackIntent::HoldAt(position)));
    }
    if caption.motions == [Selection::Escape] {
        ui.label(quiet("how the body escapes under this load"));
    } else if caption.motions.len() > 1 {
        ui.label(quiet("motion"));
        for motion in &caption.motions {
            let chosen = *motion == caption.motion;
            if ui.selectable_label(chosen, name(*motion)).clicked() {
                intents.push(Intent::Scene(SceneIntent::Motion(*motion)));
            }
        }
    }
    intents
}

/// Positions of the body, from where it was written to the ends of its swing.
fn range(sides: Sides) -> std::ops::RangeInclusive<f32> {
    match sides {
        Sides::Both => -1.0..=1.0,
        Sides::Ahead => 0.0..=1.0,
        Sides::Back => -1.0..=0.0,
    }
}

/// What a motion is chosen by.
fn name(motion: Selection) -> String {
    match motion {
        Selection::Free(index) => index.number().to_string(),
        Selection::Escape => "escape".to_owned(),
    }
}

/// The words that open what is closed; right to left.
fn doors_ui(ui: &mut Ui, caption: &Caption) -> Vec<Intent> {
    let mut intents = Vec::new();
    let mut word = |ui: &mut Ui, text: &str, hint: &str, intent: Intent| {
        let button = egui::Button::new(text).frame_when_inactive(false);
        if ui.add(button).on_hover_text(hint).clicked() {
            intents.push(intent);
        }
    };
    word(
        ui,
        "Keys",
        "K",
        Intent::Panel(PanelIntent::Toggle(Panel::Keys)),
    );
    word(
        ui,
        "Ledger",
        "L",
        Intent::Panel(PanelIntent::Toggle(Panel::Ledger)),
    );
    word(
        ui,
        "Handouts",
        "E",
        Intent::Panel(PanelIntent::Toggle(Panel::Handouts)),
    );
    word(
        ui,
        "Add",
        "I",
        Intent::Panel(PanelIntent::Toggle(Panel::Add)),
    );
    word(
        ui,
        "Scenes",
        "S",
        Intent::Panel(PanelIntent::Toggle(Panel::Scenes)),
    );
    let seen = format!("View: {}", caption.view);
    let fits = |text: &str| {
        let font = egui::TextStyle::Button.resolve(ui.style());
        let room = ui.available_width() - 2.0 * ui.spacing().button_padding.x;
        let galley = ui
            .painter()
            .layout_no_wrap(text.to_owned(), font, egui::Color32::WHITE);
        galley.size().x <= room
    };
    // Where that is too long, the view alone; the key steps through the views even where nothing tells them.
    let texts = [seen, caption.view.clone()];
    if let Some(text) = texts.iter().find(|text| fits(text)) {
        word(
            ui,
            text,
            "V: the next view",
            Intent::Camera(CameraIntent::StepView(StepDirection::On)),
        );
    }
    intents
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::indexed::Indices;
    use crate::statics::MotionIndex;
    use crate::theme::ThemeName;
    use crate::viewer::panels::testing::{self, DrawnTexts};
    use crate::wording::Symbol;

    fn caption(motions: usize) -> Caption {
        Caption {
            title: "Handrail".to_owned(),
            verdict: "Not held:".into(),
            reason: " all six reactions meet the line through A and B.".into(),
            motions: Indices::first(motions).map(Selection::Free).collect(),
            motion: Selection::Free(MotionIndex::FIRST),
            sides: Sides::Both,
            at_rest: "The body cannot move.",
            view: "axis, perspective".to_owned(),
            watched: None,
            pointed: None,
            released: Phrase::new(),
            trial: None,
            drawing: false,
        }
    }

    fn symbol(letter: &str, axis: &'static str) -> Symbol {
        Symbol {
            axis,
            ..Symbol::plain(letter)
        }
    }

    fn click(caption: &Caption, word: &str) -> Vec<Intent> {
        let theme = Theme::of(ThemeName::Hall);
        testing::click(word, |ui| {
            caption_ui(ui, caption, &Playback::default(), &theme)
        })
    }

    #[test]
    fn its_words_ask_for_what_they_say() {
        let caption = caption(2);
        assert_eq!(
            click(&caption, "Let it move"),
            [Intent::Playback(PlaybackIntent::PlayOrPause)]
        );
        assert_eq!(
            click(&caption, "2"),
            [Intent::Scene(SceneIntent::Motion(Selection::Free(
                MotionIndex::new(1)
            )))]
        );
        assert_eq!(
            click(&caption, "Scenes"),
            [Intent::Panel(PanelIntent::Toggle(Panel::Scenes))]
        );
        assert_eq!(
            click(&caption, "Ledger"),
            [Intent::Panel(PanelIntent::Toggle(Panel::Ledger))]
        );
    }

    #[test]
    fn what_is_released_is_said_and_can_be_held_again() {
        let caption = Caption {
            released: phrase!(symbol("A", "x"), " and ", symbol("B", "y")),
            pointed: Some("the line through A and B".into()),
            ..caption(1)
        };
        assert_eq!(
            click(&caption, "Hold all again"),
            [Intent::Study(StudyIntent::HoldAll)]
        );
        let theme = Theme::of(ThemeName::Hall);
        let found = testing::text(|ui| caption_ui(ui, &caption, &Playback::default(), &theme));
        assert!(found.has("Released: Ax and By.") && found.has("the line through A and B"));
    }

    #[test]
    fn a_held_body_has_nothing_to_play() {
        let theme = Theme::of(ThemeName::Hall);
        let caption = caption(0);
        let found = testing::text(|ui| caption_ui(ui, &caption, &Playback::default(), &theme));
        assert!(found.has("The body cannot move."));
        assert!(!found.has("Let it move"));
    }

    /// Of a body that tips it was said that nothing is left to move.
    #[test]
    fn a_body_that_gets_away_can_be_shown_to() {
        let theme = Theme::of(ThemeName::Hall);
        let alone = Caption {
            motions: vec![Selection::Escape],
            motion: Selection::Escape,
            sides: Sides::Ahead,
            ..caption(0)
        };
        let said = |caption: &Caption| {
            testing::text(|ui| caption_ui(ui, caption, &Playback::default(), &theme))
        };
        assert!(said(&alone).has("how the body escapes under this load"));
        assert!(!said(&alone).has("The body cannot move."));
        assert_eq!(
            click(&alone, "Let it move"),
            [Intent::Playback(PlaybackIntent::PlayOrPause)]
        );
        let beside = Caption {
            motions: vec![Selection::Free(MotionIndex::FIRST), Selection::Escape],
            ..alone.clone()
        };
        assert_eq!(
            click(&beside, "escape"),
            [Intent::Scene(SceneIntent::Motion(Selection::Escape))]
        );
    }

    #[test]
    fn the_whole_sentence_is_on_screen() {
        let theme = Theme::of(ThemeName::Daylight);
        let caption = caption(1);
        let found: DrawnTexts =
            testing::text(|ui| caption_ui(ui, &caption, &Playback::default(), &theme));
        assert!(found.has(&phrase!(caption.verdict, caption.reason).to_string()));
        assert!(found.has("Handrail"));
    }
}
