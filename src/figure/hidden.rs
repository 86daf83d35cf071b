//! Which parts of lines can be seen past triangles.
//!
//! Whether a point of a line lies behind a triangle is a matter of four linear inequalities in its parameter: three for
//! the sides, one for the depth. Lines are therefore split exactly where they cross an outline or pass through a face.

use nalgebra::Point3;

/// Triangles that hide what lies behind them, sorted into cells of the paper.
pub(super) struct Screen {
    triangles: Vec<[Point3<f64>; 3]>,
    cells: Vec<Vec<u32>>,
    low: [f64; 2],
    step: f64,
    count: [usize; 2],
    /// How far behind a triangle a point must lie to be hidden.
    behind: f64,
}

/// Most cells along a side.
const MOST_CELLS: f64 = 96.0;
/// How far beside a line a cell still counts as passed through, relative to the cell.
const NEAR_CELL: f64 = 0.01;
/// How far behind a face a line must lie to be hidden by it, relative to the picture: lines on the face are seen.
const BEHIND: f64 = 2e-5;
/// Parts of a line shorter than this, relative to the line, are not told apart.
const SHORT: f64 = 1e-9;

impl Screen {
    /// Sorts triangles that face the viewer.
    pub(crate) fn new(triangles: Vec<[Point3<f64>; 3]>) -> Self {
        let corners = || triangles.iter().flatten();
        let bound = |k: usize, pick: fn(f64, f64) -> f64, start: f64| {
            corners().map(|p| p[k]).fold(start, pick)
        };
        let low = [0, 1].map(|k| bound(k, f64::min, f64::INFINITY));
        let high = [0, 1].map(|k| bound(k, f64::max, f64::NEG_INFINITY));
        let size = (high[0] - low[0]).max(high[1] - low[1]).max(0.0);
        let wanted = (triangles.len() as f64).sqrt().clamp(1.0, MOST_CELLS);
        let step = if size > 0.0 { size / wanted } else { 1.0 };
        let count = [0, 1].map(|k| {
            let cells = ((high[k] - low[k]) / step).floor();
            if cells.is_finite() {
                cells.max(0.0) as usize + 1
            } else {
                1
            }
        });
        let mut screen = Self {
            cells: vec![Vec::new(); count[0] * count[1]],
            low,
            step,
            count,
            behind: size * BEHIND,
            triangles: Vec::new(),
        };
        for (index, triangle) in triangles.iter().enumerate() {
            for cell in screen.cells_of(triangle) {
                screen.cells[cell].push(index as u32);
            }
        }
        screen.triangles = triangles;
        screen
    }

    fn range(&self, k: usize, points: &[Point3<f64>]) -> std::ops::RangeInclusive<usize> {
        let cell = |x: f64| ((x - self.low[k]) / self.step).floor().max(0.0) as usize;
        let low = points.iter().map(|p| p[k]).fold(f64::INFINITY, f64::min);
        let high = points
            .iter()
            .map(|p| p[k])
            .fold(f64::NEG_INFINITY, f64::max);
        cell(low)..=cell(high).min(self.count[k] - 1)
    }

    fn cells_of(&self, points: &[Point3<f64>]) -> Vec<usize> {
        let columns = self.range(0, points);
        let rows = self.range(1, points);
        rows.flat_map(|row| columns.clone().map(move |column| (row, column)))
            .map(|(row, column)| row * self.count[0] + column)
            .collect()
    }

    /// Parts of a line that nothing hides, as ranges of its parameter from 0 to 1, in order.
    pub(crate) fn seen(&self, line: &[Point3<f64>; 2]) -> Vec<[f64; 2]> {
        let cells = self.cells_along(line);
        let mut met: Vec<u32> = cells.flat_map(|cell| &self.cells[cell]).copied().collect();
        met.sort_unstable();
        met.dedup();
        let hidden = met
            .into_iter()
            .filter_map(|index| hidden_part(line, &self.triangles[index as usize], self.behind))
            .collect();
        complement(hidden)
    }

    /// Cells that a line passes through, and perhaps some beside it: row by row, from where it enters to where it leaves.
    fn cells_along(&self, line: &[Point3<f64>; 2]) -> impl Iterator<Item = usize> + '_ {
        let [a, b] = *line;
        let margin = NEAR_CELL * self.step;
        self.range(1, line).flat_map(move |row| {
            let low = self.low[1] + row as f64 * self.step;
            let mut part = [0.0, 1.0];
            let inside = [
                (a.y - low, b.y - low),
                (low + self.step - a.y, low + self.step - b.y),
            ]
            .into_iter()
            .try_for_each(|(at_start, at_end)| clip(&mut part, at_start + margin, at_end + margin));
            let ends = part.map(|t| a + (b - a) * t);
            let aside = |x: f64, by: f64| Point3::new(x + by, 0.0, 0.0);
            let (left, right) = (ends[0].x.min(ends[1].x), ends[0].x.max(ends[1].x));
            let columns =
                inside.map(|()| self.range(0, &[aside(left, -margin), aside(right, margin)]));
            let cells = move |column| row * self.count[0] + column;
            columns.into_iter().flatten().map(cells)
        })
    }
}

/// The part of a line that lies behind a triangle.
fn hidden_part(
    [from, to]: &[Point3<f64>; 2],
    triangle: &[Point3<f64>; 3],
    behind: f64,
) -> Option<[f64; 2]> {
    let [a, b, c] = triangle;
    let side = |p: &Point3<f64>, q: &Point3<f64>, r: &Point3<f64>| {
        (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x)
    };
    let whole = side(a, b, c);
    let weights = |p: &Point3<f64>| [side(b, c, p), side(c, a, p), side(a, b, p)];
    let (first, last) = (weights(from), weights(to));
    let depth = |p: &Point3<f64>, w: &[f64; 3]| {
        (w[0] * a.z + w[1] * b.z + w[2] * c.z) / whole - p.z - behind
    };
    let mut part = [0.0, 1.0];
    let ends = [0, 1, 2].map(|k| (first[k], last[k]));
    let depths = (depth(from, &first), depth(to, &last));
    for (at_start, at_end) in ends.into_iter().chain([depths]) {
        clip(&mut part, at_start, at_end)?;
    }
    (part[1] - part[0] > SHORT).then_some(part)
}

/// Keeps the part where a linear function, given by its values at 0 and 1, is not negative.
pub(super) fn clip(part: &mut [f64; 2], at_start: f64, at_end: f64) -> Option<()> {
    match (at_start >= 0.0, at_end >= 0.0) {
        (true, true) => {}
        (false, false) => return None,
        (starts_in, _) => {
            let zero = at_start / (at_start - at_end);
            if starts_in {
                part[1] = part[1].min(zero);
            } else {
                part[0] = part[0].max(zero);
            }
        }
    }
    (part[0] < part[1]).then_some(())
}

/// What is left of 0 to 1.
fn complement(mut taken: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    taken.sort_unstable_by(|a, b| a[0].total_cmp(&b[0]));
    let (mut left, mut from) = (Vec::new(), 0.0);
    for [start, end] in taken {
        if start - from > SHORT {
            left.push([from, start]);
        }
        from = end.max(from);
    }
    if 1.0 - from > SHORT {
        left.push([from, 1.0]);
    }
    left
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn point(x: f64, y: f64, z: f64) -> Point3<f64> {
        Point3::new(x, y, z)
    }

    fn triangle() -> [Point3<f64>; 3] {
        [
            point(0.0, 0.0, 0.0),
            point(4.0, 0.0, 0.0),
            point(0.0, 4.0, 0.0),
        ]
    }

    fn assert_seen(line: [Point3<f64>; 2], expected: &[[f64; 2]]) {
        let seen = Screen::new(vec![triangle()]).seen(&line);
        assert_eq!(seen.len(), expected.len(), "{seen:?}");
        for (found, expected) in seen.iter().zip(expected) {
            let close = |k: usize| (found[k] - expected[k]).abs() < 1e-4;
            assert!(close(0) && close(1), "{seen:?}");
        }
    }

    #[test]
    fn lines_are_split_where_they_pass_behind_and_through() {
        // Behind, across the whole triangle: in at x = 0, out at x = 3.
        assert_seen(
            [point(-1.0, 1.0, -1.0), point(5.0, 1.0, -1.0)],
            &[[0.0, 1.0 / 6.0], [4.0 / 6.0, 1.0]],
        );
        // In front, and on the face itself.
        assert_seen([point(-1.0, 1.0, 1.0), point(5.0, 1.0, 1.0)], &[[0.0, 1.0]]);
        assert_seen([point(0.0, 1.0, 0.0), point(3.0, 1.0, 0.0)], &[[0.0, 1.0]]);
        // Through the face at x = 1.
        assert_seen([point(0.0, 1.0, 1.0), point(2.0, 1.0, -1.0)], &[[0.0, 0.5]]);
        // Beside it.
        assert_seen(
            [point(3.0, 3.0, -1.0), point(5.0, 3.0, -1.0)],
            &[[0.0, 1.0]],
        );
    }

    #[test]
    fn nothing_hides_nothing() {
        let line = [point(0.0, 0.0, 0.0), point(1.0, 0.0, 0.0)];
        assert_eq!(Screen::new(Vec::new()).seen(&line), [[0.0, 1.0]]);
    }

    proptest! {
        #![proptest_config(crate::testing::cases(256))]

        /// Against the definition: a point is hidden where some triangle has it inside and in front.
        #[test]
        fn every_sample_agrees_with_the_definition(
            corners in proptest::collection::vec(proptest::array::uniform9(-1.0..1.0_f64), 1..12),
            ends in proptest::array::uniform6(-1.2..1.2_f64),
        ) {
            let triangles: Vec<[Point3<f64>; 3]> = corners
                .iter()
                .map(|n| [point(n[0], n[1], n[2]), point(n[3], n[4], n[5]), point(n[6], n[7], n[8])])
                .map(|[a, b, c]| {
                    let turn = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
                    if turn > 0.0 { [a, b, c] } else { [a, c, b] }
                })
                .collect();
            let line = [point(ends[0], ends[1], ends[2]), point(ends[3], ends[4], ends[5])];
            let screen = Screen::new(triangles.clone());
            let seen = screen.seen(&line);
            for i in 0..=40 {
                let t = f64::from(i) / 40.0;
                let at = line[0] + (line[1] - line[0]) * t;
                // How clearly the nearest decision falls.
                let mut margin = f64::INFINITY;
                let mut hidden = false;
                for [a, b, c] in &triangles {
                    let normal = (b - a).cross(&(c - a));
                    let side = |p: &Point3<f64>, q: &Point3<f64>| {
                        (q.x - p.x) * (at.y - p.y) - (q.y - p.y) * (at.x - p.x)
                    };
                    let depth = a.z - (normal.x * (at.x - a.x) + normal.y * (at.y - a.y)) / normal.z - at.z;
                    let values = [side(a, b), side(b, c), side(c, a), depth - screen.behind];
                    let least = values.into_iter().fold(f64::INFINITY, f64::min);
                    hidden |= least > 0.0;
                    margin = margin.min(least.abs());
                }
                let told = !seen.iter().any(|part| part[0] <= t && t <= part[1]);
                prop_assert!(margin < 1e-6 || told == hidden, "{t}: {told} {hidden}");
            }
        }
    }
}
