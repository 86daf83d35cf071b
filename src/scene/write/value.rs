//! What a scene is written as: a tree of values, with the fields of an item in the order of writing.

use ron::value::RawValue;
use serde::ser::{
    Serialize, SerializeMap, SerializeSeq, SerializeStruct, SerializeTuple, Serializer,
};

use super::super::{Coordinates, Direction, Place};

/// A value of the text to write.
pub(super) enum WrittenValue {
    Number(f64),
    /// A coordinate of a position along an axis, from the datum.
    Position(usize, f64),
    /// A number in the digits given.
    Written(String),
    Whole(u64),
    Text(String),
    Word(&'static str),
    Switch(bool),
    Tuple(Vec<WrittenValue>),
    List(Vec<WrittenValue>),
    Map(Vec<(String, WrittenValue)>),
    /// `Name(field: …)`; without a name where that is empty.
    Item(&'static str, Vec<(&'static str, WrittenValue)>),
    /// `Name(…)`.
    Wrapped(&'static str, Box<WrittenValue>),
}

impl WrittenValue {
    /// The same with every coordinate of a position replaced.
    pub(super) fn with_positions(self, replace: &impl Fn(usize, f64) -> Self) -> Self {
        let all = |parts: Vec<Self>| parts.into_iter().map(|part| part.with_positions(replace));
        match self {
            Self::Position(axis, coordinate) => replace(axis, coordinate),
            Self::Tuple(parts) => Self::Tuple(all(parts).collect()),
            Self::List(parts) => Self::List(all(parts).collect()),
            Self::Map(entries) => {
                let (keys, values): (Vec<_>, _) = entries.into_iter().unzip();
                Self::Map(keys.into_iter().zip(all(values)).collect())
            }
            Self::Item(name, fields) => {
                let (keys, values): (Vec<_>, _) = fields.into_iter().unzip();
                Self::Item(name, keys.into_iter().zip(all(values)).collect())
            }
            Self::Wrapped(name, value) => {
                Self::Wrapped(name, Box::new(value.with_positions(replace)))
            }
            value => value,
        }
    }
}

impl Serialize for WrittenValue {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Number(number) | Self::Position(_, number) => {
                serialize_number(*number, serializer)
            }
            Self::Written(digits) => RawValue::from_ron(digits)
                .map_err(serde::ser::Error::custom)?
                .serialize(serializer),
            Self::Whole(number) => serializer.serialize_u64(*number),
            Self::Text(text) => serializer.serialize_str(text),
            Self::Word(word) => serializer.serialize_unit_variant("Scene", 0, word),
            Self::Switch(switch) => serializer.serialize_bool(*switch),
            Self::Tuple(parts) => {
                let mut tuple = serializer.serialize_tuple(parts.len())?;
                parts
                    .iter()
                    .try_for_each(|part| tuple.serialize_element(part))?;
                tuple.end()
            }
            Self::List(parts) => {
                let mut list = serializer.serialize_seq(Some(parts.len()))?;
                parts
                    .iter()
                    .try_for_each(|part| list.serialize_element(part))?;
                list.end()
            }
            Self::Map(entries) => {
                let mut map = serializer.serialize_map(Some(entries.len()))?;
                entries
                    .iter()
                    .try_for_each(|(key, value)| map.serialize_entry(key, value))?;
                map.end()
            }
            Self::Item(name, fields) => serialize_item(name, fields, serializer),
            Self::Wrapped(name, value) => {
                serializer.serialize_newtype_variant("Scene", 0, name, value)
            }
        }
    }
}

/// Numbers without a fraction are written without one, as people do.
#[expect(clippy::cast_possible_truncation, reason = "checked just before")]
fn serialize_number<S: Serializer>(number: f64, serializer: S) -> Result<S::Ok, S::Error> {
    const LARGEST_PLAIN: f64 = 1e15;
    let is_negative_zero = number == 0.0 && number.is_sign_negative();
    match number.fract() == 0.0 && number.abs() < LARGEST_PLAIN && !is_negative_zero {
        true => serializer.serialize_i64(number as i64),
        false => serializer.serialize_f64(number),
    }
}

fn serialize_item<S: Serializer>(
    name: &'static str,
    fields: &[(&'static str, WrittenValue)],
    serializer: S,
) -> Result<S::Ok, S::Error> {
    use serde::ser::SerializeStructVariant as Named;
    if name.is_empty() {
        let mut item = serializer.serialize_struct("Scene", fields.len())?;
        fields
            .iter()
            .try_for_each(|(field, value)| item.serialize_field(field, value))?;
        return item.end();
    }
    let mut item = serializer.serialize_struct_variant("Scene", 0, name, fields.len())?;
    fields
        .iter()
        .try_for_each(|(field, value)| Named::serialize_field(&mut item, field, value))?;
    Named::end(item)
}

impl From<f64> for WrittenValue {
    fn from(number: f64) -> Self {
        Self::Number(number)
    }
}

impl From<&str> for WrittenValue {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<&[f64]> for WrittenValue {
    fn from(numbers: &[f64]) -> Self {
        Self::Tuple(numbers.iter().map(|number| Self::Number(*number)).collect())
    }
}

impl From<&Coordinates> for WrittenValue {
    fn from(coordinates: &Coordinates) -> Self {
        match coordinates {
            Coordinates::Plane(xy) => xy.as_slice().into(),
            Coordinates::Space(xyz) => xyz.as_slice().into(),
        }
    }
}

impl From<&Place> for WrittenValue {
    fn from(place: &Place) -> Self {
        match place {
            Place::Named(name) => name.as_str().into(),
            Place::At(coordinates) => position(coordinates),
        }
    }
}

impl From<&Direction> for WrittenValue {
    fn from(direction: &Direction) -> Self {
        match direction {
            Direction::Along(coordinates) => coordinates.into(),
            Direction::Towards(place) => Self::Wrapped("Towards", Box::new(place.into())),
            Direction::Angle(degrees) => Self::Wrapped("Angle", Box::new((*degrees).into())),
        }
    }
}

pub(super) fn position(coordinates: &Coordinates) -> WrittenValue {
    let numbers = match coordinates {
        Coordinates::Plane(xy) => xy.as_slice(),
        Coordinates::Space(xyz) => xyz.as_slice(),
    };
    let numbers = numbers.iter().enumerate();
    WrittenValue::Tuple(
        numbers
            .map(|(axis, x)| WrittenValue::Position(axis, *x))
            .collect(),
    )
}

/// The fields of an item, in the order of writing.
#[derive(Default)]
pub(super) struct WrittenFields(pub(super) Vec<(&'static str, WrittenValue)>);

impl WrittenFields {
    pub(super) fn with(mut self, field: &'static str, value: impl Into<WrittenValue>) -> Self {
        self.0.push((field, value.into()));
        self
    }

    pub(super) fn with_some(
        self,
        field: &'static str,
        value: Option<impl Into<WrittenValue>>,
    ) -> Self {
        match value {
            Some(value) => self.with(field, value),
            None => self,
        }
    }

    /// Leaves the field out where it has its default.
    pub(super) fn with_other_than(self, default: f64, field: &'static str, value: f64) -> Self {
        // A negative zero is not written as such by anyone, but it is read.
        let is_default = value.to_bits() == default.to_bits();
        self.with_some(field, (!is_default).then_some(value))
    }

    /// Leaves an empty list or text out.
    pub(super) fn with_filled(
        self,
        is_filled: bool,
        field: &'static str,
        value: impl FnOnce() -> WrittenValue,
    ) -> Self {
        self.with_some(field, is_filled.then(value))
    }

    pub(super) fn item(self, name: &'static str) -> WrittenValue {
        WrittenValue::Item(name, self.0)
    }
}
