//! Loads: heavy arrows with block heads, rows of arrows for distributed ones, rings for couples, each with its value.

use bevy::prelude::*;
use nalgebra::Vector3;

use super::StageFrame;
use super::body::BodySurface;
use super::crossing::vector;
use super::paint::Palette;
use super::strokes::{Gauge, Group, arrow, ring};
use crate::scene::Units;
use crate::statics::{AppliedLoad, Model};
use crate::viewer::state::LabelRole;

/// Length of a load's arrow.
const LENGTH: f32 = 0.4;
/// Length of the longest arrow of a row.
const ROW: f32 = 0.22;
/// Distance between the arrows of a row.
const PITCH: f32 = 0.13;
/// Radius of a couple's ring.
const RING: f32 = 0.14;

/// Strokes and values of the loads of a case.
pub fn loads(
    model: &Model,
    case: usize,
    body: &BodySurface,
    frame: &StageFrame,
    palette: &Palette,
) -> Vec<Group> {
    let Some(case) = model.cases.get(case) else {
        return Vec::new();
    };
    case.loads
        .iter()
        .filter_map(|load| load_group(model, load, body, frame, palette))
        .collect()
}

fn load_group(
    model: &Model,
    load: &AppliedLoad,
    body: &BodySurface,
    frame: &StageFrame,
    palette: &Palette,
) -> Option<Group> {
    let units = &model.units;
    let newtons = |vector: &Vector3<f64>| vector.norm() / units.force.in_newtons();
    let mut group;
    match load {
        AppliedLoad::Force { at, force } => {
            group = Group::new(frame, Some(*at));
            group.colour(palette.load);
            let text = quantity(newtons(force), units.force.symbol());
            single(&mut group, frame.point(at), direction(force)?, body, &text);
        }
        AppliedLoad::Weight { at, force, .. } => {
            group = Group::new(frame, Some(*at));
            group.colour(palette.load);
            let way = direction(force)?;
            let text = quantity(newtons(force), units.force.symbol());
            let tail = frame.point(at);
            arrow(&mut group.draft, tail, tail + way * LENGTH, &Gauge::HEAVY);
            group.draft.ball(tail, Gauge::HEAVY.shaft * 1.7);
            group.label(
                format!("weight {text}"),
                tail + way * (LENGTH + 0.05),
                LabelRole::Load,
            );
        }
        AppliedLoad::Couple { at, moment } => {
            let at = at.unwrap_or(model.reference);
            group = Group::new(frame, Some(at));
            group.colour(palette.load);
            let about = direction(moment)?;
            let centre = frame.point(&at);
            ring(&mut group.draft, centre, about, RING, &Gauge::HEAVY);
            let value = moment.norm() / units.moment_in_newton_metres();
            let text = quantity(value, &units.moment_symbol());
            group.label(text, centre + frame.up() * (RING + 0.07), LabelRole::Load);
        }
        AppliedLoad::Distributed { ends, densities } => {
            let middle = nalgebra::center(&ends[0], &ends[1]);
            group = Group::new(frame, Some(middle));
            group.colour(palette.load);
            row(
                &mut group,
                ends.map(|end| frame.point(&end)),
                densities,
                units,
            )?;
        }
    }
    Some(group)
}

fn direction(of: &Vector3<f64>) -> Option<Vec3> {
    let largest = of.amax();
    (largest > 0.0 && largest.is_finite()).then(|| vector(&(of / largest).normalize()))
}

/// Pushes at the point or pulls from it, whichever leaves the arrow outside the body.
fn single(group: &mut Group, at: Vec3, way: Vec3, body: &BodySurface, text: &str) {
    let clear = |side: f32| body.girth(at + way * (side * LENGTH * 0.7));
    let pulls = clear(1.0) > 1.15 * clear(-1.0);
    let (tail, tip) = if pulls {
        (at, at + way * LENGTH)
    } else {
        (at - way * LENGTH, at)
    };
    arrow(&mut group.draft, tail, tip, &Gauge::HEAVY);
    let outer = if pulls {
        tip + way * 0.05
    } else {
        tail - way * 0.05
    };
    group.label(text, outer, LabelRole::Load);
}

/// Arrows with their tips on the segment, as long as the density there, and a line over their tails.
fn row(
    group: &mut Group,
    ends: [Vec3; 2],
    densities: &[Vector3<f64>; 2],
    units: &Units,
) -> Option<()> {
    let largest = densities[0].norm().max(densities[1].norm());
    if largest <= 0.0 {
        return None;
    }
    let count = ((ends[0].distance(ends[1]) / PITCH).round() as usize).clamp(3, 24);
    let at = |i: usize| {
        let part = i as f32 / count as f32;
        let density = densities[0].lerp(&densities[1], f64::from(part)) / largest;
        let tip = ends[0].lerp(ends[1], part);
        (tip - vector(&density) * ROW, tip)
    };
    for (tail, tip) in (0..=count).map(at) {
        if tail.distance(tip) > 0.03 {
            arrow(&mut group.draft, tail, tip, &Gauge::ROW);
        }
    }
    let (first, last) = (at(0).0, at(count).0);
    group.draft.faceted_rod(first, last, Gauge::ROW.shaft, 4);
    let against = densities[0].dot(&densities[1]) < 0.0;
    let value = |density: &Vector3<f64>| {
        density.norm() * units.length.in_metres() / units.force.in_newtons()
    };
    let symbol = format!("{}/{}", units.force.symbol(), units.length.symbol());
    let text = match densities.each_ref().map(value) {
        [a, b] if against => format!("{} to {}", number(a), quantity(-b, &symbol)),
        [a, b] if (a - b).abs() <= 1e-9 * a.abs().max(b.abs()) => quantity(a, &symbol),
        [a, b] => format!("{} to {}", number(a), quantity(b, &symbol)),
    };
    let middle = at(count / 2);
    let out = (middle.0 - middle.1).normalize_or_zero();
    group.label(text, first.lerp(last, 0.5) + out * 0.06, LabelRole::Load);
    Some(())
}

/// A number with its unit.
pub fn quantity(value: f64, symbol: &str) -> String {
    format!("{} {symbol}", number(value))
}

/// Four significant figures, without trailing zeros.
fn number(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let digits = 3 - value.abs().log10().floor() as i32;
    let text = format!("{value:.*}", digits.clamp(0, 12) as usize);
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

#[cfg(test)]
mod tests {
    use super::number;

    #[test]
    fn numbers_have_four_figures() {
        let cases = [
            (1.0, "1"),
            (0.1 + 0.2, "0.3"),
            (1234.56, "1235"),
            (9.80665, "9.807"),
            (0.012345, "0.01235"),
        ];
        for (value, text) in cases {
            assert_eq!(number(value), text);
        }
    }
}
