//! A document as Markdown, with tables as most readers of Markdown know them.
//!
//! Figures are in files beside it, or inside of it, behind the last line of text, so that the text can be read and edited as it
//! is.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

use super::tex::{formula, symbol};
use super::{Document, DocumentBlock, DocumentFigure, DocumentTable, Formula};
use crate::drawing::{Fonts, svg};
use crate::printable::for_xml;
use crate::wording::{Operator, Phrase, Span, phrase};

/// The document as one Markdown text, with a line end behind the last line.
pub fn markdown(document: &Document) -> String {
    let addresses: Vec<String> = figures(document).map(address).collect();
    written(document, &addresses)
}

/// The document as Markdown, and its figures as SVG with the names of their files, which begin with `stem`.
pub fn markdown_beside(document: &Document, stem: &str) -> (String, Vec<(String, String)>) {
    let files: Vec<(String, String)> = figures(document)
        .enumerate()
        .map(|(index, figure)| {
            let name = format!("{stem}-figure-{}.svg", index + 1);
            (name, svg(&figure.drawing, Fonts::Inside))
        })
        .collect();
    let addresses: Vec<String> = files.iter().map(|(name, _)| relative(name)).collect();
    (written(document, &addresses), files)
}

fn figures(document: &Document) -> impl Iterator<Item = &DocumentFigure> {
    document.blocks.iter().filter_map(|block| match block {
        DocumentBlock::Figure(figure) => Some(figure),
        _ => None,
    })
}

/// The name of a file as an address between angle brackets, in which spaces and parentheses may stand (CommonMark 0.31, 6.3).
fn relative(name: &str) -> String {
    let mut address = String::from("<");
    for letter in name.chars() {
        match letter {
            '<' | '>' | '\\' | '%' => address += &format!("%{:02X}", u32::from(letter)),
            other => address.push(other),
        }
    }
    address + ">"
}

fn written(document: &Document, addresses: &[String]) -> String {
    let mut parts = vec![format!("# {}", escaped(&document.title))];
    if !document.subtitle.is_empty() {
        parts.push(inline(&document.subtitle));
    }
    let mut figures = 0;
    let blocks = document.blocks.iter();
    parts.extend(blocks.filter_map(|part| block(part, &mut figures)));
    let addresses = addresses.iter().enumerate();
    parts.extend(addresses.map(|(index, address)| format!("[figure {}]: {address}", index + 1)));
    for_xml(&parts.join("\n\n")).into_owned() + "\n"
}

/// A part of the text; figures are counted.
fn block(block: &DocumentBlock, figures: &mut usize) -> Option<String> {
    Some(match block {
        DocumentBlock::Heading(level, text) => {
            format!("{} {}", "#".repeat(usize::from(*level)), inline(text))
        }
        DocumentBlock::Paragraph(text) => inline(text),
        DocumentBlock::Quiet(text) => format!("*{}*", inline(text)),
        DocumentBlock::Lead(_, text) => format!("**{}**", inline(text)),
        DocumentBlock::Result { given, found } => match given.as_slice() {
            [] => listed(found),
            given => format!("With {}: {}", listed(given), listed(found)),
        },
        DocumentBlock::Caution(text) => format!("> {}", inline(text)),
        DocumentBlock::List(items) => {
            let items: Vec<String> = items
                .iter()
                .map(|item| format!("- {}", inline(item)))
                .collect();
            items.join("\n")
        }
        DocumentBlock::Numbered(items) => {
            let item = |(index, words): (usize, &Vec<Phrase>)| {
                let words: Vec<String> = words.iter().map(inline).collect();
                format!("{}. {}", index + 1, words.join(" "))
            };
            let items: Vec<String> = items.iter().enumerate().map(item).collect();
            items.join("\n")
        }
        DocumentBlock::Equation { label, formula } if label.is_empty() => {
            format!("> {}", tex(formula))
        }
        DocumentBlock::Equation { label, formula } => {
            format!("> {} \u{2003} {}", tex(formula), escaped(label))
        }
        DocumentBlock::Numbers(numbers) => table(&DocumentTable {
            head: numbers.iter().map(|(name, ..)| name.clone()).collect(),
            rows: vec![
                numbers
                    .iter()
                    .map(|(_, symbol, value)| phrase!(symbol, Operator::Equals, value))
                    .collect(),
            ],
            ..DocumentTable::default()
        }),
        DocumentBlock::Table(content) => table(content),
        DocumentBlock::Figure(figure) => {
            *figures += 1;
            format!("![{}][figure {figures}]", inline(&figure.caption))
        }
        DocumentBlock::Blanks(words) => {
            let blanks: Vec<String> = words
                .iter()
                .map(|words| format!("{} \\_\\_\\_\\_\\_\\_\\_\\_", inline(words)))
                .collect();
            blanks.join(" \u{2003} ")
        }
        DocumentBlock::Hints(_) | DocumentBlock::NewSheet => return None,
    })
}

/// The drawing as an address that holds all of it.
fn address(figure: &DocumentFigure) -> String {
    let data = STANDARD.encode(svg(&figure.drawing, Fonts::Inside));
    format!("data:image/svg+xml;base64,{data}")
}

fn table(table: &DocumentTable) -> String {
    let line = |cells: &[Phrase]| {
        let cells: Vec<String> = cells.iter().map(inline).collect();
        format!("| {} |", cells.join(" | "))
    };
    let rule: Vec<&str> = (0..table.head.len())
        .map(|column| match table.values.get(column) {
            Some(true) => "---:",
            _ => "---",
        })
        .collect();
    let mut lines = vec![line(&table.head), format!("| {} |", rule.join(" | "))];
    for (index, row) in table.rows.iter().enumerate() {
        let groups = table.groups.iter().filter(|(at, _)| *at == index);
        lines.extend(groups.map(|(_, group)| {
            let mut cells = vec![Phrase::new(); table.head.len()];
            cells[0] = group.clone();
            line(&cells)
        }));
        lines.push(line(row));
    }
    lines.join("\n")
}

/// Equations in one line of text.
fn listed(formulas: &[Formula]) -> String {
    let all: Vec<String> = formulas.iter().map(tex).collect();
    match all.as_slice() {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        all => all.concat(),
    }
}

/// An equation between dollar signs, as readers of Markdown know them.
fn tex(own: &Formula) -> String {
    format!("${}$", formula(own))
}

/// A phrase with its symbols between dollar signs, and with what Markdown would take for its own made plain.
fn inline(phrase: &Phrase) -> String {
    let part = |span: &Span| match span {
        Span::Symbol(own) => format!("${}$", symbol(own)),
        Span::Axis(axis) => format!("{}${}$", axis.sign(), axis.letter),
        other => escaped(&other.to_string()),
    };
    phrase.spans().iter().map(part).collect()
}

fn escaped(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        let mut follows = |is: fn(&char) -> bool| letters.peek().is_some_and(is);
        // Such as `&lt;`, while a single one may stay.
        let begins_entity = letter == '&' && follows(|next| next.is_alphanumeric() || *next == '#');
        if begins_entity || "\\`*_[]<>|#~$".contains(letter) {
            plain.push('\\');
        }
        plain.push(if letter == '\n' { ' ' } else { letter });
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::super::Tone;
    use super::*;
    use crate::wording::{self, Symbol};

    fn symbol() -> Symbol {
        Symbol {
            axis: "x",
            ..Symbol::plain("A")
        }
    }

    #[test]
    fn names_and_marks_stay_what_they_are() {
        assert_eq!(inline(&phrase!(symbol(), " * 2")), "$A_x$ \\* 2");
        assert_eq!(inline(&"a|b_ <i> $5".into()), "a\\|b\\_ \\<i\\> \\$5");
        // Would else be read as an entity of HTML.
        assert_eq!(inline(&"R &amp; D & E".into()), "R \\&amp; D & E");
    }

    #[test]
    fn figures_are_inside_of_the_file_behind_its_text() {
        let figure = |title: &str| DocumentFigure {
            drawing: crate::drawing::Drawing {
                title: title.into(),
                ..Default::default()
            },
            caption: symbol().into(),
        };
        let blocks = [
            DocumentBlock::Figure(figure("a")),
            DocumentBlock::Paragraph("text".into()),
            DocumentBlock::Figure(figure("b")),
        ];
        let text = markdown(&Document {
            title: "T".into(),
            blocks: blocks.into(),
            ..Document::default()
        });
        let parts: Vec<&str> = text.trim_end().split("\n\n").collect();
        let image = "![$A_x$]";
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
                DocumentBlock::Heading(2, "H".into()),
                DocumentBlock::Lead(Tone::Good, "L".into()),
                DocumentBlock::List(vec!["a".into(), "b".into()]),
                DocumentBlock::Equation {
                    label: "(1)".into(),
                    formula: Formula::equal(symbol(), wording::number(0.0)),
                },
                DocumentBlock::Table(DocumentTable {
                    head: vec!["k".into(), "v".into()],
                    rows: vec![vec!["x".into(), "1".into()]],
                    values: vec![false, true],
                    ..DocumentTable::default()
                }),
                DocumentBlock::NewSheet,
            ],
        };
        assert_eq!(
            markdown(&document),
            "# T\n\ns\n\n## H\n\n**L**\n\n- a\n- b\n\n> $A_x = 0$ \u{2003} (1)\n\n\
             | k | v |\n| --- | ---: |\n| x | 1 |\n"
        );
    }
}
