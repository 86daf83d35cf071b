//! Text as books set it, for egui: subscripts small and low, negative exponents small and high.

use bevy_egui::egui::text::{LayoutJob, TextFormat};
use bevy_egui::egui::{Align, Color32, FontId};

use crate::wording::{Piece, lowered, pieces};

/// A subscript's size relative to its line.
const SUBSCRIPT: f32 = 0.72;

/// Lays out a text with subscripts.
pub(crate) fn line(text: &str, font: &FontId, colour: Color32) -> LayoutJob {
    let mut job = LayoutJob::default();
    append(&mut job, text, font, colour);
    job
}

/// Adds a text with subscripts to a layout.
pub(crate) fn append(job: &mut LayoutJob, text: &str, font: &FontId, colour: Color32) {
    let small = FontId::new(font.size * SUBSCRIPT, font.family.clone());
    for piece in pieces(text) {
        let mut add = |text: &str, font: &FontId, valign| {
            let format = TextFormat {
                font_id: font.clone(),
                color: colour,
                valign,
                ..TextFormat::default()
            };
            job.append(text, 0.0, format);
        };
        match piece {
            Piece::Line(text) => add(text, font, Align::BOTTOM),
            Piece::Below(text) => add(text, &small, Align::BOTTOM),
            Piece::Above(text) => add(&lowered(text), &small, Align::TOP),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn subscripts_are_smaller() {
        let job = line("A_x", &FontId::proportional(20.0), Color32::WHITE);
        assert_eq!(job.text, "Ax");
        assert!(job.sections[1].format.font_id.size < job.sections[0].format.font_id.size);
    }
}
