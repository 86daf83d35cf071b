//! Text broken into lines: runs of letters with subscripts, measured in the embedded font.

use crate::document;
use crate::drawing::{self, Run, Weight};
use crate::theme::Colour;
use crate::wording::Phrase;

/// How text is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Style {
    /// Size of the letters, points.
    pub(super) size: f64,
    pub(super) weight: Weight,
    pub(super) colour: Colour,
}

const INK: Colour = Colour(0x1B, 0x1F, 0x24);
const QUIET_INK: Colour = Colour(0x56, 0x5D, 0x66);

impl Style {
    pub(super) const fn new(size: f64, weight: Weight) -> Self {
        Self {
            size,
            weight,
            colour: INK,
        }
    }

    pub(super) const fn quiet(self) -> Self {
        Self {
            colour: QUIET_INK,
            ..self
        }
    }

    /// From one base line to the next.
    pub(super) fn height(&self) -> f64 {
        self.size * 1.38
    }
}

/// Width of runs, points.
pub(super) fn width(runs: &[Run], style: Style) -> f64 {
    drawing::width(runs, style.size, style.weight)
}

/// The text in lines no wider than there is room, broken at spaces; a word wider than that has a line of its own.
pub(super) fn wrapped(text: &Phrase, style: Style, room: f64) -> Vec<Vec<Run>> {
    document::wrapped(text, style.size, style.weight, room)
}

/// The lines as they are written: with a space behind all but the last, so that whoever reads the text finds words apart.
pub(super) fn spaced(lines: Vec<Vec<Run>>) -> impl Iterator<Item = Vec<Run>> {
    let last = lines.len().saturating_sub(1);
    lines.into_iter().enumerate().map(move |(index, mut line)| {
        if index < last {
            line.extend(Run::plain(" "));
        }
        line
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Script;
    use crate::wording::{Number, Quantity, Symbol, phrase};

    fn said() -> Phrase {
        let symbol = |letter: &str, label: &str, axis| Symbol {
            letter: letter.to_owned(),
            label: label.to_owned(),
            axis,
        };
        let sentence = phrase!(
            symbol("A", "", "x"),
            " meets it at ",
            Quantity::new(Number::from("12".to_owned()), "kN·m"),
            "; ",
            symbol("M", "B", "x"),
            " is square to it. "
        );
        Phrase::joined(vec![sentence; 12], "")
    }

    #[test]
    fn lines_fit_and_keep_every_word() {
        let style = Style::new(10.0, Weight::Medium);
        let lines = wrapped(&said(), style, 200.0);
        assert!(lines.len() > 3);
        for line in &lines {
            assert!(width(line, style) <= 200.0);
        }
        let letters: String = lines
            .iter()
            .flatten()
            .map(|run| run.text.as_str())
            .collect();
        let words: String = said().to_string().replace(['_', ' '], "");
        assert_eq!(letters.replace(' ', ""), words);
        let is_label = |run: &Run| run.level == Script::Below && run.text == "B" && !run.is_italic;
        assert!(lines.iter().flatten().any(is_label));
    }

    #[test]
    fn a_number_keeps_its_unit() {
        let style = Style::new(10.0, Weight::Medium);
        for room in [90.0, 110.0, 130.0, 150.0] {
            for line in wrapped(&said(), style, room) {
                let ends_in_number = line
                    .last()
                    .is_some_and(|run| run.text.ends_with(|sign: char| sign.is_ascii_digit()));
                assert!(!ends_in_number, "{line:?}");
            }
        }
    }

    #[test]
    fn a_word_without_room_has_its_own_line() {
        let style = Style::new(10.0, Weight::Bold);
        let words = "one uncommonly-long-word two".into();
        assert_eq!(wrapped(&words, style, 30.0).len(), 3);
        assert_eq!(wrapped(&Phrase::new(), style, 30.0), [Vec::new()]);
    }
}
