//! The window over the whole screen, with or without a window manager to put it there.

use bevy::prelude::*;
use bevy::window::{Monitor, MonitorSelection, PrimaryMonitor, PrimaryWindow, WindowMode};

use super::intent::{LookIntent, add_messages};
use super::state::ViewerSystems;

/// Lets the window fill the screen and come back.
pub(crate) struct FullScreenPlugin;

impl Plugin for FullScreenPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.add_systems(Update, fill_the_screen.in_set(ViewerSystems::Input));
    }
}

/// A window manager is asked, and without one the window is made as large as the screen: nobody else would do it.
fn fill_the_screen(
    mut intents: MessageReader<LookIntent>,
    window: Option<Single<&mut Window, With<PrimaryWindow>>>,
    monitors: Query<(&Monitor, Has<PrimaryMonitor>)>,
    mut usual: Local<Option<(UVec2, WindowPosition)>>,
) {
    let asked = intents.read();
    let asked = asked.filter(|intent| matches!(intent, LookIntent::FullScreen));
    let (Some(mut window), true) = (window, asked.count() % 2 == 1) else {
        return;
    };
    if window.mode != WindowMode::Windowed {
        window.mode = WindowMode::Windowed;
        if let Some((size, position)) = usual.take() {
            window.resolution.set_physical_resolution(size.x, size.y);
            window.position = position;
        }
        return;
    }
    *usual = Some((window.physical_size(), window.position));
    window.mode = WindowMode::BorderlessFullscreen(MonitorSelection::Current);
    let primary = monitors.iter().max_by_key(|(_, primary)| *primary);
    if let Some((monitor, _)) = primary {
        let [width, height] = [monitor.physical_width, monitor.physical_height];
        window.resolution.set_physical_resolution(width, height);
        window.position = WindowPosition::At(monitor.physical_position);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_window_is_as_large_as_the_screen_and_comes_back() {
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, FullScreenPlugin));
        let window = app
            .world_mut()
            .spawn((Window::default(), PrimaryWindow))
            .id();
        app.world_mut().spawn((
            PrimaryMonitor,
            Monitor {
                name: None,
                physical_width: 3840,
                physical_height: 2160,
                physical_position: IVec2::ZERO,
                refresh_rate_millihertz: None,
                scale_factor: 1.0,
                video_modes: Vec::new(),
            },
        ));
        let usual = Window::default().physical_size();
        let mut press = || {
            app.world_mut().write_message(LookIntent::FullScreen);
            app.update();
            let window = app.world().get::<Window>(window).unwrap();
            (window.physical_size(), window.mode == WindowMode::Windowed)
        };
        assert_eq!(press(), (UVec2::new(3840, 2160), false));
        assert_eq!(press(), (usual, true));
    }
}
