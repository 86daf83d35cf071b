//! The drawer of handouts: what can be taken home, and how far it is.

use bevy_egui::egui::{self, RichText, Ui};

use super::job::{Job, JobOutcome};
use super::{Handout, Handouts};
use crate::theme::Theme;
use crate::viewer::intent::{HandoutIntent, Intent};
use crate::viewer::style::{DRAWER_FADE, colour32};

/// Widths of pictures that are offered.
const WIDTHS: [u32; 2] = [1920, 3840];

fn make(handout: Handout) -> Intent {
    Intent::Handout(HandoutIntent::Make(handout))
}

/// Draws the drawer; returns what was asked for.
pub(crate) fn handouts_ui(
    ui: &mut Ui,
    handouts: &Handouts,
    (moves, releases): (bool, bool),
    theme: &Theme,
) -> Vec<Intent> {
    let quiet = colour32(theme.quiet_ink);
    let mut asked = Vec::new();
    ui.label(RichText::new("Handouts").heading());
    let note = "Each is written beside the scene's file; nothing is written over.";
    ui.add(egui::Label::new(RichText::new(note).color(quiet)).wrap());
    ui.add_space(6.0);
    for width in WIDTHS {
        row(
            ui,
            &format!("This picture, {width} pixels wide"),
            &mut asked,
            || Handout::Picture {
                width,
                transparent: false,
                labels: true,
            },
        );
    }
    row(ui, "This picture without names", &mut asked, || {
        Handout::Picture {
            width: WIDTHS[0],
            transparent: false,
            labels: false,
        }
    });
    row(
        ui,
        "This picture on a transparent ground",
        &mut asked,
        || Handout::Picture {
            width: WIDTHS[0],
            transparent: true,
            labels: true,
        },
    );
    row(ui, "This picture to the clipboard", &mut asked, || {
        Handout::Copy
    });
    if moves {
        row(ui, "The motion as a film (GIF)", &mut asked, || {
            Handout::Film
        });
    }
    row(ui, "A turn around it as a film (GIF)", &mut asked, || {
        Handout::Turn
    });
    row(ui, "A line figure for print (PDF)", &mut asked, || {
        Handout::Figure
    });
    row(ui, "The report (PDF)", &mut asked, || Handout::Report);
    row(ui, "Slides for a browser (HTML)", &mut asked, || {
        Handout::Slides
    });
    asked.extend(link_ui(ui, handouts, theme));
    if releases {
        let note = "Figure, report, slides and film are of the scene with all its reactions.";
        ui.add(egui::Label::new(RichText::new(note).color(quiet)).wrap());
    }
    ui.add_space(10.0);
    egui::ScrollArea::vertical()
        .auto_shrink(false)
        .show(ui, |ui| {
            asked.extend(jobs_ui(ui, handouts, theme));
            ui.add_space(DRAWER_FADE);
        });
    asked
}

/// A link that brings the scene along, and what became of it.
fn link_ui(ui: &mut Ui, handouts: &Handouts, theme: &Theme) -> Option<Intent> {
    let words = "A link with this scene, to the clipboard";
    let button = egui::Button::new(words).min_size(egui::vec2(ui.available_width(), 0.0));
    let asked = ui.add(button.wrap()).clicked();
    let (said, colour) = match &handouts.link {
        None => return asked.then_some(Intent::Handout(HandoutIntent::CopyLink)),
        Some(Ok(())) => (
            "Copied: it goes behind the address of the page, and every command reads it."
                .to_owned(),
            theme.ink,
        ),
        Some(Err(reason)) => (format!("No link: {reason}."), theme.error),
    };
    ui.add(egui::Label::new(RichText::new(said).color(colour32(colour))).wrap());
    asked.then_some(Intent::Handout(HandoutIntent::CopyLink))
}

fn row(ui: &mut Ui, words: &str, asked: &mut Vec<Intent>, handout: impl FnOnce() -> Handout) {
    let button = egui::Button::new(words).min_size(egui::vec2(ui.available_width(), 0.0));
    if ui.add(button.wrap()).clicked() {
        asked.push(make(handout()));
    }
}

/// The jobs, the last one first.
fn jobs_ui(ui: &mut Ui, handouts: &Handouts, theme: &Theme) -> Vec<Intent> {
    let mut asked = Vec::new();
    for (index, job) in handouts.jobs.iter().enumerate().rev() {
        let word = job.handout.word();
        let (words, colour) = match job.outcome() {
            None => (format!("Making the {word}: {}", time(job)), theme.ink),
            Some(JobOutcome::Written) if job.handout == Handout::Copy => {
                ("Copied: paste the picture anywhere.".to_owned(), theme.ink)
            }
            Some(JobOutcome::Written) => (format!("Written: {}", job.path.display()), theme.ink),
            Some(JobOutcome::Stopped) => (format!("Stopped: {word}."), theme.quiet_ink),
            Some(JobOutcome::Failed(reason)) => (
                format!("No {word}: {}.", reason.trim_end_matches('.')),
                theme.error,
            ),
        };
        ui.add(egui::Label::new(RichText::new(words).color(colour32(colour))).wrap());
        if let Some((part, _)) = job.progress().filter(|_| job.outcome().is_none()) {
            let bar = egui::ProgressBar::new(part)
                .desired_height(4.0)
                .fill(colour32(theme.quiet_ink));
            ui.add(bar);
        }
        if job.outcome().is_none() && ui.button("Stop it").clicked() {
            asked.push(Intent::Handout(HandoutIntent::Stop(index)));
        }
        ui.add_space(4.0);
    }
    asked
}

/// How long a job has gone on, or about how long it still will.
fn time(job: &Job) -> String {
    match job.progress() {
        Some((_, left)) => format!("about {left} s left"),
        None => format!("{} s", job.seconds()),
    }
}
