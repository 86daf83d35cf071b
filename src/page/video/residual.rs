//! What a guess of a macroblock lacks, in steps of the quantiser: found, applied, and written.
//!
//! Source: ITU-T H.264, clauses 7.3.5.3 (order of blocks), 7.4.5 (coded_block_pattern), 8.5.1, 8.5.2 and 8.5.4.

use super::bits::Bits;
use super::cavlc::{self, TooLarge};
use super::codes::Tokens;
use super::counts::Counts;
use super::patch::{Patch, SQUARES, Spot};
use super::transform::{self, Quantiser, SCAN, Square};

/// The numbers of a macroblock.
#[derive(Debug, Clone, Copy)]
pub(super) struct Residual {
    /// The lowest frequencies of brightness, where these go their own way, as after guesses within the frame.
    bright_means: Option<Square>,
    /// Those of each colour.
    colour_means: [[i32; 4]; 2],
    /// All other frequencies, square by square.
    squares: [Square; SQUARES],
}

/// Squares of brightness.
const BRIGHT: std::ops::Range<usize> = 0..16;

impl Residual {
    /// What a guess lacks; within the frame, or else after the frame before.
    pub(super) fn of(source: &Patch, guess: &Patch, within: bool, quantiser: Quantiser) -> Self {
        let mut residual = Self {
            bright_means: None,
            colour_means: [[0; 4]; 2],
            squares: [[0; 16]; SQUARES],
        };
        let (mut bright, mut colours) = ([0; 16], [[0; 4]; 2]);
        for (square, levels) in residual.squares.iter_mut().enumerate() {
            let mut frequencies = transform::forward(&source.less(guess, square));
            let spot = Spot::of(square);
            if spot.plane > 0 {
                colours[spot.plane - 1][spot.in_rows()] = std::mem::take(&mut frequencies[0]);
            } else if within {
                bright[spot.in_rows()] = std::mem::take(&mut frequencies[0]);
            }
            *levels = quantiser.levels(&frequencies);
        }
        residual.bright_means = within.then(|| quantiser.mean_levels(&bright));
        residual.colour_means = colours.map(|four| quantiser.four_mean_levels(four));
        residual
    }

    /// Whether the guess is as good as it gets.
    pub(super) fn is_nothing(&self) -> bool {
        self.pattern() == 0 && self.bright_means.is_none_or(|means| means == [0; 16])
    }

    /// coded_block_pattern: a bit for each quarter of brightness, then 16 for means of colour or 32 for all of it.
    pub(super) fn pattern(&self) -> u8 {
        let any = |squares: &[Square]| squares.iter().any(|square| square.iter().any(|l| *l != 0));
        let quarters = (0..4).filter(|quarter| any(&self.squares[4 * quarter..][..4]));
        let bright: u8 = quarters.map(|quarter| 1 << quarter).sum();
        // After guesses within the frame it is all or nothing.
        let bright = match self.bright_means {
            Some(_) if bright > 0 => 15,
            _ => bright,
        };
        let colour = if any(&self.squares[BRIGHT.end..]) {
            32
        } else if self.colour_means != [[0; 4]; 2] {
            16
        } else {
            0
        };
        bright + colour
    }

    /// The guess with what it lacks, as decoders have it.
    pub(super) fn added(&self, guess: &Patch, quantiser: Quantiser) -> Patch {
        let mut patch = *guess;
        let bright = self
            .bright_means
            .map(|means| quantiser.scaled_means(&means));
        let colours = self
            .colour_means
            .map(|four| quantiser.four_scaled_means(four));
        for (square, levels) in self.squares.iter().enumerate() {
            let mut frequencies = quantiser.scaled(levels);
            let spot = Spot::of(square);
            if spot.plane > 0 {
                frequencies[0] = colours[spot.plane - 1][spot.in_rows()];
            } else if let Some(means) = bright {
                frequencies[0] = means[spot.in_rows()];
            }
            if frequencies != [0; 16] {
                patch.add(&transform::inverse(&frequencies), square);
            }
        }
        patch
    }

    /// Writes the numbers that the pattern names, and notes their counts for a macroblock by its column and row.
    pub(super) fn write(
        &self,
        bits: &mut Bits,
        counts: &mut Counts,
        place: [usize; 2],
    ) -> Result<(), TooLarge> {
        let pattern = self.pattern();
        counts.set_all(place, [0; SQUARES]);
        if let Some(means) = &self.bright_means {
            cavlc::block(bits, &SCAN.map(|at| means[at]), counts.around(0, place))?;
        }
        let mut write = |bits: &mut Bits, square: usize, from: usize| {
            let levels = SCAN.map(|at| self.squares[square][at]);
            let count = cavlc::block(bits, &levels[from..], counts.around(square, place))?;
            counts.set(square, place, count);
            Ok(())
        };
        let from = usize::from(self.bright_means.is_some());
        for square in BRIGHT.filter(|square| pattern >> (square / 4) & 1 == 1) {
            write(bits, square, from)?;
        }
        if pattern >= 16 {
            for four in &self.colour_means {
                cavlc::block(bits, four, Tokens::ColourMeans)?;
            }
        }
        if pattern >= 32 {
            for square in BRIGHT.end..SQUARES {
                write(bits, square, 1)?;
            }
        }
        Ok(())
    }
}
