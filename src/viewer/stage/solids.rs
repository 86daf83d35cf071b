//! The body, the supports' hardware with their names, the floor, and what must be in view.

use bevy::prelude::*;
use nalgebra::Point3;

use super::crossing::StageFrame;
use super::floor;
use super::hardware::{self, Hardware};
use super::layer::{Extent, LayerCanvas, LayerPainter, StageLayer, extremes};
use super::mesh_builder::MeshBuilder;
use super::paint::{Light, Paint, Palette, between};
use super::pose::{Anchor, Follows};
use super::setting::{StageBody, Swing};
use super::views::FoundViews;
use crate::portrayal::{Carrier, Layout, Name, names_below};
use crate::scene::Space;
use crate::statics::SupportIndex;
use crate::viewer::framing::ViewBounds;
use crate::viewer::shown::{Shown, ShownParam};
use crate::viewer::state::{Label, LabelRole, Look};
use crate::wording::Phrase;

/// Most that hardware grows around a thick body.
const LARGEST: f64 = 2.4;
/// How far below its ground a support's name stands, in units of the portrayal.
const BELOW: f64 = 5.0;
/// How far the wall at a rod's ground end reaches.
const ANCHOR: f32 = 2.0 * hardware::SIZE;
/// What lies farther out than this is not fitted into the picture.
const FARTHEST: f32 = 3.0;

/// Body and hardware, each support with its name; a link on trial has none yet.
pub(crate) fn draw_solids(
    mut canvas: LayerCanvas,
    shown: ShownParam,
    (body, swing, look): (Res<StageBody>, Res<Swing>, Res<Look>),
) {
    let changed = shown.is_rebuilt() || shown.selected.is_changed() || look.is_changed();
    if !changed && !body.is_changed() && !swing.is_changed() {
        return;
    }
    let shown = shown.read();
    let palette = Palette::named(look.theme);
    let unit = body.unit();
    let course = shown.course();
    let poses = course.map_or_else(Vec::new, |_| swing_poses(&shown, &swing));
    let frame = *canvas.frame;
    let layout = Layout {
        model: shown.study.model(),
        body: &body.solids,
        course: course.as_ref(),
        swing: &poses,
        unit: f64::from(unit) * frame.size(),
        thickest: LARGEST,
    };
    let supports = &shown.study.model().supports;
    let trial = |index: SupportIndex| {
        shown
            .trial
            .is_some_and(|link| link.name == supports[index].name)
    };
    let mut pieces = layout.solids();
    pieces.retain(|piece| look.supports && !trial(piece.support));
    let light = Light::on_solids(&frame, look.shading);
    let empty = MeshBuilder::new(light);
    let looks = (&frame, &palette, look.shading);
    let mut hardware = hardware::draw(&pieces, shown.study.model(), looks, &empty, unit);
    let mut painter = canvas.wipe(StageLayer::Solids);
    painter.outline(&hardware.body, Some(Follows::Body));
    body.surface
        .draw(&mut hardware.body, Paint::solid(palette.body));
    painter.hardware(hardware, light, Paint::solid(palette.hardware));
    if !look.supports {
        return;
    }
    let below = BELOW * f64::from(unit) * frame.size();
    for label in names(&shown, &layout.feet(), below) {
        painter.label(label);
    }
}

/// Placements of the body all along its swing.
fn swing_poses(shown: &Shown, swing: &Swing) -> Vec<nalgebra::Isometry3<f64>> {
    let parts = (-8..=8).map(|eighth| f64::from(eighth) / 8.0);
    let inside = parts.filter(|part| swing.ends.contains(&part.signum()) || *part == 0.0);
    inside
        .map(|part| shown.pose(part, swing.amount()))
        .collect()
}

/// Names of the supports; a link on trial has its own.
fn names(shown: &Shown, feet: &[Point3<f64>], below: f64) -> Vec<Label> {
    let names = names_below(shown.study.model(), feet, below).into_iter();
    let names = names.filter(|name| shown.trial.is_none_or(|link| link.name != name.text));
    let label = |name: Name| Label {
        text: Phrase::name(name.text),
        at: name.at,
        moves: name.carrier == Carrier::Body,
        role: LabelRole::Support,
    };
    names.map(label).collect()
}

impl LayerPainter<'_, '_, '_> {
    fn hardware(&mut self, hardware: Hardware, light: Light, rod_paint: Paint) {
        self.extent
            .still
            .extend(extremes(hardware.ground.positions()));
        self.extent
            .moving
            .extend(extremes(hardware.body.positions()));
        self.outlined(hardware.ground, None);
        self.solid(hardware.body, Some(Follows::Body));
        for rider in hardware.riders {
            self.extent.moving.extend(extremes(rider.draft.positions()));
            let anchor = Anchor {
                point: rider.point,
                ground: None,
            };
            self.outlined(rider.draft, Some(Follows::Point(anchor)));
        }
        let sides = [Vec3::X, Vec3::Y, Vec3::Z].map(|side| side * ANCHOR);
        for rod in hardware.rods {
            let around = sides
                .iter()
                .flat_map(|side| [rod.ground + *side, rod.ground - *side]);
            self.extent.still.extend(around);
            let turn = rod.follow(rod.eye).rotation;
            let mut draft = MeshBuilder::new(light.before(turn));
            draft.paint(rod_paint);
            rod.draw(&mut draft);
            self.rod(draft, rod);
        }
    }
}

/// A floor below spatial scenes, and the shadow that falls on it.
pub(crate) fn draw_floor(mut canvas: LayerCanvas, (body, look): (Res<StageBody>, Res<Look>)) {
    const ON_IT: [StageLayer; 3] = [StageLayer::Solids, StageLayer::Reactions, StageLayer::Loads];
    if !canvas.is_changed(&ON_IT) {
        return;
    }
    let seen = canvas.extent_of(&ON_IT);
    let frame = *canvas.frame;
    let mut painter = canvas.wipe(StageLayer::Floor);
    if frame.space() == Space::Planar || !look.floor {
        return;
    }
    let palette = Palette::named(look.theme);
    let (low, reach) = seen.iter().fold((0.0_f32, 0.0_f32), |(low, reach), point| {
        (low.min(point.z), reach.max(point.truncate().length()))
    });
    let height = low - 0.04;
    let light = Light::from_above(frame.up(), frame.front());
    let mut disc = MeshBuilder::new(light);
    let rim = match painter.is_lit() {
        // Lit, it cannot fade into a colour that is not: it fades away.
        true => palette.floor.with_alpha(0.0),
        false => palette.background,
    };
    floor::draw(&mut disc, height, reach * 1.3, [palette.floor, rim]);
    painter.floor(disc);
    if painter.is_lit() {
        return;
    }
    let mut shadow = MeshBuilder::new(light);
    let colour = between(palette.floor, LinearRgba::BLACK, 0.45);
    body.surface.draw(&mut shadow, Paint::flat(colour));
    let fallen = extremes(shadow.positions());
    let fallen = fallen.into_iter().map(|point| point.with_z(height));
    painter.extent.still.extend(fallen);
    painter.shadow(shadow, height);
}

/// Everything that appears at any time of the swing is fitted into the picture, but for what is pointed out: the picture
/// stays where it is while one points.
pub(crate) fn fit(
    extents: Query<(&StageLayer, Ref<Extent>)>,
    shown: ShownParam,
    (frame, swing, views): (Res<StageFrame>, Res<Swing>, Res<FoundViews>),
    mut bounds: ResMut<ViewBounds>,
) {
    let fitted = || {
        extents
            .iter()
            .filter(|(layer, _)| **layer != StageLayer::PointedOut)
    };
    if !fitted().any(|(_, extent)| extent.is_changed()) && !swing.is_changed() {
        return;
    }
    let shown = shown.read();
    let motion = shown.course().map(|course| course.motion);
    let mut points: Vec<Vec3> = fitted()
        .flat_map(|(_, extent)| extent.still.clone())
        .collect();
    points.extend(fitted().flat_map(|(_, extent)| extent.moving.clone()));
    for side in swing.ends.into_iter().filter(|_| motion.is_some()) {
        let pose = frame.pose(&shown.pose(side, swing.amount()));
        let solids = extents
            .iter()
            .filter(|(layer, _)| **layer == StageLayer::Solids);
        let body = solids.flat_map(|(_, extent)| extent.moving.clone());
        points.extend(body.map(|point| pose.transform_point(point)));
    }
    points.retain(|point| point.is_finite() && point.length() < FARTHEST);
    let turn = frame.turn();
    *bounds = ViewBounds {
        axis: motion.map(|motion| frame.world_direction(&motion.direction)),
        planar: frame.space() == Space::Planar,
        best: views.0,
        ..ViewBounds::of_points(points.into_iter().map(|point| turn * point).collect())
    };
}
