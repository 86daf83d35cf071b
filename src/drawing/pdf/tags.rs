//! The structure elements as tags of the PDF.

use std::num::NonZeroU16;

use krilla::tagging::{
    Identifier, ListNumbering, Node, TableHeaderScope, Tag, TagGroup, TagKind, TagTree,
};

use super::super::structure::{Content, Element, Role};
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

fn tag(role: &Role) -> TagKind {
    match role {
        Role::Heading(level, text) => {
            let level = NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN);
            Tag::Hn(level, Some(nonempty(text))).into()
        }
        Role::Paragraph => Tag::P.into(),
        Role::Division => Tag::Div.into(),
        Role::List => Tag::L(ListNumbering::Disc).into(),
        Role::ListItem => Tag::LI.into(),
        Role::Label => Tag::Lbl.into(),
        Role::Body => Tag::LBody.into(),
        Role::Formula(text) => Tag::Formula(Some(nonempty(text))).into(),
        Role::Table => Tag::Table.into(),
        Role::TableHead => Tag::THead.into(),
        Role::TableBody => Tag::TBody.into(),
        Role::Row => Tag::TR.into(),
        Role::HeadCell => Tag::TH(TableHeaderScope::Column).into(),
        Role::Cell => Tag::TD.into(),
        Role::Figure(text) => Tag::Figure(Some(nonempty(text))).into(),
        Role::Caption => Tag::Caption.into(),
    }
}
