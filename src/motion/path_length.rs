//! The length of the way of the body's reference point.

use super::constraints::Constraints;
use super::node::PathNode;

/// A length, and by how much it may be wrong.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PathLength {
    /// Length of the way, m.
    pub length: f64,
    /// Estimate of its error, m.
    pub error: f64,
}

/// How often a step is halved.
const HALVINGS: usize = 3;

/// Length of the way along placements: of each step the sum of ever shorter chords, extrapolated. (Romberg 1955: the
/// error of chords along a smooth way has even powers of their length.)
pub(super) fn way(constraints: &Constraints, rank: usize, nodes: &[PathNode]) -> PathLength {
    let none = PathLength {
        length: 0.0,
        error: 0.0,
    };
    nodes.windows(2).fold(none, |sum, pair| {
        let step = step(constraints, rank, pair);
        PathLength {
            length: sum.length + step.length,
            error: sum.error + step.error,
        }
    })
}

fn step(constraints: &Constraints, rank: usize, pair: &[PathNode]) -> PathLength {
    let finest = 1 << HALVINGS;
    let [first, last] = [0, 1].map(|i: usize| constraints.centre(&pair[i].pose));
    let inner = (1..finest).map(|i| {
        let part = f64::from(i) / f64::from(finest);
        let trial = pair[0].trial(constraints, rank, pair[0].step * part);
        let straight = first + (last - first) * part;
        trial.map_or(straight, |trial| constraints.centre(&trial.foothold.pose))
    });
    let points: Vec<_> = [first].into_iter().chain(inner).chain([last]).collect();
    let chords = |every: usize| -> f64 {
        let points: Vec<_> = points.iter().step_by(every).collect();
        points
            .windows(2)
            .map(|pair| (pair[1] - pair[0]).norm())
            .sum()
    };
    let mut row: Vec<f64> = (0..=HALVINGS)
        .map(|halved| chords(1 << (HALVINGS - halved)))
        .collect();
    let mut before = 0.0;
    for order in 1..=HALVINGS {
        before = row[HALVINGS];
        let gain = f64::from(1 << (2 * order)) - 1.0;
        for i in (order..=HALVINGS).rev() {
            row[i] += (row[i] - row[i - 1]) / gain;
        }
    }
    PathLength {
        length: row[HALVINGS],
        error: (row[HALVINGS] - before).abs(),
    }
}
