//! A written document: headings, paragraphs, equations, tables and figures, and its forms as Markdown, HTML and PDF.
//!
//! Knows nothing of mechanics. Texts are phrases, whose spans each form sets in its own way. Each form is one
//! self-contained file.

mod html;
mod inline;
mod markdown;
mod mathml;
mod pdf;
mod runs;

pub use html::html;
pub use inline::inline;
pub use markdown::markdown;
pub use pdf::pdf;
pub use runs::{runs, wrapped};

use crate::drawing::Drawing;
use crate::wording::{Operator, Phrase, phrase};

/// A document.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Document {
    /// Title, also the first heading.
    pub title: String,
    /// A line below the title; may be empty.
    pub subtitle: Phrase,
    /// What follows, in order.
    pub blocks: Vec<Block>,
}

/// A part of a document.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// Heading of level 2 or 3.
    Heading(u8, Phrase),
    /// Paragraph.
    Paragraph(Phrase),
    /// The sentence that says it all.
    Lead(Phrase),
    /// Less important paragraph.
    Quiet(Phrase),
    /// A paragraph that must not be overlooked.
    Caution(Phrase),
    /// Items with a dot in front.
    List(Vec<Phrase>),
    /// An equation on a line of its own, with its number or an empty label.
    Equation {
        /// Such as `(3)`.
        label: String,
        /// The equation.
        formula: Formula,
    },
    /// What equations give.
    Result {
        /// What was known before and is put in.
        given: Vec<Formula>,
        /// What follows.
        found: Vec<Formula>,
    },
    /// A few numbers to be seen from afar: name, symbol, value.
    Numbers(Vec<(Phrase, Phrase, Phrase)>),
    /// Table.
    Table(Table),
    /// Drawing with a caption.
    Figure(Figure),
    /// What follows starts on a new sheet of paper.
    NewSheet,
}

/// Two sides of an equation and the sign between them.
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    /// Left side.
    pub left: Phrase,
    /// Equal or not.
    pub relation: Operator,
    /// Right side.
    pub right: Phrase,
}

impl Formula {
    /// Both sides are equal.
    pub fn equal(left: impl Into<Phrase>, right: impl Into<Phrase>) -> Self {
        Self {
            left: left.into(),
            relation: Operator::Equals,
            right: right.into(),
        }
    }

    /// On one line.
    pub fn phrase(&self) -> Phrase {
        phrase!(self.left, self.relation, self.right)
    }
}

/// A table; every row has as many cells as the head.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// Heads of the columns.
    pub head: Vec<Phrase>,
    /// Rows.
    pub rows: Vec<Vec<Phrase>>,
    /// Whether the column of this index holds values, set to the right.
    pub values: Vec<bool>,
}

/// A vector drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// The drawing.
    pub drawing: Drawing,
    /// What it shows, also for those who do not see it.
    pub caption: Phrase,
}

impl Document {
    /// Every text of the document, those inside figures left out.
    fn texts(&self) -> Vec<Phrase> {
        let mut texts = vec![self.title.as_str().into(), self.subtitle.clone()];
        for block in &self.blocks {
            match block {
                Block::Heading(_, text)
                | Block::Paragraph(text)
                | Block::Lead(text)
                | Block::Quiet(text)
                | Block::Caution(text) => texts.push(text.clone()),
                Block::List(items) => texts.extend(items.iter().cloned()),
                Block::Equation { label, formula } => {
                    texts.extend([label.into(), formula.phrase()]);
                }
                Block::Result { given, found } => {
                    texts.extend(given.iter().chain(found).map(Formula::phrase));
                }
                Block::Numbers(numbers) => {
                    let parts = numbers
                        .iter()
                        .flat_map(|(name, symbol, value)| [name, symbol, value]);
                    texts.extend(parts.cloned());
                }
                Block::Table(table) => {
                    let cells = table.head.iter().chain(table.rows.iter().flatten());
                    texts.extend(cells.cloned());
                }
                Block::Figure(figure) => texts.push(figure.caption.clone()),
                Block::NewSheet => {}
            }
        }
        texts
    }
}
