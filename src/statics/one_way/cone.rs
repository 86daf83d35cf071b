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

/// A cone by its generators, finitely many or not.
pub(super) trait Cone {
    /// The unit generator that meets `left` most squarely head on, and which one it is, of those not `taken`.
    fn against(&self, left: &DVector<f64>, taken: &[usize]) -> Option<(usize, DVector<f64>)>;
}

/// A generator in use.
pub(super) struct ConePart {
    generator: usize,
    unit: DVector<f64>,
    size: f64,
}

/// A generator helps only where it meets what is left at more than this angle off the square.
const SQUARE: f64 = 1e-9;
/// A column shorter than this part of the longest is rounding.
const SHORT: f64 = 1e-11;
/// What is left is rounding below this, relative to the target.
const ROUNDING: f64 = 8.0 * f64::EPSILON;
/// Generators within this angle of the span of those in use are not independent of them.
const DEPENDENT: f64 = 1e-9;
/// Rounds for each dimension. Every round but those that rounding spoils makes what is left shorter.
const ROUNDS: usize = 60;

/// Makes `target + columns · x` as short as x ≥ 0 can. A column of zeros, but for rounding, plays no part.
///
/// What is left, ρ, proves itself: `columnⱼ · ρ ≥ 0` for all j, `= 0` where xⱼ > 0, and `target · ρ = ρ · ρ`. So a
/// ρ that is not zero shows by itself that no x ≥ 0 balances the target (Farkas). Active sets: Lawson & Hanson,
/// *Solving Least Squares Problems*, 1974, chapter 23.
pub(crate) fn nearest(columns: &DMatrix<f64>, target: &DVector<f64>) -> Nearest {
    let lengths: Vec<f64> = columns.column_iter().map(|column| column.norm()).collect();
    let longest = lengths.iter().copied().fold(0.0, f64::max);
    let lengths: Vec<f64> = lengths
        .into_iter()
        .map(|length| {
            if length > SHORT * longest {
                length
            } else {
                0.0
            }
        })
        .collect();
    let (parts, left) = nearest_in(
        &ColumnCone {
            columns,
            lengths: &lengths,
        },
        target,
    );
    let mut sizes = DVector::zeros(columns.ncols());
    for part in parts {
        sizes[part.generator] = part.size / lengths[part.generator];
    }
    Nearest { sizes, left }
}

/// The same over any cone: the generators in use, and what is left.
pub(super) fn nearest_in(cone: &impl Cone, target: &DVector<f64>) -> (Vec<ConePart>, DVector<f64>) {
    let mut parts: Vec<ConePart> = Vec::new();
    let mut left = target.clone();
    // Generators that are not independent of those in use, until these change.
    let mut dependent: Vec<usize> = Vec::new();
    for _ in 0..ROUNDS * target.len() {
        if left.norm() <= ROUNDING * target.norm() {
            break;
        }
        let helps = |(_, unit): &(usize, DVector<f64>)| -unit.dot(&left) > SQUARE * left.norm();
        let Some((generator, unit)) = cone.against(&left, &dependent).filter(helps) else {
            break;
        };
        parts.push(ConePart {
            generator,
            unit,
            size: 0.0,
        });
        if settle(target, &mut parts) {
            dependent.clear();
            left = beside(target, &parts);
        } else {
            dependent.push(generator);
        }
    }
    (parts, left)
}

/// A matrix's columns as generators.
struct ColumnCone<'a> {
    columns: &'a DMatrix<f64>,
    lengths: &'a [f64],
}

impl Cone for ColumnCone<'_> {
    fn against(&self, left: &DVector<f64>, taken: &[usize]) -> Option<(usize, DVector<f64>)> {
        let gain = |j: usize| -self.columns.column(j).dot(left) / self.lengths[j];
        let open = (0..self.lengths.len()).filter(|j| self.lengths[*j] > 0.0 && !taken.contains(j));
        let best = open.max_by(|i, j| gain(*i).total_cmp(&gain(*j)))?;
        Some((best, self.columns.column(best) / self.lengths[best]))
    }
}

/// Solves for the generators in use, dropping those that would have to pull; `false`, and the newest dropped, where it is
/// not independent of the others.
fn settle(target: &DVector<f64>, parts: &mut Vec<ConePart>) -> bool {
    while !parts.is_empty() {
        let Some(wanted) = least_squares(parts, target) else {
            parts.pop();
            return false;
        };
        let limiting = parts
            .iter()
            .zip(wanted.iter())
            .enumerate()
            .filter(|(_, (_, want))| **want <= 0.0)
            .map(|(slot, (part, want))| (slot, part.size / (part.size - want)))
            .min_by(|a, b| a.1.total_cmp(&b.1));
        let (stop, share) = limiting.map_or((None, 1.0), |(slot, share)| {
            (Some(slot), if share.is_finite() { share } else { 0.0 })
        });
        for (part, want) in parts.iter_mut().zip(wanted.iter()) {
            part.size += share * (want - part.size);
        }
        let Some(stop) = stop else { return true };
        parts.remove(stop);
    }
    true
}

/// What parts leave of a target, square to each of them to the last digits however little it is.
fn beside(target: &DVector<f64>, parts: &[ConePart]) -> DVector<f64> {
    let sum = |left, part: &ConePart| left + &part.unit * part.size;
    let left = parts.iter().fold(target.clone(), sum);
    match factors(parts) {
        Some((square, _)) => &left - &square * square.tr_mul(&left),
        None => left,
    }
}

/// Sizes of least `|target + Σ size · unit|` for independent generators.
fn least_squares(parts: &[ConePart], target: &DVector<f64>) -> Option<DVector<f64>> {
    let (square, upper) = factors(parts)?;
    upper.solve_upper_triangular(&-square.tr_mul(target))
}

/// Orthonormal columns and the triangle that makes independent generators of them.
fn factors(parts: &[ConePart]) -> Option<(DMatrix<f64>, DMatrix<f64>)> {
    if parts.len() > parts.first()?.unit.len() {
        return None;
    }
    let units: Vec<DVector<f64>> = parts.iter().map(|part| part.unit.clone()).collect();
    let (square, upper) = DMatrix::from_columns(&units).qr().unpack();
    let independent = |pivot: &f64| pivot.abs() > DEPENDENT;
    upper
        .diagonal()
        .iter()
        .all(independent)
        .then_some((square, upper))
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
