//! `sixhold report`: the diagnosis as a document, with the equations and their solution.

use std::path::Path;

use super::Outcome;
use super::args::Report;
use super::open;
use super::output::{self, Failure};
use crate::document::{self, Document};
use crate::motion::Mobilities;
use crate::report;
use crate::report::paper::Paper;
use crate::report::repairs::Repairs;
use crate::statics::repair::{Mending, MendingSettings, Releases};
use crate::statics::{Depth, DepthSettings, Diagnosis, Tolerance};

/// Writes the document.
pub fn run(args: &Report) -> Result<Outcome, Failure> {
    let form = Form::of(&args.out)?;
    output::check_folder(&args.out)?;
    let opened = open::open(&args.file)?;
    let case = args.case.as_deref();
    let case = case.map(|case| open::case(&opened, case)).transpose()?;
    let model = &opened.model;
    let diagnosis = Diagnosis::new(model, Tolerance::default());
    let mending = Mending::of(&opened.scene, &diagnosis, &MendingSettings::default())
        .map_err(|error| Failure::model(&args.file, &error))?;
    let paper = Paper {
        report: report::Report {
            source: &opened.name,
            model,
            diagnosis: &diagnosis,
            depth: &Depth::new(model, &diagnosis, &DepthSettings::default()),
            mobilities: &Mobilities::of(model, &diagnosis),
            case,
        },
        repairs: Repairs {
            source: &opened.name,
            model,
            diagnosis: &diagnosis,
            mending: mending.as_ref(),
            releases: &Releases::of(model, &diagnosis),
        },
        figure: None,
    };
    write(&report::paper::document(&paper), form, &args.out)?;
    output::note(&format!("written: {}", args.out.display()));
    Ok(Outcome::Done)
}

/// Forms of a document, told by the ending of the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// HTML.
    Html,
    /// Markdown.
    Markdown,
}

impl Form {
    /// Ending of its files.
    pub fn ending(self) -> &'static str {
        match self {
            Self::Html => "html",
            Self::Markdown => "md",
        }
    }

    fn of(path: &Path) -> Result<Self, Failure> {
        let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
        match ending.as_deref() {
            Some("html" | "htm") => Ok(Self::Html),
            Some("md") => Ok(Self::Markdown),
            _ => Err(Failure::new(
                format!("{}: reports are HTML or Markdown", path.display()),
                "let the name end in .html or .md",
            )),
        }
    }
}

/// Writes a document to a file.
pub fn write(document: &Document, form: Form, path: &Path) -> Result<(), Failure> {
    let content = match form {
        Form::Html => document::html(document).into_bytes(),
        Form::Markdown => document::markdown(document).into_bytes(),
    };
    output::save(path, &content)
}
