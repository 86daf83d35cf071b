//! Least squares with reactions that only push: the nearest that a load can be balanced.

use nalgebra::{DMatrix, DVector};

/// Reactions to a target and what they leave of it.
#[derive(Debug, Clone)]
pub(crate) struct Nearest {
    /// One for each column, ≥ 0.
    pub(crate) sizes: DVector<f64>,
    /// `target + columns · sizes`.
    pub(crate) left: DVector<f64>,
}

/// A column helps only where its gain is above this, relative to its length and the target.
const GAIN: f64 = 1e-11;

/// Makes `target + columns · x` as short as x ≥ 0 can.
///
/// What is left, ρ, proves itself: `columnⱼ · ρ ≥ 0` for all j, `= 0` where xⱼ > 0, and `target · ρ = ρ · ρ`. So a
/// ρ that is not zero shows by itself that no x ≥ 0 balances the target (Farkas). Active sets: Lawson & Hanson,
/// *Solving Least Squares Problems*, 1974, chapter 23.
pub(crate) fn nearest(columns: &DMatrix<f64>, target: &DVector<f64>) -> Nearest {
    let count = columns.ncols();
    let lengths: Vec<f64> = columns.column_iter().map(|column| column.norm()).collect();
    let mut sizes = DVector::zeros(count);
    let mut left = target.clone();
    let mut active: Vec<usize> = Vec::new();
    // Every round but those that rounding spoils makes `left` shorter; no set of active columns comes twice.
    for _ in 0..10 * (count + columns.nrows()) {
        let floor = GAIN * target.norm();
        let gain = |j: &usize| -columns.column(*j).dot(&left) / lengths[*j];
        let candidates = (0..count).filter(|j| lengths[*j] > GAIN && !active.contains(j));
        let best = candidates.max_by(|i, j| gain(i).total_cmp(&gain(j)));
        let Some(entering) = best.filter(|j| gain(j) > floor && active.len() < columns.nrows())
        else {
            break;
        };
        active.push(entering);
        settle(columns, target, &mut active, &mut sizes);
        left = target + columns * &sizes;
    }
    Nearest { sizes, left }
}

/// Solves for the active columns, dropping those that would have to pull.
fn settle(
    columns: &DMatrix<f64>,
    target: &DVector<f64>,
    active: &mut Vec<usize>,
    sizes: &mut DVector<f64>,
) {
    while !active.is_empty() {
        let Some(wanted) = least_squares(&columns.select_columns(active.iter()), target) else {
            // The newest column is no longer independent of the others to within rounding.
            active.pop();
            continue;
        };
        let limiting = active
            .iter()
            .zip(wanted.iter())
            .filter(|(_, want)| **want <= 0.0)
            .map(|(j, want)| (*j, sizes[*j] / (sizes[*j] - want)))
            .min_by(|a, b| a.1.total_cmp(&b.1));
        let (stop, share) = limiting.map_or((None, 1.0), |(j, share)| {
            (Some(j), if share.is_finite() { share } else { 0.0 })
        });
        for (j, want) in active.iter().zip(wanted.iter()) {
            sizes[*j] += share * (want - sizes[*j]);
        }
        let Some(stop) = stop else { return };
        sizes[stop] = 0.0;
        active.retain(|j| *j != stop);
    }
}

/// x of least `|target + columns x|` for independent columns.
fn least_squares(columns: &DMatrix<f64>, target: &DVector<f64>) -> Option<DVector<f64>> {
    let qr = columns.clone().qr();
    let right = -qr.q().tr_mul(target);
    qr.r().solve_upper_triangular(&right)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn entries(count: usize) -> impl Strategy<Value = Vec<f64>> {
        // Small whole numbers make many ties and dependent columns.
        proptest::collection::vec((-2..=2).prop_map(f64::from), count)
    }

    proptest! {
        #![proptest_config(crate::testing::cases(2000))]

        #[test]
        fn what_is_left_proves_itself(
            (rows, columns, entries, target) in (1..7_usize, 0..12_usize).prop_flat_map(|(rows, columns)| {
                (Just(rows), Just(columns), entries(rows * columns), entries(rows))
            })
        ) {
            let matrix = DMatrix::from_vec(rows, columns, entries);
            let target = DVector::from_vec(target);
            let Nearest { sizes, left } = nearest(&matrix, &target);
            prop_assert!((&target + &matrix * &sizes - &left).norm() < 1e-9);
            for j in 0..columns {
                let gain = matrix.column(j).dot(&left);
                prop_assert!(sizes[j] >= 0.0 && gain > -1e-8, "{} {}", sizes[j], gain);
                prop_assert!(sizes[j] == 0.0 || gain.abs() < 1e-8);
            }
            prop_assert!((target.dot(&left) - left.norm_squared()).abs() < 1e-8);
        }
    }
}
