//! Pictures and addresses in the system's clipboard.

use std::sync::{Arc, Mutex, PoisonError};

use arboard::ImageData;
use image::RgbaImage;

/// The system's clipboard. On some systems what was copied is there only as long as the program that copied it holds it.
#[derive(Clone, Default)]
pub(super) struct Clipboard(Arc<Mutex<Option<arboard::Clipboard>>>);

impl Clipboard {
    /// Puts a picture into the clipboard, or says why it cannot be there.
    pub(super) fn take(&self, picture: RgbaImage) -> Result<(), String> {
        let (width, height) = picture.dimensions();
        let image = ImageData {
            width: width as usize,
            height: height as usize,
            bytes: picture.into_raw().into(),
        };
        self.with(|clipboard| clipboard.set_image(image))
    }

    /// Puts a text into the clipboard, or says why it cannot be there.
    pub(super) fn take_text(&self, text: String) -> Result<(), String> {
        self.with(|clipboard| clipboard.set_text(text))
    }

    fn with(
        &self,
        put: impl FnOnce(&mut arboard::Clipboard) -> Result<(), arboard::Error>,
    ) -> Result<(), String> {
        let mut held = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let clipboard = match held.as_mut() {
            Some(clipboard) => clipboard,
            None => held.insert(arboard::Clipboard::new().map_err(|error| error.to_string())?),
        };
        put(clipboard).map_err(|error| error.to_string())
    }
}
