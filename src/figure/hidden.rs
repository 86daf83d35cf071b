//! Which parts of lines can be seen past triangles.
//!
//! Whether a point of a line lies behind a triangle is a matter of four linear inequalities in its parameter: three for
//! the sides, one for the depth. Lines are therefore split exactly where they cross an outline or pass through a face.

use nalgebra::Point3;

use super::box_tree::{PaperBox, PaperBoxTree};

/// Triangles that hide what lies behind them.
pub(super) struct Screen {
    triangles: Vec<[Point3<f64>; 3]>,
    tree: PaperBoxTree,
    /// How far behind a triangle a point must lie to be hidden.
    behind: f64,
}

/// How far behind a face a line must lie to be hidden by it, relative to the picture: lines on the face are seen.
const BEHIND: f64 = 2e-5;
/// Parts of a line shorter than this, relative to the line, are not told apart.
const SHORT: f64 = 1e-9;

impl Screen {
    /// Sorts triangles that face the viewer.
    pub(crate) fn new(triangles: Vec<[Point3<f64>; 3]>) -> Self {
        let boxes: Vec<PaperBox> = triangles
            .iter()
            .map(|corners| PaperBox::around(corners))
            .collect();
        let tree = PaperBoxTree::new(boxes);
        Self {
            behind: tree.all().size() * BEHIND,
            triangles,
            tree,
        }
    }

    /// Parts of a line that nothing hides, as ranges of its parameter from 0 to 1, in order.
    pub(crate) fn seen(&self, line: &[Point3<f64>; 2]) -> Vec<[f64; 2]> {
        let mut hidden = Vec::new();
        for index in self.tree.along(line) {
            if let Some(part) = hidden_part(line, &self.triangles[index as usize], self.behind) {
                hidden.push(part);
                if part == [0.0, 1.0] {
                    break;
                }
            }
        }
        complement(hidden)
    }
}

/// The part of a line that lies behind a triangle.
fn hidden_part(
    [from, to]: &[Point3<f64>; 2],
    triangle: &[Point3<f64>; 3],
    behind: f64,
) -> Option<[f64; 2]> {
    let [a, b, c] = triangle;
    let mut part = [0.0, 1.0];
    // One side after the other, since most triangles lie beside the line.
    let by_a = [side(b, c, from), side(b, c, to)];
    clip(&mut part, by_a[0], by_a[1])?;
    let by_b = [side(c, a, from), side(c, a, to)];
    clip(&mut part, by_b[0], by_b[1])?;
    let by_c = [side(a, b, from), side(a, b, to)];
    clip(&mut part, by_c[0], by_c[1])?;
    let whole = side(a, b, c);
    let depth = |p: &Point3<f64>, end: usize| {
        (by_a[end] * a.z + by_b[end] * b.z + by_c[end] * c.z) / whole - p.z - behind
    };
    clip(&mut part, depth(from, 0), depth(to, 1))?;
    (part[1] - part[0] > SHORT).then_some(part)
}

/// Twice the area of a triangle on paper, positive where its corners run counter-clockwise.
fn side(p: &Point3<f64>, q: &Point3<f64>, r: &Point3<f64>) -> f64 {
    (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x)
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

        /// What the tree passes over would have hidden nothing.
        #[test]
        fn all_triangles_are_asked(
            corners in proptest::collection::vec(proptest::array::uniform9(-1.0..1.0_f64), 0..200),
            size in 0.01..1.0_f64,
            ends in proptest::array::uniform6(-1.2..1.2_f64),
        ) {
            let triangles: Vec<[Point3<f64>; 3]> = corners
                .iter()
                .map(|n| {
                    let at = |k: usize| point(n[k], n[k + 1], n[k + 2]);
                    let near = |k: usize| at(0) + (at(k) - at(0)) * size;
                    [at(0), near(3), near(6)]
                })
                .collect();
            for line in [
                [point(ends[0], ends[1], ends[2]), point(ends[3], ends[4], ends[5])],
                [point(ends[0], ends[1], ends[2]); 2],
                [point(ends[0], ends[1], ends[2]), point(ends[0], ends[4], ends[5])],
            ] {
                let screen = Screen::new(triangles.clone());
                let hidden = triangles
                    .iter()
                    .filter_map(|triangle| hidden_part(&line, triangle, screen.behind));
                prop_assert_eq!(screen.seen(&line), complement(hidden.collect()));
            }
        }

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
