//! What the commands hand to the 3D view.

use super::args::{Camera, NamedView};
use super::open::{Opened, Source};
use crate::scene;
use crate::viewer::framing::View;
use crate::viewer::state::{self, Shown};

/// An opened scene for the stage.
pub fn shown(opened: Opened) -> Shown {
    Shown::new(opened.scene, opened.model, opened.source.into())
}

impl From<Source> for state::Source {
    fn from(source: Source) -> Self {
        match source {
            Source::BuiltIn(name) => Self::BuiltIn(name.to_owned()),
            Source::File(path) => Self::File(path),
            // Pictures and films read it once; the window refuses it.
            Source::Input => Self::File(scene::INPUT.into()),
        }
    }
}

impl From<Camera> for View {
    fn from(camera: Camera) -> Self {
        match camera {
            Camera::Angles { azimuth, elevation } => Self::Angles { azimuth, elevation },
            Camera::Named(NamedView::Usual) => Self::Usual,
            Camera::Named(NamedView::Front) => Self::Front,
            Camera::Named(NamedView::Side) => Self::Side,
            Camera::Named(NamedView::Top) => Self::Top,
            Camera::Named(NamedView::ThreeQuarter) => Self::ThreeQuarter,
            Camera::Named(NamedView::Axis) => Self::Axis,
        }
    }
}
