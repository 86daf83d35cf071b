//! `sixhold report`: the diagnosis as a document, with the equations and their solution.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use super::Outcome;
use super::args::{ReportArgs, RoundingArgs};
use super::drawable;
use super::figure::noun;
use super::open;
use super::output::{self, Failure};
use super::progress::Progress;
use super::record;
use crate::document::{self, Document};
use crate::figure::{self, DrawingLimit, DrawingProgress, FigurePart, FigureSettings};
use crate::printable::shown;
use crate::report;
use crate::report::paper::ReportDocument;
use crate::statics::CaseIndex;
use crate::study::Study;

/// Writes the document.
pub(crate) fn run(args: &ReportArgs) -> Result<Outcome, Failure> {
    let form = DocumentFormat::of(&args.out)?;
    output::check_target(&args.out)?;
    let study = open::open(&args.file)?;
    let study = match args.elastic {
        true => study.on_springs(),
        false => study,
    };
    let case = args.case.as_deref();
    let case = case.map(|case| open::case(&study, case)).transpose()?;
    let is_drawn = DrawingLimit::FIGURE.excess(&study).is_none();
    if !is_drawn {
        output::warning(&format!(
            "{}: the report has no figure, which would show more than {} supports and loads",
            study.name(),
            DrawingLimit::FIGURE.most
        ));
    }
    if form == DocumentFormat::Pdf {
        drawable::warn_of_boxes(&study);
    }
    let progress = Progress::unmeasured("drawing the figure");
    let watch = |phase, done, of| progress.at(noun(phase), done, of);
    let figure = is_drawn.then(|| {
        drawn(
            &study,
            &FigurePart::REPORT,
            case.unwrap_or(CaseIndex::FIRST),
            args.rounding,
            &watch,
        )
    });
    let diagrams = match is_drawn {
        true => figure::diagrams(&study, case, args.rounding.digits),
        false => Vec::new(),
    };
    drop(progress);
    let progress = Progress::unmeasured("writing the report");
    let record = record::of(&study, &args.record);
    let paper = ReportDocument {
        report: report::Report {
            study: &study,
            case,
        },
        figure: figure.as_ref(),
        diagrams: &diagrams,
        is_worked: true,
        has_details: args.details,
        digits: args.rounding.digits,
        record: Some(&record),
    };
    let document = report::paper::document(&paper);
    let files = files_of(&document, form, &args.out);
    drop(progress);
    output::save_all(&files)?;
    files.iter().for_each(|(path, _)| output::written(path));
    Ok(Outcome::Done)
}

/// The report, and beside one in Markdown its figures, unless it is written to a pipe or device.
fn files_of(document: &Document, form: DocumentFormat, out: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let is_file = out.is_file() || !out.exists();
    let stem = out.file_stem().and_then(OsStr::to_str);
    let (DocumentFormat::Markdown, true, Some(stem)) = (form, is_file, stem) else {
        return vec![(out.to_owned(), rendered(document, form))];
    };
    let (text, figures) = document::markdown_beside(document, stem);
    let figures = figures
        .into_iter()
        .map(|(name, svg)| (out.with_file_name(name), svg.into_bytes()));
    std::iter::once((out.to_owned(), text.into_bytes()))
        .chain(figures)
        .collect()
}

/// A figure of these parts, with the title below it.
pub(crate) fn drawn(
    study: &Study,
    parts: &[FigurePart],
    case: CaseIndex,
    rounding: RoundingArgs,
    watch: DrawingProgress,
) -> document::DocumentFigure {
    drawn_within(study, parts, case, rounding, watch, figure::IN_DOCUMENT_MM)
}

/// The same in another width and height, mm.
pub(crate) fn drawn_within(
    study: &Study,
    parts: &[FigurePart],
    case: CaseIndex,
    rounding: RoundingArgs,
    watch: DrawingProgress,
    size_mm: [f64; 2],
) -> document::DocumentFigure {
    let settings = FigureSettings {
        parts: parts.iter().copied().collect(),
        case,
        digits: rounding.digits,
        ..FigureSettings::default()
    };
    figure::in_document(study, settings, size_mm, watch)
}

/// Forms of a document, told by the ending of the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum DocumentFormat {
    /// HTML.
    Html,
    /// Markdown.
    Markdown,
    /// PDF on A4.
    Pdf,
}

impl DocumentFormat {
    /// Ending of its files.
    pub(crate) fn ending(self) -> &'static str {
        match self {
            Self::Html => "html",
            Self::Markdown => "md",
            Self::Pdf => "pdf",
        }
    }

    fn of(path: &Path) -> Result<Self, Failure> {
        let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
        match ending.as_deref() {
            Some("html" | "htm") => Ok(Self::Html),
            Some("md") => Ok(Self::Markdown),
            Some("pdf") => Ok(Self::Pdf),
            _ => Err(Failure::new(
                format!("{}: reports are HTML, Markdown or PDF", shown(path)),
                "let the name end in .html, .md or .pdf",
            )),
        }
    }
}

/// The bytes of a document's file.
pub(crate) fn rendered(document: &Document, form: DocumentFormat) -> Vec<u8> {
    match form {
        DocumentFormat::Html => document::html(document).into_bytes(),
        DocumentFormat::Markdown => document::markdown(document).into_bytes(),
        DocumentFormat::Pdf => document::pdf(document),
    }
}
