//! The pointer over the scene, and what it aims at.

mod aim;

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;
use bevy::window::PrimaryWindow;
use bevy_egui::input::EguiWantsInput;

use super::camera::{FreeArea, WindowCamera};
use super::stage::StageFrame;
pub(crate) use aim::Aim;

/// What of the scene lies under the line that says what is in hand, in logical pixels. egui knows what the pointer is over only since
/// the frame before, and a quick click is over by then.
#[derive(Resource, Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Covered(pub(crate) Rect);

/// Where the pointer is, and what it may act on.
#[derive(SystemParam)]
pub(crate) struct Pointer<'w, 's> {
    window: Option<Single<'w, 's, &'static Window, With<PrimaryWindow>>>,
    camera: Option<Single<'w, 's, (&'static Camera, &'static GlobalTransform), With<WindowCamera>>>,
    frame: Option<Res<'w, StageFrame>>,
    /// Its buttons.
    pub(crate) buttons: Res<'w, ButtonInput<MouseButton>>,
    egui: Option<Res<'w, EguiWantsInput>>,
    free: Res<'w, FreeArea>,
    covered: Option<Res<'w, Covered>>,
}

impl Pointer<'_, '_> {
    /// Where it is in the window, in logical pixels.
    pub(crate) fn position(&self) -> Option<Vec2> {
        self.window.as_ref()?.cursor_position()
    }

    /// The line of sight through the pointer; `None` over panels.
    pub(crate) fn aim(&self) -> Option<Aim<'_>> {
        let at = self.position()?;
        let wanted = self
            .egui
            .as_ref()
            .is_some_and(|egui| egui.wants_pointer_input() || egui.is_popup_open());
        let covered = self
            .covered
            .as_ref()
            .is_some_and(|covered| covered.0.contains(at));
        if wanted || covered || !self.free.0.contains(at) {
            return None;
        }
        let (camera, place) = **self.camera.as_ref()?;
        Aim::through(at, camera, place, self.frame.as_deref()?)
    }
}
