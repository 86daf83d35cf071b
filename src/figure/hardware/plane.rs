//! Supports in the plane: the flat symbols of textbooks.

use super::super::pens::Pens;
use super::super::sketch::{Sketch, Spot, length, step, turned, unit, way};
use super::super::stage::Stage;
use crate::page::Line;
use crate::scene::SupportKind;
use crate::statics::PlacedSupport;

/// Draws the symbol of a support over the body.
pub(in super::super) fn draw(stage: &Stage, support: &PlacedSupport, sketch: &mut Sketch) {
    let moves = match support.kind {
        SupportKind::Link { .. }
        | SupportKind::Cable { .. }
        | SupportKind::Slot { .. }
        | SupportKind::Collar { .. } => true,
        SupportKind::Roller { .. } | SupportKind::Rocker { .. } => !is_left(stage, support),
        _ => false,
    };
    let point = if moves {
        stage.pose * support.point
    } else {
        support.point
    };
    let at = stage.at(&point);
    let orientation = support.orientation.map_or([0.0, -1.0], |direction| {
        unit(stage.direction(&point, &direction))
    });
    let mut symbol = Symbol {
        pens: &stage.pens,
        sketch,
        frame: Frame::new(at, orientation),
    };
    match &support.kind {
        SupportKind::Roller { .. } => symbol.roller(),
        SupportKind::Rocker { .. } => symbol.rocker(),
        SupportKind::SmoothContact { .. } => symbol.contact(false),
        SupportKind::RoughContact { .. } => symbol.contact(true),
        SupportKind::Slot { .. } => symbol.slot(),
        SupportKind::Collar { .. } => symbol.collar(),
        SupportKind::Link { .. } | SupportKind::Cable { .. } => {
            let ground = stage.at(&support.ground.unwrap_or(point));
            symbol.frame = Frame::new(at, unit(way(ground, at)));
            let reach = length(way(ground, at));
            if matches!(support.kind, SupportKind::Link { .. }) {
                symbol.link(reach);
            } else {
                symbol.cable(reach);
            }
        }
        SupportKind::Fixed => {
            symbol.frame = Frame::new(at, into_body(stage, at, true));
            symbol.wall();
        }
        // Those after the pin exist in space only.
        SupportKind::Pin
        | SupportKind::BallJoint
        | SupportKind::Hinge { .. }
        | SupportKind::SlidingHinge { .. }
        | SupportKind::JournalBearing { .. }
        | SupportKind::ThrustBearing { .. }
        | SupportKind::SquareJournal { .. }
        | SupportKind::SmoothPin { .. }
        | SupportKind::Slider { .. }
        | SupportKind::UniversalJoint { .. }
        | SupportKind::RailWheel { .. } => {
            symbol.frame = Frame::new(at, into_body(stage, at, false));
            symbol.pin();
        }
    }
}

/// Whether the motion that is drawn leaves a contact behind.
fn is_left(stage: &Stage, support: &PlacedSupport) -> bool {
    let course = stage.subject.course(stage.settings);
    course.is_some_and(|course| course.leaves(support))
}

/// The direction of the page in which the body lies from a point of it: up where the ground fits below.
fn into_body(stage: &Stage, at: Spot, deep: bool) -> Spot {
    let ways = [[0.0, -1.0], [1.0, 0.0], [-1.0, 0.0], [0.0, 1.0]];
    let reach = if deep { 16.0 } else { 13.0 };
    let cover = |into: &Spot| {
        let behind = stage.covered_share(at, step(at, *into, -reach));
        let ahead = stage.covered_share(at, step(at, *into, reach));
        // A wall wants the body on its other side; a pin is content with a free side.
        (behind * 8.0).round() - if deep { (ahead * 8.0).round() } else { 0.0 }
    };
    let mut best = ways[0];
    for candidate in &ways[1..] {
        if cover(candidate) < cover(&best) {
            best = *candidate;
        }
    }
    best
}

/// Axes at a point: `up` leads from the ground into the body.
#[derive(Clone, Copy)]
struct Frame {
    at: Spot,
    up: Spot,
    right: Spot,
}

impl Frame {
    fn new(at: Spot, up: Spot) -> Self {
        let [x, y] = turned(up);
        Self {
            at,
            up,
            right: [-x, -y],
        }
    }

    fn spot(&self, right: f64, up: f64) -> Spot {
        step(step(self.at, self.right, right), self.up, up)
    }
}

struct Symbol<'a> {
    pens: &'a Pens,
    sketch: &'a mut Sketch,
    frame: Frame,
}

/// Half the length of a piece of ground.
const GROUND: f64 = 13.0;
/// Distance between lines of hatching, along the ground.
const SPACING: f64 = 3.4;
/// Length of hatching across the ground.
const DEPTH: f64 = 4.2;
/// Radius of the ring that stands for a pin.
const PIN: f64 = 2.1;

impl Symbol<'_> {
    fn line(&mut self, points: &[(f64, f64)]) {
        let points: Vec<Spot> = points
            .iter()
            .map(|(x, y)| self.frame.spot(*x, *y))
            .collect();
        self.sketch.line("support", points, self.pens.support);
    }

    fn filled(&mut self, points: &[(f64, f64)]) {
        let points: Vec<Spot> = points
            .iter()
            .map(|(x, y)| self.frame.spot(*x, *y))
            .collect();
        let (stroke, fill) = (self.pens.support, self.pens.paper);
        self.sketch
            .filled("support", vec![Line::closed(points)], Some(stroke), fill);
    }

    fn ring(&mut self, right: f64, up: f64, radius: f64) {
        let centre = self.frame.spot(right, up);
        let (stroke, fill) = (self.pens.support, self.pens.paper);
        self.sketch
            .circle("support", centre, radius, Some(stroke), Some(fill));
    }

    /// Hatched ground below a height, from `-half` to `half`.
    fn ground(&mut self, up: f64, half: f64) {
        let count = (2.0 * half / SPACING).floor() as i32;
        let first = -half + (2.0 * half - f64::from(count) * SPACING) / 2.0;
        let lines = (0..=count).map(|i| {
            let x = first + f64::from(i) * SPACING;
            Line::open([
                self.frame.spot(x, up),
                self.frame.spot(x - DEPTH, up - DEPTH),
            ])
        });
        let lines = lines.collect();
        self.sketch.lines("ground", lines, self.pens.hatch);
        self.line(&[(-half, up), (half, up)]);
    }

    fn pin(&mut self) {
        self.filled(&[(0.0, 0.0), (6.5, -11.0), (-6.5, -11.0)]);
        self.ground(-11.0, GROUND);
        self.ring(0.0, 0.0, PIN);
    }

    fn roller(&mut self) {
        self.ring(0.0, -5.0, 5.0);
        self.ground(-10.0, GROUND);
    }

    fn rocker(&mut self) {
        // A sector whose round side of radius 11 rolls on the ground.
        let mut points = vec![(0.0, 0.0)];
        points.extend((-4..=4).map(|i| {
            let angle = f64::from(i) * 0.16;
            (11.0 * angle.sin(), -11.0 * angle.cos())
        }));
        self.filled(&points);
        self.ground(-11.0, GROUND);
        self.ring(0.0, 0.0, PIN);
    }

    fn contact(&mut self, rough: bool) {
        if rough {
            let teeth: Vec<(f64, f64)> = (-8..=8)
                .map(|i| (f64::from(i) * 1.6, if i % 2 == 0 { 0.0 } else { -1.7 }))
                .collect();
            self.line(&teeth);
            self.ground(-1.7, GROUND);
        } else {
            self.ground(0.0, GROUND);
        }
    }

    fn wall(&mut self) {
        self.ground(0.0, 16.0);
    }

    /// Two lines with an eye at each end, and the ground behind the far one.
    fn link(&mut self, reach: f64) {
        self.ground(-reach - 3.0, 9.0);
        self.filled(&[(1.7, 0.0), (1.7, -reach), (-1.7, -reach), (-1.7, 0.0)]);
        self.ring(0.0, 0.0, 2.6);
        self.ring(0.0, -reach, 2.6);
    }

    fn cable(&mut self, reach: f64) {
        self.ground(-reach, 9.0);
        let points = [self.frame.spot(0.0, 0.0), self.frame.spot(0.0, -reach)];
        self.sketch.line("support", points, self.pens.cable);
        self.ring(0.0, 0.0, 1.6);
    }

    /// A pin in a slot; `up` runs along the slot.
    fn slot(&mut self) {
        const HALF: f64 = 17.0;
        const WIDE: f64 = 3.4;
        let outside = [(8.0, -23.0), (8.0, 23.0), (-8.0, 23.0), (-8.0, -23.0)];
        let outline: Vec<Spot> = outside.map(|(x, y)| self.frame.spot(x, y)).to_vec();
        let (stroke, paper) = (self.pens.support, self.pens.paper);
        self.sketch
            .filled("support", vec![Line::closed(outline)], Some(stroke), paper);
        let hatches = (-13..=13)
            .flat_map(|i| {
                // Diagonals of the plate on both sides of the slot.
                let y = f64::from(i) * SPACING;
                [[-8.0, -WIDE], [WIDE, 8.0]].map(|[low, high]| {
                    let from = (low, (y + low).clamp(-23.0, 23.0));
                    let to = (high, (y + high).clamp(-23.0, 23.0));
                    let [from, to] = [from, to].map(|(_, up)| (up - y, up));
                    (from, to)
                })
            })
            .filter(|((a, _), (b, _))| b - a > 0.8)
            .map(|(from, to)| {
                Line::open([self.frame.spot(from.0, from.1), self.frame.spot(to.0, to.1)])
            })
            .collect();
        self.sketch.lines("ground", hatches, self.pens.hatch);
        let round = |end: f64| {
            (0..=8).map(move |i| {
                let angle = std::f64::consts::PI * f64::from(i) / 8.0;
                (end * WIDE * angle.cos(), end * (HALF + WIDE * angle.sin()))
            })
        };
        let points: Vec<(f64, f64)> = round(1.0).chain(round(-1.0)).collect();
        self.filled(&points);
        self.ring(0.0, 0.0, WIDE - 0.4);
    }

    /// A collar on a rod; `up` runs along the rod.
    fn collar(&mut self) {
        const HALF: f64 = 25.0;
        for end in [1.0, -1.0] {
            let frame = self.frame;
            let up = step([0.0, 0.0], frame.up, -end);
            self.frame = Frame::new(frame.spot(0.0, end * HALF), up);
            self.ground(0.0, 8.0);
            self.frame = frame;
        }
        self.filled(&[(1.6, HALF), (1.6, -HALF), (-1.6, -HALF), (-1.6, HALF)]);
        self.filled(&[(4.5, 8.0), (4.5, -8.0), (-4.5, -8.0), (-4.5, 8.0)]);
        self.ring(0.0, 0.0, 1.4);
    }
}
