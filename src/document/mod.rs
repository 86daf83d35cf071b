//! A written document: headings, paragraphs, equations, tables and figures, and its forms as Markdown, HTML and PDF.
//!
//! Knows nothing of mechanics. Texts are plain; names such as `A_x` are set with their subscript. Each form is one
//! self-contained file.

mod html;
mod markdown;
mod pdf;
mod runs;

pub use html::html;
pub use markdown::markdown;
pub use pdf::pdf;
pub use runs::runs;

use crate::drawing::Drawing;

/// A document.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Document {
    /// Title, also the first heading.
    pub title: String,
    /// A line below the title; may be empty.
    pub subtitle: String,
    /// What follows, in order.
    pub blocks: Vec<Block>,
}

/// A part of a document.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// Heading of level 2 or 3.
    Heading(u8, String),
    /// Paragraph.
    Paragraph(String),
    /// The sentence that says it all.
    Lead(String),
    /// Less important paragraph.
    Quiet(String),
    /// A paragraph that must not be overlooked.
    Caution(String),
    /// Items with a dot in front.
    List(Vec<String>),
    /// An equation on a line of its own, with its number or an empty label.
    Equation {
        /// Such as `(3)`.
        label: String,
        /// The equation.
        text: String,
    },
    /// What an equation gives.
    Result(String),
    /// A few numbers to be seen from afar: name, symbol, value.
    Numbers(Vec<[String; 3]>),
    /// Table.
    Table(Table),
    /// Drawing with a caption.
    Figure(Figure),
    /// What follows starts on a new sheet of paper.
    NewSheet,
}

/// A table; every row has as many cells as the head.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// Heads of the columns.
    pub head: Vec<String>,
    /// Rows.
    pub rows: Vec<Vec<String>>,
    /// Whether the column of this index holds values, set to the right.
    pub values: Vec<bool>,
}

/// A vector drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// The drawing.
    pub drawing: Drawing,
    /// What it shows, also for those who do not see it.
    pub caption: String,
}

impl Document {
    /// Every text of the document, those inside figures left out.
    fn texts(&self) -> Vec<&str> {
        let mut texts = vec![self.title.as_str(), self.subtitle.as_str()];
        for block in &self.blocks {
            match block {
                Block::Heading(_, text)
                | Block::Paragraph(text)
                | Block::Lead(text)
                | Block::Quiet(text)
                | Block::Caution(text)
                | Block::Result(text) => texts.push(text),
                Block::List(items) => texts.extend(items.iter().map(String::as_str)),
                Block::Equation { label, text } => texts.extend([label.as_str(), text]),
                Block::Numbers(numbers) => {
                    texts.extend(numbers.iter().flatten().map(String::as_str));
                }
                Block::Table(table) => {
                    let cells = table.head.iter().chain(table.rows.iter().flatten());
                    texts.extend(cells.map(String::as_str));
                }
                Block::Figure(figure) => texts.push(&figure.caption),
                Block::NewSheet => {}
            }
        }
        texts
    }
}
