//! Arguments of what is drawn in lines: figures, moving figures and decks.

use std::collections::BTreeSet;
use std::path::PathBuf;

use clap::ValueEnum;

use super::values::{angles, camera, motion};
use super::{CameraArg, EXIT_CODES, RoundingArgs, ThemeArg};
use crate::figure::{COLUMN_MM, FigureColours, FigurePart, Projection, WIDTHS_MM};
use crate::motion::Selection;
use crate::sweep::AddedSupport;

/// `sixhold figure`.
#[derive(Debug, clap::Args)]
#[command(after_help = EXIT_CODES)]
pub(crate) struct FigureArgs {
    /// Scene file or name of a built-in scene
    #[arg(value_name = "FILE")]
    pub file: String,
    /// File to write; its extension sets the format: .svg, .pdf or .png
    #[arg(long, value_name = "FIGURE")]
    pub out: PathBuf,
    /// Colour the body and, in space, the walls by the margin that one more support there would give
    #[arg(long, value_enum, value_name = "SUPPORT")]
    pub map: Option<AddedSupportArg>,
    /// What is drawn and how
    #[command(flatten)]
    pub drawing: DrawingArgs,
    /// Pixels per inch, for PNG
    #[arg(long, value_name = "DPI", default_value_t = 300.0, value_parser = dots, allow_negative_numbers = true)]
    pub dpi: f64,
}

/// What a map adds to the supports.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum AddedSupportArg {
    /// An anchor that holds the point: a ball joint, in the plane a pin
    Anchor,
    /// A link square to the surface
    Link,
}

impl From<AddedSupportArg> for AddedSupport {
    fn from(added: AddedSupportArg) -> Self {
        match added {
            AddedSupportArg::Anchor => Self::Anchor,
            AddedSupportArg::Link => Self::Link,
        }
    }
}

/// What of a scene is drawn, and how large.
#[derive(Debug, clap::Args)]
pub(crate) struct DrawingArgs {
    /// What is drawn, separated by commas: body, hidden, supports, behind, loads, reactions, values, axis, motion, dimensions,
    /// coordinates, table (of coordinates, where there are many), triad, names; or `question` (the problem), `fbd` (the free-body diagram), `answer` (the usual),
    /// `all`
    #[arg(long, value_name = "PARTS", default_value = "answer", value_parser = parts)]
    pub show: PartsArg,
    /// Width of the whole figure in millimetres
    #[arg(long, value_name = "MM", default_value_t = COLUMN_MM, value_parser = width, allow_negative_numbers = true)]
    pub width: f64,
    /// How it is seen
    #[command(flatten)]
    pub aspect: Aspect,
}

/// How a scene is seen on paper, and which of its cases and motions: shared by figures, moving pictures and decks.
#[derive(Debug, clap::Args)]
pub(crate) struct Aspect {
    /// Projection: three-quarter, oblique, isometric, perspective, front, side, top, or AZIMUTH,ELEVATION
    /// in degrees; default: three-quarter
    #[arg(long, value_name = "PROJECTION", value_parser = projection, allow_hyphen_values = true)]
    pub projection: Option<Projection>,
    /// Colours
    #[arg(long, value_enum, default_value_t)]
    pub look: ColoursArg,
    /// Draw the loads and reaction values of this case
    #[arg(long, value_name = "NAME")]
    pub case: Option<String>,
    /// Which motion to draw: the number of a free one, from 1, or `escape`: how the body escapes under a load that its
    /// contacts and cables do not carry. Default: the first, and in a deck one after the other
    #[arg(long, value_name = "MOTION", value_parser = motion, allow_negative_numbers = true)]
    pub motion: Option<Selection>,
    /// How values are rounded
    #[command(flatten)]
    pub rounding: RoundingArgs,
}

/// `sixhold animate`.
#[derive(Debug, clap::Args)]
#[command(after_help = EXIT_CODES)]
pub(crate) struct AnimateArgs {
    /// Scene file or name of a built-in scene
    #[arg(value_name = "FILE")]
    pub file: String,
    /// File to write; its extension sets the format: .gif, .png for an animated PNG, or .mp4 in a program built with films
    #[arg(long, value_name = "FILM")]
    pub out: PathBuf,
    /// Seconds of one swing, there and back
    #[arg(long, value_name = "SECONDS", default_value_t = 6.0, value_parser = seconds, allow_negative_numbers = true)]
    pub seconds: f64,
    /// Frames per second
    #[arg(long, value_name = "FRAMES", default_value_t = 20.0, value_parser = rate, allow_negative_numbers = true)]
    pub rate: f64,
    /// Width in pixels
    #[arg(long, value_name = "PIXELS", default_value_t = 800, value_parser = pixels, allow_negative_numbers = true)]
    pub pixels: u32,
    /// Film one turn of the camera around the scene in place of its motion; with --view 3d
    #[arg(long)]
    pub turn: bool,
    /// What is filmed
    #[arg(long, value_enum, default_value_t)]
    pub view: FilmView,
    /// Where the 3D view looks from: usual, front, side, top, three-quarter, axis, or AZIMUTH,ELEVATION in degrees
    #[arg(long, value_name = "VIEW", value_parser = camera, allow_hyphen_values = true)]
    pub camera: Option<CameraArg>,
    /// Colours of the 3D view; default: hall
    #[arg(long, value_enum)]
    pub theme: Option<ThemeArg>,
    /// How it is seen
    #[command(flatten)]
    pub aspect: Aspect,
}

/// What a moving picture shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(crate) enum FilmView {
    /// The line figure; needs no graphics driver
    #[default]
    Figure,
    /// The 3D view, as in a window; needs a graphics driver, of which a software one is enough
    #[value(name = "3d")]
    Space,
}

/// `sixhold deck`.
#[derive(Debug, clap::Args)]
#[command(after_help = EXIT_CODES)]
pub(crate) struct DeckArgs {
    /// Scene file or name of a built-in scene
    #[arg(value_name = "FILE")]
    pub file: String,
    /// HTML page to write
    #[arg(long, value_name = "PAGE")]
    pub out: PathBuf,
    /// How it is seen
    #[command(flatten)]
    pub aspect: Aspect,
}

/// Parts of a figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct PartsArg(pub BTreeSet<FigurePart>);

/// Colours of a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum ColoursArg {
    /// The colours of the daylight theme on white
    #[default]
    Colour,
    /// Black and greys
    Print,
}

impl From<ColoursArg> for FigureColours {
    fn from(look: ColoursArg) -> Self {
        match look {
            ColoursArg::Colour => Self::Colour,
            ColoursArg::Print => Self::Print,
        }
    }
}

fn parts(text: &str) -> Result<PartsArg, String> {
    FigurePart::listed(text).map(PartsArg)
}

fn projection(text: &str) -> Result<Projection, String> {
    match text.to_lowercase().as_str() {
        "three-quarter" => return Ok(Projection::THREE_QUARTER),
        "oblique" => return Ok(Projection::Oblique),
        "isometric" => return Ok(Projection::Isometric),
        "perspective" => return Ok(Projection::Perspective),
        "front" => return Ok(Projection::FRONT),
        "side" => return Ok(Projection::SIDE),
        "top" => return Ok(Projection::TOP),
        _ => {}
    }
    let angles = angles(text).map(|[azimuth, elevation]| Projection::Angles { azimuth, elevation });
    angles.ok_or_else(|| {
        "name a projection (three-quarter, oblique, isometric, perspective, front, side, top) or give azimuth and elevation in \
         degrees, such as 30,20; an elevation is from -90 to 90"
            .to_owned()
    })
}

fn width(text: &str) -> Result<f64, String> {
    let [least, most] = WIDTHS_MM;
    let width = text.parse().ok();
    width
        .filter(|width| (least..=most).contains(width))
        .ok_or_else(|| format!("give a width from {least} to {most} millimetres"))
}

fn pixels(text: &str) -> Result<u32, String> {
    let pixels = text.parse().ok();
    pixels
        .filter(|pixels| (100..=4000).contains(pixels))
        .ok_or_else(|| "give a whole number from 100 to 4000".to_owned())
}

fn seconds(text: &str) -> Result<f64, String> {
    let seconds = text.parse().ok();
    seconds
        .filter(|seconds| (0.5..=60.0).contains(seconds))
        .ok_or_else(|| "give a time from 0.5 to 60 seconds".to_owned())
}

fn rate(text: &str) -> Result<f64, String> {
    let rate = text.parse().ok();
    rate.filter(|rate| (2.0..=50.0).contains(rate))
        .ok_or_else(|| "give a rate from 2 to 50 frames in a second".to_owned())
}

fn dots(text: &str) -> Result<f64, String> {
    let dots = text.parse().ok();
    dots.filter(|dots| (20.0..=2400.0).contains(dots))
        .ok_or_else(|| "give a resolution from 20 to 2400 pixels per inch".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_come_one_by_one_or_in_groups() {
        let question: BTreeSet<FigurePart> = FigurePart::QUESTION.into();
        assert_eq!(parts("question"), Ok(PartsArg(question)));
        let two = BTreeSet::from([FigurePart::Body, FigurePart::Axis]);
        assert_eq!(parts("axis, body"), Ok(PartsArg(two)));
        for wrong in ["", "body,,axis", "bodies"] {
            assert!(parts(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn projections_are_names_or_angles() {
        assert_eq!(projection("Oblique"), Ok(Projection::Oblique));
        let angles = Projection::Angles {
            azimuth: -30.0,
            elevation: 20.0,
        };
        assert_eq!(projection("-30,20"), Ok(angles));
        for wrong in ["slanted", "30", "30,100", "inf,0"] {
            assert!(projection(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn sizes_and_times_stay_within_what_can_be_drawn() {
        assert_eq!(width("84"), Ok(84.0));
        assert_eq!(seconds("6"), Ok(6.0));
        for wrong in ["0", "-84", "1e9", "NaN", ""] {
            assert!(width(wrong).is_err() && dots(wrong).is_err(), "{wrong}");
            assert!(seconds(wrong).is_err() && rate(wrong).is_err(), "{wrong}");
        }
    }
}
