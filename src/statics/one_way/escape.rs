//! The motion by which a body gets away from supports that push or pull one way only.

use nalgebra::{DMatrix, DVector, Vector3};

use super::balance::CaseBalance;
use super::supports::Supports;
use crate::statics::acceleration::Acceleration;
use crate::statics::diagnosis::Diagnosis;
use crate::statics::freedom::{self, FreeMotion};
use crate::statics::gauss::{Allowed, STILL};
use crate::statics::indices::ReactionIndex;
use crate::statics::matrix::{extend, restrict};
use crate::statics::model::Model;
use crate::statics::scaled::{ScaledTwist, ScaledWrench};
use crate::statics::wrench::{Twist, stack};

/// A motion that breaks no support: a certificate that a load is not held (Farkas' lemma).
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Escape {
    /// The motion about the model's reference point, 1 rad/s, or 1 m/s where it does not turn.
    pub twist: Twist,
    /// The same as an axis or direction; its positive sense may be the opposite one, see `backwards`.
    pub motion: FreeMotion,
    /// Whether the body goes against the positive sense of `motion`.
    pub backwards: bool,
    /// Reactions whose contact lifts off or whose cable goes slack.
    pub loosened: Vec<ReactionIndex>,
    /// Reactions along rough surfaces on which the body slides, since nothing presses it there.
    pub sliding: Vec<ReactionIndex>,
    /// One-way reactions that stay in touch.
    pub touching: Vec<ReactionIndex>,
    /// Power of the load on the motion, W; 0 where no load is asked about.
    pub power: f64,
}

/// A turn about an axis this many characteristic lengths away is as good as a translation, where that will do.
const FAR: f64 = 100.0;

/// Where escapes are sought.
pub(super) struct Escapes<'a> {
    pub(super) model: &'a Model,
    pub(super) supports: &'a Supports<'a>,
    pub(super) allowed: &'a Allowed<'a>,
}

impl Escapes<'_> {
    /// The motion that a load starts which is not held: from the body's mass where that is known, else as a body would
    /// start whose matter lies about the supports' centre at the characteristic length. `None` where reactions balance the
    /// load, though with friction that no contact has, and letting some contacts open starts nothing.
    pub(super) fn of_case(
        &self,
        balance: &CaseBalance,
        start: Option<&Acceleration>,
    ) -> Option<Escape> {
        let six = match start {
            Some(start) => start.twist.scaled(self.model.length),
            None => {
                let found = self.start_of(&balance.load, balance.holds);
                let found = found.or_else(|| balance.certificate(self.supports))?;
                self.plainer(self.six(&found), Some(&balance.load))
            }
        };
        let twist = at_unit_rate(self.model, &six)?;
        let load: ScaledWrench = extend(&balance.load, self.model.space);
        let power = twist.scaled(self.model.length).dot(&load);
        Some(self.escape(twist, power))
    }

    /// The motion that some load would start: asked with the load that pulls every contact open.
    ///
    /// Every load is held exactly where this one and every twist of the rank is: a strictly positive combination
    /// of all one-way columns then adds up to a two-way one. (Lakshminarayana 1978; Davis 1954.)
    ///
    /// `known` is the escape from a load at hand, if there is one: where rounding decides, that settles the question.
    pub(super) fn of_any_load(
        &self,
        diagnosis: &Diagnosis,
        known: Option<&Escape>,
    ) -> Option<Escape> {
        let ranked = self.supports.ranked;
        let one_way = &self.supports.one_way;
        let mut pulls = DVector::zeros(self.model.reactions.len());
        one_way.iter().for_each(|j| pulls[*j] = -1.0);
        let demand = ranked.demand_of(&pulls);
        let left = self.supports.nearest(&demand).left;
        let nothing = ranked.nothing(diagnosis.numeric.tolerance.relative());
        if left.norm() <= nothing * one_way.len() as f64 {
            let free = diagnosis.free_motions.first();
            let free = free.map(|free| self.escape(free.twist, 0.0));
            return free.or_else(|| {
                Some(Escape {
                    power: 0.0,
                    ..known?.clone()
                })
            });
        }
        self.plain().or_else(|| {
            let found = self.start_of(&ranked.load_of(&demand), false);
            let found = found.unwrap_or_else(|| ranked.twist_of(&left));
            let six = self.plainer(self.six(&found), None);
            Some(self.escape(at_unit_rate(self.model, &six)?, 0.0))
        })
    }

    /// How a load starts a body of unit mass that lies about the reference point at the characteristic length.
    fn start_of(&self, load: &DVector<f64>, balanced: bool) -> Option<DVector<f64>> {
        let motions = self.model.space.motions();
        self.allowed
            .acceleration(&DMatrix::identity(motions, motions), load, balanced)
    }

    /// A translation along an axis that breaks no support and loosens some; of several, that which loosens most.
    fn plain(&self) -> Option<Escape> {
        let axes = [Vector3::x(), Vector3::y(), Vector3::z()];
        let ways = axes.into_iter().flat_map(|axis| [axis, -axis]);
        let loosened = |way: Vector3<f64>| {
            let slide = self.rows(&slide(way));
            let allowed = slide.norm() > 0.0 && self.allowed.breaks_none(&slide);
            allowed.then(|| self.allowed.loosened(&slide).len())
        };
        let counted = ways.filter_map(|way| Some((loosened(way)?, way)));
        let (count, way) = counted.rev().max_by_key(|(count, _)| *count)?;
        let twist = at_unit_rate(self.model, &slide(way))?;
        (count > 0).then(|| self.escape(twist, 0.0))
    }

    /// The translation alone, where a motion turns about an axis far away and would do without turning.
    fn plainer(&self, six: ScaledTwist, load: Option<&DVector<f64>>) -> ScaledTwist {
        let slide = slide(six.fixed_rows::<3>(0).into_owned());
        let turn = (six - slide).norm();
        let rows = self.rows(&slide);
        let starts = |load: &DVector<f64>| {
            load.dot(&rows) > STILL * slide.norm() * load.norm() && self.allowed.starts(&rows, load)
        };
        let does = match load {
            Some(load) => starts(load),
            None => self.allowed.breaks_none(&rows) && !self.allowed.loosened(&rows).is_empty(),
        };
        if slide.norm() > FAR * turn && does {
            slide
        } else {
            six
        }
    }

    /// The escape along a scaled motion that breaks no support, of a load that only just does work on it.
    pub(super) fn of_motion(&self, six: &ScaledTwist) -> Option<Escape> {
        Some(self.escape(at_unit_rate(self.model, six)?, 0.0))
    }

    fn escape(&self, twist: Twist, power: f64) -> Escape {
        let model = self.model;
        let scaled = twist.scaled(model.length);
        // A twist at unit rate is not zero.
        let motion = freedom::of_twist(model, &twist).expect("a motion has an axis or a direction");
        let loosened = self.allowed.loosened(&self.rows(&scaled));
        let stays = |j: &ReactionIndex| !loosened.contains(j);
        Escape {
            backwards: motion.twist.scaled(model.length).dot(&scaled) < 0.0,
            motion,
            twist,
            touching: self
                .supports
                .one_way
                .iter()
                .copied()
                .filter(stays)
                .collect(),
            loosened,
            sliding: Vec::new(),
            power,
        }
    }

    fn rows(&self, six: &ScaledTwist) -> DVector<f64> {
        restrict(six, self.model.space)
    }

    fn six(&self, rows: &DVector<f64>) -> ScaledTwist {
        extend(rows, self.model.space)
    }
}

fn slide(way: Vector3<f64>) -> ScaledTwist {
    ScaledTwist::of(stack(&way, &Vector3::zeros()))
}

/// The twist at 1 rad/s, or at 1 m/s where it does not turn.
fn at_unit_rate(model: &Model, scaled: &ScaledTwist) -> Option<Twist> {
    let six = ScaledTwist::of(scaled.try_normalize(0.0)?);
    let twist = Twist::from_scaled(&six, model.length);
    let turning = twist.angular.norm() * model.length > STILL;
    let rate = if turning { twist.angular.norm() } else { 1.0 };
    Some(Twist::from_scaled(&(six / rate), model.length))
}
