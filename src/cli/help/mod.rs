//! `sixhold help`: the commands, and the reference of the scene format.

mod guide;

use clap::CommandFactory;

use super::Outcome;
use super::args::{Args, HelpArgs};
use super::output::{self, Failure};
use crate::document::layout::wrapped;
use crate::scene;
use guide::Guide;

/// Prints the help of the program, of a command, or a part of the reference.
pub(crate) fn run(args: &HelpArgs) -> Result<Outcome, Failure> {
    let text = match args.topic.as_deref() {
        None => of_program(),
        Some(topic) => of_command(topic)
            .or_else(|| reference(topic))
            .ok_or_else(|| unknown(topic))?,
    };
    output::answer(&text)?;
    Ok(Outcome::Done)
}

fn of_program() -> String {
    let mut command = Args::command();
    command.render_long_help().ansi().to_string()
}

fn of_command(topic: &str) -> Option<String> {
    let mut program = Args::command();
    // Fills in how the program is called, for the line on usage.
    program.build();
    let command = program.find_subcommand_mut(topic)?;
    Some(command.render_long_help().ansi().to_string())
}

fn reference(topic: &str) -> Option<String> {
    let guide = Guide::new();
    if topic.eq_ignore_ascii_case("format") {
        return Some(guide.whole());
    }
    guide.about(topic).or_else(|| {
        let sentences = scene::other_words(topic);
        let said: String = sentences.iter().map(|said| wrapped(said, "  ")).collect();
        let all = sentences.concat();
        let mut kinds: Vec<&str> = Vec::new();
        for kind in all.split('`').skip(1).step_by(2) {
            if !kinds.contains(&kind) {
                kinds.push(kind);
            }
        }
        let texts = kinds.into_iter().filter_map(|kind| guide.about(kind));
        let texts: String = texts.map(|text| format!("\n{text}")).collect();
        (!sentences.is_empty()).then(|| format!("{topic}, in other books\n\n{said}{texts}"))
    })
}

fn unknown(topic: &str) -> Failure {
    let [kinds, sections, fields] = Guide::new().topics();
    let commands: Vec<String> = Args::command()
        .get_subcommands()
        .map(|command| command.get_name().to_owned())
        .collect();
    let all = [&commands, &kinds, &sections, &fields]
        .into_iter()
        .flatten();
    let hint = match scene::nearest(topic, all.map(String::as_str)) {
        Some(near) => format!("did you mean `sixhold help {near}`?"),
        None => format!(
            "`sixhold help format` prints the whole reference, `sixhold help Hinge` what it says of a kind; its sections are {}",
            sections.join(", ")
        ),
    };
    Failure::new(format!("there is no help on \"{topic}\""), hint)
}
