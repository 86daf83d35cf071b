//! Singular value decomposition of a wide, possibly rank-deficient matrix by one-sided Jacobi rotations.
//!
//! The matrices here have 3 or 6 rows and any number of columns, and are rank-deficient as a rule; the
//! general routine of nalgebra 0.35 is wrong on some of those. Rotating rows until they are orthogonal keeps
//! small singular values accurate. (Hestenes 1958; Demmel & Veselić 1992.) Of many columns the rotations are found on
//! the small matrix of the rows' products and applied together, until fresh products show orthogonal rows.

use nalgebra::DMatrix;

/// `matrix = U Σ Vᵗ` with every left singular vector, also those of singular value zero.
#[derive(Debug, Clone)]
pub(crate) struct WideSvd {
    /// Singular values, largest first; one for each row of the matrix, rows beyond its columns have 0.
    pub values: Vec<f64>,
    /// Left singular vectors as columns, rows × rows, orthogonal.
    pub left: DMatrix<f64>,
    /// `V Σ`: columns orthogonal to each other, column i of length `values[i]`; n × rows.
    pub weighted: DMatrix<f64>,
}

/// Rows count as orthogonal when their cosine is below this.
const ORTHOGONAL: f64 = 4.0 * f64::EPSILON;
/// Convergence is quadratic; usual matrices need four to seven sweeps.
const MOST_SWEEPS: usize = 60;
/// From this many columns to each row on, rotations are found on the products of rows.
const MANY: usize = 4;

impl WideSvd {
    /// Decomposes a matrix of any shape with finite entries.
    pub(crate) fn new(matrix: &DMatrix<f64>) -> Self {
        let many = matrix.ncols() >= MANY * matrix.nrows();
        let (work, left) = match matrix.nrows() {
            6 if many => turned_together::<6>(matrix),
            3 if many => turned_together::<3>(matrix),
            _ => turned_in_pairs(matrix),
        };
        sorted(work, left)
    }
}

/// The rows as columns, turned until they are orthogonal, and how they were turned: rotation by rotation.
fn turned_in_pairs(matrix: &DMatrix<f64>) -> (DMatrix<f64>, DMatrix<f64>) {
    let (rows, columns) = matrix.shape();
    // Each row followed by its part of the rotation, so that one loop turns both.
    let mut all = DMatrix::zeros(columns + rows, rows);
    all.rows_mut(0, columns).tr_copy_from(matrix);
    all.rows_mut(columns, rows).fill_with_identity();
    orthogonalise_rows(all.as_mut_slice(), rows, columns);
    (
        all.rows(0, columns).into_owned(),
        all.rows(columns, rows).into_owned(),
    )
}

/// Turns rows that follow each other in memory until their first so many entries are orthogonal; what follows those in a row
/// is turned with them.
pub(crate) fn orthogonalise_rows(all: &mut [f64], rows: usize, counted: usize) {
    if counted == 0 || rows == 0 {
        return;
    }
    let mut squares = vec![0.0; rows];
    for _ in 0..MOST_SWEEPS {
        if !sweep(all, counted, &mut squares) {
            break;
        }
    }
}

/// One pass over all pairs of rows, with room for their squares; whether any was turned.
fn sweep(all: &mut [f64], counted: usize, squares: &mut [f64]) -> bool {
    let (rows, mut turned) = (squares.len(), false);
    let length = all.len() / rows;
    for (square, row) in squares.iter_mut().zip(all.chunks_exact(length)) {
        *square = dot(&row[..counted], &row[..counted]);
    }
    let floor = floor(squares);
    for_each_pair(rows, |first, second| {
        let (head, tail) = all.split_at_mut(second * length);
        let (a, b) = (&mut head[first * length..][..length], &mut tail[..length]);
        let (aa, bb) = (squares[first], squares[second]);
        let Some(rotation) = Rotation::of(aa, bb, dot(&a[..counted], &b[..counted]), floor) else {
            return;
        };
        rotation.turn(a, b);
        (squares[first], squares[second]) = (aa - rotation.shift, bb + rotation.shift);
        turned = true;
    });
    turned
}

/// Squares of rows below this are rounding noise of the largest.
fn floor(squares: &[f64]) -> f64 {
    squares.iter().sum::<f64>() * f64::EPSILON * f64::EPSILON
}

/// Every pair of so many things, the first before the second. Neighbours among six share nothing as a rule, so that a
/// processor can work on three at once.
fn for_each_pair(count: usize, mut with: impl FnMut(usize, usize)) {
    if count == 6 {
        for (first, second) in PAIRS_OF_SIX {
            with(first, second);
        }
        return;
    }
    for first in 0..count {
        for second in first + 1..count {
            with(first, second);
        }
    }
}

/// Five rounds in which each of six meets another.
const PAIRS_OF_SIX: [(usize, usize); 15] = [
    (0, 1),
    (2, 3),
    (4, 5), //
    (0, 2),
    (1, 4),
    (3, 5), //
    (0, 3),
    (1, 5),
    (2, 4), //
    (0, 4),
    (1, 3),
    (2, 5), //
    (0, 5),
    (1, 2),
    (3, 4),
];

/// The rotation of two rows that makes them orthogonal.
struct Rotation {
    cosine: f64,
    sine: f64,
    /// What the second row's square gains and the first one's loses.
    shift: f64,
}

impl Rotation {
    /// From the squares and the product of two rows; `None` where they are orthogonal or one is noise.
    fn of(aa: f64, bb: f64, ab: f64, floor: f64) -> Option<Self> {
        if ab.abs() <= ORTHOGONAL * (aa * bb).sqrt() || aa.min(bb) <= floor {
            return None;
        }
        // Cosine and sine of twice the angle, as far as their common factor, then the half: what waits for what is kept
        // short, since a rotation waits for little else.
        let share = 1.0 / (aa + bb);
        let (along, across) = ((bb - aa) * share, 2.0 * ab * share);
        let size = (along * along + across * across).sqrt();
        let tangent = across * along.signum() / (along.abs() + size);
        let cosine = (0.5 + along.abs() / (2.0 * size)).sqrt();
        Some(Self {
            cosine,
            sine: cosine * tangent,
            shift: tangent * ab,
        })
    }

    fn turn(&self, a: &mut [f64], b: &mut [f64]) {
        for (a, b) in a.iter_mut().zip(b) {
            (*a, *b) = self.turned(*a, *b);
        }
    }

    fn turned(&self, a: f64, b: f64) -> (f64, f64) {
        (
            self.cosine * a - self.sine * b,
            self.sine * a + self.cosine * b,
        )
    }
}

/// The rows as columns, turned until they are orthogonal, and how they were turned: as many rotations at once as their
/// products show.
fn turned_together<const ROWS: usize>(matrix: &DMatrix<f64>) -> (DMatrix<f64>, DMatrix<f64>) {
    let mut work = matrix.transpose();
    let mut left = DMatrix::identity(ROWS, ROWS);
    for _ in 0..MOST_SWEEPS {
        let Some(turn) = orthogonal_of_products(products::<ROWS>(work.as_slice())) else {
            break;
        };
        turn_all(work.as_mut_slice(), &turn);
        turn_all(left.as_mut_slice(), &turn);
    }
    (work, left)
}

/// Products of all rows with each other.
fn products<const ROWS: usize>(all: &[f64]) -> [[f64; ROWS]; ROWS] {
    let row = |i: usize| &all[i * (all.len() / ROWS)..][..all.len() / ROWS];
    let mut half = [[0.0; ROWS]; ROWS];
    for (i, products) in half.iter_mut().enumerate() {
        for (j, product) in products[..=i].iter_mut().enumerate() {
            *product = dot(row(i), row(j));
        }
    }
    std::array::from_fn(|i| std::array::from_fn(|j| half[i.max(j)][i.min(j)]))
}

/// The rotation that makes rows with these products orthogonal, its row k what row k becomes; `None` where they are.
///
/// Relative to the rows' sizes, so that it does as well for small ones. (Demmel & Veselić 1992, on positive definite
/// matrices.)
fn orthogonal_of_products<const ROWS: usize>(
    mut products: [[f64; ROWS]; ROWS],
) -> Option<[[f64; ROWS]; ROWS]> {
    let mut turn = unit();
    let floor = floor(&std::array::from_fn::<f64, ROWS, _>(|i| products[i][i]));
    let mut turned = false;
    // What rounding leaves is found by the next products.
    for _ in 0..ENOUGH_SWEEPS {
        let mut again = false;
        for_each_pair(ROWS, |i, j| {
            if let Some(rotation) = turn_products(&mut products, i, j, floor) {
                let (head, tail) = turn.split_at_mut(j);
                rotation.turn(&mut head[i], &mut tail[0]);
                again = true;
            }
        });
        turned |= again;
        if !again {
            break;
        }
    }
    turned.then_some(turn)
}

/// What the products of rows become where two of them are made orthogonal; `None` where they are.
fn turn_products<const ROWS: usize>(
    products: &mut [[f64; ROWS]; ROWS],
    i: usize,
    j: usize,
    floor: f64,
) -> Option<Rotation> {
    let [aa, bb, ab] = [products[i][i], products[j][j], products[i][j]];
    let rotation = Rotation::of(aa, bb, ab, floor)?;
    for other in (0..ROWS).filter(|other| *other != i && *other != j) {
        let (a, b) = rotation.turned(products[i][other], products[j][other]);
        (products[i][other], products[other][i]) = (a, a);
        (products[j][other], products[other][j]) = (b, b);
    }
    (products[i][i], products[j][j]) = (aa - rotation.shift, bb + rotation.shift);
    (products[i][j], products[j][i]) = (0.0, 0.0);
    Some(rotation)
}

fn unit<const ROWS: usize>() -> [[f64; ROWS]; ROWS] {
    std::array::from_fn(|i| std::array::from_fn(|j| f64::from(u8::from(i == j))))
}

/// Sweeps over products, whose rounding no longer lets the smallest converge.
const ENOUGH_SWEEPS: usize = 8;

/// Replaces rows that follow each other in memory by combinations of them: row k of the coefficients for row k.
fn turn_all<const ROWS: usize>(all: &mut [f64], coefficients: &[[f64; ROWS]; ROWS]) {
    let length = all.len() / ROWS;
    let whole = length - length % BLOCK;
    for at in (0..whole).step_by(BLOCK) {
        turn_block::<ROWS, BLOCK>(all, at, coefficients);
    }
    for at in whole..length {
        turn_block::<ROWS, 1>(all, at, coefficients);
    }
}

/// Entries of each row that are combined at a time, so that the processor can take several at once.
const BLOCK: usize = 16;

/// The same of some entries of each row, from one on.
fn turn_block<const ROWS: usize, const WIDTH: usize>(
    all: &mut [f64],
    at: usize,
    coefficients: &[[f64; ROWS]; ROWS],
) {
    let length = all.len() / ROWS;
    let mut block = [[0.0; WIDTH]; ROWS];
    for (i, own) in block.iter_mut().enumerate() {
        own.copy_from_slice(&all[i * length + at..][..WIDTH]);
    }
    for k in 0..ROWS {
        let mut sums = [0.0; WIDTH];
        for (column, sum) in sums.iter_mut().enumerate() {
            for i in 0..ROWS {
                *sum += coefficients[k][i] * block[i][column];
            }
        }
        all[k * length + at..][..WIDTH].copy_from_slice(&sums);
    }
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

/// Largest first.
fn sorted(mut weighted: DMatrix<f64>, mut left: DMatrix<f64>) -> WideSvd {
    let columns = weighted.column_iter();
    let mut values: Vec<f64> = columns
        .map(|row| dot(row.as_slice(), row.as_slice()).sqrt())
        .collect();
    for next in 0..values.len() {
        let rest = (next..values.len()).rev();
        let Some(largest) = rest.max_by(|i, j| values[*i].total_cmp(&values[*j])) else {
            continue;
        };
        if largest != next {
            values.swap(next, largest);
            weighted.swap_columns(next, largest);
            left.swap_columns(next, largest);
        }
    }
    WideSvd {
        values,
        left,
        weighted,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(matrix: &DMatrix<f64>) {
        let svd = WideSvd::new(matrix);
        let scale = matrix.norm().max(1.0);
        let back = &svd.left * svd.weighted.transpose();
        assert!(
            (back - matrix).norm() <= 1e-13 * scale,
            "does not give the matrix back"
        );
        let rows = matrix.nrows();
        let orthogonal = svd.left.transpose() * &svd.left - DMatrix::identity(rows, rows);
        assert!(orthogonal.norm() < 1e-13, "left vectors not orthogonal");
        let gram = svd.weighted.transpose() * &svd.weighted;
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

    /// Rows of very different sizes that are far from orthogonal: their smallest value is the length that the last row
    /// keeps beside the others. (Demmel & Veselić 1992.)
    #[test]
    fn small_singular_values_of_many_columns_keep_their_digits() {
        let sizes = [1.0, 1e-2, 1e-4, 1e-6, 1e-8, 1e-10];
        let rows = DMatrix::from_fn(6, 200, |i, j| ((i * 17 + j * (29 + i)) % 23) as f64 - 11.0);
        let scaled = DMatrix::from_fn(6, 200, |i, j| rows[(i, j)] * sizes[i]);
        let svd = WideSvd::new(&scaled);
        let others = rows.rows(0, 5).transpose().qr().q();
        let last = rows.row(5).transpose();
        let beside = (&last - &others * others.tr_mul(&last)).norm() * sizes[5];
        assert!(
            (svd.values[5] / beside - 1.0).abs() < 1e-3,
            "{}",
            svd.values[5] / beside - 1.0
        );
        let gram = svd.weighted.transpose() * &svd.weighted;
        for (i, j) in (0..6).flat_map(|i| (0..i).map(move |j| (i, j))) {
            let cosine = gram[(i, j)] / (svd.values[i] * svd.values[j]);
            assert!(cosine.abs() < 1e-14, "{i} {j} {cosine}");
        }
    }
}
