//! Squares of 4 × 4 samples as frequencies, coarser or finer, and back exactly as every decoder goes.
//!
//! Source: ITU-T H.264, clauses 8.5.8 to 8.5.12 (scaling and inverse transforms). The way there is not in the standard; it is
//! that of Malvar, Hallapuro, Karczewicz & Kerofsky, "Low-complexity transform and quantization in H.264/AVC" (2003).

/// Sixteen numbers, row by row.
pub(super) type Square = [i32; 16];

/// Places of a square from the lowest frequency to the highest: figure 8-8, zig-zag.
pub(super) const SCAN: [usize; 16] = [0, 1, 4, 8, 5, 2, 3, 6, 9, 12, 13, 10, 7, 11, 14, 15];

/// The frequencies of differences, each in its own unit.
pub(super) fn forward(square: &Square) -> Square {
    both_ways(square, |[a, b, c, d]| {
        let [outer, inner] = [a + d, b + c];
        let [slope, bend] = [a - d, b - c];
        [
            outer + inner,
            2 * slope + bend,
            outer - inner,
            slope - 2 * bend,
        ]
    })
}

/// The differences that scaled frequencies stand for: 8.5.12.2.
pub(super) fn inverse(square: &Square) -> Square {
    let sums = both_ways(square, |[a, b, c, d]| {
        let [even, odd] = [a + c, a - c];
        let [low, high] = [b + (d >> 1), (b >> 1) - d];
        [even + low, odd + high, odd - high, even - low]
    });
    sums.map(|sum| (sum + 32) >> 6)
}

/// Sums and differences of sixteen means; the same back and forth.
fn means(square: &Square) -> Square {
    both_ways(square, |[a, b, c, d]| {
        [a + b + c + d, a + b - c - d, a - b - c + d, a - b + c - d]
    })
}

/// The same of four means.
fn four_means([a, b, c, d]: [i32; 4]) -> [i32; 4] {
    [a + b + c + d, a - b + c - d, a + b - c - d, a - b - c + d]
}

/// Every row, then every column.
fn both_ways(square: &Square, change: impl Fn([i32; 4]) -> [i32; 4]) -> Square {
    let mut rows = [0; 16];
    for (row, changed) in square.chunks_exact(4).zip(rows.chunks_exact_mut(4)) {
        changed.copy_from_slice(&change([row[0], row[1], row[2], row[3]]));
    }
    let mut all = [0; 16];
    for x in 0..4 {
        let column = change([rows[x], rows[4 + x], rows[8 + x], rows[12 + x]]);
        for (y, value) in column.into_iter().enumerate() {
            all[4 * y + x] = value;
        }
    }
    all
}

/// Steps in which frequencies are told, and how to round to them.
#[derive(Debug, Clone, Copy)]
pub(super) struct Quantiser {
    /// What a step is worth, by [`kind`] of place.
    worth: [i32; 3],
    /// 2¹⁵ by the step, likewise.
    per_step: [i32; 3],
    /// How often the step has doubled, of the six that a doubling takes.
    doublings: u32,
    /// From which sixth part of a step on numbers are rounded away from zero: 4 is two thirds.
    up_from: i32,
}

/// normAdjust4x4: equation 8-315, for the six quantisers of a doubling.
const WORTH: [[i32; 3]; 6] = [
    [10, 16, 13],
    [11, 18, 14],
    [13, 20, 16],
    [14, 23, 18],
    [16, 25, 20],
    [18, 29, 23],
];
/// 2²¹ by the worth and by the squared length of the transform's rows, 16, 25 and 20: Malvar et al., table I.
const PER_STEP: [[i32; 3]; 6] = [
    [13107, 5243, 8066],
    [11916, 4660, 7490],
    [10082, 4194, 6554],
    [9362, 3647, 5825],
    [8192, 3355, 5243],
    [7282, 2893, 4559],
];

/// Places whose unit is the same: both frequencies even, both odd, or one of each.
const fn kind(place: usize) -> usize {
    match (place / 4 % 2, place % 2) {
        (0, 0) => 0,
        (1, 1) => 1,
        _ => 2,
    }
}

impl Quantiser {
    /// The quantiser of a number, 0 to 29, up to which colour has the same as brightness.
    pub(super) fn new(number: u8, up_from: i32) -> Self {
        assert!(number < 30 && (1..=6).contains(&up_from));
        let row = usize::from(number % 6);
        Self {
            worth: WORTH[row],
            per_step: PER_STEP[row],
            doublings: u32::from(number / 6),
            up_from,
        }
    }

    /// How many steps a number of frequencies is, where so many further halvings belong to its unit.
    fn steps(self, number: i32, kind: usize, halvings: u32) -> i32 {
        let places = 15 + self.doublings + halvings;
        let up = ((6 - self.up_from) << places) / 6;
        let steps = (number.abs() * self.per_step[kind] + up) >> places;
        if number < 0 { -steps } else { steps }
    }

    /// Frequencies in steps.
    pub(super) fn levels(self, square: &Square) -> Square {
        std::array::from_fn(|place| self.steps(square[place], kind(place), 0))
    }

    /// Steps as scaled frequencies: 8.5.12.1.
    pub(super) fn scaled(self, levels: &Square) -> Square {
        std::array::from_fn(|place| (levels[place] * self.worth[kind(place)]) << self.doublings)
    }

    /// The lowest frequencies of sixteen squares in steps.
    pub(super) fn mean_levels(self, square: &Square) -> Square {
        means(square).map(|sum| self.steps((sum + 1) >> 1, 0, 1))
    }

    /// Steps as the scaled lowest frequencies of sixteen squares: 8.5.10.
    pub(super) fn scaled_means(self, levels: &Square) -> Square {
        let places = 6 - self.doublings;
        means(levels).map(|sum| (16 * self.worth[0] * sum + (1 << (places - 1))) >> places)
    }

    /// The lowest frequencies of four squares in steps.
    pub(super) fn four_mean_levels(self, four: [i32; 4]) -> [i32; 4] {
        four_means(four).map(|sum| self.steps(sum, 0, 1))
    }

    /// Steps as the scaled lowest frequencies of four squares: 8.5.11.2.
    pub(super) fn four_scaled_means(self, levels: [i32; 4]) -> [i32; 4] {
        four_means(levels).map(|sum| ((16 * self.worth[0] * sum) << self.doublings) >> 5)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The step for samples: it doubles with every six numbers and is 0.625 at first (Malvar et al.).
    fn step(number: u8) -> f64 {
        [0.625, 0.6875, 0.8125, 0.875, 1.0, 1.125][usize::from(number % 6)]
            * f64::from(1 << (number / 6))
    }

    fn differences() -> impl Strategy<Value = Square> {
        prop::array::uniform16(-255..=255)
    }

    /// Root of the mean squared error, in samples.
    fn error(before: &Square, after: &Square) -> f64 {
        let squares = before.iter().zip(after).map(|(a, b)| (a - b).pow(2));
        (f64::from(squares.sum::<i32>()) / 16.0).sqrt()
    }

    proptest! {
        #![proptest_config(crate::testing::cases(256))]

        /// The transform keeps lengths, so the error is at most two thirds of a step a frequency; half a sample more for rounding.
        #[test]
        fn squares_come_back(square in differences(), number in 0_u8..30) {
            for up_from in [3, 4, 5] {
                let quantiser = Quantiser::new(number, up_from);
                let levels = quantiser.levels(&forward(&square));
                let back = inverse(&quantiser.scaled(&levels));
                let bound = f64::from(up_from) / 6.0 * step(number) + 0.5;
                prop_assert!(error(&square, &back) <= bound, "{square:?} {back:?}");
            }
        }

        /// The same where the lowest frequencies go their own way, of sixteen squares and of four.
        #[test]
        fn means_come_back(means in differences(), number in 0_u8..30) {
            let quantiser = Quantiser::new(number, 3);
            let flat = |mean: i32| forward(&[mean; 16])[0];
            let back = |scaled: i32| (scaled + 32) >> 6;
            let sixteen = quantiser.scaled_means(&quantiser.mean_levels(&means.map(flat)));
            let bound = 0.5 * step(number) + 0.6;
            prop_assert!(error(&means, &sixteen.map(back)) <= bound);
            let four = [means[0], means[1], means[2], means[3]];
            let scaled = quantiser.four_scaled_means(quantiser.four_mean_levels(four.map(flat)));
            let squares = four.iter().zip(scaled).map(|(a, b)| (a - back(b)).pow(2));
            let error = (f64::from(squares.sum::<i32>()) / 4.0).sqrt();
            prop_assert!(error <= bound, "{four:?} {scaled:?}");
        }
    }

    /// By hand: a flat square has one frequency, sixteen times as large; a step of quantiser 4 is one sample.
    #[test]
    fn a_flat_square_has_one_frequency() {
        let mut expected = [0; 16];
        expected[0] = 16 * 7;
        assert_eq!(forward(&[7; 16]), expected);
        let quantiser = Quantiser::new(4, 3);
        let levels = quantiser.levels(&expected);
        assert_eq!(levels[0], 4 * 7);
        assert_eq!(inverse(&quantiser.scaled(&levels)), [7; 16]);
    }

    #[test]
    fn scan_goes_to_every_place_by_rising_frequency() {
        let mut places = SCAN;
        places.sort_unstable();
        assert!(places.into_iter().eq(0..16));
        let rings = SCAN.map(|place| place / 4 + place % 4);
        assert!(rings.is_sorted());
    }
}
