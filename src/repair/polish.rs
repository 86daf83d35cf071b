//! From a good link to the best one near it: small steps of its eye over the body and of its direction.

use nalgebra::{Point3, Vector3};

use super::ends::{Ends, turned};
use super::field::{Field, Hold};
use super::places::Spots;
use crate::scene::Space;

/// A link by its eye, m, and its direction; and the square of what it leaves.
#[derive(Debug, Clone, Copy)]
pub(super) struct Link {
    pub(super) point: Point3<f64>,
    pub(super) unit: Vector3<f64>,
    pub(super) square: f64,
}

/// Steps over the body, relative to its size, at first.
const WIDEST: f64 = 0.1;
/// Steps of the direction, radians, for a step over the whole body.
const TURN: f64 = 3.0;
/// Tries without success after which steps become shorter, and by what.
const PATIENCE: usize = 8;
const SHORTER: f64 = 0.6;

/// What a local search needs.
pub(super) struct Polish<'a> {
    pub(super) field: &'a Field,
    pub(super) ends: &'a Ends<'a>,
    pub(super) spots: &'a Spots,
    pub(super) space: Space,
    /// Whether eyes stay where they are: at named points.
    pub(super) fixed: bool,
}

impl Polish<'_> {
    /// The best link that is found with steps down to a length, relative to the body's size; and how many were tried.
    pub(super) fn best(&self, start: Link, shortest: f64) -> (Link, usize) {
        let (mut best, mut hold) = (start, self.field.at(&start.point));
        let (mut step, mut failed, mut tried) = (WIDEST, 0, 0);
        while step > shortest {
            tried += 1;
            let (point, moved) = self.point_near(&best.point, step, tried);
            let there = moved.then(|| self.field.at(&point));
            let from = there.as_ref().unwrap_or(&hold);
            let next = self.link_near(&best, point, from, step, tried);
            // Whether it is clear is dearer to know than whether it is better.
            if next.square > best.square && self.ends.can_leave(&next.point, &next.unit) {
                best = next;
                if let Some(there) = there {
                    hold = there;
                }
                failed = 0;
                continue;
            }
            failed += 1;
            if failed == PATIENCE {
                failed = 0;
                step *= SHORTER;
            }
        }
        (best, tried)
    }

    fn link_near(
        &self,
        best: &Link,
        point: Point3<f64>,
        hold: &Hold,
        step: f64,
        turn: usize,
    ) -> Link {
        // The direction stays in one try of four, the eye in two.
        let unit = if turn.is_multiple_of(4) {
            best.unit
        } else {
            turned(&best.unit, &(self.way(2 * turn + 1) * (TURN * step)))
        };
        Link {
            point,
            unit,
            square: hold.square(&unit),
        }
    }

    /// A point of the body near another, and whether it is another.
    fn point_near(&self, point: &Point3<f64>, step: f64, turn: usize) -> (Point3<f64>, bool) {
        if self.fixed || turn % 4 == 1 || turn % 4 == 3 {
            return (*point, false);
        }
        let shift = self.way(2 * turn) * (step * self.spots.size_in_metres());
        match self.spots.on_body(&(point + shift)) {
            Some(near) => (near, true),
            None => (*point, false),
        }
    }

    /// Directions spread evenly over all, one after the other: multiples of two irrational parts of a turn.
    fn way(&self, turn: usize) -> Vector3<f64> {
        let part = |of: f64| (turn as f64 * of).fract();
        // Roots of x³ = x + 1 (Roberts 2018, on sequences of low discrepancy).
        let around = part(0.754_877_666_246_692_8) * std::f64::consts::TAU;
        let level = 2.0 * part(0.569_840_290_998_053_3) - 1.0;
        match self.space {
            Space::Planar => Vector3::new(around.cos(), around.sin(), 0.0),
            Space::Spatial => {
                let across = (1.0 - level * level).sqrt();
                Vector3::new(across * around.cos(), across * around.sin(), level)
            }
        }
    }
}
