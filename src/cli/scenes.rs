//! `sixhold scenes`: the built-in scenes, listed or printed.

use super::Outcome;
use super::args::ScenesArgs;
use super::output::{self, Failure};
use crate::scene::{self, builtin};
use crate::study::OpenError;

/// Lists the built-in scenes with their titles, or prints one of them.
pub(crate) fn run(args: &ScenesArgs) -> Result<Outcome, Failure> {
    let text = match &args.name {
        Some(name) => builtin::find(name)
            .ok_or_else(|| OpenError::unknown(name))?
            .text
            .to_owned(),
        None => list()?,
    };
    output::answer(&text)?;
    Ok(Outcome::Done)
}

fn list() -> Result<String, Failure> {
    let widest = builtin::names().map(str::len).max().unwrap_or(0);
    let mut text = String::new();
    for built_in in builtin::all() {
        let loaded = scene::read_str(built_in.name, built_in.text)?;
        text += &format!("{:widest$}  {}\n", built_in.name, loaded.scene.title);
    }
    Ok(text)
}
