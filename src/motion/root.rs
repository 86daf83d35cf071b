//! Where a function along a step changes its sign.

/// Evaluations at most.
const MOST: usize = 80;
/// Values below this come of rounding: they are lengths over the characteristic length, angles or their rates.
const NOTHING: f64 = 1e-14;
/// A root is found once two guesses are as near as this part of the bracket.
const SETTLED: f64 = 1e-12;

/// The place between `low` and `high` where a function changes its sign, by the Illinois variant of the rule of false
/// position; `None` where the function cannot be evaluated. (Dowell & Jarratt 1971.)
///
/// Each end of the bracket is a place and the value there; the values have opposite signs.
pub(super) fn sign_change(
    mut low: (f64, f64),
    mut high: (f64, f64),
    value: impl Fn(f64) -> Option<f64>,
) -> Option<f64> {
    let settled = SETTLED * (high.0 - low.0);
    let mut before = f64::INFINITY;
    for round in 0..MOST {
        let width = high.0 - low.0;
        let false_position = low.0 - low.1 * width / (high.1 - low.1);
        // Some rounds halve, in case one end never moves.
        let inside = false_position > low.0 && false_position < high.0;
        let at = if round % 8 == 7 || !inside {
            f64::midpoint(low.0, high.0)
        } else {
            false_position
        };
        let here = value(at)?;
        if here.abs() <= NOTHING || (at - before).abs() <= settled {
            return Some(at);
        }
        before = at;
        if (here > 0.0) == (low.1 > 0.0) {
            low = (at, here);
            high.1 /= 2.0;
        } else {
            high = (at, here);
            low.1 /= 2.0;
        }
    }
    Some(f64::midpoint(low.0, high.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_are_found_to_rounding() {
        let root = |f: fn(f64) -> f64| {
            sign_change((0.0, f(0.0)), (1.0, f(1.0)), |x| Some(f(x))).expect("a root")
        };
        assert!((root(|x| x - 0.3) - 0.3).abs() < 1e-14);
        assert!((root(|x| 0.25 - x * x) - 0.5).abs() < 1e-13);
        // One end of the bracket would never move; upright at the root.
        assert!((root(|x| x.powi(9) - 0.1) - 0.1_f64.powf(1.0 / 9.0)).abs() < 1e-12);
        assert!((root(|x| (x - 0.9).cbrt()) - 0.9).abs() < 1e-12);
        assert_eq!(sign_change((0.0, -1.0), (1.0, 1.0), |_| None), None);
    }
}
