//! The same problem with other numbers: mirrored from left to right, larger or smaller, under other loads.

use super::arrangement::Arrangement;
use super::body::GridPoint;
use super::grid_load::GridLoad;
use super::random::Random;
use crate::scene::{Coordinates, Place, Shape};

/// Factors of lengths and of loads, as fractions.
const LENGTHS: [[i32; 2]; 4] = [[2, 1], [3, 2], [1, 2], [3, 1]];
const LOADS: [[i32; 2]; 4] = [[3, 2], [1, 2], [2, 1], [4, 5]];
/// The longest side that a body may get, in tenths of a metre.
const LONGEST: i32 = 32;

/// An arrangement as demanding as a given one, whose numbers are others.
pub(super) fn other(random: &mut Random, drawn: &Arrangement) -> Arrangement {
    let fits = |factor: &[i32; 2]| {
        let mut all = cells(drawn).into_iter().flatten();
        all.all(|x| (x * factor[0]) % factor[1] == 0 && x.abs() * factor[0] / factor[1] <= LONGEST)
    };
    let lengths: Vec<[i32; 2]> = LENGTHS.into_iter().filter(fits).collect();
    let [more, less] = match lengths.is_empty() {
        true => [1, 1],
        false => random.pick(&lengths),
    };
    let sizes = drawn.loads.iter().flat_map(sizes);
    let whole = |[up, down]: &[i32; 2]| sizes.clone().all(|x| x * up % down == 0);
    let loads: Vec<[i32; 2]> = LOADS.into_iter().filter(whole).collect();
    let [heavier, lighter] = random.pick(&loads);
    let place = |[x, y, z]: GridPoint| [-x, y, z].map(|part| part * more / less);
    let size = |[x, y, z]: GridPoint| [-x, y, z].map(|part| part * heavier / lighter);
    let mut other = drawn.clone();
    for support in &mut other.supports {
        support.at = place(support.at);
        // What has a ground end reaches as much farther; all other directions keep their components.
        support.along = match support.kind.has_ground() {
            true => place(support.along),
            false => mirrored(support.along),
        };
        support.off = mirrored(support.off);
    }
    for load in &mut other.loads {
        *load = match *load {
            GridLoad::Force { at, force } => GridLoad::Force {
                at: place(at),
                force: size(force),
            },
            GridLoad::Spread { ends, densities } => GridLoad::Spread {
                ends: ends.map(place),
                densities: densities.map(size),
            },
            // A mirror turns couples round, but for the axis that is square to it.
            GridLoad::Couple { moment, at } => GridLoad::Couple {
                moment: mirrored(moment).map(|part| -part * heavier / lighter),
                at: at.map(place),
            },
        };
    }
    let body = &mut other.body;
    let factor = f64::from(more) / f64::from(less);
    body.shapes
        .iter_mut()
        .for_each(|shape| scale(shape, factor));
    body.anchors
        .iter_mut()
        .for_each(|cell| *cell = place(*cell));
    body.legs.iter_mut().for_each(|leg| *leg = leg.map(place));
    other
}

fn mirrored([x, y, z]: GridPoint) -> GridPoint {
    [-x, y, z]
}

/// Every place of an arrangement, and how far links reach.
fn cells(drawn: &Arrangement) -> Vec<GridPoint> {
    let supports = drawn.supports.iter();
    let reached = supports
        .clone()
        .filter(|support| support.kind.has_ground())
        .map(|support| support.along);
    let legs = drawn.body.legs.iter().flatten().copied();
    let anchors = drawn.body.anchors.iter().copied();
    supports
        .map(|support| support.at)
        .chain(reached)
        .chain(legs)
        .chain(anchors)
        .collect()
}

fn sizes(load: &GridLoad) -> Vec<i32> {
    match load {
        GridLoad::Force { force, .. } => force.to_vec(),
        GridLoad::Spread { densities, .. } => densities.iter().flatten().copied().collect(),
        GridLoad::Couple { moment, .. } => moment.to_vec(),
    }
}

/// Mirrors a shape and scales where it stands; bars stay as thick.
fn scale(shape: &mut Shape, factor: f64) {
    let place = |place: &mut Place| {
        if let Place::At(coordinates) = place {
            match coordinates {
                Coordinates::Space([x, y, z]) => {
                    (*x, *y, *z) = (round(-*x * factor), round(*y * factor), round(*z * factor));
                }
                Coordinates::Plane([x, y]) => {
                    (*x, *y) = (round(-*x * factor), round(*y * factor));
                }
            }
        }
    };
    match shape {
        Shape::Block(block) => {
            place(&mut block.centre);
            // A beam of the plane stays as thick.
            let planar = matches!(block.centre, Place::At(Coordinates::Plane(_)));
            let sides = if planar { 1 } else { 3 };
            for side in &mut block.size[..sides] {
                *side = round(*side * factor);
            }
        }
        Shape::BentBar(bar) => bar.path.iter_mut().for_each(place),
        Shape::Plate(plate) => plate.corners.iter_mut().for_each(place),
        Shape::Shaft(shaft) => {
            place(&mut shaft.from);
            place(&mut shaft.to);
        }
        _ => {}
    }
}

/// Without what floating point leaves: places of exercises are whole hundredths.
fn round(number: f64) -> f64 {
    let rounded = (number * 1000.0).round() / 1000.0;
    // Adding zero makes one of the two zeros.
    rounded + 0.0
}
