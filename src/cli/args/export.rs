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
    /// File to write: .glb
    #[arg(long, value_name = "MODEL")]
    pub out: PathBuf,
    /// Which load case acts, which decides how the body escapes; default: the first
    #[arg(long, value_name = "NAME")]
    pub case: Option<String>,
    /// Which motion to animate: the number of a free one, from 1, or `escape`; default: the first that there is
    #[arg(long, value_name = "MOTION", value_parser = motion, allow_negative_numbers = true)]
    pub motion: Option<Selection>,
}
