//! The module of the window in a web page: what JavaScript calls.
//!
//! Built for `wasm32-unknown-unknown` by `assets/web/build`.

use js_sys::Function;
use sixhold::viewer::in_page::{self, PageWindow};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

fn main() {}

/// Puts the window on a canvas, which fills the element around it; `listener` is called with what it says, as JSON.
///
/// Throws a text where the scene cannot be opened.
#[wasm_bindgen]
pub fn begin(
    text: String,
    canvas: String,
    theme: String,
    reduced_motion: bool,
    listener: Function,
) -> Result<(), String> {
    let window = PageWindow {
        text,
        canvas,
        theme,
        reduced_motion,
    };
    let hear = move |news: &str| {
        // What the page makes of it is its own affair.
        let _ = listener.call1(&JsValue::NULL, &JsValue::from_str(news));
    };
    in_page::begin(window, Box::new(hear)).map_err(|error| error.to_string())
}

/// Shows another scene.
#[wasm_bindgen]
pub fn open(text: String) {
    in_page::open(text);
}

/// Takes up, as a step that can be undone, what was made of the scene on the page.
#[wasm_bindgen]
pub fn change(text: String) {
    in_page::change(text);
}

/// Takes it that this text of the scene is saved.
#[wasm_bindgen]
pub fn saved(text: String) {
    in_page::saved(text);
}

/// Puts on the colours of a theme.
#[wasm_bindgen]
pub fn dress(theme: String) {
    in_page::dress(theme);
}
