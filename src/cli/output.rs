//! Printing: the answer on stdout, the rest on stderr, colours only on a terminal.

use std::io::{self, IsTerminal, Write};
use std::path::Path;

use anstyle::{AnsiColor, Style};

use crate::scene::{self, Problem, ReadError};
use crate::statics::ModelError;

/// Why a command, or a part of it, could not be done.
#[derive(Debug)]
pub enum Failure {
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
    pub fn new(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::Plain {
            message: message.into(),
            hint: Some(hint.into()),
        }
    }

    /// A failure in one clause that says what to do, or leaves nothing to do.
    pub fn plain(message: impl Into<String>) -> Self {
        Self::Plain {
            message: message.into(),
            hint: None,
        }
    }

    /// A scene that was read but has no model.
    pub fn model(source: &str, error: &ModelError) -> Self {
        Self::plain(format!("{source}: {error}"))
    }
}

impl From<ReadError> for Failure {
    fn from(error: ReadError) -> Self {
        Self::Scene(error)
    }
}

/// Prints the answer. A reader that has closed the pipe has read enough.
pub fn answer(text: &str) -> Result<(), Failure> {
    let mut stdout = anstream::stdout().lock();
    let written = stdout
        .write_all(text.as_bytes())
        .and_then(|()| stdout.flush());
    match written {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(Failure::plain(format!(
            "the answer could not be written: {error}"
        ))),
        _ => Ok(()),
    }
}

/// How far a long task has come, on a line of its own that is written over; silent where stderr is no terminal.
pub struct Progress {
    noun: &'static str,
    done: usize,
    total: usize,
}

impl Progress {
    /// A task of so many steps.
    pub fn new(noun: &'static str, total: usize) -> Self {
        Self {
            noun,
            done: 0,
            total,
        }
    }

    /// One more step begins.
    pub fn step(&mut self) {
        const WIDTH: usize = 30;
        self.done += 1;
        if io::stderr().is_terminal() {
            let full = WIDTH * self.done / self.total.max(1);
            let bar =
                "\u{2588}".repeat(full.min(WIDTH)) + &"\u{2591}".repeat(WIDTH - full.min(WIDTH));
            say(&format!(
                "\r{bar} {} {} of {}",
                self.noun, self.done, self.total
            ));
        }
    }

    /// The task is over.
    pub fn end(&self) {
        if io::stderr().is_terminal() {
            say("\r\u{1b}[2K");
        }
    }
}

/// Saves the answer as a file, as a whole or not at all.
pub fn save(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    scene::replace(path, bytes).map_err(|error| {
        Failure::plain(format!(
            "the file could not be written ({error}): {}",
            path.display()
        ))
    })
}

/// Fails where the folder of a file to be written is missing: told before the work, which takes a while.
pub fn check_folder(path: &Path) -> Result<(), Failure> {
    match path.parent() {
        Some(folder) if folder != Path::new("") && !folder.is_dir() => Err(Failure::new(
            format!("there is no folder {}", folder.display()),
            "make it first, or write somewhere else",
        )),
        _ => Ok(()),
    }
}

/// Prints a failure.
pub fn failure(failure: &Failure) {
    match failure {
        Failure::Scene(error) => problems(&error.to_string()),
        Failure::Plain { message, hint } => {
            let hint = hint.as_ref();
            let below = hint.map_or_else(String::new, |hint| format!("\n    hint: {hint}"));
            problems(&format!("error: {message}{below}"));
        }
    }
}

/// Prints the warnings of a scene that can be used all the same.
pub fn warnings(source: &str, warnings: &[Problem]) {
    for warning in warnings {
        problems(&warning.in_file(source).to_string());
    }
}

/// Prints something worth knowing that is no part of the answer.
pub fn note(text: &str) {
    say(&format!("{text}\n"));
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

fn say(text: &str) {
    // With stderr closed there is nobody left to tell.
    let _ = anstream::stderr().lock().write_all(text.as_bytes());
}

#[cfg(test)]
mod tests {
    use super::*;

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
