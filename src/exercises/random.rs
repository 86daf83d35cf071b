//! A random generator of whole numbers that gives the same ones on every machine.

/// SplitMix64. Source: Steele, Lea & Flood 2014, *Fast splittable pseudorandom number generators*, with the constants
/// of its published reference code.
#[derive(Debug, Clone)]
pub(super) struct Random {
    state: u64,
}

impl Random {
    /// A generator; equal seeds give equal numbers.
    pub(super) fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A number below a bound > 0, each as likely as the others.
    pub(super) fn below(&mut self, bound: usize) -> usize {
        let bound = bound as u64;
        // Numbers beyond the last whole multiple of the bound would favour small results.
        let last = u64::MAX - u64::MAX % bound;
        loop {
            let number = self.next();
            if number < last {
                return usize::try_from(number % bound).expect("smaller than a bound of that type");
            }
        }
    }

    /// One of some things; there is at least one.
    pub(super) fn pick<T: Copy>(&mut self, things: &[T]) -> T {
        things[self.below(things.len())]
    }

    /// True so many times out of so many.
    pub(super) fn chance(&mut self, times: usize, of: usize) -> bool {
        self.below(of) < times
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// First outputs of the reference code for the seed 1234567 (values from memory, and recomputed apart from it).
    #[test]
    fn the_reference_outputs() {
        let mut random = Random::new(1_234_567);
        let expected = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821,
        ];
        assert_eq!([0; 5].map(|_| random.next()), expected);
    }

    #[test]
    fn every_number_below_the_bound_comes() {
        let mut random = Random::new(1);
        let mut counts = [0usize; 6];
        for _ in 0..6000 {
            counts[random.below(6)] += 1;
        }
        assert!(
            counts.iter().all(|count| (850..1150).contains(count)),
            "{counts:?}"
        );
        assert!((0..100).all(|_| random.chance(1, 1)) && (0..100).all(|_| !random.chance(0, 5)));
    }
}
