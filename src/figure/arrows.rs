//! Arrows and rings on the page.

use nalgebra::{Point3, Vector3};

use super::sketch::{Sketch, Spot, length, step, turned, unit, way};
use super::stage::Stage;
use crate::drawing::{Polyline, Stroke};
use crate::portrayal::across;

/// Heads of arrows: each meaning has its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Head {
    /// Reactions: long and slim.
    Slim,
    /// Loads: a broad block.
    Block,
    /// Arrows of a distributed load: a small block, so that short arrows keep a shaft.
    Row,
    /// Motions: two open strokes.
    Open,
    /// Dimensions and axes: small and slim.
    Small,
}

impl Head {
    /// Length and half width in points.
    fn size(self) -> [f64; 2] {
        match self {
            Self::Slim => [6.0, 1.75],
            Self::Block => [6.2, 3.4],
            Self::Row => [4.2, 1.9],
            Self::Open => [4.6, 3.0],
            Self::Small => [3.4, 1.1],
        }
    }
}

/// How an arrow is drawn.
#[derive(Debug, Clone, Copy)]
pub(super) struct Arrow {
    pub role: &'static str,
    pub stroke: Stroke,
    pub head: Head,
}

/// Directions shorter than this on the page are seen end-on.
pub(super) const END_ON: f64 = 0.2;

impl Arrow {
    /// A straight arrow.
    pub(crate) fn draw(&self, sketch: &mut Sketch, tail: Spot, tip: Spot) {
        self.draw_along(sketch, &[tail, tip]);
    }

    /// An arrow along a line through points; the head is at the last.
    pub(crate) fn draw_along(&self, sketch: &mut Sketch, points: &[Spot]) {
        let [.., tip] = points else { return };
        let [long, half] = self.head.size();
        let neck_back = if self.head == Head::Open {
            0.0
        } else {
            long - 0.5
        };
        let (shaft, neck) = shortened(points, neck_back);
        sketch.lines(self.role, vec![Polyline::smooth(shaft)], self.stroke);
        let base = if self.head == Head::Open {
            shortened(points, long).1
        } else {
            neck
        };
        let ahead = unit(way(base, *tip));
        let back = step(*tip, ahead, -long);
        let side = turned(ahead);
        let corners = [step(back, side, half), *tip, step(back, side, -half)];
        match self.head {
            Head::Open => sketch.line(self.role, corners, self.stroke),
            _ => sketch.filled(
                self.role,
                vec![Polyline::closed(corners)],
                None,
                self.stroke.colour,
            ),
        }
    }

    /// A direction seen end-on: a ring with a dot when it points at the viewer, with a cross when away.
    pub(crate) fn draw_end_on(&self, sketch: &mut Sketch, at: Spot, towards: bool) {
        sketch.circle(self.role, at, 3.6, Some(self.stroke), None);
        if towards {
            sketch.circle(self.role, at, 1.1, None, Some(self.stroke.colour));
        } else {
            let d = 2.5;
            let cross = [[[-d, -d], [d, d]], [[-d, d], [d, -d]]];
            let lines = cross.map(|ends| Polyline::open(ends.map(|end| step(at, end, 1.0))));
            sketch.lines(self.role, lines.to_vec(), self.stroke);
        }
    }
}

/// The line without its last part of a length, and where it then ends.
fn shortened(points: &[Spot], by: f64) -> (Vec<Spot>, Spot) {
    let mut kept = points.to_vec();
    let mut left = by;
    while kept.len() > 1 {
        let (from, to) = (kept[kept.len() - 2], kept[kept.len() - 1]);
        let piece = length(way(from, to));
        if piece > left {
            let end = step(to, unit(way(from, to)), -left);
            let last = kept.len() - 1;
            kept[last] = end;
            return (kept, end);
        }
        left -= piece;
        kept.pop();
    }
    let first = points.first().copied().unwrap_or_default();
    (vec![first], first)
}

/// Points of an arc about an axis: `radius` in points of the page, angles in radians, right-handed.
pub(super) fn arc(
    stage: &Stage,
    centre: &Point3<f64>,
    axis: &Vector3<f64>,
    radius: f64,
    [start, sweep]: [f64; 2],
) -> Vec<Spot> {
    const PIECES: u32 = 28;
    let [x, y] = across(axis);
    let radius = radius * stage.unit();
    (0..=PIECES)
        .map(|i| {
            let (sin, cos) = (start + sweep * f64::from(i) / f64::from(PIECES)).sin_cos();
            stage.at(&(centre + (x * cos + y * sin) * radius))
        })
        .collect()
}

/// Whether a direction points at the viewer rather than away.
pub(super) fn towards_viewer(stage: &Stage, at: &Point3<f64>, direction: &Vector3<f64>) -> bool {
    stage.view.sight(at).dot(direction) > 0.0
}
