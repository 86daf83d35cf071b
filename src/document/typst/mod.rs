//! A document as Typst source for those who go on with it: nothing to install, figures as PDF files beside it, which Typst
//! takes from version 0.14 on.

mod math;

use super::{Document, DocumentBlock, DocumentTable, Formula, Paper};
use crate::wording::{Phrase, Span};
use math::{formula, quantity, quoted, symbol};

/// The document as one Typst source. `figures` are the names of the files with its figures, in their order; those that are
/// missing are left out.
pub fn typst(document: &Document, paper: Paper, figures: &[String]) -> String {
    let mut figures = figures.iter();
    let paper = match paper {
        Paper::A4 => "a4",
        Paper::Letter => "us-letter",
    };
    let title = quoted(&document.title);
    let mut parts = vec![
        format!(
            "#set document(title: {title})\n#set page(paper: \"{paper}\", margin: 22mm)\n{PREAMBLE}"
        ),
        format!("#text(size: 1.6em, weight: \"bold\", {title})"),
        inline(&document.subtitle),
    ];
    let blocks = document.blocks.iter();
    parts.extend(blocks.filter_map(|part| block(part, &mut figures)));
    parts.retain(|part| !part.is_empty());
    parts.join("\n\n") + "\n"
}

const PREAMBLE: &str = "#set text(size: 11pt, lang: \"en\")
#set par(spacing: 0.9em)
#show heading: set block(above: 1.4em, below: 0.8em, sticky: true)";

fn block<'a>(
    block: &DocumentBlock,
    figures: &mut impl Iterator<Item = &'a String>,
) -> Option<String> {
    Some(match block {
        DocumentBlock::Heading(0..=2, words) => format!("= {}", inline(words)),
        DocumentBlock::Heading(_, words) => format!("== {}", inline(words)),
        DocumentBlock::Paragraph(words) => paragraph(words),
        DocumentBlock::Quiet(words) => format!("#text(size: 0.85em)[{}]", paragraph(words)),
        DocumentBlock::Lead(_, words) => format!("#strong[{}]", paragraph(words)),
        DocumentBlock::Caution(words) => format!("#quote(block: true)[{}]", paragraph(words)),
        DocumentBlock::List(items) => {
            let items: Vec<String> = items
                .iter()
                .map(|item| format!("- {}", inline(item)))
                .collect();
            items.join("\n")
        }
        DocumentBlock::Numbered(items) => {
            let item = |words: &Vec<Phrase>| {
                let words: Vec<String> = words.iter().map(inline).collect();
                format!("+ {}", words.join(" \\\n  "))
            };
            let items: Vec<String> = items.iter().map(item).collect();
            items.join("\n")
        }
        DocumentBlock::Equation { label, formula } => equation(label, formula),
        DocumentBlock::Result { given, found } => match given.as_slice() {
            [] => format!("$=>$ {}", listed(found)),
            given => format!("With {}: {}", listed(given), listed(found)),
        },
        DocumentBlock::Numbers(numbers) => {
            let number = |(name, symbol, value): &(Phrase, Phrase, Phrase)| {
                let value = Formula::equal(symbol.clone(), value.clone());
                format!("{} ${}$", inline(name), formula(&value))
            };
            let numbers: Vec<String> = numbers.iter().map(number).collect();
            numbers.join(" #h(1.5em) ")
        }
        DocumentBlock::Table(content) => table(content),
        DocumentBlock::Figure(figure) => {
            let name = quoted(figures.next()?);
            let alt = quoted(&figure.caption.to_string());
            format!(
                "#align(center)[\n  #image({name}, width: {:.0}pt, alt: {alt})\n  #text(size: 0.85em)[{}]\n]",
                figure.drawing.width,
                paragraph(&figure.caption)
            )
        }
        DocumentBlock::Blanks(words) => {
            let blank =
                |words: &Phrase| format!("{} #box(width: 1fr, line(length: 100%))", inline(words));
            let blanks: Vec<String> = words.iter().map(blank).collect();
            blanks.join(" #h(1em) ")
        }
        DocumentBlock::NewSheet => "#pagebreak(weak: true)".to_owned(),
        // Paper cannot hide them.
        DocumentBlock::Hints(_) => return None,
    })
}

/// An equation on a line of its own, with its number if it has one.
fn equation(label: &str, content: &Formula) -> String {
    let content = format!("$ {} $", formula(content));
    if label.is_empty() {
        return content;
    }
    let number = quoted(label);
    format!("#[\n  #set math.equation(numbering: (..) => {number})\n  {content}\n]")
}

fn listed(formulas: &[Formula]) -> String {
    let all = formulas.iter().map(|own| format!("${}$", formula(own)));
    all.collect::<Vec<_>>().join(", ")
}

fn table(table: &DocumentTable) -> String {
    let count = table.head.len();
    let aligned: Vec<&str> = (0..count)
        .map(|column| match table.values.get(column) {
            Some(true) => "right",
            _ => "left",
        })
        .collect();
    let row = |cells: &[Phrase]| {
        let cells = cells.iter().map(|cell| format!("[{}]", inline(cell)));
        cells.collect::<Vec<_>>().join(", ")
    };
    let mut lines = vec![
        format!(
            "columns: {count}, stroke: none, align: ({},)",
            aligned.join(", ")
        ),
        "table.hline()".to_owned(),
        format!("table.header({})", row(&table.head)),
        "table.hline(stroke: 0.5pt)".to_owned(),
    ];
    for (index, cells) in table.rows.iter().enumerate() {
        let groups = table.groups.iter().filter(|(at, _)| *at == index);
        lines.extend(
            groups.map(|(_, group)| format!("table.cell(colspan: {count})[{}]", inline(group))),
        );
        lines.push(row(cells));
    }
    lines.push("table.hline()".to_owned());
    format!("#table(\n  {},\n)", lines.join(",\n  "))
}

/// A phrase that begins a paragraph: a number with a dot would begin a list.
fn paragraph(phrase: &Phrase) -> String {
    let text = inline(phrase);
    let digits = text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    match text[digits..].strip_prefix('.') {
        Some(rest) if digits > 0 => format!("{}\\.{rest}", &text[..digits]),
        _ => text,
    }
}

/// A phrase with its symbols and quantities as mathematics.
fn inline(phrase: &Phrase) -> String {
    let part = |span: &Span| match span {
        Span::Symbol(own) => format!("${}$", symbol(own)),
        Span::Quantity(own) => format!("${}$", quantity(own)),
        Span::Axis(axis) => {
            let sign = if axis.is_negative { "-" } else { "" };
            format!("${sign}{}$", axis.letter)
        }
        other => escaped(&other.to_string()),
    };
    phrase.spans().iter().map(part).collect()
}

/// Words without what Typst would take for its own.
fn escaped(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\u{a0}' => plain.push('~'),
            '\n' => plain.push(' '),
            '\\' | '#' | '$' | '*' | '_' | '`' | '<' | '>' | '@' | '[' | ']' | '~' | '=' | '-'
            | '+' | '/' | '"' | '\'' => plain.extend(['\\', letter]),
            letter => plain.push(letter),
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wording::{Symbol, phrase};

    #[test]
    fn words_are_words_and_symbols_mathematics() {
        let symbol = Symbol {
            axis: "x",
            ..Symbol::plain("A")
        };
        assert_eq!(
            inline(&phrase!(symbol, " is [5] of #a_b")),
            "$A_x$ is \\[5\\] of \\#a\\_b"
        );
        assert_eq!(paragraph(&"3. the third".into()), "3\\. the third");
        assert_eq!(paragraph(&"3 of them.".into()), "3 of them.");
    }

    #[test]
    fn labels_are_upright_and_quotes_end() {
        let symbol = Symbol {
            label: "A\"".into(),
            axis: "y",
            ..Symbol::plain("M")
        };
        assert_eq!(math::symbol(&symbol), "M_(upright(\"A\\\"\") y)");
        let formula = Formula::equal(Symbol::plain("bar"), "two");
        assert_eq!(math::formula(&formula), "italic(\"bar\") = \"two\"");
    }
}
