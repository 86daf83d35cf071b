//! Guesses of a macroblock from its neighbours in the same frame.
//!
//! Source: ITU-T H.264, clauses 8.3.3 (Intra 16×16) and 8.3.4 (colour).

use std::ops::Range;

use super::patch::{Patch, SAMPLES, STARTS};
use super::planes::{Plane, Planes};

/// A way to guess.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// As the row above.
    Down,
    /// As the column at the left.
    Across,
    /// Their mean.
    Mean,
    /// A slope through both.
    Slope,
}

/// Intra16x16PredMode: table 8-4, in the order of numbers.
pub(super) const BRIGHT_WAYS: [Way; 4] = [Way::Down, Way::Across, Way::Mean, Way::Slope];
/// intra_chroma_pred_mode: table 8-5, likewise.
pub(super) const COLOUR_WAYS: [Way; 4] = [Way::Mean, Way::Across, Way::Down, Way::Slope];
/// Planes of each part.
pub(super) const BRIGHT: Range<usize> = 0..1;
pub(super) const COLOUR: Range<usize> = 1..3;

/// A guess with the numbers of its ways.
pub(super) struct Guess {
    /// Of brightness.
    pub(super) bright: usize,
    /// Of both colours.
    pub(super) colour: usize,
    /// What is guessed.
    pub(super) patch: Patch,
}

/// The nearest guess of a macroblock, by its column and row, from what decoders have around it.
pub(super) fn nearest(decoded: &Planes, source: &Patch, place: [usize; 2]) -> Guess {
    let borders = Borders::new(decoded, place);
    let mut patch = Patch([0; SAMPLES]);
    let bright = borders.choose(source, BRIGHT_WAYS, BRIGHT, &mut patch);
    let colour = borders.choose(source, COLOUR_WAYS, COLOUR, &mut patch);
    Guess {
        bright,
        colour,
        patch,
    }
}

/// The samples around a macroblock in each plane.
pub(super) struct Borders([Border; 3]);

impl Borders {
    /// From what decoders have so far.
    pub(super) fn new(decoded: &Planes, place: [usize; 2]) -> Self {
        let border =
            |plane| Border::new(decoded.plane(plane), place, if plane == 0 { 16 } else { 8 });
        Self([0, 1, 2].map(border))
    }

    /// Makes the best guess for some planes and returns the number of its way.
    fn choose(
        &self,
        source: &Patch,
        ways: [Way; 4],
        planes: Range<usize>,
        patch: &mut Patch,
    ) -> usize {
        let samples = STARTS[planes.start]..STARTS[planes.end];
        let (mut chosen, mut least) = (0, u32::MAX);
        let mut trial = *patch;
        for (number, way) in ways.into_iter().enumerate() {
            if self.fill(way, planes.clone(), &mut trial) {
                let guess = &trial.0[samples.clone()];
                let apart = distance(guess, &source.0[samples.clone()]);
                if apart < least {
                    (chosen, least) = (number, apart);
                    patch.0[samples.clone()].copy_from_slice(guess);
                }
            }
        }
        chosen
    }

    /// Guesses some planes, or returns false where the frame ends too near for this way.
    pub(super) fn fill(&self, way: Way, planes: Range<usize>, patch: &mut Patch) -> bool {
        planes.into_iter().all(|plane| {
            let part = &mut patch.0[STARTS[plane]..STARTS[plane + 1]];
            self.0[plane].fill(way, part).is_some()
        })
    }
}

fn distance(a: &[u8], b: &[u8]) -> u32 {
    let pairs = a.iter().zip(b);
    pairs.map(|(a, b)| u32::from(a.abs_diff(*b))).sum()
}

/// Samples along two sides of a square, the corner between them first; there are none beyond the border of the frame.
struct Border {
    above: Option<[i32; 17]>,
    left: Option<[i32; 17]>,
    side: usize,
}

impl Border {
    fn new(plane: &Plane, [column, row]: [usize; 2], side: usize) -> Self {
        let [x, y] = [side * column, side * row];
        // The corner is used only where both sides are there.
        let at = |x: usize, y: usize| i32::from(plane.samples[y * plane.width + x]);
        let along =
            |at: &dyn Fn(usize) -> i32| std::array::from_fn(|i| if i <= side { at(i) } else { 0 });
        let above = |i: usize| at((x + i).saturating_sub(1), y - 1);
        let left = |i: usize| at(x - 1, (y + i).saturating_sub(1));
        Self {
            above: (y > 0).then(|| along(&above)),
            left: (x > 0).then(|| along(&left)),
            side,
        }
    }

    fn fill(&self, way: Way, out: &mut [u8]) -> Option<()> {
        match way {
            Way::Down => {
                let above = self.above?;
                self.each(out, |x, _| above[x + 1]);
            }
            Way::Across => {
                let left = self.left?;
                self.each(out, |_, y| left[y + 1]);
            }
            Way::Mean if self.side == 16 => {
                let mean = self.mean(0..16, 0..16);
                self.each(out, |_, _| mean);
            }
            Way::Mean => {
                let means =
                    [0, 1, 2, 3].map(|quarter| self.mean_of_quarter(quarter % 2, quarter / 2));
                self.each(out, |x, y| means[2 * (y / 4) + x / 4]);
            }
            Way::Slope => {
                let (above, left) = (self.above?, self.left?);
                let [right, down] = [slope(&above, self.side), slope(&left, self.side)];
                let middle = 16 * (above[self.side] + left[self.side]);
                let from_middle = |i: usize| i as i32 - (self.side as i32 / 2 - 1);
                self.each(out, |x, y| {
                    let rise = right * from_middle(x) + down * from_middle(y);
                    ((middle + rise + 16) >> 5).clamp(0, 255)
                });
            }
        }
        Some(())
    }

    fn each(&self, out: &mut [u8], sample: impl Fn(usize, usize) -> i32) {
        for (y, row) in out.chunks_exact_mut(self.side).enumerate() {
            for (x, out) in row.iter_mut().enumerate() {
                *out = sample(x, y) as u8;
            }
        }
    }

    /// The mean along parts of both sides, or of the one that is there; grey where none is.
    fn mean(&self, across: Range<usize>, down: Range<usize>) -> i32 {
        let part = |side: &Option<[i32; 17]>, range: Range<usize>| {
            let sum = |side: &[i32; 17]| -> i32 { side[range.start + 1..=range.end].iter().sum() };
            side.as_ref().map(sum)
        };
        let count = across.len() as i32;
        match (part(&self.above, across), part(&self.left, down)) {
            (Some(a), Some(b)) => (a + b + count) / (2 * count),
            (Some(sum), None) | (None, Some(sum)) => (sum + count / 2) / count,
            (None, None) => 128,
        }
    }

    /// The mean for a quarter of colour: those off the diagonal look at the side that they touch, if it is there (8.3.4.1 to 3).
    fn mean_of_quarter(&self, column: usize, row: usize) -> i32 {
        let [across, down] = [column, row].map(|i| 4 * i..4 * i + 4);
        let one_sided = match (column, row) {
            (1, 0) if self.above.is_some() => [self.above, None],
            (0, 1) if self.left.is_some() => [None, self.left],
            _ => [self.above, self.left],
        };
        let [above, left] = one_sided;
        let side = self.side;
        Self { above, left, side }.mean(across, down)
    }
}

/// How steeply a side rises, in 32nd parts of a step for a sample: equations 8-121 and 8-149 (b and c).
fn slope(side: &[i32; 17], length: usize) -> i32 {
    let half = length / 2;
    let rises = (1..=half).map(|i| i as i32 * (side[half + i] - side[half - i]));
    let weight = if length == 16 { 5 } else { 34 };
    (weight * rises.sum::<i32>() + 32) >> 6
}
