//! The part of a TrueType font that some letters need, with the glyph numbers of the whole.
//!
//! Source: OpenType specification 1.9, chapters glyf, loca, cmap (format 4), hmtx, maxp, post. Hinting and layout tables
//! are left out; outlines and widths are unchanged.

use std::collections::{BTreeMap, BTreeSet};

use super::font::{self, Weight};

/// A font file with the outlines of some letters only; glyph numbers are those of the whole font.
pub(super) fn subset(weight: Weight, letters: &BTreeSet<char>) -> Vec<u8> {
    let source = Tables::new(weight.bytes());
    let mapped: BTreeMap<u16, u16> = letters
        .iter()
        .filter_map(|&letter| {
            let code = u16::try_from(u32::from(letter)).ok()?;
            Some((code, font::glyph(letter, weight).0))
        })
        .filter(|(_, glyph)| *glyph != 0)
        .collect();
    let kept = source.with_components(mapped.values().copied().chain([0]).collect());
    let count = kept.last().map_or(1, |last| last + 1);
    let (glyphs, places) = source.glyphs(&kept, count);
    let mut file = FontFile::default();
    file.table(*b"OS/2", source.get(b"OS/2").to_vec());
    file.table(*b"cmap", character_map(&mapped));
    file.table(*b"glyf", glyphs);
    file.table(
        *b"head",
        patched(source.get(b"head"), &[(8, 0), (10, 0), (50, 1)]),
    );
    let wide = source.wide_metrics().min(count);
    file.table(*b"hhea", patched(source.get(b"hhea"), &[(34, wide)]));
    file.table(*b"hmtx", source.metrics(count));
    file.table(*b"loca", places);
    file.table(*b"maxp", patched(source.get(b"maxp"), &[(4, count)]));
    file.table(*b"name", source.get(b"name").to_vec());
    // Version 3: no names of glyphs.
    let post = &source.get(b"post")[..32];
    file.table(*b"post", patched(post, &[(0, 3), (2, 0)]));
    file.finish()
}

/// A table with some of its 16-bit numbers changed.
fn patched(table: &[u8], changes: &[(usize, u16)]) -> Vec<u8> {
    let mut table = table.to_vec();
    for (at, value) in changes {
        table[*at..at + 2].copy_from_slice(&value.to_be_bytes());
    }
    table
}

/// The tables of a font file that is known to be sound.
struct Tables<'a> {
    bytes: &'a [u8],
    places: BTreeMap<[u8; 4], (usize, usize)>,
    long_places: bool,
}

fn u16_at(bytes: &[u8], at: usize) -> u16 {
    u16::from_be_bytes([bytes[at], bytes[at + 1]])
}

fn u32_at(bytes: &[u8], at: usize) -> usize {
    (usize::from(u16_at(bytes, at)) << 16) | usize::from(u16_at(bytes, at + 2))
}

impl<'a> Tables<'a> {
    fn new(bytes: &'a [u8]) -> Self {
        let records = (0..usize::from(u16_at(bytes, 4))).map(|i| 12 + 16 * i);
        let places: BTreeMap<_, _> = records
            .map(|at| {
                let tag = [bytes[at], bytes[at + 1], bytes[at + 2], bytes[at + 3]];
                (tag, (u32_at(bytes, at + 8), u32_at(bytes, at + 12)))
            })
            .collect();
        let mut tables = Self {
            bytes,
            places,
            long_places: false,
        };
        tables.long_places = u16_at(tables.get(b"head"), 50) == 1;
        tables
    }

    fn get(&self, tag: &[u8; 4]) -> &'a [u8] {
        let (start, length) = self.places[tag];
        &self.bytes[start..start + length]
    }

    fn wide_metrics(&self) -> u16 {
        u16_at(self.get(b"hhea"), 34)
    }

    /// Widths of the first glyphs.
    fn metrics(&self, count: u16) -> Vec<u8> {
        let wide = usize::from(self.wide_metrics());
        let count = usize::from(count);
        let length = 4 * wide.min(count) + 2 * count.saturating_sub(wide);
        self.get(b"hmtx")[..length].to_vec()
    }

    fn glyph(&self, index: u16) -> &'a [u8] {
        let (places, glyphs) = (self.get(b"loca"), self.get(b"glyf"));
        let place = |i: usize| {
            if self.long_places {
                u32_at(places, 4 * i)
            } else {
                2 * usize::from(u16_at(places, 2 * i))
            }
        };
        let index = usize::from(index);
        &glyphs[place(index)..place(index + 1)]
    }

    /// The glyphs with those that they are composed of.
    fn with_components(&self, glyphs: BTreeSet<u16>) -> BTreeSet<u16> {
        let mut all = glyphs.clone();
        let mut open: Vec<u16> = glyphs.into_iter().collect();
        while let Some(glyph) = open.pop() {
            for (_, component) in components(self.glyph(glyph)).0 {
                if all.insert(component) {
                    open.push(component);
                }
            }
        }
        all
    }

    /// Outlines of the kept glyphs without instructions, and where each begins.
    fn glyphs(&self, kept: &BTreeSet<u16>, count: u16) -> (Vec<u8>, Vec<u8>) {
        let (mut glyphs, mut places) = (Vec::new(), Vec::new());
        for index in 0..count {
            places.extend((glyphs.len() as u32).to_be_bytes());
            if kept.contains(&index) {
                glyphs.extend(plain(self.glyph(index)));
                glyphs.resize(glyphs.len().next_multiple_of(4), 0);
            }
        }
        places.extend((glyphs.len() as u32).to_be_bytes());
        (glyphs, places)
    }
}

const WORDS: u16 = 0x0001;
const SCALE: u16 = 0x0008;
const MORE: u16 = 0x0020;
const TWO_SCALES: u16 = 0x0040;
const MATRIX: u16 = 0x0080;
const INSTRUCTIONS: u16 = 0x0100;

/// Places of the flags and glyph numbers of a composite glyph's components, and where they end.
fn components(glyph: &[u8]) -> (Vec<(usize, u16)>, usize) {
    let mut found = Vec::new();
    // A negative count of contours tells a composite.
    if glyph.len() < 10 || u16_at(glyph, 0) < 0x8000 {
        return (found, 0);
    }
    let mut at = 10;
    loop {
        let flags = u16_at(glyph, at);
        found.push((at, u16_at(glyph, at + 2)));
        at += 4 + if flags & WORDS != 0 { 4 } else { 2 };
        at += match flags {
            _ if flags & SCALE != 0 => 2,
            _ if flags & TWO_SCALES != 0 => 4,
            _ if flags & MATRIX != 0 => 8,
            _ => 0,
        };
        if flags & MORE == 0 {
            return (found, at);
        }
    }
}

/// A glyph without its hinting instructions.
fn plain(glyph: &[u8]) -> Vec<u8> {
    if glyph.is_empty() {
        return Vec::new();
    }
    let (parts, end) = components(glyph);
    if !parts.is_empty() {
        let mut plain = glyph[..end].to_vec();
        for (at, _) in parts {
            let flags = u16_at(&plain, at) & !INSTRUCTIONS;
            plain[at..at + 2].copy_from_slice(&flags.to_be_bytes());
        }
        return plain;
    }
    let at = 10 + 2 * usize::from(u16_at(glyph, 0));
    let instructions = usize::from(u16_at(glyph, at));
    let mut plain = glyph[..at].to_vec();
    plain.extend([0, 0]);
    plain.extend(&glyph[at + 2 + instructions..]);
    plain
}

/// Map from letters to glyphs, format 4 with a segment for each letter.
fn character_map(mapped: &BTreeMap<u16, u16>) -> Vec<u8> {
    let ends: Vec<u16> = mapped.keys().copied().chain([0xFFFF]).collect();
    let deltas = mapped
        .iter()
        .map(|(code, glyph)| glyph.wrapping_sub(*code))
        .chain([1]);
    let count = ends.len() as u16;
    let power = 1 << count.ilog2();
    let length = 16 + 8 * count;
    let mut words = vec![0, 1, 3, 1, 0, 12, 4, length, 0, 2 * count];
    words.extend([2 * power, count.ilog2() as u16, 2 * (count - power)]);
    words.extend(&ends);
    words.push(0);
    words.extend(&ends);
    words.extend(deltas);
    words.extend(std::iter::repeat_n(0, ends.len()));
    words.into_iter().flat_map(u16::to_be_bytes).collect()
}

/// A font file under construction; tables come in the order of their tags.
#[derive(Default)]
struct FontFile {
    tables: Vec<([u8; 4], Vec<u8>)>,
}

impl FontFile {
    fn table(&mut self, tag: [u8; 4], bytes: Vec<u8>) {
        self.tables.push((tag, bytes));
    }

    fn finish(self) -> Vec<u8> {
        let count = self.tables.len() as u16;
        let power: u16 = 1 << count.ilog2();
        let mut file = 0x0001_0000_u32.to_be_bytes().to_vec();
        for word in [
            count,
            16 * power,
            count.ilog2() as u16,
            16 * (count - power),
        ] {
            file.extend(word.to_be_bytes());
        }
        let mut offset = 12 + 16 * self.tables.len();
        for (tag, bytes) in &self.tables {
            file.extend(tag);
            for number in [checksum(bytes), offset as u32, bytes.len() as u32] {
                file.extend(number.to_be_bytes());
            }
            offset += bytes.len().next_multiple_of(4);
        }
        for (_, bytes) in &self.tables {
            file.extend(bytes);
            file.resize(file.len().next_multiple_of(4), 0);
        }
        file
    }
}

fn checksum(bytes: &[u8]) -> u32 {
    bytes.chunks(4).fold(0_u32, |sum, chunk| {
        let mut word = [0; 4];
        word[..chunk.len()].copy_from_slice(chunk);
        sum.wrapping_add(u32::from_be_bytes(word))
    })
}

#[cfg(test)]
mod tests {
    use ttf_parser::{Face, OutlineBuilder};

    use super::*;

    #[derive(Default, PartialEq, Debug)]
    struct Recorded(Vec<f32>);

    impl OutlineBuilder for Recorded {
        fn move_to(&mut self, x: f32, y: f32) {
            self.0.extend([x, y]);
        }
        fn line_to(&mut self, x: f32, y: f32) {
            self.0.extend([x, y]);
        }
        fn quad_to(&mut self, a: f32, b: f32, x: f32, y: f32) {
            self.0.extend([a, b, x, y]);
        }
        fn curve_to(&mut self, a: f32, b: f32, c: f32, d: f32, x: f32, y: f32) {
            self.0.extend([a, b, c, d, x, y]);
        }
        fn close(&mut self) {}
    }

    /// Read back with an independent parser: same glyphs, outlines and widths; others are gone.
    #[test]
    fn a_subset_draws_its_letters_as_the_whole_does() {
        for weight in Weight::ALL {
            let letters: BTreeSet<char> = "Aé½ x·−φ".chars().collect();
            let bytes = subset(weight, &letters);
            assert!(bytes.len() < 40_000, "{}", bytes.len());
            let (part, whole) = (Face::parse(&bytes, 0).unwrap(), weight.face());
            for &letter in &letters {
                let glyph = part.glyph_index(letter).unwrap();
                assert_eq!(Some(glyph), whole.glyph_index(letter));
                assert_eq!(
                    part.glyph_hor_advance(glyph),
                    whole.glyph_hor_advance(glyph)
                );
                let (mut a, mut b) = (Recorded::default(), Recorded::default());
                part.outline_glyph(glyph, &mut a);
                whole.outline_glyph(glyph, &mut b);
                assert_eq!(a, b, "{letter}");
                assert_eq!(a.0.is_empty(), letter == ' ');
            }
            assert_eq!(part.glyph_index('B'), None);
        }
    }
}
