//! The pointer over the scene, and what it aims at.

use bevy::ecs::system::SystemParam;
use bevy::input::ButtonState;
use bevy::prelude::*;
use bevy::window::{PrimaryWindow, WindowEvent};
use bevy_egui::input::EguiWantsInput;
use nalgebra::{Point3, Vector3};

use super::camera::{Covered, FreeArea, WindowCamera};
use super::stage::StageFrame;
use crate::draft::{SightLine, SightRay};

/// Notes where presses happen.
pub(crate) struct PointerPlugin;

impl Plugin for PointerPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<PressedAt>()
            .add_message::<WindowEvent>()
            .add_systems(PreUpdate, note_presses);
    }
}

/// Where the pointer was when its left button went down last. A slow frame hears of the press and of the way the pointer went after it
/// at once, and a hand that pulls means the place of the press.
#[derive(Resource, Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct PressedAt {
    now: Option<Vec2>,
    pressed: Option<Vec2>,
}

fn note_presses(mut events: MessageReader<WindowEvent>, mut at: ResMut<PressedAt>) {
    for event in events.read() {
        match event {
            WindowEvent::CursorMoved(moved) => at.now = Some(moved.position),
            WindowEvent::CursorLeft(_) => at.now = None,
            WindowEvent::MouseButtonInput(input)
                if input.button == MouseButton::Left && input.state == ButtonState::Pressed =>
            {
                at.pressed = at.now;
            }
            _ => {}
        }
    }
}

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
    pressed: Option<Res<'w, PressedAt>>,
}

impl Pointer<'_, '_> {
    /// Where it is in the window, in logical pixels.
    pub(crate) fn position(&self) -> Option<Vec2> {
        self.window.as_ref()?.cursor_position()
    }

    /// Where its left button went down last.
    pub(crate) fn pressed_at(&self) -> Option<Vec2> {
        let noted = self.pressed.as_ref().and_then(|at| at.pressed);
        noted.or_else(|| self.position())
    }

    /// The line of sight through the pointer; `None` over panels.
    pub(crate) fn aim(&self) -> Option<SightLine<'_>> {
        self.aim_at(self.position()?)
    }

    /// The line of sight through where its left button went down last.
    pub(crate) fn aim_of_press(&self) -> Option<SightLine<'_>> {
        self.aim_at(self.pressed_at()?)
    }

    fn aim_at(&self, at: Vec2) -> Option<SightLine<'_>> {
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
        sight_line(at, camera, place, self.frame.as_deref()?)
    }
}

/// The line of sight through a place of the window, in logical pixels.
fn sight_line<'a>(
    at: Vec2,
    camera: &'a Camera,
    place: &'a GlobalTransform,
    frame: &'a StageFrame,
) -> Option<SightLine<'a>> {
    let ray = camera.viewport_to_world(place, at).ok()?;
    let direction = |way: Vec3| {
        let [x, y, z] = (frame.turn().inverse() * way).to_array().map(f64::from);
        Vector3::new(x, y, z)
    };
    let next = camera.viewport_to_world(place, at + Vec2::X).ok()?;
    let ray_of = |ray: &Ray3d| SightRay {
        origin: frame.scene_point(frame.turn().inverse() * ray.origin),
        way: direction(*ray.direction),
    };
    let pixels = move |point: &Point3<f64>| {
        let seen = camera.world_to_viewport(place, frame.world(point)).ok()?;
        Some(seen.distance(at))
    };
    let facing = direction(*place.forward());
    Some(SightLine::new(
        ray_of(&ray),
        ray_of(&next),
        facing,
        Box::new(pixels),
    ))
}
