//! How far each free motion truly goes.

use nalgebra::Point3;

use super::combination::Combinations;
use super::constraints::Constraints;
use super::end::{End, Stop};
use super::escape::{self, EscapeRoute};
use super::mobility::{Mobility, WOBBLE};
use super::order::{CombinedMotions, SecondOrder, unit_motion};
use super::parallel::parallel_turns;
use super::path::Path;
use super::quadrics::Searched;
use super::signed::{ContactRelease, SignedSupports};
use crate::indexed::Indexed;
use crate::statics::{
    CaseIndex, Diagnosis, FreeMotion, Model, MotionIndex, ReactionIndex, RelativeTwist, Twist,
    Uncarried,
};

/// The mobility of a model along each of its free motions.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Mobilities {
    /// One for each free motion of the diagnosis, in its order.
    pub motions: Indexed<MotionIndex, Mobility>,
    /// How the body gets away from contacts and cables under each load case, in the model's order; `None` where it does not.
    pub escapes: Indexed<CaseIndex, Option<EscapeRoute>>,
    /// What the second-order test says about their combinations.
    pub together: CombinedMotions,
    /// Which combinations go on; `None` where all pass the test of second order or none does.
    pub combinations: Option<Combinations>,
    /// Whether there is any self-stress, so that the test decides anything.
    pub self_stressed: bool,
}

impl Mobilities {
    /// Whether every free motion, and every combination of them, is proven to be gone after the first instant.
    pub fn all_are_infinitesimal(&self) -> bool {
        if self.together == CombinedMotions::NoneExtends {
            return true;
        }
        let none_left = self.combinations.as_ref().is_some_and(|combinations| {
            combinations.searched == Searched::All && combinations.list.is_empty()
        });
        none_left && !self.motions.iter().any(Mobility::is_real)
    }

    /// Tests and follows every free motion, and the escape of each load case that is not carried.
    pub(crate) fn of(model: &Model, diagnosis: &Diagnosis, uncarried: &[Uncarried]) -> Self {
        let escapes = escape::routes(model, diagnosis, uncarried);
        if diagnosis.free_motions.is_empty() {
            return Self {
                motions: Indexed::new(),
                escapes,
                together: CombinedMotions::Unhindered,
                combinations: None,
                self_stressed: diagnosis.counts.redundancy > 0,
            };
        }
        let constraints = Constraints::new(model);
        let (units, rates): (Vec<RelativeTwist>, Vec<f64>) = diagnosis
            .free_motions
            .iter()
            .map(|motion| unit_motion(model, motion.twist.scaled(model.length)))
            .unzip();
        let supports = SignedSupports::new(model, diagnosis);
        let order = SecondOrder::new(&supports, model, &constraints, &units);
        let follower = Follower {
            model,
            constraints: &constraints,
            supports: &supports,
            rank: diagnosis.counts.rank,
            tested: diagnosis.counts.redundancy > 0,
            order: &order,
        };
        let zeros = match order.together() {
            CombinedMotions::SomeExtend | CombinedMotions::Undecided
                if supports.act_both_ways() =>
            {
                order.zeros()
            }
            // Where contacts may open, more goes on than what keeps them all.
            CombinedMotions::SomeExtend | CombinedMotions::Undecided => {
                order.zeros_and_openings(&supports)
            }
            _ => None,
        };
        let motions = diagnosis.free_motions.iter().zip(units.iter().zip(&rates));
        Self {
            motions: motions
                .enumerate()
                .map(|(index, (motion, (unit, rate)))| {
                    follower.mobility(index, motion, unit, *rate)
                })
                .collect(),
            escapes,
            together: match &zeros {
                Some(zeros) if !zeros.list.is_empty() => CombinedMotions::SomeExtend,
                Some(zeros) if zeros.searched == Searched::All => CombinedMotions::NoneExtends,
                _ => order.together(),
            },
            combinations: zeros.filter(|zeros| !zeros.list.is_empty()).map(|zeros| {
                let independent = order.every_stress_has_a_form();
                let follow = |motion: &FreeMotion| follower.combined(motion);
                Combinations::new(model, &zeros, (&units, &rates), independent, follow)
            }),
            self_stressed: diagnosis.counts.redundancy > 0,
        }
    }
}

struct Follower<'a> {
    model: &'a Model,
    constraints: &'a Constraints,
    supports: &'a SignedSupports<'a>,
    rank: usize,
    tested: bool,
    order: &'a SecondOrder,
}

/// A path with where it turns and what it could leave instead, as in [`Mobility::Real`].
type FoundPath = (Option<Point3<f64>>, Vec<Vec<ReactionIndex>>, Path);

/// Releases that are followed at most.
const MOST_RELEASES: usize = 16;

impl Follower<'_> {
    fn mobility(
        &self,
        index: usize,
        motion: &FreeMotion,
        unit: &RelativeTwist,
        rate: f64,
    ) -> Mobility {
        let extends = self.order.extends(index);
        let kept = extends.then(|| self.keeping_all(motion, &(*unit * rate)));
        let q = || self.constraints.second_derivatives(unit);
        let leaving = || (!self.supports.act_both_ways()).then(|| self.supports.releases(&q()));
        let (found, stopped) = match kept.flatten() {
            Some(found) => (Some(found), false),
            None => match leaving() {
                None | Some(None) => (None, !extends),
                Some(Some(releases)) => (self.leaving_some(&(*unit * rate), &releases), false),
            },
        };
        let at_first_only = || Mobility::InstantaneousOnly {
            motion: motion.clone(),
            wobble: WOBBLE / rate,
            stiffened: self.order.stiffens_all(),
            by_second_order: stopped,
        };
        found.map_or_else(at_first_only, |found| self.real(found))
    }

    fn real(&self, (about, instead, path): FoundPath) -> Mobility {
        Mobility::Real {
            tested: self.tested,
            about,
            instead,
            path: Box::new(path),
        }
    }

    /// Where a combination of free motions leads that passes the test of second order.
    ///
    /// It is followed as seen from its own axis, so that steps keep to what is symmetric about that.
    fn combined(&self, motion: &FreeMotion) -> Mobility {
        let constraints = self.constraints.seen_from(motion.point);
        let twist = Twist::of_screw(&motion.screw(), &motion.point).scaled(self.model.length);
        let twist = twist.relative(self.model.length);
        let kept = Path::follow(&constraints, &twist, self.rank);
        let kept = kept.map(|path| (None, Vec::new(), path));
        let found = kept.or_else(|| self.combined_leaving_some(motion));
        let at_first_only = || Mobility::InstantaneousOnly {
            motion: motion.clone(),
            wobble: WOBBLE / twist.norm(),
            stiffened: false,
            by_second_order: false,
        };
        found.map_or_else(at_first_only, |found| self.real(found))
    }

    /// The path of a combination on which some contacts open or cables go slack.
    fn combined_leaving_some(&self, motion: &FreeMotion) -> Option<FoundPath> {
        if self.supports.act_both_ways() {
            return None;
        }
        let (unit, rate) = unit_motion(self.model, motion.twist.scaled(self.model.length));
        let q = self.constraints.second_derivatives(&unit);
        self.leaving_some(&(unit * rate), &self.supports.releases(&q)?)
    }

    /// The path on which every contact keeps touching and every cable stays taut.
    fn keeping_all(&self, motion: &FreeMotion, twist: &RelativeTwist) -> Option<FoundPath> {
        let follow = |twist: &RelativeTwist| Path::follow(self.constraints, twist, self.rank);
        let beside = || {
            let turns = parallel_turns(self.model, self.constraints, motion).into_iter();
            let mut paths = turns.filter_map(|(point, twist)| Some((Some(point), follow(&twist)?)));
            paths.next()
        };
        let path = follow(twist).map(|path| (None, path));
        let (about, path) = path.or_else(beside)?;
        Some((about, Vec::new(), path))
    }

    /// The path on which the fewest contacts open and cables go slack, sought for each sense.
    fn leaving_some(
        &self,
        twist: &RelativeTwist,
        releases: &[ContactRelease],
    ) -> Option<FoundPath> {
        let (mut ahead, mut back) = (None, None);
        for release in releases.iter().take(MOST_RELEASES) {
            let constraints = Constraints::leaving(self.model, &release.leaves);
            let Some(path) = Path::follow(&constraints, twist, release.rank) else {
                continue;
            };
            let leads = |end: End| end.stop != Stop::Blocked;
            if ahead.is_none() && leads(path.end_ahead) {
                ahead = Some((release, path.clone()));
            }
            if back.is_none() && leads(path.end_back) {
                back = Some((release, path));
            }
            if ahead.is_some() && back.is_some() {
                break;
            }
        }
        let first = ahead.as_ref().or(back.as_ref())?.0;
        let instead = releases.iter().filter(|release| release.rivals(first));
        let instead = instead.map(|release| release.leaves.clone()).collect();
        let path = match (ahead, back) {
            (Some((_, ahead)), Some((_, back))) => Path::joined(ahead, back),
            (Some((_, path)), None) | (None, Some((_, path))) => path,
            (None, None) => return None,
        };
        Some((None, instead, path))
    }
}
