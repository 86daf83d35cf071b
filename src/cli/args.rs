//! The arguments as clap parses them; nothing is looked up here.

mod export;
mod link;
mod paper;
mod sheet;
mod sweep;
mod values;

pub(crate) use export::ExportArgs;
pub(crate) use link::LinkArgs;
pub(crate) use paper::{AnimateArgs, Aspect, ColoursArg, DeckArgs, FigureArgs, FilmView};
pub(crate) use sheet::{SheetArgs, TopicArg, UnitsArg};
pub(crate) use sweep::{SweepArgs, SweepAsked};

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

use crate::motion::Selection;
use crate::theme::ThemeName;
use crate::wording::USUAL_DIGITS;
use values::{amplitude, camera, motion, one_line, phase, pose, size};

/// What follows the help of a command: its exit codes, then more.
macro_rules! exit_codes {
    ($unmet:literal, $more:literal) => {
        concat!(
            "Exit codes:\n  0  done\n",
            $unmet,
            "  2  invalid usage or input\n  130, 143  stopped by Ctrl+C or by another program",
            $more
        )
    };
}

/// Of commands that read a scene.
const EXIT_CODES: &str = exit_codes!(
    "",
    "\n\nFILE may be the name of a built-in scene (see `sixhold scenes`) or `-` for standard input.\n\
     `sixhold help format` describes how a scene is written."
);
/// Of `check`, which can require something of scenes.
const EXIT_CODES_OF_CHECK: &str = exit_codes!(
    "  1  done, but a --require is not met\n",
    "\n\nFILE may be the name of a built-in scene (see `sixhold scenes`) or `-` for standard input.\n\
     `sixhold help format` describes how a scene is written."
);
/// Of `sheet`, which reads none.
const EXIT_CODES_OF_SHEET: &str = exit_codes!("", "");

/// Says whether a rigid body on supports is held and, if not, why and how it can move.
///
/// Without a command: opens the window on a built-in scene.
#[derive(Debug, Parser)]
#[command(version, after_help = EXIT_CODES_OF_CHECK, disable_help_subcommand = true)]
pub(crate) struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Option<Command>,
}

impl Args {
    /// Whether the command opens the window, which closes in its own way.
    #[cfg(unix)]
    pub(crate) fn opens_window(&self) -> bool {
        matches!(&self.command, None | Some(Command::View(_)))
    }

    /// Whether the command draws in 3D, in a window or without one.
    #[cfg(all(feature = "viewer", unix))]
    pub(crate) fn needs_driver(&self) -> bool {
        match &self.command {
            None | Some(Command::View(_) | Command::Picture(_)) => true,
            Some(Command::Animate(animate)) => animate.view == FilmView::Space,
            Some(_) => false,
        }
    }
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Print the diagnosis: the four numbers, the verdict, its reason, motions and reactions
    Check(CheckArgs),
    /// Print which links would hold the body and which reactions can be removed
    Mend(MendArgs),
    /// Print what becomes of margin and reactions when placements, directions, loads and stiffnesses are a little off
    Sweep(SweepArgs),
    /// Write the diagnosis as a document to file or hand out, with equations and their solution
    Report(ReportArgs),
    /// Write exercises with their key, and each problem as a scene file
    Sheet(SheetArgs),
    /// Open the window and let the body move
    View(ViewArgs),
    /// Write the 3D view to an image file, without a window
    Picture(PictureArgs),
    /// Write a line figure for paper: SVG, PDF or PNG
    Figure(FigureArgs),
    /// Write a motion as a film, in lines or in 3D: MP4, GIF or animated PNG, without a window
    Animate(AnimateArgs),
    /// Write a lesson in stages as one HTML page of slides
    Deck(DeckArgs),
    /// Write body, supports and a free motion as glTF 2.0, or the reactions as CSV, for other programs
    Export(ExportArgs),
    /// Print the web address of a scene, with the whole scene in it
    Link(LinkArgs),
    /// List the built-in scenes, or print one as a scene file
    Scenes(ScenesArgs),
    /// Print the JSON Schema of what `check` prints, or of the scene format
    Schema(SchemaArgs),
    /// Print the help of a command, or what the reference of the scene format says of a kind or a section
    Help(HelpArgs),
}

/// `sixhold check`.
#[derive(Debug, clap::Args)]
#[command(after_help = EXIT_CODES_OF_CHECK)]
pub(crate) struct CheckArgs {
    /// Scene files or names of built-in scenes
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<String>,
    /// Report only this load case
    #[arg(long, value_name = "NAME")]
    pub case: Option<String>,
    /// How to print the report; several files make one JSON array
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Exit with 1 unless every scene meets this; of the loads, all cases count, or the one of --case
    #[arg(long, value_enum, value_name = "WHAT")]
    pub require: Option<Requirement>,
    /// Add temperature, margin, removable reactions, singular values and more sets of redundant reactions to the text
    #[arg(long)]
    pub details: bool,
    /// Add the reactions of elastic supports, all equally stiff where the scene gives no stiffness
    #[arg(long)]
    pub elastic: bool,
    #[command(flatten)]
    pub rounding: RoundingArgs,
}

/// How values are rounded.
#[derive(Debug, Clone, Copy, clap::Args)]
pub(crate) struct RoundingArgs {
    /// Significant digits of values in text and tables; integer parts are never rounded
    #[arg(long, value_name = "COUNT", default_value_t = USUAL_DIGITS, value_parser = clap::value_parser!(i32).range(1..=15), allow_negative_numbers = true)]
    pub digits: i32,
}

impl Default for RoundingArgs {
    fn default() -> Self {
        Self {
            digits: USUAL_DIGITS,
        }
    }
}

/// Forms of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// To read
    Text,
    /// For other programs
    Json,
}

/// What a scene can be required to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Requirement {
    /// Every motion is stopped, and the loads are carried
    Held,
    /// Held, and every reaction follows from equilibrium
    Determinate,
    /// The loads are in equilibrium, with contacts that push and cables that pull; some motion may be left
    Carried,
}

/// `sixhold mend`.
#[derive(Debug, clap::Args)]
#[command(after_help = EXIT_CODES)]
pub(crate) struct MendArgs {
    /// Scene file or name of a built-in scene
    #[arg(value_name = "FILE")]
    pub file: String,
    /// Write the scene with the links added, and without supports released, to this file
    #[arg(long, value_name = "SCENE")]
    pub out: Option<PathBuf>,
    /// Release this support or reaction first; may be given several times
    #[arg(long, value_name = "NAME")]
    pub release: Vec<String>,
    /// Fasten links only at the scene's named points
    #[arg(long)]
    pub named: bool,
    /// How to print the repairs
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

/// `sixhold report`.
#[derive(Debug, clap::Args)]
#[command(after_help = EXIT_CODES)]
pub(crate) struct ReportArgs {
    /// Scene file or name of a built-in scene
    #[arg(value_name = "FILE")]
    pub file: String,
    /// File to write; its extension sets the format: .html, .md with its figure in an .svg file beside it, or .pdf
    #[arg(long, value_name = "REPORT")]
    pub out: PathBuf,
    /// Report only this load case
    #[arg(long, value_name = "NAME")]
    pub case: Option<String>,
    /// Add temperature, margin, removable reactions, singular values and more sets of redundant reactions
    #[arg(long)]
    pub details: bool,
    /// Add the reactions of elastic supports, all equally stiff where the scene gives no stiffness
    #[arg(long)]
    pub elastic: bool,
    #[command(flatten)]
    pub rounding: RoundingArgs,
    #[command(flatten)]
    pub record: RecordArgs,
}

/// What the author of a report says of it.
#[derive(Debug, Clone, Default, clap::Args)]
pub(crate) struct RecordArgs {
    /// Who is responsible for the report
    #[arg(long, value_name = "NAME", value_parser = one_line)]
    pub author: Option<String>,
    /// Which revision of the report it is
    #[arg(long, value_name = "MARK", value_parser = one_line)]
    pub revision: Option<String>,
    /// Date to print; none by default, so that equal scenes give equal reports
    #[arg(long, value_name = "DATE", value_parser = one_line)]
    pub date: Option<String>,
}

/// `sixhold schema`.
#[derive(Debug, clap::Args)]
pub(crate) struct SchemaArgs {
    /// Of what
    #[arg(value_enum)]
    pub of: SchemaOf,
}

/// What has a schema.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum SchemaOf {
    /// What `check --format json` prints
    Check,
    /// The scene format, its words as JSON
    Scene,
}

/// `sixhold help`.
#[derive(Debug, clap::Args)]
pub(crate) struct HelpArgs {
    /// A command; `format` for the whole reference; a kind such as Hinge, a section such as supports
    #[arg(value_name = "TOPIC")]
    pub topic: Option<String>,
}

/// `sixhold view`.
#[cfg_attr(not(feature = "viewer"), allow(dead_code))]
#[derive(Debug, Default, clap::Args)]
pub(crate) struct ViewArgs {
    /// Scene file, reloaded when it changes on disk, folder of scene files, or name of a built-in scene
    #[arg(value_name = "FILE")]
    pub file: Option<String>,
    /// Colours
    #[arg(long, value_enum, default_value_t)]
    pub theme: ThemeArg,
    /// Fill the screen
    #[arg(long)]
    pub full_screen: bool,
    /// No camera flights, and nothing moves until asked to
    #[arg(long)]
    pub reduced_motion: bool,
    /// Draw on the processor even where there is a graphics card
    #[arg(long)]
    pub software: bool,
    /// How solid things take light; default: lit where there is a graphics card
    #[arg(long, value_enum)]
    pub shading: Option<ShadingArg>,
}

/// `sixhold picture`.
#[cfg_attr(not(feature = "viewer"), allow(dead_code))]
#[derive(Debug, clap::Args)]
#[command(after_help = EXIT_CODES)]
pub(crate) struct PictureArgs {
    /// Scene file or name of a built-in scene
    #[arg(value_name = "FILE")]
    pub file: String,
    /// Image to write, a PNG
    #[arg(long, value_name = "IMAGE")]
    pub out: PathBuf,
    /// Width and height in pixels
    #[arg(long, value_name = "WxH", default_value = "1600x1000", value_parser = size)]
    pub size: Size,
    /// Position of the body in its swing: 0 as written, −1 and 1 the ends
    #[arg(long, value_name = "PHASE", default_value_t = 0.0, value_parser = phase, allow_negative_numbers = true)]
    pub at: f32,
    /// Where to look from: usual, front, side, top, three-quarter, axis, or AZIMUTH,ELEVATION in degrees
    #[arg(long, value_name = "VIEW", default_value = "usual", value_parser = camera, allow_hyphen_values = true)]
    pub camera: CameraArg,
    /// Colours
    #[arg(long, value_enum, default_value_t)]
    pub theme: ThemeArg,
    /// How solid things take light; default: lit where there is a graphics card
    #[arg(long, value_enum)]
    pub shading: Option<ShadingArg>,
    /// Show the loads and reaction values of this case
    #[arg(long, value_name = "NAME")]
    pub case: Option<String>,
    /// Which motion to show: the number of a free one, from 1, or `escape`: how the body escapes under a load that its
    /// contacts and cables do not carry; default: the first
    #[arg(long, value_name = "MOTION", value_parser = motion, allow_negative_numbers = true)]
    pub motion: Option<Selection>,
    /// Swing to each side, relative to the usual one
    #[arg(long, value_name = "TIMES", default_value_t = 1.0, value_parser = amplitude, allow_negative_numbers = true)]
    pub amplitude: f32,
    /// Leave these out, with commas between
    #[arg(long, value_name = "PARTS", value_enum, value_delimiter = ',')]
    pub hide: Vec<HiddenPart>,
    /// Write the values of reactions beside their names, where equilibrium determines them
    #[arg(long)]
    pub values: bool,
    /// Paint nothing behind the scene
    #[arg(long)]
    pub transparent: bool,
    /// Draw the scene without this support or reaction; may be given several times
    #[arg(long, value_name = "NAME")]
    pub release: Vec<String>,
    /// The camera itself, as the window has it, which no other option says as exactly
    #[arg(long, hide = true, value_parser = pose, allow_hyphen_values = true)]
    pub pose: Option<PoseArg>,
}

/// What can be left out of a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum HiddenPart {
    /// Names and values
    Names,
    /// Supports
    Supports,
    /// Reactions
    Reactions,
    /// Loads
    Loads,
    /// The axis, and what shows the motion
    Motion,
    /// The floor
    Floor,
}

/// A placed camera in numbers: eye, target, upwards, half the height of the picture, and 1 for a perspective.
#[cfg_attr(not(feature = "viewer"), allow(dead_code))]
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PoseArg(pub [f32; 11]);

/// Pixels of a picture.
#[cfg_attr(not(feature = "viewer"), allow(dead_code))]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Size {
    /// Across.
    pub width: u32,
    /// Down.
    pub height: u32,
}

/// From where a picture is seen.
#[cfg_attr(not(feature = "viewer"), allow(dead_code))]
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum CameraArg {
    /// A view with a name.
    Named(NamedView),
    /// By angles in degrees.
    Angles {
        /// 0 is the front, 90 the side of +x.
        azimuth: f32,
        /// Above the horizon.
        elevation: f32,
    },
}

/// The views that have a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum NamedView {
    /// Three-quarter in space, square-on in the plane
    Usual,
    /// From the front
    Front,
    /// From the side of +x
    Side,
    /// From above
    Top,
    /// Between front, side and top
    ThreeQuarter,
    /// With the shared axis seen well
    Axis,
}

/// How solid things take light.
#[cfg_attr(not(feature = "viewer"), allow(dead_code))]
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ShadingArg {
    /// Colours shaded once: fast on any machine
    Plain,
    /// Soft shadows and ambient occlusion: for graphics cards
    Lit,
}

#[cfg(feature = "viewer")]
impl From<ShadingArg> for crate::viewer::state::Shading {
    fn from(shading: ShadingArg) -> Self {
        match shading {
            ShadingArg::Plain => Self::Plain,
            ShadingArg::Lit => Self::Lit,
        }
    }
}

/// The themes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum ThemeArg {
    /// For a darkened hall
    #[default]
    Hall,
    /// For daylight and print
    Daylight,
    /// Greatest contrast
    Stark,
}

impl From<ThemeArg> for ThemeName {
    fn from(theme: ThemeArg) -> Self {
        match theme {
            ThemeArg::Hall => Self::Hall,
            ThemeArg::Daylight => Self::Daylight,
            ThemeArg::Stark => Self::Stark,
        }
    }
}

/// `sixhold scenes`.
#[derive(Debug, clap::Args)]
pub(crate) struct ScenesArgs {
    /// Built-in scene to print as a scene file, to start from
    #[arg(value_name = "NAME")]
    pub name: Option<String>,
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_definition_holds_together() {
        Args::command().debug_assert();
    }
}
