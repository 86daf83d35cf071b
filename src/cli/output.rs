//! Printing: the answer on stdout, the rest on stderr, colours only on a terminal.

use std::borrow::Cow;
use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};

use anstyle::{AnsiColor, Style};

use crate::files::{self, WriteError};
use crate::printable::{escape, is_printable, printable, shown};
use crate::scene::{Problem, ReadError};

/// Why a command, or a part of it, could not be done.
#[derive(Debug)]
pub(crate) enum Failure {
    /// A scene with problems.
    Scene(ReadError),
    /// Anything else.
    Plain {
        /// What went wrong, in one clause.
        message: String,
        /// What to try.
        hint: Option<String>,
    },
}

impl Failure {
    /// A failure in one clause, and what to try.
    pub(crate) fn new(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::Plain {
            message: message.into(),
            hint: Some(hint.into()),
        }
    }

    /// A failure in one clause that says what to do, or leaves nothing to do.
    pub(crate) fn plain(message: impl Into<String>) -> Self {
        Self::Plain {
            message: message.into(),
            hint: None,
        }
    }
}

impl From<ReadError> for Failure {
    fn from(error: ReadError) -> Self {
        Self::Scene(error)
    }
}

impl From<WriteError> for Failure {
    fn from(error: WriteError) -> Self {
        Self::Plain {
            message: error.to_string(),
            hint: error.hint().map(str::to_owned),
        }
    }
}

/// Prints the answer. A reader that has closed the pipe has read enough.
pub(crate) fn answer(text: &str) -> Result<(), Failure> {
    let mut stdout = anstream::stdout().lock();
    let written = stdout
        .write_all(visible(text).as_bytes())
        .and_then(|()| stdout.flush());
    match written {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(Failure::plain(format!(
            "the answer could not be written: {error}"
        ))),
        _ => Ok(()),
    }
}

/// Saves the answer as a file, as a whole or not at all.
pub(crate) fn save(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    Ok(files::write(path, bytes)?)
}

/// Saves files that belong together, all of them or none.
pub(crate) fn save_all(files: &[(PathBuf, Vec<u8>)]) -> Result<(), Failure> {
    Ok(files::write_all(files)?)
}

/// Notes that a file has been written.
pub(crate) fn written(path: &Path) {
    note(&format!("written: {}", shown(path)));
}

/// Fails where a file plainly cannot be written: before the work, which takes a while.
pub(crate) fn check_target(path: &Path) -> Result<(), Failure> {
    Ok(files::check(path)?)
}

/// Prints a failure.
pub(crate) fn failure(failure: &Failure) {
    match failure {
        Failure::Scene(error) => problems(&error.to_string()),
        Failure::Plain { message, hint } => {
            let below = |hint: &String| format!("\n    hint: {}", printable(hint));
            let below = hint.as_ref().map(below).unwrap_or_default();
            problems(&format!("error: {}{below}", printable(message)));
        }
    }
}

/// Prints the warnings of a scene that can be used all the same.
pub(crate) fn warnings(source: &str, warnings: &[Problem]) {
    for warning in warnings {
        problems(&warning.in_file(source).to_string());
    }
}

/// Prints a warning that has no place in the scene's text.
pub(crate) fn warning(message: &str) {
    problems(&format!("warning: {}", printable(message)));
}

/// Prints something worth knowing that is no part of the answer.
pub(crate) fn note(text: &str) {
    say(&format!("{text}\n"));
}

/// Says that a scene is read from the keyboard, where nothing else is attached.
pub(crate) fn waiting_for_input() {
    if io::stdin().is_terminal() {
        note("reading a scene from the keyboard; end it with Ctrl+D on a line of its own");
    }
}

fn problems(text: &str) {
    let lines: Vec<String> = text.lines().map(painted).collect();
    say(&(lines.join("\n") + "\n"));
}

/// The line with its severity in colour.
fn painted(line: &str) -> String {
    let marks = [
        ("error: ", AnsiColor::Red.on_default().bold()),
        ("warning: ", AnsiColor::Yellow.on_default().bold()),
    ];
    for (mark, style) in marks {
        // Either the line begins with it, or the place of the problem and a space do.
        let start = line.find(mark).filter(|start| {
            !line.starts_with(' ') && (*start == 0 || line[..*start].ends_with(": "))
        });
        if let Some(start) = start {
            let (before, after) = (&line[..start], &line[start + mark.len()..]);
            return format!("{before}{} {after}", colour(style, mark.trim_end()));
        }
    }
    line.to_owned()
}

fn colour(style: Style, text: &str) -> String {
    format!("{style}{text}{style:#}")
}

/// The text with escapes for what would steer the terminal: all but line breaks and the colours of our own.
fn visible(text: &str) -> Cow<'_, str> {
    let is_plain = |c: char| c == '\n' || is_printable(c);
    if text.chars().all(is_plain) {
        return text.into();
    }
    let mut visible = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let length = colour_sequence(rest).unwrap_or(first.len_utf8());
        let (part, after) = rest.split_at(length);
        match is_plain(first) || length > 1 && first == '\u{1b}' {
            true => visible.push_str(part),
            false => visible.extend(escape(first)),
        }
        rest = after;
    }
    visible.into()
}

/// Length of the sequence that the text begins with, if it does no more than choose a colour or weight (ECMA-48, SGR).
fn colour_sequence(text: &str) -> Option<usize> {
    let numbers = text.strip_prefix("\u{1b}[")?;
    let end = numbers.find(|c: char| !(c.is_ascii_digit() || c == ';'))?;
    numbers[end..].starts_with('m').then_some(end + 3)
}

fn say(text: &str) {
    // With stderr closed there is nobody left to tell.
    let _ = anstream::stderr()
        .lock()
        .write_all(visible(text).as_bytes());
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_control_sequences_only_colours_reach_the_terminal() {
        let red = "\u{1b}[1;31merror\u{1b}[0m: a\nb";
        assert_eq!(visible(red), red);
        assert_eq!(
            visible("\u{1b}[2Jx\u{1b}]0;t\u{7}"),
            "\\u{1b}[2Jx\\u{1b}]0;t\\u{7}"
        );
        assert_eq!(visible("\r\u{9b}31m\u{1b}["), "\\r\\u{9b}31m\\u{1b}[");
    }

    #[test]
    fn only_the_severity_is_painted() {
        let plain = |line: &str| anstream::adapter::strip_str(&painted(line)).to_string();
        for line in [
            "error: no such file",
            "a.ron:1:2: error: unknown kind `error: x`",
            "    hint: error: nothing",
            "a.ron: warning: far away",
        ] {
            assert_eq!(plain(line), line);
        }
        assert_ne!(painted("a.ron:1:2: error: x"), "a.ron:1:2: error: x");
        assert_eq!(painted("    hint: error: x"), "    hint: error: x");
    }
}
