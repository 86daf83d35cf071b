//! The arguments of `sixhold sweep`.

use std::path::PathBuf;

use clap::ValueEnum;

use super::values::{part, placements, seed, tolerance};
use super::{EXIT_CODES, Format, RoundingArgs};
use crate::sweep::{Distribution, SweepPart};

/// `sixhold sweep`.
#[derive(Debug, clap::Args)]
#[command(after_help = EXIT_CODES)]
pub(crate) struct SweepArgs {
    /// Scene file or name of a built-in scene; with --join the files of all shares of a sweep
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<String>,
    #[command(flatten)]
    pub asked: SweepAsked,
    /// Join shares that --share has written to the sweep that they make
    #[arg(long, conflicts_with = "asked")]
    pub join: bool,
    /// Write what was found to this file, for --join
    #[arg(long, value_name = "SHARE")]
    pub share: Option<PathBuf>,
    /// Write the placement with the smallest margin to this file, as a scene
    #[arg(long, value_name = "SCENE")]
    pub worst: Option<PathBuf>,
    /// Write the spread of margin and reactions to this file, as CSV
    #[arg(long, value_name = "TABLE")]
    pub csv: Option<PathBuf>,
    /// Write histograms of margin and reactions to this file: .svg, .pdf or .png
    #[arg(long, value_name = "FIGURE")]
    pub figure: Option<PathBuf>,
    /// How to print what was found
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    #[command(flatten)]
    pub rounding: RoundingArgs,
}

/// What is swept.
#[derive(Debug, clap::Args)]
#[group(id = "asked", multiple = true)]
pub(crate) struct SweepAsked {
    /// How far each support, and each end of a link or cable, may be from where it is written, in the scene's unit of length;
    /// default: the scene's `placement_tolerance`
    #[arg(long, value_name = "LENGTH", value_parser = tolerance, allow_negative_numbers = true)]
    pub placement: Option<f64>,
    /// By how much the axes, rods, rails, slots and normals of supports and the directions of loads may be turned; weights pull
    /// straight down
    #[arg(long, value_name = "DEGREES", value_parser = tolerance, allow_negative_numbers = true)]
    pub direction: Option<f64>,
    /// By how much the size of each load may be off
    #[arg(long, value_name = "PERCENT", value_parser = tolerance, allow_negative_numbers = true)]
    pub load: Option<f64>,
    /// By how much the stiffness of each support may be off
    #[arg(long, value_name = "PERCENT", value_parser = tolerance, allow_negative_numbers = true)]
    pub stiffness: Option<f64>,
    /// How what varies spreads
    #[arg(long, value_enum, default_value_t)]
    pub distribution: DistributionArg,
    /// How many placements
    #[arg(long, value_name = "N", default_value_t = 100_000, value_parser = placements, allow_negative_numbers = true)]
    pub count: u64,
    /// Equal seeds give equal placements, on every machine
    #[arg(long, default_value_t = 1, value_parser = seed, allow_negative_numbers = true)]
    pub seed: u64,
    /// Sweep only this load case
    #[arg(long, value_name = "NAME")]
    pub case: Option<String>,
    /// A placement counts as within reach of improper constraint up to this margin, in the scene's unit of length; default:
    /// the tolerance of placements
    #[arg(long, value_name = "LENGTH", value_parser = tolerance, allow_negative_numbers = true)]
    pub reach: Option<f64>,
    /// Only this share of the placements, such as 3/8; needs --share
    #[arg(long, value_name = "K/N", value_parser = part, requires = "share")]
    pub part: Option<SweepPart>,
}

/// How random numbers spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(crate) enum DistributionArg {
    /// Alike within the tolerance, and never beyond
    #[default]
    Uniform,
    /// Normal, with the tolerance as standard deviation
    Normal,
}

impl From<DistributionArg> for Distribution {
    fn from(distribution: DistributionArg) -> Self {
        match distribution {
            DistributionArg::Uniform => Self::Uniform,
            DistributionArg::Normal => Self::Normal,
        }
    }
}
