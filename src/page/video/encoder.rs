//! Frames as H.264: now and then one whole, the others as what has changed.
//!
//! Source: ITU-T H.264, clause 7.3.4 (slice data).

use super::bits::Bits;
use super::counts::Counts;
use super::headers::{self, Kind};
use super::macroblock::{Coded, Context};
use super::planes::Planes;
use super::transform::Quantiser;

/// Number of the quantiser: a step of about six samples, of which lines and letters on white show nothing.
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
        let decoded = match before {
            Some([before, decoded]) => slice.change(&before, decoded),
            None => slice.whole(),
        };
        let unit = slice.bits.unit(kind.unit());
        self.last = Some([source, decoded]);
        self.done += 1;
        Encoded {
            unit,
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
    bits: Bits,
    counts: Counts,
    quantiser: Quantiser,
}

impl<'a> Slice<'a> {
    fn new(source: &'a Planes, kind: Kind, quantiser: Quantiser) -> Self {
        let mut bits = Bits::default();
        headers::slice(&mut bits, kind);
        Self {
            source,
            bits,
            counts: Counts::new(source.macroblocks()),
            quantiser,
        }
    }

    fn places(&self) -> impl Iterator<Item = [usize; 2]> + use<> {
        let [across, down] = self.source.macroblocks();
        (0..down).flat_map(move |row| (0..across).map(move |column| [column, row]))
    }

    /// Writes all of the frame and returns it as decoders have it.
    fn whole(&mut self) -> Planes {
        let mut decoded = Planes::grey(self.source.macroblocks());
        for place in self.places() {
            let source = self.source.patch(place);
            let coded = self.context(&decoded, place).whole(&source);
            self.put(&coded, &mut decoded, place);
        }
        decoded
    }

    /// Writes what has changed in what decoders have.
    fn change(&mut self, before: &Planes, mut decoded: Planes) -> Planes {
        let mut skipped = 0;
        for place in self.places() {
            let source = self.source.patch(place);
            let coded = if source == before.patch(place) {
                None
            } else {
                self.context(&decoded, place).change(&source)
            };
            match coded {
                Some(coded) => {
                    self.bits.ue(skipped);
                    skipped = 0;
                    self.put(&coded, &mut decoded, place);
                }
                // Nothing moves, so what is skipped stays where it is (8.4.1.1).
                None => skipped += 1,
            }
        }
        if skipped > 0 {
            self.bits.ue(skipped);
        }
        decoded
    }

    fn context<'b>(&'b mut self, decoded: &'b Planes, place: [usize; 2]) -> Context<'b> {
        Context {
            decoded,
            counts: &mut self.counts,
            place,
            quantiser: self.quantiser,
        }
    }

    fn put(&mut self, coded: &Coded, decoded: &mut Planes, place: [usize; 2]) {
        self.bits.append(&coded.bits);
        if coded.plain {
            self.bits.align();
            self.bits.bytes(&coded.decoded.0);
        }
        self.counts.set_all(place, coded.counts);
        decoded.set_patch(place, &coded.decoded);
    }
}
