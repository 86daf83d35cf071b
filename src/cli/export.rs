//! `sixhold export`: a scene for other programs.

use std::path::Path;

use super::Outcome;
use super::args::ExportArgs;
use super::open;
use super::output::{self, Failure};
use crate::exchange::{self, ExchangeSettings};
use crate::printable::shown;
use crate::statics::CaseIndex;

/// Writes the scene.
pub(crate) fn run(args: &ExportArgs) -> Result<Outcome, Failure> {
    check_ending(&args.out)?;
    output::check_target(&args.out)?;
    let study = open::open(&args.file)?;
    let case = match &args.case {
        Some(name) => open::case(&study, name)?,
        None => CaseIndex::FIRST,
    };
    let settings = ExchangeSettings {
        case,
        motion: open::motion(&study, case, args.motion)?,
    };
    let bytes = exchange::glb(&study, &settings)
        .map_err(|error| Failure::plain(format!("{} has no glTF form: {error}", study.name())))?;
    output::save(&args.out, &bytes)?;
    output::written(&args.out);
    Ok(Outcome::Done)
}

fn check_ending(path: &Path) -> Result<(), Failure> {
    let ending = path.extension().unwrap_or_default();
    if ending.eq_ignore_ascii_case("glb") {
        return Ok(());
    }
    Err(Failure::new(
        format!("a scene is exported to a .glb file, not to {}", shown(path)),
        "give --out a name that ends in .glb: glTF 2.0, binary",
    ))
}
