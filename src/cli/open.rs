//! Opening scenes by the names on the command line, and what else of a scene is named there.

use std::path::Path;

use super::output::{self, Failure};
use crate::address::SceneAddress;
use crate::motion::Selection;
use crate::scene;
use crate::statics::{CaseIndex, Model, MotionIndex, ReactionIndex, UNNAMED_CASE};
use crate::study::{OpenError, Source, Study, WholeReactionIndex};
use crate::wording;

/// Opens the scene of that name and prints its warnings.
pub(crate) fn open(name: &str) -> Result<Study, Failure> {
    let source = Source::named(name)?;
    note_what_is_left(name, &source);
    if source == Source::Input {
        output::waiting_for_input();
    }
    let study = Study::read(source)?;
    output::warnings(study.name(), study.warnings());
    Ok(study)
}

/// Says what else an address asks for, which only a page shows.
fn note_what_is_left(name: &str, source: &Source) {
    let from_address = matches!(source, Source::Address(_) | Source::BuiltIn(_));
    if !(from_address && SceneAddress::is_address(name)) {
        return;
    }
    let Ok(address) = SceneAddress::read(name) else {
        return;
    };
    let scene = SceneAddress::of(address.scene.clone());
    if address != scene {
        output::note(
            "of the address only the scene is read here; case, theme, view, stage and guess are for a page",
        );
    }
}

impl From<OpenError> for Failure {
    fn from(error: OpenError) -> Self {
        let message = error.to_string();
        match error {
            OpenError::Read(error) => error.into(),
            OpenError::Model { .. } | OpenError::Address(_) => Self::plain(message),
            OpenError::Unknown { nearest, .. } => {
                let hint = match nearest {
                    Some(near) => format!("did you mean the built-in scene `{near}`?"),
                    None => "`sixhold scenes` lists the built-in scenes".to_owned(),
                };
                Self::new(message, hint)
            }
        }
    }
}

/// Fails where a scene would take the place of the one it was made from, with its comments and layout.
pub(crate) fn keep_original(study: &Study, out: &Path) -> Result<(), Failure> {
    let Some(Source::File(original)) = study.source() else {
        return Ok(());
    };
    match (original.canonicalize(), out.canonicalize()) {
        (Ok(original), Ok(target)) if original == target => Err(Failure::new(
            format!("{} is the scene itself; nothing was written", study.name()),
            "write to another file: the comments and the layout of this one would be lost",
        )),
        _ => Ok(()),
    }
}

/// Index of the load case of that name.
pub(crate) fn case(study: &Study, name: &str) -> Result<CaseIndex, Failure> {
    let model = study.model();
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
            format!("{}: there is no load case named \"{name}\"", study.name()),
            hint,
        )
    })
}

/// Reactions by their own name or by that of their support.
pub(crate) fn released(
    study: &Study,
    names: &[String],
) -> Result<Vec<WholeReactionIndex>, Failure> {
    let mut released = Vec::new();
    for name in names {
        released
            .extend(reactions_named(study.whole(), name).ok_or_else(|| no_reaction(study, name))?);
    }
    Ok(released.into_iter().map(WholeReactionIndex::of).collect())
}

fn reactions_named(model: &Model, name: &str) -> Option<Vec<ReactionIndex>> {
    let support = model.supports.iter().find(|support| support.name == name);
    let reaction = || model.reactions.position(|r| r.name == name);
    match support {
        Some(support) => Some(support.reactions.clone().collect()),
        None => reaction().map(|index| vec![index]),
    }
}

fn no_reaction(study: &Study, name: &str) -> Failure {
    let (supports, reactions) = (&study.model().supports, &study.model().reactions);
    let names = || {
        let supports = supports.iter().map(|support| support.name.as_str());
        supports.chain(reactions.iter().map(|reaction| reaction.name.as_str()))
    };
    let hint = match scene::nearest(name, names()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "name a support, or a reaction as `sixhold check` lists them".to_owned(),
    };
    let file = study.name();
    Failure::new(
        format!("{file}: there is no support or reaction named \"{name}\""),
        hint,
    )
}

/// The motion that is asked for, or the first that there is under a load case.
///
/// Fails where the scene has no such motion; a body that is held and carries its load is drawn as it stands.
pub(crate) fn motion(
    study: &Study,
    case: CaseIndex,
    asked: Option<Selection>,
) -> Result<Selection, Failure> {
    let there = study.selections(case);
    match asked {
        None => Ok(there.first().copied().unwrap_or_default()),
        Some(motion) if there.contains(&motion) => Ok(motion),
        Some(Selection::Free(MotionIndex::FIRST)) if study.diagnosis().is_held() => {
            Ok(Selection::Free(MotionIndex::FIRST))
        }
        Some(Selection::Free(index)) => Err(no_free_motion(study, index.number())),
        Some(Selection::Escape) => Err(no_escape(study, case)),
    }
}

fn no_free_motion(study: &Study, number: usize) -> Failure {
    let count = study.diagnosis().counts.freedom;
    let plural = if count == 1 { "" } else { "s" };
    Failure::new(
        format!(
            "{} has {} free motion{plural}; there is no motion {number}",
            study.name(),
            wording::count(count)
        ),
        "`sixhold check` numbers the free motions",
    )
}

fn no_escape(study: &Study, case: CaseIndex) -> Failure {
    let hint = match escaping(study).as_slice() {
        [] => "`sixhold check` says which loads are carried, and which free motions there are"
            .to_owned(),
        others => format!(
            "the body escapes with --case {}",
            others.join(" or --case ")
        ),
    };
    let model = study.model();
    let load = match model.cases.len() {
        1 => "its load".to_owned(),
        _ => format!("the load case \"{}\"", model.cases[case].name),
    };
    Failure::new(
        format!(
            "{}: under {load} the body does not escape from contacts or cables",
            study.name()
        ),
        hint,
    )
}

/// Names of the load cases, quoted, under which the body gets away.
pub(crate) fn escaping(study: &Study) -> Vec<String> {
    let escapes = &study.mobilities().escapes;
    let cases = study.model().cases.iter().zip(escapes);
    cases
        .filter(|(_, escape)| escape.is_some())
        .map(|(case, _)| format!("\"{}\"", case.name))
        .collect()
}
