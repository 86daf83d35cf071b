//! The command line: parse, resolve what is named, run, say how it went.
//!
//! The only place that prints. The answer goes to stdout, everything else to stderr.

mod animate;
mod args;
mod check;
mod deck;
mod drawable;
#[cfg(all(feature = "viewer", unix))]
mod driver;
mod export;
mod figure;
mod help;
mod interrupt;
mod link;
mod mend;
mod open;
mod output;
mod picture;
mod progress;
mod record;
mod report;
mod scenes;
mod schema;
mod sheet;
#[cfg(feature = "viewer")]
mod stage;
mod sweep;
mod view;

use std::env;
use std::ffi::OsString;
use std::path::Path;
use std::process::ExitCode;

use clap::Parser;
use clap::error::ErrorKind;

use args::{Args, Command};
use output::Failure;

use crate::scene;

/// How a command went, as the exit code tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Outcome {
    /// Done: 0.
    Done,
    /// Done, but a requirement is not met: 1.
    NotMet,
    /// Bad use or bad input: 2.
    Bad,
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> Self {
        Self::from(match outcome {
            Outcome::Done => 0,
            Outcome::NotMet => 1,
            Outcome::Bad => 2,
        })
    }
}

/// Runs the program with the arguments of the process.
pub fn run() -> ExitCode {
    run_with(env::args_os())
}

/// Runs the program with these arguments, the first of which is its own name.
pub fn run_with<T: Into<OsString>>(words: impl IntoIterator<Item = T>) -> ExitCode {
    let words: Vec<OsString> = words.into_iter().map(Into::into).collect();
    let first = words.get(1).map(|word| word.to_string_lossy().into_owned());
    match Args::try_parse_from(words) {
        Ok(args) => dispatch(args)
            .unwrap_or_else(|failure| failed(&failure))
            .into(),
        Err(message) if names_scene(&message, first.as_deref()) => {
            let scene = first.unwrap_or_default();
            failed(&Failure::new(
                format!("{scene}: a command is missing before the scene"),
                format!(
                    "`sixhold check {scene}` prints its diagnosis, `sixhold view {scene}` shows it; `sixhold help` lists the commands"
                ),
            ))
            .into()
        }
        Err(message) => {
            // Help and version count as errors here.
            let text = message.render().ansi().to_string();
            if message.use_stderr() {
                output::note(text.trim_end());
                return Outcome::Bad.into();
            }
            output::answer(&text)
                .map_or_else(|failure| failed(&failure), |()| Outcome::Done)
                .into()
        }
    }
}

/// Whether a scene stands where a command should.
fn names_scene(message: &clap::Error, first: Option<&str>) -> bool {
    let is_scene = |word: &str| {
        let path = Path::new(word);
        let looks_like_one = path.extension().is_some_and(|end| end == "ron") || word == "-";
        path.is_file() || looks_like_one || scene::builtin::find(word).is_some()
    };
    message.kind() == ErrorKind::InvalidSubcommand && first.is_some_and(is_scene)
}

fn dispatch(args: Args) -> Result<Outcome, Failure> {
    #[cfg(all(feature = "viewer", unix))]
    if args.needs_driver() {
        driver::hush();
    }
    #[cfg(unix)]
    if !args.opens_window() {
        interrupt::watch();
    }
    match args.command {
        Some(Command::Check(args)) => check::run(&args),
        Some(Command::Mend(args)) => mend::run(&args),
        Some(Command::Report(args)) => report::run(&args),
        Some(Command::Sheet(args)) => sheet::run(&args),
        Some(Command::Sweep(args)) => sweep::run(&args),
        Some(Command::View(args)) => view::run(&args),
        Some(Command::Picture(args)) => picture::run(&args),
        Some(Command::Figure(args)) => figure::run(&args),
        Some(Command::Animate(args)) => animate::run(&args),
        Some(Command::Deck(args)) => deck::run(&args),
        Some(Command::Export(args)) => export::run(&args),
        Some(Command::Link(args)) => link::run(&args),
        Some(Command::Scenes(args)) => scenes::run(&args),
        Some(Command::Schema(args)) => schema::run(&args),
        Some(Command::Help(args)) => help::run(&args),
        None => view::run_default(),
    }
}

fn failed(failure: &Failure) -> Outcome {
    output::failure(failure);
    Outcome::Bad
}
