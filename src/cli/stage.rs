//! What the commands hand to the 3D view.

use super::args::{CameraArg, NamedView};
use crate::viewer::framing::View;

impl From<CameraArg> for View {
    fn from(camera: CameraArg) -> Self {
        match camera {
            CameraArg::Angles { azimuth, elevation } => Self::Angles { azimuth, elevation },
            CameraArg::Named(NamedView::Usual) => Self::Usual,
            CameraArg::Named(NamedView::Front) => Self::Front,
            CameraArg::Named(NamedView::Side) => Self::Side,
            CameraArg::Named(NamedView::Top) => Self::Top,
            CameraArg::Named(NamedView::ThreeQuarter) => Self::ThreeQuarter,
            CameraArg::Named(NamedView::Axis) => Self::Axis,
        }
    }
}
