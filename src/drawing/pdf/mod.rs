//! Drawings as the pages of a tagged PDF: vector strokes and fills, text that can be searched, copied and read aloud.
//!
//! Every item belongs to a structure element or is an artifact; `krilla` writes the file and validates it as PDF/UA-1
//! (ISO 14289-1:2014).

mod outline;
mod paint;
mod tags;

use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, Identifier, SpanTag};
use krilla::{Document, SerializeSettings};

use super::items::{Drawing, Item};
use super::structure::{Content, Element, ElementRole, Items};
use crate::printable::for_xml;
use paint::Painter;

/// The language of every text, by RFC 3066.
const LANGUAGE: &str = "en";
/// What stands for a title or a description that is empty, where PDF/UA asks for one.
const UNTITLED: &str = "Untitled";

/// A drawing as a PDF file of one page: a figure, described by its title.
///
/// # Panics
/// Only for a bug of ours, as [`tagged_pdf`].
pub fn pdf(drawing: &Drawing) -> Vec<u8> {
    let mut figure = Element::new(ElementRole::Figure(drawing.title.clone()));
    figure.contents.push(Content::Items(Items {
        page: 0,
        range: 0..drawing.items.len(),
    }));
    tagged_pdf(std::slice::from_ref(drawing), &[figure], &drawing.title)
}

/// A PDF file with a page for each drawing. Items that no element has are artifacts, such as rules and page numbers.
///
/// # Panics
/// Only for a bug of ours: where items belong to two elements or are not there, or a page has no size.
pub fn tagged_pdf(pages: &[Drawing], structure: &[Element], title: &str) -> Vec<u8> {
    // A font of the machine may turn out to be unsound only when a part of it is taken.
    let written = [true, false].into_iter().find_map(|has_system| {
        let painter = Painter::new(has_system);
        let written = document(&painter, pages, structure, title).finish();
        match written {
            Err(_) if painter.has_used_system() => None,
            written => Some(written),
        }
    });
    written
        .expect("without fonts of the machine none was used")
        .expect("every page is tagged, every letter known and every figure described")
}

fn document(painter: &Painter, pages: &[Drawing], structure: &[Element], title: &str) -> Document {
    let configuration = ConfigurationBuilder::new()
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .expect("the validator knows a version that suits it");
    let mut document = Document::new_with(SerializeSettings {
        configuration,
        ..SerializeSettings::default()
    });
    let mut leaves = Vec::new();
    structure
        .iter()
        .for_each(|element| element.all_items(&mut leaves));
    let mut identifiers = vec![None; leaves.len()];
    for (index, page) in pages.iter().enumerate() {
        let owners = owners(&leaves, index, page.items.len());
        paint_page(&mut document, painter, page, &owners, &mut identifiers);
    }
    let title = nonempty(title);
    document.set_tag_tree(tags::tree(structure, &identifiers));
    document.set_outline(outline::outline(pages, structure, &title));
    document.set_metadata(
        Metadata::new()
            .title(title)
            .language(LANGUAGE.into())
            .creator("Sixhold".into()),
    );
    document
}

/// For each item of a page, which of the leaves has it.
fn owners(leaves: &[&Items], page: usize, count: usize) -> Vec<Option<usize>> {
    let mut owners = vec![None; count];
    for (leaf, items) in leaves.iter().enumerate() {
        if items.page == page {
            owners[items.range.clone()].fill(Some(leaf));
        }
    }
    owners
}

fn paint_page(
    document: &mut Document,
    painter: &Painter,
    drawing: &Drawing,
    owners: &[Option<usize>],
    identifiers: &mut [Option<Identifier>],
) {
    let settings = PageSettings::from_wh(drawing.width as f32, drawing.height as f32)
        .expect("pages have a width and a height");
    let mut page = document.start_page_with(settings);
    let mut surface = page.surface();
    let mut start = 0;
    while start < owners.len() {
        let owner = owners[start];
        let rest = owners[start..].iter();
        let end = start + rest.take_while(|other| **other == owner).count();
        let items = &drawing.items[start..end];
        let identifier = surface.start_tagged(tag(owner.is_some(), items));
        items
            .iter()
            .for_each(|item| painter.paint(&mut surface, item));
        surface.end_tagged();
        if let Some(leaf) = owner {
            identifiers[leaf] = Some(identifier);
        }
        start = end;
    }
    surface.finish();
    page.finish();
}

/// How items are marked on their page.
fn tag(is_owned: bool, items: &[Item]) -> ContentTag<'static> {
    let is_text = items.iter().all(|item| matches!(item, Item::Text(_)));
    match (is_owned, is_text) {
        (true, true) => ContentTag::Span(SpanTag::empty()),
        (true, false) => ContentTag::Other,
        (false, true) => ContentTag::Artifact(Artifact::with_kind(ArtifactType::PaginationOther)),
        (false, false) => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
    }
}

/// A text for the file's own records, which are XML in part.
fn nonempty(text: &str) -> String {
    match text.trim() {
        "" => UNTITLED.to_owned(),
        text => for_xml(text).into_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{PathOutline, PathShape, Polyline, Run, Stroke, Text, Weight};
    use super::*;
    use crate::theme::Colour;

    fn page(text: &str) -> Drawing {
        let black = Colour(0, 0, 0);
        Drawing {
            width: 100.0,
            height: 50.0,
            title: String::new(),
            description: String::new(),
            items: vec![
                Item::Text(Text {
                    role: "name",
                    at: [10.0, 20.0],
                    runs: Run::plain(text),
                    size: 8.0,
                    weight: Weight::Medium,
                    colour: black,
                }),
                Item::Shape(PathShape {
                    role: "rule",
                    outline: PathOutline::Lines(vec![Polyline::open([[1.0, 2.0], [3.0, 4.0]])]),
                    stroke: Some(Stroke {
                        width: 1.0,
                        colour: black,
                        dash: &[],
                    }),
                    fill: None,
                }),
            ],
        }
    }

    /// The validator refuses letters without a glyph, code points that are no characters, and empty titles: none may
    /// stop a file from being written.
    #[test]
    fn no_text_and_no_title_is_refused() {
        for text in ["A = −3 N", "梁 A", "\u{0}\u{FEFF}\u{FFFE}\u{E000}", "", " "] {
            let mut drawing = page(text);
            drawing.title = text.into();
            assert!(pdf(&drawing).starts_with(b"%PDF-1.7"), "{text:?}");
        }
    }

    #[test]
    fn items_that_no_element_has_are_artifacts() {
        let leaf = Items {
            page: 1,
            range: 0..1,
        };
        assert_eq!(owners(&[&leaf], 0, 2), [None, None]);
        assert_eq!(owners(&[&leaf], 1, 2), [Some(0), None]);
    }

    /// A clock or a random number in the file would make every report differ from the last.
    #[test]
    fn the_same_pages_give_the_same_file() {
        assert_eq!(pdf(&page("A")), pdf(&page("A")));
    }
}
