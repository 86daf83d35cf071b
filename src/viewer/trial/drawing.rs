//! How far a link drawn by hand has come.

use bevy::prelude::*;

use crate::repair::{Drawable, LinkEnd};
use crate::study::Source;

/// Whether a link is being drawn, and how far it has come.
#[derive(Resource, Default)]
pub(crate) struct LinkDrawing {
    /// Whether the pointer draws instead of turning the picture.
    pub on: bool,
    /// Where a link starts or would start.
    pub(super) eye: Option<LinkEnd>,
    /// Whether the pointer is down and pulls the ground end.
    pub(super) pulling: bool,
    pub(super) body: Option<Drawable>,
    /// The scene that the body belongs to.
    pub(super) source: Option<Source>,
}

impl LinkDrawing {
    /// Whether the pointer belongs to the link and not to the camera.
    pub(crate) fn holds_pointer(&self) -> bool {
        self.pulling
    }

    /// Draws none any more.
    pub(super) fn stop(&mut self) {
        (self.on, self.pulling, self.eye) = (false, false, None);
    }
}
