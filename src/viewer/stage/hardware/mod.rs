//! Support hardware, a file per family.
//!
//! Every piece is drawn in a local frame: origin at the held point, unit length the size of the hardware, the ground on
//! the side of −z. Axes, rods, rails and slots run along x; in the plane y points out of it for what lies on a surface.

mod ball;
mod bearing;
mod contact;
mod fixed;
mod foot;
mod hinge;
mod link;
mod plane;
mod rail;
mod slider;
mod universal;

use bevy::math::Affine3A;
use bevy::prelude::*;

pub use link::Rod;

use super::body::BodySurface;
use super::crossing::{StageFrame, vector};
use super::draft::{Draft, frame};
use super::paint::{Paint, Palette};
use crate::scene::{Space, SupportKind};
use crate::statics::{Model, PlacedSupport};

/// Size of hardware, in units of the stage, where the body asks for no other.
pub const SIZE: f32 = 0.042;
/// Largest size of hardware around a thick body.
const LARGEST: f32 = 0.1;

/// Where pieces are put: what stays on the ground, and what moves with the body.
pub struct Bench {
    /// Stays.
    pub ground: Draft,
    /// Moves.
    pub body: Draft,
    palette: Palette,
    size: f32,
}

impl Bench {
    /// An empty bench for pieces of that usual size.
    pub fn new(ground: Draft, body: Draft, palette: Palette, size: f32) -> Self {
        Self {
            ground,
            body,
            palette,
            size,
        }
    }

    fn within(&mut self, place: Affine3A) {
        self.ground.within(place);
        self.body.within(place);
    }

    /// For hardware on the ground.
    fn iron(&mut self) -> &mut Draft {
        self.ground.paint(Paint::solid(self.palette.hardware))
    }

    /// For hardware that moves with the body.
    fn part(&mut self) -> &mut Draft {
        self.body.paint(Paint::solid(self.palette.body))
    }

    /// For pieces of links and cables at the body.
    fn loose_iron(&mut self) -> &mut Draft {
        self.body.paint(Paint::solid(self.palette.hardware))
    }
}

/// Where a support sits and how large its hardware is.
#[derive(Debug, Clone, Copy)]
pub struct Seat {
    /// Held point, in stage coordinates.
    pub point: Vec3,
    /// Unit vector away from the ground.
    pub up: Vec3,
    /// Unit vector along the axis, rod, rail or slot; any for those without.
    pub along: Vec3,
    /// Unit of the hardware.
    pub size: f32,
}

impl Seat {
    fn place(&self) -> Affine3A {
        frame(
            self.point,
            self.along,
            self.up.cross(self.along),
            self.up,
            self.size,
        )
    }
}

/// What seats are found from.
pub struct Site<'a> {
    /// Model.
    pub model: &'a Model,
    /// Frame of the stage.
    pub frame: &'a StageFrame,
    /// The body.
    pub body: &'a BodySurface,
}

/// Draws one support; returns where it sits.
pub fn draw(site: &Site, support: &PlacedSupport, bench: &mut Bench, rods: &mut Vec<Rod>) -> Seat {
    let seat = seat(site, support, bench.size);
    bench.within(seat.place());
    let planar = site.model.space == Space::Planar;
    match &support.kind {
        SupportKind::BallJoint => ball::ball_joint(bench),
        SupportKind::Hinge { .. } => hinge::hinge(bench, true),
        SupportKind::SlidingHinge { .. } => hinge::hinge(bench, false),
        SupportKind::SmoothPin { .. } => hinge::clevis(bench),
        SupportKind::JournalBearing { .. } => bearing::ring(bench, false),
        SupportKind::ThrustBearing { .. } => bearing::ring(bench, true),
        SupportKind::SquareJournal { .. } => bearing::square(bench),
        SupportKind::Slider { .. } => slider::sleeve_on_rod(bench),
        SupportKind::UniversalJoint { .. } => universal::cross(bench),
        SupportKind::RailWheel { .. } => rail::wheel(bench),
        SupportKind::Fixed => fixed::cast_in(bench),
        SupportKind::Roller { .. } => contact::roller(bench, planar),
        SupportKind::SmoothContact { .. } => contact::smooth(bench),
        SupportKind::RoughContact { .. } => contact::rough(bench),
        SupportKind::Rocker { .. } => plane::rocker(bench),
        SupportKind::Pin => plane::pin(bench),
        SupportKind::Slot { .. } => plane::slot(bench),
        SupportKind::Collar { .. } => slider::collar_on_rod(bench),
        SupportKind::Link { .. } => link::link(site, support, &seat, bench, rods, link::Sort::Link),
        SupportKind::Cable { .. } => {
            link::link(site, support, &seat, bench, rods, link::Sort::Cable);
        }
    }
    seat
}

fn seat(site: &Site, support: &PlacedSupport, usual: f32) -> Seat {
    let point = site.frame.point(&support.point);
    let girth = site.body.girth(point);
    let size = match support.kind {
        SupportKind::Link { .. } | SupportKind::Cable { .. } => usual,
        _ if girth < LARGEST => usual.max(1.1 * girth),
        _ => usual,
    };
    let out = match site.model.space {
        Space::Planar => Some(Vec3::Z),
        Space::Spatial => None,
    };
    let (up, along) = match &support.kind {
        SupportKind::Roller { .. }
        | SupportKind::SmoothContact { .. }
        | SupportKind::RoughContact { .. }
        | SupportKind::Rocker { .. } => contact_axes(support, out),
        SupportKind::RailWheel { .. } => rail_axes(support),
        SupportKind::UniversalJoint { .. } => universal_axes(site, support, point),
        _ => axis_axes(site, support, point, out),
    };
    Seat {
        point,
        up,
        along,
        size,
    }
}

fn orientation(support: &PlacedSupport) -> Vec3 {
    support.orientation.map_or(Vec3::Z, |unit| vector(&unit))
}

/// Surface below, x along the surface; in the plane y points out of it.
fn contact_axes(support: &PlacedSupport, out: Option<Vec3>) -> (Vec3, Vec3) {
    let normal = orientation(support);
    let along = match out {
        Some(out) => out.cross(normal),
        None => square_to(normal, Vec3::X),
    };
    (normal, along)
}

fn rail_axes(support: &PlacedSupport) -> (Vec3, Vec3) {
    let up = support.normal.map_or(Vec3::Z, |unit| vector(&unit));
    (up, orientation(support))
}

/// The ground holds one end of the shaft.
fn universal_axes(site: &Site, support: &PlacedSupport, point: Vec3) -> (Vec3, Vec3) {
    let axis = orientation(support);
    let ground = if site.body.away(point).dot(axis) >= 0.0 {
        axis
    } else {
        -axis
    };
    (-ground, square_to(axis, Vec3::X))
}

/// x along the axis of the kind, the ground where the body is not.
fn axis_axes(site: &Site, support: &PlacedSupport, point: Vec3, out: Option<Vec3>) -> (Vec3, Vec3) {
    let in_plane_axis = matches!(
        support.kind,
        SupportKind::Slot { .. } | SupportKind::Collar { .. }
    );
    let axis = match out {
        Some(out) if !in_plane_axis => Some(out),
        _ => support.orientation.map(|unit| vector(&unit)),
    };
    let ground = ground_side(site, point, axis, out.filter(|_| in_plane_axis));
    let along = match axis {
        Some(axis) => axis,
        None => square_to(ground, site.frame.front()),
    };
    (-ground, along)
}

/// The axis of the scene that leads away from the body, down where the body leaves the choice.
fn ground_side(site: &Site, point: Vec3, axis: Option<Vec3>, out: Option<Vec3>) -> Vec3 {
    let down = -site.frame.up();
    let wish = site.body.away(point).normalize_or_zero() + down * 0.45;
    let square = |v: Vec3| {
        let v = axis.map_or(v, |axis| v - axis * v.dot(axis));
        let v = out.map_or(v, |out| v - out * v.dot(out));
        v.normalize_or_zero()
    };
    let sides = [
        down,
        -down,
        Vec3::X,
        Vec3::NEG_X,
        Vec3::Y,
        Vec3::NEG_Y,
        Vec3::Z,
        Vec3::NEG_Z,
    ];
    let worth = |side: &Vec3| side.dot(wish);
    sides
        .map(square)
        .into_iter()
        .filter(|side| *side != Vec3::ZERO)
        .max_by(|a, b| worth(a).total_cmp(&worth(b)))
        .unwrap_or(down)
}

/// A unit vector square to `axis`, as near to `wish` as may be.
pub(super) fn square_to(axis: Vec3, wish: Vec3) -> Vec3 {
    let square = wish - axis * wish.dot(axis);
    if square.length() > 0.2 {
        square.normalize()
    } else {
        axis.any_orthonormal_vector()
    }
}
