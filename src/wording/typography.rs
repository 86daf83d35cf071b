//! Text as books set it: what follows the underscore of a name stands below the line, a negative exponent above it.

/// A run of text on the line, below or above it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Piece<'a> {
    /// On the line.
    Line(&'a str),
    /// A subscript.
    Below(&'a str),
    /// An exponent in raised signs; [`lowered`] gives those to be written small and high.
    Above(&'a str),
}

/// Splits a text at the underscores of its names: letters and figures after one stand below the line.
pub fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    let mut rest = text;
    while let Some((before, after)) = name_end(rest) {
        let below = after.trim_start_matches(char::is_alphanumeric);
        let length = after.len() - below.len();
        push_line(&mut pieces, before);
        pieces.push(Piece::Below(&after[..length]));
        rest = below;
    }
    push_line(&mut pieces, rest);
    pieces
}

/// Adds a text without names, its negative exponents apart: few faces have a raised minus.
fn push_line<'a>(pieces: &mut Vec<Piece<'a>>, mut text: &'a str) {
    while let Some(start) = text.find(RAISED_MINUS) {
        let (before, raised) = text.split_at(start);
        let rest = raised.trim_start_matches(|sign| PLAIN.iter().any(|(high, _)| *high == sign));
        pieces.extend((!before.is_empty()).then_some(Piece::Line(before)));
        pieces.push(Piece::Above(&raised[..raised.len() - rest.len()]));
        text = rest;
    }
    pieces.extend((!text.is_empty()).then_some(Piece::Line(text)));
}

const RAISED_MINUS: char = '⁻';

/// Raised signs and what they are on the line.
const PLAIN: [(char, char); 11] = [
    (RAISED_MINUS, '\u{2212}'),
    ('⁰', '0'),
    ('¹', '1'),
    ('²', '2'),
    ('³', '3'),
    ('⁴', '4'),
    ('⁵', '5'),
    ('⁶', '6'),
    ('⁷', '7'),
    ('⁸', '8'),
    ('⁹', '9'),
];

/// Raised signs as signs of the line.
pub fn lowered(raised: &str) -> String {
    let on_line = |sign| PLAIN.iter().find(|(high, _)| *high == sign);
    raised
        .chars()
        .map(|sign| on_line(sign).map_or(sign, |(_, plain)| *plain))
        .collect()
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
    use super::Piece::{Above, Below, Line};
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
    fn negative_exponents_stand_above() {
        assert_eq!(
            pieces("A_x = 2×10⁻¹⁹ N m²"),
            [
                Line("A"),
                Below("x"),
                Line(" = 2×10"),
                Above("⁻¹⁹"),
                Line(" N m²")
            ]
        );
        assert_eq!(lowered("⁻¹⁹"), "\u{2212}19");
    }
}
