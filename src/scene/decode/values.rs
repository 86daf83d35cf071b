//! Single values: numbers, texts, coordinates, places, directions.

use std::fmt::{Arguments, Display};

use super::super::problem::{did_you_mean, nearest};
use super::super::source_offsets::TightComma;
use super::super::syntax::{SyntaxNode, Value, clipped};
use super::super::{Coordinates, Direction, Moment, Place, Space};
use super::{Decoder, FormatFault};
use crate::printable::is_printable;

/// Beyond this, products of a few lengths or forces no longer fit into a number.
const LARGEST: f64 = 1e30;

/// How a text is written.
pub(crate) const TEXT: &str = "a text in quotes \"…\"";

/// Which numbers a field takes.
#[derive(Debug, Clone, Copy)]
pub(crate) enum NumberRange {
    /// Any.
    Any,
    /// Greater than 0.
    Positive,
    /// 0 or greater.
    NotNegative,
    /// 1 or greater.
    AtLeastOne,
}

impl NumberRange {
    fn contains(self, number: f64) -> bool {
        match self {
            Self::Any => true,
            Self::Positive => number > 0.0,
            Self::NotNegative => number >= 0.0,
            Self::AtLeastOne => number >= 1.0,
        }
    }

    /// For "expected: …".
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Any => "a number",
            Self::Positive => "a number greater than 0",
            Self::NotNegative => "a number, 0 or greater",
            Self::AtLeastOne => "a number, 1 or greater",
        }
    }
}

impl Decoder<'_> {
    /// Reports a value of the wrong sort.
    pub(crate) fn wrong(&mut self, what: impl Display, expected: &str, node: SyntaxNode) {
        self.wrong_with_hint(what, expected, node, None);
    }

    /// The same with what to try.
    pub(crate) fn wrong_with_hint(
        &mut self,
        what: impl Display,
        expected: &str,
        node: SyntaxNode,
        hint: Option<String>,
    ) {
        self.findings
            .error_with(node.offset, || FormatFault::WrongValue {
                what: what.to_string(),
                expected: expected.to_owned(),
                found: node.describe(),
                hint: hint.or_else(|| match node.value() {
                    Value::Optional => {
                        Some("write the value alone, or leave the field out".to_owned())
                    }
                    _ => None,
                }),
            });
    }

    pub(crate) fn number(
        &mut self,
        what: Arguments,
        range: NumberRange,
        node: SyntaxNode,
    ) -> Option<f64> {
        match node.value() {
            Value::Number(number) if !number.is_finite() => {
                self.wrong(what, &format!("{} that is finite", range.words()), node);
            }
            Value::Number(number) if number.abs() > LARGEST => {
                self.wrong(
                    what,
                    &format!("{} of a size below {LARGEST:e}", range.words()),
                    node,
                );
            }
            Value::Number(number) if range.contains(number) => return Some(number),
            Value::Text(text) if text.trim().parse::<f64>().is_ok() => {
                let hint = "numbers stand without quotes".to_owned();
                self.wrong_with_hint(what, range.words(), node, Some(hint));
            }
            _ => self.wrong(what, range.words(), node),
        }
        None
    }

    pub(crate) fn text(&mut self, what: impl Display, node: SyntaxNode) -> Option<String> {
        match node.value() {
            Value::Text(text) => return Some(text.into_owned()),
            Value::Word => {
                let hint = format!("write \"{}\"", node.name());
                self.wrong_with_hint(what, TEXT, node, Some(hint));
            }
            _ => self.wrong(what, TEXT, node),
        }
        None
    }

    /// A text that is not empty.
    pub(crate) fn name(&mut self, what: Arguments, node: SyntaxNode) -> Option<String> {
        let name = self.text(what, node)?;
        if name.trim().is_empty() {
            self.wrong(what, "a name that is not empty", node);
            return None;
        }
        let length = name.chars().count();
        if length > super::LONGEST_NAME {
            let what = what.to_string();
            self.findings
                .error(node.offset, FormatFault::LongName { what, length });
            return None;
        }
        self.printable(what, name, "", node)
    }

    /// A text whose characters can all be shown, or are among those also allowed.
    pub(crate) fn printable(
        &mut self,
        what: impl Display,
        text: String,
        also: &str,
        node: SyntaxNode,
    ) -> Option<String> {
        let unprintable = |c: &char| !is_printable(*c) && !also.contains(*c);
        let Some(character) = text.chars().find(unprintable) else {
            return Some(text);
        };
        let what = what.to_string();
        let fault = FormatFault::Unprintable { what, character };
        self.findings.error(node.offset, fault);
        None
    }

    /// A number without fraction, 0 or greater.
    pub(crate) fn whole_number(&mut self, what: Arguments, node: SyntaxNode) -> Option<u64> {
        match node.value() {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "checked just before"
            )]
            Value::Number(number) if number >= 0.0 && number.fract() == 0.0 => Some(number as u64),
            _ => {
                self.wrong(what, "a whole number", node);
                None
            }
        }
    }

    /// One of several words.
    pub(crate) fn word<T: Copy>(
        &mut self,
        what: Arguments,
        words: &[(&'static str, T)],
        otherwise: fn(&str) -> Option<&'static str>,
        node: SyntaxNode,
    ) -> Option<T> {
        let found = words.iter().find(|(word, _)| *word == node.name());
        if let (Some((_, meaning)), Value::Word) = (found, node.value()) {
            return Some(*meaning);
        }
        let hint = match node.value() {
            Value::Text(text) if words.iter().any(|(word, _)| *word == text) => {
                Some(format!("write {text} without quotes"))
            }
            Value::Text(text) => otherwise(&text).map(str::to_owned),
            _ => otherwise(node.name()).map(str::to_owned).or_else(|| {
                did_you_mean(nearest(node.name(), words.iter().map(|(word, _)| *word)))
            }),
        };
        let words: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        self.wrong_with_hint(what, &format!("one of {}", words.join(", ")), node, hint);
        None
    }

    /// Length, depth and height, in the plane too.
    pub(crate) fn edges(&mut self, what: Arguments, node: SyntaxNode) -> Option<[f64; 3]> {
        match node.value() {
            Value::Tuple(parts) if parts.len() == 2 && self.space == Space::Planar => {
                let hint =
                    "in the plane the edge in the middle is the depth: (length, depth, height)";
                self.wrong_with_hint(what, tuple_words(3), node, Some(hint.to_owned()));
                None
            }
            _ => self.numbers(what, NumberRange::Positive, node),
        }
    }

    /// Exactly `N` numbers in parentheses.
    pub(crate) fn numbers<const N: usize>(
        &mut self,
        what: Arguments,
        range: NumberRange,
        node: SyntaxNode,
    ) -> Option<[f64; N]> {
        self.tuple(what, node, |decoder, what, _, part| {
            decoder.number(what, range, part)
        })
    }

    /// Exactly `N` numbers in parentheses, each read with its index.
    fn tuple<const N: usize>(
        &mut self,
        what: Arguments,
        node: SyntaxNode,
        mut read: impl FnMut(&mut Self, Arguments, usize, SyntaxNode) -> Option<f64>,
    ) -> Option<[f64; N]> {
        let Value::Tuple(parts) = node.value() else {
            let hint = round_brackets(node);
            self.wrong_with_hint(what, tuple_words(N), node, hint);
            return None;
        };
        if parts.len() != N || !node.name().is_empty() {
            let hint = match parts.len() {
                n if n == 2 * N
                    || n == N + node.commas().iter().filter(|comma| comma.tight).count() =>
                {
                    Some(DECIMAL_POINT)
                }
                2 if N == 3 => Some("a scene in the plane begins with `space: planar`"),
                _ => None,
            };
            let hint = hint.map(str::to_owned);
            self.wrong_with_hint(what, tuple_words(N), node, hint);
            return None;
        }
        self.note_commas(node);
        let mut numbers = [0.0; N];
        let mut whole = true;
        for (index, (number, part)) in numbers.iter_mut().zip(parts).enumerate() {
            match read(self, format_args!("a number of {what}"), index, part) {
                Some(value) => *number = value,
                None => whole = false,
            }
        }
        whole.then_some(numbers)
    }

    /// Keeps in mind how the commas between numbers are written.
    fn note_commas(&mut self, node: SyntaxNode) {
        let commas = node.commas();
        let tight = commas.iter().filter(|comma| comma.tight).count();
        let spaced = commas.iter().filter(|comma| comma.spaced).count();
        self.places.commas.loose += usize::from(spaced == commas.len());
        let whole = |text: &str| {
            text.trim_start_matches('-')
                .bytes()
                .all(|b| b.is_ascii_digit())
        };
        let may_be_decimal = commas.iter().filter(|comma| {
            let zero = comma.after.bytes().all(|digit| digit == b'0');
            comma.tight && whole(comma.before) && whole(comma.after) && !zero
        });
        let beside_loose = spaced > 0;
        // Three numbers without any space are no decimal and another number.
        if tight > 0 && (beside_loose || commas.len() == 1) {
            let found = may_be_decimal.map(|comma| TightComma {
                offset: comma.offset,
                before: comma.before.to_owned(),
                after: comma.after.to_owned(),
                beside_loose,
            });
            self.places.commas.tight.extend(found);
        }
    }

    /// Components of a vector: two numbers in the plane, three in space.
    pub(crate) fn vector(&mut self, what: Arguments, node: SyntaxNode) -> Option<Coordinates> {
        self.coordinates(what, node, |decoder, what, _, part| {
            let number = decoder.number(what, NumberRange::Any, part)?;
            Some(decoder.positions.component(part, number))
        })
    }

    /// Coordinates of a point, counted from the datum.
    pub(crate) fn position(&mut self, what: Arguments, node: SyntaxNode) -> Option<Coordinates> {
        self.coordinates(what, node, |decoder, what, axis, part| {
            let number = decoder.number(what, NumberRange::Any, part)?;
            Some(decoder.positions.coordinate(axis, part, number))
        })
    }

    fn coordinates(
        &mut self,
        what: Arguments,
        node: SyntaxNode,
        read: impl FnMut(&mut Self, Arguments, usize, SyntaxNode) -> Option<f64>,
    ) -> Option<Coordinates> {
        match self.space {
            Space::Planar => self.tuple(what, node, read).map(Coordinates::Plane),
            Space::Spatial => self.tuple(what, node, read).map(Coordinates::Space),
        }
    }

    pub(crate) fn moment(&mut self, what: Arguments, node: SyntaxNode) -> Option<Moment> {
        match self.space {
            Space::Planar => self.number(what, NumberRange::Any, node).map(Moment::Plane),
            Space::Spatial => self
                .numbers(what, NumberRange::Any, node)
                .map(Moment::Space),
        }
    }

    pub(crate) fn place(&mut self, what: Arguments, node: SyntaxNode) -> Option<Place> {
        match node.value() {
            Value::Text(name) => {
                self.positions.used_name(&name);
                Some(Place::Named(name.into_owned()))
            }
            Value::Tuple(_) if node.name().is_empty() => {
                let at = self.position(what, node)?;
                self.positions.used(at.components());
                Some(Place::At(at))
            }
            value => {
                let hint = match value {
                    Value::Word => Some(format!("write \"{}\"", node.name())),
                    _ => round_brackets(node),
                };
                self.wrong_with_hint(what, place_words(self.space), node, hint);
                None
            }
        }
    }

    /// What to write for the name of an axis, with or without its sign.
    fn along_axis(&self, name: &str) -> Option<String> {
        let (sign, axis) = match name.trim().strip_prefix('-') {
            Some(axis) => ("-", axis),
            None => ("", name.trim().trim_start_matches('+')),
        };
        let axes = ["x", "y", "z"];
        let which = axes
            .iter()
            .position(|known| axis.eq_ignore_ascii_case(known))?;
        let count = self.space.axes();
        let components = (0..count).map(|i| match i == which {
            true => format!("{sign}1"),
            false => "0".to_owned(),
        });
        let components: Vec<String> = components.collect();
        (which < count).then(|| format!("write `({})`", components.join(", ")))
    }

    fn is_point(&self, name: &str) -> bool {
        let names = &self.places.point_names;
        names.iter().any(|given| given.name == name)
    }

    pub(crate) fn direction(&mut self, what: Arguments, node: SyntaxNode) -> Option<Direction> {
        let planar = self.space == Space::Planar;
        match (node.name(), node.value()) {
            ("", Value::Tuple(_)) => self.vector(what, node).map(Direction::Along),
            ("Towards", Value::Tuple(parts)) if parts.len() == 1 => self
                .place(format_args!("`Towards` of {what}"), parts[0])
                .map(Direction::Towards),
            ("Angle", Value::Tuple(parts)) if planar && parts.len() == 1 => {
                let angle = self.number(
                    format_args!("`Angle` of {what}"),
                    NumberRange::Any,
                    parts[0],
                );
                angle.map(Direction::Angle)
            }
            (name, value) => {
                let hint = match value {
                    Value::Word => self.along_axis(name),
                    Value::List(_) => round_brackets(node),
                    Value::Text(text)
                        if !self.is_point(&text) && self.along_axis(&text).is_some() =>
                    {
                        self.along_axis(&text)
                    }
                    Value::Text(text) => Some(format!("write Towards(\"{}\")", clipped(&text))),
                    Value::Number(degrees) if planar => Some(format!("write Angle({degrees})")),
                    _ if name == "Angle" && !planar => {
                        Some("angles are for planar scenes".to_owned())
                    }
                    _ => None,
                };
                self.wrong_with_hint(what, direction_words(self.space), node, hint);
                None
            }
        }
    }
}

/// What to try for numbers with decimal commas.
const DECIMAL_POINT: &str = "a decimal point is `.`, not `,`: write 0.5, not 0,5";

/// What to try for `[0, 0, 0]`.
fn round_brackets(node: SyntaxNode) -> Option<String> {
    let is_list = matches!(node.value(), Value::List(_));
    is_list.then(|| "write it in parentheses: `(…)` in place of `[…]`".to_owned())
}

/// How a position is written.
pub(crate) fn place_words(space: Space) -> &'static str {
    match space {
        Space::Spatial => "a point: its name in quotes, or `(x, y, z)`",
        Space::Planar => "a point: its name in quotes, or `(x, y)`",
    }
}

/// How a direction is written.
pub(crate) fn direction_words(space: Space) -> &'static str {
    match space {
        Space::Spatial => "a direction: `(x, y, z)` or `Towards(…)`",
        Space::Planar => "a direction: `(x, y)`, `Angle(degrees)` or `Towards(…)`",
    }
}

/// How a number of numbers is written.
pub(crate) fn tuple_words(count: usize) -> &'static str {
    match count {
        2 => "two numbers `(x, y)`, as in every planar scene",
        _ => "three numbers `(x, y, z)`",
    }
}
