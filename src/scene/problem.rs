//! What is wrong with a scene file: plain data for a panel, and the one error that carries it.

use std::fmt;

use crate::printable::printable;

/// Line and column in a text, both counted from 1; columns count characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// Line.
    pub line: usize,
    /// Column.
    pub column: usize,
}

impl Position {
    /// The first character.
    pub const START: Self = Self { line: 1, column: 1 };
}

/// Whether a scene can be used in spite of a problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Severity {
    /// It cannot.
    Error,
    /// It can, but probably does not say what was meant.
    Warning,
}

impl fmt::Display for Severity {
    fn fmt(&self, formatter: &mut fmt::Formatter) -> fmt::Result {
        formatter.write_str(match self {
            Self::Error => "error",
            Self::Warning => "warning",
        })
    }
}

/// One thing that is wrong with a scene file, in words.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Problem {
    /// Whether the scene can be used all the same.
    pub severity: Severity,
    /// Where; `None` if it concerns the whole file.
    pub position: Option<Position>,
    /// What is wrong, in one clause without full stop.
    pub message: String,
    /// What would have been right.
    pub expected: Option<String>,
    /// What to try.
    pub hint: Option<String>,
}

impl Problem {
    /// The problem that a fault makes at a place.
    pub(super) fn new(severity: Severity, position: Option<Position>, fault: &dyn Explain) -> Self {
        Self {
            severity,
            position,
            message: one_line(fault.to_string()),
            expected: fault.expected().map(one_line),
            hint: fault.hint().map(one_line),
        }
    }

    /// As printed below each other: `file:line:column: error: …`, then indented lines.
    pub fn in_file<'a>(&'a self, file: &'a str) -> impl fmt::Display + 'a {
        fmt::from_fn(move |formatter| {
            write!(formatter, "{}:", printable(file))?;
            if let Some(Position { line, column }) = self.position {
                write!(formatter, "{line}:{column}:")?;
            }
            write!(formatter, " {}: {}", self.severity, self.message)?;
            if let Some(expected) = &self.expected {
                write!(formatter, "\n    expected: {expected}")?;
            }
            if let Some(hint) = &self.hint {
                write!(formatter, "\n    hint: {hint}")?;
            }
            Ok(())
        })
    }
}

/// Words that quote a scene, which may hold anything, as they can be shown.
fn one_line(words: String) -> String {
    printable(&words).into_owned()
}

/// A fault that can say more than its message.
pub(super) trait Explain: std::error::Error {
    /// What would have been right.
    fn expected(&self) -> Option<String> {
        None
    }

    /// What to try.
    fn hint(&self) -> Option<String> {
        None
    }
}

/// A scene that could not be read. Displayed as all its problems, one below the other.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{}", self.lines())]
#[non_exhaustive]
pub struct ReadError {
    /// The file, as the user named it.
    pub file: String,
    /// Errors and warnings in the order of the text; at least one error.
    pub problems: Vec<Problem>,
    /// How many further problems were met but not kept.
    pub left_out: usize,
}

impl ReadError {
    /// Number of problems that are errors, kept ones only.
    pub fn errors(&self) -> usize {
        let is_error = |problem: &&Problem| problem.severity == Severity::Error;
        self.problems.iter().filter(is_error).count()
    }

    fn lines(&self) -> impl fmt::Display + '_ {
        fmt::from_fn(|formatter| {
            for (i, problem) in self.problems.iter().enumerate() {
                let separator = if i == 0 { "" } else { "\n" };
                write!(formatter, "{separator}{}", problem.in_file(&self.file))?;
            }
            match self.left_out {
                0 => Ok(()),
                1 => write!(formatter, "\n{}: and 1 more problem", printable(&self.file)),
                n => write!(
                    formatter,
                    "\n{}: and {n} more problems",
                    printable(&self.file)
                ),
            }
        })
    }
}

/// Finds lines and columns of byte offsets.
pub(super) struct Lines<'a> {
    text: &'a str,
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        let ends = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        let starts = std::iter::once(0).chain(ends.map(|(i, _)| i + 1)).collect();
        Self { text, starts }
    }

    /// Line and column of the character that starts at a byte offset.
    pub(super) fn position(&self, offset: usize) -> Position {
        let line = self.starts.partition_point(|start| *start <= offset);
        let start = self.starts[line - 1];
        let column = self
            .text
            .get(start..offset)
            .map_or(0, |before| before.chars().count());
        Position {
            line,
            column: column + 1,
        }
    }

    /// Byte offset of a place, which may also be the end of the text.
    pub(super) fn offset(&self, at: Position) -> usize {
        let start = self.starts.get(at.line - 1).copied();
        let start = start.unwrap_or(self.text.len());
        let mut characters = self.text[start..].char_indices();
        let before = characters.nth(at.column - 1);
        before.map_or(self.text.len(), |(length, _)| start + length)
    }
}

/// The candidate that a mistyped word most probably means, if any is close.
pub(crate) fn nearest<'a>(
    word: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    // Longer words are no slips of a finger, and comparing them costs their product.
    const LONGEST: usize = 64;
    let length = word.chars().count();
    // Between words of one or two characters, only upper and lower case are confused.
    let allowed = length / 3;
    if length > LONGEST {
        return None;
    }
    candidates
        .into_iter()
        .filter(|candidate| candidate.chars().count().abs_diff(length) <= allowed)
        .map(|candidate| (slip(word, candidate), candidate))
        .filter(|(slip, _)| *slip <= allowed && *slip < length.max(1))
        .min_by_key(|(slip, _)| *slip)
        .map(|(_, candidate)| candidate)
}

/// Number of slips between two words; upper and lower case count as equal.
fn slip(word: &str, candidate: &str) -> usize {
    strsim::osa_distance(&word.to_lowercase(), &candidate.to_lowercase())
}

/// "did you mean …?", or nothing.
pub(super) fn did_you_mean(nearest: Option<&str>) -> Option<String> {
    nearest.map(|nearest| format!("did you mean `{nearest}`?"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_and_lines_from_one() {
        let lines = Lines::new("añb\n\nc");
        let at = |line, column| Position { line, column };
        assert_eq!(lines.position(0), at(1, 1));
        assert_eq!(lines.position(3), at(1, 3));
        assert_eq!(lines.position(5), at(2, 1));
        assert_eq!(lines.position(6), at(3, 1));
        assert_eq!(lines.position(7), at(3, 2));
        for offset in [0, 1, 3, 5, 6, 7] {
            assert_eq!(lines.offset(lines.position(offset)), offset);
        }
    }

    #[test]
    fn a_slip_finds_its_word_and_nonsense_finds_none() {
        let words = ["axis", "couples", "normal"];
        assert_eq!(nearest("axes", words), Some("axis"));
        assert_eq!(nearest("Couple", words), Some("couples"));
        assert_eq!(nearest("nromal", words), Some("normal"));
        assert_eq!(nearest("diameter", words), None);
        assert_eq!(nearest("", words), None);
        assert_eq!(nearest("C", ["A"]), None);
        assert_eq!(nearest("cm", ["m", "mm"]), None);
        assert_eq!(nearest("MM", ["m", "mm"]), Some("mm"));
    }
}
