//! Following a free motion along the supports' geometry: a screw step as predictor, Newton projection as
//! corrector, step by arc length, in both senses, until something ends it.

use nalgebra::{Isometry3, Vector3, Vector6};

use super::circle::circumcentre;
use super::constraints::Constraints;
use super::project::{Foothold, Weakest, carried, difference, moved, project};
use super::turn::Turn;
use crate::scene::Space;

/// The placements that a free motion leads through.
///
/// Its parameter is that of the motion: radians about its axis, or metres of a translation, at the start; and from
/// there on in proportion to the arc length of `(v / L; w)` at the body's reference point.
#[derive(Debug, Clone)]
pub struct Path {
    constraints: Constraints,
    rank: usize,
    /// Arc length for one unit of the parameter.
    rate: f64,
    ahead: Vec<Node>,
    back: Vec<Node>,
    /// Where it ends in the positive sense.
    pub end_ahead: End,
    /// Where it ends in the negative sense; its amount is not positive.
    pub end_back: End,
    /// Largest residual of all placements followed, relative to the characteristic length.
    pub residual: f64,
}

/// An end of a path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct End {
    /// Parameter there, rad or m.
    pub amount: f64,
    /// How far the body is turned there, rad, positive about the axis that it first turned about; 2π after a turn once
    /// around.
    pub turned: f64,
    /// Length of the way of the body point at the reference point, m; with the sign of `amount`.
    pub travelled: f64,
    /// What ends it.
    pub stop: Stop,
}

/// Why a path was followed no further.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stop {
    /// The body is back where it began.
    Closed,
    /// The body has turned once around, without coming back: it has advanced.
    Turned,
    /// Followed as far as asked for; nothing ends it there.
    Travelled,
    /// The supports lose their hold on another motion here: the body may go on in more than one way.
    Branch,
    /// The supports bind: there is no placement straight on, only back (a cusp).
    Limit,
}

#[derive(Debug, Clone)]
struct Node {
    /// Arc length from the start, >= 0 in either sense.
    arc: f64,
    /// How far the body is turned.
    turn: Turn,
    /// The angle of that, rad, positive where its axis has a part along the first.
    turned: f64,
    /// What it has turned on the way, to and fro, rad.
    spun: f64,
    /// Way of the body point at the reference point, m.
    travelled: f64,
    pose: Isometry3<f64>,
    /// Unit motion onwards.
    tangent: Vector6<f64>,
    /// Length of the step along it that led to the next placement; 0 at an end.
    step: f64,
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
/// Angles of turn below this are none.
const UNTURNED: f64 = 1e-6;
/// How far placements lie off a circle at most, and its widest radius, relative to the size.
const ON_CIRCLE: f64 = 1e-6;
const WIDEST: f64 = 1e4;
/// Unit vectors whose cosine is this near to 1 have one direction.
const ONE_DIRECTION: f64 = 1e-9;
/// Steps that are taken at most in each sense.
const MOST_STEPS: usize = 600;
/// What ends either way where the supports bind is no path if its residual has grown beyond this on both.
const MISFIT: f64 = 1e-12;
/// No misfit stays unseen over such an arc.
const MISFIT_ARC: f64 = 1.0;
/// A path is at least so long to one side.
const SHORTEST_PATH: f64 = 0.02;
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

impl Path {
    /// Follows a motion `(v / L; w)` of any length from the start in both senses; `None` where it leads nowhere.
    ///
    /// `rank` is that of the equations at the start. Where they gain rank as soon as the body moves, the path is
    /// followed with the higher rank.
    pub fn follow(constraints: &Constraints, motion: &Vector6<f64>, rank: usize) -> Option<Self> {
        let motions = constraints.space().motions();
        let rate = motion.norm();
        (rank..motions).find_map(|rank| {
            let walk =
                |sense: f64| Walk::new(constraints, rank, motion * (1.0 / rate), sense)?.run();
            let (ahead, back) = (walk(1.0)?, walk(-1.0)?);
            // With too low a rank, or where a misfit grows slowly, a first few steps pass for a path.
            let leads_on = |walk: &Walk| walk.last().arc >= SHORTEST_PATH;
            let misfits = |walk: &Walk| {
                let near = walk.last().arc < MISFIT_ARC;
                walk.stop == Stop::Limit && walk.residual > MISFIT && near
            };
            let is_path = leads_on(&ahead) || leads_on(&back);
            (is_path && !(misfits(&ahead) && misfits(&back))).then_some(())?;
            Some(Self {
                constraints: constraints.clone(),
                rank,
                rate,
                end_ahead: ahead.end(rate),
                end_back: back.end(-rate),
                residual: ahead.residual.max(back.residual),
                ahead: ahead.nodes,
                back: back.nodes,
            })
        })
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
        let nodes = if within < 0.0 {
            &self.back
        } else {
            &self.ahead
        };
        let arc = within.abs() * self.rate;
        let after = nodes.partition_point(|node| node.arc <= arc).max(1);
        let node = &nodes[after - 1];
        // A full step leads to the next placement exactly, so that nothing jumps.
        let step = nodes.get(after).map_or(0.0, |next| {
            node.step * (arc - node.arc) / (next.arc - node.arc)
        });
        let guess = moved(&self.constraints, &node.pose, &(node.tangent * step));
        project(&self.constraints, &guess, self.rank).map_or(node.pose, |foothold| foothold.pose)
    }

    /// Smallest and largest angle by which the body is ever turned on the way, rad, positive as the motion is at first.
    pub fn swing(&self) -> [f64; 2] {
        let (back, ahead) = (self.extremes(&self.back), self.extremes(&self.ahead));
        [ahead[0].min(-back[1]), ahead[1].max(-back[0])]
    }

    /// The same in one sense of the path, where that is positive.
    fn extremes(&self, nodes: &[Node]) -> [f64; 2] {
        let mut extremes = [0.0_f64; 2];
        let mut visit = |turned: f64| {
            extremes = [extremes[0].min(turned), extremes[1].max(turned)];
        };
        for node in nodes {
            visit(node.turned);
        }
        for pair in nodes.windows(2) {
            if pair[0].turns_away() && !pair[1].turns_away() {
                let farther = pair[0].turned.abs() > pair[1].turned.abs();
                let side = if farther { &pair[0] } else { &pair[1] };
                visit(self.turning_point(&pair[0]).copysign(side.turned));
            }
        }
        extremes
    }

    /// The largest angle of turn on the step from a placement.
    fn turning_point(&self, node: &Node) -> f64 {
        let angle = |part: f64| {
            let along = node.tangent * (node.step * part);
            let guess = moved(&self.constraints, &node.pose, &along);
            project(&self.constraints, &guess, self.rank)
                .map_or(0.0, |foothold| node.turn.onward(&foothold.pose).angle())
        };
        // The angle rises to one maximum and falls.
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..THIRDS {
            let third = (high - low) / 3.0;
            if angle(low + third) < angle(high - third) {
                low += third;
            } else {
                high -= third;
            }
        }
        angle(f64::midpoint(low, high))
    }

    /// Radius of the circles on which all points of the body move without turning, m; `None` for every other way.
    pub fn circle(&self) -> Option<f64> {
        let nodes = || self.back.iter().rev().chain(&self.ahead);
        let turns = nodes().any(|node| node.turn.angle() > UNTURNED);
        let way: Vec<_> = nodes()
            .map(|node| self.constraints.centre(&node.pose))
            .collect();
        let (first, last) = (way.first()?, way.last()?);
        let third = |part: usize| way[way.len() * part / 3];
        let centre = circumcentre(&[*first, third(1), third(2), *last])?;
        let radius = (first - centre).norm();
        let size = self.constraints.length();
        let off = way
            .iter()
            .map(|point| ((point - centre).norm() - radius).abs());
        let on_circle = off.fold(0.0, f64::max) <= ON_CIRCLE * size && radius <= WIDEST * size;
        (on_circle && !turns).then_some(radius)
    }

    /// Whether the body turns about lines of one direction all the way.
    pub fn keeps_its_axis(&self) -> bool {
        let first = self.ahead.iter().find_map(|node| node.turn.axis());
        let turns = self.ahead.iter().chain(&self.back).map(|node| node.turn);
        first.is_none_or(|first| {
            turns
                .filter_map(Turn::axis)
                .all(|axis| axis.dot(&first).abs() > 1.0 - ONE_DIRECTION)
        })
    }

    /// Parameter after which a closed path repeats, rad or m.
    pub fn period(&self) -> Option<f64> {
        (self.end_ahead.stop == Stop::Closed).then_some(self.end_ahead.amount)
    }
}

/// Rounds of a search for a maximum: each leaves two thirds of the step.
const THIRDS: usize = 30;

impl Node {
    fn spin(&self) -> Vector3<f64> {
        self.tangent.fixed_rows::<3>(3).into_owned()
    }

    /// Whether the body goes on turning away from the start.
    fn turns_away(&self) -> bool {
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
struct Walk<'a> {
    constraints: &'a Constraints,
    rank: usize,
    /// 1 ahead, −1 back.
    sense: f64,
    /// The axis about which turns are positive, once there is one.
    about: Option<Vector3<f64>>,
    nodes: Vec<Node>,
    weakest: Option<Weakest>,
    step: f64,
    residual: f64,
    stop: Stop,
}

impl<'a> Walk<'a> {
    /// A walk along a unit motion, ahead or, for a sense of −1, back.
    fn new(
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
    fn run(mut self) -> Option<Self> {
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

    fn last(&self) -> &Node {
        // There is a node from the first on.
        &self.nodes[self.nodes.len() - 1]
    }

    fn end(&self, rate: f64) -> End {
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
