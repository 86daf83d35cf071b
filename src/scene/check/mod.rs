//! Checks on a decoded scene: names and geometry. One check is one [`Flaw`], one function and two tests.
//!
//! Too few or badly placed supports are no flaws: they are what the program is asked about.

mod allowable;
mod anchor_plate;
mod combinations;
mod flaw;
mod imposed;
mod lesson;
mod loads;
mod material;
mod names;
mod polygon;
mod shapes;
mod sizes;
mod supports;
mod traps;

pub(crate) use flaw::Flaw;
use flaw::{MOST_PATH_POINTS, MOST_SHAPES};

use std::collections::HashMap;

use nalgebra::Vector3;

use super::decode::Findings;
use super::source_offsets::{ItemPlaces, SourceOffsets};
use super::{Direction, Place, Scene, Space};

/// Sine of the angle under which two directions count as parallel: beyond what rounded decimals can mean.
const PARALLEL_SINE: f64 = 1e-9;

/// Share of a plate's size that a point may lie off its plane: coordinates are often rounded to three figures.
const FLATNESS: f64 = 1e-3;

/// Looks for everything that makes a scene no whole scene.
pub(crate) fn check(scene: &Scene, places: &SourceOffsets, findings: &mut Findings) {
    let mut checker = Checker::new(scene, places, findings);
    checker.names();
    checker.body();
    checker.material();
    checker.walls();
    checker.supports();
    for (load, at) in scene.loads.iter().zip(&places.loads) {
        checker.load(load, at);
    }
    for (case, at) in scene.cases.iter().zip(&places.cases) {
        for (load, at) in case.loads.iter().zip(&at.loads) {
            checker.load(load, at);
        }
    }
    checker.all_imposed();
    checker.combinations();
    checker.lesson();
    // A body that is not whole has no volume to ask for.
    if !checker.findings.failed {
        checker.weights_without_volume();
    }
}

/// Looks for what was probably meant otherwise, in a scene that is whole.
pub(crate) fn warn(scene: &Scene, places: &SourceOffsets, findings: &mut Findings) {
    Checker::new(scene, places, findings).traps();
}

/// A scene under check.
struct Checker<'a> {
    scene: &'a Scene,
    places: &'a SourceOffsets,
    findings: &'a mut Findings,
    /// `None` where a point's coordinates could not be read.
    points: HashMap<&'a str, Option<Vector3<f64>>>,
}

impl<'a> Checker<'a> {
    fn new(scene: &'a Scene, places: &'a SourceOffsets, findings: &'a mut Findings) -> Self {
        let unreadable = places
            .unreadable_points
            .iter()
            .map(|name| (name.as_str(), None));
        let mut points: HashMap<_, _> = unreadable.collect();
        for point in &scene.points {
            points.insert(&point.name, Some(point.at.components().into()));
        }
        Self {
            scene,
            places,
            findings,
            points,
        }
    }

    /// Coordinates of a place; `None` where something else is wrong with it.
    fn position(&self, place: &Place) -> Option<Vector3<f64>> {
        match place {
            Place::At(coordinates) => Some(coordinates.components().into()),
            Place::Named(name) => self.points.get(name.as_str()).copied().flatten(),
        }
    }

    /// Unit vector of a direction of an item that stands at a place; `None` where something is wrong with it.
    fn unit(&self, direction: &Direction, from: &Place) -> Option<Vector3<f64>> {
        let vector = match direction {
            Direction::Along(coordinates) => coordinates.components().into(),
            Direction::Towards(place) => self.position(place)? - self.position(from)?,
            Direction::Angle(degrees) => {
                let (sine, cosine) = degrees.to_radians().sin_cos();
                Vector3::new(cosine, sine, 0.0)
            }
        };
        vector.try_normalize(0.0)
    }

    /// Zero direction, or one towards the item itself.
    fn direction(
        &mut self,
        direction: &Direction,
        from: &Place,
        field: &'static str,
        at: &ItemPlaces,
    ) {
        let flaw = match direction {
            Direction::Along(coordinates) if coordinates.components() == [0.0; 3] => {
                Flaw::ZeroDirection { field }
            }
            Direction::Towards(place) if self.coincide(place, from) => {
                Flaw::TowardsItself { field }
            }
            _ => return,
        };
        self.findings.error(at.of(field), flaw);
    }

    /// Whether two places are known and equal.
    fn coincide(&self, one: &Place, other: &Place) -> bool {
        self.position(one)
            .is_some_and(|position| Some(position) == self.position(other))
    }

    fn is_planar(&self) -> bool {
        self.scene.space == Space::Planar
    }
}

fn are_parallel(one: &Vector3<f64>, other: &Vector3<f64>) -> bool {
    one.cross(other).norm() <= PARALLEL_SINE * one.norm() * other.norm()
}

/// For the tests of single checks: a scene around some text, and the messages of its problems.
#[cfg(test)]
mod testing {
    /// Messages of everything wrong with a spatial scene of one bar `A`–`B` and more text.
    pub(crate) fn flaws(more: &str) -> Vec<String> {
        let head = "(format: 1, points: {\"A\": (0, 0, 0), \"B\": (1, 0, 0), \"C\": (0, 1, 0)},";
        let body = match more.contains("body:") {
            true => "",
            false => "body: [BentBar(path: [\"A\", \"B\"], diameter: 0.1)],",
        };
        messages(&format!("{head}{body}{more})"))
    }

    /// Messages of everything wrong with a body of one shape.
    pub(crate) fn shape_flaws(shape: &str) -> Vec<String> {
        flaws(&format!("body: [{shape}]"))
    }

    /// Messages of everything wrong with a scene.
    pub(crate) fn messages(text: &str) -> Vec<String> {
        let problems = match crate::scene::read_str("test.ron", text) {
            Ok(loaded) => loaded.warnings,
            Err(error) => error.problems,
        };
        problems
            .into_iter()
            .map(|problem| problem.message)
            .collect()
    }
}
