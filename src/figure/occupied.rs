//! What of the page is taken: a grid of small cells, with sums so that any rectangle is asked about at once.

use super::sketch::{Spot, length, way};
use crate::drawing::{PathOutline, PathShape};
use crate::portrayal::label_places::part_inside;
pub(super) use crate::portrayal::label_places::{Area, grown, meets, overlap};

/// Side of a cell in points, and the most cells along a side: beyond, cells are larger.
const CELL: f64 = 0.75;
const MOST_CELLS: f64 = 1500.0;

/// Cells of an area that strokes pass through.
#[derive(Clone)]
pub(super) struct OccupiedCells {
    area: Area,
    cell: f64,
    columns: usize,
    rows: usize,
    taken: Vec<bool>,
    /// Taken cells above and to the left of each corner; out of date while `stale`.
    sums: Vec<u32>,
    stale: bool,
}

impl OccupiedCells {
    /// An empty area.
    pub(crate) fn new(area: Area) -> Self {
        let sides = [0, 1].map(|k| area[1][k] - area[0][k]);
        let cell = (sides[0].max(sides[1]) / MOST_CELLS).max(CELL);
        let cells = |k: usize| (sides[k] / cell).ceil().max(1.0) as usize;
        let (columns, rows) = (cells(0), cells(1));
        Self {
            area,
            cell,
            columns,
            rows,
            taken: vec![false; columns * rows],
            sums: vec![0; (columns + 1) * (rows + 1)],
            stale: true,
        }
    }

    /// The area that it keeps account of.
    pub(crate) fn area(&self) -> Area {
        self.area
    }

    /// Takes the strokes of a shape; of what has no stroke, the outline.
    pub(crate) fn take(&mut self, shape: &PathShape) {
        let half = shape.stroke.map_or(0.0, |stroke| stroke.width / 2.0);
        match &shape.outline {
            PathOutline::Circle { centre, radius } => {
                let count = (radius * 4.0).ceil().clamp(12.0, 96.0) as u32;
                let at = |i: u32| {
                    let angle = std::f64::consts::TAU * f64::from(i) / f64::from(count);
                    [
                        centre[0] + radius * angle.cos(),
                        centre[1] + radius * angle.sin(),
                    ]
                };
                (0..count).for_each(|i| self.take_line(at(i), at(i + 1), half));
                self.take_line(*centre, *centre, radius.min(2.0));
            }
            PathOutline::Lines(lines) => {
                for [from, to] in lines.iter().flat_map(|line| line.pieces()) {
                    self.take_line(from, to, half);
                }
            }
        }
    }

    /// Takes all of a rectangle.
    pub(crate) fn take_area(&mut self, [low, high]: &Area) {
        let (middle, half) = ((low[1] + high[1]) / 2.0, (high[1] - low[1]) / 2.0);
        self.take_line([low[0], middle], [high[0], middle], half);
    }

    /// Takes every cell that a stroke touches, and perhaps some beside it.
    pub(crate) fn take_line(&mut self, from: Spot, to: Spot, half_width: f64) {
        self.stale = true;
        let Some((from, to)) = clipped(from, to, &grown(self.area, half_width + self.cell)) else {
            return;
        };
        let steps = (length(way(from, to)) / (self.cell / 2.0)).ceil().max(1.0);
        let around = half_width + self.cell / 4.0;
        let mut i = 0.0;
        while i <= steps {
            let t = i / steps;
            let at = [0, 1].map(|k| from[k] + (to[k] - from[k]) * t);
            let (columns, rows) = (self.range(0, at[0], around), self.range(1, at[1], around));
            for row in rows {
                for column in columns.clone() {
                    self.taken[row * self.columns + column] = true;
                }
            }
            i += 1.0;
        }
    }

    fn range(&self, k: usize, at: f64, around: f64) -> std::ops::Range<usize> {
        let most = if k == 0 { self.columns } else { self.rows };
        let cell = |x: f64| ((x - self.area[0][k]) / self.cell).floor();
        let low = cell(at - around).clamp(0.0, most as f64) as usize;
        let high = (cell(at + around) + 1.0).clamp(0.0, most as f64) as usize;
        low..high.max(low)
    }

    /// Brings the sums up to date.
    pub(crate) fn settle(&mut self) {
        if !self.stale {
            return;
        }
        self.stale = false;
        let wide = self.columns + 1;
        for row in 0..self.rows {
            let mut in_row = 0;
            for column in 0..self.columns {
                in_row += u32::from(self.taken[row * self.columns + column]);
                self.sums[(row + 1) * wide + column + 1] =
                    self.sums[row * wide + column + 1] + in_row;
            }
        }
    }

    /// Whether a rectangle lies inside the area and no stroke passes through it. Wants [`OccupiedCells::settle`] first.
    pub(crate) fn is_free(&self, [low, high]: Area) -> bool {
        let inside = (0..2).all(|k| low[k] >= self.area[0][k] && high[k] <= self.area[1][k]);
        if !inside {
            return false;
        }
        let first = |k: usize| ((low[k] - self.area[0][k]) / self.cell).floor() as usize;
        let last = |k: usize, most: usize| {
            (((high[k] - self.area[0][k]) / self.cell).ceil() as usize).min(most)
        };
        let (left, top) = (first(0), first(1));
        let (right, bottom) = (last(0, self.columns), last(1, self.rows));
        let wide = self.columns + 1;
        let sum = |row: usize, column: usize| self.sums[row * wide + column];
        sum(bottom, right) + sum(top, left) == sum(top, right) + sum(bottom, left)
    }
}

/// The part of a straight line inside a rectangle; `None` where there is none, and for numbers that are not finite.
fn clipped(from: Spot, to: Spot, area: &Area) -> Option<(Spot, Spot)> {
    let [start, end] = part_inside(from, to, area)?;
    let at = |t: f64| [0, 1].map(|k| from[k] + (to[k] - from[k]) * t);
    let (start, end) = (at(start), at(end));
    start
        .iter()
        .chain(&end)
        .all(|x| x.is_finite())
        .then_some((start, end))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #![proptest_config(crate::testing::cases(256))]

        /// What the grid calls free, no stroke meets: against exact geometry.
        #[test]
        fn free_rectangles_are_free(
            ends in proptest::collection::vec(proptest::array::uniform4(0.0..50.0_f64), 1..8),
            corner in proptest::array::uniform2(-5.0..50.0_f64),
            size in proptest::array::uniform2(0.5..20.0_f64),
        ) {
            let mut room = OccupiedCells::new([[0.0, 0.0], [50.0, 50.0]]);
            for e in &ends {
                room.take_line([e[0], e[1]], [e[2], e[3]], 0.5);
            }
            room.settle();
            let area = [corner, [corner[0] + size[0], corner[1] + size[1]]];
            if room.is_free(area) {
                for e in &ends {
                    prop_assert!(!meets([e[0], e[1]], [e[2], e[3]], &grown(area, 0.3)));
                }
            }
        }
    }

    #[test]
    fn an_empty_area_is_free_and_its_outside_is_not() {
        let mut room = OccupiedCells::new([[-10.0, -10.0], [10.0, 10.0]]);
        room.settle();
        assert!(room.is_free([[-10.0, -10.0], [10.0, 10.0]]));
        assert!(!room.is_free([[5.0, 5.0], [10.5, 9.0]]));
        room.take_line([0.0, -20.0], [0.0, 20.0], 0.5);
        room.settle();
        assert!(!room.is_free([[-3.0, 2.0], [3.0, 4.0]]));
        assert!(room.is_free([[2.0, 2.0], [3.0, 4.0]]));
    }
}
