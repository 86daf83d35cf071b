//! How many numbers each square of a frame has, which tells what to expect of the next.
//!
//! Source: ITU-T H.264, clause 9.2.1 (nC).

use super::codes::Tokens;
use super::patch::{SQUARES, Spot};

/// Counts of a frame, 0 where nothing is coded.
pub(super) struct Counts {
    planes: [Vec<u8>; 3],
    /// Macroblocks across.
    across: usize,
}

impl Counts {
    /// Of a frame with so many macroblocks across and down.
    pub(super) fn new([across, down]: [usize; 2]) -> Self {
        let squares = [16, 4, 4].map(|each| vec![0; each * across * down]);
        Self {
            planes: squares,
            across,
        }
    }

    fn at(&self, spot: Spot, [column, row]: [usize; 2]) -> (usize, usize, usize) {
        let each = spot.across();
        let [x, y] = [each * column + spot.at[0], each * row + spot.at[1]];
        (x, y, each * self.across)
    }

    /// Which words fit a square of a macroblock, by its column and row.
    pub(super) fn around(&self, square: usize, place: [usize; 2]) -> Tokens {
        let spot = Spot::of(square);
        let (x, y, width) = self.at(spot, place);
        let counts = &self.planes[spot.plane];
        let left = (x > 0).then(|| counts[y * width + x - 1]);
        let above = (y > 0).then(|| counts[(y - 1) * width + x]);
        Tokens::Around(match (left, above) {
            (Some(a), Some(b)) => (a + b).div_ceil(2),
            (a, b) => a.or(b).unwrap_or(0),
        })
    }

    /// The count of a square.
    pub(super) fn get(&self, square: usize, place: [usize; 2]) -> u8 {
        let spot = Spot::of(square);
        let (x, y, width) = self.at(spot, place);
        self.planes[spot.plane][y * width + x]
    }

    /// Sets the count of a square.
    pub(super) fn set(&mut self, square: usize, place: [usize; 2], count: u8) {
        let spot = Spot::of(square);
        let (x, y, width) = self.at(spot, place);
        self.planes[spot.plane][y * width + x] = count;
    }

    /// Sets those of a whole macroblock.
    pub(super) fn set_all(&mut self, place: [usize; 2], counts: [u8; SQUARES]) {
        for (square, count) in counts.into_iter().enumerate() {
            self.set(square, place, count);
        }
    }
}
