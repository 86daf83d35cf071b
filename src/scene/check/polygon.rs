//! Checks on plates and walls: a flat polygon that does not cross itself, and holes within it.

use nalgebra::{Vector2, Vector3};

use super::super::source_offsets::ItemPlaces;
use super::super::{Place, Plate, Space, Wall};
use super::flaw::MOST_PARTS;
use super::{Checker, FLATNESS, Flaw, PARALLEL_SINE};

type Point = Vector2<f64>;

impl Checker<'_> {
    pub(crate) fn plate(&mut self, plate: &Plate, at: &ItemPlaces) {
        if let Some((plane, edges)) = self.outline("plate", &plate.corners, at) {
            self.holes(plate, &plane, &edges, at);
        }
    }

    pub(crate) fn walls(&mut self) {
        for (wall, at) in self.scene.walls.iter().zip(&self.places.walls) {
            match self.scene.space {
                Space::Spatial => {
                    self.outline("wall", &wall.corners, at);
                }
                Space::Planar => self.straight_wall(wall, at),
            }
        }
    }

    /// In the plane a wall is a straight piece between two points.
    fn straight_wall(&mut self, wall: &Wall, at: &ItemPlaces) {
        let what = "wall";
        match wall.corners.as_slice() {
            [one, other] if self.coincide(one, other) => {
                let place = at.element("corners", 1);
                self.findings.error(place, Flaw::RepeatedCorner { what });
            }
            [_, _] => {}
            others => {
                let count = others.len();
                self.findings
                    .error(at.of("corners"), Flaw::EndCount { count });
            }
        }
    }

    /// The plane of a simple polygon and its corners there; `None`, with a report, where it is none.
    fn outline(
        &mut self,
        what: &'static str,
        corners: &[Place],
        at: &ItemPlaces,
    ) -> Option<(PolygonPlane, Vec<Point>)> {
        let count = corners.len();
        if !(3..=MOST_PARTS).contains(&count) {
            let flaw = Flaw::CornerCount { what, count };
            self.findings.error(at.of("corners"), flaw);
            return None;
        }
        let corners: Option<Vec<_>> = corners.iter().map(|corner| self.position(corner)).collect();
        let corners = corners?;
        let mut wrong = |place, flaw| {
            self.findings.error(place, flaw);
            None
        };
        if let Some(i) = repeated(&corners) {
            return wrong(at.element("corners", i), Flaw::RepeatedCorner { what });
        }
        let Some(plane) = PolygonPlane::through(&corners) else {
            return wrong(at.of("corners"), Flaw::CornersInLine { what });
        };
        if let Some(i) = corners.iter().position(|corner| !plane.holds(corner)) {
            return wrong(at.element("corners", i), Flaw::CornersOutOfPlane { what });
        }
        let edges: Vec<_> = corners.iter().map(|corner| plane.flat(corner)).collect();
        if let Some((i, j)) = crossing(&edges) {
            let (first, second) = (i + 1, j + 1);
            let flaw = Flaw::EdgesCross {
                what,
                first,
                second,
            };
            return wrong(at.element("corners", j), flaw);
        }
        Some((plane, edges))
    }

    /// The normal of a flat polygon; `None`, with a report, where it is none.
    pub(super) fn face(
        &mut self,
        what: &'static str,
        corners: &[Place],
        at: &ItemPlaces,
    ) -> Option<Vector3<f64>> {
        let (plane, _) = self.outline(what, corners, at)?;
        Some(plane.axes[2])
    }

    fn holes(&mut self, plate: &Plate, plane: &PolygonPlane, edges: &[Point], at: &ItemPlaces) {
        let count = plate.holes.len();
        if count > MOST_PARTS {
            return self
                .findings
                .error(at.of("holes"), Flaw::HoleCount { count });
        }
        let mut met: Vec<(usize, Point, f64)> = Vec::with_capacity(count);
        for (i, hole) in plate.holes.iter().enumerate() {
            let Some(centre) = self.position(&hole.centre) else {
                continue;
            };
            let (flat, radius) = (plane.flat(&centre), hole.diameter / 2.0);
            let overlaps =
                |(_, other, reach): &&(usize, Point, f64)| (other - flat).norm() < radius + reach;
            let flaw = if !plane.holds(&centre) {
                Flaw::HoleOutOfPlane
            } else if !is_inside(&flat, edges) || edge_distance(&flat, edges) <= radius {
                Flaw::HoleOutside
            } else if let Some((other, ..)) = met.iter().find(overlaps) {
                Flaw::HolesOverlap { other: other + 1 }
            } else {
                met.push((i, flat, radius));
                continue;
            };
            self.findings.error(at.element("holes", i), flaw);
        }
    }
}

/// First corner that equals an earlier one.
fn repeated(corners: &[Vector3<f64>]) -> Option<usize> {
    (1..corners.len()).find(|&i| corners[..i].contains(&corners[i]))
}

/// The plane of a plate.
struct PolygonPlane {
    origin: Vector3<f64>,
    /// Two unit vectors in the plane, then the normal.
    axes: [Vector3<f64>; 3],
    size: f64,
}

impl PolygonPlane {
    /// Plane of the two longest spreads of the corners from the first; `None` where they lie on one line.
    fn through(corners: &[Vector3<f64>]) -> Option<Self> {
        let origin = *corners.first()?;
        let arms = || corners.iter().map(|corner| corner - origin);
        let longest = arms().max_by(|a, b| a.norm().total_cmp(&b.norm()))?;
        let size = longest.norm();
        let along = longest.try_normalize(0.0)?;
        let aside = |arm: Vector3<f64>| arm - along * along.dot(&arm);
        let widest = arms()
            .map(aside)
            .max_by(|a, b| a.norm().total_cmp(&b.norm()))?;
        if widest.norm() <= PARALLEL_SINE * size {
            return None;
        }
        let across = widest.normalize();
        let axes = [along, across, along.cross(&across)];
        Some(Self { origin, axes, size })
    }

    fn holds(&self, point: &Vector3<f64>) -> bool {
        self.axes[2].dot(&(point - self.origin)).abs() <= FLATNESS * self.size
    }

    fn flat(&self, point: &Vector3<f64>) -> Point {
        let arm = point - self.origin;
        Point::new(self.axes[0].dot(&arm), self.axes[1].dot(&arm))
    }
}

/// Ends of edge `i` of a closed polygon.
fn edge(corners: &[Point], i: usize) -> (Point, Point) {
    (corners[i], corners[(i + 1) % corners.len()])
}

/// Two edges that meet elsewhere than at the corner they share.
fn crossing(corners: &[Point]) -> Option<(usize, usize)> {
    let count = corners.len();
    let pairs = (0..count).flat_map(|i| (i + 1..count).map(move |j| (i, j)));
    let mut meeting = pairs.filter(|&(i, j)| match (i + 1 == j, (j + 1) % count == i) {
        (false, false) => edges_meet(edge(corners, i), edge(corners, j)),
        (true, _) => turns_back(edge(corners, i), edge(corners, j)),
        (_, true) => turns_back(edge(corners, j), edge(corners, i)),
    });
    meeting.next()
}

/// Whether an edge runs back over the one before it.
fn turns_back((a, b): (Point, Point), (_, c): (Point, Point)) -> bool {
    let (arrive, leave) = (b - a, c - b);
    let is_parallel = arrive.perp(&leave).abs() <= PARALLEL_SINE * arrive.norm() * leave.norm();
    is_parallel && arrive.dot(&leave) < 0.0
}

fn edges_meet((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |p: Point, q: Point, r: Point| (q - p).perp(&(r - p));
    let (c_side, d_side) = (side(a, b, c), side(a, b, d));
    let (a_side, b_side) = (side(c, d, a), side(c, d, b));
    let boxes_meet =
        (0..2).all(|k| a[k].min(b[k]) <= c[k].max(d[k]) && c[k].min(d[k]) <= a[k].max(b[k]));
    boxes_meet && opposite(c_side, d_side) && opposite(a_side, b_side)
}

/// Whether two numbers have no common sign; 0 counts for both.
fn opposite(one: f64, other: f64) -> bool {
    one.min(other) <= 0.0 && one.max(other) >= 0.0
}

/// Whether a point lies within a closed polygon, by counting the edges to its right.
fn is_inside(point: &Point, corners: &[Point]) -> bool {
    let crosses = |i: &usize| {
        let (a, b) = edge(corners, *i);
        (a.y > point.y) != (b.y > point.y)
            && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x)
    };
    (0..corners.len()).filter(crosses).count() % 2 == 1
}

fn edge_distance(point: &Point, corners: &[Point]) -> f64 {
    let distance = |i| {
        let (a, b) = edge(corners, i);
        let along = ((point - a).dot(&(b - a)) / (b - a).norm_squared()).clamp(0.0, 1.0);
        (a + (b - a) * along - point).norm()
    };
    (0..corners.len())
        .map(distance)
        .fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::super::testing::shape_flaws;
    use super::MOST_PARTS;

    const NONE: [&str; 0] = [];

    fn plate(corners: &str) -> Vec<String> {
        shape_flaws(&format!("Plate(corners: [{corners}], thickness: 0.01)"))
    }

    #[test]
    fn a_plate_has_three_corners_or_more() {
        assert_eq!(plate("\"A\", \"B\", \"C\""), NONE);
        assert_eq!(plate("\"A\", \"B\""), ["the plate has 2 corners"]);
        assert_eq!(
            plate("\"A\", \"B\", \"C\", (0, 0, 0)"),
            ["the plate has this corner twice"]
        );
        let many = vec!["\"A\""; MOST_PARTS + 1].join(",");
        assert_eq!(
            plate(&many),
            [format!("the plate has {} corners", MOST_PARTS + 1)]
        );
    }

    #[test]
    fn a_plate_is_flat_but_for_rounding() {
        assert_eq!(
            plate("(0, 0, 0), (1, 0, 0.577), (1, 1, 0.577), (0.5, 1, 0.289)"),
            NONE
        );
        let out_of_plane = ["the corners of the plate do not lie in one plane"];
        assert_eq!(
            plate("(0, 0, 0), (1, 0, 0), (1, 1, 0.1), (0, 1, 0)"),
            out_of_plane
        );
        let in_line = ["the corners of the plate lie on one line"];
        assert_eq!(plate("(0, 0, 0), (1, 2, 3), (2, 4, 6)"), in_line);
    }

    #[test]
    fn a_plate_does_not_cross_itself() {
        assert_eq!(
            plate("(0, 0, 0), (2, 0, 0), (2, 2, 0), (1, 0.5, 0), (0, 2, 0)"),
            NONE
        );
        let cross = |first, second| {
            [format!(
                "edges {first} and {second} of the plate touch or cross"
            )]
        };
        assert_eq!(
            plate("(0, 0, 0), (1, 1, 0), (1, 0, 0), (0, 1, 0)"),
            cross(1, 3)
        );
        assert_eq!(
            plate("(0, 0, 0), (2, 0, 0), (2, 2, 0), (1, 0, 0), (0, 2, 0)"),
            cross(1, 3)
        );
        assert_eq!(
            plate("(0, 0, 0), (2, 0, 0), (1, 0, 0), (0, 2, 0)"),
            cross(1, 2)
        );
    }

    #[test]
    fn holes_lie_within_the_plate_and_apart() {
        let holes = |holes: &[(&str, f64)]| {
            let corners = "(0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1)";
            let hole = |(centre, diameter): &(&str, f64)| {
                format!("(centre: {centre}, diameter: {diameter})")
            };
            let holes: Vec<String> = holes.iter().map(hole).collect();
            let holes = holes.join(", ");
            shape_flaws(&format!(
                "Plate(corners: [{corners}], thickness: 0.01, holes: [{holes}])"
            ))
        };
        assert_eq!(
            holes(&[("(0.25, 0.5, 1)", 0.4), ("(0.75, 0.5, 1)", 0.4)]),
            NONE
        );
        let outside = ["the hole does not lie within the edges of the plate"];
        assert_eq!(holes(&[("(0.25, 0.5, 1)", 0.5)]), outside);
        assert_eq!(holes(&[("(1.5, 0.5, 1)", 0.1)]), outside);
        let off = ["the hole's centre does not lie in the plane of the plate"];
        assert_eq!(holes(&[("(0.25, 0.5, 0)", 0.1)]), off);
        let overlap = ["the hole overlaps hole 1"];
        assert_eq!(
            holes(&[("(0.4, 0.5, 1)", 0.4), ("(0.6, 0.5, 1)", 0.4)]),
            overlap
        );
    }
}
