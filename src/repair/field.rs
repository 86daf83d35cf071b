//! What a link at any place would leave: the smallest singular value of the scene that has it.
//!
//! A scene is measured about the mean of its support points and by their spread, so a link changes both. At a fixed place
//! the new measure is fixed too, and the reactions that are there count by no more than six forces and six couples.

use std::collections::HashSet;

use nalgebra::{DMatrix, Matrix3, Point3, SMatrix, Vector3, Vector6};

use super::secular::{HeldDirection, after_adding};
use crate::scene::{Scene, Space};
use crate::statics::NumericRank;
use crate::statics::{Model, ReactionKind};
use crate::statics::{ScaledWrench, WideSvd, Wrench, orthogonalise_rows};
use crate::statics::{extend, restrict, rows_of, scaled_column};

/// What the supports of a model hold, ready to be measured with one more link.
pub(super) struct HeldField {
    /// Left singular vectors times their singular values of the forces alone, about the model's reference point and by its
    /// length, and of the couples alone, whose columns no measure changes.
    forces: Vec<ScaledWrench>,
    couples: Vec<ScaledWrench>,
    rank: usize,
    reference: Point3<f64>,
    length: f64,
    /// Distinct points of supports, m, and the sum of their squared distances from the reference point.
    places: Vec<Point3<f64>>,
    spread: f64,
    /// Points of the body, which give the length where supports do not.
    body: Vec<Point3<f64>>,
    space: Space,
    /// Squares of singular values that count are above this.
    pub(super) floor: f64,
}

/// Columns of forces and of couples together, at most.
const MOST: usize = 12;
/// Rounds of the search for the best direction; two to four are usual.
const ROUNDS: usize = 20;
/// Squares that differ by no more than this part are one.
const CLOSE: f64 = 1e-6;
/// Points closer than this, relative to the length, are one.
const SAME: f64 = 1e-12;

impl HeldField {
    pub(super) fn new(scene: &Scene, model: &Model, numeric: &NumericRank) -> Self {
        let mut seen = HashSet::new();
        let places: Vec<Point3<f64>> = model
            .supports
            .iter()
            .map(|support| support.point)
            .filter(|point| seen.insert(point.coords.map(|x| (x + 0.0).to_bits())))
            .collect();
        let metres = scene.units.length.in_metres();
        let body = scene.body.iter().flat_map(|shape| shape.places());
        let largest = numeric.singular_values.first().copied().unwrap_or(0.0);
        Self {
            forces: factor(model, ReactionKind::Force),
            couples: factor(model, ReactionKind::Couple),
            rank: numeric.rank,
            spread: square_sum(&places, &model.reference),
            places,
            body: body
                .filter_map(|place| Some(Point3::from(scene.position(place)?) * metres))
                .collect(),
            reference: model.reference,
            length: model.length,
            space: model.space,
            floor: (numeric.tolerance.relative() * largest.max(1.0)).powi(2),
        }
    }

    /// What links that are fastened at a place, m, would leave.
    pub(super) fn at(&self, point: &Point3<f64>) -> HoldAtPlace {
        let (reference, length) = self.measure_with(point);
        let forces = self.forces.iter();
        let moved = forces.map(|force| self.moved(force, &reference, length));
        let columns = moved.chain(self.couples.iter().copied());
        let axes = rows_of(self.space);
        let motions = axes.len();
        let count = self.forces.len() + self.couples.len();
        // A row of the matrix, then its part of the rotation.
        let width = count + motions;
        let mut rows = [0.0; (MOST + 6) * 6];
        for (j, column) in columns.enumerate() {
            for (i, axis) in axes.iter().enumerate() {
                rows[i * width + j] = column[*axis];
            }
        }
        for i in 0..motions {
            rows[i * width + count + i] = 1.0;
        }
        let rows = &mut rows[..motions * width];
        orthogonalise_rows(rows, motions, count);
        let size = |i: &usize| {
            let row = rows[i * width..][..count].iter();
            row.map(|x| x * x).sum::<f64>()
        };
        let mut sizes = [(0.0, 0); 6];
        for (i, slot) in sizes[..motions].iter_mut().enumerate() {
            *slot = (size(&i), i);
        }
        sizes[..motions].sort_by(|a, b| b.0.total_cmp(&a.0));
        let arm = (point - reference) / length;
        let mut hold = HoldAtPlace {
            squares: sizes.map(|(square, _)| square),
            rank: self.rank,
            map: Map::zeros(),
            motions,
        };
        for (i, (_, row)) in sizes[..motions].iter().enumerate() {
            let mut vector = Vector6::zeros();
            for (axis, x) in axes.iter().zip(&rows[row * width + count..]) {
                vector[*axis] = *x;
            }
            let (force, moment) = (vector.fixed_rows::<3>(0), vector.fixed_rows::<3>(3));
            // u · (n; a × n) = (u_f + u_m × a) · n.
            let along = force.into_owned() + moment.into_owned().cross(&arm);
            hold.map.set_row(i, &along.transpose());
        }
        hold
    }

    /// Reference point and length of the scene with one more support at a point.
    fn measure_with(&self, point: &Point3<f64>) -> (Point3<f64>, f64) {
        let count = self.places.len() as f64;
        let same = |place: &Point3<f64>| (place - point).norm() <= SAME * self.length;
        if self.places.iter().any(same) {
            return (self.reference, self.length);
        }
        let shift = point - self.reference;
        let (reference, length) = if self.places.is_empty() {
            let far = self.body.iter().map(|own| (own - point).norm());
            (*point, far.fold(0.0, f64::max))
        } else {
            let spread = self.spread + shift.norm_squared() * count / (count + 1.0);
            let reference = self.reference + shift / (count + 1.0);
            (reference, (spread / (count + 1.0)).sqrt())
        };
        (reference, if length > 0.0 { length } else { self.length })
    }

    /// A scaled wrench about another reference point and by another length.
    fn moved(&self, wrench: &ScaledWrench, reference: &Point3<f64>, length: f64) -> ScaledWrench {
        let own = Wrench::from_scaled(wrench, self.length);
        own.about(&self.reference, reference).scaled(length)
    }
}

/// Columns that hold what the reactions of one kind hold, at most six.
fn factor(model: &Model, kind: ReactionKind) -> Vec<ScaledWrench> {
    let reactions = model.reactions.iter();
    let columns: Vec<_> = reactions
        .filter(|reaction| reaction.kind == kind)
        .map(|reaction| restrict(&scaled_column(model, reaction), model.space))
        .collect();
    let motions = model.space.motions();
    let matrix = DMatrix::from_fn(motions, columns.len(), |i, j| columns[j][i]);
    let svd = WideSvd::new(&matrix);
    (0..motions.min(columns.len()))
        .map(|i| extend(&(svd.left.column(i) * svd.values[i]), model.space))
        .collect()
}

fn square_sum(points: &[Point3<f64>], about: &Point3<f64>) -> f64 {
    points.iter().map(|p| (p - about).norm_squared()).sum()
}

/// Rows for the singular vectors, columns for the components of a direction.
type Map = SMatrix<f64, 6, 3>;

/// What is held in the measure of a scene with a link at one place, and how a link's direction acts on it.
pub(super) struct HoldAtPlace {
    /// Squares of the singular values, largest first; those from `rank` on count as zero.
    squares: [f64; 6],
    rank: usize,
    map: Map,
    motions: usize,
}

impl HoldAtPlace {
    /// Square of the smallest singular value that counts with a link along a unit direction.
    pub(super) fn square(&self, direction: &Vector3<f64>) -> f64 {
        let along = self.map * direction;
        let rank = self.rank;
        let mut held = [HeldDirection {
            square: 0.0,
            along: 0.0,
        }; 6];
        for (i, part) in held[..rank].iter_mut().enumerate() {
            *part = HeldDirection {
                square: self.squares[i],
                along: along[i] * along[i],
            };
        }
        let free = along.rows(rank, self.motions - rank).norm_squared();
        after_adding(&held[..rank], free)
    }

    /// The direction of the link that leaves most, and the square of what it leaves; `None` where no direction leaves more
    /// than the bar.
    ///
    /// What one direction leaves is a bar for the next: the square of the best rises to its largest in a few rounds, as
    /// ratios do. (Dinkelbach, *On nonlinear fractional programming*, 1967.)
    pub(super) fn best(&self, bar: f64) -> Option<(Vector3<f64>, f64)> {
        let mut best = None;
        let mut bar = bar;
        for _ in 0..ROUNDS {
            let Some(unit) = self.beyond(bar) else { break };
            let square = self.square(&unit);
            if square <= bar {
                break;
            }
            let gain = square / bar;
            (best, bar) = (Some((unit, square)), square);
            if gain < 1.0 + CLOSE {
                break;
            }
        }
        best
    }

    /// The direction that is farthest beyond a bar; `None` where none is.
    fn beyond(&self, bar: f64) -> Option<Vector3<f64>> {
        let least = self.squares[..self.rank].last();
        if least.is_some_and(|least| *least <= bar * (1.0 + CLOSE)) {
            return None;
        }
        let form = self.form(bar);
        if (form + Matrix3::identity() * bar).cholesky().is_some() {
            return None;
        }
        let parts = form.symmetric_eigen();
        let farthest = parts.eigenvalues.imin();
        Some(parts.eigenvectors.column(farthest).into_owned())
    }

    /// A form on unit directions: where it is below minus the bar, the square that a link leaves is beyond the bar.
    ///
    /// The secular function at `bar` is `bar + Σ kᵢ yᵢ²`, and its root lies beyond where that is negative.
    pub(super) fn form(&self, bar: f64) -> Matrix3<f64> {
        let weight = |i: usize| match self.squares[i] {
            _ if i >= self.rank => -1.0,
            // With the bar at the smallest square or beyond, interlacing lets nothing pass; a weight beyond all bounds
            // counts as one that nothing outweighs.
            square if square <= bar => f64::MAX / 1e6,
            square => bar / (square - bar),
        };
        (0..self.motions).fold(Matrix3::zeros(), |sum, i| {
            let row = self.map.row(i).transpose();
            sum + row * row.transpose() * weight(i)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{Coordinates, Place, Support, SupportKind, builtin, read_str};
    use crate::statics::{Diagnosis, Tolerance};

    /// What is foretold of a link is what the diagnosis of the scene that has it says.
    #[test]
    fn a_link_leaves_what_the_scene_with_it_has() {
        for built_in in builtin::all() {
            let scene = read_str("test", built_in.text).unwrap().scene;
            let model = Model::new(&scene).unwrap();
            let diagnosis = Diagnosis::new(&model, Tolerance::default());
            if diagnosis.is_held() {
                continue;
            }
            let field = HeldField::new(&scene, &model, &diagnosis.numeric);
            for step in 0..5 {
                let at: [f64; 3] = std::array::from_fn(|i| {
                    let metres = scene.units.length.in_metres();
                    (f64::from(step * 7 + i as i32 * 3).sin() * model.length / metres * 1e3).round()
                        / 1e3
                });
                let end = [at[0] + 0.3, at[1] - 0.2, at[2] + 0.1];
                let (at, end) = match scene.space {
                    Space::Spatial => (Coordinates::Space(at), Coordinates::Space(end)),
                    Space::Planar => (
                        Coordinates::Plane([at[0], at[1]]),
                        Coordinates::Plane([end[0], end[1]]),
                    ),
                };
                let mut longer = scene.clone();
                longer.supports.push(Support {
                    name: "new".to_owned(),
                    at: Place::At(at),
                    kind: SupportKind::Link {
                        ground: Place::At(end),
                    },
                    stiffness: Default::default(),
                    allowable: None,
                });
                let after = Model::new(&longer).unwrap();
                let direct = Diagnosis::new(&after, Tolerance::default());
                let link = after.supports.last().unwrap();
                let along = link.orientation.unwrap().into_inner();
                let foretold = field.at(&link.point).square(&along).sqrt();
                if direct.counts.freedom < diagnosis.counts.freedom {
                    let smallest = direct.numeric.singular_values[direct.counts.rank - 1];
                    let off = (foretold - smallest).abs();
                    assert!(off < 1e-7, "{}: {foretold} {smallest}", built_in.name);
                }
            }
        }
    }
}
