//! A document as one HTML file: style inside, figures inside, nothing fetched; prints well on A4 and letter.

use std::collections::BTreeSet;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::inline::inline;
use super::mathml::math;
use super::{Document, DocumentBlock, DocumentFigure, DocumentTable, Formula};
use crate::drawing::{Drawing, Fonts, Item, Run, Text, Weight, font_faces, svg};
use crate::printable::for_xml;
use crate::theme::Colour;
use crate::wording::Phrase;

/// The document as one HTML file.
pub fn html(document: &Document) -> String {
    let body = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (document.title) }
                style { (PreEscaped(faces(document))) (PreEscaped(STYLE)) }
            }
            body {
                main {
                    header {
                        h1 { (document.title) }
                        @if !document.subtitle.is_empty() { p.quiet { (inline(&document.subtitle)) } }
                    }
                    @for part in &document.blocks { (block(part)) }
                }
            }
        }
    };
    for_xml(&body.into_string()).into_owned() + "\n"
}

/// Blocks as HTML to put into another page, which has its own styles.
pub fn fragment(blocks: &[DocumentBlock]) -> String {
    html! { @for part in blocks { (block(part)) } }.into_string()
}

fn block(block: &DocumentBlock) -> Markup {
    html! {
        @match block {
            DocumentBlock::Heading(0..=2, text) => h2 { (inline(text)) },
            DocumentBlock::Heading(_, text) => h3 { (inline(text)) },
            DocumentBlock::Paragraph(text) => p { (inline(text)) },
            DocumentBlock::Lead(_, text) => p.lead { (inline(text)) },
            DocumentBlock::Quiet(text) => p.quiet { (inline(text)) },
            DocumentBlock::Caution(text) => p.caution role="note" { (inline(text)) },
            DocumentBlock::List(items) => ul { @for item in items { li { (inline(item)) } } },
            DocumentBlock::Numbered(items) => ol { @for item in items { li {
                @for (index, words) in item.iter().enumerate() {
                    @if index > 0 { br; }
                    (inline(words))
                }
            } } },
            DocumentBlock::Equation { label, formula } => div.equation {
                (math(formula, true))
                span.label { (label) }
            },
            DocumentBlock::Result { given, found } => p.result { (result(given, found)) },
            DocumentBlock::Numbers(numbers) => dl.numbers {
                @for (name, symbol, value) in numbers {
                    div {
                        dt { (inline(name)) }
                        dd { span.symbol { (inline(symbol)) " = " } strong { (inline(value)) } }
                    }
                }
            },
            DocumentBlock::Table(content) => (table(content)),
            DocumentBlock::Figure(content) => (figure(content)),
            DocumentBlock::Blanks(words) => div.blanks {
                @for words in words { span { (inline(words)) } }
            },
            DocumentBlock::Hints(hints) => div.hints {
                @for (index, words) in hints.iter().enumerate() {
                    details { summary { "Hint " (index + 1) } p { (inline(words)) } }
                }
            },
            DocumentBlock::NewSheet => div.sheet {},
        }
    }
}

fn table(table: &DocumentTable) -> Markup {
    let class = |column: usize| match table.values.get(column) {
        Some(true) => "value",
        _ => "",
    };
    html! {
        div.wide {
            table {
                thead { tr {
                    @for (column, cell) in table.head.iter().enumerate() {
                        th scope="col" class=(class(column)) { (inline(cell)) }
                    }
                } }
                tbody {
                    @for (index, row) in table.rows.iter().enumerate() {
                        @for (_, group) in table.groups.iter().filter(|(at, _)| *at == index) {
                            tr.group { th scope="rowgroup" colspan=(table.head.len()) { (inline(group)) } }
                        }
                        tr {
                        @for (column, cell) in row.iter().enumerate() {
                            td class=(class(column)) { (inline(cell)) }
                        }
                    } }
                }
            }
        }
    }
}

/// What equations give, with what was put in.
fn result(given: &[Formula], found: &[Formula]) -> Markup {
    let list = |formulas: &[Formula]| {
        let last = formulas.len().saturating_sub(1);
        html! {
            @for (index, formula) in formulas.iter().enumerate() {
                @if index > 0 { @if index == last { " and " } @else { ", " } }
                (math(formula, false))
            }
        }
    };
    html! {
        @if !given.is_empty() { "With " (list(given)) ": " }
        (list(found))
    }
}

fn figure(figure: &DocumentFigure) -> Markup {
    html! {
        figure role="img" aria-label=(figure.caption.to_string()) {
            (PreEscaped(svg(&figure.drawing, Fonts::FromPage)))
            figcaption { (inline(&figure.caption)) }
        }
    }
}

/// The letters that the document and its figures use, in both weights.
fn faces(document: &Document) -> String {
    let words = [Weight::Medium, Weight::Bold].map(|weight| {
        Item::Text(Text {
            role: "",
            at: [0.0; 2],
            runs: Run::plain(letters(document)),
            size: 1.0,
            weight,
            colour: Colour(0, 0, 0),
        })
    });
    let own = Drawing {
        items: words.into(),
        ..Drawing::default()
    };
    let figures = document.blocks.iter().filter_map(|block| match block {
        DocumentBlock::Figure(figure) => Some(&figure.drawing),
        _ => None,
    });
    font_faces(figures.chain([&own]))
}

/// Every letter of the texts, as a text.
fn letters(document: &Document) -> String {
    let mut found: BTreeSet<char> = ('!'..='~').collect();
    let pieces = document.texts();
    let pieces = pieces.iter().flat_map(Phrase::pieces);
    pieces.for_each(|piece| found.extend(piece.text.chars()));
    found.retain(|letter| !letter.is_control());
    found.into_iter().collect()
}

const STYLE: &str = "
:root { color-scheme: light; }
body { margin: 0; background: #fff; color: #1b1f24;
  font: 500 17px/1.5 'IBM Plex Sans', 'Segoe UI', 'Noto Sans', 'DejaVu Sans', sans-serif; }
main { max-width: 46rem; margin: 2.5rem auto; padding: 0 1.25rem; }
h1 { font-size: 1.9rem; line-height: 1.2; margin: 0 0 .2rem; }
h2 { font-size: 1.3rem; margin: 2.2rem 0 .5rem; padding-bottom: .2rem; border-bottom: 2px solid #1b1f24; }
h3 { font-size: 1.02rem; margin: 1.4rem 0 .3rem; }
p, ul, ol { margin: .5rem 0; }
ul, ol { padding-left: 1.3rem; }
sub, sup { font-size: .72em; line-height: 0; }
var { font-style: italic; }
math { font-family: inherit; font-size: inherit; }
math .var { font-style: italic; text-transform: none; }
.quiet { color: #565d66; font-size: .93rem; }
.lead { font-size: 1.25rem; font-weight: 700; line-height: 1.35; }
.caution { border-left: 5px solid #8a5a00; padding: .5rem .9rem; background: #fdf4e3; font-size: .93rem; }
.equation { display: flex; justify-content: space-between; gap: 1.5rem; margin: .35rem 0 .35rem 1.6rem;
  font-size: 1.05rem; font-variant-numeric: tabular-nums; }
.equation .label { color: #565d66; }
.result { margin-left: 1.6rem; font-weight: 700; font-variant-numeric: tabular-nums; }
.numbers { display: grid; grid-template-columns: repeat(auto-fit, minmax(8rem, 1fr)); gap: .8rem; margin: 1.2rem 0; }
.numbers div { border: 1.5px solid #1b1f24; padding: .5rem .8rem; }
.numbers dt { font-size: .85rem; color: #565d66; }
.numbers dd { margin: 0; font-size: 1.25rem; white-space: nowrap; }
.numbers strong { font-size: 1.9rem; line-height: 1.1; }
.blanks { display: flex; gap: 1.5rem; margin: 1rem 0; }
.blanks span { flex: 1; border-bottom: 1px solid #1b1f24; padding-bottom: .1rem; }
.blanks span:first-child { flex: 2; }
.hints { margin: .8rem 0; }
.hints details { margin: .2rem 0; }
.hints summary { cursor: pointer; color: #565d66; font-size: .93rem; }
.hints p { margin: .2rem 0 .4rem 1.1rem; }
.wide { overflow-x: auto; margin: .8rem 0; }
table { border-collapse: collapse; width: 100%; font-size: .95rem; font-variant-numeric: tabular-nums; }
th, td { text-align: left; padding: .28rem .9rem .28rem 0; border-bottom: 1px solid #c9ced4; vertical-align: baseline; }
th { border-bottom: 1.5px solid #1b1f24; }
.group th { font-weight: 500; color: #565d66; border-bottom-width: 1px; padding-top: .6rem; }
.value { text-align: right; white-space: nowrap; }
.note { white-space: normal; min-width: 8rem; font-size: .85rem; color: #565d66; }
td:last-child, th:last-child { padding-right: 0; }
figure { margin: 1.2rem 0; }
figure svg { display: block; width: 100%; max-width: 36rem; height: auto; max-height: 34rem; margin: 0 auto; }
figcaption { color: #565d66; font-size: .93rem; margin-top: .4rem; }
@page { margin: 18mm 16mm; }
@media print {
  body { font-size: 10.5pt; }
  main { max-width: none; margin: 0; padding: 0; }
  h2, h3 { break-after: avoid; }
  h3 + p, figure, tr, .equation, .numbers, .caution { break-inside: avoid; }
  .equation { break-before: avoid; }
  .result { break-before: avoid; }
  .sheet { break-before: page; }
  .caution { background: none; }
  .hints { display: none; }
}
";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wording::{Symbol, phrase};

    fn symbol() -> Symbol {
        Symbol {
            axis: "x",
            ..Symbol::plain("A")
        }
    }

    #[test]
    fn text_is_text_and_names_have_subscripts() {
        let document = Document {
            title: "A < B".into(),
            blocks: vec![DocumentBlock::Paragraph(phrase!(symbol(), " & <b>"))],
            ..Document::default()
        };
        let text = html(&document);
        assert!(text.contains("<h1>A &lt; B</h1>"), "{text}");
        assert!(
            text.contains("<p><var>A</var><sub><var>x</var></sub> &amp; &lt;b&gt;</p>"),
            "{text}"
        );
        assert!(
            !text.contains("http:") && !text.contains("https:"),
            "nothing is fetched"
        );
    }

    #[test]
    fn a_figure_stands_inside() {
        let figure = DocumentFigure {
            drawing: Drawing {
                title: "drawn".into(),
                ..Drawing::default()
            },
            caption: "c".into(),
        };
        let document = Document {
            blocks: vec![DocumentBlock::Figure(figure)],
            ..Document::default()
        };
        let text = html(&document);
        assert!(text.contains("<title>drawn</title>") && !text.contains("<?xml"));
        assert!(text.contains("@font-face"));
    }
}
