//! The numbers behind every placement, for several placements at once: the triangle of a reaction matrix, its largest and smallest
//! singular value, and least squares by it.
//!
//! `Aᵗ = Q R` by Householder's reflections, the singular values of R by one-sided Jacobi rotations of its rows. Both are backward
//! stable: the computed values are those of a matrix that differs from A by a few units in the last place of its largest
//! singular value, whatever the smallest is (Golub & Van Loan, *Matrix Computations*, 4th ed., sections 5.2 and 8.6). By `A Aᵗ` only half
//! of the digits would be left. Nothing is allocated; W placements lie side by side, so that the compiler makes one instruction
//! of several.

use nalgebra::DMatrix;

use crate::statics::WideSvd;

/// W numbers side by side, one of each placement.
pub(super) type Lane<const W: usize> = [f64; W];
/// A matrix of M columns, or rows of such, for W placements.
pub(super) type LaneRow<const M: usize, const W: usize> = [Lane<W>; M];
/// An upper triangle R of one placement, the rest of no meaning.
pub(super) type ReactionTriangle<const M: usize> = [[f64; M]; M];

/// The triangles R of `Aᵗ = Q R`, from the rows of `Aᵗ`, at least M of them, which are used up.
pub(super) fn triangle<const M: usize, const W: usize>(
    rows: &mut [LaneRow<M, W>],
) -> [LaneRow<M, W>; M] {
    for pivot in 0..M {
        reflect(&mut rows[pivot..], pivot);
    }
    std::array::from_fn(|row| {
        std::array::from_fn(|column| match column < row {
            true => [0.0; W],
            false => rows[row][column],
        })
    })
}

/// Makes everything below the first entry of a column zero.
fn reflect<const M: usize, const W: usize>(rows: &mut [LaneRow<M, W>], pivot: usize) {
    let mut square = [0.0; W];
    for row in rows.iter() {
        for lane in 0..W {
            square[lane] += row[pivot][lane] * row[pivot][lane];
        }
    }
    let mut scale = [0.0; W];
    let mut diagonal = [0.0; W];
    for lane in 0..W {
        let (norm, head) = (square[lane].sqrt(), rows[0][pivot][lane]);
        // A column of zeros is reflected in nothing.
        scale[lane] = 1.0 / (norm * (norm + head.abs())).max(f64::MIN_POSITIVE);
        diagonal[lane] = -norm.copysign(head);
        rows[0][pivot][lane] = head - diagonal[lane];
    }
    let mut shares = [[0.0; W]; M];
    for row in rows.iter() {
        for column in pivot + 1..M {
            for lane in 0..W {
                shares[column][lane] += row[pivot][lane] * row[column][lane];
            }
        }
    }
    for share in &mut shares {
        for lane in 0..W {
            share[lane] *= scale[lane];
        }
    }
    for row in rows.iter_mut() {
        for column in pivot + 1..M {
            for lane in 0..W {
                row[column][lane] -= row[pivot][lane] * shares[column][lane];
            }
        }
    }
    rows[0][pivot] = diagonal;
}

/// Cosine of the angle between rows that count as square to each other.
const SQUARE: f64 = 1e-14;
/// Cosines that are rounding.
const ROUNDING: f64 = 1e-16;
/// Rounds of rotations at most; half a dozen are usual.
const MOST_ROUNDS: usize = 40;

/// Largest and smallest singular value of each triangle.
pub(super) fn singular_ends<const M: usize, const W: usize>(
    mut rows: [LaneRow<M, W>; M],
) -> [Lane<W>; 2] {
    for _ in 0..MOST_ROUNDS {
        let (mut off, mut turn) = (0.0_f64, 0.0_f64);
        for first in 0..M {
            for second in first + 1..M {
                let [cosine, sine] = rotate(&mut rows, first, second);
                (off, turn) = (off.max(cosine), turn.max(sine));
            }
        }
        // A later rotation brings back no more than its sine of what an earlier one has removed.
        if off <= SQUARE || off * turn <= ROUNDING {
            break;
        }
    }
    let squares = rows.map(|row| squared(&row));
    let end = |of: fn(f64, f64) -> f64| {
        std::array::from_fn(|lane| {
            let all = squares.iter().map(|square| square[lane]);
            all.reduce(of).unwrap_or(0.0).sqrt()
        })
    };
    [end(f64::max), end(f64::min)]
}

fn squared<const M: usize, const W: usize>(row: &LaneRow<M, W>) -> Lane<W> {
    let mut square = [0.0; W];
    for entry in row {
        for lane in 0..W {
            square[lane] += entry[lane] * entry[lane];
        }
    }
    square
}

/// Makes two rows square to each other: how far they were from it, as a cosine, and the sine of the rotation, each at worst.
fn rotate<const M: usize, const W: usize>(
    rows: &mut [LaneRow<M, W>; M],
    first: usize,
    second: usize,
) -> [f64; 2] {
    let (one, other) = (rows[first], rows[second]);
    let (mut a, mut b, mut c) = ([0.0; W], [0.0; W], [0.0; W]);
    for column in 0..M {
        for lane in 0..W {
            a[lane] += one[column][lane] * one[column][lane];
            b[lane] += other[column][lane] * other[column][lane];
            c[lane] += one[column][lane] * other[column][lane];
        }
    }
    let (mut cosine, mut sine, mut off) = ([0.0; W], [0.0; W], [0.0; W]);
    for lane in 0..W {
        let (gap, twice) = (b[lane] - a[lane], 2.0 * c[lane]);
        let reach = gap.abs() + (gap * gap + twice * twice).sqrt();
        let tangent = twice.copysign(twice * gap) / reach.max(f64::MIN_POSITIVE);
        cosine[lane] = 1.0 / (1.0 + tangent * tangent).sqrt();
        sine[lane] = tangent * cosine[lane];
        off[lane] = c[lane] * c[lane] / (a[lane] * b[lane]).max(f64::MIN_POSITIVE);
    }
    for column in 0..M {
        for lane in 0..W {
            let (x, y) = (one[column][lane], other[column][lane]);
            rows[first][column][lane] = cosine[lane] * x - sine[lane] * y;
            rows[second][column][lane] = sine[lane] * x + cosine[lane] * y;
        }
    }
    let worst = |of: Lane<W>| of.into_iter().fold(0.0, f64::max);
    [worst(off).sqrt(), worst(sine.map(f64::abs))]
}

/// Axes of the equations of equilibrium: orthonormal columns.
///
/// Along the singular vectors of a matrix nearby, the rows of a matrix are nearly square to each other, which spares half of the
/// rotations.
#[derive(Debug, Clone, Copy)]
pub(super) struct Basis<const M: usize>([[f64; M]; M]);

impl<const M: usize> Basis<M> {
    /// The left singular vectors of a matrix, given by its columns.
    pub(super) fn of(columns: &[[f64; M]]) -> Self {
        let matrix = DMatrix::from_fn(M, columns.len(), |row, column| columns[column][row]);
        let left = WideSvd::new(&matrix).left;
        Self(std::array::from_fn(|row| {
            std::array::from_fn(|column| left[(row, column)])
        }))
    }

    /// A column of several placements along these axes.
    #[inline]
    pub(super) fn turned<const W: usize>(&self, column: &LaneRow<M, W>) -> LaneRow<M, W> {
        let mut turned = [[0.0; W]; M];
        for (axes, entry) in self.0.iter().zip(column) {
            for (axis, sum) in axes.iter().zip(&mut turned) {
                for lane in 0..W {
                    sum[lane] += axis * entry[lane];
                }
            }
        }
        turned
    }

    /// One vector along these axes.
    pub(super) fn turned_one(&self, vector: &[f64; M]) -> [f64; M] {
        self.turned(&vector.map(|entry| [entry]))
            .map(|[entry]| entry)
    }

    /// The reverse.
    pub(super) fn back(&self, vector: &[f64; M]) -> [f64; M] {
        self.0.map(|axes| {
            axes.iter()
                .zip(vector)
                .map(|(axis, entry)| axis * entry)
                .sum()
        })
    }
}

/// The triangle of one placement.
pub(super) fn of_lane<const M: usize, const W: usize>(
    rows: &[LaneRow<M, W>; M],
    lane: usize,
) -> ReactionTriangle<M> {
    rows.map(|row| row.map(|entry| entry[lane]))
}

/// The solution of `Rᵗ R x = b`; no number where the triangle is singular.
pub(super) fn solved<const M: usize>(triangle: &ReactionTriangle<M>, b: &[f64; M]) -> [f64; M] {
    let mut x = *b;
    for i in 0..M {
        for k in 0..i {
            x[i] -= triangle[k][i] * x[k];
        }
        x[i] /= triangle[i][i];
    }
    for i in (0..M).rev() {
        for k in i + 1..M {
            x[i] -= triangle[i][k] * x[k];
        }
        x[i] /= triangle[i][i];
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows of `Aᵗ` with entries that follow no pattern, the last column smaller by a factor and nearly the sum of the others.
    fn rows(count: usize, small: f64) -> Vec<LaneRow<6, 3>> {
        let entry = |i: usize, j: usize, lane: usize| {
            ((i * 17 + j * (29 + i) + lane * 7) % 23) as f64 / 11.0 - 1.0
        };
        let row = |i: usize| {
            let mut row: LaneRow<6, 3> =
                std::array::from_fn(|j| std::array::from_fn(|lane| entry(i, j, lane)));
            let last = row[5];
            row[5] = std::array::from_fn(|lane| {
                let sum: f64 = (0..5).map(|j| row[j][lane]).sum();
                sum / 5.0 + small * last[lane]
            });
            row
        };
        (0..count).map(row).collect()
    }

    fn matrix(rows: &[LaneRow<6, 3>], lane: usize) -> DMatrix<f64> {
        DMatrix::from_fn(6, rows.len(), |i, j| rows[j][i][lane])
    }

    /// Against the decomposition of the diagnosis, down to singular values at the rounding: the bound is 1e-14 of the largest.
    #[test]
    fn singular_values_are_those_of_the_diagnosis() {
        for (count, small) in [(6, 1.0), (12, 1e-3), (12, 1e-9), (40, 1e-12), (9, 0.0)] {
            let rows = rows(count, small);
            let [largest, smallest] = singular_ends(triangle(&mut rows.clone()));
            for lane in 0..3 {
                let svd = WideSvd::new(&matrix(&rows, lane));
                let close = |found: f64, expected: f64| {
                    assert!(
                        (found - expected).abs() <= 1e-14 * svd.values[0],
                        "{count} {small}: {found} is not {expected}"
                    );
                };
                close(largest[lane], svd.values[0]);
                close(smallest[lane], svd.values[5]);
            }
        }
    }

    /// As above, along the axes of the first lane's matrix; every other lane is another matrix.
    #[test]
    fn axes_change_no_singular_value() {
        let rows = rows(12, 1e-3);
        let first: Vec<[f64; 6]> = rows.iter().map(|row| row.map(|entry| entry[0])).collect();
        let basis = Basis::of(&first);
        let mut turned: Vec<LaneRow<6, 3>> = rows.iter().map(|row| basis.turned(row)).collect();
        let [_, smallest] = singular_ends(triangle(&mut turned));
        for (lane, smallest) in smallest.into_iter().enumerate() {
            let svd = WideSvd::new(&matrix(&rows, lane));
            assert!((smallest - svd.values[5]).abs() <= 1e-14 * svd.values[0]);
        }
        let back = basis.back(&basis.turned_one(&first[4]));
        assert!(
            back.iter()
                .zip(&first[4])
                .all(|(x, y)| (x - y).abs() < 1e-14)
        );
    }

    #[test]
    fn a_triangle_solves_the_equations_of_its_rows() {
        let rows = rows(12, 0.3);
        let triangles = triangle(&mut rows.clone());
        for lane in 0..3 {
            let a = matrix(&rows, lane);
            let b = [1.0, -2.0, 0.5, 3.0, 0.0, -1.0];
            let x = nalgebra::DVector::from_row_slice(&solved(&of_lane(&triangles, lane), &b));
            let left = &a * a.transpose() * x - nalgebra::DVector::from_row_slice(&b);
            assert!(left.norm() < 1e-10, "{left}");
        }
    }
}
