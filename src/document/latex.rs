//! A document as LaTeX source for those who go on with it: the standard class, usual packages, figures as files beside it.

use super::tex::{formula, plain, quantity, symbol};
use super::{Document, DocumentBlock, DocumentTable, Formula, Paper};
use crate::wording::{Operator, Phrase, Span};

/// The document as one LaTeX source. `figures` are the names of the files with its figures, in their order; those that are
/// missing are left out.
pub fn latex(document: &Document, paper: Paper, figures: &[String]) -> String {
    let mut figures = figures.iter();
    let paper = match paper {
        Paper::A4 => "a4paper",
        Paper::Letter => "letterpaper",
    };
    let mut parts = vec![
        format!("\\documentclass[11pt,{paper}]{{article}}\n{PREAMBLE}\n\\begin{{document}}"),
        format!(
            "\\begin{{flushleft}}\n{{\\LARGE\\bfseries {}\\par}}\n{}\n\\end{{flushleft}}",
            escaped(&document.title),
            inline(&document.subtitle)
        ),
    ];
    let blocks = document.blocks.iter();
    parts.extend(blocks.filter_map(|part| block(part, &mut figures)));
    parts.push("\\end{document}".to_owned());
    parts.join("\n\n") + "\n"
}

const PREAMBLE: &str = "\\usepackage[utf8]{inputenc}
\\usepackage[T1]{fontenc}
\\usepackage{textcomp,amsmath,amssymb,array,booktabs,graphicx}
\\usepackage[margin=22mm]{geometry}
\\providecommand{\\lt}{<}
\\providecommand{\\gt}{>}
\\DeclareUnicodeCharacter{2212}{\\ensuremath{-}}
\\DeclareUnicodeCharacter{221A}{\\ensuremath{\\surd}}
\\DeclareUnicodeCharacter{2260}{\\ensuremath{\\neq}}
\\DeclareUnicodeCharacter{221E}{\\ensuremath{\\infty}}
\\DeclareUnicodeCharacter{03A3}{\\ensuremath{\\Sigma}}
\\setlength{\\parindent}{0pt}
\\setlength{\\parskip}{4pt}
\\setcounter{secnumdepth}{0}";

fn block<'a>(
    block: &DocumentBlock,
    figures: &mut impl Iterator<Item = &'a String>,
) -> Option<String> {
    Some(match block {
        DocumentBlock::Heading(0..=2, words) => format!("\\section{{{}}}", inline(words)),
        DocumentBlock::Heading(_, words) => format!("\\subsection{{{}}}", inline(words)),
        DocumentBlock::Paragraph(words) => inline(words),
        DocumentBlock::Quiet(words) => format!("{{\\small {}\\par}}", inline(words)),
        DocumentBlock::Lead(_, words) => format!("\\textbf{{{}}}", inline(words)),
        DocumentBlock::Caution(words) => {
            format!(
                "\\begin{{quote}}\n\\small {}\n\\end{{quote}}",
                inline(words)
            )
        }
        DocumentBlock::List(items) => list("itemize", items.iter().map(inline)),
        DocumentBlock::Numbered(items) => {
            let joined = |words: &Vec<Phrase>| {
                let words: Vec<String> = words.iter().map(inline).collect();
                words.join("\\\\\n")
            };
            list("enumerate", items.iter().map(joined))
        }
        DocumentBlock::Equation { label, formula } => {
            let number = label.trim_matches(['(', ')']);
            let tag = match number {
                "" => String::new(),
                number => format!(" \\tag{{{}}}", plain(number)),
            };
            let formula = self::formula(formula);
            format!("\\begin{{equation*}}\n{formula}{tag}\n\\end{{equation*}}")
        }
        DocumentBlock::Result { given, found } => match given.as_slice() {
            [] => format!("$\\Rightarrow$ {}", listed(found)),
            given => format!("With {}: {}", listed(given), listed(found)),
        },
        DocumentBlock::Numbers(numbers) => {
            let number = |(name, symbol, value): &(Phrase, Phrase, Phrase)| {
                let value = Formula::equal(symbol.clone(), value.clone());
                format!("{} ${}$", inline(name), formula(&value))
            };
            let numbers: Vec<String> = numbers.iter().map(number).collect();
            numbers.join("\\quad ")
        }
        DocumentBlock::Table(content) => table(content),
        DocumentBlock::Figure(figure) => {
            let name = figures.next()?;
            format!(
                "\\begin{{center}}\n\\includegraphics[width={:.0}bp]{{{name}}}\\\\\n{{\\small {}}}\n\\end{{center}}",
                figure.drawing.width,
                inline(&figure.caption)
            )
        }
        DocumentBlock::Blanks(words) => {
            let blanks: Vec<String> = words
                .iter()
                .map(|words| format!("{} \\hrulefill", inline(words)))
                .collect();
            blanks.join("\\quad ")
        }
        DocumentBlock::NewSheet => "\\clearpage".to_owned(),
        // Paper cannot hide them.
        DocumentBlock::Hints(_) => return None,
    })
}

fn list(kind: &str, items: impl Iterator<Item = String>) -> String {
    let items: Vec<String> = items.map(|item| format!("\\item {item}")).collect();
    format!("\\begin{{{kind}}}\n{}\n\\end{{{kind}}}", items.join("\n"))
}

fn listed(formulas: &[Formula]) -> String {
    let all: Vec<String> = formulas
        .iter()
        .map(|own| format!("${}$", formula(own)))
        .collect();
    all.join(", ")
}

fn table(table: &DocumentTable) -> String {
    let columns: String = (0..table.head.len())
        .map(|column| match table.values.get(column) {
            Some(true) => 'r',
            _ => 'l',
        })
        .collect();
    let row = |cells: &[Phrase]| {
        let cells: Vec<String> = cells.iter().map(inline).collect();
        format!("{} \\\\", cells.join(" & "))
    };
    let mut lines = vec![row(&table.head), "\\midrule".to_owned()];
    for (index, cells) in table.rows.iter().enumerate() {
        let groups = table.groups.iter().filter(|(at, _)| *at == index);
        lines.extend(groups.map(|(_, group)| {
            let count = table.head.len();
            format!("\\multicolumn{{{count}}}{{l}}{{{}}} \\\\", inline(group))
        }));
        lines.push(row(cells));
    }
    format!(
        "\\begin{{tabular}}{{{columns}}}\n\\toprule\n{}\n\\bottomrule\n\\end{{tabular}}",
        lines.join("\n")
    )
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
        Span::Operator(Operator::Times) => " $\\cdot$ ".to_owned(),
        other => escaped(&other.to_string()),
    };
    phrase.spans().iter().map(part).collect()
}

/// Words without what LaTeX would take for its own.
fn escaped(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\\' => plain.push_str("\\textbackslash{}"),
            '~' => plain.push_str("\\textasciitilde{}"),
            '^' => plain.push_str("\\textasciicircum{}"),
            '<' => plain.push_str("\\textless{}"),
            '>' => plain.push_str("\\textgreater{}"),
            '|' => plain.push_str("\\textbar{}"),
            '\u{2003}' => plain.push_str("\\quad "),
            '\u{a0}' => plain.push('~'),
            '\n' => plain.push(' '),
            '{' | '}' | '$' | '&' | '%' | '#' | '_' => plain.extend(['\\', letter]),
            letter => plain.push(letter),
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::DocumentFigure;
    use crate::drawing::Drawing;
    use crate::wording::{Symbol, phrase};

    #[test]
    fn words_are_words_and_symbols_mathematics() {
        let symbol = Symbol {
            axis: "x",
            ..Symbol::plain("A")
        };
        assert_eq!(
            inline(&phrase!(symbol, " is 5 % of {a_b}")),
            "$A_x$ is 5 \\% of \\{a\\_b\\}"
        );
    }

    #[test]
    fn every_part_is_there_and_every_environment_ends() {
        let document = Document {
            title: "A & B".into(),
            subtitle: "two".into(),
            blocks: vec![
                DocumentBlock::Heading(2, "Problem".into()),
                DocumentBlock::Figure(DocumentFigure {
                    drawing: Drawing {
                        width: 200.0,
                        ..Drawing::default()
                    },
                    caption: "A bar".into(),
                }),
                DocumentBlock::List(vec!["one".into()]),
                DocumentBlock::Equation {
                    label: "(3)".into(),
                    formula: Formula::equal("a", "b"),
                },
                DocumentBlock::Table(DocumentTable {
                    head: vec!["x".into(), "y".into()],
                    rows: vec![vec!["1".into(), "2".into()]],
                    values: vec![false, true],
                    groups: vec![(0, "all".into())],
                }),
            ],
        };
        let text = latex(&document, Paper::Letter, &["one.pdf".to_owned()]);
        for part in [
            "letterpaper",
            "A \\& B",
            "{one.pdf}",
            "\\tag{3}",
            "{lr}",
            "\\multicolumn{2}",
        ] {
            assert!(text.contains(part), "{part}: {text}");
        }
        let names = |mark: &str| -> Vec<String> {
            let parts = text.split(mark).skip(1);
            let name = |part: &str| part.split('}').next().unwrap_or_default().to_owned();
            let mut names: Vec<String> = parts.map(name).collect();
            names.sort();
            names
        };
        assert_eq!(names("\\begin{"), names("\\end{"));
    }
}
