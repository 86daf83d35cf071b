//! What the commands hand to the 3D view.

use super::args::{Camera, NamedView};
use crate::viewer::framing::View;

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
