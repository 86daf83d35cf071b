//! Numbers for people: few digits, a real minus sign, no negative zero, units behind.

use std::fmt;

use crate::scene::units::{ForceUnit, LengthUnit};
use crate::scene::{Datum, Units};
use crate::statics::ReactionKind;

/// Significant digits of values where nobody asks for others.
pub const USUAL_DIGITS: i32 = 4;
/// Significant digits of coordinates, which are given rather than found.
const COORDINATE_DIGITS: i32 = 5;

/// A number as it is written.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Number {
    /// Bits of the value of a number that has as many significant digits as its reader asks for.
    exact: Option<u64>,
    /// Digits with their sign: all of the number, or what the power of ten multiplies.
    pub digits: String,
    /// Power of ten with its sign, if there is one.
    pub power: Option<String>,
}

/// One number or the components of a vector, with their unit.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Quantity {
    /// The number, or the components.
    pub numbers: Vec<Number>,
    /// Whether they stand in parentheses.
    pub is_vector: bool,
    /// The symbol of the unit; empty where there is none.
    pub unit: String,
}

impl From<String> for Number {
    fn from(digits: String) -> Self {
        Self {
            exact: None,
            digits,
            power: None,
        }
    }
}

impl Number {
    /// The same with another count of significant digits, where its reader may ask for that.
    fn with_digits(&self, digits: i32) -> Self {
        match self.exact {
            Some(bits) => Self {
                exact: self.exact,
                ..rounded(f64::from_bits(bits), digits)
            },
            None => self.clone(),
        }
    }
}

impl From<Number> for Quantity {
    fn from(number: Number) -> Self {
        Self::new(number, "")
    }
}

impl Quantity {
    /// A number with its unit.
    pub fn new(number: Number, unit: impl Into<String>) -> Self {
        Self {
            numbers: vec![number],
            is_vector: false,
            unit: unit.into(),
        }
    }

    /// Components with their unit.
    pub fn vector(numbers: Vec<Number>, unit: impl Into<String>) -> Self {
        Self {
            numbers,
            is_vector: true,
            unit: unit.into(),
        }
    }

    /// The same with another count of significant digits, where its reader may ask for that.
    #[must_use]
    pub fn with_digits(&self, digits: i32) -> Self {
        let numbers = self.numbers.iter();
        Self {
            numbers: numbers.map(|number| number.with_digits(digits)).collect(),
            ..self.clone()
        }
    }

    /// Whether there is a space in front of the unit: the sign of degrees has none.
    pub fn is_spaced(&self) -> bool {
        self.unit != DEGREES
    }
}

/// The unit of angles for people.
pub(super) const DEGREES: &str = "°";

impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.digits)?;
        match &self.power {
            Some(power) => write!(f, "×10{}", power.chars().map(raised).collect::<String>()),
            None => Ok(()),
        }
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let numbers: Vec<String> = self.numbers.iter().map(Number::to_string).collect();
        match self.is_vector {
            true => write!(f, "({})", numbers.join(", "))?,
            false => f.write_str(&numbers.concat())?,
        }
        match self.unit.as_str() {
            "" => Ok(()),
            unit if self.is_spaced() => write!(f, " {unit}"),
            unit => f.write_str(unit),
        }
    }
}

/// A number with as many significant digits as is usual: `1167`, `−0.25`, `0`; a reader may ask for others.
pub fn number(value: f64) -> Number {
    Number {
        exact: Some(value.to_bits()),
        ..rounded(value, USUAL_DIGITS)
    }
}

/// A number with up to the given count of significant digits, without trailing zeros.
///
/// Whole parts are never cut; very large and very small numbers get a power of ten. Halves are rounded away from zero
/// (ISO 80000-1, annex B, rule B), and so is what only the rounding of floats keeps from being a half: or one value would be
/// written in two ways in one report.
pub fn rounded(value: f64, digits: i32) -> Number {
    const MOST_DIGITS_OF_HALVES: i32 = 10;
    const NEARLY_HALF: f64 = 1e-13;
    let value = match digits <= MOST_DIGITS_OF_HALVES {
        true => value * (1.0 + NEARLY_HALF),
        false => value,
    };
    if value == 0.0 || !value.is_finite() {
        let sign = if value.is_infinite() { "∞" } else { "0" };
        return Number::from(sign.to_owned());
    }
    let exponent = value.abs().log10().floor() as i32;
    if (-4..7).contains(&exponent) {
        return signed(&fixed(value, digits - 1 - exponent));
    }
    let text = format!("{value:.*e}", usize::try_from(digits - 1).unwrap_or(0));
    let (mantissa, power) = text.split_once('e').unwrap_or((&text, "0"));
    Number {
        power: Some(signed(power).digits),
        ..signed(trimmed(mantissa))
    }
}

/// How many of so many significant digits of a value are right, if it may be wrong by `error`; at least one.
pub fn settled_digits(value: f64, error: f64, digits: i32) -> i32 {
    let right = (value.abs() / error.max(f64::MIN_POSITIVE)).log10().floor();
    // As an integer this stays within what it is clamped to.
    (right.clamp(1.0, f64::from(digits))) as i32
}

/// A coordinate along an axis, given from the datum in the scene's length unit: the number from the origin, in full where it
/// is a decimal of few digits, as those of a scene are; of others, which are computed, as many digits as its reader asks for.
pub fn coordinate(datum: &Datum, axis: usize, value: f64) -> Number {
    let digits = usize::try_from(COORDINATE_DIGITS - 1).unwrap_or(0);
    let short: f64 = format!("{value:.digits$e}").parse().unwrap_or(value);
    match datum.is_origin() {
        false => signed(&datum.written(axis, short)),
        true if (short - value).abs() <= SHORT * value.abs() => rounded(value, COORDINATE_DIGITS),
        true => number(value),
    }
}

/// A number that differs from a decimal of few digits by less than this part is that decimal.
const SHORT: f64 = 1e-9;

/// A number with up to the given count of decimals, without trailing zeros: for components of a direction.
pub(super) fn decimals(value: f64, decimals: i32) -> Number {
    signed(&fixed(value, decimals))
}

fn fixed(value: f64, decimals: i32) -> String {
    let decimals = usize::try_from(decimals).unwrap_or(0);
    trimmed(&format!("{value:.decimals$}")).to_owned()
}

fn trimmed(text: &str) -> &str {
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        text
    }
}

/// With U+2212 for the minus sign, and none before a zero.
pub(super) fn signed(text: &str) -> Number {
    Number::from(match text.strip_prefix('-') {
        Some("0") => "0".to_owned(),
        Some(size) => format!("\u{2212}{size}"),
        None => text.to_owned(),
    })
}

/// A sign of an exponent where none can be written small and high.
fn raised(sign: char) -> char {
    match sign {
        '\u{2212}' => '⁻',
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        digit => digit
            .to_digit(10)
            .and_then(|d| char::from_u32(0x2070 + d))
            .unwrap_or(digit),
    }
}

/// A length given in metres, in the scene's unit.
pub fn length(metres: f64, units: &Units) -> Quantity {
    with_unit(metres / units.length.in_metres(), units.length.symbol())
}

/// An angle given in radians, in degrees.
pub fn angle(radians: f64) -> Quantity {
    Quantity::new(number(radians.to_degrees()), DEGREES)
}

/// A force given in newtons, in the scene's unit.
pub fn force(newtons: f64, units: &Units) -> Quantity {
    with_unit(newtons / units.force.in_newtons(), units.force.symbol())
}

/// The size of a force per length given in N/m, in the scene's units.
pub fn density(newtons_per_metre: f64, units: &Units) -> Quantity {
    let per_metre = units.force.in_newtons() / units.length.in_metres();
    let symbol = format!("{}/{}", units.force.symbol(), units.length.symbol());
    with_unit(newtons_per_metre / per_metre, &symbol)
}

/// The size of a force per area given in N/m², in the scene's units.
pub fn pressure(newtons_per_square_metre: f64, units: &Units) -> Quantity {
    let metres = units.length.in_metres();
    let per_area = units.force.in_newtons() / (metres * metres);
    let symbol = format!("{}/{}\u{b2}", units.force.symbol(), units.length.symbol());
    with_unit(newtons_per_square_metre / per_area, &symbol)
}

/// An area given in m², in the square of the scene's unit of length.
pub fn area(square_metres: f64, units: &Units) -> Quantity {
    let metres = units.length.in_metres();
    let symbol = format!("{}\u{b2}", units.length.symbol());
    with_unit(square_metres / (metres * metres), &symbol)
}

/// A couple given in newton metres, in the scene's unit.
pub fn couple(newton_metres: f64, units: &Units) -> Quantity {
    with_unit(
        newton_metres / units.moment_in_newton_metres(),
        &units.moment_symbol(),
    )
}

/// A stress given in Pa: in MPa, or in psi or ksi where forces are in lbf or kip.
pub fn stress(pascals: f64, units: &Units) -> Quantity {
    let of = |force: ForceUnit, length: LengthUnit| {
        let square = length.in_metres() * length.in_metres();
        pascals * square / force.in_newtons()
    };
    let (value, symbol) = match units.force {
        ForceUnit::Newton | ForceUnit::Kilonewton => {
            (of(ForceUnit::Newton, LengthUnit::Millimetre), "MPa")
        }
        ForceUnit::PoundForce => (of(ForceUnit::PoundForce, LengthUnit::Inch), "psi"),
        ForceUnit::Kip => (of(ForceUnit::Kip, LengthUnit::Inch), "ksi"),
    };
    with_unit(value, symbol)
}

/// The value of a reaction given in SI units, in the scene's unit.
pub fn reaction_value(value: f64, kind: ReactionKind, units: &Units) -> Quantity {
    match kind {
        ReactionKind::Force => force(value, units),
        ReactionKind::Couple => couple(value, units),
    }
}

fn with_unit(value: f64, unit: &str) -> Quantity {
    Quantity::new(number(value), unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn few_digits_and_no_negative_zero() {
        for (value, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (-2.5, "\u{2212}2.5"),
            (1_166.666_6, "1167"),
            (123_456.7, "123457"),
            (100.0, "100"),
            (0.1 + 0.2, "0.3"),
            (-0.25, "\u{2212}0.25"),
            (0.000_123_456, "0.0001235"),
            (-1.5e-9, "\u{2212}1.5×10⁻⁹"),
            (2e12, "2×10¹²"),
            (9.999_999, "10"),
        ] {
            assert_eq!(number(value).to_string(), text);
        }
    }

    #[test]
    fn short_coordinates_are_in_full() {
        let at = |value| coordinate(&Datum::default(), 0, value).to_string();
        assert_eq!(
            [at(0.86275), at(12.345), at(0.0)],
            ["0.86275", "12.345", "0"]
        );
        assert_eq!(at(0.862_748_31), "0.8627");
    }

    #[test]
    fn a_reader_may_ask_for_other_digits() {
        let units = Units::default();
        let found = force(1_166.666_6, &units);
        assert_eq!(found.to_string(), "1167 N");
        assert_eq!(found.with_digits(6).to_string(), "1166.67 N");
        let fixed = Quantity::from(rounded(1.0 / 3.0, 3));
        assert_eq!(fixed.with_digits(6).to_string(), "0.333");
    }

    #[test]
    fn values_come_in_the_scenes_units() {
        let units = Units {
            length: LengthUnit::Millimetre,
            force: ForceUnit::Kilonewton,
            ..Units::default()
        };
        assert_eq!(length(0.25, &units).to_string(), "250 mm");
        assert_eq!(force(-1500.0, &units).to_string(), "\u{2212}1.5 kN");
        assert_eq!(couple(3.0, &units).to_string(), "3 kN·mm");
        assert_eq!(
            reaction_value(3.0, ReactionKind::Couple, &units).to_string(),
            "3 kN·mm"
        );
    }
}
