//! The arguments of `sixhold link`.

use super::values::{page_address, seen_from, stage};
use super::{EXIT_CODES, ThemeArg};
use crate::scene::LessonStage;

/// `sixhold link`.
#[derive(Debug, clap::Args)]
#[command(after_help = EXIT_CODES)]
pub(crate) struct LinkArgs {
    /// Scene file or name of a built-in scene
    #[arg(value_name = "FILE")]
    pub file: String,
    /// Address of the page that shows scenes, as assets/web/build makes it; without it only what comes after, from the #
    #[arg(long, value_name = "URL", value_parser = page_address)]
    pub base: Option<String>,
    /// Show this load case first
    #[arg(long, value_name = "NAME")]
    pub case: Option<String>,
    /// Colours of the page
    #[arg(long, value_enum)]
    pub theme: Option<ThemeArg>,
    /// Seen from AZIMUTH,ELEVATION in degrees
    #[arg(long, value_name = "ANGLES", value_parser = seen_from, allow_hyphen_values = true)]
    pub view: Option<[f64; 2]>,
    /// Begin the lesson at this stage: Body, Loads, Supports, Reactions, Count, Rank, Reason, Motion or Mend
    #[arg(long, value_name = "STAGE", value_parser = stage)]
    pub stage: Option<LessonStage>,
    /// Hold the answer back until the reader has guessed
    #[arg(long)]
    pub guess: bool,
}
