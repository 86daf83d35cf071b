//! Frames as video has them: brightness at every pixel, colour at every other one, whole macroblocks.
//!
//! Source: ITU-R BT.709-6, items 3.2 and 4.6 (Y′CbCr in 8 bits); ITU-T H.264, clause 6.2 (4:2:0).

use std::ops::Range;

use super::super::raster::Pixels;
use super::patch::{Patch, SAMPLES, STARTS};

/// Pixels on the side of a macroblock.
pub(super) const SIDE: usize = 16;

/// Y′, Cb and Cr of a frame whose sides are whole macroblocks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Planes([Plane; 3]);

/// One number for each place, row by row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Plane {
    /// Numbers in a row.
    pub(super) width: usize,
    /// All numbers.
    pub(super) samples: Vec<u8>,
}

impl Plane {
    fn new(width: usize, height: usize) -> Self {
        Self {
            width,
            samples: vec![128; width * height],
        }
    }

    /// The square of a macroblock as part of a patch, row by row, and back.
    fn rows(
        &self,
        [column, row]: [usize; 2],
        side: usize,
    ) -> impl Iterator<Item = Range<usize>> + use<> {
        let start = side * (row * self.width + column);
        let width = self.width;
        (0..side).map(move |y| start + y * width..start + y * width + side)
    }
}

/// Parts of red and blue in brightness.
const RED: f64 = 0.2126;
const BLUE: f64 = 0.0722;
/// Steps of brightness and of colour for a step of red, green and blue.
const BRIGHT_RANGE: f64 = 219.0 / 255.0;
const COLOUR_RANGE: f64 = 224.0 / 255.0;
/// Bits behind the point of the weights.
const PLACES: u32 = 16;
/// What red, green and blue weigh in Y′, Cb and Cr. Greys have no colour exactly: the last two rows add up to zero.
const WEIGHTS: [[i32; 3]; 3] = {
    let y = [fixed(BRIGHT_RANGE * RED), fixed(BRIGHT_RANGE * BLUE)];
    let half = fixed(COLOUR_RANGE / 2.0);
    let red_in_blue = -fixed(COLOUR_RANGE * RED / (2.0 - 2.0 * BLUE));
    let blue_in_red = -fixed(COLOUR_RANGE * BLUE / (2.0 - 2.0 * RED));
    [
        [y[0], fixed(BRIGHT_RANGE) - y[0] - y[1], y[1]],
        [red_in_blue, -half - red_in_blue, half],
        [half, -half - blue_in_red, blue_in_red],
    ]
};

const fn fixed(number: f64) -> i32 {
    (number * (1 << PLACES) as f64).round() as i32
}

/// One of Y′, Cb and Cr, with its value for black, of the sum of 2^`doublings` pixels.
fn weighed(weights: [i32; 3], black: i32, rgb: [i32; 3], doublings: u32) -> u8 {
    let sum = weights[0] * rgb[0] + weights[1] * rgb[1] + weights[2] * rgb[2];
    let places = PLACES + doublings;
    (black + ((sum + (1 << (places - 1))) >> places)) as u8
}

impl Planes {
    /// A grey frame of so many macroblocks across and down.
    pub(super) fn grey([across, down]: [usize; 2]) -> Self {
        let [width, height] = [SIDE * across, SIDE * down];
        Self([
            Plane::new(width, height),
            Plane::new(width / 2, height / 2),
            Plane::new(width / 2, height / 2),
        ])
    }

    /// The frame with its last column and row repeated up to whole macroblocks. Colour is the mean of four pixels, so
    /// it stands in their middle.
    pub(super) fn of(frame: &Pixels) -> Self {
        let (inner, rows) = (frame.width as usize, frame.height as usize);
        let macroblocks = [inner, rows].map(|side| side.div_ceil(SIDE));
        let [width, height] = macroblocks.map(|count| SIDE * count);
        let mut planes = Self::grey(macroblocks);
        for y in (0..height).step_by(2) {
            let pair = [y, y + 1].map(|y| {
                let start = 3 * inner * y.min(rows - 1);
                &frame.rgb[start..start + 3 * inner]
            });
            for x in (0..width).step_by(2) {
                planes.set_four(pair, x, y);
            }
        }
        planes
    }

    /// Sets what four pixels are, from their two rows.
    fn set_four(&mut self, rows: [&[u8]; 2], x: usize, y: usize) {
        let [bright, blue, red] = &mut self.0;
        let mut sum = [0; 3];
        for (dy, row) in rows.into_iter().enumerate() {
            for x in [x, x + 1] {
                let start = (3 * x).min(row.len() - 3);
                let rgb = [row[start], row[start + 1], row[start + 2]].map(i32::from);
                sum = [sum[0] + rgb[0], sum[1] + rgb[1], sum[2] + rgb[2]];
                bright.samples[(y + dy) * bright.width + x] = weighed(WEIGHTS[0], 16, rgb, 0);
            }
        }
        let place = y / 2 * blue.width + x / 2;
        blue.samples[place] = weighed(WEIGHTS[1], 128, sum, 2);
        red.samples[place] = weighed(WEIGHTS[2], 128, sum, 2);
    }

    /// One of Y′ (0), Cb (1) and Cr (2).
    pub(super) fn plane(&self, index: usize) -> &Plane {
        &self.0[index]
    }

    /// Macroblocks across and down.
    pub(super) fn macroblocks(&self) -> [usize; 2] {
        let plane = &self.0[0];
        let height = plane.samples.len() / plane.width;
        [plane.width / SIDE, height / SIDE]
    }

    /// A macroblock, by its column and row.
    pub(super) fn patch(&self, place: [usize; 2]) -> Patch {
        let mut patch = Patch([0; SAMPLES]);
        for (index, plane) in self.0.iter().enumerate() {
            let side = if index == 0 { 16 } else { 8 };
            let inside = patch.0[STARTS[index]..].chunks_exact_mut(side);
            for (row, inside) in plane.rows(place, side).zip(inside) {
                inside.copy_from_slice(&plane.samples[row]);
            }
        }
        patch
    }

    /// Sets a macroblock, by its column and row.
    pub(super) fn set_patch(&mut self, place: [usize; 2], patch: &Patch) {
        for (index, plane) in self.0.iter_mut().enumerate() {
            let side = if index == 0 { 16 } else { 8 };
            let inside = patch.0[STARTS[index]..].chunks_exact(side);
            for (row, inside) in plane.rows(place, side).zip(inside) {
                plane.samples[row].copy_from_slice(inside);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(rgb: [u8; 3]) -> [u8; 3] {
        let frame = Pixels {
            width: 3,
            height: 5,
            rgb: rgb.repeat(15),
        };
        let planes = Planes::of(&frame);
        assert_eq!(planes.macroblocks(), [1, 1]);
        [0, 1, 2].map(|index| {
            let samples = &planes.plane(index).samples;
            assert!(samples.iter().all(|sample| *sample == samples[0]));
            samples[0]
        })
    }

    /// Bars of 100 % in 8 bits; the primaries by hand from the equations of BT.709.
    #[test]
    fn colours_are_those_of_bt709() {
        for (rgb, expected) in [
            ([255, 255, 255], [235, 128, 128]),
            ([0, 0, 0], [16, 128, 128]),
            ([128, 128, 128], [126, 128, 128]),
            ([255, 0, 0], [63, 102, 240]),
            ([0, 255, 0], [173, 42, 26]),
            ([0, 0, 255], [32, 240, 118]),
            ([255, 255, 0], [219, 16, 138]),
        ] {
            assert_eq!(plain(rgb), expected, "{rgb:?}");
        }
    }

    #[test]
    fn greys_have_no_colour() {
        for grey in 0..=255 {
            assert_eq!(plain([grey; 3])[1..], [128, 128]);
        }
    }

    #[test]
    fn borders_are_repeated_and_colour_is_a_mean() {
        let mut frame = Pixels {
            width: 3,
            height: 1,
            rgb: [[0; 3], [0; 3], [255; 3]].concat(),
        };
        let planes = Planes::of(&frame);
        assert_eq!(planes.plane(0).samples[..4], [16, 16, 235, 235]);
        assert_eq!(planes.plane(0).samples[240..244], [16, 16, 235, 235]);
        frame.rgb = [[255, 0, 0], [0, 0, 255], [255; 3]].concat();
        // Half red and half blue.
        assert_eq!(Planes::of(&frame).plane(1).samples[..2], [171, 128]);
    }
}
