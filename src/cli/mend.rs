//! `sixhold mend`: links that would hold the body, reactions it can do without, and the mended scene as a file.

use super::Outcome;
use super::args::{Format, MendArgs};
use super::open;
use super::output::{self, Failure};
use super::progress::Progress;
use crate::document::{self, Styles};
use crate::printable::shown;
use crate::repair::{Mending, MendingSettings};
use crate::report::repairs::{self, Repairs};
use crate::scene::{self, Scene};
use crate::study::{Study, WholeReactionIndex};

/// Prints the repairs of a scene, and saves the mended one where asked to.
pub(crate) fn run(args: &MendArgs) -> Result<Outcome, Failure> {
    let whole = open::open(&args.file)?;
    if let Some(out) = &args.out {
        open::keep_original(&whole, out)?;
        output::check_target(out)?;
    }
    let released = open::released(&whole, &args.release)?;
    let progress = Progress::unmeasured("looking for links");
    let study = whole.without(&released);
    let settings = MendingSettings {
        named_only: args.named,
        ..MendingSettings::default()
    };
    let repair = study.repair_with(&settings);
    let out = match &args.out {
        Some(out) => Some((out, mended(&study, repair.links())?)),
        None => None,
    };
    // Looked for while the progress is shown.
    study.releases();
    drop(progress);
    let repairs = Repairs {
        study: &study,
        repair: &repair,
        released: &args.release,
    };
    output::answer(&answer(&repairs, args.format)?)?;
    if let Some((out, scene)) = out {
        scene::save_file(&scene, out)?;
        output::note(&format!(
            "written: {}; comments were not copied",
            shown(out)
        ));
    }
    Ok(Outcome::Done)
}

fn answer(repairs: &Repairs, format: Format) -> Result<String, Failure> {
    match format {
        Format::Text => Ok(document::terminal(
            &repairs::document(repairs),
            &Styles::coloured(),
        )),
        Format::Json => repairs::json(repairs)
            .map(|text| text + "\n")
            .map_err(|error| Failure::plain(format!("the repairs have no JSON form: {error}"))),
    }
}

/// The scene with the links added and without the supports that were released.
fn mended(study: &Study, mending: Option<&Mending>) -> Result<Scene, Failure> {
    let mut scene = mending
        .map_or(study.scene(), |mending| &mending.scene)
        .clone();
    let released = study.released();
    for support in &study.whole().supports {
        let own = support.reactions.clone();
        match own
            .clone()
            .filter(|j| released.contains(&WholeReactionIndex::of(*j)))
            .count()
        {
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
