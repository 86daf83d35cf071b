//! Axes of moments as a reader finds them: by the named points on them, and by the lines of action that cross there.

use nalgebra::{Point3, Unit, Vector3};

use super::candidates::crossings;
use crate::scene::Space;
use crate::statics::{Model, ReactionIndex};
use crate::wording::{self, Phrase, phrase};

/// Closer than this, relative to the characteristic length or to 1, things are the same to a reader.
const SAME: f64 = 1e-7;

/// A point with the name that the scene has for it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Foot {
    pub(super) point: Point3<f64>,
    pub(super) name: Option<String>,
}

/// Supports and then named points, no place twice.
fn named_points(model: &Model) -> Vec<Foot> {
    let supports = model.supports.iter().map(|of| (of.point, &of.name));
    let points = model.points.iter().map(|of| (of.point, &of.name));
    let mut found: Vec<Foot> = Vec::new();
    for (point, name) in supports.chain(points) {
        if found
            .iter()
            .all(|other| !is_same(model, &other.point, &point))
        {
            found.push(Foot {
                point,
                name: Some(name.clone()),
            });
        }
    }
    found
}

fn is_same(model: &Model, one: &Point3<f64>, other: &Point3<f64>) -> bool {
    (one - other).norm() <= SAME * model.length
}

fn is_on(
    model: &Model,
    point: &Point3<f64>,
    through: &Point3<f64>,
    along: &Unit<Vector3<f64>>,
) -> bool {
    (point - through).cross(along).norm() <= SAME * model.length
}

/// The named points on a line.
fn named_on(model: &Model, through: &Point3<f64>, along: &Unit<Vector3<f64>>) -> Vec<Foot> {
    let mut points = named_points(model);
    points.retain(|named| is_on(model, &named.point, through, along));
    points
}

/// The point from which arms are measured: the first named one of the axis, else where it is given.
pub(super) fn foot(model: &Model, through: &Point3<f64>, along: &Unit<Vector3<f64>>) -> Foot {
    let named = named_on(model, through, along).into_iter().next();
    named.unwrap_or(Foot {
        point: *through,
        name: None,
    })
}

/// The two points by which a line is named, in its direction; `None` where it has fewer.
pub(super) fn ends(
    model: &Model,
    through: &Point3<f64>,
    along: &Unit<Vector3<f64>>,
) -> Option<(Point3<f64>, Point3<f64>)> {
    let named = named_on(model, through, along).into_iter();
    let mut points: Vec<Point3<f64>> = named.map(|named| named.point).collect();
    if points.len() < 2 {
        let crossing = crossing_on(model, through, along, &points);
        points.extend(crossing.map(|(point, _)| point));
    }
    let [first, second, ..] = points.as_slice() else {
        return None;
    };
    match (second - first).dot(along) > 0.0 {
        true => Some((*first, *second)),
        false => Some((*second, *first)),
    }
}

/// Where two lines of action cross on a line, away from these points.
fn crossing_on(
    model: &Model,
    through: &Point3<f64>,
    along: &Unit<Vector3<f64>>,
    away_from: &[Point3<f64>],
) -> Option<(Point3<f64>, [ReactionIndex; 2])> {
    crossings(model).into_iter().find(|(point, _)| {
        is_on(model, point, through, along)
            && away_from.iter().all(|other| !is_same(model, other, point))
    })
}

/// The name of an axis: `the line through A and B`; where named points do not give it, by the lines of action that cross on it.
pub(super) fn name(model: &Model, through: &Point3<f64>, along: &Unit<Vector3<f64>>) -> Phrase {
    let usual = || wording::line(model, through, along);
    let named = named_on(model, through, along);
    let is_axis = along.iter().any(|part| part.abs() >= 1.0 - SAME);
    if named.len() > 1 || (named.len() == 1 && is_axis) {
        return usual();
    }
    let known: Vec<Point3<f64>> = named.iter().map(|named| named.point).collect();
    let Some((point, reactions)) = crossing_on(model, through, along, &known) else {
        return usual();
    };
    let place = phrase!(
        wording::coordinates(model, &point),
        ", where the lines of action of ",
        wording::listed(&wording::symbols(model, reactions)),
        " cross"
    );
    match (model.space, named.first()) {
        (Space::Planar, _) => place,
        (_, Some(named)) => phrase!(
            "the line through ",
            wording::point(model, &named.point),
            " and ",
            place
        ),
        (_, None) => phrase!(
            "the line parallel to ",
            wording::unsigned_direction(model, along),
            " through ",
            place
        ),
    }
}

/// The subscript of a sum of moments: `AB` for the line through A and B, `A` for axes through A; `None` where nothing there has a
/// short name.
pub(super) fn subscript(
    model: &Model,
    through: &Point3<f64>,
    along: &Unit<Vector3<f64>>,
) -> Option<String> {
    let named = named_on(model, through, along).into_iter();
    let mut names: Vec<String> = named.filter_map(|named| named.name).collect();
    let is_axis = along.iter().any(|part| part.abs() >= 1.0 - SAME);
    names.truncate(if is_axis { 1 } else { 2 });
    let is_short = |name: &String| name.chars().count() <= LETTERS;
    if names.is_empty() || !names.iter().all(is_short) || (!is_axis && names.len() < 2) {
        return None;
    }
    // The positive direction of a line is that of its two letters.
    if let [first, second] = names.as_slice() {
        let place = |name: &String| {
            let mut points = named_points(model).into_iter();
            points.find(|point| point.name.as_ref() == Some(name))
        };
        let [from, to] = [place(first)?, place(second)?];
        if (to.point - from.point).dot(along) < 0.0 {
            names.reverse();
        }
    }
    Some(names.concat())
}

/// Names of at most so many letters make a subscript.
const LETTERS: usize = 2;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;

    /// Two struts whose lines cross at (1, 0, 1), beside a ball joint at the origin.
    fn struts() -> Model {
        let text = r#"(format: 1, body: [Shaft(from: (0, 0, 0), to: (2, 0, 0), diameter: 0.1)],
            supports: [
                BallJoint(name: "A", at: (0, 0, 0)),
                Link(name: "C", at: (0.5, 0, 0), ground: (0.75, 0, 0.5)),
                Link(name: "D", at: (1.5, 0, 0), ground: (1.25, 0, 0.5)),
            ],
            loads: [Force(at: (1, 0, 0), force: (0, 0, -10))])"#;
        Model::new(&read_str("struts", text).unwrap().scene).unwrap()
    }

    #[test]
    fn an_axis_is_named_by_what_crosses_there() {
        let model = struts();
        let crossing = Point3::new(1.0, 0.0, 1.0);
        assert_eq!(
            name(&model, &crossing, &Vector3::y_axis()).to_string(),
            "the line parallel to y through (1, 0, 1) m, where the lines of action of F_C and F_D cross"
        );
        let slanted = Unit::new_normalize(Vector3::new(1.0, 0.0, 1.0));
        assert_eq!(
            name(&model, &Point3::origin(), &slanted).to_string(),
            "the line through A and (1, 0, 1) m, where the lines of action of F_C and F_D cross"
        );
        let along_x = Vector3::x_axis();
        assert_eq!(
            name(&model, &Point3::origin(), &along_x).to_string(),
            wording::line(&model, &Point3::origin(), &along_x).to_string()
        );
    }

    #[test]
    fn the_letters_of_a_line_follow_its_direction() {
        let model = struts();
        let diagonal = Unit::new_normalize(Vector3::new(0.0, 1.0, 1.0));
        assert_eq!(subscript(&model, &Point3::origin(), &diagonal), None);
        let along = Vector3::y_axis();
        assert_eq!(
            subscript(&model, &Point3::origin(), &along),
            Some("A".to_owned())
        );
        let mut tilted = struts();
        tilted.supports[crate::statics::SupportIndex::new(1)].point = Point3::new(1.0, 1.0, 0.0);
        let line = Unit::new_normalize(Vector3::new(1.0, 1.0, 0.0));
        let letters = |along: &Unit<Vector3<f64>>| subscript(&tilted, &Point3::origin(), along);
        assert_eq!(letters(&line), Some("AC".to_owned()));
        assert_eq!(letters(&-line), Some("CA".to_owned()));
    }
}
