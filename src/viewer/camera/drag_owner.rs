//! Who owns the pointer: a drag belongs to where it began, the scene or a panel, until every button is up.

use bevy::input::mouse::MouseMotion;
use bevy::prelude::*;
use bevy::window::WindowEvent;
use bevy_egui::input::EguiWantsInput;
use bevy_panorbit_camera::PanOrbitCamera;

use super::{Covered, FreeArea, PrimaryOnly, WindowCamera};
use crate::viewer::making::SceneEditor;
use crate::viewer::trial::LinkDrawing;

/// Who owns the present drag.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum DragOwner {
    /// No button is down.
    #[default]
    Nobody,
    /// The drag began on the scene.
    Scene,
    /// The drag began on a panel.
    Panel,
}

impl DragOwner {
    /// The owner after a frame in which buttons are down or not and the pointer is over a panel or not.
    pub(crate) fn next(self, down: bool, over_panel: bool) -> Self {
        match (self, down) {
            (_, false) => Self::Nobody,
            (Self::Nobody, true) if over_panel => Self::Panel,
            (Self::Nobody, true) => Self::Scene,
            (owner, true) => owner,
        }
    }

    /// Whether the camera may follow the pointer.
    pub(crate) fn camera_may_move(self, over_panel: bool) -> bool {
        match self {
            Self::Scene => true,
            Self::Panel => false,
            Self::Nobody => !over_panel,
        }
    }
}

/// A button that no mouse has: the orbit button while Shift makes the left button shift the picture.
const NO_BUTTON: MouseButton = MouseButton::Other(u16::MAX);

/// The camera follows the pointer as it is seen, not the mouse on the desk: a pen or a remote desktop may have no other
/// motion, and what is dragged stays under the pointer. A slow frame may hear of the way to a press with the press itself, and
/// that way drags nothing.
pub(super) fn follow_the_pointer(
    mut events: MessageReader<WindowEvent>,
    mut motions: ResMut<Messages<MouseMotion>>,
) {
    motions.clear();
    let delta = events.read().fold(Vec2::ZERO, |way, event| match event {
        WindowEvent::CursorMoved(moved) => way + moved.delta.unwrap_or_default(),
        WindowEvent::MouseButtonInput(button) if button.state.is_pressed() => Vec2::ZERO,
        _ => way,
    });
    if delta != Vec2::ZERO {
        motions.write(MouseMotion { delta });
    }
}

pub(super) fn keep_drags_with_their_owner(
    buttons: Res<ButtonInput<MouseButton>>,
    keys: Res<ButtonInput<KeyCode>>,
    (egui, free, covered): (
        Option<Res<EguiWantsInput>>,
        Res<FreeArea>,
        Option<Res<Covered>>,
    ),
    window: Option<Single<&Window, PrimaryOnly>>,
    (drawing, editor): (Option<Res<LinkDrawing>>, Option<Res<SceneEditor>>),
    mut owner: Local<DragOwner>,
    camera: Option<Single<&mut PanOrbitCamera, With<WindowCamera>>>,
) {
    let Some(mut camera) = camera else { return };
    // egui knows where the pointer was in the frame before, which a turn of the wheel may not wait for.
    let outside = window
        .and_then(|window| window.cursor_position())
        .is_some_and(|at| {
            let is_covered = covered.is_some_and(|covered| covered.0.contains(at));
            is_covered || !free.0.contains(at)
        });
    let wanted = egui.is_some_and(|egui| {
        egui.wants_pointer_input() || egui.is_using_pointer() || egui.is_popup_open()
    });
    let drawn = drawing.is_some_and(|drawing| drawing.holds_pointer())
        || editor.is_some_and(|editor| editor.holds_pointer());
    let over_panel = outside || wanted || drawn;
    let down = buttons.get_pressed().len() > 0;
    let fresh = *owner == DragOwner::Nobody;
    *owner = owner.next(down, over_panel);
    let enabled = owner.camera_may_move(over_panel);
    if camera.enabled != enabled {
        camera.enabled = enabled;
    }
    if fresh {
        let shift = keys.any_pressed([KeyCode::ShiftLeft, KeyCode::ShiftRight]);
        let (orbit, pan) = if shift {
            (NO_BUTTON, MouseButton::Left)
        } else {
            (MouseButton::Left, MouseButton::Right)
        };
        camera.button_orbit = orbit;
        camera.button_pan = pan;
    }
}

#[cfg(test)]
mod tests {
    use bevy::input::ButtonState;
    use bevy::input::mouse::MouseButtonInput;
    use bevy::window::CursorMoved;

    use super::*;

    #[test]
    fn a_drag_from_the_scene_goes_on_over_a_panel() {
        let mut owner = DragOwner::default();
        owner = owner.next(true, false);
        assert_eq!(owner, DragOwner::Scene);
        owner = owner.next(true, true);
        assert!(owner.camera_may_move(true));
        owner = owner.next(false, true);
        assert!(
            !owner.camera_may_move(true),
            "the wheel over a panel scrolls the panel"
        );
    }

    /// A quick click far from where the pointer was turned the scene by the way to it.
    #[test]
    fn the_way_to_a_press_drags_nothing() {
        let mut app = App::new();
        app.add_message::<WindowEvent>()
            .init_resource::<Messages<MouseMotion>>()
            .add_systems(Update, follow_the_pointer);
        let moved = |x: f32| {
            WindowEvent::CursorMoved(CursorMoved {
                window: Entity::PLACEHOLDER,
                position: Vec2::ZERO,
                delta: Some(Vec2::new(x, 0.0)),
            })
        };
        let press = WindowEvent::MouseButtonInput(MouseButtonInput {
            button: MouseButton::Left,
            state: ButtonState::Pressed,
            window: Entity::PLACEHOLDER,
        });
        for event in [moved(300.0), press, moved(2.0), moved(3.0)] {
            app.world_mut().write_message(event);
        }
        app.update();
        let motions = app.world().resource::<Messages<MouseMotion>>();
        let deltas: Vec<Vec2> = motions
            .iter_current_update_messages()
            .map(|motion| motion.delta)
            .collect();
        assert_eq!(deltas, [Vec2::new(5.0, 0.0)]);
    }

    #[test]
    fn a_drag_from_a_panel_never_turns_the_scene() {
        let mut owner = DragOwner::default().next(true, true);
        assert_eq!(owner, DragOwner::Panel);
        owner = owner.next(true, false);
        assert!(!owner.camera_may_move(false));
        owner = owner.next(false, false);
        assert!(owner.camera_may_move(false));
    }
}
