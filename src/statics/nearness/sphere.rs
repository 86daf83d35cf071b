//! The least value of a function of unit vectors, without its derivatives: in one to three dimensions.

use nalgebra::{DMatrix, DVector};

/// Directions tried before the best are followed up.
const SCATTER: usize = 40;
/// The search begins with steps of this angle, rad, and ends below the next; each time they get so many times shorter.
const LONGEST: f64 = 0.2;
const FINEST: f64 = 1e-5;
const SHORTER: f64 = 8.0;

/// Unit vectors spread over half of a sphere of one to three dimensions.
pub(super) fn scattered(dimension: usize) -> Vec<DVector<f64>> {
    let golden = std::f64::consts::PI * (3.0 - 5.0_f64.sqrt());
    match dimension {
        0 => Vec::new(),
        1 => vec![DVector::from_element(1, 1.0)],
        2 => (0..SCATTER)
            .map(|i| std::f64::consts::PI * i as f64 / SCATTER as f64)
            .map(|angle| DVector::from_vec(vec![angle.cos(), angle.sin()]))
            .collect(),
        _ => (0..SCATTER)
            .map(|i| {
                let height = 1.0 - i as f64 / SCATTER as f64;
                let radius = (1.0 - height * height).max(0.0).sqrt();
                let (sine, cosine) = (golden * i as f64).sin_cos();
                DVector::from_vec(vec![radius * cosine, radius * sine, height])
            })
            .collect(),
    }
}

/// Steps across the sphere to the best neighbour; where there is none, to the bottom of the parabola through them,
/// and on with much shorter steps.
pub(super) fn descend(
    cost: &impl Fn(&DVector<f64>) -> f64,
    value: f64,
    start: DVector<f64>,
) -> DVector<f64> {
    let (mut best, mut at, mut step) = (value, start, LONGEST);
    while step > FINEST && at.len() > 1 {
        let around = Around::look(cost, &at, best, step);
        let (value, next) = around.best_neighbour();
        if value < best {
            (best, at) = (value, next);
            continue;
        }
        let bottom = around.bottom(cost, &at);
        if let Some((value, next)) = bottom.filter(|(value, _)| *value < best) {
            (best, at) = (value, next);
        }
        step /= SHORTER;
    }
    at
}

/// Values of a function on a sphere one step to each side of a place.
struct Around {
    value: f64,
    step: f64,
    tangents: Vec<DVector<f64>>,
    /// Ahead and back along each tangent.
    neighbours: Vec<[(f64, DVector<f64>); 2]>,
}

impl Around {
    fn look(
        cost: &impl Fn(&DVector<f64>) -> f64,
        at: &DVector<f64>,
        value: f64,
        step: f64,
    ) -> Self {
        let tangents = tangents(at);
        let look = |across: &DVector<f64>| {
            [step, -step].map(|step| {
                let next = (at + across * step).normalize();
                (cost(&next), next)
            })
        };
        Self {
            value,
            step,
            neighbours: tangents.iter().map(look).collect(),
            tangents,
        }
    }

    fn best_neighbour(&self) -> (f64, DVector<f64>) {
        let all = self.neighbours.iter().flatten();
        let best = all.min_by(|a, b| a.0.total_cmp(&b.0));
        best.map_or((f64::INFINITY, DVector::zeros(0)), Clone::clone)
    }

    /// The lowest point of the quadratic function with these values; `None` where it has none nearby.
    fn bottom(
        &self,
        cost: &impl Fn(&DVector<f64>) -> f64,
        at: &DVector<f64>,
    ) -> Option<(f64, DVector<f64>)> {
        let count = self.tangents.len();
        let slopes = self
            .neighbours
            .iter()
            .map(|[ahead, back]| (ahead.0 - back.0) / 2.0);
        let slopes = DVector::from_iterator(count, slopes);
        let mut bends = DMatrix::from_fn(count, count, |i, j| {
            let [ahead, back] = &self.neighbours[i];
            if i == j {
                ahead.0 + back.0 - 2.0 * self.value
            } else {
                0.0
            }
        });
        if let [first, second] = self.tangents.as_slice() {
            let corner = (at + (first + second) * self.step).normalize();
            let sides: f64 = self.neighbours.iter().map(|[ahead, _]| ahead.0).sum();
            let mixed = cost(&corner) + self.value - sides;
            (bends[(0, 1)], bends[(1, 0)]) = (mixed, mixed);
        }
        let steps = -bends.cholesky()?.solve(&slopes);
        let near = steps.amax() <= 1.0;
        near.then(|| {
            let shift: DVector<f64> = self
                .tangents
                .iter()
                .zip(steps.iter())
                .fold(DVector::zeros(at.len()), |sum, (t, x)| {
                    sum + t * (*x * self.step)
                });
            let next = (at + shift).normalize();
            (cost(&next), next)
        })
    }
}

/// Orthonormal directions across a unit vector.
fn tangents(at: &DVector<f64>) -> Vec<DVector<f64>> {
    let mut basis = vec![at.clone()];
    let mut order: Vec<usize> = (0..at.len()).collect();
    order.sort_by(|i, j| at[*i].abs().total_cmp(&at[*j].abs()));
    for axis in order.into_iter().take(at.len() - 1) {
        let mut unit = DVector::zeros(at.len());
        unit[axis] = 1.0;
        basis.push(without(&unit, &basis).normalize());
    }
    basis.split_off(1)
}

/// The part of a vector that is square to orthonormal ones.
pub(super) fn without(vector: &DVector<f64>, orthonormal: &[DVector<f64>]) -> DVector<f64> {
    // Twice, so that what is left is square to them even where it is small.
    (0..2).fold(vector.clone(), |rest, _| {
        orthonormal
            .iter()
            .fold(rest.clone(), |rest, unit| &rest - unit * unit.dot(&rest))
    })
}
