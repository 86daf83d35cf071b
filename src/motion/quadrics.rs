//! Where several quadratic forms vanish together: directions, that is points of the projective space.
//!
//! Small spaces are covered by the faces of a cube, halved where no form is proven to differ from zero, so that no
//! common zero is missed; larger ones are searched from many starts.

use nalgebra::{DMatrix, DVector};

/// Spaces of up to this dimension are covered.
const COVERED: usize = 3;
/// Half the width of the smallest cells, on a cube of half width 1.
const SMALLEST_CELL: f64 = 1.0 / 64.0;
/// Forms count as zero below this part of the largest.
const VANISHES: f64 = 1e-9;
/// Directions closer than this are one.
const SAME: f64 = 1e-3;
/// Steps of the search for one zero; at a double zero each one halves the distance.
const MOST_STEPS: usize = 60;
/// Rounds of making a zero exact.
const SHARPENINGS: usize = 4;
/// Singular values of the derivatives below this part of the largest form are gone.
const SINGULAR: f64 = 1e-4;
/// Step along a family of zeros, and the least that has to be left of it where there is one.
const ALONG: f64 = 0.05;
const STILL_ALONG: f64 = 0.02;
/// Members of families that are kept.
const MEMBERS: usize = 3;

/// The common zeros of forms.
#[derive(Debug, Clone)]
pub(super) struct Zeros {
    pub(super) list: Vec<Zero>,
    pub(super) searched: Searched,
}

/// How the combinations of free motions were searched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Searched {
    /// Completely: there are no others, but for members of the families listed.
    All,
    /// From many starts.
    FromStarts,
    /// In steps of their directions: where contacts open and cables go slack, others between those may go on.
    InSteps,
}

/// One of them.
#[derive(Debug, Clone)]
pub(super) struct Zero {
    /// Unit vector.
    pub(super) direction: DVector<f64>,
    /// Whether the derivatives of the forms are independent there.
    pub(super) regular: bool,
    /// Whether it is a member of a continuous family.
    pub(super) family: bool,
}

/// Forms that are all symmetric and of one size.
pub(super) struct Quadrics<'a> {
    forms: &'a [DMatrix<f64>],
    scale: f64,
    dimension: usize,
}

impl<'a> Quadrics<'a> {
    /// The common zeros of some forms; `None` where there are no forms.
    pub(super) fn zeros(forms: &'a [DMatrix<f64>]) -> Option<Zeros> {
        let quadrics = Self {
            forms,
            scale: forms.iter().map(DMatrix::norm).fold(0.0, f64::max),
            dimension: forms.first()?.nrows(),
        };
        let complete = quadrics.dimension <= COVERED;
        let starts = if complete {
            quadrics.cover()
        } else {
            corners(quadrics.dimension)
        };
        let mut found: Vec<Zero> = Vec::new();
        for start in starts {
            let Some(rough) = quadrics.near(&start) else {
                continue;
            };
            let direction = quadrics.sharpened(rough);
            if found
                .iter()
                .all(|zero| apart(&zero.direction, &direction) > SAME)
            {
                found.push(quadrics.zero(direction));
            }
        }
        let list = thinned(found);
        let searched = if complete {
            Searched::All
        } else {
            Searched::FromStarts
        };
        Some(Zeros { list, searched })
    }

    fn values(&self, at: &DVector<f64>) -> DVector<f64> {
        let values = self.forms.iter().map(|form| at.dot(&(form * at)));
        DVector::from_iterator(self.forms.len(), values)
    }

    /// One row for each form: its derivative.
    fn derivatives(&self, at: &DVector<f64>) -> DMatrix<f64> {
        let rows: Vec<_> = self
            .forms
            .iter()
            .map(|form| (form * at * 2.0).transpose())
            .collect();
        DMatrix::from_rows(&rows)
    }

    /// Middles of the cells in which the forms may all vanish, one coordinate 1 and the largest.
    fn cover(&self) -> Vec<DVector<f64>> {
        let mut left = Vec::new();
        for face in 0..self.dimension {
            let mut middle = DVector::zeros(self.dimension);
            middle[face] = 1.0;
            self.cover_cell(face, middle, 1.0, &mut left);
        }
        left
    }

    fn cover_cell(
        &self,
        face: usize,
        middle: DVector<f64>,
        half: f64,
        left: &mut Vec<DVector<f64>>,
    ) {
        if self
            .forms
            .iter()
            .any(|form| differs(form, face, &middle, half))
        {
            return;
        }
        if half <= SMALLEST_CELL {
            left.push(middle);
            return;
        }
        let free: Vec<usize> = (0..self.dimension).filter(|i| *i != face).collect();
        for corner in 0..1_usize << free.len() {
            let mut part = middle.clone();
            for (bit, i) in free.iter().enumerate() {
                let sign = if corner >> bit & 1 == 1 { 1.0 } else { -1.0 };
                part[*i] += sign * half / 2.0;
            }
            self.cover_cell(face, part, half / 2.0, left);
        }
    }

    /// A common zero near a direction, by damped least squares (Levenberg 1944); `None` where none is found.
    fn near(&self, start: &DVector<f64>) -> Option<DVector<f64>> {
        let mut at = start.normalize();
        let mut off = self.values(&at);
        let mut damping = 1e-3;
        for _ in 0..MOST_STEPS {
            if off.norm() <= f64::EPSILON * self.scale {
                break;
            }
            let slopes = self.derivatives(&at);
            let mut normal = slopes.tr_mul(&slopes);
            for i in 0..self.dimension {
                normal[(i, i)] += damping * off.norm() * self.scale;
            }
            let Some(step) = normal
                .cholesky()
                .map(|normal| normal.solve(&slopes.tr_mul(&off)))
            else {
                break;
            };
            let next = (&at - step).normalize();
            let next_off = self.values(&next);
            if next_off.norm() < off.norm() {
                (at, off, damping) = (next, next_off, damping / 10.0);
            } else {
                damping *= 10.0;
            }
        }
        (off.norm() <= VANISHES * self.scale).then_some(at)
    }

    /// A zero with all its digits, also where it is a double one of which half were lost.
    ///
    /// There some combinations of the forms have no derivative: these take the zero itself to nothing, and the others
    /// have no slope towards it. Both are linear in it.
    fn sharpened(&self, rough: DVector<f64>) -> DVector<f64> {
        let mut at = rough;
        for _ in 0..SHARPENINGS {
            let slopes = self.derivatives(&at);
            let eigen = (&slopes * slopes.transpose()).symmetric_eigen();
            let flat = (SINGULAR * self.scale).powi(2);
            let mut square = slopes.tr_mul(&slopes);
            for (value, parts) in eigen
                .eigenvalues
                .iter()
                .zip(eigen.eigenvectors.column_iter())
            {
                if *value <= flat {
                    let terms = self.forms.iter().zip(parts.iter());
                    let zero = DMatrix::zeros(self.dimension, self.dimension);
                    let form = terms.fold(zero, |sum, (form, part)| sum + form * *part);
                    square += &form * &form;
                }
            }
            let eigen = square.symmetric_eigen();
            let next = eigen
                .eigenvectors
                .column(eigen.eigenvalues.imin())
                .into_owned();
            let better = self.values(&next).norm() < self.values(&at).norm();
            if !better || apart(&next, &at) > SAME {
                break;
            }
            at = next;
        }
        at
    }

    fn zero(&self, direction: DVector<f64>) -> Zero {
        let svd = self.derivatives(&direction).svd(false, true);
        let kept = |value: &&f64| **value > SINGULAR * self.scale;
        let rank = svd.singular_values.iter().filter(kept).count();
        let family = rank + 1 < self.dimension && self.leads_on(&direction);
        Zero {
            regular: rank == self.forms.len(),
            direction,
            family,
        }
    }

    /// Whether there are other zeros all the way from one.
    fn leads_on(&self, from: &DVector<f64>) -> bool {
        let slopes = self.derivatives(from);
        let eigen = slopes.tr_mul(&slopes).symmetric_eigen();
        let flat = (0..self.dimension)
            .filter(|i| eigen.eigenvalues[*i] <= (SINGULAR * self.scale).powi(2))
            .map(|i| eigen.eigenvectors.column(i).into_owned());
        let flat: Vec<DVector<f64>> = flat.collect();
        // The zero itself is one of them: steps are square to it.
        flat.iter()
            .map(|step| step - from * from.dot(step))
            .filter(|step| step.norm() > SINGULAR)
            .any(|step| {
                let next = self.near(&(from + step.normalize() * ALONG));
                next.is_some_and(|next| apart(from, &next) > STILL_ALONG)
            })
    }
}

/// Whether a form is proven to have no zero in a cell of a face of the cube.
fn differs(form: &DMatrix<f64>, face: usize, middle: &DVector<f64>, half: f64) -> bool {
    let slope = form * middle * 2.0;
    let free = || (0..middle.len()).filter(move |i| *i != face);
    let first: f64 = free().map(|i| slope[i].abs()).sum();
    let second: f64 = free()
        .map(|i| free().map(|j| form[(i, j)].abs()).sum::<f64>())
        .sum();
    let rounding = f64::EPSILON * form.norm() * middle.len() as f64;
    middle.dot(&(form * middle)).abs() > first * half + second * half * half + rounding
}

/// Distance of two directions.
pub(super) fn apart(one: &DVector<f64>, other: &DVector<f64>) -> f64 {
    (one - other).norm().min((one + other).norm())
}

/// Directions all over a space: combinations of its axes with coefficients −1, 0 and 1.
fn corners(dimension: usize) -> Vec<DVector<f64>> {
    let count = 3_usize.pow(dimension as u32);
    let corner = |code: usize| {
        let digit = |i: usize| (code / 3_usize.pow(i as u32) % 3) as f64 - 1.0;
        DVector::from_fn(dimension, |i, _| digit(i))
    };
    // The other half are the same directions.
    (count / 2 + 1..count).map(corner).collect()
}

/// All that stand alone, and of the families a few members that are far from each other, plain ones first.
fn thinned(found: Vec<Zero>) -> Vec<Zero> {
    let (mut family, mut kept): (Vec<Zero>, Vec<Zero>) =
        found.into_iter().partition(|zero| zero.family);
    for _ in 0..MEMBERS {
        let distance = |zero: &Zero| {
            let others = kept
                .iter()
                .map(|other| apart(&zero.direction, &other.direction));
            others.fold(2.0, f64::min)
        };
        let farthest = (0..family.len())
            .max_by(|i, j| distance(&family[*i]).total_cmp(&distance(&family[*j])));
        let Some(farthest) = farthest else {
            break;
        };
        kept.push(family.swap_remove(farthest));
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn form(entries: &[f64]) -> DMatrix<f64> {
        let size = entries.len().isqrt();
        DMatrix::from_row_slice(size, size, entries)
    }

    fn directions(zeros: &Zeros) -> Vec<Vec<f64>> {
        let scaled = zeros.list.iter().map(|zero| {
            let largest = zero.direction[zero.direction.iamax()];
            (&zero.direction / largest)
                .iter()
                .map(|x| (x * 1e6).round() / 1e6 + 0.0)
                .collect()
        });
        let mut list: Vec<Vec<f64>> = scaled.collect();
        list.sort_by(|a, b| a.partial_cmp(b).expect("finite"));
        list
    }

    /// x² − 3 x y + 2 y² = (x − y)(x − 2 y).
    #[test]
    fn two_lines_of_a_form_in_the_plane_are_found() {
        let zeros = Quadrics::zeros(&[form(&[1.0, -1.5, -1.5, 2.0])]).unwrap();
        assert!(
            zeros.searched == Searched::All
                && zeros.list.iter().all(|zero| zero.regular && !zero.family)
        );
        assert_eq!(directions(&zeros), [[1.0, 0.5], [1.0, 1.0]]);
    }

    #[test]
    fn a_double_line_is_found_and_is_not_regular() {
        let zeros = Quadrics::zeros(&[form(&[1.0, -1.0, -1.0, 1.0])]).unwrap();
        assert_eq!(directions(&zeros), [[1.0, 1.0]]);
        assert!(!zeros.list[0].regular && !zeros.list[0].family);
        assert!(
            Quadrics::zeros(&[form(&[1.0, -0.9, -0.9, 1.0])])
                .unwrap()
                .list
                .is_empty()
        );
    }

    /// The circle x² + y² = z² and the lines x² = y² meet in four points; with x y = 0.4 z² only near none.
    #[test]
    fn conics_meet_in_all_their_points() {
        let circle = form(&[1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, -1.0]);
        let lines = form(&[1.0, 0.0, 0.0, 0.0, -1.0, 0.0, 0.0, 0.0, 0.0]);
        let zeros = Quadrics::zeros(&[circle.clone(), lines.clone()]).unwrap();
        assert_eq!(zeros.list.len(), 4);
        assert!(zeros.list.iter().all(|zero| zero.regular && !zero.family));
        let other = form(&[0.0, 1.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, -0.8]);
        let none = Quadrics::zeros(&[circle, lines, other]).unwrap();
        assert!(none.searched == Searched::All && none.list.is_empty());
    }

    #[test]
    fn a_cone_is_a_family() {
        let circle = form(&[1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, -1.0]);
        let zeros = Quadrics::zeros(&[circle]).unwrap();
        assert_eq!(zeros.list.len(), MEMBERS);
        assert!(zeros.list.iter().all(|zero| zero.regular && zero.family));
    }

    #[test]
    fn larger_spaces_are_searched() {
        let zeros = Quadrics::zeros(&[DMatrix::from_diagonal(&DVector::from_vec(vec![
            1.0, 1.0, 1.0, -1.0,
        ]))])
        .unwrap();
        assert!(zeros.searched == Searched::FromStarts && !zeros.list.is_empty());
    }
}
