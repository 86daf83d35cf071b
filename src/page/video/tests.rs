//! What is written can be read, and shows what it should.

use proptest::prelude::*;

use super::bits::Bits;
use super::cavlc::{self, TooLarge};
use super::codes::Tokens;
use super::decoder::{Decoder, Reader};
use super::encoder::{Encoder, QUANTISER};
use super::planes::Planes;
use crate::page::Pixels;

/// Blocks as they come and as they never do: mostly zeros, mostly small, all large.
fn levels() -> impl Strategy<Value = Vec<i32>> {
    let level = prop_oneof![
        6 => Just(0),
        3 => -1..=1,
        2 => -20..=20,
        1 => -2000..=2000,
    ];
    let any = |length: usize| prop::collection::vec(level.clone(), length);
    let large = prop::collection::vec(-40..=40, 16);
    prop_oneof![any(4), any(15), any(16), large]
}

proptest! {
    #![proptest_config(crate::testing::cases(2000))]

    #[test]
    fn blocks_are_read_as_they_were(levels in levels(), around in 0_u8..=16) {
        let tokens = match levels.len() {
            4 => Tokens::ColourMeans,
            _ => Tokens::Around(around),
        };
        let mut bits = Bits::default();
        let count = cavlc::block(&mut bits, &levels, tokens).unwrap();
        let length = bits.len();
        // A long row of zeros behind: nothing of it may be read.
        bits.put(0, 32);
        bits.align();
        let mut reader = Reader::new(bits.as_bytes());
        prop_assert_eq!(reader.block(levels.len(), tokens), (levels, count));
        prop_assert_eq!(reader.at(), length);
    }
}

/// Numbers beyond the codes are told and not cut.
#[test]
fn what_no_code_reaches_is_told() {
    let written =
        |level: i32| cavlc::block(&mut Bits::default(), &[level, 0, 0, 0], Tokens::ColourMeans);
    // The largest code is 15 + 15 + 4095; the first number is one larger than its code says, by 9.2.2.1.
    for sign in [1, -1] {
        assert_eq!(written(sign * 2064), Ok(1));
        assert_eq!(written(sign * 2065), Err(TooLarge));
    }
}

/// What films show.
#[derive(Debug, Clone, Copy)]
enum Motif {
    /// Lines that turn over white.
    Lines,
    /// Slopes of colour that move, as shaded bodies have them.
    Slopes,
    /// Something new at every place.
    Noise,
    /// A rippled ground that travels right and down by odd steps.
    Travels,
    /// Flat squares of black and white that swap.
    Squares,
}

fn hash(numbers: [usize; 3]) -> [u8; 3] {
    let mixed = numbers.iter().fold(2_166_136_261_u32, |hash, number| {
        (hash ^ *number as u32).wrapping_mul(16_777_619) ^ hash >> 13
    });
    let [a, b, c, _] = mixed.wrapping_mul(2_654_435_761).to_be_bytes();
    [a, b, c]
}

fn frame(motif: Motif, [width, height]: [usize; 2], number: usize) -> Pixels {
    let turn = number as f64 / 7.0;
    let pixel = |x: usize, y: usize| -> [u8; 3] {
        let [x_there, y_there] = [x as f64 - 20.0, y as f64 - 15.0];
        let along = x_there * turn.cos() + y_there * turn.sin();
        match motif {
            Motif::Lines => {
                let dark = (255.0 * (along.rem_euclid(9.0) - 1.0).clamp(0.0, 1.0)) as u8;
                [dark, dark, if x < width / 2 { 255 } else { dark }]
            }
            Motif::Slopes => {
                let shade = |speed: f64| (128.0 + 120.0 * (along / speed).sin()) as u8;
                [shade(40.0), shade(55.0), shade(90.0)]
            }
            Motif::Noise => hash([x, y, number]),
            Motif::Travels => {
                let [x, y] = [x as f64 - 3.0 * number as f64, y as f64 - number as f64];
                let ripple = (x / 5.0 + 3.0 * (y / 7.0).sin()).sin() + (y / 4.0 + x / 9.0).sin();
                [128.0, 100.0, 60.0].map(|middle| (middle + 30.0 * ripple) as u8)
            }
            Motif::Squares => {
                [if (x / 24 + y / 24 + number).is_multiple_of(2) {
                    255
                } else {
                    0
                }; 3]
            }
        }
    };
    let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    Pixels {
        width: width as u32,
        height: height as u32,
        rgb: places.flat_map(|(x, y)| pixel(x, y)).collect(),
    }
}

/// Peak signal to noise of all samples, in decibels.
fn likeness(a: &Planes, b: &Planes) -> f64 {
    let (mut squares, mut count) = (0.0, 0);
    for plane in 0..3 {
        let pairs = a.plane(plane).samples.iter().zip(&b.plane(plane).samples);
        squares += pairs
            .map(|(a, b)| f64::from(a.abs_diff(*b)).powi(2))
            .sum::<f64>();
        count += a.plane(plane).samples.len();
    }
    10.0 * (255.0_f64.powi(2) * f64::from(count as u32) / squares.max(1.0)).log10()
}

const MOTIFS: [Motif; 5] = [
    Motif::Lines,
    Motif::Slopes,
    Motif::Noise,
    Motif::Travels,
    Motif::Squares,
];

/// Frame by frame a decoder has what the encoder says that it has, and that is what was to be shown.
#[test]
fn films_are_read_as_they_were_written() {
    for motif in MOTIFS {
        for size in [[16, 16], [17, 3], [61, 50], [96, 64]] {
            let mut encoder = Encoder::new(QUANTISER);
            let mut decoder = None;
            for number in 0..6 {
                // The third frame again, so that one is wholly skipped.
                let source = Planes::of(&frame(motif, size, number - usize::from(number > 2)));
                let unit = encoder.frame(source.clone()).unit;
                let macroblocks = source.macroblocks();
                let decoder = decoder.get_or_insert_with(|| Decoder::new(macroblocks, QUANTISER));
                let decoded = decoder.frame(&unit);
                assert!(decoded == encoder.decoded(), "{motif:?} {size:?} {number}");
                let likeness = likeness(decoded, &source);
                // Noise from end to end has the largest errors that there are.
                let least = if matches!(motif, Motif::Noise) {
                    39.0
                } else {
                    40.0
                };
                assert!(
                    likeness > least,
                    "{motif:?} {size:?} {number}: {likeness} dB"
                );
            }
        }
    }
}

/// From the finest, where numbers go beyond the codes and samples are stored as they are, to the coarsest.
#[test]
fn films_are_read_with_every_quantiser() {
    for quantiser in 0..30 {
        let mut encoder = Encoder::new(quantiser);
        let mut decoder = Decoder::new([3, 2], quantiser);
        for (number, motif) in MOTIFS.into_iter().enumerate() {
            let source = Planes::of(&frame(motif, [48, 32], number));
            let unit = encoder.frame(source.clone()).unit;
            let decoded = decoder.frame(&unit);
            assert!(decoded == encoder.decoded(), "{motif:?} {quantiser}");
            // Every six numbers the step doubles, which costs six decibels at most.
            let likeness = likeness(decoded, &source);
            assert!(
                likeness > 58.0 - f64::from(quantiser),
                "{motif:?} {quantiser}: {likeness} dB"
            );
        }
        match quantiser {
            ..6 => assert!(decoder.plain > 0, "{quantiser}"),
            18.. => assert_eq!(decoder.plain, 0, "{quantiser}"),
            _ => {}
        }
    }
}

/// Once each macroblock is found where it came from, only the borders have anything new.
#[test]
fn what_travels_is_found() {
    let mut encoder = Encoder::new(QUANTISER);
    let mut length = |number: usize| {
        let source = Planes::of(&frame(Motif::Travels, [160, 96], number));
        encoder.frame(source).unit.len()
    };
    let [whole, first, second] = [0, 1, 2].map(&mut length);
    assert!(first.max(second) < whole / 3, "{whole}: {first}, {second}");
}
