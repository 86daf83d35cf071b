//! Integrals over what solids have in common, along parallel rays through a box.

use nalgebra::{Matrix3, Point3, Vector3};

use super::Solid;
use super::bounds::AlignedBox;

/// Integrals over a region of space.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Integrals {
    /// m³.
    pub(super) volume: f64,
    /// Integral of the position from the origin of the integrals, m⁴.
    pub(super) moment: Vector3<f64>,
    /// Integral of its dyad, m⁵.
    pub(super) spread: Matrix3<f64>,
}

impl Integrals {
    pub(super) const NONE: Self = Self {
        volume: 0.0,
        moment: Vector3::new(0.0, 0.0, 0.0),
        spread: Matrix3::new(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
    };
}

/// Parallel rays along the longest edge of a box, in the middle of equal cells.
pub(super) struct Rays {
    bounds: AlignedBox,
    across: usize,
    /// The two shorter edges and the longest one, in cyclic order.
    axes: [usize; 3],
    /// Sides of a cell, m.
    cell: [f64; 2],
}

/// Where a ray crosses a surface.
struct Crossing {
    ray: usize,
    /// Coordinate along the ray.
    at: f64,
    /// Which of the solids, the one looked at being the first.
    solid: usize,
    /// 1 into the material, −1 out of it.
    turn: i32,
}

impl Rays {
    pub(super) fn new(bounds: AlignedBox, across: usize) -> Self {
        let edges = bounds.high - bounds.low;
        let along = edges.imax();
        let axes = [(along + 1) % 3, (along + 2) % 3, along];
        let cell = [edges[axes[0]], edges[axes[1]]].map(|edge| edge / across as f64);
        Self {
            bounds,
            across,
            axes,
            cell,
        }
    }

    /// Adds the integrals over what a solid has in common with any earlier one.
    pub(super) fn integrate(
        &self,
        own: &Solid,
        earlier: &[&Solid],
        origin: &Point3<f64>,
        sum: &mut Integrals,
    ) {
        let mut crossings = Vec::new();
        self.cross(own, 0, &mut crossings);
        for (index, solid) in earlier.iter().enumerate() {
            self.cross(solid, index + 1, &mut crossings);
        }
        crossings.sort_by(|a, b| a.ray.cmp(&b.ray).then(a.at.total_cmp(&b.at)));
        for crossings in crossings.chunk_by(|a, b| a.ray == b.ray) {
            self.along_ray(crossings, earlier.len(), origin, sum);
        }
    }

    fn along_ray(
        &self,
        crossings: &[Crossing],
        earlier: usize,
        origin: &Point3<f64>,
        sum: &mut Integrals,
    ) {
        // How often each surface has been entered; parts of one surface may overlap, too.
        let mut depths = vec![0_i32; earlier + 1];
        let mut within = 0_usize;
        let mut entered = None;
        for crossing in crossings {
            let depth = &mut depths[crossing.solid];
            let was_inside = *depth > 0;
            *depth += crossing.turn;
            let is_inside = *depth > 0;
            if crossing.solid > 0 && was_inside != is_inside {
                within = if is_inside { within + 1 } else { within - 1 };
            }
            let in_common = depths[0] > 0 && within > 0;
            match entered {
                None if in_common => entered = Some(crossing.at),
                Some(from) if !in_common => {
                    self.add_piece(crossing.ray, [from, crossing.at], origin, sum);
                    entered = None;
                }
                _ => {}
            }
        }
    }

    /// Adds the integrals over the prism around a piece of a ray.
    fn add_piece(&self, ray: usize, ends: [f64; 2], origin: &Point3<f64>, sum: &mut Integrals) {
        let [across, up, along] = self.axes;
        let [x, y] = self.place(ray);
        let length = ends[1] - ends[0];
        let mut middle = Vector3::zeros();
        middle[across] = x - origin[across];
        middle[up] = y - origin[up];
        middle[along] = (ends[0] + ends[1]) / 2.0 - origin[along];
        let volume = self.cell[0] * self.cell[1] * length;
        let mut own = Vector3::zeros();
        own[across] = self.cell[0] * self.cell[0] / 12.0;
        own[up] = self.cell[1] * self.cell[1] / 12.0;
        own[along] = length * length / 12.0;
        sum.volume += volume;
        sum.moment += middle * volume;
        sum.spread += (middle * middle.transpose() + Matrix3::from_diagonal(&own)) * volume;
    }

    /// Where a ray stands across the box.
    fn place(&self, ray: usize) -> [f64; 2] {
        [
            self.coordinate(0, ray % self.across),
            self.coordinate(1, ray / self.across),
        ]
    }

    fn coordinate(&self, side: usize, index: usize) -> f64 {
        self.bounds.low[self.axes[side]] + (index as f64 + 0.5) * self.cell[side]
    }

    /// The rays of a side whose coordinates lie within two numbers, perhaps one more at each end.
    fn indices(&self, side: usize, low: f64, high: f64) -> std::ops::Range<usize> {
        let start = self.bounds.low[self.axes[side]];
        let index = |x: f64| (x - start) / self.cell[side] - 0.5;
        let count = self.across as f64;
        let first = index(low).floor().clamp(0.0, count);
        let end = (index(high).ceil() + 1.0).clamp(0.0, count);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "clamped just before"
        )]
        (first as usize..end as usize)
    }

    /// Collects the crossings of a solid's surface.
    fn cross(&self, solid: &Solid, number: usize, crossings: &mut Vec<Crossing>) {
        for corners in solid.faces() {
            let flat = corners.map(|corner| self.axes.map(|axis| corner[axis]));
            self.cross_triangle(flat, number, crossings);
        }
    }

    /// Collects the crossings of a triangle, given by its coordinates across, up and along.
    fn cross_triangle(&self, corners: [[f64; 3]; 3], solid: usize, crossings: &mut Vec<Crossing>) {
        let range = |side: usize| {
            let all = corners.map(|corner| corner[side]);
            let low = all.into_iter().fold(f64::INFINITY, f64::min);
            let high = all.into_iter().fold(f64::NEG_INFINITY, f64::max);
            self.indices(side, low, high)
        };
        let (columns, rows) = (range(0), range(1));
        if columns.is_empty() || rows.is_empty() {
            return;
        }
        let [a, b, c] = corners;
        let area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        if area == 0.0 {
            return;
        }
        // Seen against the rays, a face that is counter-clockwise looks back at them: there they enter.
        let turn = if area > 0.0 { -1 } else { 1 };
        let [b, c] = if area > 0.0 { [b, c] } else { [c, b] };
        for row in rows {
            let y = self.coordinate(1, row);
            for column in columns.clone() {
                let at = [self.coordinate(0, column), y];
                let sides = [[b, c], [c, a], [a, b]].map(|[from, to]| left_of(&from, &to, at));
                let [Some(u), Some(v), Some(w)] = sides else {
                    continue;
                };
                let whole = u + v + w;
                if whole > 0.0 {
                    crossings.push(Crossing {
                        ray: row * self.across + column,
                        at: (u * a[2] + v * b[2] + w * c[2]) / whole,
                        solid,
                        turn,
                    });
                }
            }
        }
    }
}

/// Twice the area between an edge and a point on its left; `None` on its right. A point on the edge belongs to one of the two
/// triangles that share it: the area is computed alike for both ways along the edge, so that no ray slips between them.
fn left_of(from: &[f64; 3], to: &[f64; 3], point: [f64; 2]) -> Option<f64> {
    let forward = (from[0], from[1]) < (to[0], to[1]);
    let (low, high) = if forward { (from, to) } else { (to, from) };
    let area = (high[0] - low[0]) * (point[1] - low[1]) - (high[1] - low[1]) * (point[0] - low[0]);
    match forward {
        true if area >= 0.0 => Some(area),
        false if area < 0.0 => Some(-area),
        _ => None,
    }
}
