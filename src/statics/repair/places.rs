//! Where a link could be fastened: points of the body's surface at round coordinates, and named points of the body.

use std::collections::HashSet;

use nalgebra::{Point3, Vector3};

use crate::scene::solid::{self, Finish, Solid};
use crate::scene::{Place, Scene, Space};

/// A place on the body for the eye of a link.
#[derive(Debug, Clone)]
pub(super) struct Spot {
    /// In m.
    pub(super) point: Point3<f64>,
    /// As it would be written, in the scene's length unit.
    pub(super) written: [f64; 3],
    /// Name, where it is one of the scene's points.
    pub(super) name: Option<String>,
}

impl Spot {
    /// The place as a scene writes it.
    pub(super) fn place(&self, space: Space) -> Place {
        match &self.name {
            Some(name) => Place::Named(name.clone()),
            None => Place::At(super::mending::coordinates(space, self.written)),
        }
    }
}

/// Places of a body, with the step of round coordinates in the scene's length unit.
#[derive(Debug, Clone)]
pub(super) struct Spots {
    pub(super) spots: Vec<Spot>,
    pub(super) grid: Grid,
    /// Diagonal of the box around the body, in the scene's length unit.
    pub(super) size: f64,
    pub(super) solids: Vec<Solid>,
}

/// Round numbers: multiples of a power of ten.
#[derive(Debug, Clone, Copy)]
pub(super) struct Grid(i32);

/// Steps of round coordinates across the body: 100 to 1000.
const STEPS_ACROSS: f64 = 100.0;
/// Further digits that a coordinate off the grid may keep.
const DIGITS_BEYOND: i32 = 6;
/// A named point this far off the surface, relative to the size, still counts as one of the body: room for a lug.
const LUG: f64 = 0.05;

impl Grid {
    fn of(size: f64) -> Self {
        Self((size / STEPS_ACROSS).log10().floor() as i32)
    }

    /// The step.
    pub(super) fn step(self) -> f64 {
        self.multiple(1)
    }

    /// Nearest multiple of the step, as a whole number.
    fn nearest(self, value: f64) -> i64 {
        (value / self.step()).round() as i64
    }

    /// Nearest multiple of the step, as its shortest decimal.
    pub(super) fn rounded(self, value: f64) -> f64 {
        self.multiple(self.nearest(value))
    }

    /// The shortest decimal of a whole number of steps.
    fn multiple(self, steps: i64) -> f64 {
        let power = 10_f64.powi(self.0.abs());
        let steps = steps as f64;
        if self.0 < 0 {
            steps / power
        } else {
            steps * power
        }
    }

    /// A number without the rounding noise of sums.
    pub(super) fn cleaned(self, value: f64) -> f64 {
        let fine = Self(self.0 - DIGITS_BEYOND);
        fine.multiple(fine.nearest(value))
    }
}

impl Spots {
    /// Up to about `count` places of the surface, and all named points of the body; `None` for a body without solids.
    pub(super) fn of(scene: &Scene, count: usize) -> Option<Self> {
        let solids = solid::of_body_with(scene, Finish::SHARP);
        let metres = scene.units.length.in_metres();
        let bounds = solids.iter().flat_map(Solid::bounds);
        let (low, high) = bounds.fold(None, |all: Option<(Point3<f64>, Point3<f64>)>, point| {
            Some(all.map_or((point, point), |(low, high)| {
                (low.inf(&point), high.sup(&point))
            }))
        })?;
        let size = (high - low).norm() / metres;
        let mut spots = Self {
            spots: Vec::new(),
            grid: Grid::of(size),
            size,
            solids,
        };
        spots.add_named(scene, metres);
        spots.add_surface(scene.space, metres, count);
        Some(spots)
    }

    /// Named points alone.
    pub(super) fn only_named(mut self) -> Self {
        self.spots.retain(|spot| spot.name.is_some());
        self
    }

    fn add_named(&mut self, scene: &Scene, metres: f64) {
        for named in &scene.points {
            let written = named.at.components();
            let point = Point3::from(written) * metres;
            if solid::distance(&self.solids, &point) <= LUG * self.size * metres {
                self.spots.push(Spot {
                    point,
                    written,
                    name: Some(named.name.clone()),
                });
            }
        }
    }

    /// Points evenly over every triangle, moved to the nearest round coordinates; in the plane seen along z.
    fn add_surface(&mut self, space: Space, metres: f64, count: usize) {
        if count == 0 {
            return;
        }
        let triangles: Vec<[Point3<f64>; 3]> = self.solids.iter().flat_map(Solid::faces).collect();
        let area = |[a, b, c]: &[Point3<f64>; 3]| (b - a).cross(&(c - a)).norm() / 2.0;
        let whole: f64 = triangles.iter().map(area).sum();
        let mut seen = HashSet::new();
        let named = self.spots.len();
        for triangle in &triangles {
            let share = (area(triangle) / whole * count as f64).ceil().max(1.0);
            // Rows of a triangular pattern with about as many points as its share.
            let rows = ((2.0 * share).sqrt().floor() as usize).max(1);
            for point in pattern(triangle, rows) {
                let steps = point.coords.map(|x| self.grid.nearest(x / metres));
                let steps = match space {
                    Space::Spatial => steps,
                    Space::Planar => Vector3::new(steps.x, steps.y, 0),
                };
                if seen.insert(steps) {
                    let written: [f64; 3] = steps.map(|x| self.grid.multiple(x)).into();
                    self.spots.push(Spot {
                        point: Point3::from(written) * metres,
                        written,
                        name: None,
                    });
                }
            }
        }
        self.thin_out(named, count);
    }

    /// Keeps the first spots and, of the others, evenly about so many where a finely cut body gave more.
    fn thin_out(&mut self, first: usize, count: usize) {
        let stride = (self.spots.len() - first).div_ceil(count.max(1)).max(1);
        let mut index = 0;
        self.spots.retain(|_| {
            index += 1;
            index <= first || (index - first).is_multiple_of(stride)
        });
    }
}

/// Centres of the upright small triangles when a triangle is cut into `rows` rows: never its corners.
fn pattern([a, b, c]: &[Point3<f64>; 3], rows: usize) -> impl Iterator<Item = Point3<f64>> {
    let (a, along, up, n) = (*a, b - a, c - a, rows as f64);
    (0..rows).flat_map(move |i| {
        (0..rows - i).map(move |j| {
            let part = |k: usize| (k as f64 + 1.0 / 3.0) / n;
            a + along * part(j) + up * part(i)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{builtin, read_str};

    #[test]
    fn spots_are_round_and_on_the_body() {
        for built_in in builtin::all() {
            let scene = read_str("test", built_in.text).unwrap().scene;
            let spots = Spots::of(&scene, 2000).unwrap();
            let metres = scene.units.length.in_metres();
            let step = spots.grid.step() * metres;
            assert!(spots.spots.len() > 100, "{}", built_in.name);
            for spot in spots.spots.iter().filter(|spot| spot.name.is_none()) {
                if scene.space == Space::Spatial {
                    let off = solid::distance(&spots.solids, &spot.point);
                    assert!(off <= step, "{}: {off}", built_in.name);
                }
                for x in spot.written {
                    let text = format!("{}", x.abs());
                    assert!(text.len() <= 7, "{text}");
                }
            }
        }
    }
}
