//! Supports in the plane: the flat symbols of textbooks. Lengths in units of the layout.

use nalgebra::{Point3, Vector3};

use super::carrier::Carrier::{self, Body, Ground};
use super::hardware_builder::HardwareBuilder;
use super::shape::SymbolPart;

type Symbols<'a> = HardwareBuilder<'a, SymbolPart>;

/// Axes at a point: `up` leads from the ground into the body.
#[derive(Clone, Copy)]
struct SymbolFrame {
    at: Point3<f64>,
    up: Vector3<f64>,
    right: Vector3<f64>,
    unit: f64,
}

impl SymbolFrame {
    fn new(at: Point3<f64>, up: Vector3<f64>, unit: f64) -> Self {
        let right = Vector3::new(up.y, -up.x, 0.0);
        Self {
            at,
            up,
            right,
            unit,
        }
    }

    fn point(&self, (right, up): (f64, f64)) -> Point3<f64> {
        self.at + (self.right * right + self.up * up) * self.unit
    }

    fn points(&self, points: &[(f64, f64)]) -> Vec<Point3<f64>> {
        points.iter().map(|point| self.point(*point)).collect()
    }
}

/// Half the length of a piece of ground.
const GROUND: f64 = 13.0;
/// Distance between lines of hatching, along the ground.
const SPACING: f64 = 3.4;
/// Length of hatching across the ground.
const DEPTH: f64 = 4.2;
/// Radius of the ring that stands for a pin.
const PIN: f64 = 2.1;

impl Symbols<'_> {
    /// Axes at the held point along the direction of the kind.
    fn frame(&self) -> SymbolFrame {
        let up = self
            .support
            .orientation
            .map_or_else(Vector3::y, |way| way.into_inner());
        SymbolFrame::new(self.at(), up, self.unit())
    }

    /// Axes at the held point where the body leaves room for the ground.
    fn frame_into_body(&self, deep: bool) -> SymbolFrame {
        SymbolFrame::new(self.at(), self.body_side(deep), self.unit())
    }

    fn line(&mut self, carrier: Carrier, frame: &SymbolFrame, points: &[(f64, f64)]) {
        self.add(carrier, SymbolPart::Line(frame.points(points)));
    }

    fn plate(&mut self, carrier: Carrier, frame: &SymbolFrame, points: &[(f64, f64)]) {
        self.add(carrier, SymbolPart::Plate(frame.points(points)));
    }

    fn disc(&mut self, carrier: Carrier, frame: &SymbolFrame, at: (f64, f64), radius: f64) {
        let (centre, radius) = (frame.point(at), radius * self.unit());
        self.add(carrier, SymbolPart::Disc { centre, radius });
    }

    /// Hatched ground below a height, half a length to each side.
    fn ground(&mut self, frame: &SymbolFrame, up: f64, half: f64) {
        let count = (2.0 * half / SPACING).floor();
        let first = -half + (2.0 * half - count * SPACING) / 2.0;
        self.hatched(frame, up, [-half, half], first);
    }

    /// Ground on which something slides that is carried at the held point.
    fn floor(&mut self, frame: &SymbolFrame, up: f64) {
        let span = self.span(&frame.right, GROUND);
        if span == [-GROUND, GROUND] {
            return self.ground(frame, up, GROUND);
        }
        // Floors that run into each other are hatched as one.
        let along = frame.point((span[0], up)).coords.dot(&frame.right) / frame.unit;
        let first = span[0] + (-along).rem_euclid(SPACING);
        self.hatched(frame, up, span, first);
    }

    fn hatched(&mut self, frame: &SymbolFrame, up: f64, [low, high]: [f64; 2], first: f64) {
        self.foot.get_or_insert(frame.point((0.0, up)));
        let count = ((high - first) / SPACING + 1e-9).floor() as i32;
        let hatches = (0..=count).map(|i| {
            let x = first + f64::from(i) * SPACING;
            [(x, up), (x - DEPTH, up - DEPTH)].map(|end| frame.point(end))
        });
        self.add(Ground, SymbolPart::Hatching(hatches.collect()));
        self.line(Ground, frame, &[(low, up), (high, up)]);
    }
}

/// Triangle on the ground with a pin at its top.
pub(super) fn pin(bench: &mut Symbols) {
    let frame = bench.frame_into_body(false);
    bench.plate(Ground, &frame, &[(0.0, 0.0), (6.5, -11.0), (-6.5, -11.0)]);
    bench.ground(&frame, -11.0, GROUND);
    bench.disc(Ground, &frame, (0.0, 0.0), PIN);
}

/// Hatched wall.
pub(super) fn wall(bench: &mut Symbols) {
    let frame = bench.frame_into_body(true);
    bench.ground(&frame, 0.0, 16.0);
}

/// Ring between body and ground.
pub(super) fn roller(bench: &mut Symbols) {
    let frame = bench.frame();
    bench.disc(bench.rider(), &frame, (0.0, -5.0), 5.0);
    bench.floor(&frame, -10.0);
}

/// A sector whose round side of radius 11 rolls on the ground.
pub(super) fn rocker(bench: &mut Symbols) {
    let (frame, rider) = (bench.frame(), bench.rider());
    let mut points = vec![(0.0, 0.0)];
    points.extend((-4..=4).map(|i| {
        let angle = f64::from(i) * 0.16;
        (11.0 * angle.sin(), -11.0 * angle.cos())
    }));
    bench.plate(rider, &frame, &points);
    bench.floor(&frame, -11.0);
    bench.disc(rider, &frame, (0.0, 0.0), PIN);
}

/// The ground itself; with teeth where it is rough.
pub(super) fn contact(bench: &mut Symbols, rough: bool) {
    let frame = bench.frame();
    if rough {
        let teeth: Vec<(f64, f64)> = (-8..=8)
            .map(|i| (f64::from(i) * 1.6, if i % 2 == 0 { 0.0 } else { -1.7 }))
            .collect();
        bench.line(Ground, &frame, &teeth);
        bench.floor(&frame, -1.7);
    } else {
        bench.floor(&frame, 0.0);
    }
}

/// Axes of a link or cable at its eye on the body, and its length; `up` leads from the ground to the body.
fn rod_frame(bench: &Symbols) -> (SymbolFrame, f64, Point3<f64>) {
    let ground = bench.support.ground.unwrap_or(bench.at());
    let way = bench.at() - ground;
    let up = way.try_normalize(0.0).unwrap_or_else(Vector3::zeros);
    let frame = SymbolFrame::new(bench.at(), up, bench.unit());
    (frame, way.norm() / bench.unit(), ground)
}

/// The ground behind the far end of a link or cable: on the wall or floor that it shares with others, else across its line.
fn anchor(bench: &mut Symbols, along: &SymbolFrame, ground: Point3<f64>, eye: f64) {
    let up = bench
        .shared_wall(&ground, &-along.up)
        .map_or(along.up, |into| -into);
    let frame = SymbolFrame::new(ground, up, bench.unit());
    bench.ground(&frame, -eye, 9.0);
}

/// Two lines with an eye at each end, and the ground behind the far one.
pub(super) fn link(bench: &mut Symbols) {
    let (frame, reach, ground) = rod_frame(bench);
    anchor(bench, &frame, ground, 3.0);
    let bar = [(1.7, 0.0), (1.7, -reach), (-1.7, -reach), (-1.7, 0.0)];
    bench.plate(bench.rod(ground), &frame, &bar);
    bench.disc(Body, &frame, (0.0, 0.0), 2.6);
    bench.disc(Ground, &frame, (0.0, -reach), 2.6);
}

/// A line with an eye on the body.
pub(super) fn cable(bench: &mut Symbols) {
    let (frame, _, ground) = rod_frame(bench);
    anchor(bench, &frame, ground, 0.0);
    bench.add(bench.rod(ground), SymbolPart::Cord([bench.at(), ground]));
    bench.disc(Body, &frame, (0.0, 0.0), 1.6);
}

/// A pin in a slot of the ground; `up` runs along the slot.
pub(super) fn slot(bench: &mut Symbols) {
    const HALF: f64 = 17.0;
    const WIDE: f64 = 3.4;
    /// Plate beyond the ends and beside the slot.
    const MARGIN: f64 = 6.0;
    const SIDE: f64 = 8.0;
    let frame = bench.frame();
    let [low, high] = bench.span(&frame.up, HALF);
    let [bottom, top] = [low - MARGIN, high + MARGIN];
    let outline = [(SIDE, bottom), (SIDE, top), (-SIDE, top), (-SIDE, bottom)];
    bench.plate(Ground, &frame, &outline);
    let first = (bottom / SPACING).ceil() as i32 - 3;
    let last = (top / SPACING).floor() as i32 + 3;
    let hatches = (first..=last).flat_map(|i| {
        // Diagonals of the plate on both sides of the slot.
        let y = f64::from(i) * SPACING;
        [[-SIDE, -WIDE], [WIDE, SIDE]].map(|sides| {
            let heights = sides.map(|side| (y + side).clamp(bottom, top));
            heights.map(|up| (up - y, up))
        })
    });
    let hatches = hatches
        .filter(|[(a, _), (b, _)]| b - a > 0.8)
        .map(|ends| ends.map(|end| frame.point(end)));
    bench.add(Ground, SymbolPart::Hatching(hatches.collect()));
    let round = |end: f64, middle: f64| {
        (0..=8).map(move |i| {
            let angle = std::f64::consts::PI * f64::from(i) / 8.0;
            (end * WIDE * angle.cos(), middle + end * WIDE * angle.sin())
        })
    };
    let hole: Vec<(f64, f64)> = round(1.0, high).chain(round(-1.0, low)).collect();
    bench.plate(Ground, &frame, &hole);
    bench.disc(bench.rider(), &frame, (0.0, 0.0), WIDE - 0.4);
}

/// A collar on a rod between two walls; `up` runs along the rod.
pub(super) fn collar(bench: &mut Symbols) {
    const HALF: f64 = 25.0;
    let (frame, rider) = (bench.frame(), bench.rider());
    let [low, high] = bench.span(&frame.up, HALF);
    for (end, inwards) in [(high, -1.0), (low, 1.0)] {
        let wall = SymbolFrame::new(frame.point((0.0, end)), frame.up * inwards, frame.unit);
        bench.ground(&wall, 0.0, 8.0);
    }
    let rod = [(1.6, high), (1.6, low), (-1.6, low), (-1.6, high)];
    bench.plate(Ground, &frame, &rod);
    bench.plate(
        rider,
        &frame,
        &[(4.5, 8.0), (4.5, -8.0), (-4.5, -8.0), (-4.5, 8.0)],
    );
    bench.disc(rider, &frame, (0.0, 0.0), 1.4);
}
