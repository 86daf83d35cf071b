//! Why there are reactions to spare: minimal groups that can balance among themselves (circuits).
//!
//! A circuit is a set of reactions of which each can be undone by the others and none can be left out. The
//! coefficients are a state of self-stress; a reaction in no circuit is decided by equilibrium whatever acts.
//! (Oxley 2011, *Matroid Theory*, chapter 1; Pellegrino 1993 for states of self-stress.)

mod combinations;
mod echelon;
mod enumerate;
mod equations;
mod span;
#[cfg(test)]
mod tests;

use nalgebra::{Point3, Unit};

use super::diagnosis::{Counts, Diagnosis};
use super::line::Line;
use super::matrix::scaled_column;
use super::model::Model;
use super::reaction::{Reaction, ReactionKind};
use super::reason::{self, Picture, Reason};
use super::scaled::ScaledWrench;
use crate::indexed::Indexed;
use crate::statics::indices::{ReactionIndex, SupportIndex};
pub use combinations::ReactionCombination;
pub(crate) use combinations::combinations;
use echelon::{Echelon, SearchEnd};
pub use equations::UsualEquation;

/// A minimal dependent group of reactions.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Circuit {
    /// Indices into the model's reactions, ascending.
    pub reactions: Vec<ReactionIndex>,
    /// State of self-stress, N for forces and N·m for couples, one for each of `reactions`: acting together
    /// they balance. The largest force is 1 N; without forces, the largest couple 1 N·m.
    pub coefficients: Vec<f64>,
    /// What the group has in common, as for a body held by it alone; [`Reason::Held`] where any of its
    /// members but one would hold the body.
    pub shape: Reason,
    /// Two supports that the group braces against each other along the line through both; `None` where it is
    /// spread over more of them, has couples in it, or acts along one line anyway.
    pub brace: Option<OpposedSupports>,
    /// The objects of the shape and which of the group belong to each.
    pub pictures: Vec<Picture>,
}

/// Two supports whose forces can balance each other.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct OpposedSupports {
    /// Indices into the model's supports.
    pub supports: [SupportIndex; 2],
    /// The line through their points.
    pub line: Line,
}

/// Which circuits are listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Listing {
    /// All of them.
    All,
    /// As many independent ones as there is redundancy, of this many in all.
    BasisOf(usize),
    /// As many independent ones as there is redundancy, of more than were counted.
    Basis,
    /// The first of a basis, which has as many as there is redundancy.
    PartOfBasis,
}

/// The circuits of a model.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Circuits {
    /// Smallest first, then in the order of the reactions.
    pub circuits: Vec<Circuit>,
    /// Whether these are all.
    pub listing: Listing,
    /// How many independent ones there are.
    pub redundancy: usize,
}

/// Circuits that a reader may want to see one by one; beyond that only a basis is kept.
const MOST_LISTED: usize = 40;
/// Circuits of a basis that are kept.
const MOST_IN_BASIS: usize = 200;

impl Circuits {
    /// Finds the circuits of a model.
    ///
    /// Work is bounded: all circuits are looked for only where few sets of reactions have to be tried, and a
    /// basis is cut off after some hundred.
    pub(crate) fn of(model: &Model, diagnosis: &Diagnosis) -> Self {
        let Counts {
            rank, redundancy, ..
        } = diagnosis.counts;
        let shares = diagnosis.ranked.six_shares();
        let echelon = Echelon::new(&shares, SearchEnd::AtRank(rank));
        let open = OpenCoefficients {
            decided: &diagnosis.ranked.decided,
            absent: PRESENT * diagnosis.ranked.negligible,
        };
        let basis = enumerate::basis(&shares, &echelon, &open, MOST_IN_BASIS);
        let all = if basis.len() == redundancy {
            enumerate::all(&shares, &basis, &open, diagnosis.ranked.negligible)
        } else {
            None
        };
        let (found, listing) = match all {
            Some(all) if all.len() <= MOST_LISTED => (all, Listing::All),
            Some(all) => (basis, Listing::BasisOf(all.len())),
            None if basis.len() < redundancy => (basis, Listing::PartOfBasis),
            None => (basis, Listing::Basis),
        };
        let columns = columns(model);
        let mut circuits: Vec<Circuit> = found
            .into_iter()
            .map(|stress| circuit(model, &columns, stress))
            .collect();
        circuits.sort_by(|a, b| {
            let size = a.reactions.len().cmp(&b.reactions.len());
            size.then_with(|| a.reactions.cmp(&b.reactions))
        });
        Self {
            circuits,
            listing,
            redundancy,
        }
    }

    /// Circuits that a reaction takes part in, by index.
    pub fn with(&self, reaction: ReactionIndex) -> impl Iterator<Item = usize> {
        let has = move |(_, circuit): &(usize, &Circuit)| circuit.reactions.contains(&reaction);
        self.circuits.iter().enumerate().filter(has).map(|(i, _)| i)
    }
}

fn columns(model: &Model) -> Indexed<ReactionIndex, ScaledWrench> {
    let reactions = &model.reactions;
    reactions.map(|reaction| scaled_column(model, reaction))
}

/// A dependent set found: reactions with scaled coefficients.
type Stress = Vec<(ReactionIndex, f64)>;

/// Coefficients of a circuit count from this part of what is negligible in a share on: a reaction that is undecided by the
/// norm of its coefficients in several circuits is then in one of them.
const PRESENT: f64 = 0.1;

/// Which coefficients belong to a circuit.
struct OpenCoefficients<'a> {
    /// Reactions that take part in none.
    decided: &'a Indexed<ReactionIndex, bool>,
    /// Coefficients below this, relative to the largest, are rounding.
    absent: f64,
}

impl OpenCoefficients<'_> {
    /// A circuit without decided reactions and rounding, in the order of the reactions.
    fn tidy(&self, mut stress: Stress) -> Stress {
        let largest = stress.iter().map(|(_, x)| x.abs()).fold(0.0, f64::max);
        stress.retain(|(i, x)| !self.decided[*i] && x.abs() > self.absent * largest);
        stress.sort_by_key(|(i, _)| *i);
        stress
    }
}

fn circuit(
    model: &Model,
    columns: &Indexed<ReactionIndex, ScaledWrench>,
    stress: Stress,
) -> Circuit {
    let reactions: Vec<ReactionIndex> = stress.iter().map(|(i, _)| *i).collect();
    let own: Vec<ScaledWrench> = reactions.iter().map(|i| columns[*i]).collect();
    let (span, free) = span::spaces(&own, reactions.len() - 1, model.space);
    let anchors: Vec<Point3<f64>> = reactions
        .iter()
        .map(|i| model.reactions[*i].point)
        .collect();
    let shape = reason::of_spaces(model, &anchors, &span, &free);
    Circuit {
        pictures: shape.pictures(model, &reactions),
        coefficients: coefficients(model, &stress),
        brace: brace(model, &reactions),
        shape,
        reactions,
    }
}

/// Forces through two points alone balance only along the line through both.
fn brace(model: &Model, reactions: &[ReactionIndex]) -> Option<OpposedSupports> {
    let own = || reactions.iter().map(|i| &model.reactions[*i]);
    let (first, last) = (own().next()?, own().next_back()?);
    let at_either = |r: &Reaction| {
        let home = if r.support == first.support {
            first
        } else {
            last
        };
        r.kind == ReactionKind::Force && r.support == home.support && r.point == home.point
    };
    if reactions.len() == 2 || first.support == last.support || !own().all(at_either) {
        return None;
    }
    let along = Unit::try_new(last.point - first.point, 0.0)?;
    Some(OpposedSupports {
        supports: [first.support, last.support],
        line: Line::new(first.point, &along),
    })
}

/// In SI units, the largest force 1.
fn coefficients(model: &Model, stress: &Stress) -> Vec<f64> {
    let is_force = |i: ReactionIndex| model.reactions[i].kind == ReactionKind::Force;
    let largest = |forces: bool| {
        let some = stress.iter().filter(|(i, _)| is_force(*i) == forces);
        some.map(|(_, x)| *x).fold(0.0, |a: f64, b| {
            // The first of those that are largest to within rounding sets the sign.
            if b.abs() > a.abs() * (1.0 + ROUNDING) {
                b
            } else {
                a
            }
        })
    };
    let unit = match largest(true) {
        0.0 => largest(false) * model.length,
        force => force,
    };
    let si = |(i, x): &(ReactionIndex, f64)| {
        let scale = if is_force(*i) { 1.0 } else { model.length };
        let value = x * scale / unit;
        let whole = value.round();
        // Ones and minus ones are what most circuits have.
        if (value - whole).abs() <= ROUNDING {
            whole
        } else {
            value
        }
    };
    stress.iter().map(si).collect()
}

/// Relative rounding of coefficients.
const ROUNDING: f64 = 1e-12;
