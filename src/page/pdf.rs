//! Drawings as the pages of a PDF: vector strokes and fills, and text that can be searched and copied.
//!
//! Source: ISO 32000-1:2008, sections 7.5 (file structure), 8.5 (paths), 9.7 (composite fonts), 9.10.3 (ToUnicode).

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use super::drawing::{Drawing, Item, Outline, Shape, Text};
use super::font::{self, Weight};
use super::subset::subset;
use super::svg::letters;
use crate::theme::Colour;

/// A PDF file with a page for each drawing.
pub fn pdf(pages: &[Drawing], title: &str) -> Vec<u8> {
    let mut file = PdfFile::default();
    let catalog = file.reserve();
    let tree = file.reserve();
    let info = file.reserve();
    let fonts = write_fonts(&mut file, pages);
    let mut kids = Vec::new();
    for page in pages {
        let content = file.stream("", content(page).as_bytes());
        kids.push(file.add(&format!(
            "<</Type/Page/Parent {tree} 0 R/MediaBox[0 0 {} {}]/Resources<</Font<<{fonts}>>>>/Contents {content} 0 R>>",
            number(page.width),
            number(page.height)
        )));
    }
    let kids: Vec<String> = kids.iter().map(|kid| format!("{kid} 0 R")).collect();
    file.set(
        tree,
        &format!(
            "<</Type/Pages/Count {}/Kids[{}]>>",
            kids.len(),
            kids.join(" ")
        ),
    );
    file.set(
        catalog,
        &format!("<</Type/Catalog/Pages {tree} 0 R/ViewerPreferences<</DisplayDocTitle true>>>>"),
    );
    file.set(
        info,
        &format!("<</Title<{}>/Producer(Sixhold)>>", utf16(title)),
    );
    file.finish(catalog, info)
}

/// What is painted on a page, as PDF operators.
fn content(page: &Drawing) -> String {
    let mut out = String::from("1 J 1 j\n");
    // Points from the upper left corner, y down.
    let _ = writeln!(out, "1 0 0 -1 0 {} cm", number(page.height));
    for item in &page.items {
        match item {
            Item::Shape(shape) => write_shape(&mut out, shape),
            Item::Text(text) => write_text(&mut out, text),
        }
    }
    out
}

fn write_shape(out: &mut String, shape: &Shape) {
    if let Some(fill) = shape.fill {
        let _ = writeln!(out, "{} rg", colour(fill));
    }
    if let Some(stroke) = &shape.stroke {
        let dashes: Vec<String> = stroke.dash.iter().map(|dash| number(*dash)).collect();
        let _ = writeln!(
            out,
            "{} RG {} w [{}] 0 d",
            colour(stroke.colour),
            number(stroke.width),
            dashes.join(" ")
        );
    }
    write_outline(out, &shape.outline);
    out.push_str(match (shape.fill.is_some(), shape.stroke.is_some()) {
        (true, true) => "B\n",
        (true, false) => "f\n",
        (false, true) => "S\n",
        (false, false) => "n\n",
    });
}

/// Length of the handles of a quarter circle of radius 1, for the least radial error (common knowledge: 4/3·(√2 − 1)).
const HANDLE: f64 = 0.552_284_75;

fn write_outline(out: &mut String, outline: &Outline) {
    match outline {
        Outline::Circle {
            centre: [x, y],
            radius,
        } => {
            let at = |dx: f64, dy: f64| {
                format!("{} {}", number(x + dx * radius), number(y + dy * radius))
            };
            let _ = writeln!(out, "{} m", at(1.0, 0.0));
            let mut way = (1.0, 0.0);
            for _ in 0..4 {
                let next = (-way.1, way.0);
                let _ = writeln!(
                    out,
                    "{} {} {} c",
                    at(way.0 + HANDLE * next.0, way.1 + HANDLE * next.1),
                    at(next.0 + HANDLE * way.0, next.1 + HANDLE * way.1),
                    at(next.0, next.1)
                );
                way = next;
            }
            out.push_str("h\n");
        }
        Outline::Lines(lines) => {
            for line in lines {
                for (i, [x, y]) in line.points.iter().enumerate() {
                    let operator = if i == 0 { "m" } else { "l" };
                    let _ = writeln!(out, "{} {} {operator}", number(*x), number(*y));
                }
                if line.closed {
                    out.push_str("h\n");
                }
            }
        }
    }
}

fn write_text(out: &mut String, text: &Text) {
    let _ = writeln!(out, "BT {} rg", colour(text.colour));
    for (run, [x, y]) in text.placed() {
        let glyphs: String = run
            .text
            .chars()
            .map(|letter| format!("{:04X}", font::glyph(letter, text.weight).0))
            .collect();
        let written = actual_text(&run.text, text.weight);
        let (open, close) = match &written {
            Some(written) => (format!("/Span<</ActualText<{written}>>>BDC "), " EMC"),
            None => (String::new(), ""),
        };
        let _ = writeln!(
            out,
            "{open}/{} {} Tf 1 0 0 -1 {} {} Tm <{glyphs}> Tj{close}",
            resource(text.weight),
            number(run.size(text.size)),
            number(x),
            number(y)
        );
    }
    out.push_str("ET\n");
}

/// The text in UTF-16 for readers (ISO 32000-1, 14.9.4), where its glyphs do not lead back to its letters: the font lacks
/// one, or has one glyph for several.
fn actual_text(text: &str, weight: Weight) -> Option<String> {
    let leads_back = |c: char| font::letter(font::glyph(c, weight), weight) == Some(c);
    if text.chars().all(leads_back) {
        return None;
    }
    Some(utf16(text))
}

fn resource(weight: Weight) -> String {
    format!("F{}", weight.css())
}

/// Writes the fonts that pages use; returns the entries of their resources.
fn write_fonts(file: &mut PdfFile, pages: &[Drawing]) -> String {
    let used = letters(pages.iter().flat_map(Drawing::texts));
    let mut entries = String::new();
    for (weight, letters) in used {
        let font = write_font(file, weight, &letters);
        let _ = write!(entries, "/{} {font} 0 R", resource(weight));
    }
    entries
}

fn write_font(file: &mut PdfFile, weight: Weight, letters: &BTreeSet<char>) -> usize {
    let face = weight.face();
    // Names of embedded parts begin with six letters of their own.
    let name = format!("SIXHLD+{}", weight.postscript());
    let bytes = subset(weight, letters);
    let program = file.stream(&format!("/Length1 {}", bytes.len()), &bytes);
    let thousandths = |units: i32| (f64::from(units) * 1000.0 / font::units(weight)).round();
    let bounds = face.global_bounding_box();
    let box_ = [bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max]
        .map(|side| thousandths(i32::from(side)).to_string());
    let descriptor = file.add(&format!(
        "<</Type/FontDescriptor/FontName/{name}/Flags 4/FontBBox[{}]/ItalicAngle 0/Ascent {}/Descent {}\
         /CapHeight {}/StemV 80/FontFile2 {program} 0 R>>",
        box_.join(" "),
        thousandths(i32::from(face.ascender())),
        thousandths(i32::from(face.descender())),
        thousandths(i32::from(face.capital_height().unwrap_or(0)))
    ));
    let (mut glyphs, mut advances) = (BTreeMap::new(), BTreeMap::new());
    for &letter in letters {
        let glyph = font::glyph(letter, weight);
        glyphs.insert(glyph.0, font::letter(glyph, weight));
        let advance = font::advance(letter.encode_utf8(&mut [0; 4]), weight);
        advances.insert(glyph.0, advance * 1000.0);
    }
    let mut widths = String::new();
    for (glyph, width) in advances {
        let _ = write!(widths, "{glyph}[{}]", number(width));
    }
    let descendant = file.add(&format!(
        "<</Type/Font/Subtype/CIDFontType2/BaseFont/{name}/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)\
         /Supplement 0>>/FontDescriptor {descriptor} 0 R/CIDToGIDMap/Identity/DW 1000/W[{widths}]>>"
    ));
    let to_unicode = file.stream("", to_unicode(&glyphs).as_bytes());
    file.add(&format!(
        "<</Type/Font/Subtype/Type0/BaseFont/{name}/Encoding/Identity-H/DescendantFonts[{descendant} 0 R]\
         /ToUnicode {to_unicode} 0 R>>"
    ))
}

/// Which letter each glyph stands for, so that text can be copied.
fn to_unicode(glyphs: &BTreeMap<u16, Option<char>>) -> String {
    let mut map = String::from(
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n\
         /CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n\
         /CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n\
         1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n",
    );
    let known = glyphs
        .iter()
        .filter_map(|(glyph, letter)| Some((glyph, (*letter)?)));
    let pairs: Vec<_> = known.collect();
    for hundred in pairs.chunks(100) {
        let _ = writeln!(map, "{} beginbfchar", hundred.len());
        for (glyph, letter) in hundred {
            let _ = write!(map, "<{glyph:04X}> <");
            for unit in letter.encode_utf16(&mut [0; 2]) {
                let _ = write!(map, "{unit:04X}");
            }
            map.push_str(">\n");
        }
        map.push_str("endbfchar\n");
    }
    map + "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"
}

fn utf16(text: &str) -> String {
    let mut out = String::from("FEFF");
    for unit in text.encode_utf16() {
        let _ = write!(out, "{unit:04X}");
    }
    out
}

fn colour(Colour(red, green, blue): Colour) -> String {
    let part = |byte: u8| number3(f64::from(byte) / 255.0);
    format!("{} {} {}", part(red), part(green), part(blue))
}

fn number(value: f64) -> String {
    shortened(&format!("{value:.2}"))
}

fn number3(value: f64) -> String {
    shortened(&format!("{value:.3}"))
}

fn shortened(text: &str) -> String {
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

/// Objects of a PDF file, numbered from 1.
#[derive(Default)]
struct PdfFile {
    objects: Vec<Vec<u8>>,
}

impl PdfFile {
    fn reserve(&mut self) -> usize {
        self.objects.push(Vec::new());
        self.objects.len()
    }

    fn set(&mut self, number: usize, object: &str) {
        self.objects[number - 1] = object.as_bytes().to_vec();
    }

    fn add(&mut self, object: &str) -> usize {
        let number = self.reserve();
        self.set(number, object);
        number
    }

    fn stream(&mut self, entries: &str, bytes: &[u8]) -> usize {
        let packed = miniz_oxide::deflate::compress_to_vec_zlib(bytes, 6);
        let mut object = format!(
            "<</Filter/FlateDecode/Length {}{entries}>>\nstream\n",
            packed.len()
        )
        .into_bytes();
        object.extend(packed);
        object.extend(b"\nendstream");
        self.objects.push(object);
        self.objects.len()
    }

    fn finish(self, catalog: usize, info: usize) -> Vec<u8> {
        let mut file = b"%PDF-1.7\n%\xE2\xE3\xCF\xD3\n".to_vec();
        let mut places = Vec::new();
        for (index, object) in self.objects.iter().enumerate() {
            places.push(file.len());
            file.extend(format!("{} 0 obj\n", index + 1).into_bytes());
            file.extend(object);
            file.extend(b"\nendobj\n");
        }
        let table = file.len();
        let mut end = format!("xref\n0 {}\n0000000000 65535 f \n", places.len() + 1);
        for place in &places {
            let _ = writeln!(end, "{place:010} 00000 n ");
        }
        let _ = write!(
            end,
            "trailer\n<</Size {}/Root {catalog} 0 R/Info {info} 0 R>>\nstartxref\n{table}\n%%EOF\n",
            places.len() + 1
        );
        file.extend(end.into_bytes());
        file
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page() -> Drawing {
        Drawing {
            width: 100.0,
            height: 50.0,
            title: "one".into(),
            items: vec![Item::Text(Text {
                role: "name",
                at: [10.0, 20.0],
                runs: super::super::Run::plain("A = −3 N"),
                size: 8.0,
                weight: Weight::Medium,
                colour: Colour(0, 0, 0),
            })],
        }
    }

    /// ISO 32000-1, 7.5.4: each entry of the table is the offset of its object.
    #[test]
    fn the_table_points_at_every_object() {
        let bytes = pdf(&[page(), page()], "Two pages");
        let text: String = bytes.iter().map(|&byte| char::from(byte)).collect();
        let (_, table) = text.rsplit_once("\nxref\n").unwrap();
        let entries: Vec<usize> = table
            .lines()
            .filter_map(|line| line.strip_suffix(" 00000 n ")?.parse().ok())
            .collect();
        assert!(entries.len() > 8);
        for (index, place) in entries.iter().enumerate() {
            let start = format!("{} 0 obj", index + 1);
            assert!(bytes[*place..].starts_with(start.as_bytes()));
        }
        assert_eq!(text.matches("/Type/Page/").count(), 2);
        assert!(text.contains("/MediaBox[0 0 100 50]"));
    }

    /// Text with letters that the font lacks was copied as another letter that it lacks, and spaces as other spaces.
    #[test]
    fn text_that_glyphs_do_not_lead_back_to_is_written_beside_them() {
        assert_eq!(actual_text("Träger −30° A", Weight::Medium), None);
        let lacking = actual_text("A 梁", Weight::Medium);
        assert_eq!(lacking.as_deref(), Some("FEFF004100206881"));
        let space = font::letter(font::glyph(' ', Weight::Bold), Weight::Bold);
        assert_eq!(space, Some(' '));
        assert_eq!(
            font::letter(font::glyph('梁', Weight::Bold), Weight::Bold),
            None
        );
    }

    #[test]
    fn glyphs_lead_back_to_their_letters() {
        let map = to_unicode(&BTreeMap::from([
            (0, None),
            (7, Some('A')),
            (9, Some('\u{2212}')),
        ]));
        assert!(map.contains("2 beginbfchar\n<0007> <0041>\n<0009> <2212>\nendbfchar"));
    }
}
