//! Where macroblocks come from in the frame before: how such vectors are expected, and the patch that one leads to.
//!
//! Source: ITU-T H.264, clauses 8.4.1.1 and 8.4.1.3 (expected vectors), 8.4.2.2.2 (colour between samples).

use super::patch::{Patch, SAMPLES, STARTS};
use super::planes::{Planes, SIDE};

/// Right and down, in quarters of a pixel; whole pixels only.
pub(super) type Vector = [i32; 2];

/// Quarters of a pixel that vectors stay below: half of what the lowest level lets them go down.
pub(super) const FARTHEST: i32 = 1 << FARTHEST_BITS;
/// Its binary logarithm.
pub(super) const FARTHEST_BITS: u32 = 7;

/// The vectors of a frame so far.
pub(super) struct Field {
    /// Of each macroblock, row by row; `None` where it does not come from the frame before.
    vectors: Vec<Option<Vector>>,
    across: usize,
}

impl Field {
    /// Of a frame with so many macroblocks across and down.
    pub(super) fn new([across, down]: [usize; 2]) -> Self {
        Self {
            vectors: vec![None; across * down],
            across,
        }
    }

    /// Notes where a macroblock, by its column and row, comes from.
    pub(super) fn set(&mut self, [column, row]: [usize; 2], vector: Option<Vector>) {
        self.vectors[row * self.across + column] = vector;
    }

    /// At the left, above, and above at the right, or at the left where the frame ends: `None` outside, `Some(None)`
    /// where there is no vector.
    pub(super) fn around(&self, [column, row]: [usize; 2]) -> [Option<Option<Vector>>; 3] {
        let at = |column: usize, row: usize| self.vectors[row * self.across + column];
        let above = row.checked_sub(1);
        let left = column.checked_sub(1);
        let right = Some(column + 1).filter(|column| *column < self.across);
        [
            left.map(|column| at(column, row)),
            above.map(|row| at(column, row)),
            right
                .or(left)
                .and_then(|column| above.map(|row| at(column, row))),
        ]
    }

    /// The vector that is expected at a macroblock, and from which its own is told.
    pub(super) fn expected(&self, place: [usize; 2]) -> Vector {
        let around = self.around(place);
        if let [Some(left), None, None] = around {
            return left.unwrap_or_default();
        }
        let vectors = around.map(Option::flatten);
        match vectors {
            [Some(only), None, None] | [None, Some(only), None] | [None, None, Some(only)] => only,
            _ => [0, 1].map(|axis| {
                let mut parts = vectors.map(|vector| vector.unwrap_or_default()[axis]);
                parts.sort_unstable();
                parts[1]
            }),
        }
    }

    /// The vector of a macroblock that is skipped.
    pub(super) fn of_skipped(&self, place: [usize; 2]) -> Vector {
        let [left, above, _] = self.around(place);
        let still = Some(Some([0, 0]));
        if [left, above]
            .iter()
            .any(|side| side.is_none() || *side == still)
        {
            [0, 0]
        } else {
            self.expected(place)
        }
    }
}

/// Whether a vector is short enough and leads a macroblock into the frame.
pub(super) fn is_possible(before: &Planes, place: [usize; 2], vector: Vector) -> bool {
    let sides = before.macroblocks();
    (0..2).all(|axis| {
        let at = 4 * (SIDE * place[axis]) as i32 + vector[axis];
        let end = 4 * (SIDE * (sides[axis] - 1)) as i32;
        vector[axis].abs() < FARTHEST && (0..=end).contains(&at)
    })
}

/// The patch that a vector leads to, which must be possible.
pub(super) fn moved(before: &Planes, [column, row]: [usize; 2], vector: Vector) -> Patch {
    let mut patch = Patch([0; SAMPLES]);
    let from = |place: usize, axis: usize| (4 * (SIDE * place) as i32 + vector[axis]) as usize;
    let [x, y] = [from(column, 0), from(row, 1)];
    let bright = before.plane(0);
    for (dy, out) in patch.0[..STARTS[1]].chunks_exact_mut(16).enumerate() {
        let start = (y / 4 + dy) * bright.width + x / 4;
        out.copy_from_slice(&bright.samples[start..start + 16]);
    }
    for index in 1..3 {
        let plane = before.plane(index);
        let start = y / 8 * plane.width + x / 8;
        let inside = &mut patch.0[STARTS[index]..STARTS[index + 1]];
        between(&plane.samples[start..], plane.width, [x % 8, y % 8], inside);
    }
    patch
}

/// A square of colour, so many eighths right and down of where the samples begin: the mean of four, by their distance.
fn between(samples: &[u8], width: usize, [x, y]: [usize; 2], out: &mut [u8]) {
    // What lies beyond the last sample has no weight.
    let [right, below] = [usize::from(x > 0), if y > 0 { width } else { 0 }];
    for (dy, out) in out.chunks_exact_mut(8).enumerate() {
        for (dx, out) in out.iter_mut().enumerate() {
            let at = dy * width + dx;
            let [a, b, c, d] =
                [at, at + right, at + below, at + below + right].map(|at| usize::from(samples[at]));
            let sum = (8 - x) * (8 - y) * a + x * (8 - y) * b + (8 - x) * y * c + x * y * d;
            *out = ((sum + 32) >> 6) as u8;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The middle macroblock of 3 × 2, in the second row.
    const MIDDLE: [usize; 2] = [1, 1];

    fn field(around: [([usize; 2], Option<Vector>); 3]) -> Field {
        let mut field = Field::new([3, 2]);
        for (place, vector) in around {
            field.set(place, vector);
        }
        field
    }

    #[test]
    fn vectors_are_expected_from_three_neighbours() {
        let (left, above, corner) = ([0, 1], [1, 0], [2, 0]);
        let median = field([
            (left, Some([4, 0])),
            (above, Some([8, -8])),
            (corner, Some([-4, 40])),
        ]);
        assert_eq!(median.expected(MIDDLE), [4, 0]);
        assert_eq!(median.of_skipped(MIDDLE), [4, 0]);
        let only = field([(left, None), (above, Some([8, -8])), (corner, None)]);
        assert_eq!(only.expected(MIDDLE), [8, -8]);
        let two = field([(left, None), (above, Some([8, -8])), (corner, Some([4, 4]))]);
        assert_eq!(two.expected(MIDDLE), [4, 0]);
    }

    #[test]
    fn what_is_skipped_stays_beside_what_stays() {
        let still = field([
            ([0, 1], Some([0, 0])),
            ([1, 0], Some([8, 8])),
            ([2, 0], Some([8, 8])),
        ]);
        assert_eq!(still.expected(MIDDLE), [8, 8]);
        assert_eq!(still.of_skipped(MIDDLE), [0, 0]);
    }

    #[test]
    fn borders_have_fewer_neighbours() {
        let field = field([
            ([0, 0], Some([12, 4])),
            ([1, 0], Some([4, 0])),
            ([2, 0], Some([8, 0])),
        ]);
        assert_eq!(field.expected([0, 0]), [0, 0]);
        assert_eq!(field.expected([1, 0]), [12, 4]);
        assert_eq!(field.of_skipped([1, 0]), [0, 0]);
        // Above at the left, where there is nothing at the right.
        assert_eq!(field.around([2, 1])[2], Some(Some([4, 0])));
    }

    #[test]
    fn moved_patches_are_what_was_there() {
        let mut before = Planes::grey([3, 3]);
        let mut patch = Patch([0; SAMPLES]);
        for (i, sample) in patch.0.iter_mut().enumerate() {
            *sample = (i % 251) as u8;
        }
        before.set_patch([1, 1], &patch);
        assert_eq!(moved(&before, [1, 1], [0, 0]), patch);
        assert_eq!(moved(&before, [0, 1], [64, 0]), patch);
        assert_eq!(moved(&before, [2, 2], [-64, -64]), patch);
        // Half a sample of colour: the mean of neighbours.
        let half = moved(&before, [1, 1], [-4, 0]);
        let first = STARTS[1];
        assert_eq!(
            half.0[first + 1],
            patch.0[first..first + 2].iter().sum::<u8>().div_ceil(2)
        );
        assert!(is_possible(&before, [1, 1], [-64, 64]));
        assert!(!is_possible(&before, [1, 1], [-68, 64]));
        assert!(!is_possible(&before, [0, 0], [FARTHEST, 0]));
    }
}
