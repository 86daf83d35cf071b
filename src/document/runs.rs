//! Phrases as runs of letters on the base line, below and above it, upright and italic.

use crate::drawing::{Run, Script, Weight, width};
use crate::wording::{Height, Phrase, TextPiece};

/// A phrase as books set it: symbols italic, with their subscripts; exponents raised.
pub fn runs(phrase: &Phrase) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    phrase
        .pieces()
        .iter()
        .for_each(|piece| add(&mut runs, piece, &piece.text));
    runs
}

/// The same as words that lines are made of: what may not be torn apart is one word.
fn words(phrase: &Phrase) -> Vec<Vec<Run>> {
    let mut words: Vec<Vec<Run>> = vec![Vec::new()];
    for piece in phrase.pieces() {
        for (index, part) in piece.text.split(' ').enumerate() {
            if index > 0 {
                words.push(Vec::new());
            }
            add(
                words.last_mut().expect("there is always a word"),
                &piece,
                part,
            );
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

/// A phrase in lines no wider than there is room, in letters of a size; a word wider than that has a line of its own.
pub fn wrapped(phrase: &Phrase, size: f64, weight: Weight, room: f64) -> Vec<Vec<Run>> {
    let space = Run::plain(" ");
    let gap = width(&space, size, weight);
    let mut lines: Vec<Vec<Run>> = vec![Vec::new()];
    let mut used = 0.0;
    for word in words(phrase) {
        let wide = width(&word, size, weight);
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

/// Adds letters of a piece; those that are written alike share a run.
fn add(runs: &mut Vec<Run>, piece: &TextPiece, text: &str) {
    let text = text.replace('\u{a0}', " ");
    let level = match piece.height {
        Height::Line => Script::Line,
        Height::Below => Script::Below,
        Height::Above => Script::Above,
    };
    match runs.last_mut() {
        _ if text.is_empty() => {}
        Some(run) if run.level == level && run.is_italic == piece.is_italic => {
            run.text.push_str(&text);
        }
        _ => runs.push(Run {
            text,
            level,
            is_italic: piece.is_italic,
        }),
    }
}
