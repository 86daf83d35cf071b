//! What a dragged place comes to rest at: points, ends, corners, middles, edges, or the grid.

use super::decimal::tidy;
use super::place::{Handle, SceneItem};
use crate::scene::{Coordinates, Place, Scene, Shape};

/// What a place has come to rest at.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Rest {
    /// A named point, to which the place is tied.
    Point,
    /// An end of a bar or shaft, a bend, a corner, a centre.
    Corner,
    /// The middle between two of these.
    Middle,
    /// Somewhere on the straight line between two of these.
    Edge,
    /// Along an axis of the scene, by index, from the other end of the link or cable whose ground end this is.
    Along(usize),
    /// Whole steps of the grid, in the scene's length unit.
    Grid(f64),
    /// Nothing: where it was let go.
    Free,
}

/// A place at rest.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaceAtRest {
    /// As the scene writes it.
    pub place: Place,
    /// From the scene's datum, in its length unit.
    pub position: [f64; 3],
    /// What it has come to rest at.
    pub rest: Rest,
}

/// How far off what draws a place to itself may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// The largest distance, in the scene's length unit.
    pub length: f64,
    /// The line of sight, unit: what lies before or behind a place is seen at it, so that distance counts less. Zero in
    /// none.
    pub sight: [f64; 3],
}

/// How much of a distance along the line of sight counts: the end of a bar's axis is behind the surface that is pointed at.
const DEPTH: f64 = 0.25;

impl Reach {
    /// The distance that counts between two positions.
    fn apart(&self, a: &[f64; 3], b: &[f64; 3]) -> f64 {
        let way: [f64; 3] = std::array::from_fn(|i| a[i] - b[i]);
        let along: f64 = (0..3).map(|i| way[i] * self.sight[i]).sum();
        let across = (0..3).map(|i| (way[i] - along * self.sight[i]).powi(2));
        (across.sum::<f64>() + (DEPTH * along).powi(2)).sqrt()
    }
}

/// Everything in a scene that a dragged place can come to rest at.
#[derive(Debug, Clone, Default)]
pub struct RestingPlaces {
    points: Vec<(String, [f64; 3])>,
    corners: Vec<[f64; 3]>,
    edges: Vec<[[f64; 3]; 2]>,
    /// The other end of a link or cable whose ground end is dragged.
    eye: Option<[f64; 3]>,
}

impl RestingPlaces {
    /// Those of a scene, but for what moves along with the handle.
    pub fn of(scene: &Scene, moving: Handle) -> Self {
        let moving_point = match (moving, moving.place(scene)) {
            (Handle::Point(index), _) => scene.points.get(index).map(|point| point.name.clone()),
            (_, Some(Place::Named(name))) => Some(name.clone()),
            _ => None,
        };
        let stays = |place: &Place| {
            moving_point
                .as_ref()
                .is_none_or(|name| *place != Place::Named(name.clone()))
        };
        let points = scene
            .points
            .iter()
            .filter(|point| Some(&point.name) != moving_point.as_ref());
        let mut rests = Self {
            points: points
                .map(|point| (point.name.clone(), point.at.components()))
                .collect(),
            eye: match moving {
                Handle::Ground(index) => Handle::Support(index).position(scene),
                _ => None,
            },
            ..Self::default()
        };
        for (index, shape) in scene.body.iter().enumerate() {
            let moves = moving.thing() == SceneItem::Shape(index);
            let places: Vec<&Place> = shape
                .places()
                .into_iter()
                .filter(|place| stays(place))
                .collect();
            let known = places.len() == shape.places().len() && !moves;
            let positions: Vec<[f64; 3]> = places
                .iter()
                .filter_map(|place| scene.position(place))
                .collect();
            if known {
                rests.edges.extend(edges(shape, &positions));
                rests.corners.extend(positions);
            }
        }
        rests
    }

    /// Those of them in the plane where a coordinate has one value.
    #[must_use]
    pub fn in_plane(mut self, axis: usize, value: f64) -> Self {
        let is_in = |at: &[f64; 3]| at[axis] == value;
        self.points.retain(|(_, at)| is_in(at));
        self.corners.retain(is_in);
        self.edges.retain(|ends| ends.iter().all(is_in));
        self.eye = self.eye.filter(is_in);
        self
    }

    /// Where a place comes to rest that is held at a position: the nearest of the first sort that is within reach, in the order of
    /// [`Rest`]; then whole steps of the grid. All in the scene's length unit.
    pub fn near(&self, scene: &Scene, position: [f64; 3], reach: &Reach, step: f64) -> PlaceAtRest {
        let named = nearest(self.points.iter().map(|(_, at)| *at), position, reach);
        if let Some(at) = named {
            let name = self
                .points
                .iter()
                .find(|(_, other)| *other == at)
                .map(|(name, _)| name.clone());
            return PlaceAtRest {
                place: name.map_or_else(|| written(scene, at), Place::Named),
                position: at,
                rest: Rest::Point,
            };
        }
        let middles = self
            .edges
            .iter()
            .map(|[a, b]| std::array::from_fn(|i| tidy(f64::midpoint(a[i], b[i]))));
        let on_edges = self.edges.iter().map(|edge| on_edge(*edge, position, step));
        let along = || {
            let ends = (0..scene.space.axes()).filter_map(|axis| self.along(axis, position, step));
            let apart = |at: &[f64; 3]| reach.apart(at, &position);
            ends.filter(|(at, _)| apart(at) <= reach.length)
                .min_by(|(a, _), (b, _)| apart(a).total_cmp(&apart(b)))
        };
        let found = nearest(self.corners.iter().copied(), position, reach)
            .map(|at| (at, Rest::Corner))
            .or_else(|| nearest(middles, position, reach).map(|at| (at, Rest::Middle)))
            .or_else(|| nearest(on_edges, position, reach).map(|at| (at, Rest::Edge)))
            .or_else(along);
        let (at, rest) =
            found.unwrap_or_else(|| (position.map(|x| on_grid(x, step)), Rest::Grid(step)));
        PlaceAtRest {
            place: written(scene, at),
            position: at,
            rest,
        }
    }

    /// The ground end that is along an axis from the other end, whole steps of the grid from the datum.
    fn along(&self, axis: usize, position: [f64; 3], step: f64) -> Option<([f64; 3], Rest)> {
        let eye = self.eye?;
        let mut at = eye;
        at[axis] = on_grid(position[axis], step);
        // A rod has a length.
        (at != eye).then_some((at, Rest::Along(axis)))
    }
}

/// A place that nothing holds, in decimals that the eye can tell apart: a hundredth of a step of the grid.
pub fn free(scene: &Scene, position: [f64; 3], step: f64) -> PlaceAtRest {
    let at = position.map(|x| on_grid(x, step / 100.0));
    PlaceAtRest {
        place: written(scene, at),
        position: at,
        rest: Rest::Free,
    }
}

/// A place at whole steps of the grid.
pub fn fixed(scene: &Scene, position: [f64; 3], step: f64) -> PlaceAtRest {
    at(scene, position, Rest::Grid(step))
}

/// A place at this position, which is tied to no point.
pub fn at(scene: &Scene, position: [f64; 3], rest: Rest) -> PlaceAtRest {
    PlaceAtRest {
        place: written(scene, position),
        position,
        rest,
    }
}

/// A step of the grid that can be told apart when so long a length is a hand's breadth on screen: a fortieth of it or less, as 1,
/// 2 or 5 times a power of ten.
pub fn grid_step(length: f64) -> f64 {
    let finest = length / 40.0;
    if !(finest.is_finite() && finest > 0.0) {
        return 1.0;
    }
    let power = finest.log10().floor() as i32;
    let steps = [(5, power), (2, power), (1, power)];
    let fits = |(digit, power): &(i32, i32)| {
        f64::from(*digit) * 10_f64.powi(*power) <= finest * (1.0 + 1e-9)
    };
    let (digit, power) = steps.into_iter().find(fits).unwrap_or((1, power));
    // Read as a decimal, so that a tenth is a tenth.
    format!("{digit}e{power}").parse().unwrap_or(1.0)
}

/// The nearest of some positions within reach.
fn nearest(from: impl Iterator<Item = [f64; 3]>, to: [f64; 3], reach: &Reach) -> Option<[f64; 3]> {
    let within = from
        .map(|at| (reach.apart(&at, &to), at))
        .filter(|(apart, _)| *apart <= reach.length);
    within.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, at)| at)
}

/// The point of an edge nearest to a position, whole steps of the grid from its first end.
fn on_edge([a, b]: [[f64; 3]; 2], position: [f64; 3], step: f64) -> [f64; 3] {
    let way: [f64; 3] = std::array::from_fn(|i| b[i] - a[i]);
    let length = way.iter().map(|x| x * x).sum::<f64>().sqrt();
    if length == 0.0 {
        return a;
    }
    let along = (0..3).map(|i| (position[i] - a[i]) * way[i]).sum::<f64>() / length;
    let along = on_grid(along, step).clamp(0.0, length);
    std::array::from_fn(|i| tidy(a[i] + way[i] * along / length))
}

/// The nearest multiple of a step, as the decimal that it is.
pub fn on_grid(x: f64, step: f64) -> f64 {
    tidy((x / step).round() * step)
}

fn written(scene: &Scene, at: [f64; 3]) -> Place {
    Place::At(Coordinates::new(scene.space, at))
}

/// The straight lines that bound a shape, or run through its middle, as far as its places say them.
fn edges(shape: &Shape, positions: &[[f64; 3]]) -> Vec<[[f64; 3]; 2]> {
    let in_order = positions.windows(2).map(|pair| [pair[0], pair[1]]);
    match (shape, positions) {
        (Shape::BentBar(_) | Shape::Shaft(_), _) => in_order.collect(),
        (Shape::Plate(_), [first, .., last]) => in_order.chain([[*last, *first]]).collect(),
        (Shape::Bracket(_), [corner, one, other]) => vec![[*corner, *one], [*corner, *other]],
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;

    fn boom() -> Scene {
        let text = r#"(format: 1, points: {"B": (1.5, 0, 0)},
            body: [BentBar(path: [(0, 0, 0), "B"], diameter: 0.05), Shaft(from: (0, 1, 0), to: (1, 1, 0), diameter: 0.1)],
            supports: [BallJoint(name: "A", at: (0, 0, 0)), BallJoint(name: "C", at: "B")])"#;
        read_str("boom", text).unwrap().scene
    }

    fn all_round(length: f64) -> Reach {
        Reach {
            length,
            sight: [0.0; 3],
        }
    }

    /// Whoever pointed at the end of a bar hit its surface, and got a place beside the axis.
    #[test]
    fn the_surface_before_an_end_is_at_that_end() {
        let scene = boom();
        let rests = RestingPlaces::of(&scene, Handle::Point(usize::MAX));
        let before = [0.01, -0.1, 0.0];
        let along_y = Reach {
            length: 0.06,
            sight: [0.0, 1.0, 0.0],
        };
        let seen = rests.near(&scene, before, &along_y, 0.05);
        assert_eq!((seen.position, seen.rest), ([0.0; 3], Rest::Corner));
        let unseen = rests.near(&scene, before, &all_round(0.06), 0.05);
        assert_eq!(unseen.rest, Rest::Grid(0.05));
    }

    fn rest(position: [f64; 3]) -> PlaceAtRest {
        let scene = boom();
        RestingPlaces::of(&scene, Handle::Support(0)).near(&scene, position, &all_round(0.06), 0.05)
    }

    #[test]
    fn points_come_before_corners_corners_before_middles_middles_before_edges() {
        let point = rest([1.46, 0.03, 0.0]);
        assert_eq!(
            (point.place, point.rest),
            (Place::Named("B".to_owned()), Rest::Point)
        );
        assert_eq!(rest([0.02, 1.0, 0.05]).rest, Rest::Corner);
        let middle = rest([0.77, 0.0, 0.01]);
        assert_eq!(
            (middle.position, middle.rest),
            ([0.75, 0.0, 0.0], Rest::Middle)
        );
        let edge = rest([0.31, 0.02, 0.01]);
        assert_eq!((edge.position, edge.rest), ([0.3, 0.0, 0.0], Rest::Edge));
        let grid = rest([0.31, 0.42, -0.001]);
        assert_eq!(
            (grid.position, grid.rest),
            ([0.3, 0.4, 0.0], Rest::Grid(0.05))
        );
    }

    #[test]
    fn nothing_comes_to_rest_at_what_moves_with_it() {
        let scene = boom();
        let moving = Handle::Support(1);
        let rests = RestingPlaces::of(&scene, moving);
        // Support C is tied to B, and the bar ends there.
        assert_eq!(
            rests
                .near(&scene, [1.49, 0.0, 0.0], &all_round(0.06), 0.1)
                .rest,
            Rest::Grid(0.1)
        );
        assert_eq!(
            rests
                .near(&scene, [0.99, 1.0, 0.0], &all_round(0.06), 0.1)
                .rest,
            Rest::Corner
        );
    }

    #[test]
    fn the_rod_of_a_link_comes_to_rest_along_the_axes() {
        let text = r#"(format: 1, body: [Block(centre: (0, 0, 2), size: (1, 1, 1))],
            supports: [Link(name: "L", at: (0.013, 0, 1.5), ground: (0, 0, 0))])"#;
        let scene = read_str("block", text).unwrap().scene;
        let rests = RestingPlaces::of(&scene, Handle::Ground(0));
        let at = |position| {
            let at = rests.near(&scene, position, &all_round(0.06), 0.05);
            (at.position, at.rest)
        };
        let down = ([0.013, 0.0, 0.4], Rest::Along(2));
        assert_eq!(at([0.03, 0.02, 0.41]), down);
        let aside = ([0.8, 0.0, 1.5], Rest::Along(0));
        assert_eq!(at([0.81, 0.01, 1.49]), aside);
        assert_eq!(at([0.3, 0.3, 0.41]).1, Rest::Grid(0.05));
    }

    #[test]
    fn in_a_plane_nothing_draws_a_place_out_of_it() {
        let scene = boom();
        let rests = RestingPlaces::of(&scene, Handle::Support(0));
        let at = |rests: &RestingPlaces| {
            rests
                .near(&scene, [0.02, 1.0, 0.0], &all_round(0.06), 0.05)
                .rest
        };
        assert_eq!(at(&rests.clone().in_plane(1, 1.0)), Rest::Corner);
        assert_eq!(at(&rests.in_plane(1, 0.0)), Rest::Grid(0.05));
    }

    #[test]
    fn steps_of_the_grid_are_round() {
        for (length, step) in [
            (1.0, 0.02),
            (2.0, 0.05),
            (4.0, 0.1),
            (0.8, 0.02),
            (4000.0, 100.0),
            (0.0, 1.0),
        ] {
            assert_eq!(grid_step(length), step, "{length}");
        }
        assert_eq!(
            free(&boom(), [0.123_456_7, 0.0, -1e-9], 0.1).position,
            [0.123, 0.0, 0.0]
        );
    }
}
