//! Columns reduced to a maximal independent set, and the others as combinations of it.

use nalgebra::{Matrix6, Vector6};

/// Coefficients below this, relative to the largest, are rounding.
pub(super) const ABSENT: f64 = 1e-7;

/// Columns stand out alike when their lengths differ by no more than this part.
const ALIKE: f64 = 1e-9;

/// Columns in echelon form: a maximal independent set, and the others as combinations of it.
pub(super) struct Echelon {
    /// Indices of the independent columns, in the order they were chosen.
    pub(super) independent: Vec<usize>,
    /// Whether a column was chosen.
    chosen: Vec<bool>,
    /// First `rank` columns: inverse of the chosen ones, restricted to their span.
    reduce: Matrix6<f64>,
}

/// When the search for independent columns ends.
#[derive(Debug, Clone, Copy)]
pub(super) enum SearchEnd {
    /// At a rank that is known.
    AtRank(usize),
    /// Where what is left of every column is below this, relative to the largest column.
    Below(f64),
}

impl Echelon {
    /// Picks independent columns, each time the one that stands out most.
    pub(super) fn new(columns: &[Vector6<f64>], stop: SearchEnd) -> Self {
        let mut rest = columns.to_vec();
        let mut independent = Vec::new();
        let mut chosen = vec![false; columns.len()];
        let largest = rest.iter().map(|c| c.norm()).fold(0.0, f64::max);
        let (most, tolerance) = match stop {
            SearchEnd::AtRank(rank) => (rank, 0.0),
            SearchEnd::Below(tolerance) => (6, tolerance),
        };
        while independent.len() < most {
            let most = rest.iter().map(|c| c.norm()).fold(0.0, f64::max);
            // The first of those that stand out most to within rounding.
            let next = rest
                .iter()
                .position(|column| column.norm() >= most * (1.0 - ALIKE))
                .filter(|_| most > tolerance * largest)
                .map(|index| (index, rest[index].normalize()));
            let Some((index, unit)) = next else { break };
            independent.push(index);
            chosen[index] = true;
            for column in &mut rest {
                *column -= unit * unit.dot(column);
            }
        }
        let reduce = inverse(columns, &independent);
        Self {
            independent,
            chosen,
            reduce,
        }
    }

    /// The circuit that a column not chosen makes with the chosen ones, in no order and with rounding for zeros.
    pub(super) fn circuit(&self, columns: &[Vector6<f64>], index: usize) -> Vec<(usize, f64)> {
        let combination = self.reduced(&columns[index]);
        let mut stress: Vec<(usize, f64)> = self
            .independent
            .iter()
            .enumerate()
            .map(|(row, i)| (*i, -combination[row]))
            .collect();
        stress.push((index, 1.0));
        stress
    }

    /// A vector as a combination of the independent columns, in their order.
    pub(super) fn reduced(&self, vector: &Vector6<f64>) -> Vector6<f64> {
        self.reduce * vector
    }

    /// The columns not chosen.
    pub(super) fn spare(&self) -> impl Iterator<Item = usize> {
        let chosen = self.chosen.iter().enumerate();
        chosen.filter(|(_, chosen)| !**chosen).map(|(i, _)| i)
    }
}

/// Left inverse of independent columns, in the first rows.
fn inverse(columns: &[Vector6<f64>], independent: &[usize]) -> Matrix6<f64> {
    // Square up with directions outside the span, which no column has a part in.
    let mut units: Vec<Vector6<f64>> = Vec::with_capacity(6);
    let mut full = Matrix6::zeros();
    for (slot, index) in independent.iter().enumerate() {
        full.set_column(slot, &columns[*index]);
        units.extend(outside(&columns[*index], &units));
    }
    for slot in independent.len()..6 {
        let unit = (0..6)
            .filter_map(|row| outside(&Vector6::ith(row, 1.0), &units).map(|u| (row, u)))
            .max_by(|(i, a), (j, b)| a[*i].abs().total_cmp(&b[*j].abs()))
            .map(|(_, unit)| unit);
        if let Some(unit) = unit {
            full.set_column(slot, &unit);
            units.push(unit);
        }
    }
    full.try_inverse().unwrap_or_else(Matrix6::zeros)
}

/// What orthonormal vectors leave of one, made a unit.
fn outside(vector: &Vector6<f64>, units: &[Vector6<f64>]) -> Option<Vector6<f64>> {
    let mut rest = *vector;
    for _ in 0..2 {
        for unit in units {
            rest -= unit * unit.dot(&rest);
        }
    }
    rest.try_normalize(ABSENT * ABSENT * vector.norm())
}
