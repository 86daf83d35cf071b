//! Plain layout of text: wrapped paragraphs and aligned columns. Lines end at spaces, though never at a no-break space.

use crate::wording::Phrase;

/// Columns that a paragraph may fill.
const WIDTH: usize = 80;

/// What lines can be made of.
pub(crate) trait ToLines {
    /// The text, with no-break spaces where no line may end.
    fn to_lines(&self) -> String;
}

impl ToLines for Phrase {
    fn to_lines(&self) -> String {
        self.unbroken()
    }
}

impl ToLines for String {
    fn to_lines(&self) -> String {
        self.clone()
    }
}

impl ToLines for &str {
    fn to_lines(&self) -> String {
        (*self).to_owned()
    }
}

/// A paragraph broken at spaces, each line behind the indent.
pub(crate) fn wrapped(text: &impl ToLines, indent: &str) -> String {
    hanging(text, indent, indent)
}

/// A paragraph whose first line stands behind a mark, the others behind an indent of the same width.
pub(crate) fn hanging(text: &impl ToLines, mark: &str, indent: &str) -> String {
    let mut lines = vec![String::new()];
    let text = text.to_lines();
    for word in text.split([' ', '\n']).filter(|word| !word.is_empty()) {
        let line = lines.last_mut().expect("there is always a line");
        let length = line.chars().count() + word.chars().count() + 1;
        if line.is_empty() {
            line.push_str(word);
        } else if indent.len() + length <= WIDTH {
            line.push(' ');
            line.push_str(word);
        } else {
            lines.push(word.to_owned());
        }
    }
    lines
        .iter()
        .enumerate()
        .map(|(i, line)| format!("{}{line}\n", if i == 0 { mark } else { indent }))
        .collect::<String>()
        .replace('\u{a0}', " ")
}

/// Rows whose cells start in the same columns, two spaces apart; no spaces at the ends of lines.
pub(super) fn aligned(rows: &[Vec<String>], indent: &str) -> Vec<String> {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let widths: Vec<usize> = (0..columns)
        .map(|column| {
            let cells = rows.iter().filter_map(|row| row.get(column));
            cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
        })
        .collect();
    rows.iter()
        .map(|row| padded(row, &widths, indent))
        .collect()
}

fn padded(row: &[String], widths: &[usize], indent: &str) -> String {
    let cells: Vec<String> = row
        .iter()
        .zip(widths)
        .map(|(cell, width)| format!("{cell:<width$}"))
        .collect();
    format!("{indent}{}", cells.join("  "))
        .trim_end()
        .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paragraphs_break_at_spaces_within_the_width() {
        let text = "word ".repeat(40);
        let lines = wrapped(&text, "  ");
        assert!(lines.lines().count() > 1);
        for line in lines.lines() {
            assert!(line.starts_with("  word") && line.chars().count() <= WIDTH);
        }
        assert_eq!(lines.split_whitespace().count(), 40);
        assert_eq!(wrapped(&"", ""), "\n");
        assert!(hanging(&text, "1. ", "   ").starts_with("1. word"));
    }

    #[test]
    fn columns_start_below_each_other() {
        let rows = [
            vec!["−1".into(), "b".into()],
            vec!["123".into(), "d".into()],
            vec!["x".into()],
        ];
        assert_eq!(aligned(&rows, " "), [" −1   b", " 123  d", " x"]);
    }
}
