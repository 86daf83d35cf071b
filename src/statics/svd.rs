//! Singular value decomposition of a wide, possibly rank-deficient matrix by one-sided Jacobi rotations.
//!
//! The matrices here have 3 or 6 rows and any number of columns, and are rank-deficient as a rule; the
//! general routine of nalgebra 0.35 is wrong on some of those. Rotating rows until they are orthogonal keeps
//! small singular values accurate. (Hestenes 1958; Demmel & Veselić 1992.) Of many columns the rotations are first
//! found on the triangular factor, which has as many columns as rows. (Drmač & Veselić 2008.)

use nalgebra::{DMatrix, DVector};

/// `matrix = U Σ Vᵗ` with every left singular vector, also those of singular value zero.
#[derive(Debug, Clone)]
pub(crate) struct WideSvd {
    /// Singular values, largest first; one for each row of the matrix, rows beyond its columns have 0.
    pub values: Vec<f64>,
    /// Left singular vectors as columns, rows × rows, orthogonal.
    pub left: DMatrix<f64>,
    /// `Σ Vᵗ`: rows orthogonal to each other, row i of length `values[i]`; rows × n.
    pub weighted_right: DMatrix<f64>,
}

/// Rows count as orthogonal when their cosine is below this.
const ORTHOGONAL: f64 = 4.0 * f64::EPSILON;
/// Convergence is quadratic; usual matrices need four to seven sweeps.
const MOST_SWEEPS: usize = 60;
/// From this many columns to each row on, most rotations are found on the triangular factor.
const MANY: usize = 4;

impl WideSvd {
    /// Decomposes a matrix of any shape with finite entries.
    pub(crate) fn new(matrix: &DMatrix<f64>) -> Self {
        let rows = matrix.nrows();
        // Work on the transpose: its columns, our rows, lie contiguous in memory.
        let mut work = matrix.transpose();
        let mut left = DMatrix::identity(rows, rows);
        if matrix.ncols() >= MANY * rows && rows > 0 {
            orthogonalise(&mut work.clone().qr().r(), &mut left);
            // Applied to the matrix itself, so that the factor's rounding does not stay.
            work *= &left;
        }
        orthogonalise(&mut work, &mut left);
        sorted(&work, &left)
    }
}

/// Turns the columns of `work` until they are orthogonal to each other, and those of `left` with them.
fn orthogonalise(work: &mut DMatrix<f64>, left: &mut DMatrix<f64>) {
    let rows = work.ncols();
    orthogonalise_rows(work.as_mut_slice(), left.as_mut_slice(), rows);
}

/// The same of so many rows that follow each other in memory, without a matrix around them.
pub(crate) fn orthogonalise_rows(work: &mut [f64], left: &mut [f64], rows: usize) {
    if work.is_empty() {
        return;
    }
    let mut squares = vec![0.0; rows];
    for _ in 0..MOST_SWEEPS {
        if !sweep(work, left, &mut squares) {
            break;
        }
    }
}

/// One pass over all pairs of rows, which follow each other in memory, and have room for their squares; whether any was turned.
fn sweep(work: &mut [f64], left: &mut [f64], squares: &mut [f64]) -> bool {
    let (rows, mut turned) = (squares.len(), false);
    for (square, row) in squares.iter_mut().zip(work.chunks(work.len() / rows)) {
        *square = dot(row, row);
    }
    // Rows below this are rounding noise of the largest.
    let floor = squares.iter().sum::<f64>() * f64::EPSILON * f64::EPSILON;
    for first in 0..rows {
        for second in first + 1..rows {
            let (a, b) = pair(work, rows, first, second);
            let (aa, bb, ab) = (squares[first], squares[second], dot(a, b));
            if ab.abs() <= ORTHOGONAL * (aa * bb).sqrt() || aa.min(bb) <= floor {
                continue;
            }
            let zeta = (bb - aa) / (2.0 * ab);
            let tangent = zeta.signum() / (zeta.abs() + (1.0 + zeta * zeta).sqrt());
            let cosine = 1.0 / (1.0 + tangent * tangent).sqrt();
            turn(a, b, cosine, cosine * tangent);
            (squares[first], squares[second]) = (dot(a, a), dot(b, b));
            let (a, b) = pair(left, rows, first, second);
            turn(a, b, cosine, cosine * tangent);
            turned = true;
        }
    }
    turned
}

/// Two of so many rows that follow each other in memory, the first before the second.
fn pair(all: &mut [f64], rows: usize, first: usize, second: usize) -> (&mut [f64], &mut [f64]) {
    let length = all.len() / rows;
    let (head, tail) = all.split_at_mut(second * length);
    (&mut head[first * length..][..length], &mut tail[..length])
}

/// By index and four at once: many times faster than iterators and views of matrices where our own code is hardly optimised.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (length, fours) = (a.len().min(b.len()), a.len().min(b.len()) & !3);
    let (mut w, mut x, mut y, mut z) = (0.0, 0.0, 0.0, 0.0);
    let mut i = 0;
    while i < fours {
        w += a[i] * b[i];
        x += a[i + 1] * b[i + 1];
        y += a[i + 2] * b[i + 2];
        z += a[i + 3] * b[i + 3];
        i += 4;
    }
    while i < length {
        w += a[i] * b[i];
        i += 1;
    }
    (w + x) + (y + z)
}

fn turn(a: &mut [f64], b: &mut [f64], cosine: f64, sine: f64) {
    let (length, mut i) = (a.len().min(b.len()), 0);
    while i < length {
        (a[i], b[i]) = (cosine * a[i] - sine * b[i], sine * a[i] + cosine * b[i]);
        i += 1;
    }
}

fn sorted(work: &DMatrix<f64>, left: &DMatrix<f64>) -> WideSvd {
    let lengths = DVector::from_iterator(work.ncols(), work.column_iter().map(|row| row.norm()));
    let mut order: Vec<usize> = (0..lengths.len()).collect();
    order.sort_by(|i, j| lengths[*j].total_cmp(&lengths[*i]));
    let columns: Vec<_> = order.iter().map(|i| left.column(*i)).collect();
    let rows: Vec<_> = order.iter().map(|i| work.column(*i).transpose()).collect();
    WideSvd {
        values: order.iter().map(|i| lengths[*i]).collect(),
        left: if columns.is_empty() {
            left.clone()
        } else {
            DMatrix::from_columns(&columns)
        },
        weighted_right: if rows.is_empty() {
            work.transpose()
        } else {
            DMatrix::from_rows(&rows)
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(matrix: &DMatrix<f64>) {
        let svd = WideSvd::new(matrix);
        let scale = matrix.norm().max(1.0);
        let back = &svd.left * &svd.weighted_right;
        assert!(
            (back - matrix).norm() <= 1e-13 * scale,
            "does not give the matrix back"
        );
        let rows = matrix.nrows();
        let orthogonal = svd.left.transpose() * &svd.left - DMatrix::identity(rows, rows);
        assert!(orthogonal.norm() < 1e-13, "left vectors not orthogonal");
        let gram = &svd.weighted_right * svd.weighted_right.transpose();
        for i in 0..rows {
            for j in 0..i {
                assert!(
                    gram[(i, j)].abs() < 1e-12 * scale * scale,
                    "right rows not orthogonal"
                );
            }
        }
        if matrix.is_empty() {
            return;
        }
        // nalgebra's values without vectors are sound (singular values only).
        let theirs = matrix.clone().svd(false, false).singular_values;
        for (ours, theirs) in svd.values.iter().zip(theirs.iter()) {
            assert!((ours - theirs).abs() < 1e-12 * scale, "{ours} {theirs}");
        }
    }

    #[test]
    fn decomposes_every_count_of_columns_and_every_rank() {
        for columns in (0..15).chain([23, 24, 25, 60, 500]) {
            check(&DMatrix::from_fn(6, columns, |i, j| {
                ((i * 7 + j * 13) % 5) as f64 - 2.0
            }));
            check(&DMatrix::from_fn(6, columns, |i, j| {
                ((i + 1) * (j + 2)) as f64
            }));
            check(&DMatrix::from_fn(3, columns, |i, j| {
                ((i * 3 + j * 5) % 4) as f64
            }));
            check(&DMatrix::zeros(6, columns));
        }
    }

    /// Many columns of every rank, and rows of very different sizes.
    #[test]
    fn decomposes_many_columns_of_every_rank() {
        for rank in 1..=6 {
            let factor = DMatrix::from_fn(6, rank, |i, j| ((i * 5 + j * 11) % 7) as f64 - 3.0);
            let other = DMatrix::from_fn(rank, 300, |i, j| ((i * 17 + j * 29) % 23) as f64 - 11.0);
            check(&(&factor * &other));
            let mut uneven = factor * other;
            uneven.row_mut(2).scale_mut(1e-6);
            check(&uneven);
        }
    }

    /// The matrix on which nalgebra 0.35's `svd(true, true)` gives 24.69 for the largest singular value.
    #[test]
    fn all_ones_has_one_singular_value() {
        let svd = WideSvd::new(&DMatrix::from_element(6, 21, 1.0));
        assert!((svd.values[0] - 126_f64.sqrt()).abs() < 1e-13);
        assert!(svd.values[1..].iter().all(|value| *value < 1e-14));
    }

    #[test]
    fn small_singular_values_keep_their_digits() {
        let mut matrix = DMatrix::identity(6, 8);
        matrix[(5, 5)] = 1e-12;
        let svd = WideSvd::new(&matrix);
        assert!((svd.values[5] / 1e-12 - 1.0).abs() < 1e-12);
    }
}
