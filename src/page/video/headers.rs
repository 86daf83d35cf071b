//! What an H.264 stream says of itself: the two parameter sets, the level, and the header of each slice.
//!
//! Source: ITU-T H.264, clauses 7.3.2.1, 7.3.2.2, 7.3.3 (syntax), A.2.1 (Baseline), A.3 with table A-1 (levels), E.1 (VUI).

use super::bits::Bits;
use super::motion::FARTHEST_BITS;
use super::planes::SIDE;
use super::rate::Rate;

/// Baseline, and that it also obeys the Main profile: constraint_set0 and constraint_set1.
pub(super) const PROFILE: [u8; 2] = [66, 0b1100_0000];
/// Bits in which frames since the last whole one are counted.
const FRAME_NUMBER_BITS: u32 = 8;
/// Number of BT.709 in the tables of primaries and matrices, E-3 and E-5.
pub(super) const BT709: u8 = 1;
/// Number of the curve of IEC 61966-2-1 (sRGB) in table E-4.
pub(super) const SRGB_CURVE: u8 = 13;

/// What a decoder must be able to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Level {
    /// Ten times the level's number.
    pub(super) number: u8,
    macroblocks_a_second: u64,
    macroblocks: u64,
    kilobits_a_second: u64,
    kilobits_at_once: u64,
}

/// Rows of table A-1, of Baseline: number, MaxMBPS, MaxFS, MaxBR, MaxCPB.
const LEVELS: [[u64; 5]; 19] = [
    [10, 1_485, 99, 64, 175],
    [11, 3_000, 396, 192, 500],
    [12, 6_000, 396, 384, 1_000],
    [13, 11_880, 396, 768, 2_000],
    [20, 11_880, 396, 2_000, 2_000],
    [21, 19_800, 792, 4_000, 4_000],
    [22, 20_250, 1_620, 4_000, 4_000],
    [30, 40_500, 1_620, 10_000, 10_000],
    [31, 108_000, 3_600, 14_000, 14_000],
    [32, 216_000, 5_120, 20_000, 20_000],
    [40, 245_760, 8_192, 20_000, 25_000],
    [41, 245_760, 8_192, 50_000, 62_500],
    [42, 522_240, 8_704, 50_000, 62_500],
    [50, 589_824, 22_080, 135_000, 135_000],
    [51, 983_040, 36_864, 240_000, 240_000],
    [52, 2_073_600, 36_864, 240_000, 240_000],
    [60, 4_177_920, 139_264, 240_000, 240_000],
    [61, 8_355_840, 139_264, 480_000, 480_000],
    [62, 16_711_680, 139_264, 800_000, 800_000],
];

/// What a film needs of a decoder.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Needs {
    /// Macroblocks across and down.
    pub(super) macroblocks: [usize; 2],
    /// Frames in a second.
    pub(super) rate: Rate,
    /// Bytes of the largest frame.
    pub(super) largest_frame: usize,
    /// Bytes of the second that has most.
    pub(super) busiest_second: usize,
}

impl Level {
    /// The lowest level that a film fits; the highest where only its bytes are too many. `None` where frames are too large for any.
    pub(super) fn of(needs: &Needs) -> Option<Self> {
        let levels = LEVELS.map(|row| Self {
            number: row[0] as u8,
            macroblocks_a_second: row[1],
            macroblocks: row[2],
            kilobits_a_second: row[3],
            kilobits_at_once: row[4],
        });
        let highest = levels.last().filter(|level| level.shows(needs)).copied();
        let lowest = levels.into_iter().find(|level| {
            let bits = |bytes: usize| 8 * bytes as u64;
            level.shows(needs)
                && bits(needs.busiest_second) <= 1000 * level.kilobits_a_second
                && bits(needs.largest_frame) <= 1000 * level.kilobits_at_once
        });
        lowest.or(highest)
    }

    /// Whether frames are small and few enough: A.3.1, items a, f and g.
    fn shows(&self, needs: &Needs) -> bool {
        let [across, down] = needs.macroblocks.map(|count| count as u64);
        let Rate { ticks, step } = needs.rate;
        let (ticks, step) = (u64::from(ticks), u64::from(step));
        across * down <= self.macroblocks
            && across.max(down).pow(2) <= 8 * self.macroblocks
            && across * down * ticks <= self.macroblocks_a_second * step
    }
}

/// The sequence parameter set, as a NAL unit.
pub(super) fn sequence(level: Level, [width, height]: [usize; 2], rate: Rate) -> Vec<u8> {
    let mut bits = Bits::default();
    bits.put(PROFILE[0].into(), 8);
    bits.put(PROFILE[1].into(), 8);
    bits.put(level.number.into(), 8);
    bits.ue(0); // its number
    bits.ue(FRAME_NUMBER_BITS - 4);
    bits.ue(2); // frames are shown in the order in which they are decoded
    bits.ue(1); // one frame is looked back at
    bits.flag(false); // no frames are missing
    let sides = [width, height].map(|side| side.div_ceil(SIDE));
    sides.iter().for_each(|count| bits.ue(*count as u32 - 1));
    bits.flag(true); // frames, no fields
    bits.flag(true); // direct_8x8_inference, without use here
    crop(&mut bits, [width, height], sides);
    bits.flag(true);
    usability(&mut bits, rate);
    bits.unit(0x67)
}

/// What is cut off whole macroblocks, in steps of two pixels: an odd side keeps one pixel more.
fn crop(bits: &mut Bits, size: [usize; 2], macroblocks: [usize; 2]) {
    let [right, below] = [0, 1].map(|axis| ((SIDE * macroblocks[axis] - size[axis]) / 2) as u32);
    bits.flag(right + below > 0);
    if right + below > 0 {
        for cut in [0, right, 0, below] {
            bits.ue(cut);
        }
    }
}

/// The VUI parameters: square pixels, colours, times, and that frames can be shown as soon as they are decoded.
fn usability(bits: &mut Bits, rate: Rate) {
    bits.flag(true);
    bits.put(1, 8); // square
    bits.flag(false); // overscan
    bits.flag(true);
    bits.put(5, 3); // no kind of television
    bits.flag(false); // black is 16 and white 235
    bits.flag(true);
    for number in [BT709, SRGB_CURVE, BT709] {
        bits.put(number.into(), 8);
    }
    bits.flag(true);
    bits.ue(1); // colour stands amid four pixels,
    bits.ue(1); // in both fields
    bits.flag(true);
    bits.put(rate.step, 32);
    bits.put(2 * rate.ticks, 32); // counted in fields
    bits.flag(true); // always
    bits.put(0, 3); // no buffer models, no pic_struct
    bits.flag(true);
    bits.flag(false); // no motion over the border
    bits.ue(0); // no limit to the bytes of a frame
    bits.ue(0); // and to the bits of a macroblock
    bits.ue(FARTHEST_BITS); // motion across
    bits.ue(FARTHEST_BITS); // and down
    bits.ue(0); // frames that wait for others
    bits.ue(1); // frames kept
}

/// The picture parameter set, as a NAL unit.
pub(super) fn picture(quantiser: u8) -> Vec<u8> {
    let mut bits = Bits::default();
    bits.ue(0); // its number
    bits.ue(0); // the sequence's
    bits.flag(false); // CAVLC
    bits.flag(false); // no fields
    bits.ue(0); // one slice group
    bits.ue(0); // one frame to look back at,
    bits.ue(0); // also where there would be two lists
    bits.flag(false); // no weights
    bits.put(0, 2);
    bits.se(i32::from(quantiser) - 26);
    bits.se(0); // of switching slices
    bits.se(0); // of colour against brightness
    bits.flag(true); // slices say how they are deblocked
    bits.flag(false); // intra prediction from all neighbours
    bits.flag(false); // nothing twice
    bits.unit(0x68)
}

/// Where a frame stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Whole in itself (IDR); the number differs from that of the one before.
    Whole(u32),
    /// The change since the frame before, so many frames after a whole one.
    Change(u32),
}

impl Kind {
    /// The header byte of the unit: a frame that others look back at.
    pub(super) fn unit(self) -> u8 {
        match self {
            Self::Whole(_) => 0x65,
            Self::Change(_) => 0x41,
        }
    }
}

/// The header of a slice that is a whole frame.
pub(super) fn slice(bits: &mut Bits, kind: Kind) {
    bits.ue(0); // from the first macroblock
    match kind {
        Kind::Whole(number) => {
            bits.ue(7); // I, and so are all others of the frame
            bits.ue(0);
            bits.put(0, FRAME_NUMBER_BITS);
            bits.ue(number);
            bits.flag(false); // earlier frames are shown
            bits.flag(false); // kept for a short term
        }
        Kind::Change(since) => {
            bits.ue(5); // P, likewise
            bits.ue(0);
            bits.put(since % (1 << FRAME_NUMBER_BITS), FRAME_NUMBER_BITS);
            bits.flag(false); // as many frames to look back at as always
            bits.flag(false); // in their order
            bits.flag(false); // the oldest is dropped
        }
    }
    bits.se(0); // the quantiser of the picture parameters
    bits.ue(1); // no deblocking
}

#[cfg(test)]
mod tests {
    use super::*;

    fn level(sides: [usize; 2], rate: f64, bytes: usize) -> Option<u8> {
        let needs = Needs {
            macroblocks: sides.map(|side| side.div_ceil(SIDE)),
            rate: Rate::new(rate),
            largest_frame: bytes,
            busiest_second: bytes,
        };
        Level::of(&needs).map(|level| level.number)
    }

    /// Against table A-6, the usual formats and the rates that each level can do.
    #[test]
    fn levels_follow_from_size_and_rate() {
        assert_eq!(level([176, 144], 15.0, 1000), Some(10));
        assert_eq!(level([352, 288], 30.0, 1000), Some(13));
        assert_eq!(level([640, 480], 30.0, 1000), Some(30));
        assert_eq!(level([1280, 720], 30.0, 1000), Some(31));
        assert_eq!(level([1280, 720], 50.0, 1000), Some(32));
        assert_eq!(level([1920, 1080], 30.0, 1000), Some(40));
        assert_eq!(level([4096, 2304], 25.0, 1000), Some(51));
        assert_eq!(level([16_384, 16_384], 25.0, 1000), None);
        // Narrow but long: √(8 · 99) is 28 macroblocks.
        assert_eq!(level([16 * 28, 16], 15.0, 1000), Some(10));
        assert_eq!(level([16 * 29, 16], 15.0, 1000), Some(11));
    }

    #[test]
    fn bytes_count_but_never_stand_in_the_way() {
        assert_eq!(level([176, 144], 15.0, 500_000), Some(21));
        assert_eq!(level([176, 144], 15.0, 1 << 30), Some(62));
    }
}
