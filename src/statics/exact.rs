//! Exact rank: the reactions as the decimals that the user wrote, ranked in whole numbers without rounding.
//!
//! Every written decimal times one power of ten is a whole number, the length of a column does not matter to
//! rank, and directions are built by differences and cross products only. So each column is six whole numbers.
//! The free motions are kept as whole numbers too: a column is dependent on those before it exactly when it
//! does no work on any motion that they leave, and otherwise takes one motion away.

use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::{CheckedAdd, CheckedMul, CheckedSub, Pow, ToPrimitive, Zero};

use super::model::{Model, Reaction, ReactionKind};
use super::written::whole_cross;
use crate::scene::Space;

/// Rank over the rational numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ExactRank {
    /// The rank.
    pub rank: usize,
    /// Whether every direction follows exactly from the decimals; not so for angles off the quarter turns,
    /// which are ranked as rounded.
    pub as_written: bool,
}

/// Exact rank of a model's reactions.
pub fn rank(model: &Model) -> ExactRank {
    let scale = Decimals::of(model);
    let rank = rank_with(model, &|number| scale.small(number))
        .or_else(|| rank_with(model, &|number| Some(scale.whole(number))))
        .expect("big integers do not overflow");
    ExactRank {
        rank,
        as_written: model
            .reactions
            .iter()
            .all(|r| r.written_direction.is_exact()),
    }
}

/// What the arithmetic asks of a whole number; the checked operations tell of overflow.
trait Whole: Clone + Zero + Integer + From<i8> + CheckedAdd + CheckedMul + CheckedSub {}
impl<T: Clone + Zero + Integer + From<i8> + CheckedAdd + CheckedMul + CheckedSub> Whole for T {}

/// `None` on overflow.
fn rank_with<T: Whole>(model: &Model, whole: &impl Fn(f64) -> Option<T>) -> Option<usize> {
    let motions = model.space.motions();
    let mut free = unit_vectors::<T>(motions);
    for reaction in &model.reactions {
        if free.is_empty() {
            break;
        }
        let column = restrict(column(reaction, whole)?, model.space);
        take_away(&mut free, &column)?;
    }
    Some(motions - free.len())
}

fn unit_vectors<T: Whole>(count: usize) -> Vec<Vec<T>> {
    let entry = |i: usize, j: usize| if i == j { T::one() } else { T::zero() };
    (0..count)
        .map(|i| (0..count).map(|j| entry(i, j)).collect())
        .collect()
}

/// `(n; p × n)` or `(0; n)`.
fn column<T: Whole>(reaction: &Reaction, whole: &impl Fn(f64) -> Option<T>) -> Option<[T; 6]> {
    let direction = primitive(reaction.written_direction.whole(whole)?);
    match reaction.kind {
        ReactionKind::Couple => {
            let [x, y, z] = direction;
            Some([T::zero(), T::zero(), T::zero(), x, y, z])
        }
        ReactionKind::Force => {
            let [px, py, pz] = reaction.written_point;
            let point = [whole(px)?, whole(py)?, whole(pz)?];
            let [mx, my, mz] = whole_cross(&point, &direction)?;
            let [x, y, z] = direction;
            Some([x, y, z, mx, my, mz])
        }
    }
}

/// Rows of the space: fx fy mz in the plane.
fn restrict<T: Whole>(column: [T; 6], space: Space) -> Vec<T> {
    let [fx, fy, fz, mx, my, mz] = column;
    match space {
        Space::Spatial => vec![fx, fy, fz, mx, my, mz],
        Space::Planar => vec![fx, fy, mz],
    }
}

/// Takes from the free motions what a column stops; `None` on overflow.
fn take_away<T: Whole>(free: &mut Vec<Vec<T>>, column: &[T]) -> Option<()> {
    let mut powers = Vec::with_capacity(free.len());
    for motion in free.iter() {
        powers.push(dot(motion, column)?);
    }
    let Some(stopped) = powers.iter().position(|power| !power.is_zero()) else {
        return Some(());
    };
    let pivot = free.swap_remove(stopped);
    let pivot_power = powers.swap_remove(stopped);
    for (motion, power) in free.iter_mut().zip(&powers) {
        if power.is_zero() {
            continue;
        }
        for (entry, other) in motion.iter_mut().zip(&pivot) {
            *entry = entry
                .checked_mul(&pivot_power)?
                .checked_sub(&other.checked_mul(power)?)?;
        }
        divide_by_content(motion);
    }
    Some(())
}

fn dot<T: Whole>(a: &[T], b: &[T]) -> Option<T> {
    a.iter()
        .zip(b)
        .filter(|(x, y)| !x.is_zero() && !y.is_zero())
        .try_fold(T::zero(), |sum, (x, y)| sum.checked_add(&x.checked_mul(y)?))
}

fn divide_by_content<T: Whole>(entries: &mut [T]) {
    let content = entries.iter().fold(T::zero(), |gcd, entry| gcd.gcd(entry));
    if content > T::one() {
        for entry in entries {
            *entry = entry.div_floor(&content);
        }
    }
}

fn primitive<T: Whole>(mut direction: [T; 3]) -> [T; 3] {
    divide_by_content(&mut direction);
    direction
}

/// The power of ten that makes whole numbers of every number of a model.
struct Decimals {
    places: i32,
}

impl Decimals {
    fn of(model: &Model) -> Self {
        let mut places = 0;
        let mut visit = |number: f64| places = places.max(-Decimal::of(number).exponent);
        for reaction in &model.reactions {
            reaction
                .written_point
                .iter()
                .for_each(|number| visit(*number));
            reaction.written_direction.visit_numbers(&mut visit);
        }
        Self { places }
    }

    /// `None` where it does not fit.
    fn small(&self, number: f64) -> Option<i128> {
        if number == 0.0 {
            return Some(0);
        }
        let decimal = Decimal::of(number);
        let power = u32::try_from(decimal.exponent + self.places).ok()?;
        decimal.mantissa.checked_mul(10_i128.checked_pow(power)?)
    }

    fn whole(&self, number: f64) -> BigInt {
        let decimal = Decimal::of(number);
        if decimal.mantissa == 0 {
            return BigInt::zero();
        }
        // Not negative: `places` covers every number of the model.
        let power = (decimal.exponent + self.places).to_u32().unwrap_or(0);
        BigInt::from(decimal.mantissa) * BigInt::from(10).pow(power)
    }
}

/// `mantissa · 10^exponent`: the shortest decimal that reads back as the number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Decimal {
    mantissa: i128,
    exponent: i32,
}

impl Decimal {
    fn of(number: f64) -> Self {
        if number == 0.0 || !number.is_finite() {
            return Self {
                mantissa: 0,
                exponent: 0,
            };
        }
        // Whole numbers of usual size need no text.
        if number.fract() == 0.0 && number.abs() < 1e15 {
            return Self {
                mantissa: number as i128,
                exponent: 0,
            };
        }
        let text = format!("{number:e}");
        let (digits, exponent) = text.split_once('e').unwrap_or((&text, "0"));
        let fraction = digits
            .split_once('.')
            .map_or(0, |(_, fraction)| fraction.len());
        let digits: String = digits.chars().filter(|c| *c != '.').collect();
        // At most 17 digits and three of exponent, as the standard library writes them.
        let mantissa = digits.parse().unwrap_or(0);
        let exponent = exponent.parse::<i32>().unwrap_or(0) - fraction as i32;
        Self { mantissa, exponent }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimals_are_the_shortest_that_read_back() {
        let decimal = |mantissa, exponent| Decimal { mantissa, exponent };
        assert_eq!(Decimal::of(0.1), decimal(1, -1));
        assert_eq!(Decimal::of(-12.75), decimal(-1275, -2));
        assert_eq!(Decimal::of(300.0), decimal(300, 0));
        assert_eq!(Decimal::of(1e300), decimal(1, 300));
        assert_eq!(Decimal::of(0.1 + 0.2), decimal(30_000_000_000_000_004, -17));
    }

    #[test]
    fn a_motion_is_taken_away_once() {
        let mut free = unit_vectors::<i128>(3);
        for column in [[1, 2, 3], [2, 4, 6], [0, 1, 1], [1, 3, 4]] {
            take_away(&mut free, &column).expect("small numbers");
        }
        assert_eq!(free.len(), 1);
        assert_eq!(dot(&free[0], &[1, 2, 3]), Some(0));
        assert_eq!(dot(&free[0], &[0, 1, 1]), Some(0));
    }

    #[test]
    fn overflow_is_told_and_big_integers_carry_on() {
        let column = [i128::MAX / 2, 3, 5];
        let mut free = vec![vec![7_i128, 11, 13]];
        assert!(take_away(&mut free, &column).is_none());
        let big = column.map(BigInt::from);
        let mut free = vec![[7, 11, 13].map(BigInt::from).to_vec()];
        take_away(&mut free, &big).expect("big integers do not overflow");
        assert!(free.is_empty());
    }
}
