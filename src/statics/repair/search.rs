//! The link among many that leaves the largest smallest singular value.

use nalgebra::{Matrix3, SMatrix, Vector3, Vector6};

use super::places::Spot;
use super::secular::{Held, after_adding};
use crate::scene::Space;
use crate::statics::matrix::extend;
use crate::statics::model::Model;
use crate::statics::rank::NumericRank;

/// A link that a search has found: the place by its index, the direction in whole numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Found {
    pub(super) spot: usize,
    pub(super) direction: [i64; 3],
    /// Smallest singular value that counts with the link, about the model's reference point and length.
    pub(super) smallest: f64,
}

/// What the supports hold and leave free, in the orthonormal left singular vectors.
pub(super) struct Field {
    /// Singular vectors, 6 × 6; in the plane those that it lacks are zero.
    vectors: Vec<Vector6<f64>>,
    squares: Vec<f64>,
    reference: nalgebra::Point3<f64>,
    length: f64,
    space: Space,
}

/// A plainer link is taken when it is worse by no more than this part.
const PLAINER: f64 = 0.02;

impl Field {
    pub(super) fn new(model: &Model, numeric: &NumericRank) -> Self {
        let left = &numeric.svd.left;
        Self {
            vectors: (0..left.ncols())
                .map(|i| extend(&left.column(i).into_owned(), model.space))
                .collect(),
            squares: numeric.singular_values[..numeric.rank]
                .iter()
                .map(|value| value * value)
                .collect(),
            reference: model.reference,
            length: model.length,
            space: model.space,
        }
    }

    /// The best link, or one a little worse and plainer; and how many were tried. `None` where none does any work on a
    /// free motion.
    pub(super) fn best(&self, spots: &[Spot]) -> (Option<Found>, usize) {
        let directions = directions(self.space);
        let tried = spots.len() * directions.len();
        let maps: Vec<Map> = spots.iter().map(|spot| self.map(spot)).collect();
        let mut best = self.scan(&maps, &directions, self.floor());
        if let Some(top) = best {
            best = Some(self.plainest(&maps, &directions, spots, top));
        }
        (best, tried)
    }

    /// Below this a column does no work on a free motion but for rounding.
    fn floor(&self) -> f64 {
        1e-12
    }

    /// From a direction at a place to the column's parts along the singular vectors.
    fn map(&self, spot: &Spot) -> Map {
        let arm = (spot.point - self.reference) / self.length;
        let mut map = Map::zeros();
        for (i, vector) in self.vectors.iter().enumerate() {
            let (force, moment) = (vector.fixed_rows::<3>(0), vector.fixed_rows::<3>(3));
            // u · (n; a × n) = (u_f + u_m × a) · n.
            let row = force.into_owned() + moment.into_owned().cross(&arm);
            map.set_row(i, &row.transpose());
        }
        map
    }

    fn scan(&self, maps: &[Map], directions: &[[i64; 3]], floor: f64) -> Option<Found> {
        let units: Vec<Vector3<f64>> = directions.iter().map(unit).collect();
        let mut best: Option<Found> = None;
        let mut weights = self.weights(floor);
        let mut bar = floor;
        for (spot, map) in maps.iter().enumerate() {
            let mut form = self.form(map, &weights);
            for (index, direction) in units.iter().enumerate() {
                if bar + direction.dot(&(form * direction)) < 0.0 {
                    let square = self.square(map, direction);
                    if square > bar {
                        bar = square;
                        weights = self.weights(bar);
                        form = self.form(map, &weights);
                        best = Some(Found {
                            spot,
                            direction: directions[index],
                            smallest: square.sqrt(),
                        });
                    }
                }
            }
        }
        best
    }

    /// Of the links that do nearly as well as the best, the plainest; of equally plain ones the best.
    fn plainest(&self, maps: &[Map], directions: &[[i64; 3]], spots: &[Spot], top: Found) -> Found {
        let bar = (top.smallest * (1.0 - PLAINER)).powi(2);
        let units: Vec<Vector3<f64>> = directions.iter().map(unit).collect();
        let weights = self.weights(bar);
        let plainness = |spot: usize, direction: &[i64; 3]| {
            let size: i64 = direction.iter().map(|x| x.abs()).sum();
            (spots[spot].name.is_none(), size)
        };
        let (mut plainest, mut found) = (plainness(top.spot, &top.direction), top);
        for (spot, map) in maps.iter().enumerate() {
            let form = self.form(map, &weights);
            for (unit, direction) in units.iter().zip(directions) {
                let plain = plainness(spot, direction);
                if plain > plainest || bar + unit.dot(&(form * unit)) >= 0.0 {
                    continue;
                }
                let smallest = self.square(map, unit).sqrt();
                if plain < plainest || smallest > found.smallest {
                    plainest = plain;
                    found = Found {
                        spot,
                        direction: *direction,
                        smallest,
                    };
                }
            }
        }
        found
    }

    /// The secular function at `bar` is `bar + Σ kᵢ yᵢ²`: the root lies beyond the bar where this is negative.
    fn weights(&self, bar: f64) -> [f64; 6] {
        std::array::from_fn(|i| match self.squares.get(i) {
            // With the bar at the smallest square or beyond, interlacing lets nothing pass.
            Some(square) if *square <= bar => f64::INFINITY,
            Some(square) => bar / (square - bar),
            None => -1.0,
        })
    }

    /// The same as a form on directions at one place: `Σ kᵢ aᵢ aᵢᵗ`.
    fn form(&self, map: &Map, weights: &[f64; 6]) -> Matrix3<f64> {
        let rows = map.row_iter().zip(weights).take(self.vectors.len());
        rows.fold(Matrix3::zeros(), |sum, (row, weight)| {
            let row = row.transpose();
            // A weight beyond all bounds counts as one that nothing outweighs.
            sum + row * row.transpose() * weight.min(f64::MAX / 1e6)
        })
    }

    fn square(&self, map: &Map, direction: &Vector3<f64>) -> f64 {
        let along = map * direction;
        let mut held = [Held {
            square: 0.0,
            along: 0.0,
        }; 6];
        let rank = self.squares.len();
        for (i, part) in held[..rank].iter_mut().enumerate() {
            *part = Held {
                square: self.squares[i],
                along: along[i] * along[i],
            };
        }
        let free = along.rows(rank, 6 - rank).norm_squared();
        after_adding(&held[..rank], free)
    }
}

/// Rows for the singular vectors, columns for the components of a direction.
type Map = SMatrix<f64, 6, 3>;

fn unit(direction: &[i64; 3]) -> Vector3<f64> {
    Vector3::from(direction.map(|x| x as f64)).normalize()
}

/// Largest whole number in a direction, in space and in the plane.
const LARGEST: i64 = 3;
const LARGEST_IN_PLANE: i64 = 6;

/// Lines of directions in small whole numbers without a common divisor, one of the two senses of each.
fn directions(space: Space) -> Vec<[i64; 3]> {
    let (most, deep) = match space {
        Space::Spatial => (LARGEST, LARGEST),
        Space::Planar => (LARGEST_IN_PLANE, 0),
    };
    let mut all = Vec::new();
    for x in -most..=most {
        for y in -most..=most {
            for z in -deep..=deep {
                let first = [x, y, z].into_iter().find(|c| *c != 0);
                let common = divisor(divisor(x.abs(), y.abs()), z.abs());
                if common == 1 && first.is_some_and(|c| c > 0) {
                    all.push([x, y, z]);
                }
            }
        }
    }
    all
}

fn divisor(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { divisor(b, a % b) }
}
