//! Written numbers as whole numbers times a power of ten, exact where floating point rounds.

use std::cmp::Ordering;

/// `mantissa · 10^exponent`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Decimal {
    pub(crate) mantissa: i128,
    pub(crate) exponent: i32,
}

/// Decimals of up to 15 digits are told apart by an f64, so the first one that reads back is the shortest.
const CERTAIN: f64 = 1e15;
/// Powers of ten that an f64 holds exactly, as far as usual scenes write decimals.
const POWERS: [f64; 8] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7];

impl Decimal {
    /// The shortest decimal that reads back as the number; zero for one that is not finite, which no scene holds.
    pub(crate) fn of(number: f64) -> Self {
        for (places, power) in POWERS.iter().enumerate() {
            let whole = (number * power).round();
            if whole.abs() < CERTAIN && whole / power == number {
                return Self {
                    // By way of a narrower number, which processors convert to.
                    mantissa: i128::from(whole as i64),
                    exponent: -(places as i32),
                };
            }
        }
        Self::parse(&format!("{number:e}")).unwrap_or_default()
    }

    /// Exactly the number that a text writes: digits with an optional sign, point and exponent. `None` for other texts, and
    /// for more digits than a mantissa holds, which is 38.
    pub(crate) fn parse(text: &str) -> Option<Self> {
        let (digits, exponent) = text.split_once(['e', 'E']).unwrap_or((text, "0"));
        let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
        let fraction = fraction.trim_end_matches('0');
        let exponent: i32 = exponent.parse().ok()?;
        let places = i32::try_from(fraction.len()).ok()?;
        Some(Self {
            mantissa: format!("{whole}{fraction}").parse().ok()?,
            exponent: exponent.checked_sub(places)?,
        })
    }

    /// `self + other`; `None` where the sum has more digits than a mantissa holds.
    pub(crate) fn plus(self, other: Self) -> Option<Self> {
        let exponent = match (self.mantissa, other.mantissa) {
            (_, 0) => return Some(self),
            (0, _) => return Some(other),
            _ => self.exponent.min(other.exponent),
        };
        let mantissa = self
            .mantissa_at(exponent)?
            .checked_add(other.mantissa_at(exponent)?)?;
        Some(Self { mantissa, exponent })
    }

    /// `self − other`, as [`Decimal::plus`].
    pub(crate) fn minus(self, other: Self) -> Option<Self> {
        self.plus(Self {
            mantissa: other.mantissa.checked_neg()?,
            ..other
        })
    }

    /// The same number with a smaller exponent; `None` where the mantissa would not hold it.
    pub(crate) fn with_exponent(self, exponent: i32) -> Option<Self> {
        let mantissa = self.mantissa_at(exponent)?;
        Some(Self { mantissa, exponent })
    }

    /// The mantissa for a smaller exponent.
    fn mantissa_at(self, exponent: i32) -> Option<i128> {
        let power = u32::try_from(self.exponent - exponent).ok()?;
        self.mantissa.checked_mul(10_i128.checked_pow(power)?)
    }

    /// The multiple of 10^`exponent` nearest to the number; halves go up.
    pub(crate) fn nearest_multiple(self, exponent: i32) -> Self {
        let Ok(dropped @ 1..) = u32::try_from(exponent.saturating_sub(self.exponent)) else {
            return self;
        };
        // A power beyond any mantissa leaves nothing of it.
        let mantissa = 10_i128.checked_pow(dropped).map_or(0, |unit| {
            let down = self.mantissa.div_euclid(unit);
            down + i128::from(self.mantissa.rem_euclid(unit) >= unit - unit / 2)
        });
        Self { mantissa, exponent }
    }

    /// The same number without zeros at the end of its mantissa.
    pub(crate) fn trimmed(mut self) -> Self {
        if self.mantissa == 0 {
            return Self::default();
        }
        while self.mantissa % 10 == 0 {
            self.mantissa /= 10;
            self.exponent += 1;
        }
        self
    }

    /// Digits of the mantissa; none for zero.
    pub(crate) fn digits(self) -> u32 {
        let log = self.mantissa.unsigned_abs().checked_ilog10();
        log.map_or(0, |log| log + 1)
    }

    /// The nearest f64.
    pub(crate) fn to_f64(self) -> f64 {
        let text = format!("{}e{}", self.mantissa, self.exponent);
        text.parse().unwrap_or_default()
    }

    /// All digits, without an exponent: `-1000000000000.25`.
    pub(crate) fn plain(self) -> String {
        let Self { mantissa, exponent } = self.trimmed();
        let sign = match mantissa.cmp(&0) {
            Ordering::Less => "-",
            _ => "",
        };
        let digits = mantissa.unsigned_abs().to_string();
        let places = usize::try_from(-i64::from(exponent)).unwrap_or(0);
        let zeros = usize::try_from(exponent).unwrap_or(0);
        if places == 0 {
            return format!("{sign}{digits}{}", "0".repeat(zeros));
        }
        let digits = format!("{digits:0>width$}", width = places + 1);
        let (whole, fraction) = digits.split_at(digits.len() - places);
        format!("{sign}{whole}.{fraction}")
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

    #[test]
    fn texts_are_read_to_their_last_digit() {
        let read = |text| Decimal::parse(text).map(|d| (d.mantissa, d.exponent));
        assert_eq!(
            read("1000000000000.4330127019"),
            Some((10_000_000_000_004_330_127_019, -10))
        );
        assert_eq!(read("-.5"), Some((-5, -1)));
        assert_eq!(read("+2.50e3"), Some((25, 2)));
        assert_eq!(read("7."), Some((7, 0)));
        assert_eq!(read("0x1F"), None);
        assert_eq!(read(&"3".repeat(40)), None);
    }

    #[test]
    fn sums_keep_every_digit() {
        let read = |text: &str| Decimal::parse(text).unwrap();
        let far = read("1000000000000.4330127019")
            .minus(read("1e12"))
            .unwrap();
        assert_eq!(far.to_f64(), 0.433_012_701_9);
        assert_eq!(
            far.plus(read("1e12")).unwrap().plain(),
            "1000000000000.4330127019"
        );
        assert_eq!(read("1e30").plus(read("1e-30")), None);
        assert_eq!(read("1e30").plus(read("0")).unwrap().to_f64(), 1e30);
    }

    #[test]
    fn multiples_are_the_nearest_ones() {
        let near = |text: &str, exponent| {
            Decimal::parse(text)
                .unwrap()
                .nearest_multiple(exponent)
                .plain()
        };
        assert_eq!(near("149.99", 2), "100");
        assert_eq!(near("150", 2), "200");
        assert_eq!(near("-150", 2), "-100");
        assert_eq!(near("-151", 2), "-200");
        assert_eq!(near("0.07", 2), "0");
        assert_eq!(near("300", -2), "300");
        assert_eq!(near("3", 200), "0");
    }

    #[test]
    fn plain_texts_have_no_exponent() {
        let plain = |mantissa, exponent| Decimal { mantissa, exponent }.plain();
        assert_eq!(plain(25, 3), "25000");
        assert_eq!(plain(-25, -3), "-0.025");
        assert_eq!(plain(2500, -2), "25");
        assert_eq!(plain(0, 5), "0");
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
            let ten = 10_i128.pow((places + decimal.exponent) as u32);
            prop_assert_eq!(decimal.mantissa * ten, i128::from(mantissa));
            prop_assert!(decimal.exponent == 0 || decimal.mantissa % 10 != 0);
        }
    }
}
