//! A written document: headings, paragraphs, equations, tables and figures, and its forms as text, Markdown, HTML, PDF, LaTeX and Typst.
//!
//! Knows nothing of mechanics. Texts are phrases, whose spans each form sets in its own way. Each form is one
//! self-contained file.

mod html;
mod inline;
mod latex;
pub(crate) mod layout;
mod markdown;
mod mathml;
mod pdf;
mod runs;
mod terminal;
mod tex;
mod typst;

pub use html::{fragment, html};
pub use inline::inline;
pub use latex::latex;
pub use markdown::{markdown, markdown_beside};
#[cfg(test)]
pub(crate) use pdf::breaks::tests as breaks;
pub use pdf::{Paper, pdf, pdf_on};
pub use runs::{runs, wrapped};
pub use terminal::{Styles, terminal};
pub use typst::typst;

use crate::drawing::Drawing;
use crate::wording::{Operator, Phrase, phrase};

/// A document.
#[derive(Debug, Clone, PartialEq, Default)]
#[must_use]
pub struct Document {
    /// Title, also the first heading.
    pub title: String,
    /// A line below the title; may be empty.
    pub subtitle: Phrase,
    /// What follows, in order.
    pub blocks: Vec<DocumentBlock>,
}

/// A part of a document.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum DocumentBlock {
    /// Heading of level 2 or 3.
    Heading(u8, Phrase),
    /// Paragraph.
    Paragraph(Phrase),
    /// The sentence that says it all.
    Lead(Tone, Phrase),
    /// Less important paragraph.
    Quiet(Phrase),
    /// A paragraph that must not be overlooked.
    Caution(Phrase),
    /// Items with a dot in front.
    List(Vec<Phrase>),
    /// Items with a number in front, each of one paragraph or more.
    Numbered(Vec<Vec<Phrase>>),
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
    Table(DocumentTable),
    /// Drawing with a caption.
    Figure(DocumentFigure),
    /// What is to be filled in by hand, each word with a line behind it; only where there is paper.
    Blanks(Vec<Phrase>),
    /// Help that is shown piece by piece to those who ask for it; only where that is possible, in HTML.
    Hints(Vec<Phrase>),
    /// What follows starts on a new sheet of paper.
    NewSheet,
}

/// Whether a sentence says that things are as they should be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// They are.
    Good,
    /// They are not.
    Bad,
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
pub struct DocumentTable {
    /// Heads of the columns.
    pub head: Vec<Phrase>,
    /// Rows.
    pub rows: Vec<Vec<Phrase>>,
    /// Whether the column of this index holds values, set to the right.
    pub values: Vec<bool>,
    /// Lines across the table, each in front of the row of its index.
    pub groups: Vec<(usize, Phrase)>,
}

/// A vector drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct DocumentFigure {
    /// The drawing.
    pub drawing: Drawing,
    /// What it shows, also for those who do not see it.
    pub caption: Phrase,
}

impl Formula {
    fn phrases_mut(&mut self) -> [&mut Phrase; 2] {
        [&mut self.left, &mut self.right]
    }
}

impl DocumentBlock {
    /// Every phrase of the block.
    fn phrases_mut(&mut self) -> Vec<&mut Phrase> {
        match self {
            Self::Heading(_, text)
            | Self::Paragraph(text)
            | Self::Lead(_, text)
            | Self::Quiet(text)
            | Self::Caution(text) => vec![text],
            Self::List(items) | Self::Blanks(items) | Self::Hints(items) => {
                items.iter_mut().collect()
            }
            Self::Numbered(items) => items.iter_mut().flatten().collect(),
            Self::Equation { formula, .. } => formula.phrases_mut().into(),
            Self::Result { given, found } => {
                let all = given.iter_mut().chain(found);
                all.flat_map(Formula::phrases_mut).collect()
            }
            Self::Numbers(numbers) => {
                let parts = numbers.iter_mut();
                parts
                    .flat_map(|(name, symbol, value)| [name, symbol, value])
                    .collect()
            }
            Self::Table(table) => {
                let cells = table.head.iter_mut().chain(table.rows.iter_mut().flatten());
                let groups = table.groups.iter_mut().map(|(_, group)| group);
                cells.chain(groups).collect()
            }
            Self::Figure(figure) => vec![&mut figure.caption],
            Self::NewSheet => Vec::new(),
        }
    }
}

impl Document {
    /// The same with another count of significant digits in values, inside figures as they are.
    pub fn with_digits(mut self, digits: i32) -> Self {
        for phrase in self.blocks.iter_mut().flat_map(DocumentBlock::phrases_mut) {
            *phrase = phrase.with_digits(digits);
        }
        self
    }

    /// Every text of the document, those inside figures left out.
    fn texts(&self) -> Vec<Phrase> {
        let mut blocks = self.blocks.clone();
        let phrases = blocks.iter_mut().flat_map(DocumentBlock::phrases_mut);
        let labels = self.blocks.iter().filter_map(|block| match block {
            DocumentBlock::Equation { label, .. } => Some(Phrase::from(label)),
            _ => None,
        });
        let mut texts = vec![
            self.title.as_str().into(),
            self.subtitle.clone(),
            "=\u{2260}".into(),
        ];
        texts.extend(phrases.map(|phrase| phrase.clone()).chain(labels));
        texts
    }
}
