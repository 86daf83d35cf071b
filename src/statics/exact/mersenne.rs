//! Arithmetic modulo the prime 2⁶¹ − 1, where a remainder costs no division: 2⁶¹ counts as 1.
//!
//! Lucas and Pervushin proved it prime (1883); Mersenne's name stands for all such numbers.

use super::whole::greatest_common_divisor;

/// 2⁶¹ − 1.
pub(super) const PRIME: u64 = (1 << BITS) - 1;
const BITS: u32 = 61;

/// The remainder of a number below 2¹²⁵.
fn reduced(number: u128) -> u64 {
    let low = number as u64 & PRIME;
    let high = (number >> BITS) as u64;
    // Three parts below 2⁶¹, 2⁶¹ and 2³.
    folded(low + folded(high))
}

/// The remainder of any number of 64 bits.
fn folded(number: u64) -> u64 {
    let sum = (number & PRIME) + (number >> BITS);
    sum.checked_sub(PRIME).unwrap_or(sum)
}

pub(super) fn whole(number: i64) -> u64 {
    let size = folded(number.unsigned_abs());
    if number < 0 { negative(size) } else { size }
}

fn negative(number: u64) -> u64 {
    if number == 0 { 0 } else { PRIME - number }
}

pub(super) fn sub(a: u64, b: u64) -> u64 {
    folded(a + negative(b))
}

pub(super) fn mul(a: u64, b: u64) -> u64 {
    reduced(u128::from(a) * u128::from(b))
}

/// Six products of less than 2¹²² each.
pub(super) fn dot(a: &[u64; 6], b: &[u64; 6]) -> u64 {
    let product = |i: usize| u128::from(a[i]) * u128::from(b[i]);
    reduced(product(0) + product(1) + product(2) + product(3) + product(4) + product(5))
}

/// The number whose product with this one, not zero, is one. (Fermat.)
pub(super) fn inverse(number: u64) -> u64 {
    let (mut power, mut square, mut exponent) = (1, number, PRIME - 2);
    while exponent > 0 {
        if exponent & 1 == 1 {
            power = mul(power, square);
        }
        square = mul(square, square);
        exponent >>= 1;
    }
    power
}

/// Numerators and denominators up to this are found again: twice its square is below the prime.
const FOUND: u64 = 1 << 30;

/// The one fraction of small numbers that a remainder can stand for, numerator first; `None` where there is none.
///
/// (Wang 1981; von zur Gathen & Gerhard, *Modern Computer Algebra*, section 5.10.)
pub(super) fn fraction(remainder: u64) -> Option<(i64, i64)> {
    let (mut over, mut rest) = (PRIME as i64, remainder as i64);
    let (mut before, mut factor) = (0_i64, 1_i64);
    while rest.unsigned_abs() > FOUND {
        let quotient = over / rest;
        (over, rest) = (rest, over - quotient * rest);
        (before, factor) = (factor, before - quotient * factor);
    }
    let reduced = greatest_common_divisor(rest.unsigned_abs().into(), factor.unsigned_abs().into());
    let small = factor != 0 && factor.unsigned_abs() <= FOUND && reduced == 1;
    small.then_some((rest * factor.signum(), factor.abs()))
}

#[cfg(test)]
mod tests {
    use super::*;

    const NEAR: [u64; 9] = [
        0,
        1,
        2,
        1 << 31,
        PRIME / 2,
        PRIME / 2 + 1,
        PRIME - 2,
        PRIME - 1,
        123_456_789_012_345_678,
    ];

    #[test]
    fn arithmetic_agrees_with_division() {
        let prime = u128::from(PRIME);
        for a in NEAR {
            for b in NEAR {
                let (long, other) = (u128::from(a), u128::from(b));
                assert_eq!(u128::from(mul(a, b)), long * other % prime);
                assert_eq!(u128::from(sub(a, b)), (long + prime - other) % prime);
                assert_eq!(
                    u128::from(dot(&[a; 6], &[b, b, b, b, b, b])),
                    long * other % prime * 6 % prime
                );
            }
            if a != 0 {
                assert_eq!(mul(a, inverse(a)), 1);
            }
        }
        for number in [
            0,
            1,
            -1,
            i64::MAX,
            i64::MIN + 1,
            PRIME as i64,
            -(PRIME as i64),
        ] {
            let expected = i128::from(number).rem_euclid(prime as i128);
            assert_eq!(i128::from(whole(number)), expected);
        }
    }

    #[test]
    fn fractions_of_small_numbers_are_found_again() {
        for (above, below) in [(0, 1), (1, 1), (-3, 7), (1 << 30, 3), (-1_000_003, 999_983)] {
            let remainder = mul(whole(above), inverse(whole(below)));
            assert_eq!(fraction(remainder), Some((above, below)));
        }
        let long = mul(whole(3_i64.pow(25)), inverse(whole(5_i64.pow(17))));
        assert_eq!(fraction(long), None);
    }
}
