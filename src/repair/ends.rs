//! Where links may go: out of the body, past the other supports, to ground ends at round coordinates or on walls.

use nalgebra::{Point3, Unit, Vector3};

use super::eye_places::{EyePlace, EyePlaces, TENS};
use super::walls::Walls;
use crate::scene::solid::{self, Solid};
use crate::scene::{Scene, Space};
use crate::statics::Model;

/// Length of an added link, relative to the body's size; to a wall it is as long as it has to be.
const LINK_LENGTH: f64 = 0.3;
/// Other lengths to try where that one is in the way or its end is not round.
const OTHER_LENGTHS: [f64; 3] = [0.2, 0.4, 0.1];
/// Room between a link and the other supports, and between its ground end and the body, relative to the body's size.
const ROOM: f64 = 0.01;
/// How deep in the body's material an eye may lie, relative to its size: on the axis of a bar, or a rounded coordinate below
/// a face.
const DEEPEST: f64 = 0.05;
/// An eye this far from a surface, relative to the body's size, lies on it.
const ON: f64 = 1e-9;
/// An end this far from a wall, relative to the body's size, lies on it: written coordinates are rounded.
const ON_WALL: f64 = 1e-6;
/// A link to a wall is at least this long, relative to the body's size.
const SHORTEST: f64 = 0.05;
/// A direction to send a link along, either way.
#[derive(Debug, Clone, Copy)]
pub(super) enum LinkWay {
    /// In small whole numbers.
    Plain([i64; 3]),
    /// Any.
    Free(Vector3<f64>),
}

impl LinkWay {
    pub(super) fn unit(&self) -> Vector3<f64> {
        match self {
            Self::Plain(whole) => Vector3::from(whole.map(|x| x as f64)).normalize(),
            Self::Free(unit) => *unit,
        }
    }
}

/// What is in the way of links, and where they may end.
pub(super) struct Ends<'a> {
    spots: &'a EyePlaces,
    /// Other supports: a point, or both ends of a link or cable, m.
    others: Vec<[Point3<f64>; 2]>,
    walls: Walls,
    metres: f64,
    space: Space,
}

impl<'a> Ends<'a> {
    pub(super) fn new(scene: &Scene, model: &Model, spots: &'a EyePlaces) -> Self {
        let supports = model.supports.iter();
        Self {
            spots,
            others: supports
                .map(|support| [support.point, support.ground.unwrap_or(support.point)])
                .collect(),
            walls: Walls::of(scene),
            metres: scene.units.length.in_metres(),
            space: scene.space,
        }
    }

    fn size(&self) -> f64 {
        self.spots.size * self.metres
    }

    /// Ground ends for a link from a spot, in the scene's length unit, the better first; not all of them are clear.
    pub(super) fn of<'s>(
        &'s self,
        spot: &'s EyePlace,
        way: &'s LinkWay,
    ) -> Box<dyn Iterator<Item = [f64; 3]> + 's> {
        if !self.walls.is_empty() {
            let both = [1.0, -1.0].into_iter();
            return Box::new(both.flat_map(|sense| self.on_walls(spot, &(way.unit() * sense))));
        }
        let lengths = std::iter::once(LINK_LENGTH).chain(OTHER_LENGTHS);
        Box::new(lengths.flat_map(|length| {
            let mut both = [1.0, -1.0].map(|sense| self.at_length(spot, way, sense * length));
            both.sort_by_cached_key(|end| self.rank(spot, end));
            both
        }))
    }

    /// An end at about a length, relative to the body's size.
    fn at_length(&self, spot: &EyePlace, way: &LinkWay, length: f64) -> [f64; 3] {
        let grid = self.spots.grid;
        let step = grid.step();
        match way {
            LinkWay::Plain(whole) => {
                let along = whole.map(|x| x as f64);
                let reach = step * Vector3::from(along).norm();
                let steps = (length * self.spots.size / reach).round();
                // Round numbers of steps keep round coordinates round.
                let steps = match steps.abs() >= TENS {
                    true => (steps / TENS).round() * TENS,
                    false => steps.abs().max(1.0).copysign(length),
                };
                std::array::from_fn(|i| grid.cleaned(spot.written[i] + steps * along[i] * step))
            }
            LinkWay::Free(unit) => {
                let end = Vector3::from(spot.written) + unit * (length * self.spots.size);
                std::array::from_fn(|i| grid.rounded(end[i]))
            }
        }
    }

    /// Ends where a link first meets a wall: at the roundest coordinates there that lie on it.
    fn on_walls(&self, spot: &EyePlace, unit: &Vector3<f64>) -> Vec<[f64; 3]> {
        let Some((wall, hit)) = self
            .walls
            .first_hit(&spot.point, unit, SHORTEST * self.size())
        else {
            return Vec::new();
        };
        let written = (hit / self.metres).coords;
        let grid = self.spots.grid;
        let tens = written.map(|x| grid.rounded_to(x, TENS));
        let near = written.map(|x| grid.rounded(x));
        let fine = written.map(|x| grid.cleaned(x));
        // In a wall across an axis the other coordinates can be rounded.
        let on_it = |end: &[f64; 3]| {
            let end = Point3::from(*end) * self.metres;
            self.walls.has(wall, &end, ON_WALL * self.size())
        };
        let within = |rounded: Vector3<f64>| {
            let flat = self.walls.level_axis(wall);
            std::array::from_fn(|i| if flat == Some(i) { fine[i] } else { rounded[i] })
        };
        let mut ends = vec![within(tens), within(near), fine.into()];
        ends.retain(on_it);
        ends
    }

    /// Small for an end that leads away from the body; downwards where both sides do.
    fn rank(&self, spot: &EyePlace, end: &[f64; 3]) -> (i64, i64) {
        let end = Point3::from(*end) * self.metres;
        let away: f64 = (1..=4)
            .map(|part| {
                let point = spot.point + (end - spot.point) * (f64::from(part) / 4.0);
                solid::distance(&self.spots.solids, &point)
            })
            .sum();
        let upright = match self.space {
            Space::Planar => 1,
            Space::Spatial => 2,
        };
        // A sense that leads away as well to within the length of a link is judged by what is below.
        let lengths = (away / (LINK_LENGTH * self.size())).round() as i64;
        let up = (end - spot.point)[upright] / self.spots.grid.step() / self.metres;
        (-lengths, up.round() as i64)
    }

    /// Whether a link from a spot to an end passes neither through the body nor past another support too closely.
    ///
    /// It may touch where it is fastened.
    pub(super) fn are_clear(&self, spot: &EyePlace, end: &[f64; 3]) -> bool {
        let end = Point3::from(*end) * self.metres;
        self.clear_of_supports(&spot.point, &end)
            && self.clear_of_body(&spot.point, spot.name.is_some(), &end)
            && self
                .walls
                .are_clear(&spot.point, &end, ON_WALL * self.size())
    }

    /// Whether any link from a point along a direction, either way, would be clear.
    pub(super) fn can_leave(&self, from: &Point3<f64>, unit: &Vector3<f64>) -> bool {
        let written = (from / self.metres).coords.into();
        let spot = EyePlace {
            point: *from,
            written,
            name: None,
            oddness: 0,
        };
        if !self.walls.is_empty() {
            return self
                .of(&spot, &LinkWay::Free(*unit))
                .any(|end| self.are_clear(&spot, &end));
        }
        let reach = unit * (LINK_LENGTH * self.spots.size);
        [reach, -reach].iter().any(|reach| {
            let end = (Vector3::from(written) + reach).into();
            self.are_clear(&spot, &end)
        })
    }

    fn clear_of_body(&self, eye: &Point3<f64>, is_named: bool, end: &Point3<f64>) -> bool {
        let length = (end - eye).norm();
        let deepest = if is_named {
            length
        } else {
            DEEPEST * self.size()
        };
        self.spots
            .solids
            .iter()
            .all(|solid| self.leaves(solid, eye, end, deepest / length))
    }

    /// Whether a way leaves a solid at once where it starts within it, never enters it, and ends with room beside it.
    fn leaves(&self, solid: &Solid, eye: &Point3<f64>, end: &Point3<f64>, within: f64) -> bool {
        if !solid::is_clear(solid, end, ROOM * self.size()) {
            return false;
        }
        let on = ON * self.size();
        let start = on / (end - eye).norm();
        let mut crossings = solid::crossings(solid, eye, end);
        crossings.retain(|part| *part > start);
        match crossings.as_slice() {
            [] => true,
            [only] => *only <= within && solid::is_within(solid, eye, on),
            _ => false,
        }
    }

    fn clear_of_supports(&self, eye: &Point3<f64>, end: &Point3<f64>) -> bool {
        let room = ROOM * self.size();
        // What is near where the link is fastened may touch it there.
        let length = (end - eye).norm();
        let start = eye + (end - eye) * (2.0 * room / length).min(1.0);
        self.others
            .iter()
            .all(|[a, b]| between(&[start, *end], &[*a, *b]) >= room)
    }
}

/// Least distance between two straight pieces.
///
/// # Source
/// Ericson, *Real-Time Collision Detection*, 2005, section 5.1.9.
fn between(one: &[Point3<f64>; 2], other: &[Point3<f64>; 2]) -> f64 {
    let (d1, d2, r) = (one[1] - one[0], other[1] - other[0], one[0] - other[0]);
    let (a, e, f) = (d1.norm_squared(), d2.norm_squared(), d2.dot(&r));
    let at = |s: f64, t: f64| (one[0] + d1 * s - (other[0] + d2 * t)).norm();
    let part = |x: f64, of: f64| {
        if of > 0.0 {
            (x / of).clamp(0.0, 1.0)
        } else {
            0.0
        }
    };
    let (b, c) = (d1.dot(&d2), d1.dot(&r));
    let s = part(b * f - c * e, a * e - b * b);
    // The nearest point of the other to that of one, and back again.
    let t = part(b * s + f, e);
    at(part(b * t - c, a), t)
}

/// A direction turned by a small step across itself.
pub(super) fn turned(unit: &Vector3<f64>, by: &Vector3<f64>) -> Vector3<f64> {
    Unit::new_normalize(unit + by).into_inner()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;

    /// A way without any crossing was taken for one outside the body, also where it ran along inside a bar.
    #[test]
    fn a_link_does_not_end_inside_the_body_that_it_starts_in() {
        let text = r#"(format: 1, body: [BentBar(path: [(0, 0, 0), (4, 0, 0)], diameter: 0.3)],
            supports: [BallJoint(name: "A", at: (4, 0, 0))])"#;
        let scene = read_str("test", text).unwrap().scene;
        let spots = EyePlaces::of(&scene, 0).unwrap();
        let ends = Ends::new(&scene, &Model::new(&scene).unwrap(), &spots);
        let middle = EyePlace {
            point: Point3::new(2.0, 0.0, 0.0),
            written: [2.0, 0.0, 0.0],
            name: Some("M".into()),
            oddness: 0,
        };
        for (end, is_clear) in [
            ([1.0, 0.05, 0.0], false),
            // It leaves the bar, but ends close to it.
            ([1.0, 0.16, 0.0], false),
            ([1.0, 0.3, 0.0], true),
        ] {
            assert_eq!(ends.are_clear(&middle, &end), is_clear, "{end:?}");
        }
    }

    /// A link to a tray had its ground end on the tray itself.
    #[test]
    fn a_link_does_not_end_on_the_face_that_it_runs_along() {
        let text = r#"(format: 1, body: [Block(centre: (0, 0, -0.1), size: (2, 2, 0.2))],
            supports: [BallJoint(name: "A", at: (-1, -1, 0))])"#;
        let scene = read_str("test", text).unwrap().scene;
        let spots = EyePlaces::of(&scene, 0).unwrap();
        let ends = Ends::new(&scene, &Model::new(&scene).unwrap(), &spots);
        let eye = ends.spots.spot([0.8, 0.0, 0.0]);
        for (end, is_clear) in [([0.5, 0.0, 0.0], false), ([1.6, 0.0, 0.1], true)] {
            assert_eq!(ends.are_clear(&eye, &end), is_clear, "{end:?}");
        }
    }

    #[test]
    fn distances_between_pieces() {
        let p = |x: f64, y: f64, z: f64| Point3::new(x, y, z);
        let one = [p(0.0, 0.0, 0.0), p(2.0, 0.0, 0.0)];
        for (other, expected) in [
            ([p(1.0, 1.0, -1.0), p(1.0, 1.0, 1.0)], 1.0),
            ([p(3.0, 0.0, 0.0), p(5.0, 0.0, 0.0)], 1.0),
            ([p(1.0, 0.5, 0.0), p(1.0, 0.5, 0.0)], 0.5),
            ([p(-3.0, -4.0, 0.0), p(-3.0, -9.0, 0.0)], 5.0),
            ([p(1.0, -1.0, 0.0), p(1.0, 1.0, 0.0)], 0.0),
            ([p(0.0, 2.0, 0.0), p(2.0, 2.0, 0.0)], 2.0),
        ] {
            let found = between(&one, &other);
            assert!((found - expected).abs() < 1e-12, "{found} {expected}");
            let back = between(&other, &one);
            assert!((back - expected).abs() < 1e-12, "{back} {expected}");
        }
    }
}
