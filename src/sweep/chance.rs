//! How often something was found, as a probability with what is not known of it.

/// So many of so many.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Chance {
    /// How often it was found.
    pub count: u64,
    /// How often it was looked for.
    pub of: u64,
}

/// Of the normal distribution: 95 % lie within so many standard deviations.
const NORMAL_95: f64 = 1.959_963_984_540_054;

impl Chance {
    /// The probability that it is found; 0 where it was never looked for.
    pub fn estimate(self) -> f64 {
        match self.of {
            0 => 0.0,
            of => self.count as f64 / of as f64,
        }
    }

    /// Between which bounds the probability lies with a confidence of 95 % (E. B. Wilson, *J. Amer. Statist. Assoc.* 22, 1927).
    pub fn bounds(self) -> [f64; 2] {
        if self.of == 0 {
            return [0.0, 1.0];
        }
        let (of, estimate) = (self.of as f64, self.estimate());
        let square = NORMAL_95 * NORMAL_95;
        let middle = estimate + square / (2.0 * of);
        let reach = NORMAL_95 * ((estimate * (1.0 - estimate) + square / (4.0 * of)) / of).sqrt();
        let end = |end: f64| (end / (1.0 + square / of)).clamp(0.0, 1.0);
        match self.count {
            0 => [0.0, end(middle + reach)],
            all if all == self.of => [end(middle - reach), 1.0],
            _ => [end(middle - reach), end(middle + reach)],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Newcombe, *Statistics in Medicine* 17 (1998), table I, method 3.
    #[test]
    fn bounds_are_those_of_the_published_table() {
        let cases = [
            (81, 263, [0.2553, 0.3662]),
            (15, 148, [0.0624, 0.1605]),
            (0, 20, [0.0, 0.1611]),
            (1, 29, [0.0061, 0.1718]),
        ];
        for (count, of, expected) in cases {
            let found = Chance { count, of }.bounds();
            for (found, expected) in found.into_iter().zip(expected) {
                assert!((found - expected).abs() < 5e-5, "{count}/{of}: {found}");
            }
        }
        assert_eq!(Chance { count: 0, of: 0 }.bounds(), [0.0, 1.0]);
    }
}
