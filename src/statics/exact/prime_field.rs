//! Arithmetic modulo primes just below 2³¹, in which products fit 64 bits.

use std::sync::LazyLock;

use crate::scene::Decimal;

/// The whole numbers modulo a prime.
#[derive(Debug, Clone, Copy)]
pub(super) struct PrimeField {
    prime: u64,
    /// 2⁶⁴ over the prime, rounded down.
    inverse: u64,
}

/// Bits that every prime used is worth at least: all lie above 2³⁰.
pub(super) const BITS: f64 = 30.0;

/// Enough for the decimals of usual scenes; further ones are searched for when needed.
static FIRST: LazyLock<Vec<u64>> = LazyLock::new(|| below(1 << 31).take(32).collect());

impl PrimeField {
    /// Different primes between 2³⁰ and 2³¹, largest first.
    pub(super) fn all() -> impl Iterator<Item = Self> {
        let last = FIRST.last().copied().unwrap_or(1 << 31);
        FIRST.iter().copied().chain(below(last)).map(|prime| Self {
            prime,
            inverse: u64::MAX / prime,
        })
    }

    /// The remainder of any number, by two products: a division takes several times as long.
    ///
    /// The quotient comes out too small by less than two, so that what is left is below twice the prime. (Barrett 1987.)
    fn reduced(self, number: u64) -> u64 {
        let quotient = (u128::from(number) * u128::from(self.inverse)) >> 64;
        self.once_reduced(number - quotient as u64 * self.prime)
    }

    /// The remainder of a number below twice the prime.
    fn once_reduced(self, number: u64) -> u64 {
        number.checked_sub(self.prime).unwrap_or(number)
    }

    pub(super) fn sub(self, a: u64, b: u64) -> u64 {
        self.once_reduced(a + self.prime - b)
    }

    pub(super) fn mul(self, a: u64, b: u64) -> u64 {
        self.reduced(a * b)
    }

    /// `left × right`.
    pub(super) fn cross(self, l: &[u64; 3], r: &[u64; 3]) -> [u64; 3] {
        // Two products below 2⁶² each, so the sum needs no reduction in between.
        let minor = |i: usize, j: usize| self.reduced(l[i] * r[j] + (self.prime - l[j]) * r[i]);
        [minor(1, 2), minor(2, 0), minor(0, 1)]
    }

    pub(super) fn dot(self, a: &[u64; 6], b: &[u64; 6]) -> u64 {
        // Three products below 2⁶² each and a remainder fit, so that divisions, which take longest, are few.
        let three = |sum: u64, at: usize| {
            self.reduced(sum + a[at] * b[at] + a[at + 1] * b[at + 1] + a[at + 2] * b[at + 2])
        };
        three(three(0, 0), 3)
    }

    pub(super) fn whole(self, number: i128) -> u64 {
        let Ok(narrow) = u64::try_from(number.unsigned_abs()) else {
            // Not negative and below the prime.
            return number.rem_euclid(i128::from(self.prime)) as u64;
        };
        match self.reduced(narrow) {
            0 => 0,
            rest if number < 0 => self.prime - rest,
            rest => rest,
        }
    }

    /// `decimal · 10^places`, which must be a whole number.
    pub(super) fn decimal(self, decimal: &Decimal, powers: &[u64], places: i32) -> u64 {
        let power = usize::try_from(decimal.exponent + places).unwrap_or(0);
        let whole = self.whole(decimal.mantissa);
        if power == 0 {
            return whole;
        }
        match powers.get(power) {
            Some(ten) => self.mul(whole, *ten),
            None => self.mul(whole, power_of(10, power as u64, self.prime)),
        }
    }

    /// 10⁰, 10¹, … 10^(count − 1).
    pub(super) fn powers_of_ten(self, count: usize) -> Vec<u64> {
        std::iter::successors(Some(1), |power| Some(self.mul(*power, 10)))
            .take(count)
            .collect()
    }
}

fn below(limit: u64) -> impl Iterator<Item = u64> {
    (1 << 30..limit)
        .rev()
        .filter(|candidate| is_prime(*candidate))
}

/// Miller's test; bases 2, 3, 5, 7 decide every number below 3 215 031 751.
/// (Pomerance, Selfridge & Wagstaff 1980, table 1; Jaeschke 1993.)
fn is_prime(number: u64) -> bool {
    if number.is_multiple_of(2) {
        return false;
    }
    let halvings = (number - 1).trailing_zeros();
    let odd = (number - 1) >> halvings;
    [2, 3, 5, 7].iter().all(|base| {
        let mut power = power_of(*base, odd, number);
        if power == 1 || power == number - 1 {
            return true;
        }
        (1..halvings).any(|_| {
            power = power * power % number;
            power == number - 1
        })
    })
}

fn power_of(base: u64, mut exponent: u64, modulus: u64) -> u64 {
    let (mut power, mut square) = (1, base % modulus);
    while exponent > 0 {
        if exponent & 1 == 1 {
            power = power * square % modulus;
        }
        square = square * square % modulus;
        exponent >>= 1;
    }
    power
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 2³¹ − 1 is the Mersenne prime that Euler proved; the next ones are checked by division.
    #[test]
    fn primes_are_prime_and_differ() {
        let primes: Vec<u64> = PrimeField::all()
            .take(40)
            .map(|field| field.prime)
            .collect();
        assert_eq!(primes[0], 2_147_483_647);
        assert!(primes.windows(2).all(|pair| pair[0] > pair[1]));
        for prime in primes {
            assert!(
                (3..46_341).step_by(2).all(|divisor| prime % divisor != 0),
                "{prime}"
            );
        }
        assert!(!is_prime(2_147_483_645) && !is_prime(1_073_741_825));
    }

    #[test]
    fn remainders_of_any_size_are_those_of_division() {
        for field in PrimeField::all().take(8) {
            let p = field.prime;
            let near = [0, p, 2 * p, p * p, (u64::MAX / p) * p, u64::MAX];
            for number in near
                .into_iter()
                .flat_map(|x| [x.saturating_sub(1), x, x.saturating_add(1)])
            {
                assert_eq!(field.reduced(number), number % p, "{number} {p}");
                let whole = -i128::from(number);
                assert_eq!(i128::from(field.whole(whole)), whole.rem_euclid(p.into()));
            }
        }
    }

    #[test]
    fn arithmetic_agrees_with_whole_numbers() {
        let field = PrimeField::all().next().expect("there are primes");
        assert_eq!(field.sub(3, 4), field.whole(-1));
        assert_eq!(
            field.cross(&[1, 2, 3], &[4, 5, 6]),
            [-3, 6, -3].map(|n| field.whole(n))
        );
        assert_eq!(
            field.dot(
                &[1, 2, 0, 0, 3, 1],
                &[field.whole(-2), 1, 5, 7, 1, field.whole(-3)]
            ),
            0
        );
        let largest = [field.whole(-1); 6];
        assert_eq!(field.dot(&largest, &largest), 6);
        let powers = field.powers_of_ten(3);
        let hundredths = Decimal::of(-1.25);
        assert_eq!(field.decimal(&hundredths, &powers, 2), field.whole(-125));
        assert_eq!(
            field.decimal(&hundredths, &powers, 8),
            field.whole(-125_000_000)
        );
    }
}
