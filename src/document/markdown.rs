//! A document as Markdown, with tables as most readers of Markdown know them.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

use super::{Block, Document, Figure, Table};
use crate::page::{Fonts, svg};
use crate::words::{Piece, pieces};

/// The document as one Markdown text, with a line end behind the last line.
pub fn markdown(document: &Document) -> String {
    let mut parts = vec![format!("# {}", inline(&document.title))];
    if !document.subtitle.is_empty() {
        parts.push(inline(&document.subtitle));
    }
    parts.extend(document.blocks.iter().filter_map(block));
    parts.join("\n\n") + "\n"
}

fn block(block: &Block) -> Option<String> {
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
        Block::Figure(figure) => image(figure),
        Block::NewSheet => return None,
    })
}

fn image(figure: &Figure) -> String {
    format!(
        "![{}](data:image/svg+xml;base64,{})",
        inline(&figure.caption),
        STANDARD.encode(svg(&figure.drawing, Fonts::Inside))
    )
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
    fn a_figure_is_inside_of_the_file() {
        let drawing = crate::page::Drawing {
            title: "t".into(),
            ..Default::default()
        };
        let figure = Figure {
            drawing: drawing.clone(),
            caption: "c".into(),
        };
        let line = image(&figure);
        let data = line
            .strip_prefix("![c](data:image/svg+xml;base64,")
            .unwrap();
        let bytes = STANDARD.decode(data.strip_suffix(')').unwrap()).unwrap();
        assert_eq!(bytes, svg(&drawing, Fonts::Inside).into_bytes());
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
