//! What a web page asks of a scene: text in, text out, without files, clocks or threads.
//!
//! [`PageScene`] is a scene that has been read and studied; `exports.rs` hands it to JavaScript.

mod answer;
mod change;
mod drag;
mod options;
mod sheet;
mod trouble;

pub use answer::{PageAnswer, listing};
pub use change::PageChange;
pub use drag::{PageDrag, PageHandle, PageMove};
pub use options::{PageOptions, colours};
pub use sheet::{PageSheet, PageSheetOptions, sheet_topics};
pub use trouble::{PageProblem, PageTrouble};

use std::cell::Cell;

use crate::address::{AddressedScene, SceneAddress};
use crate::document;
use crate::drawing::{Fonts, Pixels, RasterError, gif, pixels, svg};
use crate::figure::{self, DrawingLimit, FigureMap, FigurePart, FigureSettings, Film, deck};
use crate::report::paper::ReportDocument;
use crate::report::{self, Report, ReportRecord};
use crate::scene::{self, builtin};
use crate::study::{Source, Study};
use crate::theme::Colour;
use crate::wording::USUAL_DIGITS;

/// A scene of a page, read and studied.
pub struct PageScene {
    study: Study,
    text: String,
    /// How the scene lies on the figure that was drawn last.
    map: Cell<Option<FigureMap>>,
}

/// Frames of a swing, there and back.
const FRAMES: usize = 48;
/// How long a frame of a film is shown, hundredths of a second.
const HUNDREDTHS: u16 = 6;
/// Pixels across of a film.
const FILM_PIXELS: f64 = 800.0;

impl PageScene {
    /// Reads a scene from its text.
    ///
    /// # Errors
    /// Everything that is wrong with it, with lines and columns.
    pub fn open(name: &str, text: &str) -> Result<Self, PageTrouble> {
        let loaded = scene::read_str(name, text)?;
        let study = Study::new(loaded.scene).map_err(|error| PageTrouble::said(&error))?;
        Ok(Self {
            study: study.with_warnings(loaded.warnings),
            text: text.to_owned(),
            map: Cell::default(),
        })
    }

    /// A built-in scene.
    ///
    /// # Errors
    /// Where there is none of this name.
    pub fn built_in(name: &str) -> Result<Self, PageTrouble> {
        let source = Source::built_in(name).map_err(|error| PageTrouble::said(&error))?;
        Self::open(name, &source.text().unwrap_or_default())
    }

    /// The scene of an address, or of what comes after its `#`.
    ///
    /// # Errors
    /// Why the address gives no scene, or what is wrong with that scene.
    pub fn addressed(address: &str) -> Result<Self, PageTrouble> {
        let read = SceneAddress::read(address).map_err(|error| PageTrouble::said(&error))?;
        match read.scene {
            AddressedScene::BuiltIn(name) => Self::built_in(name),
            AddressedScene::Text(text) => Self::open("address", &text),
        }
    }

    /// The text as it was read.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The sentence, the four numbers, and what there is to choose.
    ///
    /// # Errors
    /// An option that the scene does not have.
    pub fn answer(&self, options: &PageOptions) -> Result<PageAnswer, PageTrouble> {
        answer::answer(&self.study, options)
    }

    /// A figure as SVG.
    ///
    /// # Errors
    /// An option that the scene does not have, or more supports and loads than a figure shows.
    pub fn figure(&self, options: &PageOptions) -> Result<String, PageTrouble> {
        let settings = options.settings(&self.study, DrawingLimit::FIGURE)?;
        let (drawing, map) = figure::draw_with_map(&self.study, &settings);
        self.map.set(Some(map));
        Ok(svg(&drawing, Fonts::Inside))
    }

    /// The places that can be dragged, on the figure that was drawn last.
    pub fn handles(&self) -> Vec<PageHandle> {
        let map = self.map.get();
        map.map_or_else(Vec::new, |map| drag::handles(self.study.scene(), &map))
    }

    /// What can be done with one click to the thing that a place belongs to.
    pub fn changes(&self, index: usize) -> Vec<PageChange> {
        change::changes(self.study.scene(), &self.text, index)
    }

    /// Takes hold of a place on the figure that was drawn last.
    ///
    /// # Errors
    /// Where there is no such place, or no figure yet.
    pub fn grab(&self, index: usize) -> Result<PageDrag, PageTrouble> {
        let map = self.map.get();
        let map = map.ok_or_else(|| PageTrouble::said("there is no figure yet"))?;
        PageDrag::begun(self.study.scene(), &self.text, map, index)
    }

    /// The motion as figures of one size, SVG: one swing there and back, the body as written first; none where there is no motion.
    ///
    /// # Errors
    /// As [`PageScene::figure`], for fewer supports and loads.
    pub fn frames(&self, options: &PageOptions) -> Result<Vec<String>, PageTrouble> {
        let settings = options.settings(&self.study, DrawingLimit::SERIES)?;
        if self.study.course(settings.motion, settings.case).is_none() {
            return Ok(Vec::new());
        }
        let film = Film::new(&self.study, &settings);
        let parts = film.parts(FRAMES).into_iter();
        Ok(parts
            .map(|part| svg(&film.at(part), Fonts::Inside))
            .collect())
    }

    /// The motion as an animated GIF on white; empty where there is no motion.
    ///
    /// # Errors
    /// As [`PageScene::frames`].
    pub fn film(&self, options: &PageOptions) -> Result<Vec<u8>, PageTrouble> {
        let settings = options.settings(&self.study, DrawingLimit::SERIES)?;
        let mut bytes = Vec::new();
        if self.study.course(settings.motion, settings.case).is_none() {
            return Ok(bytes);
        }
        let film = Film::new(&self.study, &settings);
        let per_point = FILM_PIXELS / film.width();
        let frames: Result<Vec<Pixels>, RasterError> = film
            .parts(FRAMES)
            .into_iter()
            .map(|part| pixels(&film.at(part), per_point, Colour::WHITE))
            .collect();
        let frames = frames.map_err(|error| PageTrouble::said(&error))?;
        gif(&mut bytes, frames.into_iter(), HUNDREDTHS)
            .map_err(|error| PageTrouble::said(&error))?;
        Ok(bytes)
    }

    /// The report as one HTML page.
    ///
    /// # Errors
    /// As [`PageScene::figure`].
    pub fn report_html(&self, options: &PageOptions) -> Result<String, PageTrouble> {
        Ok(document::html(&self.report(options)?))
    }

    /// The report as a PDF file.
    ///
    /// # Errors
    /// As [`PageScene::figure`].
    pub fn report_pdf(&self, options: &PageOptions) -> Result<Vec<u8>, PageTrouble> {
        Ok(document::pdf(&self.report(options)?))
    }

    fn report(&self, options: &PageOptions) -> Result<document::Document, PageTrouble> {
        let settings = options.settings(&self.study, DrawingLimit::FIGURE)?;
        let digits = settings.digits;
        let settings = FigureSettings {
            parts: FigurePart::REPORT.into(),
            case: settings.case,
            digits,
            ..FigureSettings::default()
        };
        let figure =
            figure::in_document(&self.study, settings, figure::IN_DOCUMENT_MM, &|_, _, _| {});
        let record = ReportRecord::default();
        let case = options.case_alone(&self.study)?;
        Ok(report::paper::document(&ReportDocument {
            report: Report {
                study: &self.study,
                case,
            },
            figure: Some(&figure),
            diagrams: &figure::diagrams(&self.study, case, digits),
            is_worked: true,
            has_details: true,
            digits,
            record: Some(&record),
        }))
    }

    /// The lesson as a page of slides.
    ///
    /// # Errors
    /// As [`PageScene::frames`].
    pub fn deck(&self, options: &PageOptions) -> Result<String, PageTrouble> {
        let settings = options.settings(&self.study, DrawingLimit::SERIES)?;
        let motions = self.study.selections(settings.case);
        Ok(deck::html(&deck::deck(&self.study, &settings, &motions)))
    }

    /// The diagnosis as JSON, as `sixhold check --format json` prints it.
    ///
    /// # Errors
    /// Where it has no such form.
    pub fn check(&self) -> Result<String, PageTrouble> {
        let report = Report {
            study: &self.study,
            case: None,
        };
        report::json::object(&report).map_err(|error| PageTrouble::said(&error))
    }

    /// The address of the scene at a page, with the options that an address can say.
    ///
    /// # Errors
    /// Where the scene is too large for an address.
    pub fn address(&self, page: &str, options: &PageOptions) -> Result<String, PageTrouble> {
        let same = builtin::all().iter().find(|scene| scene.text == self.text);
        let scene = match same {
            Some(found) => AddressedScene::BuiltIn(found.name),
            None => AddressedScene::Text(self.text.clone()),
        };
        let address = options.address(scene);
        address.at(page).map_err(|error| PageTrouble::said(&error))
    }
}

/// What an address says beside its scene, as options.
///
/// # Errors
/// Why the address is not understood.
pub fn options_of(address: &str) -> Result<PageOptions, PageTrouble> {
    let read = SceneAddress::read(address).map_err(|error| PageTrouble::said(&error))?;
    Ok(PageOptions {
        case: read.case,
        theme: read.theme,
        view: read.view,
        stage: read.stage.map(|stage| stage.name().to_owned()),
        guess: read.guess,
        digits: USUAL_DIGITS,
        ..PageOptions::default()
    })
}

#[cfg(test)]
mod tests;
