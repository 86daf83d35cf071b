//! Names of supports and points, and where pictures write them.

use nalgebra::Point3;

use super::carrier::Carrier;
use crate::statics::{AppliedLoad, CaseIndex, Model, SupportIndex};

/// A name at a place.
#[derive(Debug, Clone, PartialEq)]
pub struct Name<'a> {
    /// The name.
    pub text: &'a str,
    /// The place, m.
    pub at: Point3<f64>,
    /// What it moves with.
    pub carrier: Carrier,
}

/// Points closer than this, relative to the characteristic length, are one.
const SAME: f64 = 1e-9;

/// Names of all supports, each at the point of the body that it holds; where others hold the same point, some way from it
/// to its own ground end, so that each name stands at its own link.
pub fn support_names(model: &Model) -> Vec<Name<'_>> {
    let supports = model.supports.enumerate();
    let names = supports.map(|(index, support)| Name {
        text: &support.name,
        at: place(model, index),
        carrier: Carrier::Body,
    });
    names.collect()
}

fn place(model: &Model, support: SupportIndex) -> Point3<f64> {
    /// Part of the way to the ground.
    const OWN_WAY: f64 = 0.22;
    let placed = &model.supports[support];
    let near = SAME * model.length;
    let others = model.supports.enumerate();
    let shared = others
        .filter(|(other, _)| *other != support)
        .any(|(_, other)| (other.point - placed.point).norm() <= near);
    match placed.ground.filter(|_| shared) {
        Some(ground) => placed.point + (ground - placed.point) * OWN_WAY,
        None => placed.point,
    }
}

/// As [`support_names`], but beyond the ground of each support that has its ground where it holds the body: `feet` are their
/// places on the ground, and `below`, m, is how far beyond these the names stand.
pub fn names_below<'a>(model: &'a Model, feet: &[Point3<f64>], below: f64) -> Vec<Name<'a>> {
    let mut names = support_names(model);
    for ((name, support), foot) in names.iter_mut().zip(&model.supports).zip(feet) {
        if support.ground.is_none() {
            let down = (foot - support.point).try_normalize(0.0);
            name.at = foot + down.unwrap_or_default() * below;
            name.carrier = Carrier::Ground;
        }
    }
    names
}

/// Named points at which a load of a case acts and no support stands, in the scene's order.
pub fn load_names(model: &Model, case: CaseIndex) -> Vec<Name<'_>> {
    let case = model.cases.get(case).into_iter();
    let loads = case.flat_map(|case| &case.loads);
    let acted: Vec<Point3<f64>> = loads.flat_map(places).collect();
    let near = SAME * model.length;
    let same = |a: &Point3<f64>, b: &Point3<f64>| (a - b).norm() <= near;
    let named = model.points.iter().filter(|named| {
        let mut supports = model.supports.iter();
        let held = supports.any(|support| same(&support.point, &named.point));
        !held && acted.iter().any(|at| same(at, &named.point))
    });
    let names = named.map(|named| Name {
        text: named.name.as_str(),
        at: named.point,
        carrier: Carrier::Body,
    });
    names.collect()
}

/// Where a load acts, m.
pub fn places(load: &AppliedLoad) -> Vec<Point3<f64>> {
    match load {
        AppliedLoad::Force { at, .. } | AppliedLoad::Weight { at, .. } => vec![*at],
        AppliedLoad::Couple { at, .. } => at.iter().copied().collect(),
        AppliedLoad::Distributed { ends, .. } => ends.to_vec(),
        AppliedLoad::Line { path: points, .. } | AppliedLoad::Area { face: points, .. } => {
            points.to_vec()
        }
    }
}
