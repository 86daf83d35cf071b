//! Singular values after one column is added or taken away, in closed form.
//!
//! The squares of the singular values of `[W w]` are the eigenvalues of `D + y yᵗ`, with D those of W and y the column in
//! its left singular vectors: roots of the secular equation. (Golub 1973; Golub & Van Loan, section 8.4.3.)

/// A held direction of the matrix: the square of its singular value, and that of the column along it.
#[derive(Debug, Clone, Copy)]
pub(super) struct HeldDirection {
    pub(super) square: f64,
    pub(super) along: f64,
}

/// Steps of a search for a root; halvings alone would reach the digits of an f64 in these, Newton's method does in about six.
const STEPS: usize = 60;

/// Square of the smallest singular value that counts once a column is added which does work on a free motion.
///
/// `free` is the square of the column's part along all free motions; one of them is then held.
pub(super) fn after_adding(held: &[HeldDirection], free: f64) -> f64 {
    if held.is_empty() {
        return free;
    }
    let least = least(held);
    // The secular function rises to a pole at the smallest square; times the distance from there it is smooth. By
    // interlacing the root is not beyond the pole.
    root(free.min(least), |at| {
        let start = ((least - at) * (at - free), least - 2.0 * at + free);
        held.iter().fold(start, |(value, slope), part| {
            let (ratio, change) = part.ratio(least, at);
            (
                value + part.along * at * ratio,
                slope + part.along * (ratio + at * change),
            )
        })
    })
}

/// Square of the smallest singular value that counts once a column is taken away; 0 where rank drops.
pub(super) fn after_removing(held: &[HeldDirection]) -> f64 {
    if held.is_empty() {
        return 0.0;
    }
    let least = least(held);
    root(least, |at| {
        held.iter().fold((at - least, 1.0), |(value, slope), part| {
            let (ratio, change) = part.ratio(least, at);
            (value + part.along * ratio, slope + part.along * change)
        })
    })
}

fn least(held: &[HeldDirection]) -> f64 {
    held.iter().map(|h| h.square).fold(f64::INFINITY, f64::min)
}

impl HeldDirection {
    /// `(least − at) / (square − at)` and its derivative by `at`: the pole at the smallest square cancels.
    fn ratio(&self, least: f64, at: f64) -> (f64, f64) {
        let below = self.square - at;
        if self.square == least {
            (1.0, 0.0)
        } else {
            (
                (least - at) / below,
                (least - self.square) / (below * below),
            )
        }
    }
}

/// Whether [`after_removing`] is above a bar: the secular function is positive there, and falls.
pub(super) fn stays_above(held: &[HeldDirection], bar: f64) -> bool {
    bar < least(held) && held.iter().map(|h| h.along / (h.square - bar)).sum::<f64>() < 1.0
}

/// Root between 0 and `high` of a function that is negative below it and positive above, by its value and slope: Newton's
/// method within a bracket.
fn root(high: f64, function: impl Fn(f64) -> (f64, f64)) -> f64 {
    let (mut low, mut high) = (0.0, high);
    let mut at = f64::midpoint(low, high);
    for _ in 0..STEPS {
        let (value, slope) = function(at);
        let step = value / slope;
        if step.abs() <= f64::EPSILON * at {
            break;
        }
        if value < 0.0 {
            low = at;
        } else {
            high = at;
        }
        let next = at - step;
        at = if low < next && next < high {
            next
        } else {
            f64::midpoint(low, high)
        };
    }
    at
}

#[cfg(test)]
mod tests {
    use nalgebra::{DMatrix, DVector};
    use proptest::prelude::*;

    use super::*;
    use crate::statics::WideSvd;

    fn parts(svd: &WideSvd, column: &DVector<f64>, rank: usize) -> (Vec<HeldDirection>, f64) {
        let along = |i: usize| svd.left.column(i).dot(column).powi(2);
        let held = (0..rank)
            .map(|i| HeldDirection {
                square: svd.values[i].powi(2),
                along: along(i),
            })
            .collect();
        (held, (rank..svd.left.ncols()).map(along).sum())
    }

    proptest! {
        #![proptest_config(crate::testing::cases(256))]

        #[test]
        fn they_are_those_of_the_decomposition(
            entries in proptest::collection::vec(-1.0..1.0_f64, 42),
            rank in 1..=5_usize,
        ) {
            let columns = DMatrix::from_iterator(6, rank, entries[..6 * rank].iter().copied());
            let column = DVector::from_column_slice(&entries[36..]);
            let svd = WideSvd::new(&columns);
            prop_assume!(svd.values[rank - 1] > 1e-3);
            let (held, free) = parts(&svd, &column, rank);
            prop_assume!(free > 1e-4);
            let both = columns.clone().insert_column(rank, 0.0);
            let mut both = both;
            both.set_column(rank, &column);
            let direct = WideSvd::new(&both).values[rank];
            prop_assert!((after_adding(&held, free).sqrt() - direct).abs() < 1e-7, "{}", direct);
            // Taking the same column away again gives back what there was, or less rank.
            let svd = WideSvd::new(&both);
            let (held, _) = parts(&svd, &column, rank + 1);
            prop_assert!(after_removing(&held).sqrt() < 1e-6);
            // With a copy of it left behind, nothing is lost.
            let mut thrice = both.clone().insert_column(rank + 1, 0.0);
            thrice.set_column(rank + 1, &column);
            let (held, _) = parts(&WideSvd::new(&thrice), &column, rank + 1);
            let left = after_removing(&held);
            prop_assert!((left.sqrt() - direct).abs() < 1e-7);
            prop_assert!(stays_above(&held, left * 0.999) && !stays_above(&held, left * 1.001));
        }
    }
}
