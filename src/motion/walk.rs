//! Following a free motion along the supports' geometry: a screw step as predictor, Newton projection as
//! corrector, step by arc length, until something ends it.

use nalgebra::{Isometry3, Vector3, Vector6};

use super::constraints::Constraints;
use super::path::{End, Stop};
use super::project::{Foothold, Weakest, carried, difference, moved, project};
use super::turn::Turn;
use crate::scene::Space;

/// A placement on the way.
#[derive(Debug, Clone)]
pub(super) struct Node {
    /// Arc length from the start, >= 0 in either sense.
    pub(super) arc: f64,
    /// How far the body is turned.
    pub(super) turn: Turn,
    /// The angle of that, rad, positive where its axis has a part along the first.
    pub(super) turned: f64,
    /// What it has turned on the way, to and fro, rad.
    pub(super) spun: f64,
    /// Way of the body point at the reference point, m.
    pub(super) travelled: f64,
    pub(super) pose: Isometry3<f64>,
    /// Unit motion onwards.
    pub(super) tangent: Vector6<f64>,
    /// Length of the step along it that led to the next placement; 0 at an end.
    pub(super) step: f64,
}

/// Arc length of the first step and of the longest and shortest ones; a turn of a radian has at least length 1.
const FIRST_STEP: f64 = 0.05;
const LONGEST_STEP: f64 = 0.3;
const SHORTEST_STEP: f64 = 1e-6;
/// A step is taken again, shorter, when the correction is longer than this part of it.
const ROUGH: f64 = 0.15;
/// The next one is longer, when it is shorter than this part.
const SMOOTH: f64 = 0.03;
/// Cosine of the sharpest turn between two steps.
const SHARPEST: f64 = 0.9;
/// Steps tried straight on from where the supports lose their hold.
const AHEAD: [f64; 4] = [0.05, 0.02, 0.005, 0.001];
/// Arc length that is followed when nothing ends the path before.
const FARTHEST: f64 = 16.0;
/// What is turned to and fro at most, rad, on a way that does not come back.
const MOST_SPUN: f64 = 6.0 * std::f64::consts::PI;
/// A way leads to a turn once around where the spin lies along the turn: the cosine is this near to 1.
const STEADY: f64 = 1e-3;
/// Steps that are taken at most in each sense.
const MOST_STEPS: usize = 600;
/// A motion turns less than this for its length where it is a translation.
const SPINLESS: f64 = 1e-9;
/// On a path the residual of the first step is below this: rounding.
const EXACT: f64 = 3e-13;
/// How fast a singular value, relative to the largest, changes at most along the arc.
const FASTEST: f64 = 20.0;
/// Singular values below this part of the largest are gone.
const GONE: f64 = 1e-7;
/// Placements closer than this are one.
const SAME: f64 = 1e-7;

impl Node {
    fn spin(&self) -> Vector3<f64> {
        self.tangent.fixed_rows::<3>(3).into_owned()
    }

    /// Whether the body goes on turning away from the start.
    pub(super) fn turns_away(&self) -> bool {
        self.turn.rate(&self.spin()) > 0.0
    }

    /// Angle that is left to a turn once around, where it is on the way to one.
    fn to_full_turn(&self) -> Option<f64> {
        let spin = self.spin();
        let rate = self.turn.rate(&spin);
        let steady = spin.norm() - rate <= STEADY * spin.norm();
        (rate > 0.0 && steady).then(|| (std::f64::consts::TAU - self.turn.angle()) / rate)
    }
}

/// Arc length between two placements: of the screw between them, bent like a circle where their own motions differ.
fn arc_between(
    constraints: &Constraints,
    from: &Node,
    to: &Isometry3<f64>,
    tangent: &Vector6<f64>,
) -> f64 {
    let screw = difference(constraints, &from.pose, to).norm();
    let onward = carried(constraints, &from.tangent, &from.pose, to);
    let apart = (onward.normalize() - tangent).norm() / 2.0;
    let bend = if apart > 0.0 {
        apart.asin() / apart
    } else {
        1.0
    };
    screw * bend
}

/// One sense of a path under way.
pub(super) struct Walk<'a> {
    constraints: &'a Constraints,
    rank: usize,
    /// 1 ahead, −1 back.
    sense: f64,
    /// The axis about which turns are positive, once there is one.
    about: Option<Vector3<f64>>,
    pub(super) nodes: Vec<Node>,
    weakest: Option<Weakest>,
    step: f64,
    pub(super) residual: f64,
    pub(super) stop: Stop,
}

impl<'a> Walk<'a> {
    /// A walk along a unit motion, ahead or, for a sense of −1, back.
    pub(super) fn new(
        constraints: &'a Constraints,
        rank: usize,
        motion: Vector6<f64>,
        sense: f64,
    ) -> Option<Self> {
        let start = project(constraints, &Isometry3::identity(), rank)?;
        let tangent = motion * sense;
        let spin = tangent.fixed_rows::<3>(3).into_owned();
        Some(Self {
            constraints,
            rank,
            sense,
            about: (spin.norm() > SPINLESS).then_some(spin),
            nodes: vec![Node {
                arc: 0.0,
                turn: Turn::none(),
                turned: 0.0,
                spun: 0.0,
                travelled: 0.0,
                pose: start.pose,
                tangent,
                step: 0.0,
            }],
            weakest: start.weakest,
            step: FIRST_STEP,
            residual: start.residual,
            stop: Stop::Travelled,
        })
    }

    /// Walks until something ends the path; `None` where even the first step fails, or only comes near.
    ///
    /// Where a misfit grows with a high power of the step, the step is halved until the misfit passes for none: what is
    /// left of it then is far from rounding, as it never is on a path.
    pub(super) fn run(mut self) -> Option<Self> {
        while self.nodes.len() <= MOST_STEPS {
            if let Some(stop) = self.advance() {
                self.stop = stop;
                break;
            }
            if self.nodes.len() == 2 && self.residual > EXACT {
                return None;
            }
        }
        (self.nodes.len() > 1).then_some(self)
    }

    pub(super) fn last(&self) -> &Node {
        // There is a node from the first on.
        &self.nodes[self.nodes.len() - 1]
    }

    pub(super) fn end(&self, rate: f64) -> End {
        let last = self.last();
        End {
            amount: last.arc / rate,
            turned: last.turned * rate.signum(),
            travelled: last.travelled * rate.signum(),
            stop: self.stop,
        }
    }

    /// Takes one step; what ends the path there, if anything does.
    fn advance(&mut self) -> Option<Stop> {
        if let Some(remaining) = self.remaining_to_start() {
            return self.finish(remaining, Stop::Closed);
        }
        let last = self.last();
        if let Some(step) = last.to_full_turn().filter(|step| *step <= self.step) {
            return self.finish(step, Stop::Turned);
        }
        let slides = last.spin().norm() <= SPINLESS;
        if slides && last.arc >= FARTHEST || last.spun >= MOST_SPUN {
            return Some(Stop::Travelled);
        }
        loop {
            match self.try_step(self.step) {
                Some((foothold, tangent)) if !self.has_crossed(&foothold) => {
                    let smooth = foothold.corrected <= SMOOTH * self.step;
                    self.accept(foothold, tangent, self.step);
                    if smooth {
                        self.step = (self.step * 1.6).min(LONGEST_STEP);
                    }
                    return self.has_lost_hold().then(|| self.where_hold_is_lost());
                }
                Some(_) if self.step <= SHORTEST_STEP => return Some(Stop::Branch),
                None if self.step <= SHORTEST_STEP => return Some(Stop::Limit),
                _ => self.step /= 2.0,
            }
        }
    }

    /// A step that stays smooth.
    fn try_step(&self, step: f64) -> Option<(Foothold, Vector6<f64>)> {
        let from = self.last();
        let guess = moved(self.constraints, &from.pose, &(from.tangent * step));
        let foothold = project(self.constraints, &guess, self.rank)?;
        if foothold.corrected > ROUGH * step {
            return None;
        }
        let onward = carried(self.constraints, &from.tangent, &from.pose, &foothold.pose);
        let (tangent, cosine) = foothold.nearest_free(&onward)?;
        (cosine >= SHARPEST).then_some((foothold, tangent))
    }

    fn accept(&mut self, foothold: Foothold, tangent: Vector6<f64>, step: f64) {
        let from = self.last();
        let arc = arc_between(self.constraints, from, &foothold.pose, &tangent);
        let speeds = [&from.tangent, &tangent].map(|t| t.fixed_rows::<3>(0).norm());
        let speed = f64::midpoint(speeds[0], speeds[1]);
        let turn = from.turn.onward(&foothold.pose);
        let step_turn = foothold.pose.rotation.angle_to(&from.pose.rotation);
        let about = self.about.or(match self.constraints.space() {
            // In the plane a motion that starts without spin still has turns to the left and to the right.
            Space::Planar => Some(Vector3::z() * self.sense),
            Space::Spatial => turn.axis(),
        });
        let side = turn.axis().zip(about);
        let side = side.map_or(1.0, |(axis, about)| axis.dot(&about).signum());
        let next = Node {
            arc: from.arc + arc,
            turn,
            turned: turn.angle() * side,
            spun: from.spun + step_turn,
            travelled: from.travelled + arc * speed * self.constraints.length(),
            pose: foothold.pose,
            tangent,
            step: 0.0,
        };
        if let Some(from) = self.nodes.last_mut() {
            from.step = step;
        }
        self.nodes.push(next);
        self.about = about;
        self.residual = self.residual.max(foothold.residual);
        self.weakest = foothold.weakest;
    }

    fn finish(&mut self, step: f64, stop: Stop) -> Option<Stop> {
        match self.try_step(step) {
            Some((foothold, tangent)) => {
                self.accept(foothold, tangent, step);
                Some(stop)
            }
            None => Some(Stop::Travelled),
        }
    }

    fn has_crossed(&self, foothold: &Foothold) -> bool {
        match (&self.weakest, &foothold.weakest) {
            (Some(before), Some(after)) => {
                // Where two singular values change places, their vectors do too; none is near zero then.
                let near = before.value.min(after.value) <= FASTEST * self.step;
                near && self.nodes.len() > 1 && before.crosses(after)
            }
            _ => false,
        }
    }

    /// The body can go straight on from a branch; where it cannot, the supports bind: a cusp.
    fn where_hold_is_lost(&self) -> Stop {
        let straight_on = AHEAD.iter().any(|step| self.try_step(*step).is_some());
        if straight_on {
            Stop::Branch
        } else {
            Stop::Limit
        }
    }

    fn has_lost_hold(&self) -> bool {
        self.weakest.as_ref().is_some_and(|weak| weak.value <= GONE)
    }

    /// Arc length that is left to the start, once it is within a step straight ahead.
    fn remaining_to_start(&self) -> Option<f64> {
        let here = self.last();
        if self.nodes.len() < 4 {
            return None;
        }
        let home = difference(self.constraints, &here.pose, &self.nodes[0].pose);
        let ahead = home.dot(&here.tangent);
        let near = ahead > 0.0 && ahead <= self.step && home.norm() <= 2.0 * ahead;
        if !near {
            return None;
        }
        let arrive = |step: f64| {
            let (foothold, _) = self.try_step(step)?;
            let left = difference(self.constraints, &foothold.pose, &self.nodes[0].pose);
            Some((left.dot(&here.tangent), left.norm()))
        };
        // The chord is a little shorter than the arc.
        let mut step = ahead;
        for _ in 0..8 {
            let (left, off) = arrive(step)?;
            if off <= SAME {
                return Some(step);
            }
            step += left;
        }
        None
    }
}
