//! Points whose coordinates a figure gives, each place once, with the letters that they are known by.

use nalgebra::Point3;

use super::names;
use super::settings::FigurePart;
use super::stage::Stage;
use crate::portrayal::load_places;
use crate::statics::{AppliedLoad, PlacedSupport};
use crate::wording::{self, Number};

/// Points closer than this, relative to the size of the scene, are one.
const SAME: f64 = 1e-9;
/// Stands behind the name of a support for its ground end.
const GROUND_END: char = '′';
/// Letters of centres of gravity and of points of loads that have no name, the first that is free.
const CENTRES: [&str; 3] = ["G", "H", "K"];
const LOADED: [&str; 6] = ["P", "Q", "R", "S", "T", "U"];

/// A place with what it is called.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct KnownPoint {
    pub at: Point3<f64>,
    /// Its name; a place that several supports share has the names of all.
    pub name: Option<String>,
    /// Whether the figure bears the name already: that of a support, or of a point where a load acts.
    pub is_named: bool,
}

/// Points whose coordinates are worth a dimension: supports, their ground ends and places of forces.
pub(super) fn measured(stage: &Stage) -> Vec<Point3<f64>> {
    // Where a couple is drawn does not matter.
    let forces = loads(stage).filter(|load| {
        matches!(
            load,
            AppliedLoad::Force { .. }
                | AppliedLoad::Distributed { .. }
                | AppliedLoad::Line { .. }
                | AppliedLoad::Area { .. }
        )
    });
    held(stage).chain(forces.flat_map(load_places)).collect()
}

/// Where weights act: seldom at round numbers.
pub(super) fn weighed<'a>(stage: &Stage<'a>) -> impl Iterator<Item = Point3<f64>> + 'a {
    let weights = loads(stage).filter(|load| matches!(load, AppliedLoad::Weight { .. }));
    weights.flat_map(load_places)
}

/// Supports with their ground ends.
pub(super) fn held<'a>(stage: &Stage<'a>) -> impl Iterator<Item = Point3<f64>> + 'a {
    let supports = stage.study.model().supports.iter();
    supports.flat_map(|support| std::iter::once(support.point).chain(support.ground))
}

/// The loads that are drawn.
fn loads<'a>(stage: &Stage<'a>) -> impl Iterator<Item = &'a AppliedLoad> + use<'a> {
    let cases = &stage.study.model().cases;
    let case = cases.get(stage.settings.case);
    let case = case.filter(|_| stage.shows(FigurePart::Loads));
    case.into_iter().flat_map(|case| &case.loads)
}

/// Whether two points are one.
pub(super) fn is_same(stage: &Stage, a: &Point3<f64>, b: &Point3<f64>) -> bool {
    (a - b).norm() <= SAME * (stage.bounds[1] - stage.bounds[0]).norm()
}

/// The points, each place once, with the names that the scene gives them.
pub(super) fn known(stage: &Stage, points: &[Point3<f64>]) -> Vec<KnownPoint> {
    let model = stage.study.model();
    let mut all: Vec<KnownPoint> = Vec::new();
    for point in points {
        if all.iter().any(|other| is_same(stage, &other.at, point)) {
            continue;
        }
        let bears = |support: &&PlacedSupport| is_same(stage, &support.point, point);
        let supports: Vec<&str> = model
            .supports
            .iter()
            .filter(bears)
            .map(|s| s.name.as_str())
            .collect();
        let support = (!supports.is_empty()).then(|| supports.join(", "));
        let named = model
            .points
            .iter()
            .find(|named| is_same(stage, &named.point, point));
        all.push(KnownPoint {
            at: *point,
            is_named: support.is_some() || (named.is_some() && names::is_named(stage, point)),
            name: support.or_else(|| named.map(|named| named.name.clone())),
        });
    }
    all
}

/// Whether these are more places than so many.
pub(super) fn are_more_than(stage: &Stage, points: &[Point3<f64>], most: usize) -> bool {
    let mut different: Vec<&Point3<f64>> = Vec::new();
    for point in points {
        if !different.iter().any(|other| is_same(stage, other, point)) {
            different.push(point);
        }
        if different.len() > most {
            return true;
        }
    }
    false
}

/// The same with a letter for each that has none: ground ends have the names of their supports with a prime.
pub(super) fn lettered(stage: &Stage, points: &[Point3<f64>]) -> Vec<KnownPoint> {
    let mut all = known(stage, points);
    let mut used: Vec<String> = all.iter().filter_map(|known| known.name.clone()).collect();
    let weighed: Vec<Point3<f64>> = weighed(stage).collect();
    for known in all.iter_mut().filter(|known| known.name.is_none()) {
        let is_centre = weighed.iter().any(|at| is_same(stage, at, &known.at));
        let letters: &[&str] = if is_centre { &CENTRES } else { &LOADED };
        let free = letters
            .iter()
            .find(|letter| !used.iter().any(|name| name == *letter));
        known.name = ground_ends(stage, &known.at).or_else(|| free.map(|letter| (*letter).into()));
        used.extend(known.name.clone());
    }
    all
}

/// The names of the supports that have a ground end, with primes.
fn ground_ends(stage: &Stage, at: &Point3<f64>) -> Option<String> {
    let supports = stage.study.model().supports.iter();
    let here = supports.filter(|support| {
        let ground = support.ground.as_ref();
        ground.is_some_and(|ground| is_same(stage, ground, at))
    });
    let names: Vec<String> = here
        .map(|support| format!("{}{GROUND_END}", support.name))
        .collect();
    (!names.is_empty()).then(|| names.join(", "))
}

/// Coordinates of a point in the scene's unit of length.
pub(super) fn coordinates(stage: &Stage, point: &Point3<f64>) -> Vec<Number> {
    let model = stage.study.model();
    let noise = SAME * (stage.bounds[1] - stage.bounds[0]).norm();
    let axes = model.space.axes();
    let numbers = point
        .iter()
        .take(axes)
        // A centre of volume is as exact as its sums.
        .map(|x| if x.abs() <= noise { 0.0 } else { *x })
        .enumerate();
    numbers
        .map(|(axis, x)| {
            wording::coordinate(&model.datum, axis, x / model.units.length.in_metres())
        })
        .collect()
}
