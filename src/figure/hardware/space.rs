//! Supports in space: balls, rings, knuckles, rods and hatched pieces of ground.

use nalgebra::{Point3, Unit, Vector3};

use super::super::mesh::{Mesh, across};
use super::super::stage::Stage;
use crate::scene::SupportKind;
use crate::statics::PlacedSupport;

/// What stands for a support: meshes that hide and are hidden, and lines such as cables.
#[derive(Debug, Default)]
pub(in super::super) struct Hardware {
    /// Solid pieces.
    pub meshes: Vec<Mesh>,
    /// Cables, m.
    pub cables: Vec<[Point3<f64>; 2]>,
}

/// The hardware of a support; `point` is where it holds the body now.
pub(in super::super) fn hardware(stage: &Stage, support: &PlacedSupport) -> Hardware {
    let moves = matches!(
        support.kind,
        SupportKind::Link { .. }
            | SupportKind::Cable { .. }
            | SupportKind::Roller { .. }
            | SupportKind::RailWheel { .. }
            | SupportKind::Slider { .. }
    );
    let maker = Maker {
        stage,
        at: if moves {
            stage.pose * support.point
        } else {
            support.point
        },
        u: stage.unit(),
        out: Hardware::default(),
    };
    maker.make(support)
}

struct Maker<'a> {
    stage: &'a Stage<'a>,
    at: Point3<f64>,
    /// Metres for a point of the page.
    u: f64,
    out: Hardware,
}

/// Half the side of a piece of ground, points.
const GROUND: f64 = 9.0;
/// Distance between lines of hatching, points.
const SPACING: f64 = 3.2;

impl Maker<'_> {
    fn make(mut self, support: &PlacedSupport) -> Hardware {
        let axis = support.orientation.map(Unit::into_inner);
        let along = axis.unwrap_or_else(Vector3::z);
        match &support.kind {
            SupportKind::BallJoint | SupportKind::Pin => self.ball_joint(),
            SupportKind::Hinge { .. } => self.hinge(along, true),
            SupportKind::SlidingHinge { .. } => self.hinge(along, false),
            SupportKind::JournalBearing { .. } => self.bearing(along, false, false),
            SupportKind::ThrustBearing { .. } => self.bearing(along, true, false),
            SupportKind::SquareJournal { .. } => self.bearing(along, false, true),
            SupportKind::SmoothPin { .. } => self.clevis(along),
            SupportKind::Slider { .. } | SupportKind::Collar { .. } | SupportKind::Slot { .. } => {
                self.slider(along);
            }
            SupportKind::UniversalJoint { .. } => self.universal(along),
            SupportKind::RailWheel { .. } => {
                let normal = support.normal.map_or_else(Vector3::z, Unit::into_inner);
                self.rail_wheel(along, normal);
            }
            SupportKind::Fixed => self.fixed(),
            SupportKind::Roller { .. } | SupportKind::Rocker { .. } => self.roller(along),
            SupportKind::SmoothContact { .. } => self.contact(along, false),
            SupportKind::RoughContact { .. } => self.contact(along, true),
            SupportKind::Link { .. } => self.link(support.ground.unwrap_or(self.at)),
            SupportKind::Cable { .. } => self.cable(support.ground.unwrap_or(self.at)),
        }
        self.out
    }

    fn add(&mut self, mesh: Mesh) {
        self.out.meshes.push(mesh);
    }

    fn point(&self, along: &Vector3<f64>, points: f64) -> Point3<f64> {
        self.at + along * (points * self.u)
    }

    fn ball(&mut self, at: Point3<f64>, radius: f64) {
        self.add(Mesh::ball(&at, radius * self.u));
    }

    fn rod(&mut self, from: Point3<f64>, to: Point3<f64>, radius: f64) {
        if (to - from).norm() > 0.0 {
            self.add(Mesh::rod(&from, &to, radius * self.u));
        }
    }

    /// Turned piece along a direction from the support; stations in points.
    fn turned(&mut self, along: &Vector3<f64>, stations: &[(f64, f64, bool)]) {
        let scaled: Vec<_> = stations
            .iter()
            .map(|(at, radius, drawn)| (at * self.u, radius * self.u, *drawn))
            .collect();
        self.add(Mesh::turned(&self.at, along, &scaled));
    }

    fn ring(&mut self, axis: &Vector3<f64>, shift: f64, radii: [f64; 2], width: f64, square: bool) {
        let centre = self.point(axis, shift);
        let radii = radii.map(|radius| radius * self.u);
        self.add(Mesh::ring(&centre, axis, radii, width * self.u, square));
    }

    fn block(&mut self, centre: Point3<f64>, halves: [Vector3<f64>; 3]) {
        self.add(Mesh::block(&centre, halves.map(|half| half * self.u)));
    }

    fn ground(&mut self, centre: Point3<f64>, normal: &Vector3<f64>, half: f64) {
        let (half, spacing) = (half * self.u, SPACING * self.u);
        self.add(Mesh::ground(&centre, normal, half, spacing));
    }

    /// Where the ground may lie: below if there is room, else to the sides or above.
    fn away(&self) -> Vector3<f64> {
        let reach = [6.0, 14.0].map(|points| points * self.u);
        self.stage.freest(&self.at, &ways(), reach)
    }

    /// Where the ground of something around an axis may lie.
    fn away_from_axis(&self, axis: &Vector3<f64>) -> Vector3<f64> {
        let ways: Vec<Vector3<f64>> = ways()
            .into_iter()
            .map(|way| way - axis * way.dot(axis))
            .filter(|way| way.norm() > 0.3)
            .map(|way| way.normalize())
            .collect();
        let reach = [7.0, 15.0].map(|points| points * self.u);
        self.stage.freest(&self.at, &ways, reach)
    }

    fn ball_joint(&mut self) {
        let down = self.away();
        self.turned(
            &down,
            &[
                (2.2, 3.9, false),
                (2.2, 4.6, true),
                (5.0, 4.6, false),
                (9.0, 6.0, true),
            ],
        );
        self.ball(self.at, 3.9);
        self.ground(self.point(&down, 9.0), &-down, GROUND);
    }

    /// Knuckles on a pin; with heads where sliding along it is stopped.
    fn hinge(&mut self, axis: Vector3<f64>, heads: bool) {
        let down = self.away_from_axis(&axis);
        let side = axis.cross(&down);
        self.turned(
            &axis,
            &[
                (-8.0, 3.4, true),
                (-3.0, 3.4, true),
                (3.0, 3.4, true),
                (8.0, 3.4, true),
            ],
        );
        let pin = if heads { 10.0 } else { 14.0 };
        self.rod(self.point(&axis, -pin), self.point(&axis, pin), 1.3);
        if heads {
            for end in [-1.0, 1.0] {
                let stations = [(9.5 * end, 3.0, true), (11.5 * end, 3.0, true)];
                let axis = axis * end;
                self.turned(&axis, &stations.map(|(at, r, d)| (at * end, r, d)));
            }
        }
        let centre = self.point(&down, 6.5);
        self.block(centre, [axis * 3.0, side * 1.0, down * 4.0]);
        self.ground(self.point(&down, 10.5), &-down, GROUND);
    }

    /// How thick the body is about an axis through the support, in points of the page, within what a ring can hold.
    fn girth(&self, axis: &Vector3<f64>) -> f64 {
        let [x, y] = across(axis);
        let reach = 24.0 * self.u;
        let inside = |way: Vector3<f64>| {
            let steps = (1..=12).map(|i| reach * f64::from(i) / 12.0);
            let within = steps.take_while(|r| {
                crate::scene::solid::distance(&self.stage.solids, &(self.at + way * *r)) == 0.0
            });
            within.last().unwrap_or(0.0)
        };
        let radius = [x, y, -x, -y].into_iter().map(inside).fold(0.0, f64::max);
        (radius / self.u + 2.0).clamp(4.0, 20.0)
    }

    fn bearing(&mut self, axis: Vector3<f64>, thrust: bool, square: bool) {
        let down = self.away_from_axis(&axis);
        let side = axis.cross(&down);
        let inner = self.girth(&axis);
        let outer = inner + 3.0;
        self.ring(&axis, 0.0, [inner, outer], 7.0, square);
        if thrust {
            for end in [-1.0, 1.0] {
                let collar = [inner.min(outer - 2.0) * 0.6, outer - 1.2];
                self.ring(&axis, 5.6 * end, collar, 2.4, square);
            }
        }
        let foot = outer + 4.5;
        let centre = self.point(&down, (outer + foot) / 2.0 - 0.4);
        self.block(
            centre,
            [axis * 2.0, side * 2.6, down * ((foot - outer) / 2.0 + 0.4)],
        );
        self.ground(self.point(&down, foot), &-down, GROUND);
    }

    fn clevis(&mut self, axis: Vector3<f64>) {
        let down = self.away_from_axis(&axis);
        let side = axis.cross(&down);
        for end in [-1.0, 1.0] {
            let centre = self.point(&axis, 5.5 * end) + down * (3.5 * self.u);
            self.block(centre, [axis * 1.0, side * 3.6, down * 7.0]);
        }
        self.rod(self.point(&axis, -9.5), self.point(&axis, 9.5), 1.6);
        self.ground(self.point(&down, 10.5), &-down, GROUND);
    }

    fn slider(&mut self, rod: Vector3<f64>) {
        let inner = (self.girth(&rod) - 2.0).clamp(1.7, 5.0);
        self.ring(&rod, 0.0, [inner, inner + 2.2], 12.0, false);
        for end in [-1.0, 1.0] {
            let far = self.point(&rod, 26.0 * end);
            self.ground(far, &(rod * -end), GROUND * 0.75);
        }
        self.rod(self.point(&rod, -26.0), self.point(&rod, 26.0), 1.6);
    }

    fn universal(&mut self, axis: Vector3<f64>) {
        let reach = [6.0, 16.0].map(|points| points * self.u);
        let out = self.stage.freest(&self.at, &[-axis, axis], reach);
        let [x, y] = across(&out);
        self.rod(self.point(&x, -5.5), self.point(&x, 5.5), 1.2);
        self.rod(self.point(&y, -5.5), self.point(&y, 5.5), 1.2);
        for end in [-1.0, 1.0] {
            let centre = self.point(&x, 5.0 * end) + out * (3.0 * self.u);
            self.block(centre, [x * 0.8, y * 2.0, out * 4.5]);
        }
        self.turned(&out, &[(7.0, 5.6, true), (9.0, 5.6, true)]);
        self.turned(&out, &[(9.0, 2.0, false), (15.0, 2.0, true)]);
        self.ground(self.point(&out, 15.0), &-out, GROUND);
    }

    fn rail_wheel(&mut self, rail: Vector3<f64>, normal: Vector3<f64>) {
        let side = rail.cross(&normal);
        self.turned(
            &side,
            &[
                (-2.6, 6.0, true),
                (-2.6, 7.2, true),
                (-1.4, 7.2, true),
                (-1.4, 5.6, false),
                (2.4, 5.6, true),
            ],
        );
        self.rod(self.point(&side, -4.0), self.point(&side, 4.0), 1.3);
        let centre = self.point(&normal, -7.4);
        self.block(centre, [rail * 22.0, side * 1.2, normal * 1.8]);
        let (foot, half) = (self.point(&normal, -9.2), 22.0);
        for end in [-1.0, 0.0, 1.0] {
            let at = foot + rail * (end * (half - 5.0) * self.u);
            self.ground(at, &normal, 5.0);
        }
    }

    fn fixed(&mut self) {
        let down = self.away();
        let [x, y] = across(&down);
        let centre = self.point(&down, 2.5);
        self.block(centre, [x * 6.5, y * 6.5, down * 3.0]);
        self.ground(self.point(&down, 5.5), &-down, GROUND * 1.15);
    }

    fn roller(&mut self, normal: Vector3<f64>) {
        self.ball(self.point(&normal, -4.2), 4.2);
        self.ground(self.point(&normal, -8.4), &normal, GROUND);
    }

    fn contact(&mut self, normal: Vector3<f64>, rough: bool) {
        let down = -normal;
        let stations: &[(f64, f64, bool)] = if rough {
            &[
                (0.0, 1.6, true),
                (2.0, 3.2, true),
                (4.0, 3.2, true),
                (6.0, 4.8, true),
            ]
        } else {
            &[(0.0, 0.6, false), (6.0, 4.8, true)]
        };
        self.turned(&down, stations);
        self.ground(self.point(&down, 6.0), &normal, GROUND);
    }

    /// Unit way from the body to the ground, and the ground behind an eye.
    fn anchor(&mut self, ground: Point3<f64>, eye: f64) -> Option<Vector3<f64>> {
        let way = (ground - self.at).try_normalize(0.0)?;
        let back = ground + way * (eye * self.u);
        self.ground(back, &-way, GROUND * 0.8);
        Some(way)
    }

    fn link(&mut self, ground: Point3<f64>) {
        if self.anchor(ground, 2.6).is_some() {
            self.rod(self.at, ground, 1.5);
        }
        self.ball(self.at, 2.6);
        self.ball(ground, 2.6);
    }

    fn cable(&mut self, ground: Point3<f64>) {
        self.anchor(ground, 0.0);
        self.ball(self.at, 1.8);
        self.out.cables.push([self.at, ground]);
    }
}

/// Ways in which ground may lie, the usual one first.
fn ways() -> [Vector3<f64>; 6] {
    let [x, y, z] = [Vector3::x(), Vector3::y(), Vector3::z()];
    [-z, -x, x, y, -y, z]
}
