//! Singular values after one column is added or taken away, in closed form.
//!
//! The squares of the singular values of `[W w]` are the eigenvalues of `D + y yᵗ`, with D those of W and y the column in
//! its left singular vectors: roots of the secular equation. (Golub 1973; Golub & Van Loan, section 8.4.3.)

/// A held direction of the matrix: the square of its singular value, and that of the column along it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Held {
    pub(super) square: f64,
    pub(super) along: f64,
}

/// Halvings of a bracket; more than an f64 has digits.
const HALVINGS: usize = 60;

/// Square of the smallest singular value that counts once a column is added which does work on a free motion.
///
/// `free` is the square of the column's part along all free motions; one of them is then held.
pub(super) fn after_adding(held: &[Held], free: f64) -> f64 {
    let least = held.iter().map(|h| h.square).fold(f64::INFINITY, f64::min);
    // Increasing up to the smallest square, by interlacing the root is not beyond it.
    let excess = |at: f64| {
        let sum: f64 = held.iter().map(|h| h.along / (h.square - at)).sum();
        at * (1.0 + sum) - free
    };
    if held.is_empty() {
        return free;
    }
    bisected(0.0, free.min(least), |at| excess(at) < 0.0)
}

/// Square of the smallest singular value that counts once a column is taken away; 0 where rank drops.
pub(super) fn after_removing(held: &[Held]) -> f64 {
    let least = held.iter().map(|h| h.square).fold(f64::INFINITY, f64::min);
    let rest = |at: f64| 1.0 - held.iter().map(|h| h.along / (h.square - at)).sum::<f64>();
    if held.is_empty() {
        return 0.0;
    }
    bisected(0.0, least, |at| rest(at) > 0.0)
}

/// Whether [`after_removing`] is above a bar: the secular function is positive there, and falls.
pub(super) fn stays_above(held: &[Held], bar: f64) -> bool {
    let least = held.iter().map(|h| h.square).fold(f64::INFINITY, f64::min);
    bar < least && held.iter().map(|h| h.along / (h.square - bar)).sum::<f64>() < 1.0
}

/// Where a condition that holds at `low` stops holding, at most `high`.
fn bisected(mut low: f64, mut high: f64, holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use nalgebra::{DMatrix, DVector};
    use proptest::prelude::*;

    use super::*;
    use crate::statics::svd::WideSvd;

    fn parts(svd: &WideSvd, column: &DVector<f64>, rank: usize) -> (Vec<Held>, f64) {
        let along = |i: usize| svd.left.column(i).dot(column).powi(2);
        let held = (0..rank)
            .map(|i| Held {
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
