//! The embedded font: widths, outlines, and which letters it has.

use std::sync::OnceLock;

use ttf_parser::{Face, GlyphId, OutlineBuilder};

/// Weights of the embedded font.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Hash)]
pub enum Weight {
    /// For text.
    #[default]
    Medium,
    /// For headings and names of points.
    Bold,
}

/// Family name of the font.
pub const FAMILY: &str = "IBM Plex Sans";

static MEDIUM: &[u8] = include_bytes!("../../assets/fonts/IBMPlexSans-Medium.ttf");
static BOLD: &[u8] = include_bytes!("../../assets/fonts/IBMPlexSans-Bold.ttf");

impl Weight {
    /// Both weights.
    pub const ALL: [Self; 2] = [Self::Medium, Self::Bold];

    /// Weight as CSS counts it.
    pub fn css(self) -> u32 {
        match self {
            Self::Medium => 500,
            Self::Bold => 700,
        }
    }

    /// The whole font file.
    pub(super) fn bytes(self) -> &'static [u8] {
        match self {
            Self::Medium => MEDIUM,
            Self::Bold => BOLD,
        }
    }

    /// The font, parsed once.
    pub(super) fn face(self) -> &'static Face<'static> {
        static FACES: [OnceLock<Face<'static>>; 2] = [OnceLock::new(), OnceLock::new()];
        FACES[self as usize]
            .get_or_init(|| Face::parse(self.bytes(), 0).expect("the embedded font is sound"))
    }
}

/// Units of the font in the size of its letters.
pub(super) fn units(weight: Weight) -> f64 {
    f64::from(weight.face().units_per_em())
}

/// The glyph of a letter; the one for missing letters where the font has none.
pub(super) fn glyph(letter: char, weight: Weight) -> GlyphId {
    weight.face().glyph_index(letter).unwrap_or(GlyphId(0))
}

/// Whether the font has a letter.
pub fn has_letter(letter: char, weight: Weight) -> bool {
    glyph(letter, weight) != GlyphId(0)
}

/// Width of a text at size 1, without kerning.
pub fn advance(text: &str, weight: Weight) -> f64 {
    let face = weight.face();
    let units: u32 = text
        .chars()
        .map(|letter| u32::from(face.glyph_hor_advance(glyph(letter, weight)).unwrap_or(0)))
        .sum();
    f64::from(units) / self::units(weight)
}

/// The letters of a text, each with the width at size 1 of what is before it.
pub(super) fn letters(text: &str, weight: Weight) -> impl Iterator<Item = (char, f64)> {
    text.char_indices()
        .map(move |(start, letter)| (letter, advance(&text[..start], weight)))
}

/// Height of capital letters at size 1.
pub fn capital_height(weight: Weight) -> f64 {
    f64::from(weight.face().capital_height().unwrap_or(698)) / units(weight)
}

/// How far letters such as `g` reach below the base line at size 1.
pub fn descent(weight: Weight) -> f64 {
    -f64::from(weight.face().descender()) / units(weight) * 0.8
}

/// Draws a glyph's outline in units of the font, y up.
pub(super) fn outline(letter: char, weight: Weight, builder: &mut dyn OutlineBuilder) {
    weight.face().outline_glyph(glyph(letter, weight), builder);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_font_has_every_sign_that_figures_write() {
        for letter in "Aβφ·−×°²³₀′″½≤≥±→∞0123456789".chars() {
            for weight in Weight::ALL {
                assert_ne!(glyph(letter, weight), GlyphId(0), "{letter}");
            }
        }
    }

    #[test]
    fn figures_are_as_wide_as_each_other() {
        let one = advance("1", Weight::Medium);
        assert!(one > 0.3 && one < 0.8);
        assert_eq!(advance("11", Weight::Medium), 2.0 * one);
        assert_eq!(advance("8", Weight::Medium), one);
    }
}
