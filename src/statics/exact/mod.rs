//! Exact rank: the reactions as the decimals that the user wrote, ranked without rounding.
//!
//! Every written decimal times one power of ten is a whole number, the length of a column does not matter to
//! rank, and directions are built by differences and cross products only: so each column is six whole numbers.
//! Their rank is computed modulo primes. Modulo one prime it can only come out too small; were it too small
//! modulo every prime used, some non-zero minor would be divisible by all of them, and so by their product.
//! Primes are taken until that product exceeds what Hadamard's inequality allows any minor: then the largest
//! rank found is the rank. (von zur Gathen & Gerhard, *Modern Computer Algebra*, sections 5.5 and 16.2.)
//!
//! With numbers of moderate size one prime and a certificate in whole numbers prove the same.

mod certificate;
mod columns;
mod mersenne;
mod prime_field;
mod whole;

use super::model::Model;
use super::reaction::{Reaction, ReactionKind};
use super::written::WrittenDirection;
use crate::scene::{Decimal, Space};
use certificate::proven_rank;
pub(crate) use columns::ExactColumns;
use prime_field::PrimeField;
pub(crate) use whole::WholeColumn;

/// Rank over the rational numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct ExactRank {
    /// The rank.
    pub rank: usize,
    /// Whether every direction follows exactly from the decimals; not so for angles off the quarter turns,
    /// which are ranked as rounded.
    pub as_written: bool,
}

impl ExactRank {
    /// Ranks the reactions of a model.
    pub fn of(model: &Model) -> Self {
        let rank = proven_rank(&model.reactions, model.space);
        Self {
            rank: rank.unwrap_or_else(|| rank_by_primes(model)),
            as_written: model
                .reactions
                .iter()
                .all(|r| r.whole.is_some() || r.written_direction.is_exact()),
        }
    }
}

/// Reactions for each motion whose rank is looked at first.
const ENOUGH: usize = 4;

/// Rank of all reactions, by primes enough to prove it whatever the size of their numbers.
fn rank_by_primes(model: &Model) -> usize {
    let all = &model.reactions;
    let full = model.space.motions();
    // Usually a few reactions have the full rank, and then all have.
    let few = full * ENOUGH;
    let mut rank = 0;
    if all.len() > few {
        rank = rank_among(model, &all.as_slice()[..few]);
    }
    if rank < full {
        rank = rank_among(model, all);
    }
    rank
}

/// Rank of some reactions of a model.
fn rank_among(model: &Model, reactions: &[Reaction]) -> usize {
    let written = WrittenNumbers::of(reactions);
    let full = model.space.motions();
    let mut rank = 0;
    for field in written.fields(reactions, model.space) {
        let columns = written.columns(reactions, model.space, field);
        rank = rank.max(rank_of(columns, full, field));
        if rank == full {
            break;
        }
    }
    rank
}

/// The decimals that reactions are built from, in the order in which they are visited.
struct WrittenNumbers {
    decimals: Vec<Decimal>,
    /// Every decimal times ten to this power is a whole number.
    places: i32,
    /// log₂ of the largest of those whole numbers.
    bits: f64,
}

impl WrittenNumbers {
    fn of(reactions: &[Reaction]) -> Self {
        let mut decimals = Vec::with_capacity(12 * reactions.len());
        let mut largest = 1.0_f64;
        let mut visit = |number: f64| {
            largest = largest.max(number.abs());
            decimals.push(Decimal::of(number));
        };
        for reaction in reactions {
            reaction.written_direction.visit_numbers(&mut visit);
            reaction
                .written_point
                .iter()
                .for_each(|number| visit(*number));
        }
        let places = decimals.iter().map(|d| -d.exponent).fold(0, i32::max);
        // Once for all primes, where the whole number is not too large.
        for decimal in &mut decimals {
            *decimal = decimal.with_exponent(-places).unwrap_or(*decimal);
        }
        Self {
            decimals,
            places,
            bits: largest.log2() + f64::from(places) * std::f64::consts::LOG2_10,
        }
    }

    /// log₂ of a bound on every minor: a product of at most six (three) rows' lengths, of which those of forces are the shorter.
    fn bits_of_minors(&self, reactions: &[Reaction], space: Space) -> f64 {
        let rows = space.motions() as f64;
        let moments = match space {
            Space::Spatial => 3.0,
            Space::Planar => 1.0,
        };
        let direction = |direction: &WrittenDirection| direction.bits(self.bits);
        let widest = reactions
            .iter()
            .map(|r| direction(&r.written_direction))
            .fold(0.0, f64::max);
        // An entry of p × n is a sum of two products; a row of a minor is at most √6 times its largest entry.
        let in_all = rows * (widest + rows.log2() / 2.0);
        in_all + moments * (self.bits + 1.0) + SLACK
    }

    /// Primes enough to prove a rank.
    fn fields(
        &self,
        reactions: &[Reaction],
        space: Space,
    ) -> impl Iterator<Item = PrimeField> + use<> {
        let needed = (self.bits_of_minors(reactions, space) / prime_field::BITS).ceil() as usize;
        PrimeField::all().take(needed.max(1))
    }

    /// The columns of all reactions modulo a prime, the rows of the space first.
    fn columns(
        &self,
        reactions: &[Reaction],
        space: Space,
        field: PrimeField,
    ) -> impl Iterator<Item = [u64; 6]> {
        let powers = field.powers_of_ten(self.places as usize + 1);
        let numbers = self.decimals.iter();
        let mut numbers = numbers.map(move |d| field.decimal(d, &powers, self.places));
        reactions.iter().map(move |reaction| {
            // Exhausting the decimals is impossible: they were collected by the same walk.
            let mut next = || numbers.next().unwrap_or(0);
            let direction = whole_direction(&reaction.written_direction, field, &mut next);
            let point = [next(), next(), next()];
            let column = column(reaction.kind, &direction, &point, field);
            restrict(&column, space)
        })
    }
}

/// Rank of columns modulo a prime, at most `motions`; no more columns are asked for once that is reached.
fn rank_of(columns: impl Iterator<Item = [u64; 6]>, motions: usize, field: PrimeField) -> usize {
    let mut free = all_motions(motions);
    for column in columns {
        take_away(&mut free, &column, field);
        if free.is_empty() {
            break;
        }
    }
    motions - free.len()
}

/// A basis of the motions of a body that nothing holds.
fn all_motions(motions: usize) -> Vec<[u64; 6]> {
    (0..motions)
        .map(|i| std::array::from_fn(|j| u64::from(i == j)))
        .collect()
}

/// Room for the rounding of logarithms.
const SLACK: f64 = 2.0;

/// `(n; p × n)` or `(0; n)`.
fn column(
    kind: ReactionKind,
    direction: &[u64; 3],
    point: &[u64; 3],
    field: PrimeField,
) -> [u64; 6] {
    let (force, moment) = match kind {
        ReactionKind::Couple => ([0; 3], *direction),
        ReactionKind::Force => (*direction, field.cross(point, direction)),
    };
    [
        force[0], force[1], force[2], moment[0], moment[1], moment[2],
    ]
}

/// The rows of the space first: fx fy mz in the plane.
fn restrict(column: &[u64; 6], space: Space) -> [u64; 6] {
    match space {
        Space::Spatial => *column,
        Space::Planar => [column[0], column[1], column[5], 0, 0, 0],
    }
}

fn whole_direction(
    direction: &WrittenDirection,
    field: PrimeField,
    next: &mut impl FnMut() -> u64,
) -> [u64; 3] {
    match direction {
        WrittenDirection::Vector(_) => [next(), next(), next()],
        WrittenDirection::Between { .. } => {
            let from = [next(), next(), next()];
            from.map(|start| field.sub(next(), start))
        }
        WrittenDirection::Cross(left, right) => {
            let left = whole_direction(left, field, next);
            let right = whole_direction(right, field, next);
            field.cross(&left, &right)
        }
        WrittenDirection::Angle(degrees) => match WrittenDirection::quarter_turns(*degrees) {
            Some(turned) => [
                field.whole(turned[0].into()),
                field.whole(turned[1].into()),
                0,
            ],
            None => [next(), next(), 0],
        },
    }
}

/// Takes from the free motions what a column stops: none if it does no work on any of them, else one.
fn take_away(free: &mut Vec<[u64; 6]>, column: &[u64; 6], field: PrimeField) {
    let Some(stopped) = free
        .iter()
        .position(|motion| field.dot(motion, column) != 0)
    else {
        return;
    };
    let pivot = free.swap_remove(stopped);
    let pivot_power = field.dot(&pivot, column);
    for motion in free.iter_mut() {
        let power = field.dot(motion, column);
        for (entry, other) in motion.iter_mut().zip(&pivot) {
            *entry = field.sub(field.mul(*entry, pivot_power), field.mul(*other, power));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Minors of links with whole numbers, multiplied out: Hadamard's bound on the rows holds and is no wild one.
    #[test]
    fn no_minor_exceeds_its_bound() {
        let scene = |numbers: &[i64]| {
            let link = |(index, n): (usize, &[i64])| {
                format!(
                    "Link(name: \"L{index}\", at: ({}, {}), ground: ({}, {}))",
                    n[0], n[1], n[2], n[3]
                )
            };
            let links: Vec<String> = numbers.chunks(4).enumerate().map(link).collect();
            format!(
                "(format: 1, space: planar, body: [Block(centre: (0, 0), size: (90, 90, 90))], supports: [{}])",
                links.join(", ")
            )
        };
        for numbers in [
            [-40, 3, 40, 40, 40, -38, -40, 40, 39, 40, -37, -40],
            [1, 0, 0, 1, -1, 1, 1, 1, 0, -1, 1, -1],
        ] {
            let read = crate::scene::read_str("links", &scene(&numbers)).expect("links");
            let model = Model::new(&read.scene).expect("links of some length");
            let written = WrittenNumbers::of(&model.reactions);
            let columns: Vec<[i64; 3]> = numbers
                .chunks(4)
                .map(|n| {
                    let (x, y) = (n[2] - n[0], n[3] - n[1]);
                    [x, y, n[0] * y - n[1] * x]
                })
                .collect();
            let [a, b, c] = [columns[0], columns[1], columns[2]];
            let minor = a[0] * (b[1] * c[2] - b[2] * c[1]) - b[0] * (a[1] * c[2] - a[2] * c[1])
                + c[0] * (a[1] * b[2] - a[2] * b[1]);
            let bits = written.bits_of_minors(&model.reactions, Space::Planar);
            let own = (minor.abs() as f64).log2();
            assert!(own <= bits - SLACK && bits < own + 16.0, "{own} {bits}");
        }
    }

    #[test]
    fn a_motion_is_taken_away_once() {
        let field = PrimeField::all().next().expect("there are primes");
        let mut free: Vec<[u64; 6]> = (0..3)
            .map(|i| std::array::from_fn(|j| u64::from(i == j)))
            .collect();
        for column in [[1, 2, 3], [2, 4, 6], [0, 1, 1], [1, 3, 4]] {
            take_away(
                &mut free,
                &[column[0], column[1], column[2], 0, 0, 0],
                field,
            );
        }
        assert_eq!(free.len(), 1);
        assert_eq!(field.dot(&free[0], &[1, 2, 3, 0, 0, 0]), 0);
        assert_eq!(field.dot(&free[0], &[0, 1, 1, 0, 0, 0]), 0);
    }
}
