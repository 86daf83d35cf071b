//! Where a link could be fastened: points of the body's surface at round coordinates, and named points of the body.

use std::collections::HashSet;
use std::ops::Range;

use nalgebra::Point3;

use crate::scene::solid::{self, Finish, Solid};
use crate::scene::{Coordinates, Place, Scene, Space};

/// Steps between the rounder coordinates that are preferred.
pub(super) const TENS: f64 = 10.0;

/// A place on the body for the eye of a link.
#[derive(Debug, Clone)]
pub(super) struct EyePlace {
    /// In m.
    pub(super) point: Point3<f64>,
    /// As it would be written, in the scene's length unit.
    pub(super) written: [f64; 3],
    /// Name, where it is one of the scene's points.
    pub(super) name: Option<String>,
    /// How little a person would choose it: 0 for a named point, then corners, ends and middles, then round coordinates.
    pub(super) oddness: i64,
}

impl EyePlace {
    /// The place as a scene writes it.
    pub(super) fn place(&self, space: Space) -> Place {
        match &self.name {
            Some(name) => Place::Named(name.clone()),
            None => Place::At(Coordinates::new(space, self.written)),
        }
    }
}

/// Places of a body, with the step of round coordinates in the scene's length unit.
#[derive(Debug, Clone)]
pub(super) struct EyePlaces {
    pub(super) spots: Vec<EyePlace>,
    pub(super) grid: Grid,
    /// Diagonal of the box around the body, in the scene's length unit.
    pub(super) size: f64,
    pub(super) solids: Vec<Solid>,
    space: Space,
    metres: f64,
}

/// Round numbers: multiples of a power of ten.
#[derive(Debug, Clone, Copy)]
pub(super) struct Grid(i32);

/// Steps of round coordinates across the body: 100 to 1000.
const STEPS_ACROSS: f64 = 100.0;
/// Further digits that a coordinate off the grid may keep.
const DIGITS_BEYOND: i32 = 6;
/// Whole numbers up to this are exact in doubles: one bit more than the fraction holds.
const MOST_STEPS: f64 = (1_u64 << f64::MANTISSA_DIGITS) as f64;
/// A named point this far off the surface, relative to the size, still counts as one of the body: room for a lug.
pub(super) const LUG: f64 = 0.05;

impl Grid {
    fn of(size: f64) -> Self {
        Self((size / STEPS_ACROSS).log10().floor() as i32)
    }

    /// The step.
    pub(super) fn step(self) -> f64 {
        self.multiple(1.0)
    }

    /// Nearest multiple of the step, as its shortest decimal.
    pub(super) fn rounded(self, value: f64) -> f64 {
        self.rounded_to(value, 1.0)
    }

    /// Nearest multiple of so many steps, as its shortest decimal; the value itself where a double cannot count the steps to it.
    pub(super) fn rounded_to(self, value: f64, steps: f64) -> f64 {
        let count = (value / self.multiple(steps)).round() * steps;
        if count.abs() <= MOST_STEPS {
            // Without the sign of a zero.
            self.multiple(count) + 0.0
        } else {
            value
        }
    }

    /// The same with steps that are smaller by powers of ten.
    fn finer(self, powers: i32) -> Self {
        Self(self.0 - powers)
    }

    /// The shortest decimal of a whole number of steps.
    fn multiple(self, steps: f64) -> f64 {
        let power = 10_f64.powi(self.0.abs());
        if self.0 < 0 {
            steps / power
        } else {
            steps * power
        }
    }

    /// A number without the rounding noise of sums.
    pub(super) fn cleaned(self, value: f64) -> f64 {
        self.finer(DIGITS_BEYOND).rounded(value)
    }
}

impl EyePlaces {
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
            space: scene.space,
            metres,
        };
        spots.add_named(scene, metres);
        if count > 0 {
            spots.add_marks(scene);
        }
        spots.add_surface(scene.space, metres, count);
        Some(spots)
    }

    /// Diagonal of the box around the body, m.
    pub(super) fn size_in_metres(&self) -> f64 {
        self.size * self.metres
    }

    /// The point of the body nearest to another, m: on its surface, in the plane anywhere within its outline; `None` where
    /// it is farther away than a distance, m.
    pub(super) fn on_body(&self, point: &Point3<f64>, within: f64) -> Option<Point3<f64>> {
        match self.space {
            Space::Spatial => solid::nearest_point(&self.solids, point, within),
            Space::Planar => {
                let level = Point3::new(point.x, point.y, 0.0);
                if solid::distance(&self.solids, &level) == 0.0 {
                    return Some(level);
                }
                let near = solid::nearest_point(&self.solids, &level, within)?;
                Some(Point3::new(near.x, near.y, 0.0))
            }
        }
    }

    /// Spots at rounder and less round coordinates near a point of the body, m; of named points those there.
    pub(super) fn near(&self, point: &Point3<f64>, named_only: bool) -> Vec<EyePlace> {
        if named_only {
            let there = |spot: &&EyePlace| spot.point == *point;
            return self.spots.iter().filter(there).cloned().collect();
        }
        let mut near = self.rounded_near(point, 0..8);
        // At worst as fine as it takes to lose nothing by rounding.
        let fine = self.grid.finer(2);
        let written = (point.coords / self.metres).map(|x| fine.rounded(x)).into();
        near.push(EyePlace {
            oddness: FINE,
            ..self.spot(written)
        });
        near
    }

    /// Spots near a point of the body, m, of which some coordinates are whole tens of the step; none of named points.
    pub(super) fn rounder(&self, point: &Point3<f64>, named_only: bool) -> Vec<EyePlace> {
        if named_only {
            return Vec::new();
        }
        self.rounded_near(point, 0..7)
    }

    /// Spots of the body at coordinates near a point, m: bit i of a pick says whether coordinate i is a whole step or else a
    /// whole ten of them.
    fn rounded_near(&self, point: &Point3<f64>, picks: Range<usize>) -> Vec<EyePlace> {
        let exact = point.coords / self.metres;
        let steps = [TENS, 1.0];
        let rounded = |pick: usize| {
            let coordinate = |i: usize| self.grid.rounded_to(exact[i], steps[pick >> i & 1]);
            self.spot(std::array::from_fn(coordinate))
        };
        let room = self.grid.step() * self.metres;
        let is_there = |spot: &EyePlace| self.on_body(&spot.point, room).is_some();
        picks.map(rounded).filter(is_there).collect()
    }

    /// A spot at coordinates in the scene's length unit.
    pub(super) fn spot(&self, written: [f64; 3]) -> EyePlace {
        let tens = |x: &&f64| self.grid.rounded_to(**x, TENS) != **x;
        EyePlace {
            point: Point3::from(written) * self.metres,
            oddness: ROUND + written.iter().filter(tens).count() as i64,
            written,
            name: None,
        }
    }

    /// Corners of the body, ends and middles of its bars and edges, where their coordinates are nearly as round as others.
    fn add_marks(&mut self, scene: &Scene) {
        let fine = self.grid.finer(1);
        let mut seen = HashSet::new();
        for point in marks(scene, &self.solids, SHORT * self.size_in_metres()) {
            let exact = point / self.metres;
            let written: [f64; 3] = exact.coords.map(|x| fine.rounded(x)).into();
            let off = (Point3::from(written) - exact).norm();
            let level = self.space == Space::Spatial || written[2] == 0.0;
            let is_there = solid::distance(&self.solids, &point) <= self.grid.step() * self.metres;
            if level
                && is_there
                && off <= 1e-3 * fine.step()
                && seen.insert(written.map(f64::to_bits))
            {
                self.spots.push(EyePlace {
                    point: Point3::from(written) * self.metres,
                    written,
                    name: None,
                    oddness: MARK,
                });
            }
        }
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
                self.spots.push(EyePlace {
                    point,
                    written,
                    name: Some(named.name.clone()),
                    oddness: 0,
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
                let mut written: [f64; 3] =
                    point.coords.map(|x| self.grid.rounded(x / metres)).into();
                if space == Space::Planar {
                    written[2] = 0.0;
                }
                if seen.insert(written.map(f64::to_bits)) {
                    let spot = self.spot(written);
                    self.spots.push(spot);
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

/// Ends and middles of bars, corners and middles of sides of plates, and those of the edges of all shapes that are not
/// shorter than a length, m.
fn marks(scene: &Scene, solids: &[Solid], shortest: f64) -> Vec<Point3<f64>> {
    let metres = scene.units.length.in_metres();
    let mut marks = Vec::new();
    for shape in &scene.body {
        let places = shape.places().into_iter();
        let points: Vec<Point3<f64>> = places
            .filter_map(|place| Some(Point3::from(scene.position(place)?) * metres))
            .collect();
        let middles = points
            .windows(2)
            .map(|ends| nalgebra::center(&ends[0], &ends[1]));
        marks.extend(middles);
        marks.extend(points);
    }
    let edges = solids.iter().flat_map(|solid| &solid.edges);
    let edges = edges.map(|edge| &edge.ends);
    for [a, b] in edges.filter(|[a, b]| (b - a).norm() >= shortest) {
        marks.extend([*a, *b, nalgebra::center(a, b)]);
    }
    marks
}

/// Oddness of corners, ends and middles, of round coordinates, and of coordinates that are finer than those.
const MARK: i64 = 1;
const ROUND: i64 = 2;
const FINE: i64 = 9;
/// Edges shorter than this, relative to the size, are parts of a round one.
const SHORT: f64 = 0.05;

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
            let spots = EyePlaces::of(&scene, 2000).unwrap();
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

    /// Steps of a small body were counted as 64-bit whole numbers, which overflowed where the body lies so far out that
    /// doubles are coarser than its steps.
    #[test]
    fn coordinates_beyond_all_steps_are_as_round_as_they_get() {
        let grid = Grid::of(1.0);
        for value in [1e29, -1e29, 123_456_789_012_345_680_000.0, f64::MAX] {
            assert_eq!(grid.rounded(value), value);
            assert_eq!(grid.rounded_to(value, 10.0), value);
            assert_eq!(grid.cleaned(value), value);
        }
        assert_eq!(grid.rounded(1_234_567.891), 1_234_567.89);
        assert_eq!(grid.rounded_to(-1_234_567.891, 10.0), -1_234_567.9);
        assert!(grid.rounded(-0.001).is_sign_positive());
    }
}
