//! The embedded font: IBM Plex Sans (SIL Open Font License 1.1, text beside it in `assets/fonts`).
//!
//! Its figures all have one width, and it has arrows, primes, Greek and mathematical signs.

use std::sync::OnceLock;

use ttf_parser::{Face, GlyphId};

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
    pub fn css(self) -> u16 {
        match self {
            Self::Medium => 500,
            Self::Bold => 700,
        }
    }

    /// The whole font file.
    pub(crate) fn bytes(self) -> &'static [u8] {
        match self {
            Self::Medium => MEDIUM,
            Self::Bold => BOLD,
        }
    }

    /// The font, parsed once.
    pub(crate) fn face(self) -> &'static Face<'static> {
        static FACES: [OnceLock<Face<'static>>; 2] = [OnceLock::new(), OnceLock::new()];
        FACES[self as usize]
            .get_or_init(|| Face::parse(self.bytes(), 0).expect("the embedded font is sound"))
    }

    /// The glyph of a letter, where the font has it.
    pub(crate) fn glyph(self, letter: char) -> Option<GlyphId> {
        let glyph = self.face().glyph_index(letter);
        glyph.filter(|glyph| *glyph != GlyphId(0))
    }
}
