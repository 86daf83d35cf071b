//! One macroblock as bits, in whichever way takes fewest.
//!
//! Source: ITU-T H.264, clauses 7.3.5 (syntax), 7.4.5 with tables 7-11 and 7-13 (mb_type), A.3.1 (the most bits).

use super::bits::Bits;
use super::codes::PATTERNS;
use super::counts::Counts;
use super::motion::{self, Field, Vector};
use super::patch::{Patch, SQUARES};
use super::planes::Planes;
use super::predict;
use super::residual::Residual;
use super::search;
use super::transform::Quantiser;

/// More bits than this no macroblock has that is not stored as it is.
const MOST_BITS: usize = 3200;
/// mb_type in frames that are whole: after a guess within the frame, from 1; as it is.
const WITHIN: u32 = 1;
const PLAIN: u32 = 25;
/// By how much these are larger in other frames, where 0 is what comes from the frame before.
const IN_CHANGES: u32 = 5;

/// A macroblock that is coded in one way.
pub(super) struct Coded {
    /// How it is written.
    pub(super) form: Form,
    /// The counts of its squares.
    counts: [u8; SQUARES],
    /// Where it comes from in the frame before, if it does.
    vector: Option<Vector>,
    /// The samples as decoders have them.
    pub(super) decoded: Patch,
}

/// How a macroblock is written.
pub(super) enum Form {
    /// Not at all: it comes from where it is expected to.
    Skipped,
    /// As bits.
    Bits(Bits),
    /// As bits, then the samples as they are from the start of a byte on.
    Plain(Bits),
}

/// A frame as far as it is coded.
pub(super) struct SoFar {
    /// As decoders have it.
    pub(super) decoded: Planes,
    counts: Counts,
    field: Field,
    quantiser: Quantiser,
}

impl SoFar {
    /// Nothing of a frame with so many macroblocks across and down.
    pub(super) fn new(macroblocks: [usize; 2], quantiser: Quantiser) -> Self {
        Self {
            decoded: Planes::grey(macroblocks),
            counts: Counts::new(macroblocks),
            field: Field::new(macroblocks),
            quantiser,
        }
    }

    /// A macroblock, by its column and row, of a frame that is whole.
    pub(super) fn whole(&mut self, source: &Patch, place: [usize; 2]) -> Coded {
        let within = self.within(source, place, 0);
        within.unwrap_or_else(|| plain(source, 0))
    }

    /// A macroblock of another frame, after the one before as decoders have it.
    pub(super) fn change(&mut self, source: &Patch, before: &Planes, place: [usize; 2]) -> Coded {
        let expected = self.field.expected(place);
        let of_skipped = self.field.of_skipped(place);
        let around = self.field.around(place).into_iter().flatten().flatten();
        let found = search::best(before, source, place, expected, around);
        let mut fewest = self.within(source, place, IN_CHANGES);
        let mut tried = Vec::new();
        for vector in [of_skipped, found, [0, 0]] {
            if tried.contains(&vector) || !motion::is_possible(before, place, vector) {
                continue;
            }
            tried.push(vector);
            let guess = motion::moved(before, place, vector);
            let residual = Residual::of(source, &guess, false, self.quantiser);
            if vector == of_skipped && residual.is_nothing() {
                return skipped(guess, vector);
            }
            let after = self.after(&guess, vector, &residual, place);
            let ways = [fewest, after].into_iter().flatten();
            fewest = ways.min_by_key(|coded| coded.form.length());
        }
        fewest.unwrap_or_else(|| plain(source, IN_CHANGES))
    }

    /// A macroblock of another frame that is what it was.
    pub(super) fn still(&mut self, before: &Planes, place: [usize; 2]) -> Coded {
        let guess = before.patch(place);
        if self.field.of_skipped(place) == [0, 0] {
            return skipped(guess, [0, 0]);
        }
        // Told that it stays, since its neighbours move.
        let nothing = Residual::of(&guess, &guess, false, self.quantiser);
        let after = self.after(&guess, [0, 0], &nothing, place);
        after.expect("a few bits")
    }

    /// From the frame before, with what that lacks.
    fn after(
        &mut self,
        guess: &Patch,
        vector: Vector,
        residual: &Residual,
        place: [usize; 2],
    ) -> Option<Coded> {
        let mut bits = Bits::default();
        bits.ue(0);
        let expected = self.field.expected(place);
        for axis in [0, 1] {
            bits.se(vector[axis] - expected[axis]);
        }
        let pattern = residual.pattern();
        let number = PATTERNS.iter().position(|other| *other == pattern);
        bits.ue(number.expect("every pattern has one") as u32);
        if pattern > 0 {
            bits.se(0); // the same quantiser
        }
        self.finish(bits, guess, Some(vector), residual, place)
    }

    /// From its neighbours in the same frame, with what a guess lacks.
    fn within(&mut self, source: &Patch, place: [usize; 2], offset: u32) -> Option<Coded> {
        let guess = predict::nearest(&self.decoded, source, place);
        let residual = Residual::of(source, &guess.patch, true, self.quantiser);
        let pattern = u32::from(residual.pattern());
        let mut bits = Bits::default();
        let colour = pattern >> 4;
        let bright = u32::from(pattern & 15 > 0);
        bits.ue(offset + WITHIN + guess.bright as u32 + 4 * colour + 12 * bright);
        bits.ue(guess.colour as u32);
        bits.se(0); // the same quantiser
        self.finish(bits, &guess.patch, None, &residual, place)
    }

    /// `None` where the codes do not reach or are no use.
    fn finish(
        &mut self,
        mut bits: Bits,
        guess: &Patch,
        vector: Option<Vector>,
        residual: &Residual,
        place: [usize; 2],
    ) -> Option<Coded> {
        residual.write(&mut bits, &mut self.counts, place).ok()?;
        (bits.len() <= MOST_BITS).then(|| Coded {
            form: Form::Bits(bits),
            counts: std::array::from_fn(|square| self.counts.get(square, place)),
            vector,
            decoded: residual.added(guess, self.quantiser),
        })
    }

    /// Adds a macroblock to what is coded.
    pub(super) fn add(&mut self, coded: &Coded, place: [usize; 2]) {
        self.counts.set_all(place, coded.counts);
        self.field.set(place, coded.vector);
        self.decoded.set_patch(place, &coded.decoded);
    }
}

impl Form {
    fn length(&self) -> usize {
        match self {
            Self::Skipped => 0,
            Self::Bits(bits) | Self::Plain(bits) => bits.len(),
        }
    }
}

fn skipped(decoded: Patch, vector: Vector) -> Coded {
    Coded {
        form: Form::Skipped,
        counts: [0; SQUARES],
        vector: Some(vector),
        decoded,
    }
}

/// As it is: I_PCM.
fn plain(source: &Patch, offset: u32) -> Coded {
    let mut bits = Bits::default();
    bits.ue(offset + PLAIN);
    Coded {
        form: Form::Plain(bits),
        counts: [16; SQUARES],
        vector: None,
        decoded: *source,
    }
}
