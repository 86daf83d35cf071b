//! A slow turn about the vertical, so that a class sees the depth of what is on the wall.

use bevy::prelude::*;
use bevy_panorbit_camera::PanOrbitCamera;

use super::flight::CameraState;
use super::{CurrentView, WindowCamera};
use crate::viewer::lecture::LectureView;
use crate::viewer::redraw::{FramesToDraw, frame_seconds};

/// Degrees a second.
const RATE: f32 = 8.0;

pub(super) fn turn_slowly(
    time: Res<Time>,
    lectern: Option<Res<LectureView>>,
    buttons: Res<ButtonInput<MouseButton>>,
    mut view: ResMut<CurrentView>,
    mut frames: ResMut<FramesToDraw>,
    camera: Option<Single<&mut PanOrbitCamera, With<WindowCamera>>>,
) {
    // Whoever has the picture in hand holds it.
    let held = buttons.get_pressed().next().is_some();
    let turning = lectern.is_some_and(|lectern| lectern.is_turning());
    let Some(mut camera) = camera.filter(|_| turning && !held && view.flight.is_none()) else {
        return;
    };
    let angle = RATE * frame_seconds(&time);
    let here = CameraState::of(&camera);
    here.turned(angle.to_radians(), 0.0).apply(&mut camera);
    view.view = None;
    frames.until_settled();
}
