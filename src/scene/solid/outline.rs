//! Simple polygons in a plane: area, centroid, tests, corners cut and edges moved inwards.

use nalgebra::{Matrix2, Vector2};

/// Turns smaller than this count as none in radians.
const STRAIGHT: f64 = 1e-9;

/// Corners that turn more than this are seen as corners: they get a drawn edge and a chamfer in radians.
const CORNER: f64 = std::f64::consts::PI / 6.0;

/// Corner point in the plane.
pub(super) type Corner = Vector2<f64>;

/// Signed area and centroid of a polygon; counter-clockwise counts positive. `None` if the area is 0.
///
/// Source: shoelace formula and its first moment, e.g. Bourke, *Calculating the area and centroid of a polygon*, 1988.
pub(super) fn area_and_centroid(corners: &[Corner]) -> Option<(f64, Corner)> {
    let origin = *corners.first()?;
    let (mut twice, mut moment) = (0.0, Corner::zeros());
    for (from, to) in sides(corners) {
        let (a, b) = (from - origin, to - origin);
        let cross = a.perp(&b);
        twice += cross;
        moment += (a + b) * cross;
    }
    let centroid = origin + moment / (3.0 * twice);
    (twice != 0.0 && centroid.iter().all(|x| x.is_finite())).then_some((twice / 2.0, centroid))
}

/// Integral of the dyad of positions from a point over a counter-clockwise polygon, to the fourth power of a length.
///
/// Sum over the signed triangles between the point and each side: area / 12 · (sum of dyads of the corners + dyad of their
/// sum), the plane's form of the moments of a tetrahedron.
pub(super) fn second_moment(corners: &[Corner], about: Corner) -> Matrix2<f64> {
    let of = |(from, to): (Corner, Corner)| {
        let (a, b) = (from - about, to - about);
        let dyad = |v: Corner| v * v.transpose();
        (dyad(a) + dyad(b) + dyad(a + b)) * (a.perp(&b) / 24.0)
    };
    sides(corners).map(of).sum()
}

/// The smaller of the extents along both axes.
pub(super) fn smallest_extent(corners: &[Corner]) -> f64 {
    let extent = |k: usize| {
        let values = || corners.iter().map(|corner| corner[k]);
        values().fold(f64::NEG_INFINITY, f64::max) - values().fold(f64::INFINITY, f64::min)
    };
    extent(0).min(extent(1))
}

/// Sides in order, from each corner to the next.
pub(super) fn sides(corners: &[Corner]) -> impl Iterator<Item = (Corner, Corner)> + '_ {
    (0..corners.len()).map(|i| (corners[i], corners[(i + 1) % corners.len()]))
}

/// Directions of the sides before and after corner `i`.
fn ways(corners: &[Corner], i: usize) -> (Corner, Corner) {
    let count = corners.len();
    let before = corners[i] - corners[(i + count - 1) % count];
    let after = corners[(i + 1) % count] - corners[i];
    (before.normalize(), after.normalize())
}

/// Turn to the left at corner `i` in radians.
fn turn(corners: &[Corner], i: usize) -> f64 {
    let (before, after) = ways(corners, i);
    before.perp(&after).atan2(before.dot(&after))
}

/// The polygon without repeated corners and corners that do not turn.
pub(super) fn tidy(mut corners: Vec<Corner>) -> Vec<Corner> {
    corners.dedup();
    while corners.len() > 1 && corners.first() == corners.last() {
        corners.pop();
    }
    let mut i = 0;
    while corners.len() > 2 && i < corners.len() {
        if turn(&corners, i).abs() < STRAIGHT {
            corners.remove(i);
        } else {
            i += 1;
        }
    }
    corners
}

/// Whether two sides have a point in common.
fn cross((a, b): (Corner, Corner), (c, d): (Corner, Corner)) -> bool {
    let side = |p: Corner, q: Corner, r: Corner| (q - p).perp(&(r - p));
    let (c_side, d_side) = (side(a, b, c), side(a, b, d));
    let (a_side, b_side) = (side(c, d, a), side(c, d, b));
    let overlap = |k: usize| a[k].min(b[k]) <= c[k].max(d[k]) && c[k].min(d[k]) <= a[k].max(b[k]);
    c_side * d_side <= 0.0 && a_side * b_side <= 0.0 && overlap(0) && overlap(1)
}

/// Whether no side touches another than its neighbours, and none folds back.
pub(super) fn is_simple(corners: &[Corner]) -> bool {
    let count = corners.len();
    if count < 3 {
        return false;
    }
    let all: Vec<_> = sides(corners).collect();
    let folds = (0..count).any(|i| turn(corners, i).abs() > std::f64::consts::PI - STRAIGHT);
    let crosses = (0..count).any(|i| {
        (i + 2..count)
            .filter(|&j| (j + 1) % count != i)
            .any(|j| cross(all[i], all[j]))
    });
    !folds && !crosses
}

/// Distance of a point from the nearest side; negative if it lies outside.
pub(super) fn depth(corners: &[Corner], point: Corner) -> f64 {
    let mut nearest = f64::INFINITY;
    let mut inside = false;
    for (a, b) in sides(corners) {
        let way = b - a;
        let along = ((point - a).dot(&way) / way.norm_squared()).clamp(0.0, 1.0);
        nearest = nearest.min((point - a - way * along).norm());
        let straddles = (a.y > point.y) != (b.y > point.y);
        if straddles && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x) {
            inside = !inside;
        }
    }
    if inside { nearest } else { -nearest }
}

/// A polygon whose sides are marked as chamfered or not, and whose corners as drawn or not.
#[derive(Debug, Clone, Default)]
pub(super) struct MarkedPolygon {
    pub(super) corners: Vec<Corner>,
    /// Whether the side from each corner to the next is chamfered.
    pub(super) chamfered: Vec<bool>,
    /// Whether each corner is drawn as an edge of the prism.
    pub(super) creases: Vec<bool>,
}

impl MarkedPolygon {
    fn push(&mut self, corner: Corner, chamfered: bool, crease: bool) {
        self.corners.push(corner);
        self.chamfered.push(chamfered);
        self.creases.push(crease);
    }

    /// The polygon as it is.
    pub(super) fn new(corners: &[Corner], chamfered: &[bool]) -> Self {
        Self {
            corners: corners.to_vec(),
            chamfered: chamfered.to_vec(),
            creases: (0..corners.len())
                .map(|i| turn(corners, i).abs() > CORNER)
                .collect(),
        }
    }

    /// The polygon with convex corners between two chamfered sides cut off by `cut` along both.
    pub(super) fn cut(corners: &[Corner], chamfered: &[bool], cut: f64) -> Self {
        let count = corners.len();
        let mut marked = Self::default();
        for (i, &corner) in corners.iter().enumerate() {
            let (before, after) = ((i + count - 1) % count, (i + 1) % count);
            let turn = turn(corners, i);
            if chamfered[before] && chamfered[i] && turn > CORNER {
                let room = |other: usize| (corners[other] - corner).norm() / 4.0;
                let cut = cut.min(room(before)).min(room(after));
                let (arriving, leaving) = ways(corners, i);
                marked.push(corner - arriving * cut, true, true);
                marked.push(corner + leaving * cut, chamfered[i], false);
            } else {
                marked.push(corner, chamfered[i], turn.abs() > CORNER);
            }
        }
        marked
    }
}

/// The counter-clockwise polygon with its chamfered sides moved inwards by `by`; `None` if a side vanishes.
pub(super) fn inset(corners: &[Corner], chamfered: &[bool], by: f64) -> Option<Vec<Corner>> {
    let count = corners.len();
    let moved: Vec<_> = (0..count)
        .map(|i| {
            let (before, after) = ways(corners, i);
            let amount = |side: usize| if chamfered[side] { by } else { 0.0 };
            let (d, e) = (amount((i + count - 1) % count), amount(i));
            let sine = before.perp(&after);
            let shift = if sine.abs() < STRAIGHT {
                Corner::new(-after.y, after.x) * e
            } else {
                (after * d - before * e) / sine
            };
            corners[i] + shift
        })
        .collect();
    let kept = sides(corners)
        .zip(sides(&moved))
        .all(|((a, b), (c, d))| (b - a).dot(&(d - c)) > 0.0);
    kept.then_some(moved)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangle(width: f64, height: f64) -> Vec<Corner> {
        vec![
            Corner::new(0.0, 0.0),
            Corner::new(width, 0.0),
            Corner::new(width, height),
            Corner::new(0.0, height),
        ]
    }

    #[test]
    fn inset_moves_every_side_by_the_same_amount() {
        let moved = inset(&rectangle(4.0, 2.0), &[true; 4], 0.5).unwrap();
        let expected = [(0.5, 0.5), (3.5, 0.5), (3.5, 1.5), (0.5, 1.5)];
        for (corner, (x, y)) in moved.iter().zip(expected) {
            assert!((corner - Corner::new(x, y)).norm() < 1e-14, "{moved:?}");
        }
        assert!(inset(&rectangle(4.0, 2.0), &[true; 4], 1.5).is_none());
    }

    #[test]
    fn a_bow_tie_is_not_simple_and_a_rectangle_is() {
        let mut corners = rectangle(4.0, 2.0);
        assert!(is_simple(&corners));
        corners.swap(1, 2);
        assert!(!is_simple(&corners));
    }

    #[test]
    fn depth_is_positive_inside_only() {
        let corners = rectangle(4.0, 2.0);
        assert!((depth(&corners, Corner::new(1.0, 0.5)) - 0.5).abs() < 1e-14);
        assert!((depth(&corners, Corner::new(5.0, 1.0)) + 1.0).abs() < 1e-14);
    }

    #[test]
    fn tidy_drops_repeated_and_straight_corners() {
        let mut corners = rectangle(4.0, 2.0);
        corners.insert(1, Corner::new(2.0, 0.0));
        corners.push(corners[0]);
        assert_eq!(tidy(corners), rectangle(4.0, 2.0));
    }
}
