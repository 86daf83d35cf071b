//! One macroblock as bits, in whichever of three ways takes fewest.
//!
//! Source: ITU-T H.264, clauses 7.3.5 (syntax), 7.4.5 with tables 7-11 and 7-13 (mb_type), A.3.1 (the most bits).

use super::bits::Bits;
use super::codes::PATTERNS;
use super::counts::Counts;
use super::patch::{Patch, SQUARES};
use super::planes::Planes;
use super::predict::{self, Guess};
use super::residual::Residual;
use super::transform::Quantiser;

/// More bits than this no macroblock has that is not stored as it is.
const MOST_BITS: usize = 3200;
/// mb_type in frames that are whole: after a guess within the frame, from 1; as it is.
const WITHIN: u32 = 1;
const PLAIN: u32 = 25;
/// By how much these are larger in other frames, where 0 is what follows from the frame before.
const IN_CHANGES: u32 = 5;

/// A macroblock that is coded in one way.
pub(super) struct Coded {
    /// All of it but the bits up to the next whole byte and the samples of one that is stored as it is.
    pub(super) bits: Bits,
    /// The counts of its squares.
    pub(super) counts: [u8; SQUARES],
    /// The samples as decoders have them.
    pub(super) decoded: Patch,
    /// Whether samples follow as they are.
    pub(super) plain: bool,
}

/// What a macroblock is coded with: the frame so far, the counts, its column and row.
pub(super) struct Context<'a> {
    pub(super) decoded: &'a Planes,
    pub(super) counts: &'a mut Counts,
    pub(super) place: [usize; 2],
    pub(super) quantiser: Quantiser,
}

impl Context<'_> {
    /// A macroblock of a frame that is whole.
    pub(super) fn whole(&mut self, source: &Patch) -> Coded {
        let guess = predict::nearest(self.decoded, source, self.place);
        self.within(source, &guess, 0)
            .unwrap_or_else(|| plain(source, 0))
    }

    /// A macroblock of another frame; `None` where what was there before may stay.
    pub(super) fn change(&mut self, source: &Patch) -> Option<Coded> {
        let before = self.decoded.patch(self.place);
        let residual = Residual::of(source, &before, false, self.quantiser);
        if residual.is_nothing() {
            return None;
        }
        let guess = predict::nearest(self.decoded, source, self.place);
        let ways = [
            self.after(&before, &residual),
            self.within(source, &guess, IN_CHANGES),
        ];
        let fewest = ways
            .into_iter()
            .flatten()
            .min_by_key(|coded| coded.bits.len());
        Some(fewest.unwrap_or_else(|| plain(source, IN_CHANGES)))
    }

    /// With what the frame before lacks.
    fn after(&mut self, before: &Patch, residual: &Residual) -> Option<Coded> {
        let mut bits = Bits::default();
        bits.ue(0);
        bits.se(0); // no motion across
        bits.se(0); // and down
        let pattern = residual.pattern();
        let number = PATTERNS.iter().position(|other| *other == pattern);
        bits.ue(number.expect("every pattern has one") as u32);
        bits.se(0); // the same quantiser
        self.finish(bits, before, residual)
    }

    /// With what a guess within the frame lacks.
    fn within(&mut self, source: &Patch, guess: &Guess, offset: u32) -> Option<Coded> {
        let residual = Residual::of(source, &guess.patch, true, self.quantiser);
        let pattern = u32::from(residual.pattern());
        let mut bits = Bits::default();
        let colour = pattern >> 4;
        let bright = u32::from(pattern & 15 > 0);
        bits.ue(offset + WITHIN + guess.bright as u32 + 4 * colour + 12 * bright);
        bits.ue(guess.colour as u32);
        bits.se(0); // the same quantiser
        self.finish(bits, &guess.patch, &residual)
    }

    /// `None` where the codes do not reach or are no use.
    fn finish(&mut self, mut bits: Bits, guess: &Patch, residual: &Residual) -> Option<Coded> {
        residual.write(&mut bits, self.counts, self.place).ok()?;
        (bits.len() <= MOST_BITS).then(|| Coded {
            bits,
            counts: std::array::from_fn(|square| self.counts.get(square, self.place)),
            decoded: residual.added(guess, self.quantiser),
            plain: false,
        })
    }
}

/// As it is: I_PCM.
fn plain(source: &Patch, offset: u32) -> Coded {
    let mut bits = Bits::default();
    bits.ue(offset + PLAIN);
    Coded {
        bits,
        counts: [16; SQUARES],
        decoded: *source,
        plain: true,
    }
}
