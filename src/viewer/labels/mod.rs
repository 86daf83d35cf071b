//! Names and values in the picture: upright, never on top of each other, moving with what they name; and the axes.

mod end_on;
pub(crate) mod place;
mod triad;

use std::collections::HashMap;
use std::sync::Arc;

use bevy::camera::CameraUpdateSystems;
use bevy::prelude::*;
use bevy::transform::TransformSystems;
use bevy_egui::egui::{self, Color32, FontId, Galley, LayerId, Painter, Pos2, Shape, Stroke, vec2};
use bevy_egui::{EguiContexts, EguiPostUpdateSet, EguiPrimaryContextPass};

use super::camera::{Covered, FreeArea, WindowCamera};
use super::stage::{Arrows, BodyPose, MiddleLines, StageFrame};
use super::state::{Label, LabelRole, Look, PanelSystems};
use super::style::{self, BOLD, colour32};
use super::{redraw::FramesToDraw, rich_text};
use crate::theme::{PLATE, Theme};
use end_on::LabelCamera;
use place::{LabelRequest, LabelSpot, PlacedLabel};
use triad::Triad;

/// Draws every [`Label`].
pub(crate) struct LabelsPlugin;

impl Plugin for LabelsPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<LabelSpots>()
            // Labels are drawn where things are in this frame, not where they were in the last.
            .configure_sets(
                PostUpdate,
                EguiPostUpdateSet::EndPass
                    .after(TransformSystems::Propagate)
                    .after(CameraUpdateSystems),
            )
            .add_systems(
                EguiPrimaryContextPass,
                draw_labels
                    .after(PanelSystems::Panels)
                    .in_set(PanelSystems::Labels),
            );
    }
}

/// Where each label stood in the frame before, and the point that it names.
#[derive(Resource, Default)]
struct LabelSpots {
    spots: HashMap<Entity, LabelSpot>,
    anchors: HashMap<Entity, Pos2>,
}

/// A label laid out and projected.
struct Projected {
    entity: Entity,
    anchor: Pos2,
    galley: Arc<Galley>,
    role: LabelRole,
}

/// Room between a label's letters and its edge.
const PADDING: egui::Vec2 = vec2(3.0, 1.0);
/// Width of the edge around strokes that are drawn over the picture.
const HALO: f32 = 1.6;
/// Most labels that are drawn at a time, but for those of what is pointed out.
const READABLE: usize = 40;
/// Points that move less than this from frame to frame stand still.
const STILL: f32 = 0.25;
/// Room kept to the edge of the free area.
const EDGE: f32 = 4.0;

fn font(role: LabelRole) -> FontId {
    match role {
        LabelRole::Support => FontId::new(20.0, BOLD.clone()),
        LabelRole::Group => FontId::new(18.0, BOLD.clone()),
        LabelRole::Trial => FontId::proportional(17.0),
        LabelRole::Axis | LabelRole::Load | LabelRole::Reaction => FontId::proportional(17.0),
        LabelRole::Motion => FontId::proportional(16.0),
        LabelRole::Point => FontId::proportional(15.0),
    }
}

fn colour(role: LabelRole, theme: &Theme) -> Color32 {
    colour32(match role {
        LabelRole::Axis => theme.axis,
        LabelRole::Group => theme.group,
        LabelRole::Trial | LabelRole::Support => theme.ink,
        LabelRole::Load => theme.load,
        LabelRole::Reaction => theme.reaction,
        LabelRole::Motion => theme.motion,
        LabelRole::Point => theme.quiet_ink,
    })
}

#[expect(clippy::too_many_arguments, reason = "what a label depends on")]
fn draw_labels(
    mut contexts: EguiContexts,
    labels: Query<(Entity, &Label, &Visibility)>,
    strokes: Query<(&MiddleLines, &GlobalTransform)>,
    arrows: Query<(&Arrows, &GlobalTransform, &Visibility)>,
    camera: Option<Single<(&Camera, &GlobalTransform), With<WindowCamera>>>,
    frame: Option<Res<StageFrame>>,
    pose: Option<Res<BodyPose>>,
    (free, covered): (Res<FreeArea>, Option<Res<Covered>>),
    look: Res<Look>,
    mut spots: ResMut<LabelSpots>,
    mut frames: ResMut<FramesToDraw>,
) -> Result {
    let ctx = contexts.ctx_mut()?;
    let (Some(camera), Some(frame)) = (camera, frame) else {
        return Ok(());
    };
    let (camera, place) = *camera;
    let theme = Theme::of(look.theme);
    let pose = pose.map_or_else(BodyPose::default, |pose| *pose);
    let zoom = ctx.zoom_factor();
    let screen = |world: Vec3| {
        let seen = camera.world_to_viewport(place, world).ok()?;
        Some(egui::pos2(seen.x / zoom, seen.y / zoom))
    };
    let area = egui::Rect::from_min_max(
        egui::pos2(free.0.min.x / zoom, free.0.min.y / zoom),
        egui::pos2(free.0.max.x / zoom, free.0.max.y / zoom),
    );
    let eye = LabelCamera {
        camera,
        place,
        zoom,
    };
    let clear = covered.map_or(free.0.max.y, |covered| covered.above(free.0.max.y));
    let clear = area.with_max_y(clear / zoom);
    let triad = Triad::seen(clear, &frame, place);
    let mut lines: Vec<[Pos2; 2]> = strokes
        .iter()
        .flat_map(|(spines, from)| spines.0.iter().map(move |ends| (ends, from)))
        .filter_map(|([a, b], from)| {
            let seen = |end: &Vec3| screen(from.transform_point(*end));
            Some([seen(a)?, seen(b)?])
        })
        .collect();
    lines.extend(triad.iter().flat_map(Triad::lines));
    let at = |label: &Label| match label.moves {
        true => pose.0 * label.at,
        false => label.at,
    };
    let painter = ctx.layer_painter(LayerId::background());
    let seen_end_on = arrows
        .iter()
        .filter(|(_, _, visibility)| **visibility != Visibility::Hidden)
        .flat_map(|(arrows, from, _)| arrows.0.iter().map(move |arrow| (arrow, from)));
    for (arrow, from) in seen_end_on {
        end_on::draw(&painter, arrow, from, &eye, &theme);
    }
    let projected: Vec<Projected> = labels
        .iter()
        .filter(|(_, _, visibility)| **visibility != Visibility::Hidden)
        .filter_map(|(entity, label, _)| {
            let job = rich_text::line(&label.text, &font(label.role), colour(label.role, &theme));
            Some(Projected {
                entity,
                anchor: screen(frame.world(&at(label)))?,
                galley: painter.layout_job(job),
                role: label.role,
            })
        })
        .collect();
    let projected = readable(projected, ctx.pointer_latest_pos());
    if let Some(triad) = &triad {
        triad.draw(&painter, &theme);
    }
    if spots.find((&projected, &lines), area, &painter, &theme) {
        frames.until_settled();
    }
    Ok(())
}

impl LabelSpots {
    /// Places and draws the labels; whether any place or point changed.
    ///
    /// While anything moves, labels keep their places where they can. In a picture at rest each has the best place, as if
    /// nothing had stood there before.
    fn find(
        &mut self,
        (projected, lines): (&[Projected], &[[Pos2; 2]]),
        area: egui::Rect,
        painter: &Painter,
        theme: &Theme,
    ) -> bool {
        let at_rest = projected.len() == self.anchors.len()
            && projected.iter().all(|label| {
                let before = self.anchors.get(&label.entity);
                before.is_some_and(|before| before.distance(label.anchor) < STILL)
            });
        let kept = |entity| self.spots.get(&entity).copied().filter(|_| !at_rest);
        let wanted: Vec<LabelRequest> = projected
            .iter()
            .map(|label| LabelRequest {
                anchor: label.anchor,
                size: label.galley.size() + 2.0 * PADDING,
                rank: label.role as usize,
                last: kept(label.entity),
            })
            .collect();
        let placed = place::place(&wanted, lines, area.shrink(EDGE));
        let mut now = HashMap::new();
        for (label, place) in projected.iter().zip(&placed) {
            if let Some(place) = place {
                draw(painter, label, place, theme);
                now.insert(label.entity, place.spot);
            }
        }
        let changed = now != self.spots || !at_rest;
        self.spots = now;
        let anchors = projected.iter().map(|label| (label.entity, label.anchor));
        self.anchors = anchors.collect();
        changed
    }
}

fn draw(painter: &Painter, label: &Projected, place: &PlacedLabel, theme: &Theme) {
    let colour = colour(label.role, theme);
    if place.needs_leader() {
        let end = place.rect.clamp(label.anchor);
        let line = Stroke::new(1.2, colour.gamma_multiply(0.8));
        painter.line_segment([label.anchor, end], line);
    }
    painter.add(plate(place.rect, colour32(theme.background)));
    let at = place.rect.min + PADDING;
    painter.galley(at, label.galley.clone(), colour);
}

/// The labels that are drawn: of very many those near the pointer, or without it the most important.
fn readable(mut labels: Vec<Projected>, pointer: Option<Pos2>) -> Vec<Projected> {
    if labels.len() <= READABLE {
        return labels;
    }
    let away = |label: &Projected| pointer.map_or(0.0, |pointer| pointer.distance(label.anchor));
    let pointed = |label: &Projected| label.role <= LabelRole::Trial;
    labels.sort_by(|a, b| {
        let order = pointed(b).cmp(&pointed(a));
        let order = order.then(away(a).total_cmp(&away(b)));
        order.then(a.role.cmp(&b.role))
    });
    let always = labels.iter().filter(|label| pointed(label)).count();
    labels.truncate(always.max(READABLE));
    labels
}

/// A veil behind a text, so that it is read over whatever it lies on.
fn plate(rect: egui::Rect, colour: Color32) -> Shape {
    Shape::rect_filled(rect, 3.0, style::veil(colour, PLATE as f32))
}
