//! Coordinates of points, in the scene's units: beside the points where they are few, else in a table below the figure.

use nalgebra::{Point3, Vector3};

use super::names;
use super::pens::SMALL;
use super::points::{self, KnownPoint};
use super::settings::FigurePart;
use super::sketch::{Sketch, SketchLabel};
use super::stage::Stage;
use super::table;
use crate::drawing::Polyline;
use crate::wording::{Phrase, Quantity, phrase};

/// Most points that have their coordinates beside them where there may be a table.
const MOST: usize = 4;
/// Half the length of the cross at the origin, points, and its letter.
const CROSS: f64 = 5.0;
const ORIGIN: &str = "O";

/// Gives the coordinates of supports, with their ground ends, and of the scene's other named points.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    let named = stage.study.model().points.iter().map(|named| named.point);
    let points: Vec<Point3<f64>> = points::held(stage).chain(named).collect();
    match stage.shows(FigurePart::Table) && are_many(stage, &points) {
        true => in_table(stage, &points, sketch),
        false => of_points(stage, &points, sketch),
    }
}

/// Whether these are more points than have their coordinates beside them where there may be a table.
pub(super) fn are_many(stage: &Stage, points: &[Point3<f64>]) -> bool {
    points::are_more_than(stage, points, MOST)
}

/// Gives coordinates in the table, and letters to the points that have none.
pub(super) fn in_table(stage: &Stage, points: &[Point3<f64>], sketch: &mut Sketch) {
    let known = points::lettered(stage, points);
    for point in known.iter().filter(|known| !known.is_named) {
        if let Some(name) = &point.name {
            names::letter(stage, &point.at, name, sketch);
        }
    }
    if sketch.table.is_none() {
        mark_origin(stage, &known, sketch);
    }
    table::add(stage, &known, sketch);
}

/// A cross with an O at the origin of the coordinates, where no point of the table is there and the figure reaches as far.
fn mark_origin(stage: &Stage, known: &[KnownPoint], sketch: &mut Sketch) {
    let origin = stage.study.model().origin();
    let [low, high] = stage.bounds;
    let is_inside = (0..3).all(|k| low[k] <= origin[k] && origin[k] <= high[k]);
    let is_free = |known: &KnownPoint| {
        !points::is_same(stage, &known.at, &origin) && known.name.as_deref() != Some(ORIGIN)
    };
    if !is_inside || !known.iter().all(is_free) {
        return;
    }
    let axes = stage.study.model().space.axes();
    let lines = [Vector3::x(), Vector3::y(), Vector3::z()];
    let lines = lines.iter().take(axes).map(|axis| {
        let arm = axis * (CROSS * stage.unit());
        Polyline::open([origin - arm, origin + arm].map(|end| stage.at(&end)))
    });
    sketch.lines("coordinates", lines.collect(), stage.pens.dimension);
    names::letter(stage, &origin, ORIGIN, sketch);
}

/// Gives letters to the ground ends of links and cables.
pub(super) fn letter_ground_ends(stage: &Stage, sketch: &mut Sketch) {
    let supports = stage.study.model().supports.iter();
    let ends: Vec<Point3<f64>> = supports.filter_map(|support| support.ground).collect();
    if stage.shows(FigurePart::Names) {
        points::lettered(stage, &ends)
            .iter()
            .filter(|known| !known.is_named)
            .filter_map(|known| Some((known.at, known.name.as_ref()?)))
            .for_each(|(at, name)| names::letter(stage, &at, name, sketch));
    }
}

/// Gives the coordinates of points, each place once; with the name of a point that the figure does not name yet.
pub(super) fn of_points(stage: &Stage, points: &[Point3<f64>], sketch: &mut Sketch) {
    for known in points::known(stage, points) {
        let anchor = stage.at(&known.at);
        let is_said = |label: &SketchLabel| label.role == "coordinates" && label.anchor == anchor;
        if !sketch.labels.iter().any(is_said) {
            of_point(stage, &known, sketch);
        }
    }
}

fn of_point(stage: &Stage, known: &KnownPoint, sketch: &mut Sketch) {
    let unit = stage.study.model().units.length;
    let numbers = points::coordinates(stage, &known.at);
    let numbers = Phrase::from(Quantity::vector(numbers, unit.symbol()));
    let name = known.name.as_ref().filter(|_| !known.is_named);
    let text = match name {
        Some(name) => phrase!(Phrase::name(name), " ", numbers),
        None => numbers,
    };
    if name.is_some() {
        names::small_dot(stage, &known.at, sketch);
    }
    sketch.labels.push(SketchLabel {
        role: "coordinates",
        anchor: stage.at(&known.at),
        prefer: [0.0, 0.0],
        is_fixed: false,
        runs: stage.runs(&text),
        letters: SMALL,
        colour: stage.pens.dimension.colour,
        rank: 5,
    });
}
