//! Pointing at places of an axis.

use bevy::prelude::*;
use bevy_egui::{EguiContexts, egui};

use super::{PointedPlace, Practising};
use crate::practice::{Answer, Question, Sight};
use crate::theme::Theme;
use crate::viewer::camera::WindowCamera;
use crate::viewer::intent::PracticeIntent;
use crate::viewer::pointer::Pointer;
use crate::viewer::redraw::FramesToDraw;
use crate::viewer::shown::ShownParam;
use crate::viewer::stage::StageFrame;
use crate::viewer::state::Look;
use crate::viewer::style::colour32;

/// A press that moves less than this many pixels points at something.
const CLICK: f32 = 4.0;
/// The axis may be this many pixels from where it is pointed at.
const REACH: f64 = 14.0;
/// Radius of the ring around a place.
const RING: f32 = 10.0;

/// A click points at a place while the axis is asked for; the last one answers.
pub(super) fn point(
    pointer: Pointer,
    shown: ShownParam,
    mut practising: ResMut<Practising>,
    mut frames: Option<ResMut<FramesToDraw>>,
    mut answers: MessageWriter<PracticeIntent>,
) {
    if !pointer.buttons.just_released(MouseButton::Left) {
        return;
    }
    let study = &shown.written.0;
    let asked = practising.round.as_ref();
    if !asked.is_some_and(|round| round.question() == Some(Question::Axis) && !round.is_answered())
    {
        return;
    }
    let still = pointer
        .pressed_at()
        .zip(pointer.position())
        .is_some_and(|(from, to)| from.distance(to) < CLICK);
    let Some(aim) = pointer.aim().filter(|_| still) else {
        return;
    };
    let reference = study.model().reference;
    let Some(at) = aim.facing_point(&reference) else {
        return;
    };
    let (origin, way) = aim.line();
    let sight = Sight {
        origin,
        way,
        reach: REACH * aim.pixel_at(&reference),
    };
    let Some(round) = practising.round.as_mut() else {
        return;
    };
    round.pointed.push(PointedPlace { sight, at });
    if round.pointed.len() == Question::Axis.places(study) {
        let ends = [0, round.pointed.len() - 1].map(|end| round.pointed[end].sight);
        answers.write(PracticeIntent::Answer(Answer::Sights(ends)));
    }
    if let Some(frames) = &mut frames {
        frames.until_settled();
    }
}

/// Rings the places that were pointed at.
pub(super) fn mark_places(
    mut contexts: EguiContexts,
    practising: Res<Practising>,
    look: Res<Look>,
    camera: Option<Single<(&Camera, &GlobalTransform), With<WindowCamera>>>,
    frame: Option<Res<StageFrame>>,
) -> Result {
    let ctx = contexts.ctx_mut()?;
    let (Some(round), Some(camera), Some(frame)) = (&practising.round, camera, frame) else {
        return Ok(());
    };
    let (camera, place) = *camera;
    let painter = ctx.layer_painter(egui::LayerId::background());
    let stroke = egui::Stroke::new(3.0, colour32(Theme::of(look.theme).trial));
    for pointed in &round.pointed {
        if let Ok(at) = camera.world_to_viewport(place, frame.world(&pointed.at)) {
            painter.circle_stroke(egui::pos2(at.x, at.y) / ctx.zoom_factor(), RING, stroke);
        }
    }
    Ok(())
}
