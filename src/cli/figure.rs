//! `sixhold figure`: a line figure for paper, as SVG, PDF or PNG.

use std::path::Path;

use super::Outcome;
use super::args::{Aspect, FigureArgs};
use super::drawable;
use super::open;
use super::output::{self, Failure};
use super::progress::Progress;
use crate::drawing::{self, Drawing, Fonts};
use crate::figure::{self, DrawingLimit, DrawingPhase, FigureSettings};
use crate::printable::shown;
use crate::statics::CaseIndex;
use crate::study::Study;
use crate::sweep::PlacementMap;
use crate::theme::Colour;

/// Forms of a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FigureFormat {
    Svg,
    Pdf,
    Png,
}

/// Writes the figure.
pub(crate) fn run(args: &FigureArgs) -> Result<Outcome, Failure> {
    let form = form(&args.out)?;
    output::check_target(&args.out)?;
    let (study, settings) = open(&args.file, &args.drawing.aspect, DrawingLimit::FIGURE)?;
    if form != FigureFormat::Svg {
        drawable::warn_of_boxes(&study);
    }
    let settings = FigureSettings {
        width_mm: args.drawing.width,
        parts: args.drawing.show.0.clone(),
        ..settings
    };
    let progress = Progress::unmeasured("drawing");
    let drawing = match args.map {
        Some(added) => {
            let map = PlacementMap::new(&study, added.into());
            figure::placement_figure(&study, &settings, &map)
        }
        None => figure::draw_watched(&study, &settings, &|phase, done, of| {
            progress.at(noun(phase), done, of);
        }),
    };
    let bytes = written(&drawing, form, args.dpi)?;
    drop(progress);
    output::save(&args.out, &bytes)?;
    output::written(&args.out);
    Ok(Outcome::Done)
}

/// A drawing in a form; of PNG with so many pixels per inch.
pub(super) fn written(drawing: &Drawing, form: FigureFormat, dpi: f64) -> Result<Vec<u8>, Failure> {
    Ok(match form {
        FigureFormat::Svg => drawing::svg(drawing, Fonts::Inside).into_bytes(),
        FigureFormat::Pdf => drawing::pdf(drawing),
        FigureFormat::Png => {
            let per_point = dpi / 72.0;
            drawing::pixels(drawing, per_point, Colour::WHITE)
                .and_then(|pixels| drawing::png(&pixels, per_point))
                .map_err(|error| Failure::new(error.to_string(), "give a smaller --dpi"))?
        }
    })
}

/// What is counted while a figure is drawn.
pub(super) fn noun(phase: DrawingPhase) -> &'static str {
    match phase {
        DrawingPhase::Lines => "line",
        DrawingPhase::Labels => "label",
    }
}

/// The form that the name of a file asks for.
pub(super) fn form(path: &Path) -> Result<FigureFormat, Failure> {
    let ending = path.extension().unwrap_or_default();
    let forms = [
        ("svg", FigureFormat::Svg),
        ("pdf", FigureFormat::Pdf),
        ("png", FigureFormat::Png),
    ];
    let found = forms
        .into_iter()
        .find(|(word, _)| ending.eq_ignore_ascii_case(word));
    found.map(|(_, form)| form).ok_or_else(|| {
        Failure::new(
            format!("{}: figures are SVG, PDF or PNG files", shown(path)),
            "let the name end in .svg, .pdf or .png",
        )
    })
}

/// Opens a scene of which a figure can be drawn, and looks up what the arguments name.
pub(super) fn open(
    file: &str,
    args: &Aspect,
    limit: DrawingLimit,
) -> Result<(Study, FigureSettings), Failure> {
    let study = open::open(file)?;
    drawable::check_marks(&study, limit)?;
    let case = match &args.case {
        Some(name) => open::case(&study, name)?,
        None => CaseIndex::FIRST,
    };
    let settings = FigureSettings {
        projection: args.projection,
        look: args.look.into(),
        case,
        motion: open::motion(&study, case, args.motion)?,
        digits: args.rounding.digits,
        ..FigureSettings::default()
    };
    Ok((study, settings))
}
