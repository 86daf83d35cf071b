//! The line over the caption while questions are asked: where the answer is given, and what was right.

use bevy_egui::egui::{self, FontId, RichText, Ui};

use super::{Practising, Round};
use crate::practice::{Answer, Question};
use crate::repair::AddedLink;
use crate::study::Study;
use crate::theme::Theme;
use crate::viewer::intent::{Intent, PracticeIntent, StepDirection};
use crate::viewer::rich_text;
use crate::viewer::style::{BOLD, colour32};

/// Size of its letters.
const SIZE: f32 = 19.0;
/// Least height, so that the picture stays as it is from a question to its answer.
const HEIGHT: f32 = 92.0;
/// Most digits of a number.
const DIGITS: usize = 4;

fn practice(intent: PracticeIntent) -> Intent {
    Intent::Practice(intent)
}

/// Draws the line of a study's questions; `link` is the one on trial.
pub(crate) fn line_ui(
    ui: &mut Ui,
    practising: &Practising,
    (study, link): (&Study, Option<&AddedLink>),
    theme: &Theme,
) -> Vec<Intent> {
    let Some(round) = &practising.round else {
        return Vec::new();
    };
    let mut asked = Vec::new();
    ui.set_min_height(HEIGHT);
    ui.horizontal_wrapped(|ui| {
        let words = match round.question() {
            Some(_) => format!("Question {} of {}", round.at + 1, round.questions.len()),
            None => "All questions answered".to_owned(),
        };
        ui.label(
            RichText::new(words)
                .size(15.5)
                .color(colour32(theme.quiet_ink)),
        );
    });
    match round.question() {
        Some(question) if !round.is_answered() => {
            asked.extend(answer_ui(ui, round, question, (study, link)));
        }
        Some(_) => asked.extend(mark_ui(ui, round, theme)),
        None => asked.extend(summary_ui(ui, practising, round, theme)),
    }
    if let Some(trouble) = &practising.trouble {
        let text = RichText::new(format!("Not kept: {trouble}."));
        ui.add(egui::Label::new(text.size(16.0).color(colour32(theme.error))).wrap());
    }
    asked
}

/// Where the answer is given.
fn answer_ui(
    ui: &mut Ui,
    round: &Round,
    question: Question,
    (study, link): (&Study, Option<&AddedLink>),
) -> Vec<Intent> {
    let choices = question.choices(study);
    let mut asked = Vec::new();
    ui.horizontal_wrapped(|ui| match question {
        Question::Unknowns | Question::Rank | Question::Freedom => {
            asked.extend(number_ui(ui, round));
        }
        Question::Determinate | Question::Kind | Question::Finite => {
            for (index, choice) in choices.iter().enumerate() {
                if ui.button(RichText::new(*choice).size(SIZE)).clicked() {
                    asked.push(practice(PracticeIntent::Answer(Answer::Choice(index))));
                }
            }
        }
        Question::Axis => {
            let places = question.places(study);
            let words = match round.pointed.len() {
                0 => "Click in the picture; a drag turns it.".to_owned(),
                done => format!("{done} of {places} places."),
            };
            ui.label(RichText::new(words).size(SIZE));
        }
        Question::Stop => match link {
            Some(link) => {
                let button = ui.button(RichText::new("Answer with this link").size(SIZE));
                if button.clicked() {
                    let answer = Answer::Link(link.clone());
                    asked.push(practice(PracticeIntent::Answer(answer)));
                }
            }
            None => {
                ui.label(RichText::new("Press on the body and pull.").size(SIZE));
            }
        },
    });
    asked
}

/// A number is typed; the keys are the field's meanwhile.
fn number_ui(ui: &mut Ui, round: &Round) -> Vec<Intent> {
    let mut text = round.typed.clone();
    let id = egui::Id::new("the answer").with(round.at);
    let field = egui::TextEdit::singleline(&mut text)
        .id(id)
        .font(FontId::proportional(SIZE))
        .desired_width(64.0);
    let field = ui.add(field);
    let entered = field.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
    let first = ui.data_mut(|data| {
        let is_new = data.get_temp::<usize>(egui::Id::new("the field asked for")) != Some(round.at);
        data.insert_temp(egui::Id::new("the field asked for"), round.at);
        is_new
    });
    if first || entered {
        field.request_focus();
    }
    let text: String = text
        .chars()
        .filter(char::is_ascii_digit)
        .take(DIGITS)
        .collect();
    let clicked = ui
        .button(RichText::new("Answer").size(SIZE))
        .on_hover_text("Enter")
        .clicked();
    match text.parse() {
        Ok(number) if entered || clicked => {
            vec![practice(PracticeIntent::Answer(Answer::Number(number)))]
        }
        _ if text != round.typed => vec![practice(PracticeIntent::Type(text))],
        _ => Vec::new(),
    }
}

/// Whether it was right, and why.
fn mark_ui(ui: &mut Ui, round: &Round, theme: &Theme) -> Vec<Intent> {
    let Some(mark) = round.marks.get(round.at) else {
        return Vec::new();
    };
    let (word, colour) = match mark.is_right {
        true => ("Right. ", theme.motion),
        false => ("Not right. ", theme.error),
    };
    let mut job = egui::text::LayoutJob::default();
    let bold = FontId::new(SIZE, BOLD.clone());
    rich_text::append(&mut job, &word.into(), &bold, colour32(colour));
    let plain = FontId::proportional(SIZE);
    rich_text::append(&mut job, &mark.reason, &plain, colour32(theme.ink));
    ui.add(egui::Label::new(job).wrap());
    on_ui(ui, "Go on")
}

/// How many were right, here and in all scenes so far.
fn summary_ui(ui: &mut Ui, practising: &Practising, round: &Round, theme: &Theme) -> Vec<Intent> {
    let right = round.marks.iter().filter(|mark| mark.is_right).count();
    let (total, scenes) = practising.record.total();
    let counted = match scenes {
        1 => String::new(),
        _ => format!("; {} of {} in {scenes} scenes", total.right, total.asked),
    };
    let words = format!("{right} of {} right{counted}.", round.questions.len());
    ui.label(RichText::new(words).size(SIZE).color(colour32(theme.ink)));
    let mut asked = on_ui(ui, "Next scene");
    if ui.button("End").on_hover_text("Q").clicked() {
        asked.push(practice(PracticeIntent::Switch));
    }
    asked
}

fn on_ui(ui: &mut Ui, word: &str) -> Vec<Intent> {
    let button = ui.button(RichText::new(word).size(SIZE));
    let clicked = button.on_hover_text("Page Down, Enter").clicked();
    let on = clicked.then_some(Intent::Scene(super::SceneIntent::Step(StepDirection::On)));
    on.into_iter().collect()
}
