//! What is pointed out: the geometric objects of a reason or group, and the dotted rod of a link to add.

use bevy::prelude::*;
use nalgebra::{Point3, Unit, Vector3};

use super::StageFrame;
use super::arrows;
use super::crossing::vector;
use super::layer::{LayerCanvas, StageLayer};
use super::loads;
use super::paint::Palette;
use super::setting::StageBody;
use super::strokes::{StrokeGroup, StrokeSize, arrow, dashes, path_arrow, ring};
use crate::motion::Selection;
use crate::repair::AddedLink;
use crate::statics::{Line, Model, MotionKind, ReasonShape};
use crate::viewer::shown::ShownParam;
use crate::viewer::state::{DirectedMotion, LabelRole, Look, Shown};
use crate::wording::{self, phrase};

/// Radius of a point.
const POINT: f32 = 0.04;
/// Radius of a line, of the edge of a plane, and of a ruling.
const LINE: f32 = 0.011;
const EDGE: f32 = 0.0055;
const FINE: f32 = 0.0028;
/// Lines and planes reach this far from the middle of the scene.
const REACH: f32 = 1.15;
/// And a line at least this far from its point nearest the middle.
const LEAST: f32 = 0.5;
/// Half the side of a plane, and of each of several.
const SIDE: f32 = 0.85;
const SMALL_SIDE: f32 = 0.4;
/// Lines drawn in a plane, each way.
const HATCHES: usize = 5;
/// Dot and gap of a link to add.
const DOTS: [f32; 2] = [0.02, 0.03];
/// Length of the arrow, and radius of the ring, of a start.
const START: f32 = 0.45;
const RING: f32 = 0.16;
/// Radius of its dots and its eyes.
const DOT: f32 = 0.011;
const EYE: f32 = 0.022;

/// Draws what is pointed out, and nothing else anew.
pub(crate) fn draw_pointed(
    mut canvas: LayerCanvas,
    shown: ShownParam,
    (body, look): (Res<StageBody>, Res<Look>),
) {
    if !shown.is_changed() && !look.is_changed() {
        return;
    }
    let frame = *canvas.frame;
    let mut painter = canvas.wipe(StageLayer::PointedOut);
    let palette = Palette::named(look.theme);
    let shown = shown.read();
    let loads = match look.loads {
        true => loads::pointed_loads(&shown, &body.surface, &frame, &palette),
        false => Vec::new(),
    };
    let reactions = match look.reactions {
        true => arrows::pointed_reactions(&shown, &body.surface, &frame, &palette),
        false => Vec::new(),
    };
    for group in objects(&shown, &frame, &palette)
        .into_iter()
        .chain(reactions)
        .chain(loads)
    {
        painter.strokes(group, ());
    }
}

fn objects(shown: &Shown, frame: &StageFrame, palette: &Palette) -> Vec<StrokeGroup> {
    let model = shown.study.model();
    let shapes = shown.pointed_shapes();
    let objects = shapes
        .iter()
        .map(|shape| object(shown, shape, frame, palette));
    let going = shown.pointed_going();
    let going = going.map(|going| start(shown, going, frame, palette));
    let link = shown.pointed_link();
    let link = link.map(|link| added(model, link, frame, palette));
    objects.chain(going).chain(link).collect()
}

/// Draws the link on trial.
pub(crate) fn draw_trial(mut canvas: LayerCanvas, shown: ShownParam, look: Res<Look>) {
    if !shown.is_rebuilt() && !look.is_changed() {
        return;
    }
    let frame = *canvas.frame;
    let mut painter = canvas.wipe(StageLayer::Trial);
    let shown = shown.read();
    if let Some(link) = shown.trial {
        let palette = Palette::named(look.theme);
        let group = on_trial(shown.study.model(), link, &frame, &palette);
        painter.strokes(group, ());
    }
}

fn object(
    shown: &Shown,
    shape: &ReasonShape,
    frame: &StageFrame,
    palette: &Palette,
) -> StrokeGroup {
    let model = shown.study.model();
    let mut group = StrokeGroup::new(frame, None);
    group.colour(palette.axis);
    let at = match shape {
        ReasonShape::Point(point) => point_at(&mut group, frame.point(point)),
        ReasonShape::Line(at) | ReasonShape::Screw(at, _) => line(&mut group, at, LINE, frame),
        ReasonShape::Plane(plane) => plane_at(&mut group, &plane.point, &plane.normal, frame),
        ReasonShape::Direction(along) => {
            way(&mut group, vector(along));
            vector(along) * SIDE
        }
        ReasonShape::Couple(about) | ReasonShape::CouplesAcross(about) => {
            way(&mut group, vector(about));
            vector(about) * SIDE
        }
        ReasonShape::Planes(to) => planes(&mut group, vector(to)),
        ReasonShape::Surface(rulings) => rulings
            .iter()
            .map(|ruling| line(&mut group, ruling, FINE * 1.6, frame))
            .last()
            .unwrap_or_default(),
    };
    if !is_named(shown, shape) {
        group.label(wording::object(model, shape), at, LabelRole::Axis);
    }
    group
}

/// Whether the shape is the axis of the motion shown, which has a name already.
pub(crate) fn is_named(shown: &Shown, shape: &ReasonShape) -> bool {
    const SAME: f64 = 1e-6;
    let mut axes = shown.study.diagnosis().shared_axes.iter();
    let axis = axes.find(|axis| Selection::Free(axis.motion) == shown.motion);
    let (Some(axis), ReasonShape::Line(line)) = (axis, shape) else {
        return false;
    };
    let apart = (line.point - axis.point).cross(&axis.direction);
    let turned = line.direction.cross(&axis.direction);
    turned.norm() < SAME && apart.norm() < SAME * shown.study.model().length
}

fn point_at(group: &mut StrokeGroup, at: Vec3) -> Vec3 {
    group.draft.ball(at, POINT);
    at + Vec3::splat(POINT)
}

/// A line through the scene; where it ends.
fn line(group: &mut StrokeGroup, line: &Line, radius: f32, frame: &StageFrame) -> Vec3 {
    let way = vector(&line.direction);
    let point = frame.point(&line.point);
    let middle = point - way * point.dot(way);
    let room = REACH * REACH - middle.length_squared();
    let half = room.max(LEAST * LEAST).sqrt();
    let (from, to) = (middle - way * half, middle + way * half);
    group.draft.faceted_rod(from, to, radius, 10);
    to
}

/// A hatched square of a plane; one of its corners.
fn plane_at(
    group: &mut StrokeGroup,
    through: &Point3<f64>,
    normal: &Unit<Vector3<f64>>,
    frame: &StageFrame,
) -> Vec3 {
    let normal = vector(normal);
    let middle = normal * frame.point(through).dot(normal);
    square(group, middle, normal, SIDE, HATCHES)
}

fn square(group: &mut StrokeGroup, middle: Vec3, normal: Vec3, half: f32, hatches: usize) -> Vec3 {
    let (u, v) = normal.any_orthonormal_pair();
    for (along, across) in [(u, v), (v, u)] {
        for step in 0..=hatches + 1 {
            let offset = half * (2.0 * step as f32 / (hatches + 1) as f32 - 1.0);
            let edge = step == 0 || step == hatches + 1;
            let radius = if edge { EDGE } else { FINE };
            let centre = middle + across * offset;
            let (from, to) = (centre - along * half, centre + along * half);
            group.draft.faceted_rod(from, to, radius, 8);
        }
    }
    middle + (u + v) * half
}

/// A direction: an arrow both ways through the middle of the scene.
fn way(group: &mut StrokeGroup, way: Vec3) {
    let path = [way * -SIDE, Vec3::ZERO, way * SIDE];
    path_arrow(&mut group.draft, &path, &StrokeSize::SWEEP, true);
}

/// Planes perpendicular to a direction; a corner of the last.
fn planes(group: &mut StrokeGroup, normal: Vec3) -> Vec3 {
    way(group, normal);
    [-1.0_f32, 0.0, 1.0]
        .map(|step| square(group, normal * (step * SMALL_SIDE), normal, SMALL_SIDE, 1))[2]
}

/// The link on trial goes along with the body.
fn on_trial(model: &Model, link: &AddedLink, frame: &StageFrame, palette: &Palette) -> StrokeGroup {
    let mut group = added(model, link, frame, palette);
    group.anchor = Some(link.point);
    group.ground = Some(ground_of(model, link));
    group
}

fn ground_of(model: &Model, link: &AddedLink) -> Point3<f64> {
    let metres = model.units.length.in_metres();
    Point3::from(link.ground.components().map(|x| x * metres))
}

/// How the body starts or gets away: an arrow along the way, or about the axis.
fn start(
    shown: &Shown,
    going: DirectedMotion,
    frame: &StageFrame,
    palette: &Palette,
) -> StrokeGroup {
    let mut group = StrokeGroup::new(frame, None);
    group.colour(palette.motion);
    let way = vector(&going.motion.direction) * if going.backwards { -1.0 } else { 1.0 };
    let at = if going.motion.kind == MotionKind::Translation {
        let tail = frame.point(&shown.study.model().reference);
        let tip = tail + way * START;
        arrow(&mut group.draft, tail, tip, &StrokeSize::SWEEP.thicker(1.6));
        tip
    } else {
        let axis = Line {
            point: going.motion.point,
            direction: going.motion.direction,
        };
        line(&mut group, &axis, LINE, frame);
        let centre = frame.point(&axis.point);
        ring(&mut group.draft, centre, way, RING, &StrokeSize::SWEEP);
        centre + way * RING
    };
    let motion = wording::motion_phrase(shown.study.model(), going.motion);
    group.label(phrase!("starts: ", motion), at, LabelRole::Axis);
    group
}

/// A link that is not there yet: a dotted rod with an eye at both ends.
fn added(model: &Model, link: &AddedLink, frame: &StageFrame, palette: &Palette) -> StrokeGroup {
    let mut group = StrokeGroup::new(frame, None);
    group.colour(palette.trial);
    let (eye, ground) = (
        frame.point(&link.point),
        frame.point(&ground_of(model, link)),
    );
    group.draft.ball(eye, EYE);
    group.draft.ball(ground, EYE);
    dashes(&mut group.draft, eye, ground, DOT, &DOTS);
    group.label(&link.name, eye.lerp(ground, 0.6), LabelRole::Trial);
    group
}
