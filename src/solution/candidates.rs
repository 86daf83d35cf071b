//! Equations worth trying: sums along axes and reactions, moments about lines that a reader can name.

use nalgebra::{Point3, Unit, Vector3};

use super::equation::Balance;
use crate::scene::Space;
use crate::statics::{Line, Model, ReactionIndex, ReactionKind};

/// How hard a balance is to name and to picture, from 0.
pub(super) type Awkwardness = u8;

/// Along an axis: a force, or a line through a support; in the plane, about a support.
pub(super) const PLAIN: Awkwardness = 0;
/// Along an axis, through a named point or where lines of action cross.
pub(super) const CROSSING: Awkwardness = 2;
/// A line through two supports that is not along an axis.
pub(super) const OFF_AXIS: Awkwardness = 4;
/// A line through a support and another point that has a name.
pub(super) const NAMED: Awkwardness = 6;
/// Along a reaction, or an oblique line through a point that has to be found first.
pub(super) const FOUND: Awkwardness = 10;
/// A line that is known by its coordinates alone.
pub(super) const BY_NUMBERS: Awkwardness = 20;
/// Not a line but a screw.
pub(super) const SCREW: Awkwardness = 40;

/// Points that lines are drawn through.
const MOST_POINTS: usize = 12;
/// Lines and points nearer than this, relative to the characteristic length, are the same.
const SAME: f64 = 1e-9;

/// Balances that can be named, plain ones first, no line twice.
pub(super) fn candidates(model: &Model) -> Vec<(Balance, Awkwardness)> {
    let mut found = FoundCandidates {
        model,
        balances: Vec::new(),
        lines: Vec::new(),
    };
    let directions = off_axis_directions(model);
    for axis in axes(model.space) {
        found.forces(axis, PLAIN);
    }
    for direction in &directions {
        found.forces(*direction, FOUND);
    }
    match model.space {
        Space::Planar => planar(&mut found, &directions),
        Space::Spatial => spatial(&mut found, &directions),
    }
    found.balances
}

fn planar(found: &mut FoundCandidates, directions: &[Unit<Vector3<f64>>]) {
    for direction in directions {
        let square = Vector3::z().cross(direction);
        found.forces(Unit::new_normalize(square), FOUND);
    }
    for point in support_points(found.model) {
        found.line(point, Vector3::z_axis(), PLAIN);
    }
    for point in named_points(found.model) {
        found.line(point, Vector3::z_axis(), CROSSING);
    }
    for point in crossing_points(found.model) {
        found.line(point, Vector3::z_axis(), CROSSING);
    }
}

fn spatial(found: &mut FoundCandidates, directions: &[Unit<Vector3<f64>>]) {
    let supports = support_points(found.model);
    let crossings = crossing_points(found.model);
    for point in &supports {
        for axis in axes(Space::Spatial) {
            found.line(*point, axis, PLAIN);
        }
    }
    for point in crossings.iter().chain(&named_points(found.model)) {
        for axis in axes(Space::Spatial) {
            found.line(*point, axis, CROSSING);
        }
    }
    for pair in pairs(&supports, &supports) {
        found.through(pair, OFF_AXIS);
    }
    for pair in pairs(&supports, &named_points(found.model)) {
        found.through(pair, NAMED);
    }
    for point in &supports {
        for direction in directions {
            found.line(*point, *direction, FOUND);
        }
    }
    for pair in pairs(&supports, &crossings) {
        found.through(pair, FOUND);
    }
    for pair in pairs(&crossings, &crossings) {
        found.through(pair, BY_NUMBERS);
    }
}

fn pairs(some: &[Point3<f64>], others: &[Point3<f64>]) -> Vec<[Point3<f64>; 2]> {
    let with_others = |a: &Point3<f64>| others.iter().map(|b| [*a, *b]).collect::<Vec<_>>();
    some.iter().flat_map(with_others).collect()
}

/// What has been found so far.
struct FoundCandidates<'a> {
    model: &'a Model,
    balances: Vec<(Balance, Awkwardness)>,
    lines: Vec<Line>,
}

impl FoundCandidates<'_> {
    fn forces(&mut self, along: Unit<Vector3<f64>>, awkwardness: Awkwardness) {
        let same = |(balance, _): &(Balance, Awkwardness)| match balance {
            Balance::Forces(other) => other.cross(&along).norm() <= SAME,
            _ => false,
        };
        if !self.balances.iter().any(same) {
            self.balances.push((Balance::Forces(along), awkwardness));
        }
    }

    /// The line from one point to another.
    fn through(&mut self, [from, to]: [Point3<f64>; 2], awkwardness: Awkwardness) {
        if (to - from).norm() > SAME * self.model.length {
            self.line(from, Unit::new_normalize(to - from), awkwardness);
        }
    }

    fn line(
        &mut self,
        point: Point3<f64>,
        direction: Unit<Vector3<f64>>,
        awkwardness: Awkwardness,
    ) {
        let near = SAME * self.model.length;
        let same = |line: &Line| {
            line.direction.cross(&direction).norm() <= SAME && line.distance(&point) <= near
        };
        if !self.lines.iter().any(same) {
            self.lines.push(Line { point, direction });
            self.balances
                .push((Balance::Moments(point, direction), awkwardness));
        }
    }
}

fn axes(space: Space) -> Vec<Unit<Vector3<f64>>> {
    match space {
        Space::Spatial => vec![Vector3::x_axis(), Vector3::y_axis(), Vector3::z_axis()],
        Space::Planar => vec![Vector3::x_axis(), Vector3::y_axis()],
    }
}

/// Forces along the scene's axes, and moments about axes through a point.
pub(super) fn axis_balances(space: Space, through: &Point3<f64>) -> Vec<Balance> {
    let turns = match space {
        Space::Spatial => axes(space),
        Space::Planar => vec![Vector3::z_axis()],
    };
    let forces = axes(space).into_iter().map(Balance::Forces);
    let moments = turns
        .into_iter()
        .map(|axis| Balance::Moments(*through, axis));
    forces.chain(moments).collect()
}

/// The support point through which most reaction forces act, the first of several.
pub(super) fn busiest_point(model: &Model) -> Point3<f64> {
    let points = support_points(model);
    let through = |point: &Point3<f64>| {
        let forces = model.reactions.iter();
        forces
            .filter(|r| r.kind == ReactionKind::Force)
            .filter(|r| (point - r.point).cross(&r.direction).norm() <= SAME * model.length)
            .count()
    };
    let best = points.iter().rev().max_by_key(|point| through(point));
    best.copied().unwrap_or(model.reference)
}

/// Directions of reaction forces that are not along an axis, no direction twice.
fn off_axis_directions(model: &Model) -> Vec<Unit<Vector3<f64>>> {
    let mut found: Vec<Unit<Vector3<f64>>> = axes(Space::Spatial);
    for reaction in &model.reactions {
        let new = |other: &Unit<Vector3<f64>>| other.cross(&reaction.direction).norm() > SAME;
        if found.iter().all(new) {
            found.push(reaction.direction);
        }
    }
    found.split_off(3)
}

fn support_points(model: &Model) -> Vec<Point3<f64>> {
    distinct(model, model.supports.iter().map(|support| support.point))
}

fn named_points(model: &Model) -> Vec<Point3<f64>> {
    distinct(model, model.points.iter().map(|named| named.point))
}

fn distinct(model: &Model, points: impl Iterator<Item = Point3<f64>>) -> Vec<Point3<f64>> {
    let mut found: Vec<Point3<f64>> = Vec::new();
    for point in points {
        let new = |other: &Point3<f64>| (other - point).norm() > SAME * model.length;
        if found.len() < MOST_POINTS && found.iter().all(new) {
            found.push(point);
        }
    }
    found
}

/// Points where the lines of action of two reactions of different supports cross.
fn crossing_points(model: &Model) -> Vec<Point3<f64>> {
    let points = crossings(model).into_iter().map(|(point, _)| point);
    distinct(model, points)
}

/// Where the lines of action of two reactions of different supports cross, with the reactions.
pub(super) fn crossings(model: &Model) -> Vec<(Point3<f64>, [ReactionIndex; 2])> {
    let forces: Vec<_> = model
        .reactions
        .enumerate()
        .filter(|(_, r)| r.kind == ReactionKind::Force)
        .collect();
    let mut found = Vec::new();
    for (position, (first, one)) in forces.iter().enumerate() {
        for (second, other) in &forces[position + 1..] {
            if one.support != other.support {
                let lines = [one, other].map(|r| (r.point, r.direction));
                let point = crossing(lines, SAME * model.length);
                found.extend(point.map(|point| (point, [*first, *second])));
            }
        }
    }
    found
}

/// Where two lines cross, not too flatly; `None` where they pass each other.
fn crossing(lines: [(Point3<f64>, Unit<Vector3<f64>>); 2], near: f64) -> Option<Point3<f64>> {
    /// Sine of the flattest angle at which a crossing is a useful point.
    const FLATTEST: f64 = 0.05;
    let [(p, a), (q, b)] = lines;
    let normal = a.cross(&b);
    let square = normal.norm_squared();
    if square < FLATTEST * FLATTEST || ((q - p).dot(&normal)).abs() > near * square.sqrt() {
        return None;
    }
    let along = (q - p).cross(&b).dot(&normal) / square;
    Some(p + a.into_inner() * along)
}
