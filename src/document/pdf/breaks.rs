//! Where sheets end: headings stay with what they head, and no sheet but the last is nearly empty.

use super::lines::{Style, wrapped};
use super::sheets::{Sheets, TEXT_WIDTH};
use super::{
    BESIDE_MARK, DocumentBlock, EQUATION_WIDTH, LEAD, PLAIN, QUIET, SECTION, STEP, STRONG, fill,
    scale_of,
};
use crate::wording::Phrase;

/// How blocks are set so that they fit their sheets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PageLook {
    /// Size of figures, as a part of the usual one.
    pub(super) figures: f64,
}

/// Sizes of figures that are tried, as parts of the usual one; letters in them stay legible.
const SIZES: [f64; 5] = [1.0, 0.9, 0.8, 0.7, SMALLEST];
/// The size of figures that share a sheet with others, which are drawn with fewer letters.
const SMALLEST: f64 = 0.6;
/// A sheet that is not the last has at least so many lines.
const FEWEST: f64 = 8.0;
/// Lines by which a sheet may end early, so that the next one has enough.
const MOST_MOVED: u32 = 16;
/// Longest step of a solution that is kept on one sheet, points.
const LONGEST_STEP: f64 = 260.0;

/// Writes a section: with figures reduced where that spares a sheet, and with sheets that end early where the last one
/// would have few lines and is not the last of all.
pub(super) fn filled(
    sheets: &mut Sheets,
    blocks: &[DocumentBlock],
    may_reduce: bool,
    has_more: bool,
) {
    let tried = |figures: f64, moved: Option<(usize, f64)>| {
        let mut trial = sheets.like();
        if let Some((sheet, height)) = moved {
            trial.keep_free(sheet, height);
        }
        fill(&mut trial, blocks, PageLook { figures });
        (trial.count(), trial.lines_on_last())
    };
    let usual = tried(1.0, None);
    let sections = blocks
        .iter()
        .filter(|block| matches!(block, DocumentBlock::Heading(0..=2, _)));
    let is_shared = sections.count() > 1;
    let sizes = SIZES
        .iter()
        .copied()
        .skip(1)
        .filter(|size| is_shared || *size > SMALLEST)
        .filter(|_| may_reduce && usual.0 > 1);
    let figures = sizes
        .into_iter()
        .find(|size| tried(*size, None).0 < usual.0);
    let figures = figures.unwrap_or(1.0);
    let (count, lines) = tried(figures, None);
    if has_more && count > 1 && lines < FEWEST {
        let moves = (1..=MOST_MOVED).map(|lines| (count - 2, f64::from(lines) * PLAIN.height()));
        let moved = moves.into_iter().find(|moved| {
            let (again, lines) = tried(figures, Some(*moved));
            again == count && lines >= FEWEST
        });
        if let Some((sheet, height)) = moved {
            sheets.keep_free(sheet, height);
        }
    }
    fill(sheets, blocks, PageLook { figures });
}

/// Height of a heading with what must not be parted from it: a figure, the head of a table, a step of a solution, or the
/// first lines of words.
pub(super) fn height_of_start(blocks: &[DocumentBlock], look: PageLook) -> f64 {
    let (own, rest) = match blocks {
        [DocumentBlock::Heading(0..=2, words), rest @ ..] => (lines(words, SECTION) + 18.0, rest),
        [DocumentBlock::Heading(..), ..] => return step_height(blocks).clamp(70.0, LONGEST_STEP),
        _ => return 0.0,
    };
    let is_words = |block: &&DocumentBlock| {
        matches!(
            block,
            DocumentBlock::Paragraph(_) | DocumentBlock::Quiet(_) | DocumentBlock::List(_)
        )
    };
    let words = rest.iter().take_while(is_words).count();
    own + match (rest.first(), rest.get(words)) {
        (Some(DocumentBlock::Figure(figure)), _) => {
            figure.drawing.height * scale_of(figure, look) + 2.0 * QUIET.height() + 12.0
        }
        // The words of a section with the step that follows them.
        (_, Some(DocumentBlock::Heading(3.., _))) => {
            let said = step_height(&blocks[..=words]).min(LONGEST_STEP);
            said + height_of_start(&rest[words..], look)
        }
        (Some(DocumentBlock::Lead(_, words)), _) => lines(words, LEAD) + 2.0 * PLAIN.height(),
        (Some(_), _) => 4.0 * PLAIN.height(),
        (None, _) => 0.0,
    }
}

fn lines(words: &Phrase, style: Style) -> f64 {
    wrapped(words, style, TEXT_WIDTH).len() as f64 * style.height()
}

/// Height of a small heading with what it heads: words, equations, and what they give.
fn step_height(blocks: &[DocumentBlock]) -> f64 {
    let height = |block: &DocumentBlock| match block {
        DocumentBlock::Paragraph(words) => Some(lines(words, PLAIN) + 5.0),
        DocumentBlock::Quiet(words) => Some(lines(words, QUIET) + 5.0),
        DocumentBlock::List(items) => {
            let room = TEXT_WIDTH - BESIDE_MARK;
            let heights = items
                .iter()
                .map(|item| wrapped(item, PLAIN, room).len() as f64 * PLAIN.height() + 2.0);
            Some(heights.sum::<f64>() + 3.0)
        }
        DocumentBlock::Equation { formula, .. } => {
            let set = wrapped(&formula.phrase(), PLAIN, EQUATION_WIDTH);
            Some(set.len() as f64 * PLAIN.height() + 3.0)
        }
        DocumentBlock::Result { given, found } => {
            let rows = found.len() + usize::from(!given.is_empty());
            Some(rows as f64 * STRONG.height() + 4.0)
        }
        _ => None,
    };
    let headed: f64 = blocks.iter().skip(1).map_while(height).sum();
    // As an equation asks for a line more than it takes.
    headed + 6.0 + STEP.height() + PLAIN.height()
}

#[cfg(test)]
pub(crate) mod tests {
    use super::super::{Paper, TITLE, laid_out};
    use super::*;
    use crate::document::{Document, DocumentFigure, Formula};
    use crate::drawing::{Drawing, Item};

    /// Lines of text on a sheet from the top, by the size of their letters.
    fn lines_of(sheet: &Drawing) -> Vec<f64> {
        let texts = sheet.items.iter().filter_map(|item| match item {
            Item::Text(text) if text.role == "text" => Some(text),
            _ => None,
        });
        let mut lines: Vec<(i64, f64)> = texts
            .map(|text| ((text.at[1] * 2.0).round() as i64, text.size))
            .collect();
        lines.sort_by_key(|(height, _)| *height);
        lines.dedup_by_key(|(height, _)| *height);
        lines.into_iter().map(|(_, size)| size).collect()
    }

    /// Asserts that no heading is at the foot of a sheet and that all but the last have eight lines or a figure; the number
    /// of sheets of A4.
    pub(crate) fn assert_good_breaks(document: &Document) -> usize {
        for paper in [Paper::A4, Paper::Letter] {
            let (sheets, _) = laid_out(document, paper);
            let (_, all_but_last) = sheets.split_last().expect("there is a sheet");
            for sheet in all_but_last {
                let lines = lines_of(sheet);
                let has_figure = sheet.texts().any(|text| text.runs[0].text == CAPTION);
                assert!(lines.len() >= 8 || has_figure, "{lines:?}");
            }
            for sheet in &sheets {
                let last = *lines_of(sheet).last().expect("there is a line");
                let heads = [TITLE, SECTION, STEP]
                    .iter()
                    .any(|style| style.size == last);
                assert!(!heads, "a heading of {last} points at the foot");
            }
        }
        laid_out(document, Paper::A4).0.len()
    }

    const CAPTION: &str = "A body on supports";

    /// A figure without anything on it.
    pub(crate) fn figure(height: f64) -> DocumentFigure {
        DocumentFigure {
            drawing: Drawing {
                width: 340.0,
                height,
                ..Drawing::default()
            },
            caption: CAPTION.into(),
        }
    }

    /// Sections of every length about one sheet and two.
    #[test]
    fn sections_of_any_length_are_broken_well() {
        for length in 30..75 {
            let step = |number: usize| {
                vec![
                    DocumentBlock::Heading(3, format!("Step {number}").into()),
                    DocumentBlock::Paragraph("Only one reaction remains.".into()),
                    DocumentBlock::Equation {
                        label: String::new(),
                        formula: Formula::equal("0.5 A", "2 N"),
                    },
                ]
            };
            let section = || {
                let mut blocks = vec![DocumentBlock::Heading(2, "Problem".into())];
                blocks.extend((0..length / 3).flat_map(step));
                blocks.extend((0..length % 3).map(|_| DocumentBlock::Paragraph("A line.".into())));
                blocks.push(DocumentBlock::NewSheet);
                blocks
            };
            assert_good_breaks(&Document {
                title: "sections".into(),
                blocks: (0..3).flat_map(|_| section()).collect(),
                ..Document::default()
            });
        }
    }

    #[test]
    fn a_figure_is_reduced_where_that_spares_a_sheet() {
        let blocks = |lines: usize| -> Vec<DocumentBlock> {
            let words = (0..lines).map(|_| DocumentBlock::Paragraph("A line.".into()));
            let own = [
                DocumentBlock::Heading(2, "Problem".into()),
                DocumentBlock::Figure(figure(240.0)),
            ];
            own.into_iter()
                .chain(words)
                .chain([DocumentBlock::NewSheet])
                .collect()
        };
        let pages = |lines: usize| {
            let blocks = [blocks(lines), blocks(3)].concat();
            let document = Document {
                title: "figures".into(),
                blocks,
                ..Document::default()
            };
            laid_out(&document, Paper::A4).0.len()
        };
        assert_eq!(pages(14), 2);
        // As many lines more as three tenths of the figure's height have room for.
        assert_eq!(pages(20), 2);
        assert_eq!(pages(30), 3);
    }
}
