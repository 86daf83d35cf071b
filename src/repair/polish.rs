//! From a good link to the best one near it: small steps of its eye over the body and of its direction.

use nalgebra::{Point3, Vector3};

use super::ends::{Ends, turned};
use super::eye_places::{EyePlaces, LUG};
use super::field::HeldField;
use crate::scene::Space;

/// A link by its eye, m, and its direction; and the square of what it leaves.
#[derive(Debug, Clone, Copy)]
pub(super) struct TrialLink {
    pub(super) point: Point3<f64>,
    pub(super) unit: Vector3<f64>,
    pub(super) square: f64,
}

/// Tries without success after which steps become shorter, and by what.
const PATIENCE: usize = 8;
const SHORTER: f64 = 0.6;
/// How much farther the next step goes after one that helped.
const FARTHER: f64 = 2.0;
/// Turns of the direction, radians, for a step over the whole body, and how many are tried where the best has no clear way.
const TURN: f64 = 3.0;
const TURNS: usize = 4;

/// What a local search needs.
pub(super) struct Polish<'a> {
    pub(super) field: &'a HeldField,
    pub(super) ends: &'a Ends<'a>,
    pub(super) spots: &'a EyePlaces,
    pub(super) space: Space,
    /// Whether eyes stay where they are: at named points.
    pub(super) fixed: bool,
}

impl Polish<'_> {
    /// The best link that is found with steps from a length down to another, relative to the body's size; and how many were
    /// tried.
    ///
    /// Only the place is searched: at each the best direction is known, unless something is in its way. Where a step helped
    /// the next goes the same way, twice as far, so that the search runs along ridges, on which few steps lead upwards.
    pub(super) fn best(&self, start: TrialLink, widest: f64, shortest: f64) -> (TrialLink, usize) {
        let (mut best, mut step) = (start, widest);
        let (mut failed, mut tried) = (0, 0);
        let mut ahead: Option<Vector3<f64>> = None;
        while step > shortest {
            tried += 1;
            let is_ahead = ahead.is_some();
            let shift = ahead.take().unwrap_or_else(|| self.way(tried) * step);
            match self.better(&best, &shift, step, tried) {
                Some(next) => {
                    let moved = (next.point - best.point) / self.spots.size_in_metres();
                    ahead = (moved.norm() > 0.0).then_some(moved * FARTHER);
                    best = next;
                    failed = 0;
                }
                None if is_ahead => {}
                None => failed += 1,
            }
            if failed == PATIENCE {
                failed = 0;
                step *= SHORTER;
            }
        }
        (best, tried)
    }

    /// A better link at the body's point nearest to a shifted one, relative to its size.
    fn better(
        &self,
        best: &TrialLink,
        shift: &Vector3<f64>,
        step: f64,
        turn: usize,
    ) -> Option<TrialLink> {
        let point = self.shifted(&best.point, shift)?;
        let hold = self.field.at(&point);
        let (unit, square) = hold.best(best.square)?;
        let link = |unit: Vector3<f64>, square: f64| TrialLink {
            point,
            unit,
            square,
        };
        // Whether it is clear is dearer to know than whether it is better.
        let is_clear = |link: &TrialLink| self.ends.can_leave(&link.point, &link.unit);
        let near = (0..TURNS).map(|k| {
            let by = self.way(TURNS * turn + k) * (TURN * step * k as f64);
            let unit = turned(&best.unit, &by);
            link(unit, hold.square(&unit))
        });
        let near = near.filter(|near| near.square > best.square);
        std::iter::once(link(unit, square))
            .chain(near)
            .find(is_clear)
    }

    /// The body's point nearest to one shifted from a point of it.
    fn shifted(&self, point: &Point3<f64>, shift: &Vector3<f64>) -> Option<Point3<f64>> {
        if self.fixed {
            return Some(*point);
        }
        let size = self.spots.size_in_metres();
        let within = (shift.norm() + LUG) * size;
        self.spots.on_body(&(point + shift * size), within)
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
