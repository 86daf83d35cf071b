//! `sixhold view`: the window; where there is none, the diagnosis and what to do.

use std::path::Path;

use super::Outcome;
use super::args::{RoundingArgs, ViewArgs};
use super::check;
use super::open;
use super::output::{self, Failure};
use super::picture;
use crate::printable::shown;
use crate::report::Report;
use crate::scene::builtin;
use crate::study::{Source, Study};

/// Opens the window on a scene; where there is none, prints the diagnosis.
pub(crate) fn run(args: &ViewArgs) -> Result<Outcome, Failure> {
    let name = args.file.as_deref().unwrap_or(builtin::DEFAULT);
    if name == "-" {
        return Err(Failure::new(
            "the window follows a file, and standard input is none",
            "save the scene as a file first; `sixhold check -` prints its diagnosis",
        ));
    }
    let path = Path::new(name);
    let folder = Some(path).filter(|path| path.is_dir());
    let study = match folder {
        Some(folder) => open::open(&first_in(folder)?)?,
        None => open::open(name)?,
    };
    if let Some(obstacle) = window(&study, args, folder)? {
        instead(&study, &obstacle)?;
    }
    Ok(Outcome::Done)
}

/// Opens the window on the default scene; where there is none, also leaves a picture of it.
pub(crate) fn run_default() -> Result<Outcome, Failure> {
    let study = open::open(builtin::DEFAULT)?;
    let Some(obstacle) = window(&study, &ViewArgs::default(), None)? else {
        return Ok(Outcome::Done);
    };
    instead(&study, &obstacle)?;
    if cfg!(feature = "viewer") {
        let path = std::env::temp_dir().join(format!("sixhold-{}.png", study.name()));
        match picture::usual(study, &path) {
            Ok(()) => output::note(&format!("One has been written: {}", shown(&path))),
            Err(failure) => output::failure(&failure),
        }
    }
    Ok(Outcome::Done)
}

/// The first scene of a folder.
fn first_in(folder: &Path) -> Result<String, Failure> {
    let scenes = Source::in_folder(folder).map_err(|error| {
        Failure::plain(format!(
            "the folder {} cannot be read: {error}",
            shown(folder)
        ))
    })?;
    scenes.first().map(Source::name).ok_or_else(|| {
        Failure::new(
            format!("the folder {} has no scene files", shown(folder)),
            "the names of scene files end in .ron",
        )
    })
}

/// What is printed instead of the window, and why.
fn instead(study: &Study, obstacle: &str) -> Result<(), Failure> {
    diagnosis(study)?;
    output::note(&format!("\n{obstacle}"));
    if cfg!(feature = "viewer") {
        output::note(&format!(
            "A picture needs no display: {}",
            picture_command(study.name())
        ));
    }
    Ok(())
}

fn diagnosis(study: &Study) -> Result<(), Failure> {
    let report = Report { study, case: None };
    output::answer(&check::text(report, false, RoundingArgs::default()))
}

/// The command that makes a picture of a scene.
fn picture_command(name: &str) -> String {
    let stem = Path::new(name).file_stem().unwrap_or_default();
    let out = format!("{}.png", stem.to_string_lossy());
    format!("sixhold picture {} --out {}", quoted(name), quoted(&out))
}

fn quoted(word: &str) -> String {
    if word.contains(char::is_whitespace) {
        format!("\"{word}\"")
    } else {
        word.to_owned()
    }
}

/// Opens the window and waits until it is closed; otherwise says what stands in the way.
#[cfg(feature = "viewer")]
fn window(
    study: &Study,
    args: &ViewArgs,
    folder: Option<&Path>,
) -> Result<Option<String>, Failure> {
    use crate::viewer::{self, ViewerError, ViewerSettings};

    let start = ViewerSettings {
        study: study.clone(),
        theme: args.theme.into(),
        reduced_motion: args.reduced_motion,
        software: args.software,
        shading: args.shading.map(Into::into),
        full_screen: args.full_screen,
        folder: folder.map(Path::to_owned),
    };
    match viewer::run(start) {
        Ok(()) => Ok(None),
        Err(ViewerError::NoDisplay { reason }) => Ok(Some(format!(
            "No window is opened, since there is no display: {reason}."
        ))),
        Err(error @ ViewerError::NoAdapter) => Ok(Some(format!("No window is opened: {error}."))),
        Err(error) => Err(Failure::plain(error.to_string())),
    }
}

/// Says what stands in the way of a window.
#[cfg(not(feature = "viewer"))]
fn window(_: &Study, _: &ViewArgs, _folder: Option<&Path>) -> Result<Option<String>, Failure> {
    Ok(Some(
        "No window is opened: this sixhold was built without its viewer; build it with its default features."
            .to_owned(),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_picture_command_can_be_pasted() {
        assert_eq!(
            picture_command("handrail"),
            "sixhold picture handrail --out handrail.png"
        );
        assert_eq!(
            picture_command("my scenes/hand rail.ron"),
            "sixhold picture \"my scenes/hand rail.ron\" --out \"hand rail.png\""
        );
    }
}
