//! Ranks that are proven by whole numbers: motions so many, found modulo one prime, on which no reaction does any work.
//!
//! Columns that are independent modulo a prime are so over the rational numbers, which is the lower bound. For the upper
//! one, what is free modulo the prime is read as fractions of small numbers; where those do no work against any column,
//! multiplied out without rounding, that many motions are free, since they are independent.

use super::mersenne::{self, fraction};
use super::whole::greatest_common_divisor;
use crate::scene::Space;
use crate::statics::reaction::Reaction;

/// The rank of reactions; `None` where their numbers, or those of a free motion, are too long for it to be proven so.
pub(super) fn proven_rank(reactions: &[Reaction], space: Space) -> Option<usize> {
    let columns = reactions
        .iter()
        .map(|r| r.whole.map(|whole| whole.rows(space)));
    let mut free = FreeMotions::all(space.motions());
    for column in columns.clone() {
        if free.count == 0 {
            break;
        }
        free.stop(&column?.map(mersenne::whole));
    }
    let rank = space.motions() - free.count;
    if free.count == 0 || rank == reactions.len() {
        return Some(rank);
    }
    let count = free.count;
    let motions = free.whole_numbers()?;
    let motions = &motions[..count];
    for column in columns {
        let column = column?;
        if motions.iter().any(|motion| work(motion, &column) != 0) {
            return None;
        }
    }
    Some(rank)
}

/// Entries of whole motions lie below this, so that six products with entries of 64 bits fit.
const LARGEST: i64 = 1 << 60;

fn work(motion: &[i64; 6], column: &[i64; 6]) -> i128 {
    let product = |i: usize| i128::from(motion[i]) * i128::from(column[i]);
    product(0) + product(1) + product(2) + product(3) + product(4) + product(5)
}

/// A basis of the motions that are left, modulo the prime.
struct FreeMotions {
    basis: [[u64; 6]; 6],
    count: usize,
}

impl FreeMotions {
    /// A body that nothing holds.
    fn all(motions: usize) -> Self {
        Self {
            basis: std::array::from_fn(|i| std::array::from_fn(|j| u64::from(i == j))),
            count: motions,
        }
    }

    /// Takes away what a column stops: nothing if it does no work on any of them, else one.
    fn stop(&mut self, column: &[u64; 6]) {
        let mut powers = [0; 6];
        let free = self.basis[..self.count].iter();
        for (power, motion) in powers.iter_mut().zip(free) {
            *power = mersenne::dot(motion, column);
        }
        let Some(stopped) = powers.iter().position(|power| *power != 0) else {
            return;
        };
        self.count -= 1;
        self.basis.swap(stopped, self.count);
        powers.swap(stopped, self.count);
        let (free, rest) = self.basis.split_at_mut(self.count);
        let own = powers[self.count];
        for (motion, power) in free.iter_mut().zip(powers) {
            for (entry, other) in motion.iter_mut().zip(&rest[0]) {
                *entry = mersenne::sub(mersenne::mul(*entry, own), mersenne::mul(*other, power));
            }
        }
    }

    /// The reduced basis of the same motions, each times the smallest number that makes it whole; `None` where a fraction
    /// has long numbers.
    fn whole_numbers(mut self) -> Option<[[i64; 6]; 6]> {
        let mut whole = [[0; 6]; 6];
        self.reduce();
        for (motion, to) in self.basis[..self.count].iter().zip(&mut whole) {
            *to = whole_motion(motion)?;
        }
        Some(whole)
    }

    /// Gauss-Jordan elimination: each motion gets an entry of one where all others have zero.
    fn reduce(&mut self) {
        let mut done = 0;
        for column in 0..6 {
            let free = &mut self.basis[..self.count];
            let Some(pivot) = (done..free.len()).find(|row| free[*row][column] != 0) else {
                continue;
            };
            free.swap(done, pivot);
            let inverse = mersenne::inverse(free[done][column]);
            let unit = free[done].map(|entry| mersenne::mul(entry, inverse));
            free[done] = unit;
            for (_, other) in free.iter_mut().enumerate().filter(|(row, _)| *row != done) {
                let factor = other[column];
                for (entry, own) in other.iter_mut().zip(unit) {
                    *entry = mersenne::sub(*entry, mersenne::mul(own, factor));
                }
            }
            done += 1;
        }
    }
}

/// A motion modulo the prime as fractions, over their least common denominator.
fn whole_motion(motion: &[u64; 6]) -> Option<[i64; 6]> {
    let mut fractions = [(0, 1); 6];
    let mut denominator = 1_i64;
    for (to, entry) in fractions.iter_mut().zip(motion) {
        *to = fraction(*entry)?;
        let common = greatest_common_divisor(
            denominator.unsigned_abs().into(),
            to.1.unsigned_abs().into(),
        );
        denominator = denominator.checked_mul(to.1 / common as i64)?;
    }
    let mut whole = [0; 6];
    for (to, (above, below)) in whole.iter_mut().zip(fractions) {
        *to = above.checked_mul(denominator / below)?;
    }
    let moderate = whole.iter().all(|entry| entry.abs() < LARGEST);
    moderate.then_some(whole)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::builtin;
    use crate::statics::exact::rank_by_primes;
    use crate::statics::model::Model;
    use crate::statics::testing::{Given, model_of};

    #[test]
    fn certificates_and_primes_agree_on_the_built_in_scenes() {
        for built_in in builtin::all() {
            let scene = crate::scene::read_str(built_in.name, built_in.text)
                .unwrap()
                .scene;
            let model = Model::new(&scene).unwrap();
            let proven = proven_rank(&model.reactions, model.space);
            assert_eq!(proven, Some(rank_by_primes(&model)), "{}", built_in.name);
        }
    }

    /// Forces through points of a small lattice have every rank, and motions with small numbers.
    #[test]
    fn certificates_and_primes_agree_on_random_forces() {
        let (mut seed, mut seen) = (1_u64, [0; 7]);
        let mut next = |below: u64| {
            seed = seed * 48_271 % 2_147_483_647;
            (seed % below) as f64 - (below / 2) as f64
        };
        for round in 0..2_000 {
            let vector = |next: &mut dyn FnMut(u64) -> f64| [next(3), next(3), next(3)];
            let given: Vec<Given> = (0..1 + round % 9)
                .map(|_| (vector(&mut next), vector(&mut next)))
                .filter(|(_, direction)| *direction != [0.0; 3])
                .map(|(point, direction)| Given::Force(point, direction))
                .collect();
            let model = model_of(Space::Spatial, &given);
            let proven = proven_rank(&model.reactions, model.space);
            let rank = rank_by_primes(&model);
            assert_eq!(proven, Some(rank));
            seen[rank] += 1;
        }
        assert!(seen[1..].iter().all(|count| *count > 20), "{seen:?}");
    }

    /// Four lines of a flat pencil whose axis has numbers beyond any certificate: left to the primes.
    #[test]
    fn motions_with_long_numbers_are_not_proven_here() {
        let far = [1e9 + 7.0, 1e9 - 9.0, 998_244_353.0];
        let other = [7.0, 1e9 + 21.0, 1e9 + 33.0];
        let between: [f64; 3] = std::array::from_fn(|i| other[i] - far[i]);
        let given: Vec<Given> = (0..6)
            .map(|i| {
                let mut direction = [0.0; 3];
                direction[i % 3] = 1.0;
                let point = if i < 3 { far } else { other };
                Given::Force(point, direction)
            })
            .chain([Given::Force(far, between)])
            .collect();
        let model = model_of(Space::Spatial, &given);
        assert_eq!(proven_rank(&model.reactions, model.space), None);
        assert_eq!(rank_by_primes(&model), 5);
    }
}
