//! A document as tagged PDF on A4 or letter: lines of real text, tables that go on over pages, figures as vectors.

pub(crate) mod breaks;
mod lines;
mod sheets;
mod table;

use super::{Document, DocumentBlock, DocumentFigure, Formula, runs};
use crate::drawing::{self, Drawing, Element, ElementRole, Weight};
use crate::wording::{Phrase, phrase};
use breaks::{PageLook, filled, height_of_start};
use lines::{Style, spaced, wrapped};
pub use sheets::Paper;
use sheets::{Sheets, TEXT_WIDTH};

/// Text of paragraphs.
const PLAIN: Style = Style::new(10.0, Weight::Medium);
const STRONG: Style = Style::new(10.0, Weight::Bold);
const QUIET: Style = Style::new(9.0, Weight::Medium).quiet();
const LEAD: Style = Style::new(13.0, Weight::Bold);
const TITLE: Style = Style::new(20.0, Weight::Bold);
const SECTION: Style = Style::new(14.0, Weight::Bold);
const STEP: Style = Style::new(10.5, Weight::Bold);
const FIGURES: Style = Style::new(17.0, Weight::Bold);

/// How far items stand in beside their mark, points.
const BESIDE_MARK: f64 = 14.0;
/// How far equations stand in, points.
const INDENT: f64 = 22.0;
/// Width of equations, with room for their numbers beside them.
const EQUATION_WIDTH: f64 = TEXT_WIDTH - INDENT - 34.0;
/// Tallest figure, points.
const TALLEST: f64 = 330.0;

/// The document as a PDF file on A4.
pub fn pdf(document: &Document) -> Vec<u8> {
    pdf_on(document, Paper::A4)
}

/// The document as a PDF file on such paper.
pub fn pdf_on(document: &Document, paper: Paper) -> Vec<u8> {
    let (pages, structure) = laid_out(document, paper);
    drawing::tagged_pdf(&pages, &structure, &document.title)
}

fn laid_out(document: &Document, paper: Paper) -> (Vec<Drawing>, Vec<Element>) {
    let mut sheets = Sheets::new(&document.title, paper);
    sheets.within(ElementRole::Heading(1, document.title.clone()), |sheets| {
        text(sheets, &document.title.as_str().into(), TITLE, 0.0);
    });
    if !document.subtitle.is_empty() {
        sheets.within(ElementRole::Paragraph, |sheets| {
            text(sheets, &document.subtitle, QUIET, 0.0);
        });
    }
    let sections = document
        .blocks
        .split(|block| *block == DocumentBlock::NewSheet);
    let sections: Vec<&[DocumentBlock]> = sections.filter(|blocks| !blocks.is_empty()).collect();
    for (index, blocks) in sections.iter().enumerate() {
        if index > 0 {
            sheets.next();
        }
        let has_more = index + 1 < sections.len();
        filled(&mut sheets, blocks, sections.len() > 1, has_more);
    }
    sheets.finished()
}

/// Writes blocks that follow each other, figures at a part of their usual size.
fn fill(sheets: &mut Sheets, blocks: &[DocumentBlock], look: PageLook) {
    for (index, block) in blocks.iter().enumerate() {
        let follows_figure = index > 0 && matches!(blocks[index - 1], DocumentBlock::Figure(_));
        if matches!(block, DocumentBlock::Heading(..)) {
            sheets.keep_together(height_of_start(&blocks[index..], look));
        }
        let left = left_of(blocks, index);
        place(sheets, block, follows_figure, left, look);
    }
}

/// Widest left side of the equations that follow each other around a block, which are aligned at their equals signs.
fn left_of(blocks: &[DocumentBlock], index: usize) -> f64 {
    let formulas = |block: &DocumentBlock| -> Option<Vec<(Formula, Style)>> {
        match block {
            DocumentBlock::Equation { formula, .. } => Some(vec![(formula.clone(), PLAIN)]),
            DocumentBlock::Result { found, .. } => Some(
                found
                    .iter()
                    .map(|formula| (formula.clone(), STRONG))
                    .collect(),
            ),
            _ => None,
        }
    };
    let before = blocks[..index].iter().rev().map_while(formulas);
    let here_and_after = blocks[index..].iter().map_while(formulas);
    let all = before.chain(here_and_after).flatten();
    all.filter(|(formula, style)| {
        let whole = lines::width(&runs(&formula.phrase()), *style);
        whole <= EQUATION_WIDTH
    })
    .map(|(formula, style)| lines::width(&runs(&formula.left), style))
    .fold(0.0, f64::max)
}

fn place(
    sheets: &mut Sheets,
    block: &DocumentBlock,
    follows_figure: bool,
    left: f64,
    look: PageLook,
) {
    match block {
        DocumentBlock::Heading(0..=2, words) => {
            sheets.skip(12.0);
            heading(sheets, 2, words, SECTION);
            sheets.rule(1.0);
            sheets.skip(4.0);
        }
        DocumentBlock::Heading(level, words) => {
            sheets.skip(6.0);
            heading(sheets, *level, words, STEP);
        }
        DocumentBlock::Paragraph(words) => paragraph(sheets, words, PLAIN),
        DocumentBlock::Quiet(words) => paragraph(sheets, words, QUIET),
        DocumentBlock::Lead(_, words) => {
            sheets.skip(if follows_figure { 0.0 } else { 4.0 });
            paragraph(sheets, words, LEAD);
        }
        DocumentBlock::Caution(words) => caution(sheets, words),
        DocumentBlock::List(items) => sheets.within(ElementRole::List, |sheets| {
            items
                .iter()
                .for_each(|item| bullet(sheets, "\u{2022}", item));
        }),
        DocumentBlock::Numbered(items) => sheets.within(ElementRole::List, |sheets| {
            for (index, item) in items.iter().enumerate() {
                let words = Phrase::joined(item.iter().cloned(), " ");
                bullet(sheets, &format!("{}.", index + 1), &words);
            }
        }),
        DocumentBlock::Equation { label, formula } => equation(sheets, label, formula, left),
        DocumentBlock::Result { given, found } => result(sheets, given, found, left),
        DocumentBlock::Numbers(numbers) => big_numbers(sheets, numbers),
        DocumentBlock::Table(content) => table::place(sheets, content),
        DocumentBlock::Figure(figure) => place_figure(sheets, figure, look),
        DocumentBlock::Blanks(words) => blanks(sheets, words),
        // Paper cannot hide them.
        DocumentBlock::Hints(_) => {}
        DocumentBlock::NewSheet => sheets.next(),
    }
}

/// Lines of text from an indent on; neither the first nor the last is alone on a sheet.
fn text(sheets: &mut Sheets, words: &Phrase, style: Style, indent: f64) {
    let lines = wrapped(words, style, TEXT_WIDTH - indent);
    let count = lines.len();
    for (index, line) in spaced(lines).enumerate() {
        let together = match index {
            0 if count <= 3 => count,
            0 => 2,
            _ if index + 2 == count => 2,
            _ => 1,
        };
        sheets.keep_together(together as f64 * style.height());
        sheets.advance(style.height());
        sheets.write(line, indent, style);
    }
}

fn heading(sheets: &mut Sheets, level: u8, words: &Phrase, style: Style) {
    sheets.within(
        ElementRole::Heading(level.into(), words.to_string()),
        |sheets| {
            text(sheets, words, style, 0.0);
        },
    );
}

fn paragraph(sheets: &mut Sheets, words: &Phrase, style: Style) {
    sheets.within(ElementRole::Paragraph, |sheets| {
        text(sheets, words, style, 0.0)
    });
    sheets.skip(5.0);
}

fn bullet(sheets: &mut Sheets, mark: &str, words: &Phrase) {
    let (mut label, mut body) = (
        Element::new(ElementRole::Label),
        Element::new(ElementRole::Body),
    );
    let lines = spaced(wrapped(words, PLAIN, TEXT_WIDTH - BESIDE_MARK));
    for (index, line) in lines.enumerate() {
        sheets.advance(PLAIN.height());
        if index == 0 {
            sheets.write_for(&mut label, drawing::Run::plain(mark), 2.0, PLAIN);
        }
        sheets.write_for(&mut body, line, BESIDE_MARK, PLAIN);
    }
    sheets.within(ElementRole::ListItem, |sheets| {
        sheets.add(label);
        sheets.add(body);
    });
    sheets.skip(2.0);
}

/// A paragraph with a bar beside it, on one page.
fn caution(sheets: &mut Sheets, words: &Phrase) {
    let lines = wrapped(words, QUIET, TEXT_WIDTH - 14.0);
    let height = lines.len() as f64 * QUIET.height();
    sheets.skip(8.0);
    sheets.keep_together(height);
    let top = sheets.depth();
    sheets.within(ElementRole::Paragraph, |sheets| {
        for line in spaced(lines) {
            sheets.advance(QUIET.height());
            sheets.write(line, 14.0, QUIET);
        }
    });
    sheets.bar(top, sheets.depth() + 3.0);
    sheets.skip(6.0);
}

/// Lines of an equation with how far each is set in: its equals sign stands below that of its neighbours, where the
/// equation has room for that.
fn set(formula: &Formula, style: Style, left: f64) -> Vec<(Vec<drawing::Run>, f64)> {
    let own = lines::width(&runs(&formula.left), style);
    let whole = lines::width(&runs(&formula.phrase()), style);
    if left - own + whole <= EQUATION_WIDTH {
        return vec![(runs(&formula.phrase()), INDENT + (left - own).max(0.0))];
    }
    let lines = wrapped(&formula.phrase(), style, EQUATION_WIDTH);
    spaced(lines).map(|line| (line, INDENT)).collect()
}

fn equation(sheets: &mut Sheets, label: &str, words: &Formula, left: f64) {
    let lines = set(words, PLAIN, left);
    sheets.keep_together((lines.len() + 1) as f64 * PLAIN.height());
    sheets.skip(1.0);
    let mut formula = Element::new(ElementRole::Formula(words.phrase().to_string()));
    let mut number = Element::new(ElementRole::Label);
    for (index, (line, indent)) in lines.into_iter().enumerate() {
        sheets.advance(PLAIN.height());
        sheets.write_for(&mut formula, line, indent, PLAIN);
        if index == 0 && !label.is_empty() {
            let runs = drawing::Run::plain(label);
            let width = lines::width(&runs, QUIET);
            sheets.write_for(&mut number, runs, TEXT_WIDTH - width, QUIET);
        }
    }
    sheets.within(ElementRole::Paragraph, |sheets| {
        sheets.add(formula);
        if !label.is_empty() {
            sheets.add(number);
        }
    });
    sheets.skip(2.0);
}

/// What was put in, and below it what follows, each on its line.
fn result(sheets: &mut Sheets, given: &[Formula], found: &[Formula], left: f64) {
    if !given.is_empty() {
        let known = Phrase::joined(given.iter().map(Formula::phrase), ", ");
        sheets.within(ElementRole::Paragraph, |sheets| {
            text(sheets, &phrase!("With ", known, ":"), PLAIN, INDENT);
        });
    }
    for formula in found {
        let mut element = Element::new(ElementRole::Formula(formula.phrase().to_string()));
        for (line, indent) in set(formula, STRONG, left) {
            sheets.advance(STRONG.height());
            sheets.write_for(&mut element, line, indent, STRONG);
        }
        sheets.within(ElementRole::Paragraph, |sheets| sheets.add(element));
    }
    sheets.skip(4.0);
}

/// The numbers beside each other in boxes.
fn big_numbers(sheets: &mut Sheets, numbers: &[(Phrase, Phrase, Phrase)]) {
    let gap = 8.0;
    let count = numbers.len().max(1) as f64;
    let width = (TEXT_WIDTH - gap * (count - 1.0)) / count;
    let height = 44.0;
    sheets.keep_together(height + 8.0);
    sheets.skip(8.0);
    let top = sheets.depth();
    sheets.advance(height);
    for (index, (name, symbol, value)) in numbers.iter().enumerate() {
        let left = index as f64 * (width + gap);
        sheets.frame([left, top], [left + width, top + height]);
        sheets.within(ElementRole::Paragraph, |sheets| {
            let name = runs(&phrase!(name, " "));
            sheets.write_at(name, [left + 8.0, top + 14.0], QUIET);
            let symbol = runs(&phrase!(symbol, " = "));
            let beside = left + 8.0 + lines::width(&symbol, PLAIN);
            sheets.write_at(symbol, [left + 8.0, top + 34.0], PLAIN);
            let value = runs(value);
            sheets.write_at(value, [beside, top + 35.0], FIGURES);
        });
    }
    sheets.skip(10.0);
}

/// Words, each with a line to write on behind it; the first has twice the room of the others.
fn blanks(sheets: &mut Sheets, words: &[Phrase]) {
    let share = TEXT_WIDTH / (words.len() + 1) as f64;
    sheets.skip(6.0);
    sheets.advance(PLAIN.height() + 4.0);
    for (index, words) in words.iter().enumerate() {
        let left = if index == 0 {
            0.0
        } else {
            (index + 1) as f64 * share
        };
        let right = (index + 2) as f64 * share - 12.0;
        let runs = runs(&phrase!(words, " "));
        let behind = left + lines::width(&runs, PLAIN);
        sheets.within(ElementRole::Paragraph, |sheets| {
            sheets.write(runs, left, PLAIN)
        });
        sheets.blank(behind, right);
    }
    sheets.skip(8.0);
}

/// How much a figure is enlarged or reduced on paper.
fn scale_of(figure: &DocumentFigure, look: PageLook) -> f64 {
    let drawing = &figure.drawing;
    let usual = (TEXT_WIDTH / drawing.width)
        .min(TALLEST / drawing.height)
        .min(LARGEST);
    usual * look.figures
}

/// A figure as wide as the text or as tall as is allowed, with its caption.
fn place_figure(sheets: &mut Sheets, figure: &DocumentFigure, look: PageLook) {
    let drawing = &figure.drawing;
    let scale = scale_of(figure, look);
    let height = drawing.height * scale;
    sheets.skip(6.0);
    sheets.keep_together(height + 2.0 * QUIET.height());
    let left = (TEXT_WIDTH - drawing.width * scale) / 2.0;
    sheets.within(ElementRole::Division, |sheets| {
        sheets.within(ElementRole::Figure(figure.caption.to_string()), |sheets| {
            sheets.draw(drawing, left, scale);
        });
        sheets.advance(height);
        sheets.within(ElementRole::Caption, |sheets| {
            text(sheets, &figure.caption, QUIET, 0.0);
        });
    });
    sheets.skip(6.0);
}

/// A figure's letters are not made larger than those of the text by more than this.
const LARGEST: f64 = 1.35;

#[cfg(test)]
mod tests {
    use super::super::{DocumentTable, Tone};
    use super::*;
    use crate::drawing::Item;

    /// Whatever stands before it, a step of a solution is read on one sheet.
    #[test]
    fn steps_are_not_torn_apart() {
        let step = |number: usize| {
            [
                DocumentBlock::Heading(3, format!("Step {number}").into()),
                DocumentBlock::Paragraph(
                    "Three reactions meet this line and drop out. "
                        .repeat(number % 7)
                        .into(),
                ),
                DocumentBlock::Equation {
                    label: format!("({number})"),
                    formula: Formula::equal("0.5 A + 0.25 B", "0"),
                },
                DocumentBlock::Result {
                    given: Vec::new(),
                    found: vec![Formula::equal("A", "2 N")],
                },
            ]
        };
        let document = Document {
            title: "steps".into(),
            blocks: (1..90).flat_map(step).collect(),
            ..Document::default()
        };
        let (sheets, _) = laid_out(&document, Paper::A4);
        assert!(sheets.len() > 5, "{}", sheets.len());
        for sheet in &sheets[1..] {
            let top = sheet.texts().min_by(|a, b| a.at[1].total_cmp(&b.at[1]));
            let words = &top.unwrap().runs[0].text;
            assert!(words.starts_with("Step"), "{words}");
        }
    }

    /// A text outside the structure is not read aloud, and one that is there twice is refused.
    #[test]
    fn every_text_is_in_the_structure_once() {
        let words = || Phrase::from("Some words that need more than one line. ".repeat(4));
        let figure = DocumentFigure {
            drawing: Drawing {
                width: 10.0,
                height: 10.0,
                ..Drawing::default()
            },
            caption: words(),
        };
        let document = Document {
            title: "all".into(),
            subtitle: words(),
            blocks: vec![
                DocumentBlock::Heading(2, words()),
                DocumentBlock::Heading(3, words()),
                DocumentBlock::Paragraph(words()),
                DocumentBlock::Lead(Tone::Bad, words()),
                DocumentBlock::Quiet(words()),
                DocumentBlock::Caution(words()),
                DocumentBlock::List(vec![words(), words()]),
                DocumentBlock::Numbered(vec![vec![words(), words()], vec![words()]]),
                DocumentBlock::Equation {
                    label: "(1)".into(),
                    formula: Formula::equal(words(), words()),
                },
                DocumentBlock::Result {
                    given: vec![Formula::equal("A", words())],
                    found: vec![Formula::equal("B", "2 N")],
                },
                DocumentBlock::Numbers(vec![("rank".into(), "r".into(), "6".into())]),
                // The head of a table that goes on over sheets is there once more.
                DocumentBlock::NewSheet,
                DocumentBlock::Table(DocumentTable {
                    head: vec!["a".into(), "b".into()],
                    rows: vec![vec![words(), words()]],
                    values: vec![true],
                    groups: vec![(0, words())],
                }),
                DocumentBlock::NewSheet,
                DocumentBlock::Figure(figure),
            ],
        };
        let (sheets, structure) = laid_out(&document, Paper::A4);
        let mut items = Vec::new();
        structure
            .iter()
            .for_each(|element| element.all_items(&mut items));
        for (page, sheet) in sheets.iter().enumerate() {
            for (index, item) in sheet.items.iter().enumerate() {
                let here = items.iter().filter(|items| items.page == page);
                let owners = here.filter(|items| items.range.contains(&index)).count();
                let is_text = matches!(item, Item::Text(text) if text.role == "text");
                assert_eq!(owners, usize::from(is_text), "{item:?}");
            }
        }
    }
}
