//! What somebody types for a position, a direction or a size, as a scene writes it.
//!
//! `B`, `0.6, 0, 0.4`, `600 mm, 0, 40 cm` are positions; `along y`, `-z`, `0, 1, 1`, `towards C`, `30 deg` directions.

use super::decimal::tidy;
use crate::scene::{Coordinates, Direction, Place, Scene, Space};

/// What was typed cannot be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{found:?} is not {expected}")]
pub struct EntryError {
    /// What was typed.
    pub found: String,
    /// What can be typed there.
    pub expected: String,
    /// What to try.
    pub hint: Option<String>,
}

impl EntryError {
    fn new(found: &str, expected: &str) -> Self {
        Self {
            found: found.trim().to_owned(),
            expected: expected.to_owned(),
            hint: None,
        }
    }

    fn with_hint(self, hint: impl Into<String>) -> Self {
        Self {
            hint: Some(hint.into()),
            ..self
        }
    }
}

/// Units of length that can be typed, in metres; exact by definition (NIST SP 811, appendix B).
const LENGTHS: [(&str, f64); 7] = [
    ("mm", 1e-3),
    ("cm", 1e-2),
    ("km", 1e3),
    ("m", 1.0),
    ("in", 0.0254),
    ("ft", 0.3048),
    ("", 0.0),
];

/// A position: the name of a point, or coordinates from the origin with or without units.
///
/// # Errors
/// If it is neither.
pub fn place(scene: &Scene, typed: &str) -> Result<Place, EntryError> {
    let name = typed.trim().trim_matches('"');
    if scene.point(name).is_some() {
        return Ok(Place::Named(name.to_owned()));
    }
    let numbers: Result<Vec<f64>, EntryError> =
        parts(typed).map(|part| length(scene, part)).collect();
    match numbers {
        Ok(numbers) if numbers.len() == scene.space.axes() => {
            let mut position = [0.0; 3];
            for (axis, number) in numbers.into_iter().enumerate() {
                position[axis] = scene.datum.to_datum(axis, number);
            }
            Ok(Place::At(Coordinates::new(scene.space, position)))
        }
        Ok(numbers) if numbers.len() > 1 => {
            let words = ["no", "one", "two", "three"];
            let count = |n: usize| {
                words
                    .get(n)
                    .map_or(n.to_string(), |word| (*word).to_owned())
            };
            let (given, wanted) = (count(numbers.len()), count(scene.space.axes()));
            let expected =
                format!("a position: it has {given} coordinates, and {wanted} are needed");
            let hint = "decimals are written with a point, and commas stand between coordinates";
            Err(EntryError::new(typed, &expected).with_hint(hint))
        }
        _ => Err(not_a_place(scene, typed)),
    }
}

fn not_a_place(scene: &Scene, typed: &str) -> EntryError {
    let expected = match scene.space {
        Space::Planar => "the name of a point or two coordinates",
        Space::Spatial => "the name of a point or three coordinates",
    };
    let names: Vec<&str> = scene
        .points
        .iter()
        .map(|point| point.name.as_str())
        .collect();
    let example = match scene.space {
        Space::Planar => "0.6, 0.4",
        Space::Spatial => "0.6, 0, 0.4",
    };
    let error = EntryError::new(typed, expected);
    match names.as_slice() {
        [] => error.with_hint(format!("type `{example}`")),
        names => error.with_hint(format!("type `{example}`, or one of {}", names.join(", "))),
    }
}

/// A direction.
///
/// # Errors
/// If it is none.
pub fn direction(scene: &Scene, typed: &str) -> Result<Direction, EntryError> {
    let words = typed.trim();
    if let Some(rest) = words.strip_prefix("towards ").or(words.strip_prefix("to ")) {
        return place(scene, rest).map(Direction::Towards);
    }
    if let Some(degrees) = words.strip_suffix("deg").or(words.strip_suffix('°')) {
        let degrees = plain_number(degrees).ok_or_else(|| not_a_direction(scene, typed))?;
        return match scene.space {
            Space::Planar => Ok(Direction::Angle(degrees)),
            Space::Spatial => Err(not_a_direction(scene, typed).with_hint(
                "angles turn in the plane only; in space type an axis or three components",
            )),
        };
    }
    let words = words.strip_prefix("along ").unwrap_or(words).trim();
    let components = axis(words).map(|(axis, sign)| {
        let mut components = [0.0; 3];
        components[axis] = sign;
        (components, axis + 1)
    });
    let components = components.or_else(|| {
        let numbers: Option<Vec<f64>> = parts(words).map(plain_number).collect();
        let numbers = numbers?;
        let components = std::array::from_fn(|i| numbers.get(i).copied().unwrap_or(0.0));
        Some((components, numbers.len()))
    });
    match components {
        Some((components, count))
            if count <= scene.space.axes()
                && (axis(words).is_some() || count == scene.space.axes())
                && components.iter().any(|x| *x != 0.0) =>
        {
            Ok(Direction::Along(Coordinates::new(scene.space, components)))
        }
        _ => Err(not_a_direction(scene, typed)),
    }
}

fn not_a_direction(scene: &Scene, typed: &str) -> EntryError {
    match scene.space {
        Space::Planar => EntryError::new(typed, "a direction in the plane")
            .with_hint("type `x`, `-y`, `30 deg`, `1, 1`, or `towards` and a point"),
        Space::Spatial => EntryError::new(typed, "a direction in space")
            .with_hint("type `x`, `-z`, `0, 1, 1`, or `towards` and a point"),
    }
}

/// A coordinate axis with its sign.
fn axis(word: &str) -> Option<(usize, f64)> {
    let (sign, letter) = match word.strip_prefix(['-', '\u{2212}']) {
        Some(letter) => (-1.0, letter),
        None => (1.0, word.strip_prefix('+').unwrap_or(word)),
    };
    let axis = ["x", "y", "z"]
        .iter()
        .position(|name| *name == letter.trim())?;
    Some((axis, sign))
}

/// A length in the scene's unit, typed in that unit or with one of its own.
///
/// # Errors
/// If it is no length.
pub fn length(scene: &Scene, typed: &str) -> Result<f64, EntryError> {
    let typed = typed.trim();
    let fault = || {
        EntryError::new(typed, "a length")
            .with_hint("type a number, or a number with mm, cm, m, in or ft")
    };
    let own = scene.units.length.in_metres();
    let with_unit = LENGTHS.iter().find_map(|(unit, metres)| {
        let number = plain_number(typed.strip_suffix(unit)?)?;
        Some(match *metres == own || unit.is_empty() {
            true => number,
            false => tidy(number * metres / own),
        })
    });
    with_unit.ok_or_else(fault)
}

/// A number without a unit, of any sign; people type U+2212 too, since that is what is shown.
///
/// # Errors
/// If it is no number.
pub fn number(typed: &str) -> Result<f64, EntryError> {
    plain_number(typed).ok_or_else(|| EntryError::new(typed, "a number"))
}

/// So many components of a vector, typed in the scene's units.
///
/// # Errors
/// If there are more or fewer, or one is no number.
pub fn components(typed: &str, wanted: usize) -> Result<Vec<f64>, EntryError> {
    let numbers: Option<Vec<f64>> = parts(typed).map(plain_number).collect();
    let expected = match wanted {
        1 => "a number".to_owned(),
        count => format!("{count} numbers"),
    };
    let fault = || {
        let example = ["100", "0, 100", "0, 0, 100"][wanted.clamp(1, 3) - 1];
        EntryError::new(typed, &expected).with_hint(format!("type `{example}`"))
    };
    numbers
        .filter(|numbers| numbers.len() == wanted)
        .ok_or_else(fault)
}

fn plain_number(typed: &str) -> Option<f64> {
    let text = typed.trim().replace('\u{2212}', "-");
    let number: f64 = text.parse().ok()?;
    // Adding zero turns a negative zero into a plain one.
    number.is_finite().then_some(number + 0.0)
}

/// The parts of `(0.6, 0, 0.4)`, with or without its parentheses.
fn parts(typed: &str) -> impl Iterator<Item = &str> {
    let inside = typed.trim();
    let inside = inside.strip_prefix('(').unwrap_or(inside);
    let inside = inside.strip_suffix(')').unwrap_or(inside);
    inside.split([',', ';']).map(str::trim)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;

    fn scene(units: &str, space: &str, zero: &str) -> Scene {
        let text = format!(
            "(format: 1, {units} {space} points: {{\"B\": {zero}}}, body: [Disc(centre: \"B\", {} diameter: 1, thickness: 1)])",
            if space.is_empty() {
                "axis: (0, 0, 1),"
            } else {
                ""
            }
        );
        read_str("entries", &text).unwrap().scene
    }

    fn spatial() -> Scene {
        scene("", "", "(0, 0, 0)")
    }

    fn planar() -> Scene {
        scene("units: (length: mm),", "space: planar,", "(0, 0)")
    }

    #[test]
    fn positions_are_names_or_coordinates_in_any_unit() {
        let at = |x, y, z| Ok(Place::At(Coordinates::Space([x, y, z])));
        assert_eq!(place(&spatial(), " B "), Ok(Place::Named("B".to_owned())));
        assert_eq!(place(&spatial(), "0.6, 0, 0.4"), at(0.6, 0.0, 0.4));
        assert_eq!(place(&spatial(), "(600 mm; -0, 40cm)"), at(0.6, 0.0, 0.4));
        assert_eq!(
            place(&spatial(), "\u{2212}1 ft, 0, 1 in"),
            at(-0.3048, 0.0, 0.0254)
        );
        let plane = Place::At(Coordinates::Plane([600.0, 40.0]));
        assert_eq!(place(&planar(), "0.6 m, 40"), Ok(plane));
    }

    #[test]
    fn what_is_no_position_is_refused_with_what_to_try() {
        let short = place(&spatial(), "1, 2").unwrap_err().to_string();
        assert_eq!(
            short,
            "\"1, 2\" is not a position: it has two coordinates, and three are needed"
        );
        for typed in ["", "Bolt", "1, two, 3", "1, 2, inf", "1 kg, 2, 3"] {
            let error = place(&spatial(), typed).unwrap_err();
            assert_eq!(
                error.expected, "the name of a point or three coordinates",
                "{typed}"
            );
            assert_eq!(
                error.hint.as_deref(),
                Some("type `0.6, 0, 0.4`, or one of B")
            );
        }
    }

    #[test]
    fn directions_are_axes_components_places_or_angles_in_the_plane() {
        let along = |x, y, z| Ok(Direction::Along(Coordinates::Space([x, y, z])));
        let scene = spatial();
        assert_eq!(direction(&scene, "along y"), along(0.0, 1.0, 0.0));
        assert_eq!(direction(&scene, "\u{2212}z"), along(0.0, 0.0, -1.0));
        assert_eq!(direction(&scene, "0, 1, 1"), along(0.0, 1.0, 1.0));
        assert_eq!(
            direction(&scene, "towards B"),
            Ok(Direction::Towards(Place::Named("B".to_owned())))
        );
        assert_eq!(direction(&planar(), "30 deg"), Ok(Direction::Angle(30.0)));
        assert_eq!(direction(&planar(), "-60°"), Ok(Direction::Angle(-60.0)));
        for typed in [
            "",
            "up there",
            "0, 0, 0",
            "1, 2",
            "30 deg",
            "towards nothing",
        ] {
            assert!(direction(&scene, typed).is_err(), "{typed}");
        }
        assert!(
            direction(&planar(), "z").is_err(),
            "there is no z in the plane"
        );
    }
}
