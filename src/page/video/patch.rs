//! The samples of one macroblock, and the squares of 4 × 4 that it is coded in.
//!
//! Source: ITU-T H.264, clauses 6.4.3 and 6.4.7 (the order of squares).

use super::transform::Square;

/// Samples in a macroblock.
pub(super) const SAMPLES: usize = 384;
/// Where the samples of each plane begin, and the end.
pub(super) const STARTS: [usize; 4] = [0, 256, 320, SAMPLES];
/// Squares in a macroblock: sixteen of brightness, then four of each colour.
pub(super) const SQUARES: usize = 24;

/// Brightness, 16 × 16, then Cb and Cr, 8 × 8 each, row by row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Patch(pub(super) [u8; SAMPLES]);

/// Where a square lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Spot {
    /// Y′ (0), Cb (1) or Cr (2).
    pub(super) plane: usize,
    /// Its column and row among the squares of the plane.
    pub(super) at: [usize; 2],
}

impl Spot {
    /// By the number of the square in a stream: brightness goes by quarters, and in quarters by quarters again.
    pub(super) fn of(square: usize) -> Self {
        let bit = |place: usize| square >> place & 1;
        if square < 16 {
            let at = [bit(0) + 2 * bit(2), bit(1) + 2 * bit(3)];
            Self { plane: 0, at }
        } else {
            let at = [bit(0), bit(1)];
            let plane = if square < 20 { 1 } else { 2 };
            Self { plane, at }
        }
    }

    /// Squares across in the plane.
    pub(super) fn across(self) -> usize {
        if self.plane == 0 { 4 } else { 2 }
    }

    /// Its number in its plane, row by row.
    pub(super) fn in_rows(self) -> usize {
        self.across() * self.at[1] + self.at[0]
    }

    /// The first sample, and how far the next row is.
    fn samples(self) -> [usize; 2] {
        let start = STARTS[self.plane];
        let width = 4 * self.across();
        [start + 4 * (width * self.at[1] + self.at[0]), width]
    }
}

impl Patch {
    /// What must be added to a guess in a square.
    pub(super) fn less(&self, guess: &Self, square: usize) -> Square {
        let [start, width] = Spot::of(square).samples();
        std::array::from_fn(|i| {
            let at = start + i / 4 * width + i % 4;
            i32::from(self.0[at]) - i32::from(guess.0[at])
        })
    }

    /// Adds differences in a square.
    pub(super) fn add(&mut self, differences: &Square, square: usize) {
        let [start, width] = Spot::of(square).samples();
        for (i, difference) in differences.iter().enumerate() {
            let sample = &mut self.0[start + i / 4 * width + i % 4];
            *sample = (i32::from(*sample) + difference).clamp(0, 255) as u8;
        }
    }
}
