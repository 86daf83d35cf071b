//! Text as runs of letters on the base line, below and above it.

use crate::drawing::{Level, Run};
use crate::wording::{Piece, lowered, pieces};

/// A text as books set it: names with their subscripts, exponents raised.
pub fn runs(text: &str) -> Vec<Run> {
    let run = |text: &str, level| Run {
        text: text.to_owned(),
        level,
    };
    let pieces = pieces(text).into_iter();
    pieces
        .map(|piece| match piece {
            Piece::Line(text) => run(text, Level::Line),
            Piece::Below(text) => run(text, Level::Below),
            Piece::Above(text) => run(&lowered(text), Level::Above),
        })
        .collect()
}
