//! A document as Markdown, with tables as most readers of Markdown know them.
//!
//! Figures are inside of the file, behind the last line of text, so that the text can also be read and edited as it is.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

use super::{Block, Document, Figure, Table};
use crate::drawing::{Fonts, svg};
use crate::printable::for_xml;
use crate::wording::{Piece, pieces};

/// The document as one Markdown text, with a line end behind the last line.
pub fn markdown(document: &Document) -> String {
    let mut parts = vec![format!("# {}", inline(&document.title))];
    if !document.subtitle.is_empty() {
        parts.push(inline(&document.subtitle));
    }
    let mut figures = Vec::new();
    let blocks = document.blocks.iter();
    parts.extend(blocks.filter_map(|part| block(part, &mut figures)));
    parts.extend(figures);
    for_xml(&parts.join("\n\n")).into_owned() + "\n"
}

/// A part of the text; the data of a figure is added to those before.
fn block(block: &Block, figures: &mut Vec<String>) -> Option<String> {
    Some(match block {
        Block::Heading(level, text) => {
            format!("{} {}", "#".repeat(usize::from(*level)), inline(text))
        }
        Block::Paragraph(text) => inline(text),
        Block::Quiet(text) => format!("*{}*", inline(text)),
        Block::Lead(text) | Block::Result(text) => format!("**{}**", inline(text)),
        Block::Caution(text) => format!("> {}", inline(text)),
        Block::List(items) => {
            let items: Vec<String> = items
                .iter()
                .map(|item| format!("- {}", inline(item)))
                .collect();
            items.join("\n")
        }
        Block::Equation { label, text } if label.is_empty() => format!("> {}", inline(text)),
        Block::Equation { label, text } => {
            format!("> {} \u{2003} {}", inline(text), inline(label))
        }
        Block::Numbers(numbers) => table(&Table {
            head: numbers.iter().map(|[name, ..]| name.clone()).collect(),
            rows: vec![
                numbers
                    .iter()
                    .map(|[_, symbol, value]| format!("{symbol} = {value}"))
                    .collect(),
            ],
            values: Vec::new(),
        }),
        Block::Table(content) => table(content),
        Block::Figure(figure) => {
            let name = format!("figure {}", figures.len() + 1);
            figures.push(format!("[{name}]: {}", address(figure)));
            format!("![{}][{name}]", inline(&figure.caption))
        }
        Block::NewSheet => return None,
    })
}

/// The drawing as an address that holds all of it.
fn address(figure: &Figure) -> String {
    let data = STANDARD.encode(svg(&figure.drawing, Fonts::Inside));
    format!("data:image/svg+xml;base64,{data}")
}

fn table(table: &Table) -> String {
    let line = |cells: &[String]| {
        let cells: Vec<String> = cells.iter().map(|cell| inline(cell)).collect();
        format!("| {} |", cells.join(" | "))
    };
    let rule: Vec<&str> = (0..table.head.len())
        .map(|column| match table.values.get(column) {
            Some(true) => "---:",
            _ => "---",
        })
        .collect();
    let mut lines = vec![line(&table.head), format!("| {} |", rule.join(" | "))];
    lines.extend(table.rows.iter().map(|row| line(row)));
    lines.join("\n")
}

/// Text with its subscripts, and with what Markdown would take for its own made plain.
fn inline(text: &str) -> String {
    let pieces = pieces(text).into_iter();
    pieces
        .map(|piece| match piece {
            Piece::Line(text) => escaped(text),
            Piece::Below(text) => format!("<sub>{}</sub>", escaped(text)),
            Piece::Above(text) => text.to_owned(),
        })
        .collect()
}

fn escaped(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        if "\\`*_[]<>|#~".contains(letter) {
            plain.push('\\');
        }
        plain.push(if letter == '\n' { ' ' } else { letter });
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_and_marks_stay_what_they_are() {
        assert_eq!(inline("A_x * 2"), "A<sub>x</sub> \\* 2");
        assert_eq!(inline("a|b_ <i>"), "a\\|b\\_ \\<i\\>");
    }

    #[test]
    fn figures_are_inside_of_the_file_behind_its_text() {
        let figure = |title: &str| Figure {
            drawing: crate::drawing::Drawing {
                title: title.into(),
                ..Default::default()
            },
            caption: "c_x".into(),
        };
        let blocks = [
            Block::Figure(figure("a")),
            Block::Paragraph("text".into()),
            Block::Figure(figure("b")),
        ];
        let text = markdown(&Document {
            title: "T".into(),
            blocks: blocks.into(),
            ..Document::default()
        });
        let parts: Vec<&str> = text.trim_end().split("\n\n").collect();
        let image = "![c<sub>x</sub>]";
        assert_eq!(parts[1], format!("{image}[figure 1]"));
        assert_eq!(parts[2..4], ["text", &format!("{image}[figure 2]")]);
        for (part, title) in parts[4..].iter().zip(["a", "b"]) {
            let (name, data) = part.split_once(": data:image/svg+xml;base64,").unwrap();
            assert_eq!(
                name,
                if title == "a" {
                    "[figure 1]"
                } else {
                    "[figure 2]"
                }
            );
            let drawn = svg(&figure(title).drawing, Fonts::Inside);
            assert_eq!(STANDARD.decode(data).unwrap(), drawn.into_bytes());
        }
        assert_eq!(parts.len(), 6);
    }

    #[test]
    fn every_block_has_its_form() {
        let document = Document {
            title: "T".into(),
            subtitle: "s".into(),
            blocks: vec![
                Block::Heading(2, "H".into()),
                Block::Lead("L".into()),
                Block::List(vec!["a".into(), "b".into()]),
                Block::Equation {
                    label: "(1)".into(),
                    text: "A_x = 0".into(),
                },
                Block::Table(Table {
                    head: vec!["k".into(), "v".into()],
                    rows: vec![vec!["x".into(), "1".into()]],
                    values: vec![false, true],
                }),
                Block::NewSheet,
            ],
        };
        assert_eq!(
            markdown(&document),
            "# T\n\ns\n\n## H\n\n**L**\n\n- a\n- b\n\n> A<sub>x</sub> = 0 \u{2003} (1)\n\n\
             | k | v |\n| --- | ---: |\n| x | 1 |\n"
        );
    }
}
