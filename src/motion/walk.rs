//! Following a free motion along the supports' geometry: a screw step as predictor, Newton projection as
//! corrector, step by arc length, until something ends it.

use nalgebra::{Isometry3, Vector3, Vector6};

use super::accumulated_rotation::AccumulatedRotation;
use super::closing::{Closing, first_closing};
use super::constraints::Constraints;
use super::end::{End, Stop};
use super::node::{PathNode, Trial, spin};
use super::project::{HeldMotions, ProjectedPlacement, carried, difference, moved, project};
use super::root::sign_change;
use crate::scene::Space;
use crate::statics::RelativeTwist;

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
/// Where the supports lose their hold is found to this arc length, and a cusp to that: there they lose it in a
/// direction of the motion itself, and placements near it are ill-conditioned.
const BRANCH_FOUND: f64 = 1e-6;
const LIMIT_FOUND: f64 = 1e-3;
/// Where a gap closes is found to this arc length; worst where it closes without haste.
const MEETING_FOUND: f64 = 1e-5;
/// Placements closer than this are one.
const SAME: f64 = 1e-7;
/// A step leads past the start only where the start is nearer than this many steps.
const NEAR_HOME: f64 = 1.5;
/// Sine of half the angle below which a turn, of which nothing is left along its own axis, is a whole one.
const WHOLE: f64 = 1e-6;
/// The axis of a turn is known where the sine of half the angle is above this.
const CLEAR_AXIS: f64 = 1e-6;

/// Arc length from a start without hold to the places beside it that are known well, and how near the start then is.
const BESIDE_HOME: f64 = 0.02;
const SAME_BESIDE: f64 = 1e-5;

/// Whether a singular value is gone.
fn lost(hold: Option<&HeldMotions>) -> bool {
    hold.is_some_and(|hold| hold.weakest <= GONE)
}

/// Arc length between two placements: of the screw between them, bent like a circle where their own motions differ.
fn arc_between(
    constraints: &Constraints,
    from: &PathNode,
    to: &Isometry3<f64>,
    tangent: &RelativeTwist,
) -> f64 {
    let screw = difference(constraints, &from.pose, to).norm();
    let onward = carried(constraints, &from.tangent, &from.pose, to);
    let apart = (onward.unit() - *tangent).norm() / 2.0;
    let bend = if apart > 0.0 {
        apart.asin() / apart
    } else {
        1.0
    };
    screw * bend
}

/// One sense of a path under way.
pub(super) struct PathWalk<'a> {
    constraints: &'a Constraints,
    rank: usize,
    /// The unit axis about which turns are positive, once there is one.
    pub(super) about: Option<Vector3<f64>>,
    pub(super) nodes: Vec<PathNode>,
    hold: Option<HeldMotions>,
    /// Whether the supports hold less at the start than on the way.
    starts_without_hold: bool,
    step: f64,
    pub(super) residual: f64,
    pub(super) stop: Stop,
}

impl<'a> PathWalk<'a> {
    /// A walk along a unit motion, ahead or, for a sense of −1, back.
    pub(super) fn new(
        constraints: &'a Constraints,
        rank: usize,
        motion: RelativeTwist,
        sense: f64,
    ) -> Option<Self> {
        let start = project(constraints, &Isometry3::identity(), rank)?;
        let tangent = motion * sense;
        let spin = spin(&tangent);
        let about = match constraints.space() {
            // In the plane a motion that starts without spin still has turns to the left and to the right.
            Space::Planar if spin.norm() <= SPINLESS => Some(Vector3::z() * sense),
            _ => (spin.norm() > SPINLESS).then(|| spin.normalize()),
        };
        Some(Self {
            constraints,
            rank,
            about,
            nodes: vec![PathNode {
                arc: 0.0,
                turn: AccumulatedRotation::none(),
                spun: 0.0,
                pose: start.pose,
                tangent,
                step: 0.0,
            }],
            starts_without_hold: lost(start.hold.as_ref()),
            hold: start.hold,
            step: FIRST_STEP,
            residual: start.residual,
            stop: Stop::GoesOn,
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
        (self.nodes.len() > 1 || self.stop == Stop::Blocked).then_some(self)
    }

    pub(super) fn last(&self) -> &PathNode {
        // There is a node from the first on.
        &self.nodes[self.nodes.len() - 1]
    }

    pub(super) fn end(&self, rate: f64) -> End {
        let last = self.last();
        End {
            // Not −0 at an end that is the start.
            amount: last.arc / rate + 0.0,
            turned: last.turn.signed() * rate.signum(),
            error: match self.stop {
                Stop::Closed | Stop::Turned | Stop::GoesOn | Stop::Blocked => 0.0,
                Stop::Branch => BRANCH_FOUND,
                Stop::Limit => LIMIT_FOUND,
                Stop::Meets(_) => MEETING_FOUND,
            },
            stop: self.stop,
        }
    }

    /// Takes one step; what ends the path there, if anything does.
    fn advance(&mut self) -> Option<Stop> {
        let last = self.last();
        let slides = last.spin().norm() <= SPINLESS;
        if slides && last.arc >= FARTHEST || last.spun >= MOST_SPUN {
            return Some(Stop::GoesOn);
        }
        loop {
            match self.try_step(self.step) {
                Some(trial) => {
                    if let Some((step, home)) = self.home_before(&trial) {
                        if let Some(closing) = self.closing(step) {
                            return Some(self.meet(&closing));
                        }
                        self.accept(home, step);
                        self.arrive_home();
                        return Some(Stop::Closed);
                    }
                    if !self.has_crossed(&trial.foothold) {
                        return self.go_on(trial);
                    }
                    if self.step <= SHORTEST_STEP {
                        self.go_to_branch(&trial);
                        return Some(Stop::Branch);
                    }
                }
                None if self.step <= SHORTEST_STEP => return Some(Stop::Limit),
                None => {}
            }
            self.step /= 2.0;
        }
    }

    fn go_on(&mut self, trial: Trial) -> Option<Stop> {
        if let Some(closing) = self.closing(self.step) {
            return Some(self.meet(&closing));
        }
        if let Some((step, turned)) = self.whole_turn_before(&trial) {
            self.accept(turned, step);
            self.settle_turn();
            return Some(Stop::Turned);
        }
        let smooth = trial.foothold.corrected <= SMOOTH * self.step;
        self.accept(trial, self.step);
        if smooth {
            self.step = (self.step * 1.6).min(LONGEST_STEP);
        }
        self.has_lost_hold().then(|| self.where_hold_is_lost())
    }

    fn trial(&self, step: f64) -> Option<Trial> {
        self.last().trial(self.constraints, self.rank, step)
    }

    /// A step that stays smooth.
    fn try_step(&self, step: f64) -> Option<Trial> {
        let trial = self.trial(step)?;
        let smooth = trial.foothold.corrected <= ROUGH * step && trial.cosine >= SHARPEST;
        smooth.then_some(trial)
    }

    fn accept(&mut self, trial: Trial, step: f64) {
        let Trial {
            foothold, tangent, ..
        } = trial;
        let from = self.last();
        let turn = from.turn.onward(&foothold.pose, self.about.as_ref());
        let next = PathNode {
            arc: from.arc + arc_between(self.constraints, from, &foothold.pose, &tangent),
            turn,
            spun: from.spun + foothold.pose.rotation.angle_to(&from.pose.rotation),
            pose: foothold.pose,
            tangent,
            step: 0.0,
        };
        if let Some(from) = self.nodes.last_mut() {
            from.step = step;
        }
        self.nodes.push(next);
        if self.about.is_none() && turn.sine() > CLEAR_AXIS {
            self.about = turn.axis();
        }
        self.residual = self.residual.max(foothold.residual);
        self.hold = foothold.hold;
    }

    /// What is left of the way home, along a motion; and how far home is.
    fn to_home(&self, pose: &Isometry3<f64>, along: &RelativeTwist) -> (f64, f64) {
        let home = difference(self.constraints, pose, &self.nodes[0].pose);
        (home.dot(along), home.norm())
    }

    /// The step that leads back to the start and not past it, where the start is on the way to a trial placement.
    fn home_before(&self, trial: &Trial) -> Option<(f64, Trial)> {
        let here = self.last();
        let ahead = |trial: &Trial| self.to_home(&trial.foothold.pose, &here.tangent);
        let ((before, off), (after, past)) =
            (self.to_home(&here.pose, &here.tangent), ahead(trial));
        let near = off.max(past) <= NEAR_HOME * self.step;
        if !(near && before > 0.0 && after <= 0.0) {
            return None;
        }
        let left = |step: f64| Some(ahead(&self.trial(step)?).0);
        let step = sign_change((0.0, before), (self.step, after), left)?;
        let home = self.trial(step)?;
        let is_home = if self.starts_without_hold {
            self.leads_through_home(step)?
        } else {
            self.is_same_way(&home) && ahead(&home).1 <= SAME
        };
        is_home.then_some((step, home))
    }

    fn is_same_way(&self, trial: &Trial) -> bool {
        trial.tangent.dot(&self.nodes[0].tangent) >= SHARPEST
    }

    /// Whether the way leads through the start after a step, where the supports have no hold and nothing near it can be
    /// placed exactly: told from places before and after it. Their middles tend to the start with the square of the
    /// distance.
    fn leads_through_home(&self, step: f64) -> Option<bool> {
        let beside = BESIDE_HOME.min(step / 2.0);
        let mut middles = [Vector6::zeros(); 2];
        for (middle, beside) in middles.iter_mut().zip([beside, beside / 2.0]) {
            for side in [-beside, beside] {
                let trial = self.trial(step + side)?;
                if !self.is_same_way(&trial) {
                    return Some(false);
                }
                let start = &self.nodes[0].pose;
                *middle += *difference(self.constraints, &trial.foothold.pose, start) / 2.0;
            }
        }
        let off = (middles[1] * 4.0 - middles[0]) / 3.0;
        Some(off.norm() <= SAME_BESIDE)
    }

    /// The step that leads a whole turn around, where that is on the way to a trial placement.
    fn whole_turn_before(&self, trial: &Trial) -> Option<(f64, Trial)> {
        let turn = self.last().turn;
        let axis = turn.axis().filter(|_| turn.is_beyond_half())?;
        let left = |trial: &Trial| turn.onward(&trial.foothold.pose, None).along(&axis);
        let after = left(trial);
        if after > 0.0 {
            return None;
        }
        let step = sign_change((0.0, turn.sine()), (self.step, after), |step| {
            Some(left(&self.trial(step)?))
        })?;
        let turned = self.trial(step)?;
        let whole = turn.onward(&turned.foothold.pose, None).sine() <= WHOLE;
        whole.then_some((step, turned))
    }

    /// The last placement is the first again: no rounding is left between them.
    fn arrive_home(&mut self) {
        self.settle_turn();
        let (pose, tangent) = (self.nodes[0].pose, self.nodes[0].tangent);
        if let Some(last) = self.nodes.last_mut() {
            (last.pose, last.tangent) = (pose, tangent);
        }
    }

    fn settle_turn(&mut self) {
        if let Some(last) = self.nodes.last_mut() {
            last.turn = last.turn.settled();
        }
    }

    /// Where on a step a contact that the body has left closes again, or a slack cable is taut.
    fn closing(&self, step: f64) -> Option<Closing> {
        first_closing(self.constraints, step, |step| {
            let trial = self.trial(step)?;
            Some((trial.foothold.pose, trial.tangent))
        })
    }

    /// Ends the path there; at the start if it never opened.
    fn meet(&mut self, closing: &Closing) -> Stop {
        if self.nodes.len() == 1 && !closing.opened {
            return Stop::Blocked;
        }
        if let Some(trial) = self.trial(closing.step) {
            self.accept(trial, closing.step);
        }
        Stop::Meets(closing.reaction)
    }

    fn has_crossed(&self, foothold: &ProjectedPlacement) -> bool {
        match (&self.hold, &foothold.hold) {
            (Some(before), Some(after)) => {
                let near = before.weakest.min(after.weakest) <= FASTEST * self.step;
                near && self.nodes.len() > 1 && before.crosses(after)
            }
            _ => false,
        }
    }

    /// Ends at the branch between here and a trial placement a shortest step on: where the singular value that changes
    /// its sign is zero, straight between the two.
    fn go_to_branch(&mut self, trial: &Trial) {
        let value = |hold: Option<&HeldMotions>| hold.map_or(0.0, |hold| hold.weakest);
        let values = [self.hold.as_ref(), trial.foothold.hold.as_ref()].map(value);
        let part = values[0] / (values[0] + values[1]).max(f64::MIN_POSITIVE);
        let here = self.last();
        let screw = difference(self.constraints, &here.pose, &trial.foothold.pose);
        let foothold = ProjectedPlacement {
            pose: moved(self.constraints, &here.pose, &(screw * part)),
            ..trial.foothold.clone()
        };
        let step = self.step * part;
        let branch = Trial { foothold, ..*trial };
        self.accept(branch, step);
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
        lost(self.hold.as_ref())
    }
}
