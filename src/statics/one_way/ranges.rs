//! How far each reaction can vary while all that push or pull one way only keep doing so.

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome, Variable};
use nalgebra::{DMatrix, DVector};

/// Smallest and largest value; infinite where nothing bounds it.
pub(super) type ValueBounds = (f64, f64);

/// A self-stress entry below this plays no part.
const NO_PART: f64 = 1e-9;
/// Limit of each self-stress, times the load: far beyond what any support bears.
const WIDE: f64 = 1e6;
/// A value grows without end where self-stresses of size one alone change it by more than this.
const GROWS: f64 = 1e-6;
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
) -> Vec<Option<ValueBounds>> {
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
) -> ValueBounds {
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
) -> Option<ValueBounds> {
    let end = |direction| extreme(balanced, stresses, one_way, j, direction);
    Some((
        end(OptimizationDirection::Minimize)?,
        end(OptimizationDirection::Maximize)?,
    ))
}

/// Endless where the value can grow without end; else the linear program within wide limits.
///
/// Both are bounded: of an unbounded one, a simplex in floating point may not see that it is.
fn extreme(
    balanced: &DVector<f64>,
    stresses: &DMatrix<f64>,
    one_way: &[bool],
    j: usize,
    direction: OptimizationDirection,
) -> Option<f64> {
    let nothing = DVector::zeros(balanced.len());
    let growth = optimum(&nothing, stresses, one_way, j, direction, 1.0)?;
    if growth.abs() > GROWS {
        return Some(endless(direction));
    }
    optimum(balanced, stresses, one_way, j, direction, WIDE)
}

fn endless(direction: OptimizationDirection) -> f64 {
    match direction {
        OptimizationDirection::Minimize => f64::NEG_INFINITY,
        OptimizationDirection::Maximize => f64::INFINITY,
    }
}

fn optimum(
    balanced: &DVector<f64>,
    stresses: &DMatrix<f64>,
    one_way: &[bool],
    j: usize,
    direction: OptimizationDirection,
    limit: f64,
) -> Option<f64> {
    let part = |x: f64| if x.abs() > NO_PART { x } else { 0.0 };
    let mut problem = Problem::new(direction);
    let variables: Vec<Variable> = stresses
        .row(j)
        .iter()
        .map(|gain| problem.add_var(part(*gain), (-limit, limit)))
        .collect();
    for i in (0..balanced.len()).filter(|i| one_way[*i]) {
        let gains = stresses.row(i);
        let all = variables.iter().copied().zip(gains.iter().copied());
        let terms: Vec<(Variable, f64)> = all.filter(|(_, gain)| part(*gain) != 0.0).collect();
        problem.add_constraint(&terms[..], ComparisonOp::Ge, -balanced[i]);
    }
    match problem.solve().map(SolveOutcome::into_solution) {
        Ok(Ok(solution)) => {
            let y = variables.iter().map(|v| solution.var_value(*v));
            let x = balanced + stresses * DVector::from_iterator(variables.len(), y);
            let allowed = -BROKEN * x.amax().max(1.0);
            let mut signs = x.iter().zip(one_way);
            signs
                .all(|(x, one_way)| !one_way || *x >= allowed)
                .then_some(x[j])
        }
        _ => None,
    }
}
