//! Decimals as people write them.

/// Digits that sums and products of written decimals keep; what is behind them is rounding.
const DIGITS: usize = 12;

/// The shortest decimal within rounding of a sum or product of decimals; never a negative zero.
pub(super) fn tidy(x: f64) -> f64 {
    format!("{x:.DIGITS$e}").parse::<f64>().unwrap_or(x) + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_is_taken_off_and_digits_are_kept() {
        assert_eq!(tidy(0.3 - 0.2), 0.1);
        assert_eq!(tidy(3.0 * 0.1), 0.3);
        assert_eq!(tidy(-0.0).to_bits(), 0.0_f64.to_bits());
        assert_eq!(tidy(123_456.789_012), 123_456.789_012);
    }
}
