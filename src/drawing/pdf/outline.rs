//! The outline beside the pages: the headings, each with what it heads.

use krilla::destination::XyzDestination;
use krilla::geom::Point;
use krilla::outline::{Outline, OutlineNode};

use super::super::items::{Drawing, Item};
use super::super::structure::{Element, ElementRole, Items};
use super::nonempty;

/// The headings as a tree; the title alone where there are none.
pub(super) fn outline(pages: &[Drawing], structure: &[Element], title: &str) -> Outline {
    let mut outline = Outline::new();
    // Headings that others may still follow, from the outermost on.
    let mut open: Vec<(u16, OutlineNode)> = Vec::new();
    let headings = headings(structure);
    if headings.is_empty() {
        outline.push_child(OutlineNode::new(title.to_owned(), place(pages, None)));
    }
    for (level, text, items) in headings {
        close(&mut open, &mut outline, level);
        let node = OutlineNode::new(nonempty(text), place(pages, items));
        // The title shows its sections at once.
        open.push((level, node.with_open(level == 1)));
    }
    close(&mut open, &mut outline, 0);
    outline
}

/// Level, text and place of each heading.
fn headings(structure: &[Element]) -> Vec<(u16, &str, Option<&Items>)> {
    let headings = structure.iter().filter_map(|element| match &element.role {
        ElementRole::Heading(level, text) => Some((*level, text.as_str(), element.first_items())),
        _ => None,
    });
    headings.collect()
}

/// Gives headings that end before one of a level to those above them.
fn close(open: &mut Vec<(u16, OutlineNode)>, outline: &mut Outline, level: u16) {
    while open.last().is_some_and(|(other, _)| *other >= level) {
        let Some((_, node)) = open.pop() else { return };
        match open.last_mut() {
            Some((_, above)) => above.push_child(node),
            None => outline.push_child(node),
        }
    }
}

/// The upper left corner of items; of the first page where there are none.
fn place(pages: &[Drawing], items: Option<&Items>) -> XyzDestination {
    let found = items.and_then(|items| {
        let first = pages.get(items.page)?.items.get(items.range.start)?;
        match first {
            Item::Text(text) => Some((items.page, text.area()[0])),
            Item::Shape(_) => None,
        }
    });
    let (page, [x, y]) = found.unwrap_or_default();
    XyzDestination::new(page, Point::from_xy(x as f32, y as f32))
}
