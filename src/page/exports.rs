//! The module of the web page: what JavaScript calls. It answers with text, or throws what is wrong as JSON.
//!
//! Built for `wasm32-unknown-unknown` by `assets/web/build`.

use serde::Serialize;
use sixhold::page::{self, PageDrag, PageOptions, PageScene, PageSheet, PageTrouble};
use wasm_bindgen::prelude::wasm_bindgen;

fn main() {}

/// A scene that has been read.
#[wasm_bindgen(js_name = Scene)]
pub struct ExportedScene(PageScene);

/// A drag under way.
#[wasm_bindgen(js_name = Drag)]
pub struct ExportedDrag(PageDrag);

#[wasm_bindgen(js_class = Drag)]
impl ExportedDrag {
    /// The text and the name of the change with the place drawn to a spot, as JSON; nothing where it cannot be drawn there.
    pub fn to(&self, x: f64, y: f64, points_per_pixel: f64, free: bool) -> Option<String> {
        let moved = self.0.to([x, y], points_per_pixel, free)?;
        Some(json(&moved))
    }
}

/// An exercise sheet.
#[wasm_bindgen(js_name = Sheet)]
pub struct ExportedSheet(PageSheet);

#[wasm_bindgen(js_class = Sheet)]
impl ExportedSheet {
    /// Draws the problems of a sheet, from options as JSON.
    pub fn drawn(options: &str) -> Result<ExportedSheet, String> {
        PageSheet::drawn(options).map(ExportedSheet).map_err(thrown)
    }

    /// One of its files.
    pub fn file(&self, name: &str) -> Result<Vec<u8>, String> {
        self.0.file(name).map_err(thrown)
    }
}

/// Names and titles of the topics of sheets, as JSON.
#[wasm_bindgen(js_name = sheetTopics)]
pub fn sheet_topics() -> String {
    json(&page::sheet_topics())
}

fn json(value: &impl Serialize) -> String {
    // Plain structures of texts and numbers have a JSON form.
    serde_json::to_string(value).unwrap_or_default()
}

fn thrown(trouble: PageTrouble) -> String {
    json(&trouble)
}

#[wasm_bindgen(js_class = Scene)]
impl ExportedScene {
    /// Reads a scene from its text.
    pub fn read(name: &str, text: &str) -> Result<ExportedScene, String> {
        PageScene::open(name, text)
            .map(ExportedScene)
            .map_err(thrown)
    }

    /// A built-in scene.
    #[wasm_bindgen(js_name = builtIn)]
    pub fn built_in(name: &str) -> Result<ExportedScene, String> {
        PageScene::built_in(name).map(ExportedScene).map_err(thrown)
    }

    /// The scene of an address, or of what comes after its `#`.
    pub fn addressed(address: &str) -> Result<ExportedScene, String> {
        PageScene::addressed(address)
            .map(ExportedScene)
            .map_err(thrown)
    }

    /// The text as it was read.
    pub fn text(&self) -> String {
        self.0.text().to_owned()
    }

    /// The sentence, the numbers and what there is to choose, as JSON.
    pub fn answer(&self, options: &str) -> Result<String, String> {
        let answer = PageOptions::read(options).and_then(|options| self.0.answer(&options));
        answer.map(|answer| json(&answer)).map_err(thrown)
    }

    /// A figure as SVG.
    pub fn figure(&self, options: &str) -> Result<String, String> {
        let figure = PageOptions::read(options).and_then(|options| self.0.figure(&options));
        figure.map_err(thrown)
    }

    /// The places that can be dragged, on the figure that was drawn last, as JSON.
    pub fn handles(&self) -> String {
        json(&self.0.handles())
    }

    /// What can be done with one click to the thing that a place belongs to, as JSON.
    pub fn changes(&self, index: usize) -> String {
        json(&self.0.changes(index))
    }

    /// Takes hold of a place on the figure that was drawn last.
    pub fn grab(&self, index: usize) -> Result<ExportedDrag, String> {
        self.0.grab(index).map(ExportedDrag).map_err(thrown)
    }

    /// The frames of a swing, each an SVG.
    pub fn frames(&self, options: &str) -> Result<Vec<String>, String> {
        let frames = PageOptions::read(options).and_then(|options| self.0.frames(&options));
        frames.map_err(thrown)
    }

    /// The motion as an animated GIF; empty where there is no motion.
    pub fn film(&self, options: &str) -> Result<Vec<u8>, String> {
        let film = PageOptions::read(options).and_then(|options| self.0.film(&options));
        film.map_err(thrown)
    }

    /// The report as an HTML page.
    #[wasm_bindgen(js_name = reportHtml)]
    pub fn report_html(&self, options: &str) -> Result<String, String> {
        let report = PageOptions::read(options).and_then(|options| self.0.report_html(&options));
        report.map_err(thrown)
    }

    /// The report as a PDF file.
    #[wasm_bindgen(js_name = reportPdf)]
    pub fn report_pdf(&self, options: &str) -> Result<Vec<u8>, String> {
        let report = PageOptions::read(options).and_then(|options| self.0.report_pdf(&options));
        report.map_err(thrown)
    }

    /// The lesson as a page of slides.
    pub fn deck(&self, options: &str) -> Result<String, String> {
        let deck = PageOptions::read(options).and_then(|options| self.0.deck(&options));
        deck.map_err(thrown)
    }

    /// The whole diagnosis as JSON.
    pub fn check(&self) -> Result<String, String> {
        self.0.check().map_err(thrown)
    }

    /// The address of the scene at a page.
    pub fn address(&self, page: &str, options: &str) -> Result<String, String> {
        let address = PageOptions::read(options).and_then(|options| self.0.address(page, &options));
        address.map_err(thrown)
    }
}

/// The built-in scenes, as JSON.
#[wasm_bindgen]
pub fn scenes() -> String {
    json(&page::listing())
}

/// The colours of a theme as JSON: meaning to `#rrggbb`.
#[wasm_bindgen]
pub fn colours(theme: &str) -> Result<String, String> {
    page::colours(theme)
        .map(|colours| json(&colours))
        .map_err(thrown)
}

/// What an address says beside its scene, as JSON.
#[wasm_bindgen(js_name = optionsOf)]
pub fn options_of(address: &str) -> Result<String, String> {
    page::options_of(address)
        .map(|options| json(&options))
        .map_err(thrown)
}
