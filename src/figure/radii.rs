//! Radii of the body's discs, as dimension lines from the centre to the rim.

use nalgebra::{Point3, Vector3};

use super::dimension_line;
use super::sketch::{Sketch, Spot, length, way};
use super::stage::Stage;
use crate::portrayal::across;
use crate::scene::solid::{self, Rim};
use crate::wording::{self, phrase};

/// Most radii of a figure.
const MOST: usize = 3;
/// Radii that differ by less than this part are equal.
const EQUAL: f64 = 1e-9;
/// Directions in which a radius is tried.
const WAYS: u32 = 16;
/// Shortest line that has room for heads, points.
const SHORTEST: f64 = 14.0;
/// Parts of a radius that must be seen.
const LOOKED_AT: [f64; 3] = [0.6, 0.8, 0.97];
/// Of a circle seen more edge-on than this, narrowest over widest radius, none is drawn.
const EDGE_ON: f64 = 0.3;

/// Draws the radius of each disc that has another one than those before it, on one of its faces that is seen.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    let mut drawn: Vec<f64> = Vec::new();
    for rim in solid::rims(stage.study.scene()) {
        let is_new = drawn
            .iter()
            .all(|other| (other - rim.radius_m).abs() > EQUAL * rim.radius_m);
        if drawn.len() < MOST && is_new && draw_radius(stage, &rim, sketch) {
            drawn.push(rim.radius_m);
        }
    }
}

/// Draws the radius of a disc, where its value has room if there is such a place; whether the figure shows it at all.
fn draw_radius(stage: &Stage, rim: &Rim, sketch: &mut Sketch) -> bool {
    let text = phrase!(
        "R ",
        wording::length(rim.radius_m, &stage.study.model().units)
    );
    let lines: Vec<[Spot; 2]> = [1.0, -1.0]
        .into_iter()
        .flat_map(|side| {
            lines(
                stage,
                rim,
                &(rim.centre + rim.axis * (side * rim.half_thickness_m)),
            )
        })
        .collect();
    let has_room = |line: &&[Spot; 2]| dimension_line::has_room(stage, **line, &text, sketch);
    let Some(line) = lines.iter().find(has_room).or(lines.first()) else {
        return false;
    };
    dimension_line::radius(stage, *line, text, sketch);
    true
}

/// Lines from the centre of a face to its rim that are long enough on the page, and seen but for the centre, where a shaft may be.
fn lines(stage: &Stage, rim: &Rim, centre: &Point3<f64>) -> Vec<[Spot; 2]> {
    let [one, other] = across(&rim.axis);
    let arms = (0..WAYS).map(|step| {
        let angle = std::f64::consts::TAU * (f64::from(step) + 0.5) / f64::from(WAYS);
        (one * angle.cos() + other * angle.sin()) * rim.radius_m
    });
    let at = |arm: &Vector3<f64>, part: f64| stage.pose * (centre + arm * part);
    let line = |arm: &Vector3<f64>| [0.0, 1.0].map(|part| stage.at(&at(arm, part)));
    let all: Vec<(Vector3<f64>, [Spot; 2])> = arms.map(|arm| (arm, line(&arm))).collect();
    let lengths = all.iter().map(|(_, [from, to])| length(way(*from, *to)));
    let (longest, shortest) = lengths.fold((0.0_f64, f64::INFINITY), |(most, least), length| {
        (most.max(length), least.min(length))
    });
    if longest < SHORTEST || shortest < EDGE_ON * longest {
        return Vec::new();
    }
    let is_seen = |arm: &Vector3<f64>| LOOKED_AT.iter().all(|part| !stage.hides(&at(arm, *part)));
    let is_long = |[from, to]: &[Spot; 2]| length(way(*from, *to)) >= SHORTEST.max(longest / 2.0);
    let seen = all
        .into_iter()
        .filter(|(arm, line)| is_long(line) && is_seen(arm));
    seen.map(|(_, line)| line).collect()
}
