//! A line of text as glyphs from left to right: letters of the embedded font as they come, and the letters that it lacks,
//! shaped by a font of the machine that has them.
//!
//! Lines run from left to right. Within them a piece of a script that runs the other way is set from right to left, with
//! the spaces in it; Latin letters and figures end such a piece.

use std::ops::Range;

use ttf_parser::{GlyphId, OutlineBuilder};

use super::font::{self, Weight};
use crate::fonts::{self, ShapedGlyph, SystemFace};

/// What glyphs are taken from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Typeface {
    /// The embedded font.
    Embedded(Weight),
    /// A font of the machine.
    System(&'static SystemFace),
    /// No font: a box of the embedded font for each letter.
    Missing(Weight),
}

/// A glyph of a text; lengths at size 1.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Glyph {
    /// Its font.
    pub typeface: Typeface,
    /// Its number there.
    pub id: GlyphId,
    /// The bytes of the text that it stands for.
    pub letters: Range<usize>,
    /// How far the next glyph is.
    pub advance: f64,
    /// How far it is moved to the right and up from its place.
    pub shift: [f64; 2],
}

impl Typeface {
    /// Units of the font in the size of its letters.
    pub(super) fn units(self) -> f64 {
        match self {
            Self::Embedded(weight) | Self::Missing(weight) => font::units(weight),
            Self::System(face) => face.units(),
        }
    }

    /// Draws a glyph's outline in units of the font, y up.
    pub(super) fn outline(self, glyph: GlyphId, builder: &mut dyn OutlineBuilder) {
        match self {
            Self::Embedded(weight) | Self::Missing(weight) => font::outline(glyph, weight, builder),
            Self::System(face) => face.outline(glyph, builder),
        }
    }
}

/// The glyphs of a text from left to right.
pub(super) fn glyphs(text: &str, weight: Weight) -> Vec<Glyph> {
    set(text, weight, |letter| {
        fonts::of_machine().face(letter, weight)
    })
}

/// Width of a text at size 1, without kerning.
pub(super) fn advance(text: &str, weight: Weight) -> f64 {
    glyphs(text, weight).iter().map(|glyph| glyph.advance).sum()
}

/// Glyphs that follow each other, each with the width at size 1 of what is before it.
pub(super) fn placed(glyphs: &[Glyph]) -> impl Iterator<Item = (&Glyph, f64)> {
    glyphs.iter().scan(0.0, |x, glyph| {
        let before = *x;
        *x += glyph.advance;
        Some((glyph, before))
    })
}

/// How far letters that the embedded font lacks reach below and above the base line, at size 1.
pub(super) fn foreign_reach(text: &str, weight: Weight) -> [f64; 2] {
    let glyphs = glyphs(text, weight);
    let reaches = glyphs.iter().filter_map(|glyph| match glyph.typeface {
        Typeface::System(face) => Some((face.reach(glyph.id), glyph.shift[1])),
        Typeface::Embedded(_) | Typeface::Missing(_) => None,
    });
    reaches.fold([0.0; 2], |[below, above], ([down, up], raised)| {
        [below.max(down - raised), above.max(up + raised)]
    })
}

/// Letters that follow each other and are set in one way.
#[derive(Debug, Clone, PartialEq)]
struct TypesetPiece {
    letters: Range<usize>,
    typeface: Typeface,
    is_leftwards: bool,
}

/// The glyphs of a text, with the faces that are found for letters that the embedded font lacks.
fn set(
    text: &str,
    weight: Weight,
    find: impl Fn(char) -> Option<&'static SystemFace>,
) -> Vec<Glyph> {
    let mut pieces: Vec<TypesetPiece> = Vec::new();
    for (start, letter) in text.char_indices() {
        let end = start + letter.len_utf8();
        let typeface = typeface(letter, pieces.last(), weight, &find);
        let is_leftwards = matches!(typeface, Typeface::System(_)) && runs_leftwards(letter);
        match pieces.last_mut() {
            Some(last) if (last.typeface, last.is_leftwards) == (typeface, is_leftwards) => {
                last.letters.end = end;
            }
            _ => pieces.push(TypesetPiece {
                letters: start..end,
                typeface,
                is_leftwards,
            }),
        }
    }
    let pieces = joined(text, pieces);
    pieces.iter().flat_map(|piece| piece.glyphs(text)).collect()
}

fn typeface(
    letter: char,
    last: Option<&TypesetPiece>,
    weight: Weight,
    find: impl Fn(char) -> Option<&'static SystemFace>,
) -> Typeface {
    if weight.glyph(letter).is_some() {
        return Typeface::Embedded(weight);
    }
    // Marks belong to the letter before them.
    if let Some(Typeface::System(face)) = last.map(|piece| piece.typeface)
        && face.has(letter)
    {
        return Typeface::System(face);
    }
    find(letter).map_or(Typeface::Missing(weight), Typeface::System)
}

/// Whether a letter belongs to a script that runs from right to left.
///
/// # Source
/// Unicode 16, `DerivedBidiClass.txt`: the blocks whose letters are of class R or AL unless said otherwise (from memory).
fn runs_leftwards(letter: char) -> bool {
    matches!(letter, '\u{590}'..='\u{8FF}' | '\u{FB1D}'..='\u{FDFF}' | '\u{FE70}'..='\u{FEFF}'
        | '\u{10800}'..='\u{10FFF}' | '\u{1E800}'..='\u{1EFFF}')
}

/// Joins pieces that run leftwards with the spaces and signs between them.
fn joined(text: &str, pieces: Vec<TypesetPiece>) -> Vec<TypesetPiece> {
    let mut joined: Vec<TypesetPiece> = Vec::new();
    for piece in pieces {
        if let [.., before, between] = joined.as_slice()
            && before.is_leftwards
            && piece.is_leftwards
            && before.typeface == piece.typeface
            && between.is_neutral_for(before, text)
        {
            joined.pop();
            joined
                .last_mut()
                .expect("there is one before it")
                .letters
                .end = piece.letters.end;
        } else {
            joined.push(piece);
        }
    }
    joined
}

impl TypesetPiece {
    /// Whether it has no letters and figures, and another piece's face has all of it.
    fn is_neutral_for(&self, other: &Self, text: &str) -> bool {
        let mut letters = text[self.letters.clone()].chars();
        match (self.typeface, other.typeface) {
            (Typeface::Embedded(_), Typeface::System(face)) => {
                letters.all(|letter| !letter.is_alphanumeric() && face.has(letter))
            }
            _ => false,
        }
    }

    fn glyphs(&self, text: &str) -> Vec<Glyph> {
        match self.typeface {
            Typeface::Embedded(weight) | Typeface::Missing(weight) => self.one_by_one(text, weight),
            Typeface::System(face) => {
                let shaped = face.shaped(&text[self.letters.clone()], self.is_leftwards);
                self.of_clusters(shaped)
            }
        }
    }

    fn one_by_one(&self, text: &str, weight: Weight) -> Vec<Glyph> {
        let letters = text[self.letters.clone()].char_indices();
        let glyphs = letters.map(|(start, letter)| {
            let start = self.letters.start + start;
            let id = font::glyph(letter, weight);
            Glyph {
                typeface: self.typeface,
                id,
                letters: start..start + letter.len_utf8(),
                advance: font::glyph_advance(id, weight),
                shift: [0.0; 2],
            }
        });
        glyphs.collect()
    }

    /// The shaped glyphs; those of a cluster stand for its letters together.
    fn of_clusters(&self, shaped: Vec<ShapedGlyph>) -> Vec<Glyph> {
        let mut starts: Vec<usize> = shaped.iter().map(|glyph| glyph.cluster).collect();
        starts.push(self.letters.len());
        starts.sort_unstable();
        let next = |start: usize| starts[starts.partition_point(|other| *other <= start)];
        let glyphs = shaped.into_iter().map(|shaped| Glyph {
            typeface: self.typeface,
            id: shaped.glyph,
            letters: self.letters.start + shaped.cluster..self.letters.start + next(shaped.cluster),
            advance: shaped.advance,
            shift: shaped.shift,
        });
        glyphs.collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fonts::{SystemFonts, relabelled};

    const WEIGHT: Weight = Weight::Medium;

    /// The glyphs of a text on a machine with a font that has letters, each drawn as another; as those, in pieces.
    fn drawn(text: &str, letters: &[(char, char)]) -> (Vec<Glyph>, String) {
        let folder = tempfile::tempdir().unwrap();
        let font = relabelled(WEIGHT.bytes(), letters);
        std::fs::write(folder.path().join("letters.ttf"), font).unwrap();
        let fonts = SystemFonts::new(Some(folder.path().to_owned()));
        let glyphs = set(text, WEIGHT, |letter| fonts.face(letter, WEIGHT));
        let letter = |glyph: &Glyph| {
            let letters = (' '..='~').find(|letter| WEIGHT.glyph(*letter) == Some(glyph.id));
            letters.unwrap_or('?')
        };
        let pieces = glyphs.chunk_by(|one, next| one.typeface == next.typeface);
        let pieces: Vec<String> = pieces
            .map(|piece| piece.iter().map(letter).collect())
            .collect();
        (glyphs, pieces.join("|"))
    }

    #[test]
    fn letters_that_the_embedded_font_lacks_come_from_another() {
        let letters = [('\u{6881}', 'B'), ('\u{4e00}', 'H')];
        let (glyphs, drawn) = drawn("a \u{6881}\u{4e00}, \u{4e8c}", &letters);
        assert_eq!(drawn, "a |BH|, |?");
        let ranges: Vec<_> = glyphs.iter().map(|glyph| glyph.letters.clone()).collect();
        assert_eq!(ranges[2..4], [2..5, 5..8]);
        for (glyph, same) in glyphs.iter().zip("a BH, ".chars()) {
            let wide = font::glyph_advance(font::glyph(same, WEIGHT), WEIGHT);
            assert!((glyph.advance - wide).abs() < 1e-9, "{same}");
        }
        assert!(matches!(glyphs[6].typeface, Typeface::Missing(_)));
    }

    /// Arabic beh, teh, reh: the last letter written is the leftmost, and so it is with words.
    #[test]
    fn scripts_that_run_leftwards_are_set_from_right_to_left() {
        let letters = [
            ('\u{628}', 'B'),
            ('\u{62a}', 'T'),
            ('\u{631}', 'R'),
            (' ', ' '),
        ];
        let (glyphs, order) = drawn("x \u{628}\u{62a} \u{631} 5\u{628}", &letters);
        assert_eq!(order, "x |R TB| 5|B");
        let letters_of_last = glyphs[2].letters.clone();
        assert_eq!(letters_of_last, 7..9);
    }

    #[test]
    fn plain_text_is_as_wide_as_its_letters() {
        let one = advance("1", WEIGHT);
        assert_eq!(advance("11", WEIGHT), 2.0 * one);
        assert_eq!(foreign_reach("Ag1", WEIGHT), [0.0; 2]);
    }
}
