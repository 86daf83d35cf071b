//! Fonts of the machine, for letters that the embedded one lacks.
//!
//! They are looked for when such a letter is first met. Of the faces that have a letter the first in a fixed order is
//! taken, so that the same fonts give the same picture. Faces in use stay open for as long as the program runs.

use std::collections::HashMap;
use std::path::PathBuf;
use std::sync::{Mutex, OnceLock, PoisonError};

use fontdb::{Database, FaceInfo, ID, Source, Stretch, Style};
use harfrust::{Direction, FontRef, ShapeOptions, ShaperData, UnicodeBuffer};
use ttf_parser::{Face, GlyphId, OutlineBuilder, Permissions, Rect};

use super::embedded::Weight;

/// Environment variable that names a folder, whose fonts then stand in for those of the machine.
const FOLDER: &str = "SIXHOLD_FONTS";

/// A font that shows a box for every letter that there is (macOS; name from memory).
const NO_FONT: &str = "LastResort";

/// The fonts of this machine, or of the folder that the environment names.
pub(crate) fn of_machine() -> &'static SystemFonts {
    static FONTS: OnceLock<SystemFonts> = OnceLock::new();
    FONTS.get_or_init(|| SystemFonts::new(std::env::var_os(FOLDER).map(PathBuf::from)))
}

/// Fonts in which letters are looked up.
pub(crate) struct SystemFonts {
    /// `None` for the machine's own.
    folder: Option<PathBuf>,
    /// Every face that there is, in the order in which they are tried for each weight; read once.
    faces: OnceLock<(Database, [Vec<ID>; 2])>,
    found: Mutex<FoundFaces>,
}

/// What has been looked up before.
#[derive(Default)]
struct FoundFaces {
    letters: HashMap<(char, Weight), Option<&'static SystemFace>>,
    faces: HashMap<ID, Option<&'static SystemFace>>,
    files: HashMap<PathBuf, &'static [u8]>,
}

impl SystemFonts {
    /// The fonts of a folder and the folders in it, or of the machine.
    pub(crate) fn new(folder: Option<PathBuf>) -> Self {
        Self {
            folder,
            faces: OnceLock::new(),
            found: Mutex::default(),
        }
    }

    /// A face that has a letter, of a weight as near as there is.
    pub(crate) fn face(&self, letter: char, weight: Weight) -> Option<&'static SystemFace> {
        let mut found = self.found.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = found.letters.get(&(letter, weight)) {
            return *known;
        }
        let (database, ranked) = self.faces.get_or_init(|| self.read());
        let face = ranked[weight as usize]
            .iter()
            .filter(|id| {
                database.with_face_data(**id, |bytes, index| suits(bytes, index, letter))
                    == Some(true)
            })
            .find_map(|id| found.open(database, *id));
        found.letters.insert((letter, weight), face);
        face
    }

    fn read(&self) -> (Database, [Vec<ID>; 2]) {
        let mut database = Database::new();
        match &self.folder {
            Some(folder) => database.load_fonts_dir(folder),
            None => database.load_system_fonts(),
        }
        let ranked = Weight::ALL.map(|weight| ranked(&database, weight));
        (database, ranked)
    }
}

impl FoundFaces {
    fn open(&mut self, database: &Database, id: ID) -> Option<&'static SystemFace> {
        if let Some(known) = self.faces.get(&id) {
            return *known;
        }
        let opened = database.face(id).and_then(|info| {
            let Source::File(path) = &info.source else {
                return None;
            };
            let bytes = self.file(path.clone())?;
            SystemFace::new(bytes, info.index).map(|face| &*Box::leak(Box::new(face)))
        });
        self.faces.insert(id, opened);
        opened
    }

    fn file(&mut self, path: PathBuf) -> Option<&'static [u8]> {
        if let Some(known) = self.files.get(&path) {
            return Some(known);
        }
        let bytes: &'static [u8] = std::fs::read(&path).ok()?.leak();
        self.files.insert(path, bytes);
        Some(bytes)
    }
}

/// Faces in the order in which they are tried: upright ones of usual width, without serifs as far as their names say so.
fn ranked(database: &Database, weight: Weight) -> Vec<ID> {
    let mut faces: Vec<&FaceInfo> = database.faces().collect();
    faces.retain(|face| !face.post_script_name.contains(NO_FONT));
    faces.sort_by_cached_key(|face| {
        let plain = [
            face.style == Style::Normal,
            face.stretch == Stretch::Normal,
            !face.monospaced,
            face.post_script_name.contains("Sans"),
        ];
        let weight = face.weight.0.abs_diff(weight.css());
        (
            plain.map(|is_plain| !is_plain),
            weight,
            face.post_script_name.clone(),
            face.index,
        )
    });
    faces.iter().map(|face| face.id).collect()
}

/// Whether a face has a letter and may be used in files.
fn suits(bytes: &[u8], index: u32, letter: char) -> bool {
    Face::parse(bytes, index).is_ok_and(|face| shows(&face, letter) && may_be_embedded(&face))
}

/// Whether a letter can be set, and something is seen of it unless it is white space: colour fonts have no outlines.
fn shows(face: &Face, letter: char) -> bool {
    face.glyph_index(letter).is_some_and(|glyph| {
        let is_seen = letter.is_whitespace() || bounds(face, glyph).is_some();
        is_seen && face.glyph_hor_advance(glyph).is_some()
    })
}

/// What a glyph covers, in units of the font.
fn bounds(face: &Face, glyph: GlyphId) -> Option<Rect> {
    struct Nowhere;
    impl OutlineBuilder for Nowhere {
        fn move_to(&mut self, _: f32, _: f32) {}
        fn line_to(&mut self, _: f32, _: f32) {}
        fn quad_to(&mut self, _: f32, _: f32, _: f32, _: f32) {}
        fn curve_to(&mut self, _: f32, _: f32, _: f32, _: f32, _: f32, _: f32) {}
        fn close(&mut self) {}
    }
    face.outline_glyph(glyph, &mut Nowhere)
}

/// Whether the font's licence lets a part of it go into a document, by its own record (OpenType 1.9, OS/2, fsType).
fn may_be_embedded(face: &Face) -> bool {
    face.permissions() != Some(Permissions::Restricted) && face.is_subsetting_allowed()
}

/// A face of a font file of the machine.
pub(crate) struct SystemFace {
    bytes: &'static [u8],
    index: u32,
    outlines: Face<'static>,
    font: FontRef<'static>,
    shaping: ShaperData,
}

/// A glyph where shaping has put it; lengths at size 1, y up.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ShapedGlyph {
    /// Its number in the font.
    pub(crate) glyph: GlyphId,
    /// First byte of the letters that it stands for.
    pub(crate) cluster: usize,
    /// How far the next glyph is.
    pub(crate) advance: f64,
    /// How far it is moved from its place.
    pub(crate) shift: [f64; 2],
}

impl SystemFace {
    fn new(bytes: &'static [u8], index: u32) -> Option<Self> {
        let font = FontRef::from_index(bytes, index).ok()?;
        Some(Self {
            bytes,
            index,
            outlines: Face::parse(bytes, index).ok()?,
            shaping: ShaperData::new(&font),
            font,
        })
    }

    /// The font file, and which of its faces this is.
    pub(crate) fn file(&self) -> (&'static [u8], u32) {
        (self.bytes, self.index)
    }

    /// Whether it has a letter.
    pub(crate) fn has(&self, letter: char) -> bool {
        self.outlines.glyph_index(letter).is_some()
    }

    /// Units of the font in the size of its letters.
    pub(crate) fn units(&self) -> f64 {
        f64::from(self.outlines.units_per_em())
    }

    /// Draws a glyph's outline in units of the font, y up.
    pub(crate) fn outline(&self, glyph: GlyphId, builder: &mut dyn OutlineBuilder) {
        self.outlines.outline_glyph(glyph, builder);
    }

    /// How far a glyph reaches below and above its base line, at size 1.
    pub(crate) fn reach(&self, glyph: GlyphId) -> [f64; 2] {
        let bounds = bounds(&self.outlines, glyph);
        bounds.map_or([0.0; 2], |bounds| {
            [-bounds.y_min, bounds.y_max].map(|reach| f64::from(reach) / self.units())
        })
    }

    /// The glyphs of a text of this face alone from left to right, joined and marked as its script wants.
    pub(crate) fn shaped(&self, text: &str, is_leftwards: bool) -> Vec<ShapedGlyph> {
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        buffer.guess_segment_properties();
        buffer.set_direction(if is_leftwards {
            Direction::RightToLeft
        } else {
            Direction::LeftToRight
        });
        let shaper = self.shaping.shaper(&self.font).build();
        let shaped = shaper.shape(buffer, ShapeOptions::new());
        let places = shaped.glyph_positions();
        let at_size_one = |units: i32| f64::from(units) / self.units();
        let glyphs = shaped.glyph_infos().iter().zip(places);
        glyphs
            .map(|(info, place)| ShapedGlyph {
                glyph: GlyphId(u16::try_from(info.glyph_id).unwrap_or(0)),
                cluster: info.cluster as usize,
                advance: at_size_one(place.x_advance),
                shift: [place.x_offset, place.y_offset].map(at_size_one),
            })
            .collect()
    }
}

impl PartialEq for SystemFace {
    fn eq(&self, other: &Self) -> bool {
        std::ptr::eq(self, other)
    }
}

impl std::fmt::Debug for SystemFace {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "face {} of a font of {} bytes",
            self.index,
            self.bytes.len()
        )
    }
}

#[cfg(test)]
mod tests {
    use super::super::relabelled;
    use super::*;

    const BEAM: char = '\u{6881}';

    /// The fonts of a folder with a file.
    fn fonts(font: &[u8]) -> (tempfile::TempDir, SystemFonts) {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("letters.ttf"), font).unwrap();
        let fonts = SystemFonts::new(Some(folder.path().to_owned()));
        (folder, fonts)
    }

    fn has_beam(font: &[u8]) -> bool {
        fonts(font).1.face(BEAM, Weight::Bold).is_some()
    }

    #[test]
    fn a_letter_is_found_in_a_folder() {
        let font = relabelled(Weight::Medium.bytes(), &[(BEAM, 'B')]);
        let (_folder, fonts) = fonts(&font);
        let face = fonts.face(BEAM, Weight::Bold).unwrap();
        assert!(face.has(BEAM) && !face.has('B'));
        assert_eq!(fonts.face('\u{6882}', Weight::Bold), None);
        assert_eq!(fonts.face(BEAM, Weight::Medium), Some(face));
    }

    /// The font with other permissions in its record: table OS/2, after its version, average width, weight and width.
    fn permitting(mut font: Vec<u8>, permissions: u16) -> Vec<u8> {
        let record = font.windows(4).position(|tag| tag == b"OS/2").unwrap();
        let start: [u8; 4] = font[record + 8..record + 12].try_into().unwrap();
        let at = u32::from_be_bytes(start) as usize + 8;
        font[at..at + 2].copy_from_slice(&permissions.to_be_bytes());
        font
    }

    /// OpenType 1.9, OS/2, fsType: 2 forbids embedding, 0x100 taking a part of the font.
    #[test]
    fn fonts_that_may_not_be_embedded_are_left_alone() {
        let font = || relabelled(Weight::Medium.bytes(), &[(BEAM, 'B')]);
        for (permissions, may_be_used) in [(0, true), (8, true), (2, false), (0x100, false)] {
            let font = permitting(font(), permissions);
            assert_eq!(has_beam(&font), may_be_used, "{permissions}");
        }
    }

    /// A letter of which nothing would be seen is as good as missing.
    #[test]
    fn glyphs_without_outlines_and_broken_files_are_left_alone() {
        assert!(!has_beam(&relabelled(
            Weight::Medium.bytes(),
            &[(BEAM, ' ')]
        )));
        assert!(!has_beam(b"no font"));
        let font = relabelled(Weight::Medium.bytes(), &[(BEAM, 'B')]);
        for length in [4, 100, 5_000, font.len() - 8] {
            assert!(!has_beam(&font[..length]), "{length}");
        }
    }
}
