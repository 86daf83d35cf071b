//! The structure elements as tags of the PDF.

use std::num::NonZeroU16;

use krilla::tagging::{
    Identifier, ListNumbering, Node, TableHeaderScope, Tag, TagGroup, TagKind, TagTree,
};

use super::super::structure::{Content, Element, ElementRole};
use super::nonempty;

/// The tree of tags; items take the identifiers in the order of [`Element::all_items`].
pub(super) fn tree(structure: &[Element], identifiers: &[Option<Identifier>]) -> TagTree {
    let mut identifiers = identifiers.iter().copied();
    let mut tree = TagTree::new();
    for element in structure {
        tree.push(group(element, &mut identifiers));
    }
    tree
}

fn group(
    element: &Element,
    identifiers: &mut impl Iterator<Item = Option<Identifier>>,
) -> TagGroup {
    let mut group = TagGroup::new(tag(&element.role));
    for content in &element.contents {
        match content {
            Content::Element(element) => group.push(self::group(element, identifiers)),
            Content::Items(_) => {
                let identifier = identifiers.next().expect("each leaf has its place");
                group.children.extend(identifier.map(Node::Leaf));
            }
        }
    }
    group
}

fn tag(role: &ElementRole) -> TagKind {
    match role {
        ElementRole::Heading(level, text) => {
            let level = NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN);
            Tag::Hn(level, Some(nonempty(text))).into()
        }
        ElementRole::Paragraph => Tag::P.into(),
        ElementRole::Division => Tag::Div.into(),
        ElementRole::List => Tag::L(ListNumbering::Disc).into(),
        ElementRole::ListItem => Tag::LI.into(),
        ElementRole::Label => Tag::Lbl.into(),
        ElementRole::Body => Tag::LBody.into(),
        ElementRole::Formula(text) => Tag::Formula(Some(nonempty(text))).into(),
        ElementRole::Table => Tag::Table.into(),
        ElementRole::TableHead => Tag::THead.into(),
        ElementRole::TableBody => Tag::TBody.into(),
        ElementRole::Row => Tag::TR.into(),
        ElementRole::HeadCell => Tag::TH(TableHeaderScope::Column).into(),
        ElementRole::Cell => Tag::TD.into(),
        ElementRole::Figure(text) => Tag::Figure(Some(nonempty(text))).into(),
        ElementRole::Caption => Tag::Caption.into(),
    }
}
