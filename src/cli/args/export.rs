//! The arguments of `sixhold export`.

use std::path::PathBuf;

use super::EXIT_CODES;
use super::values::motion;
use crate::motion::Selection;

/// `sixhold export`.
#[derive(Debug, clap::Args)]
#[command(after_help = EXIT_CODES)]
pub(crate) struct ExportArgs {
    /// Scene file or name of a built-in scene
    #[arg(value_name = "FILE")]
    pub file: String,
    /// File to write: .glb for glTF 2.0, .csv for a table of the reactions
    #[arg(long, value_name = "FILE")]
    pub out: PathBuf,
    /// Which load case acts; default: the first in glTF, where it decides how the body escapes, all of them in a table
    #[arg(long, value_name = "NAME")]
    pub case: Option<String>,
    /// Which motion to animate in glTF: the number of a free one, from 1, or `escape`; default: the first that there is
    #[arg(long, value_name = "MOTION", value_parser = motion, allow_negative_numbers = true)]
    pub motion: Option<Selection>,
}
