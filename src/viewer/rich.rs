//! Text as books set it: what follows the underscore of a name stands small and low.

use bevy_egui::egui::text::{LayoutJob, TextFormat};
use bevy_egui::egui::{Align, Color32, FontId};

/// A subscript's size relative to its line.
const SUBSCRIPT: f32 = 0.72;

/// Lays out a text with subscripts.
pub fn line(text: &str, font: &FontId, colour: Color32) -> LayoutJob {
    let mut job = LayoutJob::default();
    append(&mut job, text, font, colour);
    job
}

/// Adds a text with subscripts to a layout.
pub fn append(job: &mut LayoutJob, text: &str, font: &FontId, colour: Color32) {
    let small = FontId::new(font.size * SUBSCRIPT, font.family.clone());
    for piece in pieces(text) {
        let (text, font) = match piece {
            Piece::Line(text) => (text, font),
            Piece::Below(text) => (text, &small),
        };
        let format = TextFormat {
            font_id: font.clone(),
            color: colour,
            valign: Align::BOTTOM,
            ..TextFormat::default()
        };
        job.append(text, 0.0, format);
    }
}

/// A run of text on the line or below it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Piece<'a> {
    /// On the line.
    Line(&'a str),
    /// A subscript.
    Below(&'a str),
}

/// Splits a text at the underscores of its names: letters and figures after one stand below the line.
pub fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    let mut rest = text;
    while let Some((before, after)) = name_end(rest) {
        let below = after.trim_start_matches(char::is_alphanumeric);
        let length = after.len() - below.len();
        pieces.push(Piece::Line(before));
        pieces.push(Piece::Below(&after[..length]));
        rest = below;
    }
    if !rest.is_empty() {
        pieces.push(Piece::Line(rest));
    }
    pieces
}

/// Splits at the first underscore that stands between letters or figures.
fn name_end(text: &str) -> Option<(&str, &str)> {
    text.match_indices('_').find_map(|(at, _)| {
        let (before, after) = (&text[..at], &text[at + 1..]);
        let inside =
            before.ends_with(char::is_alphanumeric) && after.starts_with(char::is_alphanumeric);
        inside.then_some((before, after))
    })
}

#[cfg(test)]
mod tests {
    use super::Piece::{Below, Line};
    use super::*;

    #[test]
    fn names_split_at_their_underscore() {
        assert_eq!(pieces("A_x"), [Line("A"), Below("x")]);
        assert_eq!(
            pieces("not M_Ax, T_C."),
            [
                Line("not M"),
                Below("Ax"),
                Line(", T"),
                Below("C"),
                Line(".")
            ]
        );
        assert_eq!(pieces("plain"), [Line("plain")]);
        assert_eq!(pieces("_ alone_"), [Line("_ alone_")]);
        assert_eq!(pieces(""), []);
    }

    #[test]
    fn subscripts_are_smaller() {
        let job = line("A_x", &FontId::proportional(20.0), Color32::WHITE);
        assert_eq!(job.text, "Ax");
        assert!(job.sections[1].format.font_id.size < job.sections[0].format.font_id.size);
    }
}
