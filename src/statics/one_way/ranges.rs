//! How far each reaction can vary while all that push or pull one way only keep doing so.

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome, Variable};
use nalgebra::{DMatrix, DVector};

/// Smallest and largest value; infinite where nothing bounds it.
pub(super) type Bounds = (f64, f64);

/// A self-stress entry below this plays no part.
const NO_PART: f64 = 1e-9;
/// An optimum is accepted when it breaks no sign by more than this, relative to the load.
const BROKEN: f64 = 1e-7;

/// Ranges of `x = balanced + stresses · y` over all y that leave `x ≥ 0` where `one_way`.
///
/// `balanced` is one such x for a load of size one; `stresses` are orthonormal self-stresses as columns. A range
/// is `None` where a linear program gave no answer that holds when put back.
pub(super) fn ranges(
    balanced: &DVector<f64>,
    stresses: &DMatrix<f64>,
    one_way: &[bool],
) -> Vec<Option<Bounds>> {
    let fixed = |j: usize| stresses.row(j).norm() <= NO_PART;
    (0..balanced.len())
        .map(|j| {
            if fixed(j) {
                return Some((balanced[j], balanced[j]));
            }
            match stresses.ncols() {
                1 => Some(along_one(balanced, stresses, one_way, j)),
                _ => along_many(balanced, stresses, one_way, j),
            }
        })
        .collect()
}

/// With one self-stress the range of y is an interval.
fn along_one(
    balanced: &DVector<f64>,
    stresses: &DMatrix<f64>,
    one_way: &[bool],
    j: usize,
) -> Bounds {
    let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
    for i in (0..balanced.len()).filter(|i| one_way[*i]) {
        let slope = stresses[(i, 0)];
        let limit = -balanced[i] / slope;
        if slope > NO_PART {
            low = low.max(limit);
        } else if slope < -NO_PART {
            high = high.min(limit);
        }
    }
    let at = |y: f64| balanced[j] + stresses[(j, 0)] * y;
    let (a, b) = (at(low), at(high));
    (a.min(b), a.max(b))
}

fn along_many(
    balanced: &DVector<f64>,
    stresses: &DMatrix<f64>,
    one_way: &[bool],
    j: usize,
) -> Option<Bounds> {
    let end = |direction| extreme(balanced, stresses, one_way, j, direction);
    Some((
        end(OptimizationDirection::Minimize)?,
        end(OptimizationDirection::Maximize)?,
    ))
}

fn extreme(
    balanced: &DVector<f64>,
    stresses: &DMatrix<f64>,
    one_way: &[bool],
    j: usize,
    direction: OptimizationDirection,
) -> Option<f64> {
    let mut problem = Problem::new(direction);
    let variables: Vec<Variable> = stresses
        .row(j)
        .iter()
        .map(|gain| problem.add_var(*gain, (f64::NEG_INFINITY, f64::INFINITY)))
        .collect();
    for i in (0..balanced.len()).filter(|i| one_way[*i]) {
        let terms: Vec<(Variable, f64)> = variables
            .iter()
            .copied()
            .zip(stresses.row(i).iter().copied())
            .filter(|(_, part)| part.abs() > NO_PART)
            .collect();
        problem.add_constraint(&terms[..], ComparisonOp::Ge, -balanced[i]);
    }
    let unbounded = match direction {
        OptimizationDirection::Minimize => f64::NEG_INFINITY,
        OptimizationDirection::Maximize => f64::INFINITY,
    };
    match problem.solve().map(SolveOutcome::into_solution) {
        Ok(Ok(solution)) => {
            let y = DVector::from_iterator(
                variables.len(),
                variables.iter().map(|v| solution.var_value(*v)),
            );
            let x = balanced + stresses * y;
            let sound = x
                .iter()
                .zip(one_way)
                .all(|(x, one_way)| !one_way || *x >= -BROKEN);
            sound.then_some(x[j])
        }
        Err(microlp::Error::Unbounded) => Some(unbounded),
        _ => None,
    }
}
