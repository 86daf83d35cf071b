//! The placements that a free motion leads through along the supports' geometry, in both senses.

use nalgebra::{Isometry3, Vector3};

use super::accumulated_rotation::AccumulatedRotation;
use super::circle::circumcentre;
use super::constraints::Constraints;
use super::end::{End, Stop};
use super::extremes::Extremes;
use super::node::PathNode;
use super::path_length::{PathLength, way};
use super::project::{moved, project};
use super::walk::PathWalk;
use crate::statics::{ReactionIndex, RelativeTwist};

/// The placements that a free motion leads through.
///
/// Its parameter is that of the motion: radians about its axis, or metres of a translation, at the start; and from
/// there on in proportion to the arc length of `(v / L; w)` at the body's reference point.
#[derive(Debug, Clone)]
pub struct Path {
    /// Arc length for one unit of the parameter.
    rate: f64,
    ahead: PathSense,
    back: PathSense,
    /// Where it ends in the positive sense.
    pub end_ahead: End,
    /// Where it ends in the negative sense; its amount is not positive.
    pub end_back: End,
    /// Largest residual of all placements followed, relative to the characteristic length.
    pub residual: f64,
}

/// One sense of a path. The supports that stay in touch may differ from those of the other sense.
#[derive(Debug, Clone)]
struct PathSense {
    constraints: Constraints,
    /// Rank of the equations along the way.
    rank: usize,
    /// The unit axis of positive turns, where the body turns at all.
    about: Option<Vector3<f64>>,
    nodes: Vec<PathNode>,
}

/// Angles of turn below this are none.
const UNTURNED: f64 = 1e-6;
/// How far placements lie off a circle at most, and its widest radius, relative to the size.
const ON_CIRCLE: f64 = 1e-6;
const WIDEST: f64 = 1e4;
/// Unit vectors whose cosine is this near to 1 have one direction.
const ONE_DIRECTION: f64 = 1e-9;
/// What ends either way where the supports bind is no path if its residual has grown beyond this on both.
const MISFIT: f64 = 1e-12;
/// No misfit stays unseen over such an arc.
const MISFIT_ARC: f64 = 1.0;
/// A path with a higher rank is taken where it leads this many times as far.
const FARTHER: f64 = 1.1;
/// A path is at least so long to one side.
const SHORTEST_PATH: f64 = 0.02;

impl Path {
    /// Follows a motion `(v / L; w)` of any length from the start in both senses; `None` where it leads nowhere.
    ///
    /// `rank` is that of the equations at the start. Where they gain rank as soon as the body moves, the path is
    /// followed with the higher rank: with too low a one it may be followed for a while, as far as symmetry or small
    /// misfits allow. So the path is that of the rank with which it comes to an end of its own, or else leads farthest.
    pub(super) fn follow(
        constraints: &Constraints,
        motion: &RelativeTwist,
        rank: usize,
    ) -> Option<Self> {
        let mut farthest: Option<Self> = None;
        for rank in rank..constraints.space().motions() {
            let Some(path) = Self::with_rank(constraints, motion, rank) else {
                continue;
            };
            if path.is_whole() {
                return Some(path);
            }
            let farther = |other: &Self| path.length() > FARTHER * other.length();
            if farthest.as_ref().is_none_or(farther) {
                farthest = Some(path);
            }
        }
        farthest
    }

    fn with_rank(constraints: &Constraints, motion: &RelativeTwist, rank: usize) -> Option<Self> {
        let rate = motion.norm();
        let walk =
            |sense: f64| PathWalk::new(constraints, rank, *motion * (1.0 / rate), sense)?.run();
        let (ahead, back) = (walk(1.0)?, walk(-1.0)?);
        // With too low a rank, or where a misfit grows slowly, a first few steps pass for a path.
        let leads_on = |walk: &PathWalk| walk.last().arc >= SHORTEST_PATH;
        let misfits = |walk: &PathWalk| {
            let near = walk.last().arc < MISFIT_ARC;
            walk.stop == Stop::Limit && walk.residual > MISFIT && near
        };
        let is_path = leads_on(&ahead) || leads_on(&back);
        (is_path && !(misfits(&ahead) && misfits(&back))).then_some(())?;
        let side = |walk: PathWalk| PathSense {
            constraints: constraints.clone(),
            rank,
            about: walk.about,
            nodes: walk.nodes,
        };
        Some(Self {
            rate,
            end_ahead: ahead.end(rate),
            end_back: back.end(-rate),
            residual: ahead.residual.max(back.residual),
            ahead: side(ahead),
            back: side(back),
        })
    }

    /// The path that leads ahead as one does and back as another: contacts that open in one sense may block the other.
    pub(super) fn joined(ahead: Self, back: Self) -> Self {
        Self {
            residual: ahead.residual.max(back.residual),
            back: back.back,
            end_back: back.end_back,
            ..ahead
        }
    }

    /// Reactions of the contacts that the body leaves and the cables that go slack as it starts: back and ahead; none in
    /// a sense that is blocked.
    pub fn leaves(&self) -> [Vec<ReactionIndex>; 2] {
        let sides = [(&self.back, self.end_back), (&self.ahead, self.end_ahead)];
        sides.map(|(side, end)| match end.stop {
            Stop::Blocked => Vec::new(),
            _ => side.constraints.left().collect(),
        })
    }

    /// Whether the supports end it on neither side.
    fn is_whole(&self) -> bool {
        let stops = [self.end_back.stop, self.end_ahead.stop];
        !stops
            .iter()
            .any(|stop| matches!(stop, Stop::Branch | Stop::Limit))
    }

    /// Parameter from one end to the other.
    fn length(&self) -> f64 {
        self.end_ahead.amount - self.end_back.amount
    }

    /// Placement of the body at a parameter, on the supports' geometry to rounding. A closed path goes round and
    /// round; beyond the ends of another the body stays at the end.
    pub fn pose_at(&self, amount: f64) -> Isometry3<f64> {
        let within = match self.period() {
            Some(period) if amount > self.end_ahead.amount || amount < self.end_back.amount => {
                amount.rem_euclid(period)
            }
            _ => amount.clamp(self.end_back.amount, self.end_ahead.amount),
        };
        let side = if within < 0.0 {
            &self.back
        } else {
            &self.ahead
        };
        side.pose_at(within.abs() * self.rate)
    }

    /// Smallest and largest angle by which the body is ever turned on the way, rad.
    ///
    /// A turn, of at most 2π, is positive where its axis has a part along the axis that the body first turned about in
    /// the positive sense. In space that part may vanish, and change its sign, while the body is turned: there the turn
    /// counts to both sides. Of a path that goes on these are the extremes as far as it was followed.
    pub fn swing(&self) -> [f64; 2] {
        let (back, ahead) = (self.back.extremes(), self.ahead.extremes());
        [ahead[0].min(-back[1]), ahead[1].max(-back[0])]
    }

    /// Largest angle by which the body is turned, to either side, on the way back and on the way ahead, rad.
    pub fn farthest(&self) -> [f64; 2] {
        [&self.back, &self.ahead].map(|side| {
            let [low, high] = side.extremes();
            high.max(-low)
        })
    }

    /// Length of the way of the body's reference point to the end back and to the end ahead.
    pub fn ways(&self) -> [PathLength; 2] {
        [(&self.back, self.end_back), (&self.ahead, self.end_ahead)].map(|(side, end)| {
            let found = way(&side.constraints, side.rank, &side.nodes);
            PathLength {
                error: found.error + end.error * side.constraints.length(),
                ..found
            }
        })
    }

    /// Radius of the circles on which all points of the body move without turning, m; `None` for every other way.
    pub fn circle(&self) -> Option<f64> {
        let nodes = || self.back.nodes.iter().rev().chain(&self.ahead.nodes);
        let turns = nodes().any(|node| node.turn.angle() > UNTURNED);
        let way: Vec<_> = nodes()
            .map(|node| self.ahead.constraints.centre(&node.pose))
            .collect();
        let (first, last) = (way.first()?, way.last()?);
        let third = |part: usize| way[way.len() * part / 3];
        let centre = circumcentre(&[*first, third(1), third(2), *last])?;
        let radius = (first - centre).norm();
        let size = self.ahead.constraints.length();
        let off = way
            .iter()
            .map(|point| ((point - centre).norm() - radius).abs());
        let on_circle = off.fold(0.0, f64::max) <= ON_CIRCLE * size && radius <= WIDEST * size;
        (on_circle && !turns).then_some(radius)
    }

    /// Whether the body turns about lines of one direction all the way.
    pub fn keeps_its_axis(&self) -> bool {
        let nodes = || self.ahead.nodes.iter().chain(&self.back.nodes);
        let first = nodes().find_map(|node| node.turn.axis());
        let turns = nodes().map(|node| node.turn);
        first.is_none_or(|first| {
            turns
                .filter_map(AccumulatedRotation::axis)
                .all(|axis| axis.dot(&first).abs() > 1.0 - ONE_DIRECTION)
        })
    }

    /// Parameter after which a closed path repeats, rad or m.
    pub fn period(&self) -> Option<f64> {
        (self.end_ahead.stop == Stop::Closed).then_some(self.end_ahead.amount)
    }
}

impl PathSense {
    /// Placement of the body at an arc length, at most that of the end.
    fn pose_at(&self, arc: f64) -> Isometry3<f64> {
        let after = self.nodes.partition_point(|node| node.arc <= arc).max(1);
        let node = &self.nodes[after - 1];
        // A full step leads to the next placement exactly, so that nothing jumps.
        let step = self.nodes.get(after).map_or(0.0, |next| {
            node.step * (arc - node.arc) / (next.arc - node.arc)
        });
        if step == 0.0 {
            return node.pose;
        }
        let guess = moved(&self.constraints, &node.pose, &(node.tangent * step));
        project(&self.constraints, &guess, self.rank).map_or(node.pose, |foothold| foothold.pose)
    }

    /// Smallest and largest angle of turn on the way, rad, positive as it is at first in this sense.
    fn extremes(&self) -> [f64; 2] {
        Extremes::of(&self.constraints, self.rank, self.about, &self.nodes)
    }
}
