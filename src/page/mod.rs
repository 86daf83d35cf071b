//! What a web page asks of a scene: text in, text out, without files, clocks or threads.
//!
//! [`PageScene`] is a scene that has been read and studied; `exports.rs` hands it to JavaScript.

mod answer;
mod change;
mod drag;
mod options;
mod trouble;

pub use answer::{PageAnswer, listing};
pub use change::PageChange;
pub use drag::{PageDrag, PageHandle, PageMove};
pub use options::{PageOptions, colours};
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
        Ok(report::paper::document(&ReportDocument {
            report: Report {
                study: &self.study,
                case: options.case_alone(&self.study)?,
            },
            figure: Some(&figure),
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
mod tests {
    use super::*;

    #[test]
    fn every_built_in_scene_is_answered_and_drawn() {
        for scene in builtin::all() {
            let page = PageScene::built_in(scene.name).unwrap();
            let options = PageOptions::default();
            let answer = page.answer(&options).unwrap();
            assert_eq!(answer.numbers.len(), 4, "{}", scene.name);
            assert!(page.figure(&options).unwrap().starts_with("<svg"));
            let address = page.address("https://dome.example/", &options).unwrap();
            assert_eq!(
                address,
                format!("https://dome.example/#scene={}", scene.name)
            );
        }
    }

    #[test]
    fn a_scene_goes_through_an_address_with_all_that_is_shown() {
        let text = builtin::find("street-lamp")
            .unwrap()
            .text
            .replace("street", "steep");
        let page = PageScene::open("lamp", &text).unwrap();
        let options = PageOptions {
            theme: Some("stark".to_owned()),
            stage: Some("Count".to_owned()),
            guess: true,
            ..PageOptions::default()
        };
        let address = page.address("http://localhost/", &options).unwrap();
        assert_eq!(PageScene::addressed(&address).unwrap().text(), text);
        assert_eq!(options_of(&address).unwrap(), options);
    }

    #[test]
    fn what_is_wrong_is_said_with_its_place() {
        let Err(trouble) = PageScene::open("mine", "(format: 1,\n  body: [Blok()])") else {
            panic!("no scene");
        };
        let problem = &trouble.problems[0];
        assert_eq!((problem.line, problem.column), (Some(2), Some(10)));
        assert!(
            problem
                .hint
                .as_ref()
                .is_some_and(|hint| hint.contains("Block"))
        );
        let page = PageScene::built_in("handrail").unwrap();
        for (options, expected) in [
            (
                PageOptions {
                    case: Some("gale".into()),
                    ..PageOptions::default()
                },
                "gale",
            ),
            (
                PageOptions {
                    motion: Some("7".into()),
                    ..PageOptions::default()
                },
                "motion 7",
            ),
            (
                PageOptions {
                    theme: Some("neon".into()),
                    ..PageOptions::default()
                },
                "neon",
            ),
            (
                PageOptions {
                    parts: Some("bodies".into()),
                    ..PageOptions::default()
                },
                "bodies",
            ),
            (
                PageOptions {
                    width: Some(1e9),
                    ..PageOptions::default()
                },
                "1200",
            ),
        ] {
            let said = page.figure(&options).unwrap_err().problems[0]
                .message
                .clone();
            assert!(said.contains(expected), "{said}");
        }
    }

    /// A place is dragged to where it is seen, and comes to rest at what lies near; the rest of the text stays as it is.
    #[test]
    fn a_support_is_dragged_along_its_beam() {
        let text = builtin::find("sill-beam").unwrap().text;
        let page = PageScene::open("sill-beam", text).unwrap();
        page.figure(&PageOptions::default()).unwrap();
        let handles = page.handles();
        let b = handles
            .iter()
            .find(|handle| handle.thing == "support B")
            .unwrap();
        let a = handles
            .iter()
            .find(|handle| handle.thing == "support A")
            .unwrap();
        assert!(b.sentence.contains("rocker"), "{}", b.sentence);
        let halfway = [(a.spot[0] + b.spot[0]) / 2.0 + 0.4, b.spot[1]];
        let moved = page
            .grab(b.index)
            .unwrap()
            .to(halfway, 0.75, false)
            .unwrap();
        let scene = PageScene::open("sill-beam", &moved.text).unwrap();
        let at = scene.study.scene().supports[1].at.clone();
        assert_eq!(scene.study.scene().position(&at).map(|at| at[0]), Some(2.0));
        let changed = |a: &str, b: &str| a.lines().zip(b.lines()).filter(|(a, b)| a != b).count();
        assert_eq!(
            (moved.text.lines().count(), changed(&moved.text, text)),
            (text.lines().count(), 1)
        );
        assert!(page.grab(99).is_err());
    }

    #[test]
    fn a_thing_in_hand_is_taken_out_copied_or_made_another_kind() {
        let page = PageScene::built_in("handrail").unwrap();
        let changes = page.changes(0);
        let found = |words: &str| {
            let change = changes.iter().find(|change| change.words == words);
            let text = &change.unwrap_or_else(|| panic!("{words}")).change.text;
            PageScene::open("handrail", text).unwrap()
        };
        let counts = |page: PageScene| page.study.diagnosis().counts.unknowns;
        assert_eq!(counts(found("take it out")), 3);
        assert_eq!(counts(found("duplicate it")), 9);
        assert_eq!(counts(found("make it a fixed support")), 9);
        assert!(
            changes
                .iter()
                .all(|change| !change.words.ends_with("ball joint"))
        );
        assert!(page.changes(999).is_empty());
    }

    #[test]
    fn what_is_dragged_in_space_stays_under_the_pointer() {
        for name in ["handrail", "mirror-cell", "street-lamp"] {
            let page = PageScene::built_in(name).unwrap();
            page.figure(&PageOptions::default()).unwrap();
            for handle in page.handles() {
                let to = [handle.spot[0] + 7.0, handle.spot[1] - 3.0];
                let Some(moved) = page.grab(handle.index).unwrap().to(to, 0.75, true) else {
                    continue;
                };
                let scene = PageScene::open(name, &moved.text).unwrap();
                scene.map.set(page.map.get());
                let now = scene.handles()[handle.index].spot;
                let apart = (now[0] - to[0]).hypot(now[1] - to[1]);
                assert!(apart < 1.5, "{name}, {}: {apart}", handle.thing);
            }
        }
    }

    #[test]
    fn the_motion_has_frames_of_one_size() {
        let held = PageScene::built_in("sill-beam").unwrap();
        assert!(held.frames(&PageOptions::default()).unwrap().is_empty());
        assert!(held.film(&PageOptions::default()).unwrap().is_empty());
        let page = PageScene::built_in("handrail").unwrap();
        let frames = page.frames(&PageOptions::default()).unwrap();
        let size = |svg: &str| {
            svg.split("viewBox=")
                .nth(1)
                .map(|rest| rest[..24].to_owned())
        };
        assert_eq!(frames.len(), FRAMES);
        assert!(frames.iter().all(|frame| size(frame) == size(&frames[0])));
        assert!(frames[0] != frames[FRAMES / 4]);
        let film = page.film(&PageOptions::default()).unwrap();
        let mut reader = gif::DecodeOptions::new()
            .read_info(film.as_slice())
            .unwrap();
        assert_eq!(f64::from(reader.width()), FILM_PIXELS);
        let mut count = 0;
        while reader.read_next_frame().unwrap().is_some() {
            count += 1;
        }
        assert!((FRAMES / 2..=FRAMES).contains(&count), "{count}");
    }
}
