//! A document as lines of text for a terminal or a file.

use anstyle::{AnsiColor, Style};

use super::layout::{aligned, hanging, wrapped};
use super::{Document, DocumentBlock, DocumentTable, Formula, Tone};
use crate::wording::Phrase;

/// Colours of a text; all plain by default.
#[derive(Debug, Clone, Copy, Default)]
pub struct Styles {
    title: Style,
    number: Style,
    good: Style,
    bad: Style,
    section: Style,
    quiet: Style,
}

impl Styles {
    /// For terminals that show colours.
    pub fn coloured() -> Self {
        Self {
            title: Style::new().bold(),
            number: Style::new().bold(),
            good: AnsiColor::Green.on_default().bold(),
            bad: AnsiColor::Yellow.on_default().bold(),
            section: Style::new().bold(),
            quiet: Style::new().dimmed(),
        }
    }
}

/// Columns of values that stand side by side.
const ABREAST: usize = 3;
/// What is below a heading is set in.
const INDENT: &str = "  ";

/// The document as text, with a line end behind its last line.
pub fn terminal(document: &Document, styles: &Styles) -> String {
    let mut writer = Writer {
        styles,
        text: format!("{}\n", styled(styles.title, &document.title)),
        indent: "",
    };
    if !document.subtitle.is_empty() {
        writer.text += &styled(styles.quiet, &wrapped(&document.subtitle, ""));
    }
    document.blocks.iter().for_each(|block| writer.block(block));
    writer.text
}

/// Sets a text in a style, line by line, so that a style never reaches into the next line.
fn styled(style: Style, text: &str) -> String {
    let lines: Vec<String> = text
        .split('\n')
        .map(|line| match line.is_empty() {
            true => String::new(),
            false => format!("{style}{line}{style:#}"),
        })
        .collect();
    lines.join("\n")
}

struct Writer<'a> {
    styles: &'a Styles,
    text: String,
    indent: &'static str,
}

impl Writer<'_> {
    fn block(&mut self, block: &DocumentBlock) {
        match block {
            DocumentBlock::Heading(_, words) => {
                self.indent = INDENT;
                let heading = styled(self.styles.section, &wrapped(words, ""));
                self.text += &format!("\n{heading}");
            }
            DocumentBlock::Paragraph(words) => self.text += &wrapped(words, self.indent),
            DocumentBlock::Lead(tone, words) => {
                let style = match tone {
                    Tone::Good => self.styles.good,
                    Tone::Bad => self.styles.bad,
                };
                self.text += &format!("\n{}", styled(style, &wrapped(words, self.indent)));
            }
            DocumentBlock::Quiet(words) => {
                self.text += &styled(self.styles.quiet, &wrapped(words, self.indent));
            }
            DocumentBlock::Caution(words) => {
                let lines = wrapped(words, "");
                self.text += &format!("\n{}", styled(self.styles.quiet, &lines));
            }
            DocumentBlock::List(items) => {
                let deeper = format!("{}  ", self.indent);
                for item in items {
                    self.text += &hanging(item, self.indent, &deeper);
                }
            }
            DocumentBlock::Numbered(items) => self.numbered(items),
            DocumentBlock::Equation { label, formula } => {
                let end = if label.is_empty() { "" } else { "   " };
                let line = format!("{}{end}{label}", formula.phrase().unbroken());
                self.text += &wrapped(&line, "    ");
            }
            DocumentBlock::Result { given, found } => self.result(given, found),
            DocumentBlock::Numbers(numbers) => self.numbers(numbers),
            DocumentBlock::Table(table) => self.table(table),
            DocumentBlock::Figure(figure) => {
                self.text += &format!("\n{}", wrapped(&figure.caption, ""))
            }
            DocumentBlock::Blanks(_) | DocumentBlock::Hints(_) | DocumentBlock::NewSheet => {}
        }
    }

    fn numbered(&mut self, items: &[Vec<Phrase>]) {
        for (index, paragraphs) in items.iter().enumerate() {
            let mut mark = format!("{}{}. ", self.indent, index + 1);
            let deeper = " ".repeat(mark.len());
            for words in paragraphs {
                self.text += &hanging(words, &mark, &deeper);
                mark.clone_from(&deeper);
            }
        }
    }

    fn result(&mut self, given: &[Formula], found: &[Formula]) {
        if !given.is_empty() {
            let known = Phrase::joined(given.iter().map(Formula::phrase), ", ");
            self.text += &wrapped(&format!("With {}:", known.unbroken()), "    ");
        }
        for formula in found {
            self.text += &wrapped(&formula.phrase(), "    ");
        }
    }

    fn numbers(&mut self, numbers: &[(Phrase, Phrase, Phrase)]) {
        let rows: Vec<Vec<String>> = numbers
            .iter()
            .map(|(name, symbol, value)| {
                vec![name.to_string(), symbol.to_string(), format!("= {value}")]
            })
            .collect();
        self.text.push('\n');
        for line in aligned(&rows, INDENT) {
            self.text += &format!("{}\n", styled(self.styles.number, &line));
        }
    }

    /// The table; of many columns of values a few at a time.
    fn table(&mut self, table: &DocumentTable) {
        let is_value = |column: &usize| table.values.get(*column).copied().unwrap_or(false);
        let (values, fixed): (Vec<usize>, Vec<usize>) = (0..table.head.len()).partition(is_value);
        let parts: Vec<&[usize]> = match values.as_slice() {
            [] => vec![&[]],
            values => values.chunks(ABREAST).collect(),
        };
        for (index, part) in parts.into_iter().enumerate() {
            if index > 0 {
                self.text.push('\n');
            }
            self.columns(table, &[&fixed, part].concat());
        }
    }

    fn columns(&mut self, table: &DocumentTable, columns: &[usize]) {
        let inset = if table.groups.is_empty() { "" } else { INDENT };
        let cells = |row: &Vec<Phrase>, inset: &str| -> Vec<String> {
            let mut cells: Vec<String> = columns.iter().map(|c| row[*c].to_string()).collect();
            if let Some(first) = cells.first_mut() {
                first.insert_str(0, inset);
            }
            cells
        };
        let head = cells(&table.head, "");
        let rows = table.rows.iter().map(|row| cells(row, inset));
        let all: Vec<Vec<String>> = std::iter::once(head).chain(rows).collect();
        let lines = aligned(&all, self.indent);
        self.text += &format!("{}\n", styled(self.styles.quiet, &lines[0]));
        for (index, line) in lines[1..].iter().enumerate() {
            for (_, group) in table.groups.iter().filter(|(at, _)| *at == index) {
                let words = wrapped(group, self.indent);
                self.text += &styled(self.styles.quiet, &words);
            }
            self.text += &format!("{line}\n");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_block_has_its_lines() {
        let table = DocumentTable {
            head: ["", "kind", "one", "two", "three", "four"]
                .map(Phrase::from)
                .into(),
            rows: vec![
                ["A_x", "force", "1", "2", "3", "4"]
                    .map(Phrase::from)
                    .into(),
            ],
            values: (0..6).map(|column| column > 1).collect(),
            groups: vec![(0, "A, pin".into())],
        };
        let document = Document {
            title: "T".into(),
            subtitle: "s".into(),
            blocks: vec![
                DocumentBlock::Numbers(vec![("rank".into(), "r".into(), "6".into())]),
                DocumentBlock::Lead(Tone::Good, "Held.".into()),
                DocumentBlock::Paragraph("Why.".into()),
                DocumentBlock::Heading(2, "Reactions".into()),
                DocumentBlock::Table(table),
                DocumentBlock::Heading(2, "Motions".into()),
                DocumentBlock::Numbered(vec![vec!["One.".into(), "Finite.".into()]]),
                DocumentBlock::List(vec!["item".into()]),
                DocumentBlock::Caution("Mind.".into()),
            ],
        };
        assert_eq!(
            terminal(&document, &Styles::default()),
            "T\ns\n\n  rank  r  = 6\n\nHeld.\nWhy.\n\nReactions\n         kind   one  two  three\n  A, pin\n    \
             A_x  force  1    2    3\n\n         kind   four\n  A, pin\n    A_x  force  4\n\nMotions\n  1. One.\n     \
             Finite.\n  item\n\nMind.\n"
        );
        assert!(terminal(&document, &Styles::coloured()).contains("\u{1b}["));
    }
}
