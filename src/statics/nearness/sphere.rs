//! The least value of a function of unit vectors, without its derivatives: in one to three dimensions.

use nalgebra::{DMatrix, DVector};

/// Directions tried before the best are followed up.
const SCATTER: usize = 40;
/// The search begins with steps of this angle, rad, and ends below the next; each time they get so many times shorter.
const LONGEST: f64 = 0.2;
const FINEST: f64 = 1e-5;
const SHORTER: f64 = 8.0;
/// It looks around so many times at most: what has not been found by then is told as found so far.
const MOST_LOOKS: usize = 100;
/// A value is lower than another where it is so by more than this part of it.
const WORTH: f64 = 1e-9;

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

/// Steps across the sphere to where it is lowest around; where it is not lower anywhere, to the bottom of the parabola
/// through the places around, and on with much shorter steps. Where a step led down, leaps follow along the way come by.
///
/// (The leaps are the pattern moves of Hooke & Jeeves 1961: without them, steps of the finest size would follow a bent valley
/// all the way.)
pub(super) fn descend(
    cost: &impl Fn(&DVector<f64>) -> f64,
    value: f64,
    start: DVector<f64>,
) -> DVector<f64> {
    let (mut best, mut at, mut step) = (value, start, LONGEST);
    let mut before = at.clone();
    for _ in 0..MOST_LOOKS {
        if step <= FINEST || at.len() < 2 {
            break;
        }
        let around = Around::look(cost, &at, best, step);
        let neighbour = around.best_neighbour();
        if is_lower(neighbour.0, best) {
            let next = leap(cost, &before, neighbour);
            before = std::mem::replace(&mut at, next.1);
            best = next.0;
            continue;
        }
        let bottom = around.bottom(cost, &at);
        if let Some((value, next)) = bottom.filter(|(value, _)| *value < best) {
            (best, at) = (value, next);
        }
        before = at.clone();
        step /= SHORTER;
    }
    at
}

fn is_lower(value: f64, than: f64) -> bool {
    value < than - than.abs() * WORTH || (than.is_infinite() && value.is_finite())
}

/// On from a place along the way from an earlier one, twice as far each time, for as long as that leads down.
fn leap(
    cost: &impl Fn(&DVector<f64>) -> f64,
    earlier: &DVector<f64>,
    (mut best, mut at): (f64, DVector<f64>),
) -> (f64, DVector<f64>) {
    let mut stride = &at - earlier;
    while stride.norm() < LONGEST {
        let next = (&at + &stride).normalize();
        let value = cost(&next);
        if !is_lower(value, best) {
            break;
        }
        (best, at) = (value, next);
        stride *= 2.0;
    }
    (best, at)
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

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::*;

    /// How far the descent from a start ends above 0, the least value, and how often it asks.
    fn descent(cost: impl Fn(&DVector<f64>) -> f64, start: [f64; 3]) -> (f64, usize) {
        let asked = Cell::new(0);
        let counted = |at: &DVector<f64>| {
            asked.set(asked.get() + 1);
            cost(at)
        };
        let start = DVector::from_row_slice(&start).normalize();
        let end = descend(&counted, cost(&start), start);
        (cost(&end), asked.get())
    }

    /// Along a bent valley, steps of the finest size once went all the way: a second and a half for one hatch.
    #[test]
    fn a_bent_valley_is_not_crept_along() {
        // Rosenbrock's valley, 1960, laid on the sphere.
        let valley = |at: &DVector<f64>| {
            let (x, y) = (at[0], at[1]);
            1e4 * (y - 2.0 * x * x).powi(2) + (x - 0.5).powi(2)
        };
        let (left, asked) = descent(valley, [-0.3, 0.3, 0.9]);
        assert!(asked < 1500, "{asked}");
        // It begins at 0.64 on the floor of the valley, and much higher beside it.
        assert!(left < 0.5, "{left}");
    }

    #[test]
    fn a_smooth_bowl_is_descended_to_its_bottom() {
        let bowl = |at: &DVector<f64>| {
            let (x, y) = (at[0] - 0.3, at[1] + 0.2);
            (x * x + 30.0 * y * y + 5.0 * x * y).sqrt()
        };
        let (left, asked) = descent(bowl, [-0.6, 0.7, 0.3]);
        assert!(left < 1e-4, "{left}");
        assert!(asked < 500, "{asked}");
    }
}
