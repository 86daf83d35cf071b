//! `sixhold mend`: links that would hold the body, reactions it can do without, and the mended scene as a file.

use std::path::Path;

use super::Outcome;
use super::args::{Format, Mend};
use super::open::{self, Opened, Source};
use super::output::{self, Failure};
use super::progress::Progress;
use crate::printable::shown;
use crate::report::repairs::{self, Repairs};
use crate::scene::{self, Scene};
use crate::statics::repair::{Mending, MendingSettings, Releases};
use crate::statics::{Diagnosis, Model, Tolerance};

/// Prints the repairs of a scene, and saves the mended one where asked to.
pub fn run(args: &Mend) -> Result<Outcome, Failure> {
    let opened = open::open(&args.file)?;
    if let Some(out) = &args.out {
        keep_original(&opened, out)?;
        output::check_target(out)?;
    }
    let released = released(&opened, &args.release)?;
    let model = opened.model.without(&released);
    let diagnosis = Diagnosis::new(&model, Tolerance::default());
    let progress = Progress::unmeasured("looking for links");
    let settings = MendingSettings {
        named_only: args.named,
        ..MendingSettings::default()
    };
    let mending = Mending::with_released(&opened.scene, &released, &diagnosis, &settings)
        .map_err(|error| Failure::model(&args.file, &error))?;
    let out = match &args.out {
        Some(out) => Some((out, mended(&opened, mending.as_ref(), &released)?)),
        None => None,
    };
    let releases = Releases::of(&model, &diagnosis);
    drop(progress);
    let repairs = Repairs {
        source: &opened.name,
        model: &model,
        diagnosis: &diagnosis,
        mending: mending.as_ref(),
        releases: &releases,
        released: &args.release,
    };
    output::answer(&answer(&repairs, args.format)?)?;
    if let Some((out, scene)) = out {
        scene::save_file(&scene, out)?;
        output::note(&format!(
            "written: {}; comments stay behind in the original",
            shown(out)
        ));
    }
    Ok(Outcome::Done)
}

/// Fails where the mended scene would take the place of the one it comes from, with its comments and layout.
fn keep_original(opened: &Opened, out: &Path) -> Result<(), Failure> {
    let Source::File(original) = &opened.source else {
        return Ok(());
    };
    match (original.canonicalize(), out.canonicalize()) {
        (Ok(original), Ok(target)) if original == target => Err(Failure::new(
            format!("{} is the scene itself; nothing was written", opened.name),
            "write to another file: the comments and the layout of this one would be lost",
        )),
        _ => Ok(()),
    }
}

fn answer(repairs: &Repairs, format: Format) -> Result<String, Failure> {
    match format {
        Format::Text => Ok(repairs::text(repairs)),
        Format::Json => repairs::json(repairs)
            .map(|text| text + "\n")
            .map_err(|error| Failure::plain(format!("the repairs have no JSON form: {error}"))),
    }
}

/// Reactions by their own name or by that of their support, as indices into the model's reactions.
fn released(opened: &Opened, names: &[String]) -> Result<Vec<usize>, Failure> {
    let mut released = Vec::new();
    for name in names {
        released.extend(named(&opened.model, name).ok_or_else(|| unknown(opened, name))?);
    }
    released.sort_unstable();
    released.dedup();
    Ok(released)
}

fn named(model: &Model, name: &str) -> Option<Vec<usize>> {
    let support = model.supports.iter().find(|support| support.name == name);
    let reaction = || model.reactions.iter().position(|r| r.name == name);
    match support {
        Some(support) => Some(support.reactions.clone().collect()),
        None => reaction().map(|index| vec![index]),
    }
}

fn unknown(opened: &Opened, name: &str) -> Failure {
    let (supports, reactions) = (&opened.model.supports, &opened.model.reactions);
    let names = || {
        let supports = supports.iter().map(|support| support.name.as_str());
        supports.chain(reactions.iter().map(|reaction| reaction.name.as_str()))
    };
    let hint = match scene::nearest(name, names()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "name a support, or a reaction as `sixhold check` lists them".to_owned(),
    };
    let file = &opened.name;
    Failure::new(
        format!("{file}: there is no support or reaction named \"{name}\""),
        hint,
    )
}

/// The scene with the links added and without the supports that were released.
fn mended(
    opened: &Opened,
    mending: Option<&Mending>,
    released: &[usize],
) -> Result<Scene, Failure> {
    let mut scene = mending
        .map_or(&opened.scene, |mending| &mending.scene)
        .clone();
    for support in &opened.model.supports {
        let own = support.reactions.clone();
        match own.clone().filter(|j| released.contains(j)).count() {
            0 => {}
            all if all == own.len() => scene.supports.retain(|kept| kept.name != support.name),
            _ => {
                return Err(Failure::new(
                    format!(
                        "a scene cannot leave out some reactions of {} alone; nothing was written",
                        support.name
                    ),
                    format!(
                        "release the whole support with `--release {}`, or give it another kind in the file",
                        support.name
                    ),
                ));
            }
        }
    }
    read_back(&scene)?;
    Ok(scene)
}

/// Fails where the mended scene could not be opened again: an added link may reach beyond what numbers of a scene can say.
fn read_back(scene: &Scene) -> Result<(), Failure> {
    let read = scene::read_str("the mended scene", &scene::to_ron(scene));
    read.map(drop).map_err(|error| {
        let first = &error.problems[0].message;
        Failure::new(
            format!("the mended scene could not be read again: {first}; nothing was written"),
            "choose larger units, or move the scene closer to the origin",
        )
    })
}
