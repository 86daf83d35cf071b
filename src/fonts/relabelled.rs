//! Fonts for tests: the embedded one with other letters on its glyphs, so that no test depends on a machine's fonts.

use ttf_parser::Face;

/// A font whose only letters are given ones, each with the glyph of another letter.
pub(crate) fn relabelled(font: &[u8], letters: &[(char, char)]) -> Vec<u8> {
    let face = Face::parse(font, 0).expect("a sound font");
    let mut groups: Vec<[u32; 3]> = letters
        .iter()
        .map(|(letter, drawn)| {
            let glyph = face.glyph_index(*drawn).expect("a letter of the font");
            [u32::from(*letter), u32::from(*letter), glyph.0.into()]
        })
        .collect();
    groups.sort_unstable();
    let mut font = font.to_vec();
    font.resize(font.len().next_multiple_of(4), 0);
    let (start, table) = (font.len() as u32, character_map(&groups));
    let record = record(&font, b"cmap");
    font[record + 8..record + 12].copy_from_slice(&start.to_be_bytes());
    font[record + 12..record + 16].copy_from_slice(&(table.len() as u32).to_be_bytes());
    font.extend(table);
    font
}

/// Where the directory of a font file has a table's tag, checksum, offset and length.
fn record(font: &[u8], table: &[u8; 4]) -> usize {
    let records = (12..).step_by(16);
    let mut records = records.take_while(|at| at + 16 <= font.len());
    records
        .find(|at| font[*at..at + 4] == *table)
        .expect("a table of the font")
}

/// Table `cmap` with one map of format 12 for the whole of Unicode (OpenType 1.9).
fn character_map(groups: &[[u32; 3]]) -> Vec<u8> {
    let mut table: Vec<u8> = [0_u16, 1, 3, 10]
        .into_iter()
        .flat_map(u16::to_be_bytes)
        .collect();
    table.extend(12_u32.to_be_bytes());
    table.extend([12_u16, 0].into_iter().flat_map(u16::to_be_bytes));
    let length = 16 + 12 * groups.len() as u32;
    let numbers = [length, 0, groups.len() as u32];
    table.extend(
        numbers
            .iter()
            .chain(groups.iter().flatten())
            .flat_map(|number| number.to_be_bytes()),
    );
    table
}
