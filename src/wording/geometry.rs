//! Names for directions, points, lines and planes: by the supports on them where there are any.

use nalgebra::{Point3, Unit, Vector3};

use super::name::{count, listed};
use super::number::{Number, Quantity, coordinate, decimals};
use super::phrase::{AxisDirection, Phrase, phrase};
use crate::scene::Space;
use crate::statics::{Model, NamedPlace};

/// Closer than this, relative to the characteristic length or to 1, things are the same to a reader.
pub(in crate::wording) const SAME: f64 = 1e-7;
/// Names of at most so many letters read as names of points.
const LETTERS: usize = 2;
/// Decimals of direction components.
const DIRECTION_DECIMALS: i32 = 4;
/// The largest of the whole numbers that a direction is written with.
const MOST_WHOLE: u32 = 9;
/// Supports that a line is named by before the rest is only counted.
const MOST_NAMES: usize = 4;

/// A direction: `x`, `z (vertical)`, `(0.6, 0, 0.8)`. Opposite directions along an axis read the same.
pub fn direction(model: &Model, direction: &Unit<Vector3<f64>>) -> Phrase {
    match axis_of(direction) {
        Some(axis) if axis == up(model.space) => {
            phrase!(AxisDirection::positive(axis), " (vertical)")
        }
        Some(axis) => AxisDirection::positive(axis).into(),
        None => inclined(model, direction).into(),
    }
}

/// A direction whose sense does not matter, without a word on the vertical: `x`, `(0.6, 0, 0.8)`.
pub fn unsigned_direction(model: &Model, direction: &Unit<Vector3<f64>>) -> Phrase {
    match axis_of(direction) {
        Some(axis) => AxisDirection::positive(axis).into(),
        None => inclined(model, direction).into(),
    }
}

/// A direction whose sense matters, such as that of a reaction: `x`, `−z`, `(0.6, 0, 0.8)`.
pub fn signed_direction(model: &Model, direction: &Unit<Vector3<f64>>) -> Phrase {
    match axis_of(direction) {
        Some(axis) => AxisDirection {
            is_negative: direction[axis] < 0.0,
            ..AxisDirection::positive(axis)
        }
        .into(),
        None => inclined(model, direction).into(),
    }
}

/// The unit vector of a direction that is along no axis; `None` of one that is.
pub fn slant(model: &Model, direction: &Unit<Vector3<f64>>) -> Option<Quantity> {
    match axis_of(direction) {
        Some(_) => None,
        None => Some(off_axis(model, direction)),
    }
}

/// A point: the name of the support or else of the named point there, else coordinates with their unit.
pub fn point(model: &Model, point: &Point3<f64>) -> Phrase {
    let here = |at: &Point3<f64>| (at - point).norm() <= SAME * model.length;
    let support = model.supports.iter().find(|support| here(&support.point));
    let named = || model.points.iter().find(|named| here(&named.point));
    support
        .map(|support| Phrase::name(&support.name))
        .or_else(|| named().map(|named| point_named(&named.name)))
        .unwrap_or_else(|| coordinates(model, point).into())
}

/// A named point that no support bears; where its name is a word, with what it is.
fn point_named(name: &str) -> Phrase {
    if name.chars().count() > LETTERS {
        phrase!("the point ", Phrase::name(name))
    } else {
        Phrase::name(name)
    }
}

/// Coordinates of a point in the scene's length unit, with the unit.
pub fn coordinates(model: &Model, point: &Point3<f64>) -> Quantity {
    let unit = model.units.length;
    // Noise of a computed coordinate beside the size of the scene is not shown.
    let clean = |x: f64| {
        if x.abs() <= SAME * model.length {
            0.0
        } else {
            x
        }
    };
    let written = point.coords.map(|x| clean(x) / unit.in_metres());
    let numbers: Vec<Number> = without_noise(&written)
        .iter()
        .take(model.space.axes())
        .enumerate()
        .map(|(axis, x)| coordinate(&model.datum, axis, *x))
        .collect();
    Quantity::vector(numbers, unit.symbol())
}

/// A line: `the line through A and B`, `the vertical line through A`, `the line through (0, 1, 0) m parallel to x`.
/// In the plane, where lines of rotation stand on the page, the point they stand at.
pub fn line(model: &Model, through: &Point3<f64>, along: &Unit<Vector3<f64>>) -> Phrase {
    if model.space == Space::Planar && axis_of(along) == Some(2) {
        return point(model, through);
    }
    let names = names_on(model, through, along);
    match names.as_slice() {
        [] => line_without_support(model, through, along),
        [name] => line_through(model, name, along),
        names if names.len() <= MOST_NAMES => phrase!("the line through ", listed(names)),
        [first, second, rest @ ..] => phrase!(
            "the line through ",
            first,
            ", ",
            second,
            " and ",
            count(rest.len()),
            " more supports"
        ),
    }
}

/// Whether the words of [`line()`] tell its positive direction too.
pub fn tells_direction(model: &Model, through: &Point3<f64>, along: &Unit<Vector3<f64>>) -> bool {
    let is_positive = axis_of(along).is_none_or(|axis| along[axis] > 0.0);
    is_positive && names_on(model, through, along).len() <= 1
}

/// A plane by one point and its normal: `the horizontal plane through A`, `the plane through A perpendicular to x`.
pub fn plane(model: &Model, through: &Point3<f64>, normal: &Unit<Vector3<f64>>) -> Phrase {
    let place = point(model, through);
    if is_vertical(model, normal) {
        phrase!("the horizontal plane through ", place)
    } else {
        phrase!(
            "the plane through ",
            place,
            " perpendicular to ",
            direction(model, normal)
        )
    }
}

/// Whether a direction is up or down.
pub(super) fn is_vertical(model: &Model, direction: &Unit<Vector3<f64>>) -> bool {
    axis_of(direction) == Some(up(model.space))
}

/// Components of a direction, with decimals enough to tell it from an axis.
fn off_axis(model: &Model, direction: &Unit<Vector3<f64>>) -> Quantity {
    let mut sizes = direction.map(f64::abs);
    sizes.as_mut_slice().sort_by(f64::total_cmp);
    // The second largest component is 0 along an axis only.
    let leading = -sizes[1].log10().floor() as i32;
    let shown = DIRECTION_DECIMALS.max(leading + 1);
    triple(model, direction, |x| decimals(x, shown))
}

/// A direction along no axis, as small whole numbers where the unit vector would be rounded: `(1, 2, 2)`, but `(0.6, 0.8, 0)`.
fn inclined(model: &Model, direction: &Unit<Vector3<f64>>) -> Quantity {
    match whole_numbers(direction) {
        Some(whole) => triple(model, &whole, |x| decimals(x, 0)),
        None => off_axis(model, direction),
    }
}

/// The smallest whole numbers in the ratio of the components, up to [`MOST_WHOLE`]; `None` where there are none, or where the
/// components are short decimals themselves.
fn whole_numbers(direction: &Unit<Vector3<f64>>) -> Option<Vector3<f64>> {
    let are_whole = |v: &Vector3<f64>| v.iter().all(|x| (x - x.round()).abs() <= SAME * v.amax());
    if are_whole(&(direction.into_inner() * 100.0)) {
        return None;
    }
    let ratios = direction.into_inner() / direction.amax();
    let mut multiples = (1..=MOST_WHOLE).map(|factor| ratios * f64::from(factor));
    multiples.find(are_whole).map(|whole| whole.map(f64::round))
}

fn up(space: Space) -> usize {
    match space {
        Space::Spatial => 2,
        Space::Planar => 1,
    }
}

fn axis_of(direction: &Unit<Vector3<f64>>) -> Option<usize> {
    (0..3).find(|axis| {
        let others = [(axis + 1) % 3, (axis + 2) % 3];
        others.iter().all(|other| direction[*other].abs() <= SAME)
    })
}

fn triple(model: &Model, components: &Vector3<f64>, number: impl Fn(f64) -> Number) -> Quantity {
    let components = without_noise(components);
    let shown = components.iter().take(model.space.axes());
    Quantity::vector(shown.map(|x| number(*x)).collect(), "")
}

/// Components that vanish beside the largest are rounding.
fn without_noise(components: &Vector3<f64>) -> Vector3<f64> {
    let noise = components.amax() * SAME;
    components.map(|x| if x.abs() <= noise { 0.0 } else { x })
}

/// The two names that a line goes by, in the order of its direction; `None` where it has another name.
pub fn ends(
    model: &Model,
    through: &Point3<f64>,
    along: &Unit<Vector3<f64>>,
) -> Option<[Phrase; 2]> {
    let places = places_on(model, through, along);
    let [(one, first), (other, second)] = places.as_slice() else {
        return None;
    };
    let names = [first, second].map(Phrase::clone);
    Some(match (other - one).dot(along) > 0.0 {
        true => names,
        false => [second, first].map(Phrase::clone),
    })
}

fn names_on(model: &Model, through: &Point3<f64>, along: &Unit<Vector3<f64>>) -> Vec<Phrase> {
    let places = places_on(model, through, along).into_iter();
    places.map(|(_, name)| name).collect()
}

/// The supports on a line with their names, one for each place; a single one is joined by a named point, if there is.
fn places_on(
    model: &Model,
    through: &Point3<f64>,
    along: &Unit<Vector3<f64>>,
) -> Vec<(Point3<f64>, Phrase)> {
    let near = SAME * model.length;
    let mut places: Vec<(Point3<f64>, Phrase)> = Vec::new();
    let is_new = |places: &[(Point3<f64>, Phrase)], point: &Point3<f64>| {
        let off = (point - through).cross(along).norm();
        let apart = |(place, _): &(Point3<f64>, Phrase)| (place - point).norm() > near;
        off <= near && places.iter().all(apart)
    };
    for support in &model.supports {
        if is_new(&places, &support.point) {
            places.push((support.point, Phrase::name(&support.name)));
        }
    }
    if places.len() == 1 {
        let mut named = model.points.iter();
        let second = named.find(|named| is_new(&places, &named.point));
        places.extend(second.map(|named| (named.point, point_named(&named.name))));
    }
    places
}

fn line_through(model: &Model, place: &Phrase, along: &Unit<Vector3<f64>>) -> Phrase {
    if is_vertical(model, along) {
        phrase!("the vertical line through ", place)
    } else {
        phrase!(
            "the line through ",
            place,
            " parallel to ",
            direction(model, along)
        )
    }
}

fn line_without_support(
    model: &Model,
    through: &Point3<f64>,
    along: &Unit<Vector3<f64>>,
) -> Phrase {
    let from_origin = (through - model.origin()).cross(along).norm();
    match axis_of(along) {
        Some(axis) if from_origin <= SAME * model.length => {
            phrase!("the ", AxisDirection::positive(axis), " axis")
        }
        _ => {
            let on_line =
                |p: &&NamedPlace| (p.point - through).cross(along).norm() <= SAME * model.length;
            let named = model.points.iter().find(on_line);
            let place = named.map_or_else(
                || coordinates(model, through).into(),
                |p| point_named(&p.name),
            );
            line_through(model, &place, along)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;

    fn along(x: f64, y: f64, z: f64) -> Unit<Vector3<f64>> {
        Unit::new_normalize(Vector3::new(x, y, z))
    }

    #[test]
    fn lines_are_named_by_supports() {
        let (model, _) = samples::two_ball_joints();
        let at = Point3::new(0.0, 0.0, 0.0);
        assert_eq!(
            line(&model, &at, &along(1.0, 0.0, 0.0)),
            "the line through A and B"
        );
        assert_eq!(
            line(&model, &at, &along(0.0, 0.0, -1.0)),
            "the vertical line through A"
        );
        assert_eq!(
            line(&model, &at, &along(0.0, 3.0, 4.0)),
            "the line through A parallel to (0, 0.6, 0.8)"
        );
    }

    #[test]
    fn a_direction_is_written_without_rounding_where_it_can_be() {
        let (model, _) = samples::two_ball_joints();
        for ((x, y, z), text) in [
            ((3.0, 4.0, 0.0), "(0.6, 0.8, 0)"),
            ((1.0, 0.0, -1.0), "(1, 0, \u{2212}1)"),
            ((-0.5, 1.0, 1.0), "(\u{2212}1, 2, 2)"),
            ((2.0, 3.0, 0.0), "(2, 3, 0)"),
            ((1.0, 0.1, 0.0), "(0.995, 0.0995, 0)"),
        ] {
            assert_eq!(signed_direction(&model, &along(x, y, z)), text);
        }
        let unit = slant(&model, &along(1.0, 0.0, -1.0)).unwrap();
        assert_eq!(Phrase::from(unit), "(0.7071, 0, \u{2212}0.7071)");
    }

    #[test]
    fn a_direction_near_an_axis_is_told_from_it() {
        let (model, _) = samples::two_ball_joints();
        let near = along(1.0, 3.14159e-5, 0.0);
        assert_eq!(direction(&model, &near), "(1, 0.000031, 0)");
        let nearer = along(0.0, -2e-7, 1.0);
        assert_eq!(
            signed_direction(&model, &nearer),
            "(0, \u{2212}0.0000002, 1)"
        );
        assert_eq!(direction(&model, &along(1.0, 1e-3, 0.0)), "(1, 0.001, 0)");
        assert_eq!(direction(&model, &along(1.0, 1e-9, 0.0)), "x");
    }

    #[test]
    fn lines_without_support_are_named_by_axes_or_coordinates() {
        let (model, _) = samples::two_ball_joints();
        let away = Point3::new(1.0, 0.5, 0.0);
        assert_eq!(
            line(&model, &away, &along(0.0, 1.0, 0.0)),
            "the line through (1, 0.5, 0) m parallel to y"
        );
        let (model, _) = samples::free_screw();
        let origin = Point3::origin();
        assert_eq!(line(&model, &origin, &along(0.0, 0.0, 1.0)), "the z axis");
    }

    #[test]
    fn planes_and_points() {
        let (model, _) = samples::two_ball_joints();
        let b = Point3::new(2.0, 0.0, 0.0);
        assert_eq!(point(&model, &b), "B");
        assert_eq!(
            plane(&model, &b, &along(0.0, 0.0, 1.0)),
            "the horizontal plane through B"
        );
        assert_eq!(
            plane(&model, &b, &along(1.0, 0.0, 0.0)),
            "the plane through B perpendicular to x"
        );
    }

    #[test]
    fn a_rotation_in_the_plane_is_about_a_point() {
        let (model, _) = samples::swinging_beam();
        let at = Point3::origin();
        assert_eq!(line(&model, &at, &along(0.0, 0.0, 1.0)), "P");
        let away = Point3::new(3.0, 0.5, 0.0);
        assert_eq!(line(&model, &away, &along(0.0, 0.0, 1.0)), "(3, 0.5) m");
        assert_eq!(direction(&model, &along(0.0, 1.0, 0.0)), "y (vertical)");
        assert_eq!(
            signed_direction(&model, &along(0.0, -1.0, 0.0)),
            "\u{2212}y"
        );
    }
}
