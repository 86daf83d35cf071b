//! The largest turns on a way, to both sides.
//!
//! The angle of the turn changes no faster than the way is long, so a stretch of the way whose ends are turned by α and β
//! is nowhere turned by more than `(α + β + length) / 2`. Stretches that may hold a larger turn than is known are halved,
//! and on the short ones that are left the place is found where the angle stops growing, or where the turn changes its
//! side.

use nalgebra::{Isometry3, Vector3};

use super::accumulated_rotation::AccumulatedRotation;
use super::constraints::Constraints;
use super::node::{PathNode, spin};
use super::root::sign_change;

/// How often a step is halved at most.
const DEEPEST: usize = 5;
/// A stretch is no longer than this many times its part of the step: steps are nearly straight.
const LONGER: f64 = 1.3;
/// A change of side is found to this part of the step.
const SIDE_FOUND: f64 = 1e-12;

/// A placement at a part of the step from a node.
#[derive(Clone, Copy)]
struct PathPlace {
    at: f64,
    turn: AccumulatedRotation,
    /// How fast the angle grows.
    rate: f64,
}

/// The search over all steps of one sense of a path.
pub(super) struct Extremes<'a> {
    pub(super) constraints: &'a Constraints,
    pub(super) rank: usize,
    /// The unit axis of positive turns.
    pub(super) about: Option<Vector3<f64>>,
    /// Largest angle to each side: negative, positive.
    largest: [f64; 2],
}

impl<'a> Extremes<'a> {
    /// Smallest and largest signed angle of turn along placements, rad.
    pub(super) fn of(
        constraints: &'a Constraints,
        rank: usize,
        about: Option<Vector3<f64>>,
        nodes: &[PathNode],
    ) -> [f64; 2] {
        let mut search = Self {
            constraints,
            rank,
            about,
            largest: [0.0; 2],
        };
        for node in nodes {
            search.visit(node.turn);
        }
        for pair in nodes.windows(2) {
            let place = |node: &PathNode, at: f64| PathPlace {
                at,
                turn: node.turn,
                rate: node.turn.rate(&node.spin()),
            };
            let ends = [place(&pair[0], 0.0), place(&pair[1], pair[0].step)];
            search.search(&pair[0], ends, DEEPEST);
        }
        let [back, ahead] = search.largest;
        [-back, ahead]
    }

    fn visit(&mut self, turn: AccumulatedRotation) {
        let side = usize::from(turn.side() > 0.0);
        self.largest[side] = self.largest[side].max(turn.signed().abs());
    }

    /// Looks for larger turns on a stretch of the step from a node.
    fn search(&mut self, node: &PathNode, [low, high]: [PathPlace; 2], depth: usize) {
        let length = (high.at - low.at) * LONGER;
        if !self.may_be_larger(low.turn, high.turn, length) {
            return;
        }
        if depth > 0 {
            let middle = self.place(node, low.turn, f64::midpoint(low.at, high.at));
            if let Some(middle) = middle {
                self.search(node, [low, middle], depth - 1);
                self.search(node, [middle, high], depth - 1);
            }
            return;
        }
        match self.change_of_side(node, low, high) {
            Some([before, after]) => {
                self.visit(before.turn);
                self.visit(after.turn);
                self.largest_between(node, low, before);
                self.largest_between(node, after, high);
            }
            None => self.largest_between(node, low, high),
        }
    }

    fn may_be_larger(
        &self,
        low: AccumulatedRotation,
        high: AccumulatedRotation,
        length: f64,
    ) -> bool {
        let most = f64::midpoint(low.angle() + high.angle(), length);
        // The part along the axis changes half as fast as the angle.
        let along = |turn: AccumulatedRotation| {
            self.about
                .map_or(f64::INFINITY, |about| turn.along(&about).abs())
        };
        let one_side = low.side() * high.side() > 0.0 && along(low) + along(high) > length / 2.0;
        let known = if one_side {
            self.largest[usize::from(low.side() > 0.0)]
        } else {
            self.largest[0].min(self.largest[1])
        };
        most > known
    }

    fn pose(&self, node: &PathNode, at: f64) -> Option<(Isometry3<f64>, Vector3<f64>)> {
        let trial = node.trial(self.constraints, self.rank, at)?;
        Some((trial.foothold.pose, spin(&trial.tangent)))
    }

    fn place(&self, node: &PathNode, before: AccumulatedRotation, at: f64) -> Option<PathPlace> {
        let (pose, spin) = self.pose(node, at)?;
        let turn = before.onward(&pose, self.about.as_ref());
        let rate = turn.rate(&spin);
        Some(PathPlace { at, turn, rate })
    }

    /// The last place on the side of the lower end and the first on that of the higher, where those differ.
    fn change_of_side(
        &self,
        node: &PathNode,
        mut low: PathPlace,
        mut high: PathPlace,
    ) -> Option<[PathPlace; 2]> {
        if low.turn.side() * high.turn.side() > 0.0 {
            return None;
        }
        while high.at - low.at > SIDE_FOUND * node.step {
            let middle = self.place(node, low.turn, f64::midpoint(low.at, high.at))?;
            if middle.turn.side() * low.turn.side() > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some([low, high])
    }

    /// Visits the place where the angle stops growing, on a stretch that stays on one side.
    fn largest_between(&mut self, node: &PathNode, low: PathPlace, high: PathPlace) {
        if low.rate < 0.0 || high.rate >= 0.0 {
            return;
        }
        let rate = |at: f64| Some(self.place(node, low.turn, at)?.rate);
        let top = sign_change((low.at, low.rate), (high.at, high.rate), rate)
            .and_then(|at| self.place(node, low.turn, at));
        if let Some(top) = top {
            self.visit(top.turn);
        }
    }
}
