//! Contacts that only push and cables that only pull: whether they hold, what then comes loose, and which way.
//!
//! Every reaction that acts one way is written so that its positive values are the ones that can act. A surface
//! that holds by friction across its normal is taken to do so whenever the signs allow; friction has no limit here,
//! but the coefficient that it needs is told where the reactions are decided.

pub(super) mod cone;
mod ranges;

use nalgebra::{DMatrix, DVector, Vector3, Vector6};

use super::diagnosis::Diagnosis;
use super::freedom::{self, FreeMotion};
use super::matrix::{ReactionMatrix, extend, restrict};
use super::model::{Model, PlacedSupport, Reaction, ReactionKind, Sense};
use super::svd::WideSvd;
use super::wrench::{Twist, stack};
use crate::scene::SupportKind;

/// What becomes of a model whose supports push or pull one way only.
#[derive(Debug, Clone)]
pub struct OneWay {
    /// Under each load case, in the model's order.
    pub cases: Vec<OneWayCase>,
    /// The motion that some load would start: `None` where every load whatever is held.
    pub escape: Option<Escape>,
}

/// What one-way supports make of a load case.
#[derive(Debug, Clone)]
pub struct OneWayCase {
    /// Whether the load is balanced with contacts that push and cables that pull.
    pub holds: bool,
    /// Values that each reaction can take, N or N·m, in model order; `None` where the load is not held or the
    /// range was not found (more than [`MOST_RANGED`] reactions).
    pub ranges: Vec<Option<Range>>,
    /// One-way reactions that carry nothing under the load, whatever the others do.
    pub idle: Vec<usize>,
    /// What each rough contact asks of friction, in model order; empty where the load is not held.
    pub friction: Vec<Friction>,
    /// How the body gets away; `None` where it is held.
    pub escape: Option<Escape>,
}

/// What a rough contact asks of friction under a load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Friction {
    /// Index of the support.
    pub support: usize,
    /// Least coefficient of friction that will do: force along the surface over push. Infinite where the contact
    /// would have to grip without pressing; `None` where equilibrium does not decide both.
    pub coefficient: Option<f64>,
}

/// Smallest and largest value of a reaction, N or N·m; infinite where nothing bounds it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Smallest.
    pub low: f64,
    /// Largest; equal to `low` where the value is decided.
    pub high: f64,
}

/// A motion that breaks no support: a certificate that a load is not held (Farkas' lemma).
#[derive(Debug, Clone)]
pub struct Escape {
    /// The motion about the model's reference point, 1 rad/s, or 1 m/s where it does not turn.
    pub twist: Twist,
    /// The same as an axis or direction; its positive sense may be the opposite one, see `backwards`.
    pub motion: FreeMotion,
    /// Whether the body goes against the positive sense of `motion`.
    pub backwards: bool,
    /// Reactions whose contact lifts off or whose cable goes slack.
    pub loosened: Vec<usize>,
    /// One-way reactions that stay in touch.
    pub touching: Vec<usize>,
    /// Power of the load on the motion, W; 0 where no load is asked about.
    pub power: f64,
}

/// Beyond this many reactions the ranges of undecided ones are not sought.
pub const MOST_RANGED: usize = 40;

/// What the nearest balance leaves of a load, relative to it, counts as nothing below this.
const BALANCED: f64 = 1e-9;
/// Rates of a unit motion below this count as none.
const STILL: f64 = 1e-7;
/// Relative size of reactions that are rounding noise of the loads.
const NOISE: f64 = 1e-10;

impl OneWay {
    /// Asks every load case; `None` where every support acts both ways.
    pub fn of(model: &Model, diagnosis: &Diagnosis) -> Option<Self> {
        let supports = Supports::new(model)?;
        Some(Self {
            cases: (0..model.cases.len())
                .map(|case| supports.case(model, diagnosis, case))
                .collect(),
            escape: supports.escape(model, diagnosis),
        })
    }
}

impl Range {
    /// The value, where there is only one.
    pub fn value(&self) -> Option<f64> {
        (self.low == self.high).then_some(self.low)
    }
}

/// Whether a reaction acts one way only.
pub(super) fn is_one_way(reaction: &Reaction) -> bool {
    reaction.sense != Sense::Both
}

/// The reactions, those that act both ways taken apart.
struct Supports {
    matrix: DMatrix<f64>,
    one_way: Vec<usize>,
    two_way: Vec<usize>,
    two_way_svd: WideSvd,
    two_way_rank: usize,
    /// Orthonormal scaled twists that the two-way reactions leave, as columns.
    room: DMatrix<f64>,
    /// One-way columns within that room.
    pushes: DMatrix<f64>,
}

impl Supports {
    fn new(model: &Model) -> Option<Self> {
        let reactions = 0..model.reactions.len();
        let (one_way, two_way): (Vec<usize>, Vec<usize>) =
            reactions.partition(|j| is_one_way(&model.reactions[*j]));
        if one_way.is_empty() {
            return None;
        }
        let matrix = ReactionMatrix::new(model).entries().clone();
        let two_way_svd = WideSvd::new(&matrix.select_columns(&two_way));
        let largest = two_way_svd.values.first().copied().unwrap_or(0.0);
        let two_way_rank = two_way_svd
            .values
            .iter()
            .filter(|value| **value > BALANCED * largest)
            .count();
        let rows = matrix.nrows();
        let room = two_way_svd
            .left
            .columns(two_way_rank, rows - two_way_rank)
            .into_owned();
        let pushes = room.tr_mul(&matrix.select_columns(&one_way));
        Some(Self {
            matrix,
            one_way,
            two_way,
            two_way_svd,
            two_way_rank,
            room,
            pushes,
        })
    }

    fn case(&self, model: &Model, diagnosis: &Diagnosis, case: usize) -> OneWayCase {
        let load = scaled_load(model, case);
        let size = load_size(model, case);
        let nearest = cone::nearest(&self.pushes, &self.room.tr_mul(&load));
        let holds = nearest.left.norm() <= BALANCED * size;
        if !holds {
            return OneWayCase {
                holds,
                ranges: vec![None; model.reactions.len()],
                idle: Vec::new(),
                friction: Vec::new(),
                escape: self.escape_along(model, &nearest.left, Some(&load)),
            };
        }
        let balanced = self.reactions(&load, &nearest.sizes);
        let ranges = self.ranges(model, diagnosis, case, &balanced, size);
        let is_idle = |j: &usize| ranges[*j].is_some_and(|range| range.high == 0.0);
        OneWayCase {
            holds,
            idle: self.one_way.iter().copied().filter(is_idle).collect(),
            friction: friction(model, &ranges),
            ranges,
            escape: None,
        }
    }

    /// All reactions, scaled, of which the one-way ones are known.
    fn reactions(&self, load: &DVector<f64>, pushes: &DVector<f64>) -> DVector<f64> {
        let mut all = DVector::zeros(self.matrix.ncols());
        for (j, push) in self.one_way.iter().zip(pushes.iter()) {
            all[*j] = *push;
        }
        // Twice: the second time puts right what rounding left.
        for _ in 0..2 {
            let left = load + &self.matrix * &all;
            for rank in 0..self.two_way_rank {
                let value = self.two_way_svd.values[rank];
                let share = self.two_way_svd.left.column(rank).dot(&left) / (value * value);
                for (j, weight) in self
                    .two_way
                    .iter()
                    .zip(self.two_way_svd.weighted_right.row(rank).iter())
                {
                    all[*j] -= weight * share;
                }
            }
        }
        all
    }

    fn ranges(
        &self,
        model: &Model,
        diagnosis: &Diagnosis,
        case: usize,
        balanced: &DVector<f64>,
        size: f64,
    ) -> Vec<Option<Range>> {
        let answer = &diagnosis.cases[case];
        // Without any load, supports may still press against each other by any amount.
        let unit = if size > 0.0 { size } else { 1.0 };
        let count = model.reactions.len();
        let scaled = if diagnosis.counts.redundancy == 0 {
            balanced.iter().map(|x| Some((*x, *x))).collect()
        } else if count <= MOST_RANGED {
            let one_way: Vec<bool> = model.reactions.iter().map(is_one_way).collect();
            let stresses = self_stresses(diagnosis);
            let found = ranges::ranges(&(balanced / unit), &stresses, &one_way);
            found
                .into_iter()
                .map(|r| r.map(|(low, high)| (low * unit, high * unit)))
                .collect()
        } else {
            vec![None; count]
        };
        let in_units =
            |(j, bounds): (usize, Option<ranges::Bounds>)| match (answer.values[j], bounds) {
                (Some(value), _) => Some(Range {
                    low: value,
                    high: value,
                }),
                (None, bounds) => bounds.map(|bounds| tidy(model, j, bounds, unit)),
            };
        scaled.into_iter().enumerate().map(in_units).collect()
    }

    /// A motion that no support stops: asked with the load that pulls every contact open.
    ///
    /// Every load is held exactly where this one and every twist of the rank is: a strictly positive combination
    /// of all one-way columns then adds up to a two-way one. (Lakshminarayana 1978; Davis 1954.)
    fn escape(&self, model: &Model, diagnosis: &Diagnosis) -> Option<Escape> {
        let open = &self.pushes * DVector::from_element(self.one_way.len(), 1.0);
        let nearest = cone::nearest(&self.pushes, &open);
        if nearest.left.norm() > BALANCED * self.one_way.len() as f64 {
            return self
                .plain_escape(model)
                .or_else(|| self.escape_along(model, &nearest.left, None));
        }
        let free = diagnosis.free_motions.first()?;
        Some(escape(model, free.twist, 0.0))
    }

    /// A translation along an axis that breaks no support and loosens some; of several, that which loosens most.
    fn plain_escape(&self, model: &Model) -> Option<Escape> {
        let axes = [Vector3::x(), Vector3::y(), Vector3::z()];
        let ways = axes.into_iter().flat_map(|axis| [axis, -axis]);
        let loosened = |way: &Vector3<f64>| {
            let slide = stack(way, &Vector3::zeros());
            let rates = self.matrix.tr_mul(&restrict(&slide, model.space));
            let breaks_none = self.two_way.iter().all(|j| rates[*j].abs() <= STILL)
                && self.one_way.iter().all(|j| rates[*j] >= -STILL);
            breaks_none.then(|| self.one_way.iter().filter(|j| rates[**j] > STILL).count())
        };
        let counted = ways.filter_map(|way| Some((loosened(&way)?, way)));
        let (count, way) = counted.rev().max_by_key(|(count, _)| *count)?;
        let twist = at_unit_rate(model, &stack(&way, &Vector3::zeros()))?;
        (count > 0).then(|| escape(model, twist, 0.0))
    }

    fn escape_along(
        &self,
        model: &Model,
        left: &DVector<f64>,
        load: Option<&DVector<f64>>,
    ) -> Option<Escape> {
        let scaled = &self.room * left;
        let six = self.plainer(model, extend(&scaled, model.space), load);
        let twist = at_unit_rate(model, &six)?;
        let power = load.map_or(0.0, |load| {
            twist.scaled(model.length).dot(&extend(load, model.space))
        });
        Some(escape(model, twist, power))
    }

    /// The translation alone, where a motion turns about an axis far away and would do without turning.
    fn plainer(
        &self,
        model: &Model,
        six: Vector6<f64>,
        load: Option<&DVector<f64>>,
    ) -> Vector6<f64> {
        let mut slide = six;
        slide.fixed_rows_mut::<3>(3).fill(0.0);
        let turn = (six - slide).norm();
        let rates = self.matrix.tr_mul(&restrict(&slide, model.space));
        let still = STILL * slide.norm();
        let breaks_none = self.two_way.iter().all(|j| rates[*j].abs() <= still)
            && self.one_way.iter().all(|j| rates[*j] >= -still);
        let starts = match load {
            Some(load) => load.dot(&restrict(&slide, model.space)) > still * load.norm(),
            None => self.one_way.iter().any(|j| rates[*j] > still),
        };
        let far = slide.norm() > FAR * turn;
        if far && breaks_none && starts {
            slide
        } else {
            six
        }
    }
}

/// A turn about an axis this many characteristic lengths away is as good as a translation, where that will do.
const FAR: f64 = 100.0;

/// The twist at 1 rad/s, or at 1 m/s where it does not turn.
fn at_unit_rate(model: &Model, scaled: &Vector6<f64>) -> Option<Twist> {
    let six = scaled.try_normalize(0.0)?;
    let twist = Twist::from_scaled(&six, model.length);
    let turning = twist.angular.norm() * model.length > STILL;
    let rate = if turning { twist.angular.norm() } else { 1.0 };
    Some(Twist::from_scaled(&(six / rate), model.length))
}

fn escape(model: &Model, twist: Twist, power: f64) -> Escape {
    let scaled = twist.scaled(model.length);
    let speed = scaled.norm();
    let mut escape = Escape {
        // A twist at unit rate is not zero.
        motion: freedom::of_twist(model, &twist).expect("a motion has an axis or a direction"),
        twist,
        backwards: false,
        loosened: Vec::new(),
        touching: Vec::new(),
        power,
    };
    escape.backwards = escape.motion.twist.scaled(model.length).dot(&scaled) < 0.0;
    for (j, reaction) in model
        .reactions
        .iter()
        .enumerate()
        .filter(|(_, r)| is_one_way(r))
    {
        let column = super::matrix::scaled_column(model, reaction);
        if column.dot(&scaled) > STILL * speed {
            escape.loosened.push(j);
        } else {
            escape.touching.push(j);
        }
    }
    escape
}

/// What rough contacts ask of friction, where it is decided.
fn friction(model: &Model, ranges: &[Option<Range>]) -> Vec<Friction> {
    let rough = |(_, support): &(usize, &PlacedSupport)| {
        matches!(support.kind, SupportKind::RoughContact { .. })
    };
    let supports = model.supports.iter().enumerate().filter(rough);
    supports
        .map(|(support, placed)| Friction {
            support,
            coefficient: coefficient(model, placed, ranges),
        })
        .collect()
}

fn coefficient(model: &Model, support: &PlacedSupport, ranges: &[Option<Range>]) -> Option<f64> {
    let (mut push, mut along) = (0.0, 0.0_f64);
    for j in support.reactions.clone() {
        let value = ranges[j]?.value()?;
        if is_one_way(&model.reactions[j]) {
            push = value;
        } else {
            along = along.hypot(value);
        }
    }
    Some(if along == 0.0 { 0.0 } else { along / push })
}

/// In SI units, with rounding noise made an exact zero and equal bounds equal.
fn tidy(model: &Model, j: usize, (low, high): ranges::Bounds, size: f64) -> Range {
    let unit = match model.reactions[j].kind {
        ReactionKind::Force => 1.0,
        ReactionKind::Couple => model.length,
    };
    let clean = |x: f64| {
        if x.abs() <= NOISE * size {
            0.0
        } else {
            x * unit
        }
    };
    let (low, high) = (clean(low), clean(high));
    let same = (high - low).abs() <= NOISE * size * unit;
    Range {
        low,
        high: if same { low } else { high },
    }
}

/// The load of a case, moments over the characteristic length.
pub(super) fn scaled_load(model: &Model, case: usize) -> DVector<f64> {
    let load = model.cases[case].resultant(&model.reference);
    restrict(
        &stack(&load.force, &(load.moment / model.length)),
        model.space,
    )
}

/// Sum of the sizes of all loads of a case, N.
pub(super) fn load_size(model: &Model, case: usize) -> f64 {
    let loads = model.cases[case].loads.iter();
    loads
        .map(|load| load.wrench(&model.reference))
        .map(|load| stack(&load.force, &(load.moment / model.length)).norm())
        .sum()
}

/// Orthonormal self-stresses as columns: sets of scaled reactions that balance no load at all.
fn self_stresses(diagnosis: &Diagnosis) -> DMatrix<f64> {
    let numeric = &diagnosis.numeric;
    let count = numeric.svd.weighted_right.ncols();
    let mut basis: Vec<DVector<f64>> = Vec::with_capacity(count);
    for (row, value) in numeric
        .singular_values
        .iter()
        .take(numeric.rank)
        .enumerate()
    {
        basis.push(numeric.svd.weighted_right.row(row).transpose() / *value);
    }
    while basis.len() < count {
        // The unit vector of which the basis holds least.
        let held = |j: usize| basis.iter().map(|b| b[j] * b[j]).sum::<f64>();
        let least = (0..count).min_by(|a, b| held(*a).total_cmp(&held(*b)));
        let mut rest = DVector::zeros(count);
        rest[least.unwrap_or(0)] = 1.0;
        for _ in 0..2 {
            for b in &basis {
                let part = b.dot(&rest);
                rest -= b * part;
            }
        }
        basis.push(rest.normalize());
    }
    let stresses = basis.split_off(numeric.rank);
    if stresses.is_empty() {
        return DMatrix::zeros(count, 0);
    }
    DMatrix::from_columns(&stresses)
}
