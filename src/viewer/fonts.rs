//! The text face in both weights, and faces of the machine for names with letters that it lacks.

use std::collections::BTreeSet;
use std::sync::Arc;

use bevy_egui::egui::{Context, FontData, FontDefinitions, FontFamily};

use crate::fonts::{self, SystemFace, Weight};
use crate::scene::Scene;

/// The family of the bold face.
pub(crate) const BOLD_FAMILY: &str = "bold";

/// Gives egui the text face in both weights; its own faces remain for signs that it lacks.
pub(crate) fn install(ctx: &Context) {
    ctx.set_fonts(definitions(&BTreeSet::new()));
}

/// As [`install`], with faces of the machine for letters.
pub(crate) fn install_for(ctx: &Context, letters: &BTreeSet<char>) {
    ctx.set_fonts(definitions(letters));
}

/// The letters of a scene's names that the text face lacks.
pub(crate) fn foreign_letters(scene: &Scene) -> BTreeSet<char> {
    let letters = scene.worded().flat_map(str::chars);
    letters
        .filter(|letter| Weight::Medium.glyph(*letter).is_none())
        .collect()
}

fn definitions(letters: &BTreeSet<char>) -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    let usual = fonts.families[&FontFamily::Proportional].clone();
    let bold = FontFamily::Name(BOLD_FAMILY.into());
    for (weight, family) in [
        (Weight::Medium, FontFamily::Proportional),
        (Weight::Bold, bold),
    ] {
        let name = format!("{} {}", fonts::FAMILY, weight.css());
        let mut faces = vec![name.clone()];
        let data = FontData::from_static(weight.bytes());
        fonts.font_data.insert(name, Arc::new(data));
        faces.extend(usual.iter().cloned());
        for (index, face) in system_faces(letters, weight).into_iter().enumerate() {
            let name = format!("system {} {index}", weight.css());
            let (bytes, index) = face.file();
            let mut data = FontData::from_static(bytes);
            data.index = index;
            fonts.font_data.insert(name.clone(), Arc::new(data));
            faces.push(name);
        }
        fonts.families.insert(family, faces);
    }
    fonts
}

/// The faces of the machine that have letters, each once.
fn system_faces(letters: &BTreeSet<char>, weight: Weight) -> Vec<&'static SystemFace> {
    let mut faces: Vec<&'static SystemFace> = Vec::new();
    for letter in letters {
        let face = fonts::of_machine().face(*letter, weight);
        faces.extend(face.filter(|face| !faces.contains(face)));
    }
    faces
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
