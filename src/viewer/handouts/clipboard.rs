//! Pictures in the system's clipboard.

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
        let mut held = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let clipboard = match held.as_mut() {
            Some(clipboard) => clipboard,
            None => held.insert(arboard::Clipboard::new().map_err(|error| error.to_string())?),
        };
        clipboard
            .set_image(image)
            .map_err(|error| error.to_string())
    }
}
