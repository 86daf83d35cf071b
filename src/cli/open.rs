//! What a scene's name on the command line stands for: a file, or a built-in scene.

use std::path::{Path, PathBuf};

use super::output::{self, Failure};
use crate::motion::{Mobilities, Selection};
use crate::scene::{self, Scene, builtin};
use crate::statics::{Model, UNNAMED_CASE};
use crate::words;

/// Where a scene comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Source {
    /// A built-in scene.
    BuiltIn(&'static str),
    /// A file.
    File(PathBuf),
    /// Standard input.
    Input,
}

/// A scene that has been read, with its model.
pub struct Opened {
    /// The name it was asked for by.
    pub name: String,
    /// Where it came from.
    pub source: Source,
    /// The scene.
    pub scene: Scene,
    /// Its model.
    pub model: Model,
}

/// Opens the scene of that name and prints its warnings. A file goes before a built-in scene of the same name.
pub fn open(name: &str) -> Result<Opened, Failure> {
    let source = resolve(name)?;
    let loaded = match &source {
        Source::File(path) => scene::read_file(path)?,
        Source::Input => {
            output::waiting_for_input();
            scene::read_input()?
        }
        Source::BuiltIn(built_in) => {
            let text = builtin::find(built_in).map_or("", |found| found.text);
            scene::read_str(name, text)?
        }
    };
    let name = match source {
        Source::Input => scene::INPUT,
        Source::File(_) | Source::BuiltIn(_) => name,
    };
    output::warnings(name, &loaded.warnings);
    let model = Model::new(&loaded.scene).map_err(|error| Failure::model(name, &error))?;
    Ok(Opened {
        name: name.to_owned(),
        source,
        scene: loaded.scene,
        model,
    })
}

fn resolve(name: &str) -> Result<Source, Failure> {
    if name == "-" {
        return Ok(Source::Input);
    }
    let path = Path::new(name);
    if path.exists() {
        return Ok(Source::File(path.to_owned()));
    }
    if let Some(found) = builtin::find(name) {
        return Ok(Source::BuiltIn(found.name));
    }
    // What looks like a path is one: the reader says best what is wrong with it.
    if path.extension().is_some() || path.components().count() != 1 {
        return Ok(Source::File(path.to_owned()));
    }
    Err(unknown_scene(name))
}

/// No file and no built-in scene has that name.
pub fn unknown_scene(name: &str) -> Failure {
    let hint = match scene::nearest(name, builtin::names()) {
        Some(near) => format!("did you mean the built-in scene `{near}`?"),
        None => "`sixhold scenes` lists the built-in scenes".to_owned(),
    };
    Failure::new(
        format!("there is no file and no built-in scene named \"{name}\""),
        hint,
    )
}

/// Index of the load case of that name.
pub fn case(opened: &Opened, name: &str) -> Result<usize, Failure> {
    let model = &opened.model;
    model.case_index(name).ok_or_else(|| {
        let names: Vec<&str> = model.cases.iter().map(|case| case.name.as_str()).collect();
        let hint = match scene::nearest(name, names.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None if names == [UNNAMED_CASE] => {
                "the scene names no load cases; leave --case out".to_owned()
            }
            None => format!("its load cases: {}", names.join(", ")),
        };
        Failure::new(
            format!("{}: there is no load case named \"{name}\"", opened.name),
            hint,
        )
    })
}

/// The motion that is asked for, or the first that there is under a load case.
///
/// Fails where the scene has no such motion; a body that is held and carries its load is drawn as it stands.
pub fn motion(
    opened: &Opened,
    mobilities: &Mobilities,
    case: usize,
    asked: Option<Selection>,
) -> Result<Selection, Failure> {
    let there = mobilities.selections(case);
    match asked {
        None => Ok(there.first().copied().unwrap_or_default()),
        Some(motion) if there.contains(&motion) => Ok(motion),
        Some(Selection::Free(0)) if mobilities.motions.is_empty() => Ok(Selection::Free(0)),
        Some(Selection::Free(index)) => Err(no_free_motion(opened, mobilities, index + 1)),
        Some(Selection::Escape) => Err(no_escape(opened, mobilities, case)),
    }
}

fn no_free_motion(opened: &Opened, mobilities: &Mobilities, number: usize) -> Failure {
    let count = mobilities.motions.len();
    let plural = if count == 1 { "" } else { "s" };
    Failure::new(
        format!(
            "{} has {} free motion{plural}; there is no motion {number}",
            opened.name,
            words::count(count)
        ),
        "`sixhold check` numbers the free motions",
    )
}

fn no_escape(opened: &Opened, mobilities: &Mobilities, case: usize) -> Failure {
    let hint = match escaping(opened, mobilities).as_slice() {
        [] => "`sixhold check` says which loads are carried, and which free motions there are"
            .to_owned(),
        others => format!(
            "the body gets away with --case {}",
            others.join(" or --case ")
        ),
    };
    let model = &opened.model;
    let load = match model.cases.as_slice() {
        [_] => "its load".to_owned(),
        cases => format!("the load case \"{}\"", cases[case].name),
    };
    Failure::new(
        format!(
            "{}: under {load} the body does not get away from contacts or cables",
            opened.name
        ),
        hint,
    )
}

/// Names of the load cases, quoted, under which the body gets away.
pub fn escaping(opened: &Opened, mobilities: &Mobilities) -> Vec<String> {
    let cases = opened.model.cases.iter().zip(&mobilities.escapes);
    cases
        .filter(|(_, escape)| escape.is_some())
        .map(|(case, _)| format!("\"{}\"", case.name))
        .collect()
}
