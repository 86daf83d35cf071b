//! Text broken into lines: runs of letters with subscripts, measured in the embedded font.

use crate::document::runs;
use crate::page::{self, Run, Weight};
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
    page::width(runs, style.size, style.weight)
}

/// The text in lines no wider than there is room, broken at spaces; a word wider than that stands alone.
pub(super) fn wrapped(text: &str, style: Style, room: f64) -> Vec<Vec<Run>> {
    let space = Run::plain(" ");
    let gap = width(&space, style);
    let mut lines: Vec<Vec<Run>> = vec![Vec::new()];
    let mut used = 0.0;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::Level;

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
    fn a_word_without_room_stands_alone() {
        let style = Style::new(10.0, Weight::Bold);
        assert_eq!(
            wrapped("one uncommonly-long-word two", style, 30.0).len(),
            3
        );
        assert_eq!(wrapped("", style, 30.0), [Vec::new()]);
    }
}
