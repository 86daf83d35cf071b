//! A small decoder for tests: reads what the encoder writes by the syntax of the standard, and stops at anything else.
//!
//! It shares the tables, the way back from frequencies and the guesses with the encoder, which other tests check; what it
//! finds on its own are the codes, the order of all that is written, and what a frame takes from the one before.

use super::codes::{self, PATTERNS, Tokens, Word};
use super::counts::Counts;
use super::motion::{self, Field};
use super::patch::{Patch, SAMPLES, SQUARES, Spot};
use super::planes::Planes;
use super::predict::{BRIGHT, BRIGHT_WAYS, Borders, COLOUR, COLOUR_WAYS};
use super::transform::{self, Quantiser, SCAN};

/// Bits that are read one after the other.
pub(super) struct Reader {
    bits: Vec<bool>,
    at: usize,
}

impl Reader {
    pub(super) fn new(bytes: &[u8]) -> Self {
        let bits = bytes
            .iter()
            .flat_map(|byte| (0..8).rev().map(move |i| byte >> i & 1 == 1));
        Self {
            bits: bits.collect(),
            at: 0,
        }
    }

    /// The bits of a unit behind its header, without the bytes that keep start codes away and without the closing bit.
    fn of_unit(unit: &[u8]) -> Self {
        let mut bytes: Vec<u8> = Vec::new();
        let mut zeros = 0;
        for byte in &unit[1..] {
            if zeros == 2 && *byte == 3 {
                zeros = 0;
                continue;
            }
            zeros = if *byte == 0 { zeros + 1 } else { 0 };
            bytes.push(*byte);
        }
        let mut reader = Self::new(&bytes);
        while reader.bits.pop() == Some(false) {}
        reader
    }

    /// How many bits have been read.
    pub(super) fn at(&self) -> usize {
        self.at
    }

    fn is_at_end(&self) -> bool {
        self.at == self.bits.len()
    }

    fn flag(&mut self) -> bool {
        self.at += 1;
        self.bits[self.at - 1]
    }

    pub(super) fn number(&mut self, count: u32) -> u32 {
        (0..count).fold(0, |number, _| 2 * number + u32::from(self.flag()))
    }

    /// How many zeros come before a one.
    fn zeros(&mut self) -> u32 {
        let start = self.at;
        while !self.flag() {}
        (self.at - start - 1) as u32
    }

    fn ue(&mut self) -> u32 {
        let zeros = self.zeros();
        (1 << zeros) - 1 + self.number(zeros)
    }

    fn se(&mut self) -> i32 {
        let code = self.ue() as i32;
        if code % 2 == 1 {
            (code + 1) / 2
        } else {
            -code / 2
        }
    }

    /// The place of the word that comes next.
    fn word(&mut self, words: &[Word]) -> usize {
        let fits = |(length, value): &Word| {
            let length = usize::from(*length);
            let bits = self.bits.iter().skip(self.at).take(length);
            let next = bits.fold(0, |number, bit| 2 * number + u32::from(*bit));
            self.at + length <= self.bits.len() && next == u32::from(*value)
        };
        let found = words.iter().position(fits).expect("one of the words");
        self.at += usize::from(words[found].0);
        found
    }

    /// The numbers of a block of so many, from the lowest frequency on: 9.2.
    pub(super) fn block(&mut self, length: usize, tokens: Tokens) -> (Vec<i32>, u8) {
        let pairs: Vec<_> = (0..=length)
            .flat_map(|total| (0..=total.min(3)).map(move |ones| (total, ones)))
            .collect();
        let words: Vec<Word> = pairs
            .iter()
            .map(|(total, ones)| tokens.word(*total, *ones))
            .collect();
        let (total, ones) = pairs[self.word(&words)];
        let mut values: Vec<i32> = (0..ones)
            .map(|_| if self.flag() { -1 } else { 1 })
            .collect();
        let mut suffix_length = u32::from(total > 10 && ones < 3);
        while values.len() < total {
            let prefix = self.zeros();
            assert!(prefix < 16, "no more in Baseline");
            let suffix = match (prefix, suffix_length) {
                (14, 0) => self.number(4),
                (15, _) => self.number(12),
                (_, length) => self.number(length),
            };
            let mut code = (prefix << suffix_length) + suffix;
            code += if prefix == 15 && suffix_length == 0 {
                15
            } else {
                0
            };
            code += if values.len() == ones && ones < 3 {
                2
            } else {
                0
            };
            let size = (code as i32 + 2) / 2;
            values.push(if code.is_multiple_of(2) { size } else { -size });
            suffix_length = suffix_length.max(1);
            suffix_length += u32::from(size > 3 << (suffix_length - 1) && suffix_length < 6);
        }
        let mut left = 0;
        if total > 0 && total < length {
            left = self.word(codes::zeros(total, tokens == Tokens::ColourMeans));
        }
        let mut numbers = vec![0; length];
        let mut at = total + left;
        for (index, value) in values.into_iter().enumerate() {
            at -= 1;
            numbers[at] = value;
            if left > 0 && index + 1 < total {
                let run = self.word(codes::runs(left));
                left -= run;
                at -= run;
            }
        }
        assert!(total == 0 || left == at, "all zeros are placed");
        (numbers, total as u8)
    }
}

/// The frames that units stand for.
pub(super) struct Decoder {
    frame: Planes,
    quantiser: Quantiser,
    /// How many macroblocks were stored as they are.
    pub(super) plain: usize,
}

impl Decoder {
    pub(super) fn new(macroblocks: [usize; 2], quantiser: u8) -> Self {
        Self {
            frame: Planes::grey(macroblocks),
            quantiser: Quantiser::new(quantiser, 3),
            plain: 0,
        }
    }

    /// The frame after a unit.
    pub(super) fn frame(&mut self, unit: &[u8]) -> &Planes {
        let mut reader = Reader::of_unit(unit);
        let whole = unit[0] == 0x65;
        assert!(whole || unit[0] == 0x41);
        header(&mut reader, whole);
        let [across, down] = self.frame.macroblocks();
        let before = self.frame.clone();
        let mut counts = Counts::new([across, down]);
        let mut field = Field::new([across, down]);
        let mut places = (0..down).flat_map(|row| (0..across).map(move |column| [column, row]));
        while !reader.is_at_end() {
            if !whole {
                for _ in 0..reader.ue() {
                    let place = places.next().expect("no more than fit");
                    let vector = field.of_skipped(place);
                    field.set(place, Some(vector));
                    self.frame
                        .set_patch(place, &motion::moved(&before, place, vector));
                }
                if reader.is_at_end() {
                    break;
                }
            }
            let place = places.next().expect("no more than fit");
            let kind = reader.ue() as usize;
            let patch = match if whole {
                Some(kind)
            } else {
                kind.checked_sub(5)
            } {
                None if kind == 0 => {
                    let expected = field.expected(place);
                    let vector = expected.map(|expected| expected + reader.se());
                    field.set(place, Some(vector));
                    let guess = motion::moved(&before, place, vector);
                    self.after(&mut reader, &mut counts, place, guess)
                }
                Some(25) => {
                    self.plain += 1;
                    reader.at = reader.at.next_multiple_of(8);
                    counts.set_all(place, [16; SQUARES]);
                    Patch([0; SAMPLES].map(|_| reader.number(8) as u8))
                }
                Some(kind @ 1..25) => self.within(&mut reader, &mut counts, place, kind - 1),
                _ => panic!("no such macroblock: {kind}"),
            };
            self.frame.set_patch(place, &patch);
        }
        assert_eq!(places.next(), None, "all are there");
        &self.frame
    }

    fn after(
        &self,
        reader: &mut Reader,
        counts: &mut Counts,
        place: [usize; 2],
        guess: Patch,
    ) -> Patch {
        let pattern = PATTERNS[reader.ue() as usize];
        if pattern > 0 {
            assert_eq!(reader.ue(), 0, "the same quantiser");
        }
        self.added(reader, counts, place, guess, pattern, false)
    }

    fn within(
        &self,
        reader: &mut Reader,
        counts: &mut Counts,
        place: [usize; 2],
        kind: usize,
    ) -> Patch {
        let colour = reader.ue() as usize;
        assert_eq!(reader.ue(), 0, "the same quantiser");
        let borders = Borders::new(&self.frame, place);
        let mut guess = Patch([0; SAMPLES]);
        assert!(borders.fill(BRIGHT_WAYS[kind % 4], BRIGHT, &mut guess));
        assert!(borders.fill(COLOUR_WAYS[colour], COLOUR, &mut guess));
        let pattern = 16 * (kind / 4 % 3) + if kind < 12 { 0 } else { 15 };
        self.added(reader, counts, place, guess, pattern as u8, true)
    }

    /// A guess with what the numbers say that it lacks.
    fn added(
        &self,
        reader: &mut Reader,
        counts: &mut Counts,
        place: [usize; 2],
        mut patch: Patch,
        pattern: u8,
        within: bool,
    ) -> Patch {
        let mut means = [0; SQUARES];
        if within {
            let (levels, _) = reader.block(16, counts.around(0, place));
            let scaled = self.quantiser.scaled_means(&unscanned(&levels, 0));
            for square in 0..16 {
                means[square] = scaled[Spot::of(square).in_rows()];
            }
        }
        let mut squares = [[0; 16]; SQUARES];
        let mut read = |reader: &mut Reader, square: usize, from: usize| {
            let (levels, count) = reader.block(16 - from, counts.around(square, place));
            counts.set(square, place, count);
            squares[square] = unscanned(&levels, from);
        };
        for square in (0..16).filter(|square| pattern >> (square / 4) & 1 == 1) {
            read(reader, square, usize::from(within));
        }
        if pattern >= 16 {
            for first in [16, 20] {
                let (levels, _) = reader.block(4, Tokens::ColourMeans);
                let four = self
                    .quantiser
                    .four_scaled_means([0, 1, 2, 3].map(|i| levels[i]));
                means[first..first + 4].copy_from_slice(&four);
            }
        }
        if pattern >= 32 {
            (16..SQUARES).for_each(|square| read(reader, square, 1));
        }
        for (square, levels) in squares.iter().enumerate() {
            let mut frequencies = self.quantiser.scaled(levels);
            if within || square >= 16 {
                frequencies[0] = means[square];
            }
            patch.add(&transform::inverse(&frequencies), square);
        }
        patch
    }
}

/// Numbers from the lowest frequency on at their places.
fn unscanned(levels: &[i32], from: usize) -> [i32; 16] {
    let mut square = [0; 16];
    for (level, place) in levels.iter().zip(&SCAN[from..]) {
        square[*place] = *level;
    }
    square
}

fn header(reader: &mut Reader, whole: bool) {
    let kind = if whole { 7 } else { 5 };
    assert_eq!([reader.ue(), reader.ue(), reader.ue()], [0, kind, 0]);
    let since = reader.number(8);
    assert!(!whole || since == 0);
    if whole {
        reader.ue();
        assert_eq!(reader.number(2), 0);
    } else {
        assert_eq!(reader.number(3), 0);
    }
    assert_eq!(reader.ue(), 0, "the quantiser of all frames");
    assert_eq!(reader.ue(), 1, "no deblocking");
}
