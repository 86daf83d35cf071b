//! A link drawn by hand: pressed on the body, dragged to the ground, and counted at once.

mod aim;
mod drawing;

use bevy::prelude::*;
use bevy_egui::{EguiContexts, EguiPrimaryContextPass, egui};
use nalgebra::Point3;

use super::camera::{FreeArea, WindowCamera};
use super::intent::{CloseAll, LinkIntent, add_messages};
use super::pointer::Pointer;
use super::redraw::FramesToDraw;
use super::shown::ShownMut;
use super::stage::StageFrame;
use super::state::{Look, PanelSystems, Playback, Shown, ViewerSystems};
use super::style::colour32;
use crate::draft::SightLine;
use crate::repair::{AddedLink, Drawable, LinkEnd};
use crate::scene::Coordinates;
use crate::theme::Theme;
pub(crate) use drawing::LinkDrawing;

/// Draws links from the body to the ground.
pub(crate) struct TrialPlugin;

impl Plugin for TrialPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<LinkDrawing>()
            .init_resource::<FreeArea>()
            .init_resource::<ButtonInput<MouseButton>>()
            .add_systems(
                Update,
                (follow_intents, follow_pointer)
                    .chain()
                    .in_set(ViewerSystems::Input),
            )
            .add_systems(EguiPrimaryContextPass, mark_eye.after(PanelSystems::Panels));
    }
}

fn follow_intents(
    mut intents: MessageReader<LinkIntent>,
    mut closed: MessageReader<CloseAll>,
    mut drawing: ResMut<LinkDrawing>,
    mut shown: ShownMut,
    mut playback: ResMut<Playback>,
) {
    for intent in intents.read() {
        match intent {
            LinkIntent::Draw if drawing.on => drawing.stop(),
            LinkIntent::Draw => {
                let shown = shown.read();
                drawing.on = true;
                drawing.body = Drawable::of(shown.written.scene());
                drawing.source = shown.source().cloned();
                // The link is drawn on the body as written.
                (playback.playing, playback.position) = (false, 0.0);
            }
            LinkIntent::Drop => shown.drop_trial(),
        }
    }
    if closed.read().count() > 0 {
        drawing.stop();
    }
}

fn follow_pointer(
    pointer: Pointer,
    mut drawing: ResMut<LinkDrawing>,
    mut shown: ShownMut,
    mut playback: ResMut<Playback>,
    mut frames: ResMut<FramesToDraw>,
) {
    if !drawing.on {
        return;
    }
    let drawing = &mut *drawing;
    if drawing.source.as_ref() != shown.read().source() {
        // Another scene came on.
        return drawing.stop();
    }
    if let Some(aim) = pointer.aim() {
        if shown.is_written_anew() && !drawing.pulling {
            drawing.body = Drawable::of(shown.read().written.scene());
        }
        let pressed = pointer.buttons.just_pressed(MouseButton::Left);
        if !drawing.pulling {
            seek_eye(
                drawing,
                (&aim, pointer.aim_of_press()),
                pressed,
                &mut frames,
            );
        }
        if drawing.pulling && pull(drawing, &aim, &mut shown) {
            (playback.playing, playback.position) = (false, 0.0);
        }
    }
    // A slow frame may hear of a whole pull at once, so it is drawn before it ends.
    if pointer.buttons.just_released(MouseButton::Left) {
        drawing.pulling = false;
    }
}

/// Finds where a link would start, and begins to pull one where the button goes down.
fn seek_eye(
    drawing: &mut LinkDrawing,
    (aim, of_press): (&SightLine, Option<SightLine>),
    pressed: bool,
    frames: &mut FramesToDraw,
) {
    let Some(body) = &drawing.body else { return };
    let eye = match of_press.filter(|_| pressed) {
        Some(aim) => aim::eye(&aim, body),
        None => aim::eye(aim, body),
    };
    if eye != drawing.eye {
        drawing.eye = eye;
        frames.until_settled();
    }
    drawing.pulling = drawing.eye.is_some() && pressed;
}

/// Puts the link that is pulled on trial; `true` where it is another one than before.
fn pull(drawing: &LinkDrawing, aim: &SightLine, shown: &mut ShownMut) -> bool {
    let (Some(eye), Some(body)) = (drawing.eye.clone(), &drawing.body) else {
        return false;
    };
    let ground = aim::ground_end(aim, body, &eye, shown.read().study.model().space);
    let ground = ground.filter(|ground| !is_on_trial(&shown.read(), &eye, ground));
    let Some(ground) = ground else { return false };
    shown.try_link(eye, ground);
    true
}

fn is_on_trial(shown: &Shown, eye: &LinkEnd, ground: &Coordinates) -> bool {
    let same = |link: &AddedLink| link.at == eye.at && link.ground == *ground;
    shown.trial.is_some_and(same)
}

/// Rings the place where a link would start.
fn mark_eye(
    mut contexts: EguiContexts,
    drawing: Res<LinkDrawing>,
    look: Res<Look>,
    camera: Option<Single<(&Camera, &GlobalTransform), With<WindowCamera>>>,
    frame: Option<Res<StageFrame>>,
) -> Result {
    const RING: f32 = 9.0;
    let ctx = contexts.ctx_mut()?;
    let (Some(eye), Some(camera), Some(frame)) = (&drawing.eye, camera, frame) else {
        return Ok(());
    };
    let (camera, place) = *camera;
    let seen = |point: &Point3<f64>| camera.world_to_viewport(place, frame.world(point)).ok();
    if let Some(at) = seen(&eye.point) {
        let at = egui::pos2(at.x, at.y) / ctx.zoom_factor();
        let colour = colour32(Theme::of(look.theme).trial);
        ctx.layer_painter(egui::LayerId::background())
            .circle_stroke(at, RING, egui::Stroke::new(2.5, colour));
    }
    Ok(())
}
