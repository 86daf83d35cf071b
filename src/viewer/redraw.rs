//! Idling: the window is redrawn only while something changes, so that a picture at rest costs nothing.

use std::time::Duration;

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;
use bevy::window::{
    RequestRedraw, WindowBackendScaleFactorChanged, WindowFocused, WindowMoved, WindowOccluded,
    WindowResized, WindowScaleFactorChanged,
};
use bevy::winit::{UpdateMode, WinitSettings};
use bevy_egui::{EguiInput, EguiInputSet, EguiPreUpdateSet, egui};

use super::intent::RecentIntents;
use super::shown::ShownParam;
use super::state::{FileTrouble, Look, Playback};

/// Keeps the event loop asleep while nothing moves and awake while something does.
pub(crate) struct RedrawPlugin;

impl Plugin for RedrawPlugin {
    fn build(&self, app: &mut App) {
        app.insert_resource(WinitSettings {
            focused_mode: UpdateMode::reactive_low_power(LONGEST_SLEEP),
            unfocused_mode: UpdateMode::reactive_low_power(LONGEST_SLEEP),
        })
        .init_resource::<FramesToDraw>()
        .add_systems(
            PreUpdate,
            drop_unchanged_modifiers
                .after(EguiInputSet::WriteEguiEvents)
                .before(EguiPreUpdateSet::BeginPass),
        )
        .add_systems(Last, request_redraws);
    }
}

/// Even at rest a frame is drawn this often.
const LONGEST_SLEEP: Duration = Duration::from_secs(30);
/// Frames drawn after the last change: panels settle, labels find their places, meshes reach the screen.
const SETTLING_FRAMES: u8 = 4;
/// Frames drawn after the start, for all that is made ready in the background.
const FIRST_FRAMES: u8 = 6;

/// Longest time that one frame may count for, s: after a slow frame, or a rest, what moves is late and never jumps.
const LONGEST_FRAME: f32 = 0.25;

/// The seconds by which a frame advances what moves.
pub(crate) fn frame_seconds(time: &Time) -> f32 {
    time.delta_secs().min(LONGEST_FRAME)
}

/// How many more frames are to be drawn.
#[derive(Resource, Debug, PartialEq, Eq)]
pub(crate) struct FramesToDraw {
    frames: u8,
}

impl Default for FramesToDraw {
    fn default() -> Self {
        Self {
            frames: FIRST_FRAMES,
        }
    }
}

impl FramesToDraw {
    /// Asks for one more frame.
    pub(crate) fn at_least_one(&mut self) {
        self.frames = self.frames.max(1);
    }

    /// Asks for frames until things have settled.
    pub(crate) fn until_settled(&mut self) {
        self.frames = self.frames.max(SETTLING_FRAMES);
    }

    /// Whether a rest follows the next frame.
    pub(crate) fn are_over(&self) -> bool {
        self.frames <= 1
    }
}

/// Every frame egui is told which modifiers are held; told only of changes it can rest.
fn drop_unchanged_modifiers(
    mut inputs: Query<&mut EguiInput>,
    mut last: Local<Option<egui::Modifiers>>,
) {
    for mut input in &mut inputs {
        let known = &mut *last;
        input.events.retain(|event| match event {
            egui::Event::ModifiersChanged(now) => known.replace(*now) != Some(*now),
            _ => true,
        });
    }
}

/// What happens to the window from outside, after which it has to be drawn though nothing in it changed.
#[derive(SystemParam)]
pub(crate) struct FromOutside<'w, 's> {
    resized: MessageReader<'w, 's, WindowResized>,
    scaled: MessageReader<'w, 's, WindowScaleFactorChanged>,
    backend_scaled: MessageReader<'w, 's, WindowBackendScaleFactorChanged>,
    covered: MessageReader<'w, 's, WindowOccluded>,
    focused: MessageReader<'w, 's, WindowFocused>,
    moved: MessageReader<'w, 's, WindowMoved>,
}

impl FromOutside<'_, '_> {
    /// Whether anything did since this was asked last.
    fn any(&mut self) -> bool {
        let counts = [
            self.resized.read().count(),
            self.scaled.read().count(),
            self.backend_scaled.read().count(),
            self.covered.read().count(),
            self.focused.read().count(),
            self.moved.read().count(),
        ];
        counts.iter().any(|count| *count > 0)
    }
}

/// Draws on while something changes.
pub(crate) fn request_redraws(
    mut left: ResMut<FramesToDraw>,
    asked: RecentIntents,
    mut outside: FromOutside,
    (playback, look, trouble): (Res<Playback>, Res<Look>, Res<FileTrouble>),
    shown: Option<ShownParam>,
    mut redraws: MessageWriter<RequestRedraw>,
) {
    let changed = look.is_changed()
        || trouble.is_changed()
        || playback.is_changed()
        || shown.is_some_and(|shown| shown.is_changed());
    if outside.any() || changed || playback.playing || !asked.is_empty() {
        left.until_settled();
    }
    if left.frames > 0 {
        left.frames -= 1;
        redraws.write(RequestRedraw);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::theme::ThemeName;
    use crate::viewer::intent::add_messages;

    fn app() -> App {
        let mut app = App::new();
        add_messages(&mut app);
        app.add_plugins(MinimalPlugins)
            .init_resource::<FramesToDraw>()
            .init_resource::<Playback>()
            .init_resource::<FileTrouble>()
            .insert_resource(Look::new(ThemeName::Hall))
            .add_message::<RequestRedraw>()
            .add_message::<WindowResized>()
            .add_message::<WindowScaleFactorChanged>()
            .add_message::<WindowBackendScaleFactorChanged>()
            .add_message::<WindowOccluded>()
            .add_message::<WindowFocused>()
            .add_message::<WindowMoved>()
            .add_systems(Last, request_redraws);
        app
    }

    /// Frames that are drawn before the loop would sleep; at most 100.
    fn frames_until_rest(app: &mut App) -> usize {
        (0..100)
            .find(|_| {
                app.world_mut()
                    .resource_mut::<Messages<RequestRedraw>>()
                    .clear();
                app.update();
                app.world().resource::<Messages<RequestRedraw>>().is_empty()
            })
            .unwrap_or(100)
    }

    #[test]
    fn it_rests_when_nothing_changes() {
        let mut app = app();
        assert!(frames_until_rest(&mut app) < 30);
        assert_eq!(frames_until_rest(&mut app), 0);
    }

    #[test]
    fn a_change_of_look_is_drawn_and_then_it_rests() {
        let mut app = app();
        frames_until_rest(&mut app);
        app.world_mut().resource_mut::<Look>().theme = ThemeName::Daylight;
        let frames = frames_until_rest(&mut app);
        assert!((1..10).contains(&frames), "{frames}");
    }

    /// The last picture of a resize stayed, cut off, until the pointer moved.
    #[test]
    fn a_resize_is_drawn_and_then_it_rests() {
        let mut app = app();
        frames_until_rest(&mut app);
        app.world_mut().write_message(WindowResized {
            window: Entity::PLACEHOLDER,
            width: 700.0,
            height: 500.0,
        });
        let frames = frames_until_rest(&mut app);
        assert!((1..10).contains(&frames), "{frames}");
    }

    #[test]
    fn it_never_rests_while_the_body_moves() {
        let mut app = app();
        app.world_mut().resource_mut::<Playback>().playing = true;
        assert_eq!(frames_until_rest(&mut app), 100);
    }
}
