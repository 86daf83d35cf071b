//! Playback of the motion shown: a calm swing between its ends.
//!
//! A scene opens at rest, so that a class can guess before it sees; the body moves when it is asked to.

use std::f32::consts::PI;

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;

use super::intent::{PlaybackIntent, add_messages};
use super::redraw::frame_seconds;
use super::shown::{Selected, ShownStudy};
use super::state::{Playback, ViewerSystems};
use crate::motion::{Course, Sides};

/// Advances [`Playback::position`] while it plays.
pub(crate) struct PlaybackPlugin;

impl Plugin for PlaybackPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<Playback>()
            .init_resource::<SwingPhase>()
            .add_systems(Update, follow_intents.in_set(ViewerSystems::Input))
            .add_systems(Update, advance.in_set(ViewerSystems::Play));
    }
}

/// Seconds from one end of the swing to the other at pace 1.
pub(crate) const SWING_SECONDS: f32 = 3.0;
/// Least and greatest swing, as a fraction of the default one.
pub(crate) const AMPLITUDES: [f32; 2] = [0.1, 2.0];
/// Least and greatest pace.
pub(crate) const PACES: [f32; 2] = [0.25, 3.0];

impl Default for Playback {
    fn default() -> Self {
        Self {
            playing: false,
            position: 0.0,
            amplitude: 1.0,
            speed: 1.0,
        }
    }
}

/// Where the swing is in its period, radians; see [`Sides::part`].
#[derive(Resource, Debug, Default)]
struct SwingPhase {
    angle: f32,
    /// Whether the frame before moved; the first frame after a rest has no time of its own.
    running: bool,
}

/// The phase after `seconds` at a pace.
pub(crate) fn advanced(angle: f32, seconds: f32, pace: f32) -> f32 {
    (angle + PI * seconds * pace / SWING_SECONDS).rem_euclid(2.0 * PI)
}

/// The motion that plays.
#[derive(SystemParam)]
struct Moving<'w> {
    studied: Option<Res<'w, ShownStudy>>,
    selected: Option<Res<'w, Selected>>,
}

impl Moving<'_> {
    /// The motion, if the scene shown has one; `None` without a scene.
    fn course(&self) -> Option<Option<Course<'_>>> {
        let (studied, selected) = (self.studied.as_ref()?, self.selected.as_ref()?);
        Some(studied.0.course(selected.motion, selected.case))
    }
}

fn follow_intents(
    mut intents: MessageReader<PlaybackIntent>,
    mut playback: ResMut<Playback>,
    moving: Moving,
) {
    let can_move = moving.course().is_none_or(|course| course.is_some());
    for intent in intents.read() {
        match intent {
            PlaybackIntent::PlayOrPause => playback.playing = can_move && !playback.playing,
            PlaybackIntent::HoldAt(position) => {
                playback.playing = false;
                playback.position = position.clamp(-1.0, 1.0);
            }
            PlaybackIntent::Amplitude(amplitude) => {
                playback.amplitude = amplitude.clamp(AMPLITUDES[0], AMPLITUDES[1]);
            }
            PlaybackIntent::Pace(pace) => playback.speed = pace.clamp(PACES[0], PACES[1]),
        }
    }
}

fn advance(
    time: Res<Time>,
    moving: Moving,
    mut playback: ResMut<Playback>,
    mut phase: ResMut<SwingPhase>,
) {
    if !playback.playing {
        phase.running = false;
        return;
    }
    let course = moving.course().flatten();
    let sides = course.map_or(Sides::Both, |course| course.sides());
    let part = |angle: f32| sides.part(f64::from(angle)) as f32;
    let elsewhere = (part(phase.angle) - playback.position).abs() > 1e-4;
    if elsewhere {
        phase.angle = sides.phase(f64::from(playback.position.clamp(-1.0, 1.0))) as f32;
    }
    let seconds = if phase.running {
        frame_seconds(&time)
    } else {
        0.0
    };
    phase.running = true;
    phase.angle = advanced(phase.angle, seconds, playback.speed);
    playback.position = part(phase.angle);
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use bevy::time::TimeUpdateStrategy;

    use super::*;
    use crate::statics::CaseIndex;
    use crate::study::{Source, Study};
    use crate::viewer::shown::show;

    fn app(milliseconds: u64) -> App {
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, PlaybackPlugin));
        app.configure_sets(Update, (ViewerSystems::Input, ViewerSystems::Play).chain());
        let step = Duration::from_millis(milliseconds);
        app.insert_resource(TimeUpdateStrategy::ManualDuration(step));
        app
    }

    fn position(app: &App) -> f32 {
        app.world().resource::<Playback>().position
    }

    fn send(app: &mut App, intent: PlaybackIntent) {
        app.world_mut().write_message(intent);
        app.update();
    }

    #[test]
    fn it_rests_until_asked() {
        let mut app = app(100);
        for _ in 0..20 {
            app.update();
        }
        assert_eq!(position(&app), 0.0);
    }

    #[test]
    fn a_swing_from_end_to_end_takes_three_seconds() {
        let mut app = app(100);
        send(&mut app, PlaybackIntent::PlayOrPause);
        let mut positions = Vec::new();
        for _ in 0..60 {
            app.update();
            positions.push(position(&app));
        }
        // 15 steps of 0.1 s lead to the first end, 30 more to the other, 15 more to the middle.
        assert!((positions[14] - 1.0).abs() < 1e-4, "{}", positions[14]);
        assert!((positions[44] + 1.0).abs() < 1e-4, "{}", positions[44]);
        assert!(positions[59].abs() < 1e-4, "{}", positions[59]);
        // Slow at the ends, quick in the middle.
        let step_at_end = (positions[14] - positions[13]).abs();
        let step_in_middle = (positions[30] - positions[29]).abs();
        assert!(step_at_end < step_in_middle / 5.0);
    }

    #[test]
    fn an_escape_goes_out_to_its_one_side_and_back() {
        let scene = concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/tests/one_way/pulled-roller.ron"
        );
        let mut app = app(100);
        let study = Study::read(Source::File(scene.into())).unwrap();
        let selected = Selected::of(&study, CaseIndex::FIRST, None);
        show(app.world_mut(), study, selected);
        send(&mut app, PlaybackIntent::PlayOrPause);
        assert!(app.world().resource::<Playback>().playing);
        let mut positions = Vec::new();
        for _ in 0..60 {
            app.update();
            positions.push(position(&app));
        }
        assert!(positions.iter().all(|at| (0.0..=1.0).contains(at)));
        // Out in 30 steps of 0.1 s, and back in 30 more.
        assert!((positions[29] - 1.0).abs() < 1e-4, "{}", positions[29]);
        assert!(positions[59].abs() < 1e-4, "{}", positions[59]);
    }

    #[test]
    fn pausing_holds_and_resuming_goes_on_from_there() {
        let mut app = app(100);
        send(&mut app, PlaybackIntent::PlayOrPause);
        for _ in 0..7 {
            app.update();
        }
        send(&mut app, PlaybackIntent::PlayOrPause);
        let held = position(&app);
        for _ in 0..5 {
            app.update();
        }
        assert_eq!(position(&app), held);
        send(&mut app, PlaybackIntent::PlayOrPause);
        app.update();
        let step = position(&app) - held;
        assert!(step > 0.0 && step < 0.11, "{step}");
    }

    #[test]
    fn a_position_set_by_hand_is_held_and_left_without_a_jump() {
        let mut app = app(100);
        send(&mut app, PlaybackIntent::PlayOrPause);
        send(&mut app, PlaybackIntent::HoldAt(0.5));
        assert_eq!(position(&app), 0.5);
        assert!(!app.world().resource::<Playback>().playing);
        send(&mut app, PlaybackIntent::PlayOrPause);
        app.update();
        assert!((position(&app) - 0.5).abs() < 0.11);
    }

    #[test]
    fn a_long_rest_before_a_frame_does_not_make_it_jump() {
        let mut app = app(5000);
        send(&mut app, PlaybackIntent::PlayOrPause);
        assert_eq!(position(&app), 0.0);
        app.update();
        assert!((position(&app) - (PI * 0.25 / 3.0).sin()).abs() < 1e-5);
    }

    #[test]
    fn settings_stay_within_their_ranges() {
        let mut app = app(100);
        send(&mut app, PlaybackIntent::Amplitude(50.0));
        send(&mut app, PlaybackIntent::Pace(-1.0));
        let playback = app.world().resource::<Playback>();
        assert_eq!(playback.amplitude, AMPLITUDES[1]);
        assert_eq!(playback.speed, PACES[0]);
    }
}
