//! What the items of pages are to readers who do not see them: headings, paragraphs, tables, figures.

use std::ops::Range;

/// A part of a document's structure, in reading order.
#[derive(Debug, Clone, PartialEq)]
pub struct Element {
    /// What it is.
    pub role: ElementRole,
    /// What it consists of, in reading order.
    pub contents: Vec<Content>,
}

/// What elements consist of.
#[derive(Debug, Clone, PartialEq)]
pub enum Content {
    /// Items of a page.
    Items(Items),
    /// A part of its own.
    Element(Element),
}

/// Items of a page, one after the other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Items {
    /// Index of the page.
    pub page: usize,
    /// Indices of the items on it.
    pub range: Range<usize>,
}

/// What an element is (ISO 32000-1:2008, section 14.8.4).
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum ElementRole {
    /// A heading of a level from 1, with its text.
    Heading(u16, String),
    /// A paragraph.
    Paragraph,
    /// Parts that belong together.
    Division,
    /// A list of `ListItem`s.
    List,
    /// A `Label` and a `Body`.
    ListItem,
    /// What marks an item of a list, or numbers an equation.
    Label,
    /// What an item of a list says.
    Body,
    /// An equation, with its text.
    Formula(String),
    /// A `TableHead` and a `TableBody`.
    Table,
    /// The `Row` of heads.
    TableHead,
    /// `Row`s of cells.
    TableBody,
    /// `HeadCell`s or `Cell`s.
    Row,
    /// What heads a column.
    HeadCell,
    /// A cell of a table.
    Cell,
    /// A drawing, with what it shows.
    Figure(String),
    /// What is said of the figure before it.
    Caption,
}

impl Element {
    /// An element to be filled.
    pub fn new(role: ElementRole) -> Self {
        Self {
            role,
            contents: Vec::new(),
        }
    }

    /// The first items in it or in its parts.
    pub fn first_items(&self) -> Option<&Items> {
        self.contents.iter().find_map(|content| match content {
            Content::Items(items) => Some(items),
            Content::Element(element) => element.first_items(),
        })
    }

    /// All items in it and in its parts, in reading order.
    pub fn all_items<'a>(&'a self, found: &mut Vec<&'a Items>) {
        for content in &self.contents {
            match content {
                Content::Items(items) => found.push(items),
                Content::Element(element) => element.all_items(found),
            }
        }
    }
}
