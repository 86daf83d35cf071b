//! Frames in a second as a ratio of whole numbers.

/// `ticks` in a second, and `step` of them from frame to frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Rate {
    /// Ticks in a second.
    pub(super) ticks: u32,
    /// Ticks from one frame to the next.
    pub(super) step: u32,
}

/// Players round times to ticks here and there; with so many to a second that is not to be seen.
const LEAST_TICKS: u32 = 10_000;
/// Largest step before ticks are made finer: enough for 29.97 as well as for 30000/1001.
const LARGEST_STEP: u32 = 1001;

impl Rate {
    /// The ratio with the smallest step that is the rate to nine digits, else the nearest thousandth.
    ///
    /// # Panics
    /// Unless the rate is between 0.001 and 100 000 in a second.
    pub(super) fn new(rate: f64) -> Self {
        assert!((0.001..=1e5).contains(&rate), "{rate} frames in a second");
        let near = |step: &u32| {
            let ticks = rate * f64::from(*step);
            (ticks.round() - ticks).abs() <= 1e-9 * ticks
        };
        let step = (1..=LARGEST_STEP).find(near).unwrap_or(1000);
        let ticks = (rate * f64::from(step)).round() as u32;
        let finer = LEAST_TICKS.div_ceil(ticks);
        Self {
            ticks: finer * ticks,
            step: finer * step,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rates_are_exact() {
        for (rate, ticks, step) in [
            (20.0, 10_000, 500),
            (12.5, 10_000, 800),
            (29.97, 11_988, 400),
            (30_000.0 / 1001.0, 30_000, 1001),
            (1.0 / 3.0, 10_000, 30_000),
        ] {
            assert_eq!(Rate::new(rate), Rate { ticks, step }, "{rate}");
        }
    }

    #[test]
    fn any_other_rate_is_near() {
        for rate in [std::f64::consts::PI, 0.001, 48.123_456_7] {
            let Rate { ticks, step } = Rate::new(rate);
            assert!((f64::from(ticks) / f64::from(step) - rate).abs() < 0.000_51);
        }
    }
}
