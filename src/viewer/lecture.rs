//! The picture in front of a class: a large disc around the pointer, a blank wall, a slow turn.

use bevy::prelude::*;
use bevy::window::PrimaryWindow;
use bevy_egui::{EguiContexts, EguiPrimaryContextPass, egui};

use super::intent::{CloseAll, LectureIntent, add_messages};
use super::redraw::{FramesToDraw, frame_seconds};
use super::state::{Look, PanelSystems, ViewerSystems};
use super::style::{colour32, veil};
use crate::theme::Theme;

/// Shows the disc and the blank wall, and says whether the picture turns.
pub(crate) struct LecturePlugin;

impl Plugin for LecturePlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<LectureView>()
            .init_resource::<FramesToDraw>()
            .add_systems(
                Update,
                (follow_intents, fade).chain().in_set(ViewerSystems::Input),
            )
            .add_systems(EguiPrimaryContextPass, paint.after(PanelSystems::Panels));
    }
}

/// What is on in front of the class.
#[derive(Resource, Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct LectureView {
    /// A large soft disc follows the pointer.
    disc: bool,
    /// The wall is to be blank.
    blank: bool,
    /// How much of the picture is covered, 0 to 1.
    cover: f32,
    /// The picture turns slowly.
    turning: bool,
}

impl LectureView {
    /// Whether the camera goes round the scene.
    pub(crate) fn is_turning(&self) -> bool {
        self.turning
    }
}

/// Radius of the disc at the usual size.
const DISC: f32 = 34.0;
/// How much the middle of the disc covers of what is under it, and in how many rings it fades.
const DISC_COVER: f32 = 0.34;
const RINGS: u8 = 8;
/// Seconds that the wall takes to go blank.
const FADE_SECONDS: f32 = 0.6;

fn follow_intents(
    mut intents: MessageReader<LectureIntent>,
    mut closed: MessageReader<CloseAll>,
    mut lectern: ResMut<LectureView>,
    look: Res<Look>,
) {
    let mut next = *lectern;
    for intent in intents.read() {
        match intent {
            LectureIntent::Disc => next.disc = !next.disc,
            LectureIntent::Blank => next.blank = !next.blank,
            LectureIntent::Turn => next.turning = !next.turning,
        }
    }
    if closed.read().count() > 0 {
        next.blank = false;
    }
    next.turning &= !look.reduced_motion;
    lectern.set_if_neq(next);
}

/// Covers the picture little by little, or at once where motion is reduced.
fn fade(
    time: Res<Time>,
    look: Res<Look>,
    mut lectern: ResMut<LectureView>,
    mut frames: ResMut<FramesToDraw>,
) {
    let wanted = f32::from(u8::from(lectern.blank));
    if lectern.cover == wanted {
        return;
    }
    let step = frame_seconds(&time) / FADE_SECONDS;
    lectern.cover = match look.reduced_motion {
        true => wanted,
        false => wanted.clamp(lectern.cover - step, lectern.cover + step),
    };
    frames.until_settled();
}

fn paint(
    mut contexts: EguiContexts,
    lectern: Res<LectureView>,
    look: Res<Look>,
    window: Option<Single<&Window, With<PrimaryWindow>>>,
) -> Result {
    let ctx = contexts.ctx_mut()?;
    let theme = Theme::of(look.theme);
    let painter = |name: &str| {
        let id = egui::Id::new(name);
        ctx.layer_painter(egui::LayerId::new(egui::Order::Tooltip, id))
    };
    if let Some(at) = window.and_then(|window| window.cursor_position())
        && lectern.disc
    {
        let at = egui::pos2(at.x, at.y) / ctx.zoom_factor();
        // Rings over each other leave a soft edge.
        let colour = veil(colour32(theme.group), DISC_COVER / f32::from(RINGS));
        for ring in 1..=RINGS {
            let share = f32::from(ring) / f32::from(RINGS);
            painter("disc").circle_filled(at, DISC * (0.6 + 0.4 * share), colour);
        }
    }
    if lectern.cover > 0.0 {
        let colour = veil(colour32(theme.background), lectern.cover);
        painter("blank").rect_filled(ctx.content_rect(), 0, colour);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use bevy::time::TimeUpdateStrategy;

    use super::*;
    use crate::theme::ThemeName;

    fn app() -> App {
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, LecturePlugin))
            .insert_resource(Look::new(ThemeName::Hall))
            .insert_resource(TimeUpdateStrategy::ManualDuration(Duration::from_millis(
                100,
            )));
        app.update();
        app
    }

    fn lectern(app: &App) -> LectureView {
        *app.world().resource::<LectureView>()
    }

    fn send(app: &mut App, intent: impl Message) {
        app.world_mut().write_message(intent);
        app.update();
    }

    #[test]
    fn the_wall_goes_blank_little_by_little_and_comes_back() {
        let mut app = app();
        send(&mut app, LectureIntent::Blank);
        let first = lectern(&app).cover;
        assert!((0.05..0.5).contains(&first), "{first}");
        for _ in 0..10 {
            app.update();
        }
        assert_eq!(lectern(&app).cover, 1.0);
        send(&mut app, CloseAll);
        for _ in 0..10 {
            app.update();
        }
        assert_eq!(lectern(&app).cover, 0.0);
    }

    #[test]
    fn with_reduced_motion_nothing_turns_or_fades() {
        let mut app = app();
        app.world_mut().resource_mut::<Look>().reduced_motion = true;
        send(&mut app, LectureIntent::Turn);
        assert!(!lectern(&app).is_turning());
        send(&mut app, LectureIntent::Blank);
        assert_eq!(lectern(&app).cover, 1.0);
        app.world_mut().resource_mut::<Look>().reduced_motion = false;
        send(&mut app, LectureIntent::Turn);
        assert!(lectern(&app).is_turning());
    }
}
