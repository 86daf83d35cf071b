//! Where in the frame before a macroblock looks most like itself.

use super::motion::{self, Vector};
use super::patch::{Patch, STARTS};
use super::planes::{Planes, SIDE};

/// Samples of difference that a bit is worth: near to a third of the quantiser's step.
const BIT_WORTH: u32 = 3;
/// Pixels to go in each direction, as long as it gets better: far at first, then near.
const STEPS: [i32; 4] = [8, 4, 2, 1];

/// The best vector that is found from some on which to begin, of which impossible ones are left out, by the difference
/// and by the bits that it takes to tell the vector after the expected one.
pub(super) fn best(
    before: &Planes,
    source: &Patch,
    place: [usize; 2],
    expected: Vector,
    starts: impl Iterator<Item = Vector>,
) -> Vector {
    let mut search = Search {
        before,
        source,
        place,
        expected,
        best: [0, 0],
        least: u32::MAX,
    };
    search.try_one([0, 0]);
    starts.for_each(|start| search.try_one(start));
    for step in STEPS {
        search.walk(4 * step);
    }
    search.best
}

struct Search<'a> {
    before: &'a Planes,
    source: &'a Patch,
    place: [usize; 2],
    expected: Vector,
    best: Vector,
    least: u32,
}

impl Search<'_> {
    fn walk(&mut self, step: i32) {
        loop {
            let [x, y] = self.best;
            for [dx, dy] in [[step, 0], [-step, 0], [0, step], [0, -step]] {
                self.try_one([x + dx, y + dy]);
            }
            if self.best == [x, y] {
                return;
            }
        }
    }

    fn try_one(&mut self, vector: Vector) {
        if !motion::is_possible(self.before, self.place, vector) {
            return;
        }
        let bits = |axis: usize| {
            let code = 2 * (vector[axis] - self.expected[axis]).unsigned_abs();
            2 * (code + 1).ilog2() + 1
        };
        let mut cost = BIT_WORTH * (bits(0) + bits(1));
        let plane = self.before.plane(0);
        let at = |axis: usize| ((SIDE * self.place[axis]) as i32 + vector[axis] / 4) as usize;
        let mut start = at(1) * plane.width + at(0);
        for row in self.source.0[..STARTS[1]].chunks_exact(16) {
            let pairs = row.iter().zip(&plane.samples[start..start + 16]);
            cost += pairs.map(|(a, b)| u32::from(a.abs_diff(*b))).sum::<u32>();
            if cost >= self.least {
                return;
            }
            start += plane.width;
        }
        (self.best, self.least) = (vector, cost);
    }
}
