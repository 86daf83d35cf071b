//! Every place of a label on the page, the nearest first: the search where no place around its point is free.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::occupied::Area;
use super::sketch::{Spot, length, way};

/// Between rows and columns of places, points.
pub(super) const SWEEP: f64 = 4.0;
/// Rows or columns at most: pages of scenes that are lopsided beyond measure are as high as they must be.
const MOST_STRIDES: f64 = 500.0;
/// Parts of a point in which distances are compared, so that the same place is the nearest on every machine.
const PARTS: f64 = 10.0;

/// The places of a page, with what is known of those that are not free.
pub(super) struct FreePlaces {
    page: Area,
    stride: f64,
    /// Columns and rows of places, of labels of any size.
    count: [usize; 2],
    /// Of each place, row by row, a size for which it was not free, since what is taken is never given back; infinite at first.
    full: Vec<Spot>,
}

impl FreePlaces {
    /// The places of a page, all of them perhaps free.
    pub(crate) fn new(page: Area) -> Self {
        let sides = [0, 1].map(|k| page[1][k] - page[0][k]);
        let stride = SWEEP.max(sides[0].max(sides[1]) / MOST_STRIDES);
        let count = sides.map(|side| (side / stride).floor().max(0.0) as usize + 1);
        Self {
            page,
            stride,
            count,
            full: vec![[f64::INFINITY; 2]; count[0] * count[1]],
        }
    }

    /// The places of a label of a size that pass a test, by their distance from a point; of equally near ones the upper, then the
    /// left one first. What fails the test must fail it ever after, and so must a larger label at the same place.
    pub(crate) fn places(
        &mut self,
        anchor: Spot,
        size: Spot,
        free: impl Fn(&Area) -> bool,
    ) -> impl Iterator<Item = Area> {
        let search = FreePlaceSearch::new(self, anchor, size);
        let home = search.home();
        let rings = match search.count {
            [0, _] | [_, 0] => 0,
            [columns, rows] => columns.max(rows),
        };
        let mut found = BinaryHeap::new();
        let mut out = 0;
        std::iter::from_fn(move || {
            loop {
                // Nothing that is still to come is as near.
                let is_next = |Reverse((distance, ..)): &Reverse<(u64, usize, usize)>| {
                    out >= rings || out > 0 && *distance < search.beyond(out - 1)
                };
                if found.peek().is_some_and(is_next) {
                    let Reverse((_, row, column)) = found.pop()?;
                    return Some(search.area([column, row]));
                }
                if out >= rings {
                    return None;
                }
                for cell in search.ring(home, out) {
                    if self.is_free(cell, &search, &free) {
                        found.push(Reverse((search.distance(cell), cell[1], cell[0])));
                    }
                }
                out += 1;
            }
        })
    }

    fn is_free(
        &mut self,
        cell: [usize; 2],
        search: &FreePlaceSearch,
        free: impl Fn(&Area) -> bool,
    ) -> bool {
        let full = &mut self.full[cell[1] * self.count[0] + cell[0]];
        let size = search.size;
        if full[0] <= size[0] && full[1] <= size[1] {
            return false;
        }
        let is_free = free(&search.area(cell));
        if !is_free && size[0] <= full[0] && size[1] <= full[1] {
            *full = size;
        }
        is_free
    }
}

/// The search for a place of one label.
struct FreePlaceSearch {
    low: Spot,
    stride: f64,
    /// Columns and rows of places at which the label lies within the page.
    count: [usize; 2],
    size: Spot,
    anchor: Spot,
}

impl FreePlaceSearch {
    fn new(sweep: &FreePlaces, anchor: Spot, size: Spot) -> Self {
        let [low, high] = sweep.page;
        let count = [0, 1].map(|k| match (high[k] - low[k] - size[k]) / sweep.stride {
            room if room >= 0.0 => (room.floor() as usize + 1).min(sweep.count[k]),
            _ => 0,
        });
        Self {
            low,
            stride: sweep.stride,
            count,
            size,
            anchor,
        }
    }

    fn area(&self, [column, row]: [usize; 2]) -> Area {
        let low = [column as f64, row as f64];
        let low = [0, 1].map(|k| self.low[k] + low[k] * self.stride);
        [low, [0, 1].map(|k| low[k] + self.size[k])]
    }

    /// From the anchor to the middle of a place, in parts of a point.
    fn distance(&self, cell: [usize; 2]) -> u64 {
        let low = self.area(cell)[0];
        let middle = [0, 1].map(|k| low[k] + self.size[k] / 2.0);
        parts(length(way(self.anchor, middle)))
    }

    /// The cell nearest to the anchor.
    fn home(&self) -> [usize; 2] {
        [0, 1].map(|k| {
            let at = (self.anchor[k] - self.size[k] / 2.0 - self.low[k]) / self.stride;
            at.round()
                .clamp(0.0, self.count[k].saturating_sub(1) as f64) as usize
        })
    }

    /// Cells that lie so many columns or rows from one, and none more.
    fn ring(
        &self,
        [column, row]: [usize; 2],
        out: usize,
    ) -> impl Iterator<Item = [usize; 2]> + use<> {
        let [columns, rows] = self.count;
        let span = move |at: usize, count: usize| at.saturating_sub(out)..(at + out + 1).min(count);
        span(row, rows).flat_map(move |y| {
            let whole = y.abs_diff(row) == out;
            let beside = [column.checked_sub(out), Some(column + out)];
            let ends = beside.into_iter().flatten().filter(move |_| !whole);
            let ends = ends.filter(move |x| *x < columns);
            let all = match whole {
                true => span(column, columns),
                false => 0..0,
            };
            all.chain(ends).map(move |x| [x, y])
        })
    }

    /// The least distance of all cells further out than a ring.
    fn beyond(&self, out: usize) -> u64 {
        parts((out as f64 + 0.5) * self.stride)
    }
}

fn parts(distance: f64) -> u64 {
    (distance * PARTS).round() as u64
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #![proptest_config(crate::testing::cases(256))]

        /// Against all places of the page, sorted.
        #[test]
        fn every_place_comes_once_and_the_nearest_first(
            anchor in proptest::array::uniform2(-80.0..160.0_f64),
            size in proptest::array::uniform2(1.0..60.0_f64),
            page in proptest::array::uniform2(5.0..120.0_f64),
            off in 0.0..20.0_f64,
        ) {
            let page = [[0.0; 2], page];
            let mut sweep = FreePlaces::new(page);
            // Larger labels first, then smaller ones, on the same page.
            for size in [size, size.map(|side| side * 0.7), size.map(|side| side * 0.9)] {
                let free = |area: &Area| (area[0][0] + 3.0 * area[0][1]) % 20.0 >= off + (area[1][0] - area[0][0]) / 9.0;
                let search = FreePlaceSearch::new(&sweep, anchor, size);
                let rows = (0..search.count[1]).flat_map(|row| (0..search.count[0]).map(move |column| [column, row]));
                let mut all: Vec<[usize; 2]> = rows.filter(|cell| free(&search.area(*cell))).collect();
                all.sort_by_key(|cell| search.distance(*cell));
                let all: Vec<Area> = all.into_iter().map(|cell| search.area(cell)).collect();
                prop_assert!(all.iter().all(|area| (0..2).all(|k| area[1][k] <= page[1][k] + 1e-9)));
                let found: Vec<Area> = sweep.places(anchor, size, free).collect();
                prop_assert_eq!(found, all);
            }
        }
    }
}
