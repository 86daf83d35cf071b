//! Frames as H.264: now and then one whole, the others as what has changed.
//!
//! Source: ITU-T H.264, clause 7.3.4 (slice data).

use super::bits::Bits;
use super::headers::{self, Kind};
use super::macroblock::{Coded, Form, SoFar};
use super::planes::Planes;
use super::transform::Quantiser;

/// Number of the quantiser: steps of eight, which lines and letters on white show nothing of.
pub(super) const QUANTISER: u8 = 22;
/// Frequencies of less than so many sixths of a step are left out.
const UP_FROM: i32 = 4;
/// Frames from one whole frame to the next: where players can go without decoding all that came before.
const WHOLE_EVERY: u32 = 250;

/// What is known of the frames so far.
pub(super) struct Encoder {
    quantiser: Quantiser,
    /// The last frame, as it was and as decoders have it.
    last: Option<[Planes; 2]>,
    done: u32,
}

/// A frame that is encoded.
pub(super) struct Encoded {
    /// The NAL unit.
    pub(super) unit: Vec<u8>,
    /// Whether it needs no frame before it.
    pub(super) whole: bool,
}

impl Encoder {
    /// Before the first frame.
    pub(super) fn new(quantiser: u8) -> Self {
        Self {
            quantiser: Quantiser::new(quantiser, UP_FROM),
            last: None,
            done: 0,
        }
    }

    /// The next frame.
    pub(super) fn frame(&mut self, source: Planes) -> Encoded {
        let since = self.done % WHOLE_EVERY;
        let before = self.last.take().filter(|_| since > 0);
        let kind = match &before {
            Some(_) => Kind::Change(since),
            None => Kind::Whole(self.done / WHOLE_EVERY % 2),
        };
        let mut slice = Slice::new(&source, kind, self.quantiser);
        match &before {
            Some([before, decoded]) => slice.change(before, decoded),
            None => slice.whole(),
        }
        let Slice { bits, so_far, .. } = slice;
        self.last = Some([source, so_far.decoded]);
        self.done += 1;
        Encoded {
            unit: bits.unit(kind.unit()),
            whole: since == 0,
        }
    }

    /// The last frame as decoders have it.
    #[cfg(test)]
    pub(super) fn decoded(&self) -> &Planes {
        &self.last.as_ref().expect("a frame")[1]
    }
}

/// A frame on its way into bits.
struct Slice<'a> {
    source: &'a Planes,
    so_far: SoFar,
    bits: Bits,
}

impl<'a> Slice<'a> {
    fn new(source: &'a Planes, kind: Kind, quantiser: Quantiser) -> Self {
        let mut bits = Bits::default();
        headers::slice(&mut bits, kind);
        Self {
            source,
            so_far: SoFar::new(source.macroblocks(), quantiser),
            bits,
        }
    }

    fn places(&self) -> impl Iterator<Item = [usize; 2]> + use<> {
        let [across, down] = self.source.macroblocks();
        (0..down).flat_map(move |row| (0..across).map(move |column| [column, row]))
    }

    /// Writes all of the frame.
    fn whole(&mut self) {
        for place in self.places() {
            let coded = self.so_far.whole(&self.source.patch(place), place);
            self.put(&coded);
            self.so_far.add(&coded, place);
        }
    }

    /// Writes what has changed since the frame before, as that was and as decoders have it.
    fn change(&mut self, before: &Planes, decoded: &Planes) {
        let mut skipped = 0;
        for place in self.places() {
            let source = self.source.patch(place);
            let coded = if source == before.patch(place) {
                self.so_far.still(decoded, place)
            } else {
                self.so_far.change(&source, decoded, place)
            };
            if matches!(coded.form, Form::Skipped) {
                skipped += 1;
            } else {
                self.bits.ue(skipped);
                skipped = 0;
                self.put(&coded);
            }
            self.so_far.add(&coded, place);
        }
        if skipped > 0 {
            self.bits.ue(skipped);
        }
    }

    fn put(&mut self, coded: &Coded) {
        match &coded.form {
            Form::Skipped => {}
            Form::Bits(bits) => self.bits.append(bits),
            Form::Plain(bits) => {
                self.bits.append(bits);
                self.bits.align();
                self.bits.bytes(&coded.decoded.0);
            }
        }
    }
}
