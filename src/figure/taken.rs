//! Areas of the page that labels have, sorted into squares, so that a place is compared with its neighbours only.

use std::ops::RangeInclusive;

use super::occupied::{Area, grown, meets, overlap};
use super::sketch::{Spot, length, step, way};
use crate::portrayal::label_places::part_inside;

/// Side of a square in points: about that of a label; larger where a side of the page would have more than [`MOST_SQUARES`].
const SQUARE: f64 = 16.0;
const MOST_SQUARES: f64 = 1000.0;

/// The areas, which are never given back.
pub(super) struct Taken {
    areas: Vec<Area>,
    /// The box around them.
    reach: Option<Area>,
    squares: Vec<Vec<u32>>,
    /// Lowest coordinates of the squares, their side, and how many there are along each side of the page. What lies off the page
    /// counts to the outermost.
    low: Spot,
    square: f64,
    count: [usize; 2],
}

impl Taken {
    /// On a page, with areas that are taken from the start.
    pub(crate) fn new(page: &Area, areas: &[Area]) -> Self {
        let sides = [0, 1].map(|k| page[1][k] - page[0][k]);
        let square = (sides[0].max(sides[1]) / MOST_SQUARES).max(SQUARE);
        let count = sides.map(|side| (side / square).ceil().max(1.0) as usize);
        let mut taken = Self {
            areas: Vec::with_capacity(areas.len()),
            reach: None,
            squares: vec![Vec::new(); count[0] * count[1]],
            low: page[0],
            square,
            count,
        };
        areas.iter().for_each(|area| taken.push(*area));
        taken
    }

    /// Takes an area.
    pub(crate) fn push(&mut self, area: Area) {
        let index = self.areas.len() as u32;
        self.areas.push(area);
        let [low, high] = self.reach.unwrap_or(area);
        self.reach = Some([
            [0, 1].map(|k| low[k].min(area[0][k])),
            [0, 1].map(|k| high[k].max(area[1][k])),
        ]);
        let [columns, rows] = self.squares_of(&area);
        for row in rows {
            for column in columns.clone() {
                self.squares[row * self.count[0] + column].push(index);
            }
        }
    }

    /// Whether an area overlaps one that is taken.
    pub(crate) fn overlaps(&self, area: &Area) -> bool {
        self.any_near(area, |other| overlap(area, other))
    }

    /// Whether a straight line passes through an area that is taken, or closer to it than `clear`.
    ///
    /// It is followed from its start, so that a line out of a crowd is soon known to meet something.
    pub(crate) fn meets(&self, from: Spot, to: Spot, clear: f64) -> bool {
        let Some(reach) = self.reach else {
            return false;
        };
        // A little more than the reach, since its border counts as outside.
        let Some(part) = part_inside(from, to, &grown(reach, clear + 1.0)) else {
            return false;
        };
        let [start, end] = part.map(|t| step(from, way(from, to), t));
        let count = (length(way(start, end)) / self.square).ceil().max(1.0);
        let at = |part: f64| step(start, way(start, end), part / count);
        (0..count as usize).map(|part| part as f64).any(|part| {
            let ends = [at(part), at(part + 1.0)];
            let low = [0, 1].map(|k| ends[0][k].min(ends[1][k]));
            let high = [0, 1].map(|k| ends[0][k].max(ends[1][k]));
            self.any_near(&grown([low, high], clear), |other| {
                meets(from, to, &grown(*other, clear))
            })
        })
    }

    fn any_near(&self, area: &Area, test: impl Fn(&Area) -> bool) -> bool {
        let [columns, rows] = self.squares_of(area);
        for row in rows {
            for column in columns.clone() {
                for index in &self.squares[row * self.count[0] + column] {
                    if test(&self.areas[*index as usize]) {
                        return true;
                    }
                }
            }
        }
        false
    }

    /// Columns and rows of the squares that an area touches.
    fn squares_of(&self, [low, high]: &Area) -> [RangeInclusive<usize>; 2] {
        let square = |x: f64, k: usize| {
            let square = ((x - self.low[k]) / self.square).floor();
            square.clamp(0.0, (self.count[k] - 1) as f64) as usize
        };
        [0, 1].map(|k| square(low[k], k)..=square(high[k], k))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Smaller than where the areas lie.
    const PAGE: Area = [[-60.0, -50.0], [70.0, 40.0]];

    fn area() -> impl Strategy<Value = Area> {
        let corner = proptest::array::uniform2(-80.0..80.0_f64);
        let size = proptest::array::uniform2(0.5..50.0_f64);
        (corner, size).prop_map(|(low, size)| [low, [low[0] + size[0], low[1] + size[1]]])
    }

    /// A leader to a point 10¹² pt away was compared square by square: a figure without end.
    #[test]
    fn a_line_far_off_the_page_meets_what_it_passes() {
        let taken = Taken::new(&PAGE, &[[[20.0, 0.0], [30.0, 10.0]]]);
        assert!(taken.meets([0.0, 5.0], [1e12, 5.0], 0.5));
        assert!(!taken.meets([0.0, 5.0], [1e12, 1e12], 0.5));
        assert!(!taken.meets([0.0, 5.0], [-1e30, 1e30], 0.5));
    }

    proptest! {
        #![proptest_config(crate::testing::cases(256))]

        /// Against all areas one by one.
        #[test]
        fn neighbours_are_all_that_counts(
            areas in proptest::collection::vec(area(), 0..60),
            asked in area(),
            ends in proptest::array::uniform2(proptest::array::uniform2(prop_oneof![-90.0..90.0_f64, -1e12..1e12])),
        ) {
            let taken = Taken::new(&PAGE, &areas);
            let overlaps = areas.iter().any(|other| overlap(&asked, other));
            prop_assert_eq!(taken.overlaps(&asked), overlaps);
            let [from, to] = ends;
            let met = areas.iter().any(|other| meets(from, to, &grown(*other, 0.5)));
            prop_assert_eq!(taken.meets(from, to, 0.5), met);
        }
    }
}
