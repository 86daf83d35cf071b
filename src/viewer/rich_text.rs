//! Phrases as books set them, for egui: symbols italic, subscripts small and low, exponents small and high.

use bevy_egui::egui::text::{LayoutJob, TextFormat};
use bevy_egui::egui::{Align, Color32, FontId};

use crate::wording::{Height, Phrase};

/// A subscript's size relative to its line.
const SUBSCRIPT: f32 = 0.72;

/// Lays out a phrase.
pub(crate) fn line(phrase: &Phrase, font: &FontId, colour: Color32) -> LayoutJob {
    let mut job = LayoutJob::default();
    append(&mut job, phrase, font, colour);
    job
}

/// Adds a phrase to a layout.
pub(crate) fn append(job: &mut LayoutJob, phrase: &Phrase, font: &FontId, colour: Color32) {
    let small = FontId::new(font.size * SUBSCRIPT, font.family.clone());
    for piece in phrase.pieces() {
        let (font, valign) = match piece.height {
            Height::Line => (font, Align::BOTTOM),
            Height::Below => (&small, Align::BOTTOM),
            Height::Above => (&small, Align::TOP),
        };
        let format = TextFormat {
            font_id: font.clone(),
            color: colour,
            italics: piece.is_italic,
            valign,
            ..TextFormat::default()
        };
        job.append(&piece.text, 0.0, format);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wording::Symbol;

    #[test]
    fn symbols_slant_and_subscripts_are_smaller() {
        let symbol = Symbol {
            label: "A".to_owned(),
            ..Symbol::plain("N")
        };
        let job = line(&symbol.into(), &FontId::proportional(20.0), Color32::WHITE);
        assert_eq!(job.text, "NA");
        let [letter, label] = [0, 1].map(|section| &job.sections[section].format);
        assert!(label.font_id.size < letter.font_id.size);
        assert!(letter.italics && !label.italics);
    }
}
