//! A quantile sketch that is merged exactly: whole counts in cells whose width grows with what they hold.
//!
//! A cell has all numbers of one sign, one power of two and the same leading binary digits, so that its middle is right to within
//! [`CELL_ERROR`] of each of them. The cell of a number is read off its bits, on every machine alike, and counts add up to the
//! same sums in whatever order shares are joined.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// Leading binary digits of a number, behind the first, that choose its cell.
const CELL_DIGITS: u32 = 7;
/// Bits that a cell leaves out.
const LEFT_OUT: u32 = f64::MANTISSA_DIGITS - 1 - CELL_DIGITS;
/// Largest relative difference between a number and the middle of its cell.
pub const CELL_ERROR: f64 = 1.0 / (1u64 << (CELL_DIGITS + 1)) as f64;

/// How often numbers fell into each cell; those no larger than a floor count as zero.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct QuantileSketch {
    negative: Cells,
    zeros: u64,
    positive: Cells,
}

/// Counts of neighbouring cells, from the first that was ever needed to the last.
#[derive(Debug, Clone, Default)]
struct Cells {
    first: usize,
    counts: Vec<u64>,
}

impl PartialEq for Cells {
    fn eq(&self, other: &Self) -> bool {
        self.filled().eq(other.filled())
    }
}

/// Numbers of one cell: between which they lie, and how many.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SketchCell {
    /// The smaller end.
    pub low: f64,
    /// The larger end.
    pub high: f64,
    /// How many.
    pub count: u64,
}

impl SketchCell {
    /// Its middle.
    pub fn middle(&self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
}

impl QuantileSketch {
    /// Adds a number; one up to `floor` in size counts as zero.
    #[inline]
    pub fn add(&mut self, value: f64, floor: f64) {
        if value.abs() <= floor {
            self.zeros += 1;
        } else if value < 0.0 {
            self.negative.add(key(-value), 1);
        } else {
            self.positive.add(key(value), 1);
        }
    }

    /// Adds all that another has counted.
    pub fn merge(&mut self, other: &Self) {
        self.zeros += other.zeros;
        let sides = [
            (&mut self.negative, &other.negative),
            (&mut self.positive, &other.positive),
        ];
        for (own, others) in sides {
            for (key, count) in others.filled() {
                own.add(key, count);
            }
        }
    }

    /// How many numbers there are.
    pub fn count(&self) -> u64 {
        let counts = self.negative.counts.iter().chain(&self.positive.counts);
        self.zeros + counts.sum::<u64>()
    }

    /// The cells that are not empty, from the smallest number to the largest.
    pub fn cells(&self) -> Vec<SketchCell> {
        let mirrored = |cell: SketchCell| SketchCell {
            low: -cell.high,
            high: -cell.low,
            ..cell
        };
        let negative = self
            .negative
            .filled()
            .map(|(key, count)| mirrored(cell(key, count)));
        let mut cells: Vec<SketchCell> = negative.collect();
        cells.reverse();
        if self.zeros > 0 {
            cells.push(SketchCell {
                low: 0.0,
                high: 0.0,
                count: self.zeros,
            });
        }
        cells.extend(self.positive.filled().map(|(key, count)| cell(key, count)));
        cells
    }

    /// The number below which a part of all lies, right to within [`CELL_ERROR`] of it; `None` where there is none.
    pub fn quantile(&self, part: f64) -> Option<f64> {
        let place = (part * self.count() as f64).ceil().max(1.0) as u64;
        let mut passed = 0;
        let cells = self.cells();
        let found = cells.iter().find(|cell| {
            passed += cell.count;
            passed >= place
        });
        found.or(cells.last()).map(SketchCell::middle)
    }

    /// Which part of all numbers lies in each of so many equal steps between two ends that none lies beyond. What a cell holds counts as
    /// spread evenly over it.
    pub fn shares(&self, [low, high]: [f64; 2], steps: usize) -> Vec<f64> {
        let mut shares = vec![0.0; steps];
        let all = self.count() as f64;
        let step = (high - low) / steps as f64;
        for cell in self.cells() {
            let (from, to) = (cell.low.clamp(low, high), cell.high.clamp(low, high));
            let place = |x: f64| ((x - low) / step).clamp(0.0, steps as f64);
            let share = cell.count as f64 / all;
            // Also where both ends are the same number.
            let [first, last] = [from, to].map(|x| (place(x) as usize).min(steps - 1));
            for (at, sum) in shares.iter_mut().enumerate().take(last + 1).skip(first) {
                let (left, right) = (place(from).max(at as f64), place(to).min(at as f64 + 1.0));
                *sum += match first == last {
                    true => share,
                    false => share * ((right - left) / (place(to) - place(from))).max(0.0),
                };
            }
        }
        shares
    }

    /// Mean and standard deviation, each right to within [`CELL_ERROR`] of the root mean square of all numbers; `None` where there
    /// is none.
    pub fn mean_and_deviation(&self) -> Option<[f64; 2]> {
        let (cells, count) = (self.cells(), self.count() as f64);
        let mean_of = |of: &dyn Fn(f64) -> f64| {
            let parts = cells
                .iter()
                .map(|cell| of(cell.middle()) * (cell.count as f64 / count));
            parts.sum::<f64>()
        };
        let mean = mean_of(&|x| x);
        let variance = mean_of(&|x| (x - mean) * (x - mean));
        (count > 0.0).then(|| [mean, variance.sqrt()])
    }
}

fn key(size: f64) -> usize {
    (size.to_bits() >> LEFT_OUT) as usize
}

fn cell(key: usize, count: u64) -> SketchCell {
    let end = |key: usize| f64::from_bits((key as u64) << LEFT_OUT);
    SketchCell {
        low: end(key),
        high: end(key + 1),
        count,
    }
}

impl Cells {
    #[inline]
    fn add(&mut self, key: usize, count: u64) {
        if let Some(own) = key
            .checked_sub(self.first)
            .and_then(|at| self.counts.get_mut(at))
        {
            *own += count;
            return;
        }
        self.reach(key);
        self.counts[key - self.first] += count;
    }

    /// Makes room for a cell.
    #[cold]
    fn reach(&mut self, key: usize) {
        if self.counts.is_empty() {
            self.first = key;
        }
        if key < self.first {
            let missing = self.first - key;
            self.counts.splice(0..0, std::iter::repeat_n(0, missing));
            self.first = key;
        }
        let needed = key - self.first + 1;
        self.counts.resize(needed.max(self.counts.len()), 0);
    }

    /// Cells that are not empty, with their counts.
    fn filled(&self) -> impl Iterator<Item = (usize, u64)> {
        let counts = self.counts.iter().enumerate();
        let filled = counts.filter(|(_, count)| **count > 0);
        filled.map(|(at, count)| (self.first + at, *count))
    }
}

/// A sketch as it is written: counts by cell.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenSketch {
    negative: BTreeMap<usize, u64>,
    zeros: u64,
    positive: BTreeMap<usize, u64>,
}

/// Cells that a number can have.
const CELLS: usize = (f64::INFINITY.to_bits() >> LEFT_OUT) as usize;

impl Serialize for QuantileSketch {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let written = WrittenSketch {
            negative: self.negative.filled().collect(),
            zeros: self.zeros,
            positive: self.positive.filled().collect(),
        };
        written.serialize(to)
    }
}

impl<'de> Deserialize<'de> for QuantileSketch {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let written = WrittenSketch::deserialize(from)?;
        let mut sketch = Self {
            zeros: written.zeros,
            ..Self::default()
        };
        let sides = [
            (&mut sketch.negative, written.negative),
            (&mut sketch.positive, written.positive),
        ];
        for (side, counts) in sides {
            for (key, count) in counts {
                if key >= CELLS {
                    return Err(serde::de::Error::custom(format!("there is no cell {key}")));
                }
                side.add(key, count);
            }
        }
        Ok(sketch)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn sketch_of(values: &[f64]) -> QuantileSketch {
        let mut sketch = QuantileSketch::default();
        for value in values {
            sketch.add(*value, 0.0);
        }
        sketch
    }

    proptest! {
        #![proptest_config(crate::testing::cases(100))]

        /// Against the sorted numbers themselves.
        #[test]
        fn quantiles_are_within_the_stated_bound(
            values in prop::collection::vec(-1e6..1e6f64, 1..200),
            part in 0.0..1.0f64,
        ) {
            let mut sorted = values.clone();
            sorted.sort_by(f64::total_cmp);
            let place = ((part * values.len() as f64).ceil() as usize).max(1) - 1;
            let found = sketch_of(&values).quantile(part).unwrap();
            prop_assert!((found - sorted[place]).abs() <= CELL_ERROR * sorted[place].abs());
        }

        #[test]
        fn mean_and_deviation_are_within_the_stated_bound(
            values in prop::collection::vec(-1e3..1e6f64, 1..200),
        ) {
            let count = values.len() as f64;
            let mean = values.iter().sum::<f64>() / count;
            let spread = values.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / count;
            let root = (values.iter().map(|x| x * x).sum::<f64>() / count).sqrt();
            let [found, deviation] = sketch_of(&values).mean_and_deviation().unwrap();
            let bound = CELL_ERROR * root * (1.0 + 1e-9);
            prop_assert!((found - mean).abs() <= bound);
            prop_assert!((deviation - spread.sqrt()).abs() <= bound);
        }

        /// Against the sorted numbers: up to any step no more is off than what shares a cell with its end.
        #[test]
        fn shares_are_those_of_the_numbers(
            values in prop::collection::vec(-1e3..1e3f64, 1..200),
            steps in 1..40usize,
        ) {
            let ends = [f64::min, f64::max].map(|of| values.iter().copied().reduce(of).unwrap());
            let shares = sketch_of(&values).shares(ends, steps);
            prop_assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
            let mut sum = 0.0;
            for (at, share) in shares.iter().enumerate() {
                sum += share;
                let end = ends[0] + (ends[1] - ends[0]) * (at + 1) as f64 / steps as f64;
                let below = |reach: f64| {
                    let all = values.iter().filter(|x| **x <= end + reach);
                    all.count() as f64 / values.len() as f64
                };
                let reach = 2.0 * CELL_ERROR * end.abs() + 1e-9;
                prop_assert!(sum >= below(-reach) - 1e-9 && sum <= below(reach) + 1e-9);
            }
        }

        #[test]
        fn merged_is_what_all_together_make(
            values in prop::collection::vec(-1e9..1e9f64, 0..100),
            cut in 0..100usize,
        ) {
            let (left, right) = values.split_at(cut.min(values.len()));
            let mut merged = sketch_of(right);
            merged.merge(&sketch_of(left));
            let whole = sketch_of(&values);
            prop_assert_eq!(&merged, &whole);
            let text = serde_json::to_string(&whole).unwrap();
            let back: QuantileSketch = serde_json::from_str(&text).unwrap();
            prop_assert_eq!(back, whole);
        }
    }

    #[test]
    fn no_numbers_have_no_quantile() {
        assert_eq!(QuantileSketch::default().quantile(0.5), None);
        assert_eq!(QuantileSketch::default().mean_and_deviation(), None);
    }
}
