//! The one text face, embedded: IBM Plex Sans (SIL Open Font License 1.1, text beside it in `assets/fonts`).
//!
//! Its figures all have one width, and it has arrows, primes, Greek and mathematical signs.

use std::sync::Arc;

use bevy_egui::egui::{Context, FontData, FontDefinitions, FontFamily};

const MEDIUM: &[u8] = include_bytes!("../../assets/fonts/IBMPlexSans-Medium.ttf");
const BOLD_FACE: &[u8] = include_bytes!("../../assets/fonts/IBMPlexSans-Bold.ttf");

/// The family of the bold face.
pub(crate) const BOLD_FAMILY: &str = "bold";

/// Gives egui the text face in both weights; its own faces remain for signs that it lacks.
pub(crate) fn install(ctx: &Context) {
    ctx.set_fonts(definitions());
}

fn definitions() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    let mut add = |name: &str, bytes: &'static [u8]| {
        let data = Arc::new(FontData::from_static(bytes));
        fonts.font_data.insert(name.to_owned(), data);
    };
    add("plex-medium", MEDIUM);
    add("plex-bold", BOLD_FACE);
    let fallbacks = fonts.families[&FontFamily::Proportional].clone();
    let with = |face: &str| {
        let faces = std::iter::once(face.to_owned());
        faces.chain(fallbacks.iter().cloned()).collect()
    };
    let bold = FontFamily::Name(BOLD_FAMILY.into());
    let families = [
        (FontFamily::Proportional, with("plex-medium")),
        (bold, with("plex-bold")),
    ];
    fonts.families.extend(families);
    fonts
}

#[cfg(test)]
mod tests {
    use bevy_egui::egui::{FontId, RawInput, epaint::TextureId};

    use super::*;

    /// Runs a check with the faces laid out as in the window.
    fn with_faces(check: impl Fn(&Context, &FontId)) {
        let ctx = Context::default();
        install(&ctx);
        for family in [
            FontFamily::Proportional,
            FontFamily::Name(BOLD_FAMILY.into()),
        ] {
            let font = FontId::new(32.0, family);
            let mut output = ctx.run_ui(RawInput::default(), |ui| check(ui.ctx(), &font));
            assert!(
                output
                    .textures_delta
                    .set
                    .iter()
                    .all(|(id, _)| *id == TextureId::default())
            );
            output.textures_delta.clear();
        }
    }

    #[test]
    fn every_sign_that_the_words_use_is_there() {
        let signs = "→←↑↓′″₀₁₂₃₄₅₆₇₈₉·°−×≥≤√≠±∞–—…“”‘’αβγδθλμπρστφψωΔΣΩ⁰¹²³";
        with_faces(|ctx, font| {
            ctx.fonts_mut(|fonts| {
                for sign in signs.chars() {
                    assert!(fonts.has_glyph(font, sign), "{sign} in {font:?}");
                }
            });
        });
    }

    #[test]
    fn figures_have_one_width() {
        with_faces(|ctx, font| {
            ctx.fonts_mut(|fonts| {
                let zero = fonts.glyph_width(font, '0');
                assert!(zero > 0.0);
                for digit in "123456789".chars() {
                    assert!(
                        (fonts.glyph_width(font, digit) - zero).abs() < 0.05,
                        "{digit}"
                    );
                }
            });
        });
    }
}
