//! The diagnosis: everything that is known about a model, computed once and read by every output.

use nalgebra::DVector;

use super::equilibrium::{self, CaseAnswer};
use super::exact::ExactRank;
use super::freedom::{self, FreeMotion};
use super::indices::{CaseIndex, MotionIndex, ReactionIndex};
use super::matrix::ReactionMatrix;
use super::model::Model;
use super::rank::{NumericRank, Tolerance};
use super::ranked::RankedMatrix;
use super::reason::{self, Reason};
use super::shared_axis::{self, SharedAxis};
use crate::indexed::Indexed;
use crate::scene::Space;

/// How a body is constrained, in the words that most textbooks use.
///
/// Books disagree on these words; the four numbers do not. (Hibbeler, *Engineering Mechanics: Statics*,
/// section 5.7; Beer & Johnston, *Vector Mechanics for Engineers*, section 4.5.)
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[must_use]
pub enum Verdict {
    /// Every motion is stopped.
    ProperlyConstrained,
    /// Fewer reactions than motions to stop.
    PartiallyConstrained,
    /// Reactions enough, but so placed that some motion is left.
    ImproperlyConstrained,
}

/// The numbers that lead everywhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Counts {
    /// Unknown reactions n.
    pub unknowns: usize,
    /// Rank r of the reaction matrix.
    pub rank: usize,
    /// Motions that are left: 6 − r in space, 3 − r in the plane.
    pub freedom: usize,
    /// Reactions beyond the rank: n − r.
    pub redundancy: usize,
}

impl Counts {
    fn new(unknowns: usize, rank: usize, space: Space) -> Self {
        Self {
            unknowns,
            rank,
            freedom: space.motions() - rank,
            redundancy: unknowns - rank,
        }
    }

    /// The verdict in words.
    pub fn verdict(&self) -> Verdict {
        if self.freedom == 0 {
            Verdict::ProperlyConstrained
        } else if self.unknowns < self.rank + self.freedom {
            Verdict::PartiallyConstrained
        } else {
            Verdict::ImproperlyConstrained
        }
    }

    /// Whether equilibrium decides every reaction whatever the load: held, and nothing redundant.
    pub fn is_determinate(&self) -> bool {
        self.freedom == 0 && self.redundancy == 0
    }
}

/// What the count would be if every hinge and bearing were read the other way about its couples.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct OtherReading {
    /// Names of the supports whose couples were switched.
    pub supports: Vec<String>,
    /// Whether the couples take part in this other reading.
    pub with_couples: bool,
    /// Its numbers.
    pub counts: Counts,
}

/// Everything that is known about a model.
#[derive(Debug, Clone)]
#[must_use]
pub struct Diagnosis {
    /// n, r, freedom, redundancy.
    pub counts: Counts,
    /// Numeric rank with its singular values.
    pub numeric: NumericRank,
    /// Rank of the decimals as written.
    pub exact: ExactRank,
    /// As many independent motions as there is freedom, plainest first.
    pub free_motions: Indexed<MotionIndex, FreeMotion>,
    /// One for each free rotation: the line that every reaction meets.
    pub shared_axes: Vec<SharedAxis>,
    /// Why the count is what it is.
    pub reason: Reason,
    /// Equilibrium under each load case, in the model's order.
    pub cases: Indexed<CaseIndex, CaseAnswer>,
    /// The other reading of hinges and bearings; `None` where no support has the switch.
    pub other_reading: Option<OtherReading>,
    /// What the rank was decided to be, and nothing below it.
    pub(crate) ranked: RankedMatrix,
}

impl Diagnosis {
    /// Diagnoses a model.
    pub(crate) fn new(model: &Model, tolerance: Tolerance) -> Self {
        let matrix = ReactionMatrix::new(model);
        let numeric = NumericRank::new(&matrix, tolerance);
        let ranked = RankedMatrix::new(&numeric);
        let counts = Counts::new(model.reactions.len(), numeric.rank, model.space);
        let free_motions = freedom::free_motions(model, &numeric);
        let shared_axes = shared_axis::shared_axes(model, &free_motions);
        Self {
            counts,
            exact: ExactRank::of(model),
            reason: reason::reason(model, &numeric),
            cases: equilibrium::answers(model, &matrix, &ranked, tolerance, &free_motions),
            other_reading: other_reading(model, tolerance),
            free_motions,
            shared_axes,
            numeric,
            ranked,
        }
    }

    /// The verdict in words.
    pub fn verdict(&self) -> Verdict {
        self.counts.verdict()
    }

    /// The reactions that follow from equilibrium under every load that has one, by index, ascending: those that take part
    /// in no self-stress.
    pub fn determinate(&self) -> impl Iterator<Item = ReactionIndex> {
        let all = self.ranked.decided.enumerate();
        all.filter(|(_, decided)| **decided).map(|(index, _)| index)
    }

    /// What the reactions have to balance under a load case, in the span of their shares.
    pub(crate) fn demand(&self, case: CaseIndex) -> DVector<f64> {
        self.ranked.demand_of(&self.cases[case].reactions)
    }

    /// Whether every motion is stopped.
    pub fn is_held(&self) -> bool {
        self.counts.freedom == 0
    }
}

fn other_reading(model: &Model, tolerance: Tolerance) -> Option<OtherReading> {
    let (other, supports, with_couples) = model.with_other_couples()?;
    let matrix = ReactionMatrix::new(&other);
    let rank = NumericRank::new(&matrix, tolerance).rank;
    Some(OtherReading {
        supports,
        with_couples,
        counts: Counts::new(other.reactions.len(), rank, other.space),
    })
}
