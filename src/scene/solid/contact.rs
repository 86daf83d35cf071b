//! Which shapes of a body reach each other, and which points they reach: for checks of a scene as written.

use nalgebra::{Point3, Unit, Vector3};

use super::bounds::{AlignedBox, CLUSTER};
use super::distance::{STAND_OFF, encloses, nearest_on_triangle, surface_distance};
use super::locate::SolidPlaces;
use super::round::RoundPart;
use super::{Finish, Solid, drawn, hull, resolve};
use crate::scene::{Place, Scene, Shape};

/// A joint is where shapes meet within this share of the smaller one; further off they meet elsewhere.
///
/// Our choice, no source: bars that meet at their ends overlap by about their thickness.
const JOINT: f64 = 0.3;

/// Steps towards the nearest point of a hull: enough to tell a line beyond it from one that passes through.
const MOST_STEPS: usize = 100;

/// A body whose shapes have surfaces, in metres and the scene's axes.
pub struct Surfaces<'a> {
    places: SolidPlaces<'a>,
    solids: Vec<Solid>,
    /// Whether each is its own hull.
    convex: Vec<bool>,
    /// Straight cylinders of shafts and discs.
    shafts: Vec<RoundPart>,
    bounds: AlignedBox,
}

impl<'a> Surfaces<'a> {
    /// The surfaces of a body; `None` unless each of its shapes has one.
    pub fn new(scene: &'a Scene) -> Option<Self> {
        let places = SolidPlaces::new(scene);
        let mut solids = Vec::with_capacity(scene.body.len());
        let mut shafts = Vec::new();
        let convex = scene.body.iter().map(is_convex).collect();
        for shape in &scene.body {
            let piece = resolve(&places, shape)?;
            solids.push(drawn(piece.as_ref(), Finish::SHARP)?);
            if matches!(shape, Shape::Shaft(_) | Shape::Disc(_)) {
                shafts.extend(piece.round_parts());
            }
        }
        let corners = solids
            .iter()
            .flat_map(|solid| [&solid.bounds.low, &solid.bounds.high]);
        let bounds = AlignedBox::of(corners)?;
        Some(Self {
            places,
            solids,
            convex,
            shafts,
            bounds,
        })
    }

    /// Diagonal of the box around the body, m.
    pub fn diagonal(&self) -> f64 {
        self.bounds.diagonal()
    }

    /// How far off a lug or an eye that a sketch leaves out may be, m.
    fn allowance(&self) -> f64 {
        STAND_OFF * self.diagonal()
    }

    /// How far a place lies off the box around the body, m; 0 within it, `None` for a place that is not known.
    pub fn distance_off_box(&self, place: &Place) -> Option<f64> {
        Some(self.bounds.distance(&self.places.point(place)?))
    }

    /// Diagonals of the boxes around its shapes, m, in scene order.
    pub fn diagonals(&self) -> Vec<f64> {
        self.solids
            .iter()
            .map(|solid| solid.bounds.diagonal())
            .collect()
    }

    /// Number of corners of all surfaces.
    pub fn corners(&self) -> usize {
        self.solids.iter().map(|solid| solid.positions.len()).sum()
    }

    /// How far a place lies off the body, m; `None` where it is on it, or no further off than a lug or an eye that a sketch
    /// leaves out, which is 5 % of the diagonal.
    pub fn distance_off(&self, place: &Place) -> Option<f64> {
        let distance = super::distance(&self.solids, &self.places.point(place)?);
        (distance > self.allowance()).then_some(distance)
    }

    /// How far the line through a place passes the hull of the body, m; `None` where it passes through, such as through the
    /// middle of a ring or between the legs of a ladder, and up to 5 % of the diagonal beyond it.
    pub fn line_off_hull(&self, place: &Place, along: &Unit<Vector3<f64>>) -> Option<f64> {
        // Most loads act on the body itself, which is found out at once.
        self.distance_off(place)?;
        let beyond = self.beyond_hull(&self.places.point(place)?, along);
        (beyond > self.allowance()).then_some(beyond)
    }

    /// A distance by which a line passes the convex hull of all shapes at least, within a hundredth; not above 0 where it
    /// passes through.
    ///
    /// Source: Gilbert, *An iterative procedure for computing the minimum of a quadratic form on a convex set*, 1966: the
    /// nearest point found so far moves towards the corner that lies furthest in the direction of the line, whose plane
    /// bounds the distance from below. All of it square to the line.
    fn beyond_hull(&self, point: &Point3<f64>, along: &Vector3<f64>) -> f64 {
        let corners = || self.solids.iter().flat_map(|solid| &solid.positions);
        let square_to = |vector: Vector3<f64>| vector - along * along.dot(&vector);
        let mut nearest = self.solids[0].positions[0];
        let mut beyond = f64::NEG_INFINITY;
        for _ in 0..MOST_STEPS {
            let way = square_to(point - nearest);
            let length = way.norm();
            let reach = |corner: &&Point3<f64>| way.dot(&corner.coords);
            let Some(corner) = corners().max_by(|a, b| reach(a).total_cmp(&reach(b))) else {
                break;
            };
            if length <= 0.0 {
                return 0.0;
            }
            beyond = beyond.max(way.dot(&(point - corner)) / length);
            let side = square_to(corner - nearest);
            let square = side.norm_squared();
            if beyond >= 0.99 * length || square <= 0.0 {
                break;
            }
            nearest += (corner - nearest) * (way.dot(&side) / square).clamp(0.0, 1.0);
        }
        beyond
    }

    /// For each shape, the later shapes that it touches, or as good as touches.
    pub fn neighbours(&self) -> Vec<Vec<usize>> {
        let count = self.solids.len();
        let of = |one: usize| {
            (one + 1..count)
                .filter(|&other| self.reach(one, other))
                .collect()
        };
        (0..count).map(of).collect()
    }

    /// For each shape, the number of the group that it belongs to: shapes of one group touch each other, perhaps through
    /// others. Groups are counted in the order of their first shapes.
    pub fn groups(&self, neighbours: &[Vec<usize>]) -> Vec<usize> {
        groups(neighbours, |_, _| true)
    }

    /// Shortest way between two groups and all others, m.
    pub fn gap(&self, groups: &[usize], group: usize) -> f64 {
        let mut gap = f64::INFINITY;
        for one in (0..groups.len()).filter(|&one| groups[one] == group) {
            for other in (0..groups.len()).filter(|&other| groups[other] != group) {
                gap = gap.min(self.separation(one, other, gap, 0.0));
            }
        }
        gap
    }

    /// As [`Surfaces::groups`], but cut at a place: shapes that meet there alone do not reach each other. Empty where fewer
    /// than two groups meet at the place.
    pub fn groups_cut_at(&self, place: &Place, neighbours: &[Vec<usize>]) -> Vec<usize> {
        let Some(point) = self.places.point(place) else {
            return Vec::new();
        };
        let is_there = |shape: usize| {
            let own = JOINT / 10.0 * self.solids[shape].bounds.diagonal();
            super::distance(&self.solids[shape..=shape], &point) <= own
        };
        let there: Vec<bool> = (0..self.solids.len()).map(is_there).collect();
        if there.iter().filter(|there| **there).count() < 2 {
            return Vec::new();
        }
        let groups = groups(neighbours, |one, other| {
            !(there[one] && there[other] && self.meet_only_at(one, other, &point))
        });
        let mut met: Vec<usize> = (0..groups.len())
            .filter(|&i| there[i])
            .map(|i| groups[i])
            .collect();
        met.sort_unstable();
        met.dedup();
        if met.len() < 2 { Vec::new() } else { groups }
    }

    /// The group of the shape that is nearest to a place.
    pub fn nearest_group(&self, place: &Place, groups: &[usize]) -> Option<usize> {
        let point = self.places.point(place)?;
        let off = |i: &usize| super::distance(&self.solids[*i..=*i], &point);
        let shapes = 0..self.solids.len();
        shapes
            .min_by(|a, b| off(a).total_cmp(&off(b)))
            .map(|i| groups[i])
    }

    /// Axes of the shafts and discs within which a place lies; unit vectors.
    pub fn shafts_at(&self, place: &Place) -> Vec<Unit<Vector3<f64>>> {
        let Some(point) = self.places.point(place) else {
            return Vec::new();
        };
        let around = self.shafts.iter().filter(|shaft| shaft.contains(&point));
        around
            .map(|shaft| Unit::new_unchecked(shaft.axis))
            .collect()
    }

    /// Whether two shapes touch, or as good as touch.
    fn reach(&self, one: usize, other: usize) -> bool {
        let limit = self.allowance() * (1.0 + f64::EPSILON);
        self.separation(one, other, limit, self.allowance()) < limit
    }

    /// The smaller of `nearest` and the distance between two shapes; any distance up to `enough` will do. Of convex shapes
    /// within a hundredth.
    fn separation(&self, one: usize, other: usize, nearest: f64, enough: f64) -> f64 {
        let solids = (&self.solids[one], &self.solids[other]);
        if solids.0.bounds.distance_to(&solids.1.bounds) >= nearest {
            return nearest;
        }
        let gap = hull::gap(&solids.0.positions, &solids.1.positions, enough, nearest);
        match self.convex[one] && self.convex[other] {
            _ if gap.at_least >= nearest => nearest,
            true => gap.at_most.min(nearest),
            false => separation(solids.0, solids.1, nearest, enough),
        }
    }

    /// Whether two shapes that both reach a point meet nowhere else.
    fn meet_only_at(&self, one: usize, other: usize, point: &Point3<f64>) -> bool {
        let (one, other) = (&self.solids[one], &self.solids[other]);
        let smaller = one.bounds.diagonal().min(other.bounds.diagonal());
        let away = |solid: &Solid, from: &Solid| {
            let far = solid
                .positions
                .iter()
                .filter(|at| (*at - point).norm() > JOINT * smaller);
            far.fold(f64::INFINITY, |nearest: f64, at| {
                nearest.min(super::distance(std::slice::from_ref(from), at))
            })
        };
        away(one, other).min(away(other, one)) > JOINT / 10.0 * smaller
    }
}

/// Whether a shape is its own convex hull, as far as that is plain to see.
fn is_convex(shape: &Shape) -> bool {
    match shape {
        Shape::Shaft(_) | Shape::Block(_) => true,
        Shape::BentBar(bar) => bar.path.len() == 2,
        Shape::Disc(disc) => disc.bore == 0.0 && disc.groove == 0.0,
        Shape::Plate(plate) => plate.corners.len() == 3 && plate.holes.is_empty(),
        Shape::Bracket(_) => false,
    }
}

/// Numbers of the groups that neighbours make, of which some may not count.
fn groups(neighbours: &[Vec<usize>], counts: impl Fn(usize, usize) -> bool) -> Vec<usize> {
    // Each shape takes the number of the first shape that it is found to be joined to.
    let mut first: Vec<usize> = (0..neighbours.len()).collect();
    for (one, later) in neighbours.iter().enumerate() {
        for &other in later.iter().filter(|&&other| counts(one, other)) {
            let (kept, gone) = (first[one].min(first[other]), first[one].max(first[other]));
            first
                .iter_mut()
                .filter(|number| **number == gone)
                .for_each(|number| *number = kept);
        }
    }
    let mut numbers = first.clone();
    numbers.sort_unstable();
    numbers.dedup();
    let number = |first: &usize| numbers.partition_point(|known| known < first);
    first.iter().map(number).collect()
}

/// The smaller of `nearest` and the distance between two solids, 0 where one is within the other; any distance up to
/// `enough` will do.
fn separation(one: &Solid, other: &Solid, nearest: f64, enough: f64) -> f64 {
    if encloses(one, &other.positions[0]) || encloses(other, &one.positions[0]) {
        return 0.0;
    }
    let mut nearest = nearest;
    for (run, bounds) in one.triangles.chunks(CLUSTER).zip(&one.clusters) {
        if bounds.distance_to(&other.bounds) >= nearest {
            continue;
        }
        for &triangle in run {
            nearest = triangle_to_solid(one.corners(triangle), other, nearest);
            if nearest <= enough {
                return nearest;
            }
        }
    }
    // Corners of the one over faces of the other are measured above; now the other way round.
    other.positions.iter().fold(nearest, |nearest, corner| {
        if one.bounds.distance(corner) >= nearest {
            return nearest;
        }
        surface_distance(one, corner, nearest)
    })
}

/// The smaller of `nearest` and the distance of a triangle's corners and sides from the faces and edges of a solid.
fn triangle_to_solid(corners: [Point3<f64>; 3], solid: &Solid, nearest: f64) -> f64 {
    let Some(box_around) = AlignedBox::of(&corners) else {
        return nearest;
    };
    let mut nearest = nearest;
    for (run, bounds) in solid.triangles.chunks(CLUSTER).zip(&solid.clusters) {
        if bounds.distance_to(&box_around) >= nearest {
            continue;
        }
        for &triangle in run {
            let [a, b, c] = solid.corners(triangle);
            for corner in &corners {
                let foot = nearest_on_triangle(corner, a, b, c);
                nearest = nearest.min((corner - foot).norm());
            }
            for one in sides(corners) {
                for other in sides([a, b, c]) {
                    nearest = nearest.min(between_segments(one, other));
                }
            }
        }
    }
    nearest
}

fn sides([a, b, c]: [Point3<f64>; 3]) -> [[Point3<f64>; 2]; 3] {
    [[a, b], [b, c], [c, a]]
}

/// Distance between two segments.
///
/// Source: Ericson, *Real-Time Collision Detection*, 2005, section 5.1.9.
fn between_segments([p, q]: [Point3<f64>; 2], [r, s]: [Point3<f64>; 2]) -> f64 {
    let (one, other, apart) = (q - p, s - r, p - r);
    let (a, e, f) = (one.norm_squared(), other.norm_squared(), other.dot(&apart));
    if a <= 0.0 || e <= 0.0 {
        return (p - r).norm();
    }
    let (b, c) = (one.dot(&other), one.dot(&apart));
    let crossing = a * e - b * b;
    let at = if crossing > 0.0 {
        ((b * f - c * e) / crossing).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let on_other = (b * at + f) / e;
    let (at, on_other) = match on_other {
        t if t < 0.0 => ((-c / a).clamp(0.0, 1.0), 0.0),
        t if t > 1.0 => (((b - c) / a).clamp(0.0, 1.0), 1.0),
        t => (at, t),
    };
    ((p + one * at) - (r + other * on_other)).norm()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;

    fn scene(body: &str) -> Scene {
        let text = format!("(format: 1, body: [{body}])");
        read_str("test", &text).unwrap().scene
    }

    fn groups(body: &str) -> Vec<usize> {
        let scene = scene(body);
        let surfaces = Surfaces::new(&scene).unwrap();
        surfaces.groups(&surfaces.neighbours())
    }

    fn at(x: f64, y: f64, z: f64) -> Place {
        crate::scene::solid::testing::spatial([x, y, z])
    }

    #[test]
    fn segments_are_as_far_apart_as_their_nearest_points() {
        let segment = |from: [f64; 3], to: [f64; 3]| [from, to].map(Point3::from);
        let along_x = segment([0.0, 0.0, 0.0], [1.0, 0.0, 0.0]);
        for (other, expected) in [
            (segment([0.5, -1.0, 2.0], [0.5, 1.0, 2.0]), 2.0),
            (segment([3.0, 0.0, 0.0], [4.0, 0.0, 0.0]), 2.0),
            (segment([0.0, 1.0, 0.0], [1.0, 1.0, 0.0]), 1.0),
            (segment([4.0, 4.0, 0.0], [4.0, 9.0, 0.0]), 5.0),
        ] {
            assert!((between_segments(along_x, other) - expected).abs() < 1e-12);
        }
    }

    #[test]
    fn shapes_that_cross_touch_or_hold_each_other_are_one_group() {
        let bars = "Shaft(from: (-1, 0, 0), to: (1, 0, 0), diameter: 0.1), Shaft(from: (0, -1, 0), to: (0, 1, 0), diameter: 0.1)";
        assert_eq!(groups(bars), [0, 0]);
        let within = "Block(centre: (0, 0, 0), size: (2, 2, 2)), Block(centre: (0, 0, 0), size: (0.1, 0.1, 0.1))";
        assert_eq!(groups(within), [0, 0]);
        let chain = "Block(centre: (0, 0, 0), size: (1, 1, 1)), Block(centre: (2, 0, 0), size: (1, 1, 1)), Block(centre: (1, 0, 0), size: (1, 1, 1))";
        assert_eq!(groups(chain), [0, 0, 0]);
    }

    #[test]
    fn shapes_apart_are_groups_with_a_gap() {
        let scene = scene(
            "Block(centre: (0, 0, 0), size: (1, 1, 1)), Block(centre: (4, 0, 0), size: (1, 1, 1)), Block(centre: (4, 0, 1), size: (1, 1, 1))",
        );
        let surfaces = Surfaces::new(&scene).unwrap();
        let groups = surfaces.groups(&surfaces.neighbours());
        assert_eq!(groups, [0, 1, 1]);
        assert!((surfaces.gap(&groups, 1) - 3.0).abs() < 1e-12);
    }

    #[test]
    fn lines_pass_through_the_middle_of_a_ring_or_beside_it() {
        let ring = scene(
            "Disc(centre: (0, 0, 0), axis: (0, 0, 1), diameter: 2, bore: 1.8, thickness: 0.1)",
        );
        let surfaces = Surfaces::new(&ring).unwrap();
        let off = |place: Place, along: Unit<Vector3<f64>>| surfaces.line_off_hull(&place, &along);
        assert_eq!(off(at(0.0, 0.0, 0.0), Vector3::z_axis()), None);
        assert_eq!(off(at(0.0, 0.0, 5.0), Vector3::z_axis()), None);
        assert_eq!(off(at(0.7, 0.7, 9.0), Vector3::z_axis()), None);
        let beside = off(at(3.0, 0.0, 7.0), Vector3::z_axis()).unwrap();
        assert!((beside - 2.0).abs() < 0.02, "{beside}");
        let above = off(at(0.0, 0.0, 0.55), Vector3::x_axis()).unwrap();
        assert!((above - 0.5).abs() < 0.005, "{above}");
    }

    #[test]
    fn a_body_is_cut_where_parts_meet_at_a_point_alone() {
        let arch = scene(
            "BentBar(path: [(0, 0, 0), (1, 0, 2)], diameter: 0.1), BentBar(path: [(1, 0, 2), (2, 0, 0)], diameter: 0.1)",
        );
        let surfaces = Surfaces::new(&arch).unwrap();
        assert_eq!(
            surfaces.groups_cut_at(&at(1.0, 0.0, 2.0), &surfaces.neighbours()),
            [0, 1]
        );
        assert_eq!(
            surfaces.groups_cut_at(&at(0.0, 0.0, 0.0), &surfaces.neighbours()),
            [0; 0]
        );
        // A gusset joins the halves beside the point.
        let stiff = scene(
            "BentBar(path: [(0, 0, 0), (1, 0, 2)], diameter: 0.1), BentBar(path: [(1, 0, 2), (2, 0, 0)], diameter: 0.1), BentBar(path: [(0.5, 0, 1), (1.5, 0, 1)], diameter: 0.1)",
        );
        let surfaces = Surfaces::new(&stiff).unwrap();
        assert_eq!(
            surfaces.groups_cut_at(&at(1.0, 0.0, 2.0), &surfaces.neighbours()),
            [0; 0]
        );
    }

    #[test]
    fn the_shafts_at_a_place_are_known_by_their_axes() {
        let scene = scene(
            "Shaft(from: (0, 0, 0), to: (0, 2, 0), diameter: 0.1), BentBar(path: [(0, 2, 0), (1, 2, 0)], diameter: 0.1)",
        );
        let surfaces = Surfaces::new(&scene).unwrap();
        let axes = surfaces.shafts_at(&at(0.0, 1.0, 0.0));
        assert!(axes.len() == 1 && axes[0].y.abs() > 0.999);
        assert!(surfaces.shafts_at(&at(1.0, 2.0, 0.0)).is_empty());
    }
}
