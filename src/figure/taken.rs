//! Areas of the page that labels have, sorted into squares, so that a place is compared with its neighbours only.

use std::collections::HashMap;
use std::ops::RangeInclusive;

use super::room::{Area, grown, meets, overlap};
use super::sketch::{Spot, length, step, way};

/// Side of a square in points: about that of a label.
const SQUARE: f64 = 16.0;

/// The areas, which are never given back.
pub(super) struct Taken {
    areas: Vec<Area>,
    squares: HashMap<[i32; 2], Vec<usize>>,
}

impl Taken {
    /// With areas that are taken from the start.
    pub(crate) fn new(areas: &[Area]) -> Self {
        let mut taken = Self {
            areas: Vec::with_capacity(areas.len()),
            squares: HashMap::new(),
        };
        areas.iter().for_each(|area| taken.push(*area));
        taken
    }

    /// Takes an area.
    pub(crate) fn push(&mut self, area: Area) {
        let index = self.areas.len();
        self.areas.push(area);
        for square in squares(&area).all() {
            self.squares.entry(square).or_default().push(index);
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
        let meets = |other: &Area| meets(from, to, &grown(*other, clear));
        let count = (length(way(from, to)) / SQUARE).ceil().max(1.0);
        // A line to a point far off the page has more parts than there are areas.
        if count > self.areas.len() as f64 {
            return self.areas.iter().any(meets);
        }
        let at = |part: f64| step(from, way(from, to), part / count);
        (0..count as usize).map(|part| part as f64).any(|part| {
            let ends = [at(part), at(part + 1.0)];
            let low = [0, 1].map(|k| ends[0][k].min(ends[1][k]));
            let high = [0, 1].map(|k| ends[0][k].max(ends[1][k]));
            self.any_near(&grown([low, high], clear), meets)
        })
    }

    fn any_near(&self, area: &Area, test: impl Fn(&Area) -> bool) -> bool {
        let near = squares(area);
        // A line to a point far off the page touches more squares than there are areas.
        if near.count() > self.areas.len() as u64 {
            return self.areas.iter().any(test);
        }
        let near = near.all().filter_map(|square| self.squares.get(&square));
        near.flatten().any(|index| test(&self.areas[*index]))
    }
}

/// Columns and rows of squares.
struct Squares {
    columns: RangeInclusive<i32>,
    rows: RangeInclusive<i32>,
}

/// The squares that an area touches.
#[expect(
    clippy::cast_possible_truncation,
    reason = "what lies off the numbered squares counts to the outermost"
)]
fn squares([low, high]: &Area) -> Squares {
    let square = |x: f64| (x / SQUARE).floor() as i32;
    let [columns, rows] = [0, 1].map(|k| square(low[k])..=square(high[k]));
    Squares { columns, rows }
}

impl Squares {
    fn count(&self) -> u64 {
        let long = |side: &RangeInclusive<i32>| u64::from(side.end().abs_diff(*side.start())) + 1;
        long(&self.columns).saturating_mul(long(&self.rows))
    }

    fn all(self) -> impl Iterator<Item = [i32; 2]> {
        self.columns
            .flat_map(move |column| self.rows.clone().map(move |row| [column, row]))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn area() -> impl Strategy<Value = Area> {
        let corner = proptest::array::uniform2(-80.0..80.0_f64);
        let size = proptest::array::uniform2(0.5..50.0_f64);
        (corner, size).prop_map(|(low, size)| [low, [low[0] + size[0], low[1] + size[1]]])
    }

    /// A leader to a point 10¹² pt away was compared square by square: a figure without end.
    #[test]
    fn a_line_far_off_the_page_meets_what_it_passes() {
        let taken = Taken::new(&[[[20.0, 0.0], [30.0, 10.0]]]);
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
            let taken = Taken::new(&areas);
            let overlaps = areas.iter().any(|other| overlap(&asked, other));
            prop_assert_eq!(taken.overlaps(&asked), overlaps);
            let [from, to] = ends;
            let met = areas.iter().any(|other| meets(from, to, &grown(*other, 0.5)));
            prop_assert_eq!(taken.meets(from, to, 0.5), met);
        }
    }
}
