//! Frames as H.264: the first whole, the others as what has changed.
//!
//! Source: ITU-T H.264, clauses 7.3.4, 7.3.5 (slice data, macroblocks), 8.3.3.3 (DC prediction), 9.2.1 (`coeff_token`).

use super::bits::Bits;
use super::headers::{self, Kind};
use super::planes::{Plane, Planes};

/// Number of the quantiser.
pub(super) const QUANTISER: u8 = 20;
/// Frames from one whole frame to the next: where players can go without decoding all that came before.
const WHOLE_EVERY: u32 = 250;
/// Counts of numbers in blocks that hold samples as they are.
const PLAIN: u8 = 16;

/// What is known of the frames so far.
#[derive(Default)]
pub(super) struct Encoder {
    /// The last frame, as decoders have it.
    last: Option<Planes>,
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
    /// The next frame.
    pub(super) fn frame(&mut self, source: Planes) -> Encoded {
        let since = self.done % WHOLE_EVERY;
        let before = self.last.take().filter(|_| since > 0);
        let kind = match &before {
            Some(_) => Kind::Change(since),
            None => Kind::Whole(self.done / WHOLE_EVERY % 2),
        };
        let mut bits = Bits::default();
        headers::slice(&mut bits, kind);
        match &before {
            Some(before) => change(&mut bits, &source, before),
            None => whole(&mut bits, &source),
        }
        self.last = Some(source);
        self.done += 1;
        Encoded {
            unit: bits.unit(kind.unit()),
            whole: before.is_none(),
        }
    }
}

fn places(planes: &Planes) -> impl Iterator<Item = [usize; 2]> {
    let [across, down] = planes.macroblocks();
    (0..down).flat_map(move |row| (0..across).map(move |column| [column, row]))
}

fn change(bits: &mut Bits, source: &Planes, before: &Planes) {
    let mut skipped = 0;
    for place in places(source) {
        if source.same(before, place) {
            skipped += 1;
            continue;
        }
        bits.ue(skipped);
        skipped = 0;
        bits.ue(5 + 25);
        samples(bits, source, place);
    }
    if skipped > 0 {
        bits.ue(skipped);
    }
}

fn whole(bits: &mut Bits, source: &Planes) {
    let [across, _] = source.macroblocks();
    let mut counts = vec![0; across];
    for [column, row] in places(source) {
        if is_predicted(source, [column, row]) {
            bits.ue(1 + 2);
            bits.ue(0);
            bits.se(0);
            no_numbers(bits, around(&counts, [column, row]));
            counts[column] = 0;
        } else {
            bits.ue(25);
            samples(bits, source, [column, row]);
            counts[column] = PLAIN;
        }
    }
}

/// The mean of the counts to the left and above, where `counts` holds those of the row above from the column on.
fn around(counts: &[u8], [column, row]: [usize; 2]) -> u8 {
    let left = column.checked_sub(1).map(|column| counts[column]);
    let above = (row > 0).then(|| counts[column]);
    match (left, above) {
        (Some(a), Some(b)) => (a + b).div_ceil(2),
        (a, b) => a.or(b).unwrap_or(0),
    }
}

/// coeff_token of a block without numbers, table 9-5.
fn no_numbers(bits: &mut Bits, around: u8) {
    let (code, length) = match around {
        0..2 => (1, 1),
        2..4 => (3, 2),
        4..8 => (15, 4),
        _ => (3, 6),
    };
    bits.put(code, length);
}

/// The samples as they are: I_PCM.
fn samples(bits: &mut Bits, source: &Planes, [column, row]: [usize; 2]) {
    bits.align();
    for y in 16 * row..16 * (row + 1) {
        bits.bytes(source.plane(0).row::<16>(16 * column, y));
    }
    for plane in [1, 2] {
        for y in 8 * row..8 * (row + 1) {
            bits.bytes(source.plane(plane).row::<8>(8 * column, y));
        }
    }
}

/// Whether the mean of the neighbours' samples is the macroblock: flat, beside flat ones of the same colour.
fn is_predicted(source: &Planes, place: [usize; 2]) -> bool {
    is_flat::<16>(source.plane(0), place)
        && is_flat::<8>(source.plane(1), place)
        && is_flat::<8>(source.plane(2), place)
}

fn is_flat<const N: usize>(plane: &Plane, [column, row]: [usize; 2]) -> bool {
    let [x, y] = [N * column, N * row];
    let value = plane.row::<N>(x, y)[0];
    let inside = (y..y + N).all(|y| plane.row::<N>(x, y) == &[value; N]);
    let above = row == 0 || plane.row::<N>(x, y - 1) == &[value; N];
    let left = column == 0 || (y..y + N).all(|y| plane.row::<1>(x - 1, y) == &[value]);
    // Without neighbours the mean counts as 128.
    inside && above && left && (column + row > 0 || value == 128)
}
