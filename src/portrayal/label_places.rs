//! Places for labels around the points that they name: one search for paper and window, with settings for each.
//!
//! Points are of a page or screen, y down. What a place costs is for the caller to say, who knows what is drawn there.

/// A point or vector of the page or screen, y down.
pub type Spot = [f64; 2];

/// A rectangle: lowest and highest coordinates.
pub type Area = [Spot; 2];

/// Which places are tried.
#[derive(Debug, Clone, Copy)]
pub struct LabelPlaces {
    /// Distances of the label's near edge from its point, near ones first.
    pub rings: &'static [f64],
    /// Into how many directions the turn around the point is divided.
    pub directions: u32,
    /// The directions in the order in which they are tried, counted counter-clockwise from the right.
    pub sides: &'static [u32],
    /// How quickly the label's middle slides from side to side with the direction: 1 evenly, more the sooner beside it.
    pub pull: f64,
    /// What the middle is rounded to; 0 where it is not.
    pub grid: f64,
}

/// One of the places around a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LabelPlace {
    /// The rectangle that the label takes there.
    pub area: Area,
    /// Index of the ring.
    pub ring: usize,
    /// The direction by number.
    pub side: u32,
    /// The direction from the point, of unit length.
    pub direction: Spot,
}

impl LabelPlaces {
    /// The place on a ring to a side of a point, for a label of a width and height.
    pub fn at(&self, anchor: Spot, size: Spot, ring: usize, side: u32) -> LabelPlace {
        let angle = std::f64::consts::TAU * f64::from(side) / f64::from(self.directions);
        let direction = [angle.cos(), -angle.sin()];
        LabelPlace {
            area: self.beside(anchor, direction, self.rings[ring], size),
            ring,
            side,
            direction,
        }
    }

    /// The rectangle whose nearest point lies at a distance from a point in a direction.
    pub fn beside(&self, anchor: Spot, direction: Spot, distance: f64, size: Spot) -> Area {
        let pull = |x: f64| (x * self.pull).clamp(-1.0, 1.0);
        let on_grid = |x: f64| match self.grid > 0.0 {
            true => (x / self.grid).round() * self.grid,
            false => x,
        };
        let centre = [0, 1].map(|k| {
            on_grid(anchor[k] + direction[k] * distance + pull(direction[k]) * size[k] / 2.0)
        });
        [-0.5, 0.5].map(|half| [0, 1].map(|k| centre[k] + half * size[k]))
    }

    /// Every place around a point, ring by ring.
    pub fn around(&self, anchor: Spot, size: Spot) -> impl Iterator<Item = LabelPlace> + use<'_> {
        let rings = 0..self.rings.len();
        rings.flat_map(move |ring| {
            let sides = self.sides.iter();
            sides.map(move |side| self.at(anchor, size, ring, *side))
        })
    }

    /// The cheapest place with its cost; of equally cheap ones the first. Places without a cost are not free.
    ///
    /// `least` is the least that any place of a ring or of one farther out can cost, so that the search may end.
    pub fn best(
        &self,
        anchor: Spot,
        size: Spot,
        least: impl Fn(f64) -> i64,
        cost: impl Fn(&LabelPlace) -> Option<i64>,
    ) -> Option<(LabelPlace, i64)> {
        let mut best: Option<(LabelPlace, i64)> = None;
        for place in self.around(anchor, size) {
            if best.is_some_and(|(_, found)| found < least(self.rings[place.ring])) {
                break;
            }
            if let Some(cost) = cost(&place)
                && best.is_none_or(|(_, found)| cost < found)
            {
                best = Some((place, cost));
            }
        }
        best
    }
}

/// Whether two rectangles share more than an edge.
pub fn overlap(a: &Area, b: &Area) -> bool {
    (0..2).all(|k| a[0][k] < b[1][k] && b[0][k] < a[1][k])
}

/// The rectangle grown to all sides.
pub fn grown([low, high]: Area, by: f64) -> Area {
    [[low[0] - by, low[1] - by], [high[0] + by, high[1] + by]]
}

/// Whether a rectangle lies within another, edges included.
pub fn contains(outer: &Area, inner: &Area) -> bool {
    (0..2).all(|k| outer[0][k] <= inner[0][k] && inner[1][k] <= outer[1][k])
}

/// Whether a straight line has a point inside a rectangle.
pub fn meets(from: Spot, to: Spot, area: &Area) -> bool {
    part_inside(from, to, area).is_some()
}

/// Range of the parameter, 0 to 1, in which a straight line lies inside a rectangle.
pub fn part_inside(from: Spot, to: Spot, [low, high]: &Area) -> Option<[f64; 2]> {
    let (mut start, mut end) = (0.0_f64, 1.0_f64);
    for k in 0..2 {
        let along = to[k] - from[k];
        if along.abs() < 1e-12 {
            if from[k] <= low[k] || from[k] >= high[k] {
                return None;
            }
            continue;
        }
        let (a, b) = ((low[k] - from[k]) / along, (high[k] - from[k]) / along);
        start = start.max(a.min(b));
        end = end.min(a.max(b));
    }
    // A point has no length, but lies inside or not.
    (start < end || (from == to && start <= end)).then_some([start, end])
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLACES: LabelPlaces = LabelPlaces {
        rings: &[2.0, 10.0],
        directions: 8,
        sides: &[1, 3, 0],
        pull: 1e3,
        grid: 0.0,
    };

    #[test]
    fn of_equally_cheap_places_the_first_is_taken_and_a_cheaper_one_farther_out_is_found() {
        let found = |cost: fn(&LabelPlace) -> Option<i64>| {
            let best = PLACES.best([0.0; 2], [4.0, 2.0], |_| 0, cost);
            best.map(|(place, _)| (place.ring, place.side))
        };
        assert_eq!(found(|_| Some(1)), Some((0, 1)));
        assert_eq!(found(|place| (place.side != 1).then_some(1)), Some((0, 3)));
        assert_eq!(found(|place| Some(5 - 2 * place.ring as i64)), Some((1, 1)));
        assert_eq!(found(|_| None), None);
    }

    #[test]
    fn labels_stand_beside_their_points_at_the_distance_of_the_ring() {
        let right = PLACES.at([5.0, 5.0], [4.0, 2.0], 0, 0).area;
        assert_eq!(right, [[7.0, 4.0], [11.0, 6.0]]);
        let above = PLACES.at([5.0, 5.0], [4.0, 2.0], 1, 1).area;
        assert!(above[0][0] > 5.0 && above[1][1] < 5.0);
    }

    #[test]
    fn lines_meet_rectangles_where_they_enter_them() {
        let area = [[10.0, 10.0], [20.0, 14.0]];
        for (from, to, expected) in [
            ([0.0, 12.0], [30.0, 12.0], true),
            ([12.0, 11.0], [13.0, 12.0], true),
            ([8.0, 8.0], [30.0, 20.0], true),
            ([0.0, 12.0], [9.0, 12.0], false),
            ([0.0, 10.0], [30.0, 10.0], false),
            ([8.0, 14.0], [14.0, 30.0], false),
        ] {
            assert_eq!(meets(from, to, &area), expected, "{from:?} {to:?}");
        }
    }
}
