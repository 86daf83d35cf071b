//! How near a set of reactions is to failing: weakest twist, least movement of supports, largest reactions.

mod miss;
mod movement;
mod rotation_chart;
mod sphere;
mod twist_space;

pub use miss::Miss;

use nalgebra::{DMatrix, Unit, Vector3, Vector6};

use super::diagnosis::Diagnosis;
use super::freedom::{self, FreeMotion};
use super::matrix::{ReactionMatrix, extend};
use super::model::Model;
use super::reaction::{Reaction, ReactionKind};
use super::scaled::{ScaledTwist, ScaledWrench};
use super::svd::WideSvd;
use super::wrench::{Twist, Wrench};
use crate::indexed::Indexed;
use crate::scene::Space;
use crate::statics::indices::{ReactionIndex, SupportIndex};
use movement::FoundMovement;
use twist_space::TwistSpace;

/// How near the rank is to dropping.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Nearness {
    /// Smallest singular value that counts, of the matrix with moments over the characteristic length.
    pub smallest: f64,
    /// The motion that the reactions hold least, as they hold it with `smallest` per unit.
    pub weakest: FreeMotion,
    /// How many independent motions are held as little, this one included: they and their combinations are held alike.
    pub equally: usize,
    /// Largest reaction under a unit load.
    pub amplification: Amplification,
    /// Movements of supports that let the body go; only of a held body, and only where moving can do so.
    pub movement: Option<Movement>,
    /// The same for each support moved alone, in model order; `None` where that never lets the body go, and for
    /// all of more than [`MOST_ALONE`] supports.
    pub alone: Indexed<SupportIndex, Option<SingleShift>>,
    /// What the scene's placement tolerance means; `None` where the scene states none or the body is not held.
    pub placement: Option<Placement>,
}

/// The largest reaction under loads of unit size: a force of 1 N, a couple of 1 N times the characteristic
/// length, or any mixture with the same root of the sum of squares.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Amplification {
    /// Index of the reaction.
    pub reaction: ReactionIndex,
    /// Its size over that of the load; a couple counts as the force at the characteristic length.
    pub factor: f64,
    /// The load that calls for it, about the model's reference point, N and N·m.
    pub load: Wrench,
    /// Whether there are more reactions than the rank: then this is of the least reactions that balance a load, since
    /// a self-stress makes others as large as one likes.
    pub of_least: bool,
}

/// Supports moved together, each without turning.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Movement {
    /// No movements whose root of the sum of squares is below this make the rank drop, m.
    pub bound: f64,
    /// Root of the sum of squares of the movements found to make it drop, m; never below `bound`.
    pub estimate: f64,
    /// Those movements, one for each support in model order, m.
    pub moves: Indexed<SupportIndex, Vector3<f64>>,
    /// The motion that is then free.
    pub freed: FreeMotion,
}

/// One support moved alone, without turning.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct SingleShift {
    /// No shorter movement of this support makes the rank drop, m.
    pub bound: f64,
    /// The least movement found that does, m; `None` where the search found none.
    pub estimate: Option<Vector3<f64>>,
}

/// Each support may stand up to some distance from where it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Placement {
    /// Held wherever within the tolerance the supports stand: proven by the bound.
    Held,
    /// Neither proven nor refuted.
    Unclear,
    /// Supports can stand within the tolerance so that the body is not held.
    NearImproper,
}

/// An angular part of size one below this counts as none.
const NO_TURN: f64 = 1e-9;
/// Singular values are the same to within this part.
const ALIKE: f64 = 1e-9;
/// Without a support, what the others hold is held well above this part.
const WELL: f64 = 1e-6;
/// Supports beyond this count are moved together only.
pub const MOST_ALONE: usize = 60;

impl Nearness {
    /// Measures a diagnosed model; `None` without any reaction.
    pub(crate) fn of(model: &Model, diagnosis: &Diagnosis) -> Option<Self> {
        let numeric = &diagnosis.numeric;
        let last = numeric.rank.checked_sub(1)?;
        let weakest = extend(&numeric.svd.left.column(last).into_owned(), model.space);
        let singly = singly(model, diagnosis);
        let hints: Vec<Vector3<f64>> = singly
            .iter()
            .flatten()
            .filter_map(|(_, found)| Some(found.as_ref()?.twist.1))
            .collect();
        let movement = diagnosis
            .is_held()
            .then(|| together(model, &hints))
            .flatten();
        let smallest = numeric.singular_values[last];
        let counted = &numeric.singular_values[..numeric.rank];
        let equal = |value: &&f64| **value <= smallest * (1.0 + ALIKE);
        Some(Self {
            smallest,
            equally: counted.iter().filter(equal).count(),
            weakest: freedom::of_twist(model, &Twist::from_scaled(&weakest, model.length))?,
            amplification: amplification(model, diagnosis)?,
            placement: placement(model, diagnosis, movement.as_ref()),
            movement,
            alone: singly
                .into_iter()
                .map(|one| {
                    one.map(|(bound, found)| SingleShift {
                        bound,
                        estimate: found.map(|found| found.moves[0]),
                    })
                })
                .collect(),
        })
    }
}

impl Movement {
    /// The longest single movement among those found, m.
    pub fn longest(&self) -> f64 {
        self.moves.iter().map(Vector3::norm).fold(0.0, f64::max)
    }
}

fn placement(
    model: &Model,
    diagnosis: &Diagnosis,
    movement: Option<&Movement>,
) -> Option<Placement> {
    let tolerance = model.placement_tolerance?;
    if !diagnosis.is_held() {
        return None;
    }
    let Some(movement) = movement else {
        return Some(Placement::Held);
    };
    let moved = twist_space::grips(model).len() as f64;
    Some(if movement.longest() <= tolerance {
        Placement::NearImproper
    } else if tolerance * moved.sqrt() < movement.bound {
        Placement::Held
    } else {
        Placement::Unclear
    })
}

/// Rows of `V Σ⁻¹` are the reactions to loads along the left singular vectors: the longest row is the answer.
fn amplification(model: &Model, diagnosis: &Diagnosis) -> Option<Amplification> {
    let numeric = &diagnosis.numeric;
    let mut right = numeric.svd.weighted.columns(0, numeric.rank).into_owned();
    for (mut column, value) in right.column_iter_mut().zip(&numeric.singular_values) {
        // Once from the weighted rows to V, once more for Σ⁻¹.
        column /= value * value;
    }
    let rows = right.row_iter().map(|row| row.norm());
    let (reaction, factor) = rows.enumerate().max_by(|a, b| a.1.total_cmp(&b.1))?;
    let load =
        numeric.svd.left.columns(0, numeric.rank) * right.row(reaction).transpose() / -factor;
    let load: ScaledWrench = extend(&load, model.space);
    Some(Amplification {
        reaction: ReactionIndex::new(reaction),
        factor,
        of_least: diagnosis.counts.redundancy > 0,
        load: Wrench::from_scaled(&load, model.length),
    })
}

/// All supports moved together; `hints` are turns that moving one of them frees.
fn together(model: &Model, hints: &[Vector3<f64>]) -> Option<Movement> {
    let couples: Vec<&Reaction> = model
        .reactions
        .iter()
        .filter(|reaction| reaction.kind == ReactionKind::Couple)
        .collect();
    let room = TwistSpace {
        slides: axes(model.space, false),
        turns: square_to(&axes(model.space, true), &couples)
            .into_iter()
            .map(|turn| (Vector3::zeros(), turn))
            .collect(),
    };
    let grips = twist_space::grips(model);
    let bound = movement::bound(&grips, &room)?;
    let found = movement::search(&grips, &room, bound, hints)?;
    let mut moves = model.supports.map(|_| Vector3::zeros());
    for (grip, step) in grips.iter().zip(&found.moves) {
        moves[grip.support] = *step;
    }
    Some(Movement {
        bound,
        estimate: found.total.max(bound),
        moves,
        freed: freed(model, &found)?,
    })
}

fn freed(model: &Model, found: &FoundMovement) -> Option<FreeMotion> {
    let (linear, angular) = found.twist;
    freedom::of_twist(model, &Twist { linear, angular })
}

/// Axes of translation or of rotation that the space has.
fn axes(space: Space, turning: bool) -> Vec<Vector3<f64>> {
    match (space, turning) {
        (Space::Spatial, _) => vec![Vector3::x(), Vector3::y(), Vector3::z()],
        (Space::Planar, false) => vec![Vector3::x(), Vector3::y()],
        (Space::Planar, true) => vec![Vector3::z()],
    }
}

/// What couples leave of a space of axes, orthonormal.
fn square_to(axes: &[Vector3<f64>], couples: &[&Reaction]) -> Vec<Vector3<f64>> {
    let mut spanned: Vec<Vector3<f64>> = Vec::new();
    let mut add = |vector: &Vector3<f64>| {
        let rest = spanned
            .iter()
            .fold(*vector, |rest, unit| rest - unit * unit.dot(&rest));
        let new = rest.norm() > NO_TURN;
        if new {
            spanned.push(rest.normalize());
        }
        new
    };
    let held = couples
        .iter()
        .filter(|couple| add(&couple.direction))
        .count();
    for axis in axes {
        add(axis);
    }
    spanned.split_off(held)
}

/// Each support of a held body moved alone: the bound, and what the search found.
fn singly(model: &Model, diagnosis: &Diagnosis) -> Vec<Option<(f64, Option<FoundMovement>)>> {
    if !diagnosis.is_held() || model.supports.len() > MOST_ALONE {
        return model.supports.iter().map(|_| None).collect();
    }
    let grips = twist_space::grips(model);
    let entries = ReactionMatrix::new(model);
    let one = |support: SupportIndex| {
        if others_hold(model, diagnosis, support) {
            return None;
        }
        let grip = grips.iter().find(|grip| grip.support == support)?;
        let room = room_without(model, &entries, support);
        let grip = std::slice::from_ref(grip);
        let bound = movement::bound(grip, &room)?;
        Some((bound, movement::search(grip, &room, bound, &[])))
    };
    model.supports.indices().map(one).collect()
}

/// Whether the body is held well without a support, so that no movement of it counts.
///
/// With the rows of V of its own reactions, `I − V Vᵗ` is as far from singular as the other columns are from losing
/// rank.
fn others_hold(model: &Model, diagnosis: &Diagnosis, support: SupportIndex) -> bool {
    let own = model.supports[support].reactions.clone();
    let numeric = &diagnosis.numeric;
    let mut rows = numeric
        .svd
        .weighted
        .view((own.positions().start, 0), (own.len(), numeric.rank))
        .transpose();
    for (mut row, value) in rows.row_iter_mut().zip(&numeric.singular_values) {
        row /= *value;
    }
    let left = DMatrix::identity(own.len(), own.len()) - rows.tr_mul(&rows);
    own.is_empty()
        || left
            .symmetric_eigenvalues()
            .iter()
            .all(|value| *value > WELL)
}

/// The twists that everything but the forces of a support leaves free.
fn room_without(model: &Model, matrix: &ReactionMatrix, support: SupportIndex) -> TwistSpace {
    let others: Vec<ReactionIndex> = model
        .reactions
        .indices()
        .filter(|j| {
            let reaction = &model.reactions[*j];
            reaction.support != support || reaction.kind == ReactionKind::Couple
        })
        .collect();
    let matrix = match others.as_slice() {
        [] => DMatrix::zeros(model.space.motions(), 1),
        others => matrix.select(others).entries().clone(),
    };
    let svd = WideSvd::new(&matrix);
    let twists: Vec<ScaledTwist> = svd
        .values
        .iter()
        .enumerate()
        .filter(|(_, value)| **value <= NO_TURN * svd.values[0].max(1.0))
        .map(|(column, _)| extend(&svd.left.column(column).into_owned(), model.space))
        .collect();
    split(&twists, model.length)
}

/// Translations of a space of scaled twists, and turns with orthonormal angular parts that complete them.
fn split(twists: &[ScaledTwist], length: f64) -> TwistSpace {
    let mut room = TwistSpace {
        slides: Vec::new(),
        turns: Vec::new(),
    };
    if twists.is_empty() {
        return room;
    }
    let angular: Vec<Vector3<f64>> = twists
        .iter()
        .map(|t| t.fixed_rows::<3>(3).into_owned())
        .collect();
    let count = twists.len();
    let eigen =
        DMatrix::from_fn(count, count, |i, j| angular[i].dot(&angular[j])).symmetric_eigen();
    for (value, vector) in eigen
        .eigenvalues
        .iter()
        .zip(eigen.eigenvectors.column_iter())
    {
        let sum: Vector6<f64> = twists
            .iter()
            .zip(vector.iter())
            .map(|(t, a)| **t * *a)
            .sum();
        let linear = sum.fixed_rows::<3>(0).into_owned();
        let turn = sum.fixed_rows::<3>(3) / length;
        // Eigenvalues are squares of angular parts.
        match Unit::try_new_and_get(turn, NO_TURN.sqrt() / length) {
            Some((axis, size)) if *value > NO_TURN => {
                room.turns.push((linear / size, axis.into_inner()))
            }
            _ => room.slides.push(linear.normalize()),
        }
    }
    room
}
