//! `sixhold schema`: the JSON Schemas of the scene format and of what `check` prints.

use super::Outcome;
use super::args::{SchemaArgs, SchemaOf};
use super::output::{self, Failure};
use crate::{report, scene};

/// Prints the schema.
pub(crate) fn run(args: &SchemaArgs) -> Result<Outcome, Failure> {
    let schema = match args.of {
        SchemaOf::Check => report::schema(),
        SchemaOf::Scene => scene::json_schema(),
    };
    output::answer(&format!("{schema:#}\n"))?;
    Ok(Outcome::Done)
}
