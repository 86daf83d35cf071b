//! `sixhold export`: a scene for other programs.

use std::path::Path;

use super::Outcome;
use super::args::ExportArgs;
use super::open;
use super::output::{self, Failure};
use crate::exchange::{self, ExchangeSettings};
use crate::printable::shown;
use crate::statics::CaseIndex;
use crate::study::Study;

/// Forms in which a scene is exported.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum ExchangeFormat {
    /// glTF 2.0, binary.
    Glb,
    /// The reactions as a table.
    Csv,
}

/// Writes the scene.
pub(crate) fn run(args: &ExportArgs) -> Result<Outcome, Failure> {
    let form = form(&args.out)?;
    output::check_target(&args.out)?;
    let study = open::open(&args.file)?;
    let case = match &args.case {
        Some(name) => Some(open::case(&study, name)?),
        None => None,
    };
    let bytes = match form {
        ExchangeFormat::Glb => model(&study, case.unwrap_or(CaseIndex::FIRST), args)?,
        ExchangeFormat::Csv if args.motion.is_some() => {
            return Err(Failure::new(
                "a table of reactions has no motion",
                "leave --motion out, or give --out a name that ends in .glb",
            ));
        }
        ExchangeFormat::Csv => exchange::reactions_csv(&study, case)
            .map_err(|error| Failure::plain(format!("{} has no table: {error}", study.name())))?,
    };
    output::save(&args.out, &bytes)?;
    output::written(&args.out);
    Ok(Outcome::Done)
}

fn model(study: &Study, case: CaseIndex, args: &ExportArgs) -> Result<Vec<u8>, Failure> {
    let settings = ExchangeSettings {
        case,
        motion: open::motion(study, case, args.motion)?,
    };
    exchange::glb(study, &settings)
        .map_err(|error| Failure::plain(format!("{} has no glTF form: {error}", study.name())))
}

fn form(path: &Path) -> Result<ExchangeFormat, Failure> {
    let ending = path.extension().unwrap_or_default();
    let forms = [("glb", ExchangeFormat::Glb), ("csv", ExchangeFormat::Csv)];
    let found = forms
        .into_iter()
        .find(|(name, _)| ending.eq_ignore_ascii_case(name));
    found.map(|(_, form)| form).ok_or_else(|| {
        Failure::new(
            format!("a scene is not exported to {}", shown(path)),
            "give --out a name that ends in .glb, for glTF 2.0, or in .csv, for a table of the reactions",
        )
    })
}
