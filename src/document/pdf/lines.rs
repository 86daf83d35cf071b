//! Text broken into lines: runs of letters with subscripts, measured in the embedded font.

use crate::document::runs;
use crate::drawing::{self, Run, Weight};
use crate::theme::Colour;

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

/// The text in lines no wider than there is room, broken at spaces; a word wider than that stands alone.
pub(super) fn wrapped(text: &str, style: Style, room: f64) -> Vec<Vec<Run>> {
    let space = Run::plain(" ");
    let gap = width(&space, style);
    let mut lines: Vec<Vec<Run>> = vec![Vec::new()];
    let mut used = 0.0;
    for word in words(text) {
        let word = runs(&word.replace('\u{a0}', " "));
        let wide = width(&word, style);
        let line = lines.last_mut().expect("there is always a line");
        if line.is_empty() {
            line.extend(word);
            used = wide;
        } else if used + gap + wide <= room {
            line.extend(space.iter().cloned());
            line.extend(word);
            used += gap + wide;
        } else {
            lines.push(word);
            used = wide;
        }
    }
    lines
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

/// What stays together on a line: words, and a number with the short word behind it, such as its unit.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let is_short =
            word.chars().count() <= LONGEST_UNIT && word.starts_with(char::is_alphabetic);
        match words.last_mut() {
            Some(number) if is_short && number.ends_with(|sign: char| sign.is_ascii_digit()) => {
                *number += "\u{a0}";
                *number += word;
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// Longest unit with the sign behind it: `kN·m/m,`.
const LONGEST_UNIT: usize = 7;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Level;

    #[test]
    fn lines_fit_and_keep_every_word() {
        let style = Style::new(10.0, Weight::Medium);
        let text = "A_x meets it; M_Bx is square to it. ".repeat(12);
        let lines = wrapped(&text, style, 200.0);
        assert!(lines.len() > 3);
        for line in &lines {
            assert!(width(line, style) <= 200.0);
        }
        let letters: String = lines
            .iter()
            .flatten()
            .map(|run| run.text.as_str())
            .collect();
        let words: String = text.replace(['_', ' '], "");
        assert_eq!(letters.replace(' ', ""), words);
        assert!(
            lines
                .iter()
                .flatten()
                .any(|run| run.level == Level::Below && run.text == "Bx")
        );
    }

    #[test]
    fn a_number_keeps_its_unit() {
        let style = Style::new(10.0, Weight::Medium);
        let text = "It moves by 12 m, or 0.5 kN·m is too much. ".repeat(9);
        for room in [90.0, 110.0, 130.0, 150.0] {
            for line in wrapped(&text, style, room) {
                let ends_in_number = line
                    .last()
                    .is_some_and(|run| run.text.ends_with(|sign: char| sign.is_ascii_digit()));
                assert!(!ends_in_number, "{line:?}");
            }
        }
    }

    #[test]
    fn a_word_without_room_stands_alone() {
        let style = Style::new(10.0, Weight::Bold);
        assert_eq!(
            wrapped("one uncommonly-long-word two", style, 30.0).len(),
            3
        );
        assert_eq!(wrapped("", style, 30.0), [Vec::new()]);
    }
}
