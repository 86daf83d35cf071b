//! `sixhold mend`: links that would hold the body, reactions it can do without, and the mended scene as a file.

use super::Outcome;
use super::args::{Format, Mend};
use super::open;
use super::output::{self, Failure};
use crate::report::repairs::{self, Repairs};
use crate::scene;
use crate::statics::repair::{Mending, MendingSettings, Releases};
use crate::statics::{Diagnosis, Tolerance};

/// Prints the repairs of a scene, and saves the mended one where asked to.
pub fn run(args: &Mend) -> Result<Outcome, Failure> {
    let opened = open::open(&args.file)?;
    let diagnosis = Diagnosis::new(&opened.model, Tolerance::default());
    let settings = MendingSettings {
        named_only: args.named,
        ..MendingSettings::default()
    };
    let mending = Mending::of(&opened.scene, &diagnosis, &settings)
        .map_err(|error| Failure::model(&args.file, &error))?;
    let releases = Releases::of(&opened.model, &diagnosis);
    let repairs = Repairs {
        source: &opened.name,
        model: &opened.model,
        diagnosis: &diagnosis,
        mending: mending.as_ref(),
        releases: &releases,
    };
    output::answer(&answer(&repairs, args.format)?)?;
    if let Some(out) = &args.out {
        let mended = mending
            .as_ref()
            .map_or(&opened.scene, |mending| &mending.scene);
        scene::save_file(mended, out).map_err(|error| Failure::Plain {
            message: error.to_string(),
            hint: None,
        })?;
        output::note(&format!("written: {}", out.display()));
    }
    Ok(Outcome::Done)
}

fn answer(repairs: &Repairs, format: Format) -> Result<String, Failure> {
    match format {
        Format::Text => Ok(repairs::text(repairs)),
        Format::Json => repairs::json(repairs)
            .map(|text| text + "\n")
            .map_err(|error| Failure::Plain {
                message: format!("the repairs have no JSON form: {error}"),
                hint: None,
            }),
    }
}
