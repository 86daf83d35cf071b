//! The arguments of `sixhold sheet`.

use std::path::PathBuf;

use clap::ValueEnum;
use clap::builder::{PossibleValue, PossibleValuesParser};

use super::values::{problems, seed};
use super::{EXIT_CODES_OF_SHEET, RoundingArgs};
use crate::exercises::{SUPPORT_WORDS, Topic};

/// `sixhold sheet`.
#[derive(Debug, clap::Args)]
#[command(after_help = EXIT_CODES_OF_SHEET)]
pub(crate) struct SheetArgs {
    /// Topics, taken in turn
    #[arg(
        long,
        value_enum,
        value_delimiter = ',',
        required = true,
        value_name = "TOPICS"
    )]
    pub about: Vec<TopicArg>,
    /// How many problems
    #[arg(long, default_value_t = 6, value_parser = problems, allow_negative_numbers = true)]
    pub count: usize,
    /// Equal seeds give equal sheets, on every machine
    #[arg(long, default_value_t = 1, value_parser = seed, allow_negative_numbers = true)]
    pub seed: u64,
    /// How demanding the problems are; without it they start easy and end hard
    #[arg(long, value_enum)]
    pub level: Option<LevelArg>,
    /// All problems in the plane, or all in space; without it the level decides
    #[arg(long, value_enum)]
    pub space: Option<SpaceArg>,
    /// How many unknown reactions each problem has
    #[arg(long, value_parser = clap::value_parser!(u8).range(1..=12), value_name = "N")]
    pub unknowns: Option<u8>,
    /// The kinds of support that may come; without it all
    #[arg(long, value_parser = PossibleValuesParser::new(SUPPORT_WORDS), value_delimiter = ',', hide_possible_values = true, value_name = "KINDS")]
    pub supports: Vec<String>,
    /// Metres and newtons, or feet and pounds
    #[arg(long, value_enum, default_value_t = UnitsArg::Si)]
    pub units: UnitsArg,
    /// The course, for the head of the sheet
    #[arg(long, value_name = "TEXT", default_value = "")]
    pub course: String,
    /// Marks for each problem
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=100), value_name = "N")]
    pub marks: Option<u32>,
    /// Two sheets, A and B, with the same arrangements mirrored and other numbers
    #[arg(long)]
    pub variants: bool,
    /// Problems on a page: one leaves room to answer, two share it where they fit
    #[arg(long, value_parser = clap::value_parser!(u8).range(1..=2), default_value_t = 1, value_name = "N")]
    pub per_page: u8,
    /// Writes the sheet, the answers and the key as LaTeX sources, too, with their figures as PDF
    #[arg(long)]
    pub latex: bool,
    /// Writes them as Typst sources, too, with their figures as PDF
    #[arg(long)]
    pub typst: bool,
    /// Size of the paper
    #[arg(long, value_enum, default_value_t = PaperArg::A4)]
    pub paper: PaperArg,
    /// Folder to write to; it is made where it is missing
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Replace files in the folder that are not those of this very sheet
    #[arg(long)]
    pub force: bool,
    #[command(flatten)]
    pub rounding: RoundingArgs,
}

/// Topics of exercises: one, or all that are mixed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum TopicArg {
    One(Topic),
    Mixed,
}

/// How many there are.
const TOPICS: usize = Topic::ALL.len() + 1;

impl TopicArg {
    const ALL: [Self; TOPICS] = {
        let mut all = [Self::Mixed; TOPICS];
        let mut index = 0;
        while index < Topic::ALL.len() {
            all[index] = Self::One(Topic::ALL[index]);
            index += 1;
        }
        all
    };
}

impl ValueEnum for TopicArg {
    fn value_variants<'a>() -> &'a [Self] {
        &Self::ALL
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        let (name, about) = match self {
            Self::One(topic) => (topic.words().name, topic.words().about),
            Self::Mixed => ("mixed", "All but near-miss, in turn"),
        };
        Some(PossibleValue::new(name).help(about))
    }
}

/// Levels of exercises.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum LevelArg {
    /// In the plane, along the axes
    Easy,
    /// In the plane at an angle, or in space along the axes
    Middle,
    /// In space at an angle, with couples
    Hard,
}

/// Where exercises take place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum SpaceArg {
    /// In the plane
    Plane,
    /// In space
    Space,
}

impl From<SpaceArg> for crate::scene::Space {
    fn from(space: SpaceArg) -> Self {
        match space {
            SpaceArg::Plane => Self::Planar,
            SpaceArg::Space => Self::Spatial,
        }
    }
}

/// Units of exercises.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum UnitsArg {
    /// Metres and newtons
    Si,
    /// Feet and pounds
    Us,
}

/// Sizes of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperArg {
    /// 210 mm by 297 mm
    A4,
    /// 8.5 in by 11 in
    Letter,
}

impl From<PaperArg> for crate::document::Paper {
    fn from(size: PaperArg) -> Self {
        match size {
            PaperArg::A4 => Self::A4,
            PaperArg::Letter => Self::Letter,
        }
    }
}

impl From<LevelArg> for crate::exercises::Level {
    fn from(level: LevelArg) -> Self {
        match level {
            LevelArg::Easy => Self::Easy,
            LevelArg::Middle => Self::Middle,
            LevelArg::Hard => Self::Hard,
        }
    }
}
