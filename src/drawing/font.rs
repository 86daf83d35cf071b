//! Measures of the embedded font, and the glyphs of its letters.

use ttf_parser::{GlyphId, OutlineBuilder};

use crate::fonts;
pub use crate::fonts::{FAMILY, Weight};

/// Units of the font in the size of its letters.
pub(super) fn units(weight: Weight) -> f64 {
    f64::from(weight.face().units_per_em())
}

/// The glyph for missing letters: a box.
pub(super) const MISSING: GlyphId = GlyphId(0);

/// The glyph of a letter; the one for missing letters where the font has none.
pub(super) fn glyph(letter: char, weight: Weight) -> GlyphId {
    weight.glyph(letter).unwrap_or(MISSING)
}

/// Whether a letter can be drawn: by the embedded font, or by one of the machine.
pub fn can_be_drawn(letter: char, weight: Weight) -> bool {
    weight.glyph(letter).is_some() || fonts::of_machine().face(letter, weight).is_some()
}

/// Width of a glyph at size 1.
pub(super) fn glyph_advance(glyph: GlyphId, weight: Weight) -> f64 {
    let advance = weight.face().glyph_hor_advance(glyph).unwrap_or(0);
    f64::from(advance) / units(weight)
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
pub(super) fn outline(glyph: GlyphId, weight: Weight, builder: &mut dyn OutlineBuilder) {
    weight.face().outline_glyph(glyph, builder);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_font_has_every_sign_that_figures_write() {
        for letter in "Aβφ·−×°²³₀′″½≤≥±→∞0123456789".chars() {
            for weight in Weight::ALL {
                assert_ne!(glyph(letter, weight), MISSING, "{letter}");
            }
        }
    }

    #[test]
    fn figures_are_as_wide_as_each_other() {
        let advance = |figure| glyph_advance(glyph(figure, Weight::Medium), Weight::Medium);
        assert!(advance('1') > 0.3 && advance('1') < 0.8);
        assert_eq!(advance('8'), advance('1'));
    }
}
