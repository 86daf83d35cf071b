//! Where a support's hardware is put together: its place, its surroundings and what it moves with.

use nalgebra::{Point3, Unit, Vector3};

use super::Layout;
use super::axes::across;
use super::carrier::Carrier;
use super::shape::HardwarePiece;
use super::surface::touched;
use crate::scene::{Space, solid};
use crate::statics::{PlacedSupport, SupportIndex};

/// A support's hardware under construction. Lengths are given in units of the layout.
pub(super) struct HardwareBuilder<'a, S> {
    layout: &'a Layout<'a>,
    index: SupportIndex,
    /// Where it holds the body: on its surface where something pushes.
    at: Point3<f64>,
    /// How many times larger than usual the hardware is.
    growth: f64,
    /// The support.
    pub support: &'a PlacedSupport,
    /// What has been added.
    pub pieces: Vec<HardwarePiece<S>>,
    /// Where its ground is.
    pub foot: Option<Point3<f64>>,
}

/// Radius of the usual piece of hardware, in units.
const USUAL: f64 = 3.5;
/// Ground reaches no farther than this, in units: more than a page is wide. Numbers of a degenerate scene know no bound.
const FARTHEST: f64 = 1000.0;
/// Half the width of what stands on the ground, in units.
const HALF_WIDTH: f64 = 6.0;
/// Ground beyond what slides on it, in units.
const BEYOND: f64 = 6.0;

impl<'a, S> HardwareBuilder<'a, S> {
    /// An empty bench for a support.
    pub(crate) fn new(layout: &'a Layout<'a>, index: SupportIndex) -> Self {
        let support = &layout.model.supports[index];
        Self {
            layout,
            index,
            at: touched(layout.body, support),
            growth: growth(layout, support),
            support,
            pieces: Vec::new(),
            foot: None,
        }
    }

    /// Adds a piece.
    pub(crate) fn add(&mut self, carrier: Carrier, shape: S) {
        self.pieces.push(HardwarePiece {
            support: self.index,
            carrier,
            shape,
        });
    }

    /// The unit, m.
    pub(crate) fn unit(&self) -> f64 {
        self.layout.unit * self.growth
    }

    /// Whether the scene lies in a plane.
    pub(crate) fn is_planar(&self) -> bool {
        self.layout.model.space == Space::Planar
    }

    /// The point of the body that is held.
    pub(crate) fn at(&self) -> Point3<f64> {
        self.at
    }

    /// Axis, normal, rod, rail or slot; upwards for kinds without one.
    pub(crate) fn axis(&self) -> Vector3<f64> {
        self.support
            .orientation
            .map_or_else(Vector3::z, Unit::into_inner)
    }

    /// A point some units from the held one.
    pub(crate) fn point(&self, along: &Vector3<f64>, units: f64) -> Point3<f64> {
        self.at() + along * (units * self.unit())
    }

    /// Whether the motion that is shown parts the body from this support.
    fn is_left(&self) -> bool {
        let course = self.layout.course;
        course.is_some_and(|course| course.leaves(self.support))
    }

    /// The body point that keeps its place over the surface of a contact.
    fn ridden(&self) -> Point3<f64> {
        self.support.axle.unwrap_or(self.support.point)
    }

    /// What rollers, wheels and shoes move with: the body point that they carry, until the body leaves them.
    pub(crate) fn rider(&self) -> Carrier {
        if self.is_left() {
            Carrier::Ground
        } else {
            Carrier::Point(self.ridden())
        }
    }

    /// What the bar of a link or a cable moves with.
    pub(crate) fn rod(&self, ground: Point3<f64>) -> Carrier {
        Carrier::Rod {
            ground,
            eye: self.at(),
        }
    }

    /// The direction into the wall or floor, across an axis of the scene, on which the ground ends of several links and cables
    /// lie; `None` where this one, which leads along `way`, shares none, or leads along it.
    pub(crate) fn shared_wall(
        &self,
        ground: &Point3<f64>,
        way: &Vector3<f64>,
    ) -> Option<Vector3<f64>> {
        /// Coordinates nearer than this, relative to the characteristic length, are one.
        const SAME: f64 = 1e-7;
        /// Least cosine between a link and the normal of its wall.
        const STEEP: f64 = 0.35;
        let model = self.layout.model;
        let others = |axis: usize| {
            let ends = model.supports.iter().filter_map(|support| support.ground);
            ends.filter(|end| (end[axis] - ground[axis]).abs() <= SAME * model.length)
                .filter(|end| (end - ground).norm() > SAME * model.length)
                .count()
        };
        // Floors before walls, of equally shared ones.
        let axes = (0..model.space.axes()).filter(|axis| way[*axis].abs() >= STEEP);
        let wall = axes.max_by_key(|axis| (others(*axis), *axis))?;
        (others(wall) > 0).then(|| Vector3::ith(wall, way[wall].signum()))
    }

    /// How far something of half a length must reach each way along a direction for what slides there, in units.
    pub(crate) fn span(&self, along: &Vector3<f64>, half: f64) -> [f64; 2] {
        let point = self.ridden();
        let poses = self.layout.swing.iter().filter(|_| !self.is_left());
        let span = poses.fold([-half, half], |[low, high], pose| {
            let way = (pose * point - point).dot(along) / self.unit();
            [low.min(way - BEYOND), high.max(way + BEYOND)]
        });
        span.map(|end| end.clamp(-FARTHEST, FARTHEST))
    }

    /// Whether the body covers a point.
    pub(crate) fn covers(&self, point: &Point3<f64>) -> bool {
        solid::distance(self.layout.body, point) == 0.0
    }

    /// Of directions at the held point, the one that leads most clearly away from the body; the first among equals.
    ///
    /// Each is judged by how far from the body the points between two distances along it lie, units; where all lead through
    /// the body at first, as from the middle of a thick bar, by the farthest of them.
    pub(crate) fn freest(&self, ways: &[Vector3<f64>], reach: [f64; 2]) -> Vector3<f64> {
        const SAMPLES: u32 = 3;
        let reach = reach.map(|units| units * self.unit());
        let room = |way: &Vector3<f64>| -> f64 {
            let samples = (0..SAMPLES).map(|i| {
                let t = f64::from(i) / f64::from(SAMPLES - 1);
                let away = reach[0] + (reach[1] - reach[0]) * t;
                let off = solid::distance(self.layout.body, &(self.at() + way * away));
                (off / away).min(1.0)
            });
            let rooms: Vec<f64> = samples.collect();
            let least = rooms.iter().copied().fold(f64::INFINITY, f64::min);
            let last = rooms.last().copied().unwrap_or_default();
            if least > 0.0 { least } else { last - 1.0 }
        };
        let mut best: Option<(f64, Vector3<f64>)> = None;
        for way in ways {
            let room = (room(way) * 8.0).round();
            if best.is_none_or(|(most, _)| room > most) {
                best = Some((room, *way));
            }
        }
        best.map_or(-Vector3::z(), |(_, way)| way)
    }

    /// In the plane, the direction in which the body lies from the held point: up where the ground fits below.
    pub(crate) fn body_side(&self, deep: bool) -> Vector3<f64> {
        let ways = [Vector3::y(), Vector3::x(), -Vector3::x(), -Vector3::y()];
        let reach = if deep { 16.0 } else { 13.0 };
        let cover = |into: &Vector3<f64>| {
            let behind = self.covered_part(&-into, reach);
            let ahead = self.covered_part(into, reach);
            // A wall wants the body on its other side; a pin is content with a free side.
            behind - if deep { ahead } else { 0 }
        };
        let mut best = ways[0];
        for candidate in &ways[1..] {
            if cover(candidate) < cover(&best) {
                best = *candidate;
            }
        }
        best
    }

    /// How much of a way of a length from the held point lies over the body. Two lines beside it, which count less, tell on
    /// which side of a straight edge the body is.
    fn covered_part(&self, way: &Vector3<f64>, length: f64) -> i32 {
        let aside = Vector3::z().cross(way) * (HALF_WIDTH * self.unit());
        let covered = |line: i32| {
            let over = |eighth: &i32| {
                let along = self.point(way, length * f64::from(*eighth) / 8.0);
                self.covers(&(along + aside * f64::from(line)))
            };
            (1..=8).filter(over).count() as i32
        };
        3 * covered(0) + covered(-1) + covered(1)
    }

    /// Where the ground may lie: below if there is room, else to the sides or above.
    pub(crate) fn away(&self) -> Vector3<f64> {
        if self.is_planar() {
            return -self.body_side(true);
        }
        self.freest(&ways(), [6.0, 14.0])
    }

    /// Where the ground of something around an axis may lie.
    pub(crate) fn away_from_axis(&self, axis: &Vector3<f64>) -> Vector3<f64> {
        let ways: Vec<Vector3<f64>> = ways()
            .into_iter()
            .map(|way| way - axis * way.dot(axis))
            .filter(|way| way.norm() > 0.3)
            .map(|way| way.normalize())
            .collect();
        self.freest(&ways, [7.0, 15.0])
    }

    /// How thick the body is about an axis through the support, in units, within what a ring can hold.
    pub(crate) fn girth(&self, axis: &Vector3<f64>) -> f64 {
        let [x, y] = across(axis);
        let reach = 24.0 * self.unit();
        let inside = |way: Vector3<f64>| {
            let steps = (1..=12).map(|i| reach * f64::from(i) / 12.0);
            let within = steps.take_while(|r| self.covers(&(self.at() + way * *r)));
            within.last().unwrap_or(0.0)
        };
        let radius = [x, y, -x, -y].into_iter().map(inside).fold(0.0, f64::max);
        (radius / self.unit() + 2.0).clamp(4.0, 20.0)
    }
}

/// How many times larger hardware is so that the body around it leaves something to be seen.
fn growth(layout: &Layout, support: &PlacedSupport) -> f64 {
    if layout.thickest <= 1.0 || support.ground.is_some() {
        return 1.0;
    }
    let deepest = layout.thickest * USUAL * layout.unit;
    let surfaces = layout.body.iter();
    let depth = surfaces
        .map(|solid| solid::surface_distance(solid, &support.point, deepest))
        .fold(deepest, f64::min);
    if depth < deepest {
        (1.1 * depth / (USUAL * layout.unit)).max(1.0)
    } else {
        1.0
    }
}

/// Ways in which ground may lie, the usual one first.
fn ways() -> [Vector3<f64>; 6] {
    let [x, y, z] = [Vector3::x(), Vector3::y(), Vector3::z()];
    [-z, -x, x, y, -y, z]
}
