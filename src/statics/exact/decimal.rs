//! Written numbers as whole numbers times a power of ten.

/// `mantissa · 10^exponent`: the shortest decimal that reads back as the number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::statics) struct Decimal {
    pub(in crate::statics) mantissa: i64,
    pub(in crate::statics) exponent: i32,
}

/// Decimals of up to 15 digits are told apart by an f64, so the first one that reads back is the shortest.
const CERTAIN: f64 = 1e15;
/// Powers of ten that an f64 holds exactly, as far as usual scenes write decimals.
const POWERS: [f64; 8] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7];

impl Decimal {
    /// Zero for a number that is not finite; models hold none.
    pub(in crate::statics) fn of(number: f64) -> Self {
        for (places, power) in POWERS.iter().enumerate() {
            let whole = (number * power).round();
            if whole.abs() < CERTAIN && whole / power == number {
                return Self {
                    mantissa: whole as i64,
                    exponent: -(places as i32),
                };
            }
        }
        Self::from_text(&format!("{number:e}"))
    }

    /// From digits of at most 17 places with an exponent, as the standard library writes the shortest decimal.
    fn from_text(text: &str) -> Self {
        let (digits, exponent) = text.split_once('e').unwrap_or((text, "0"));
        let fraction = digits
            .split_once('.')
            .map_or(0, |(_, fraction)| fraction.len());
        let digits: String = digits.chars().filter(|c| *c != '.').collect();
        Self {
            mantissa: digits.parse().unwrap_or(0),
            exponent: exponent.parse::<i32>().unwrap_or(0) - fraction as i32,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn decimals_are_the_shortest_that_read_back() {
        let decimal = |mantissa, exponent| Decimal { mantissa, exponent };
        assert_eq!(Decimal::of(0.0), decimal(0, 0));
        assert_eq!(Decimal::of(0.1), decimal(1, -1));
        assert_eq!(Decimal::of(-12.75), decimal(-1275, -2));
        assert_eq!(Decimal::of(300.0), decimal(300, 0));
        assert_eq!(Decimal::of(1e300), decimal(1, 300));
        assert_eq!(Decimal::of(5e-324), decimal(5, -324));
        assert_eq!(Decimal::of(0.1 + 0.2), decimal(30_000_000_000_000_004, -17));
    }

    proptest! {
        #![proptest_config(crate::testing::cases(256))]

        #[test]
        fn every_number_reads_back(number in proptest::num::f64::NORMAL) {
            let Decimal { mantissa, exponent } = Decimal::of(number);
            prop_assert_eq!(format!("{mantissa}e{exponent}").parse::<f64>(), Ok(number));
        }

        #[test]
        fn short_decimals_keep_their_places(mantissa in -10_000_000_i64..10_000_000, places in 0..8_i32) {
            let number: f64 = format!("{mantissa}e-{places}").parse().expect("a number");
            let decimal = Decimal::of(number);
            // The same value, with no zero at the end that is not needed.
            let ten = 10_i64.pow((places + decimal.exponent) as u32);
            prop_assert_eq!(decimal.mantissa * ten, mantissa);
            prop_assert!(decimal.exponent == 0 || decimal.mantissa % 10 != 0);
        }
    }
}
