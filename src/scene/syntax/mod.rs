//! Scene text as a tree of nodes that know where they stand.
//!
//! The `ron` crate decides what is a scene text and what a number or text in it means. A [`SyntaxNode`] is a slice of the
//! accepted text that holds one value; [`SyntaxNode::value`] opens it one level deep, its parts being nodes again.

mod cause;
mod fault;

use std::borrow::Cow;
use std::fmt;

use serde::de::{Deserialize, IgnoredAny, Visitor};

use super::problem::{Lines, Position};
use super::split::{SplitPart, parts, skip_space};
use fault::SyntaxFault;

/// One value of the text.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SyntaxNode<'de> {
    /// The text of the value alone.
    text: &'de str,
    /// Where the value starts, in bytes from the start of the whole text.
    pub offset: usize,
}

/// A node opened one level deep.
#[derive(Debug)]
pub(crate) enum Value<'de> {
    /// A number; integers are numbers too.
    Number(f64),
    /// Text in quotes.
    Text(Cow<'de, str>),
    /// `true` or `false`.
    Switch(bool),
    /// A bare word, see [`SyntaxNode::name`].
    Word,
    /// `[…]`.
    List(Vec<SyntaxNode<'de>>),
    /// `(…)` or `Name(…)` without field names.
    Tuple(Vec<SyntaxNode<'de>>),
    /// `(field: …)` or `Name(field: …)`.
    Fields(Vec<SyntaxField<'de>>),
    /// `{key: …}`.
    Map(Vec<(SyntaxNode<'de>, SyntaxNode<'de>)>),
    /// `Some(…)` or `None`.
    Optional,
    /// Anything else that the syntax knows: characters, byte strings, ranges.
    Other,
}

/// A comma between two values.
#[derive(Debug)]
pub(crate) struct Comma<'de> {
    /// Where the value before it starts.
    pub offset: usize,
    /// That value.
    pub before: &'de str,
    /// The value after it.
    pub after: &'de str,
    /// Whether a digit follows at once, as in the decimals of many countries.
    pub tight: bool,
    /// Whether there is a space on either side.
    pub spaced: bool,
}

/// One `name: value` of a struct.
#[derive(Debug)]
pub(crate) struct SyntaxField<'de> {
    /// Name of the field.
    pub key: &'de str,
    /// Where the name starts, in bytes from the start of the whole text.
    pub key_offset: usize,
    /// Its value.
    pub node: SyntaxNode<'de>,
}

impl<'de> SyntaxNode<'de> {
    /// The node of a whole document.
    ///
    /// # Errors
    /// The first violation of the syntax, with the place where it is to be mended.
    pub(crate) fn document(source: &'de str) -> Result<Self, (Option<Position>, SyntaxFault)> {
        let fault = |error: ron::error::SpannedError| {
            let lines = Lines::new(source);
            let stopped = lines.offset(Position {
                line: error.span.end.line,
                column: error.span.end.col,
            });
            let (offset, fault) = cause::look(source, stopped, error.code.into());
            (Some(lines.position(offset)), fault)
        };
        let start = ron::Deserializer::from_str(source).map_err(fault)?;
        if start.remainder().is_empty() {
            return Err((None, SyntaxFault::Empty));
        }
        if !start.extensions().is_empty() {
            return Err((Some(Position::START), SyntaxFault::Extension));
        }
        ron::from_str::<IgnoredAny>(source).map_err(fault)?;
        let document = parts(start.remainder()).first().map(|part| part.value);
        let text = document.ok_or((None, SyntaxFault::Empty))?;
        let offset = offset_within(source, text);
        Ok(Self { text, offset })
    }

    /// The value as written.
    pub(crate) fn text(&self) -> &'de str {
        self.text
    }

    /// Word in front of the value: the `Hinge` of `Hinge(…)`; empty for none.
    pub(crate) fn name(&self) -> &'de str {
        let end = self.text.find(|c: char| !(c.is_alphanumeric() || c == '_'));
        &self.text[..end.unwrap_or(self.text.len())]
    }

    /// The value, opened one level deep.
    pub(crate) fn value(&self) -> Value<'de> {
        let between = |open: char, close: char| self.text.strip_prefix(open)?.strip_suffix(close);
        if let Some(inside) = between('[', ']') {
            return Value::List(self.values(parts(inside)));
        }
        if let Some(inside) = between('{', '}') {
            return self.map(inside);
        }
        match between('"', '"') {
            Some(inside) if !inside.contains('\\') => Value::Text(inside.into()),
            _ => self.named_value(),
        }
    }

    /// A value in parentheses, with or without a name; a bare word; or a scalar.
    fn named_value(&self) -> Value<'de> {
        let name = self.name();
        let rest = skip_space(&self.text[name.len()..]);
        let is_word = name.starts_with(|c: char| !c.is_ascii_digit()) && !is_reserved(name);
        match rest
            .strip_prefix('(')
            .and_then(|rest| rest.strip_suffix(')'))
        {
            Some(inside) if name.is_empty() || is_word => self.parentheses(inside),
            None if rest.is_empty() && is_word => Value::Word,
            _ => self.scalar(),
        }
    }

    fn parentheses(&self, inside: &'de str) -> Value<'de> {
        let parts = parts(inside);
        if parts.first().is_none_or(|part| part.key.is_none()) {
            return Value::Tuple(self.values(parts));
        }
        let field = |SplitPart { key, value }| {
            let key = key?;
            Some(SyntaxField {
                key,
                key_offset: self.child(key).offset,
                node: self.child(value),
            })
        };
        Value::Fields(parts.into_iter().filter_map(field).collect())
    }

    fn map(&self, inside: &'de str) -> Value<'de> {
        let entry = |SplitPart { key, value }| Some((self.child(key?), self.child(value)));
        Value::Map(parts(inside).into_iter().filter_map(entry).collect())
    }

    fn values(&self, parts: Vec<SplitPart<'de>>) -> Vec<Self> {
        parts
            .into_iter()
            .map(|part| self.child(part.value))
            .collect()
    }

    fn scalar(&self) -> Value<'de> {
        let is_plain =
            |byte: u8| byte.is_ascii_digit() || matches!(byte, b'.' | b'-' | b'+' | b'e');
        if self.text.bytes().all(is_plain)
            && let Ok(number) = self.text.parse()
        {
            return Value::Number(number);
        }
        // Ranges of numbers, which no visitor here takes, fail.
        ron::from_str(self.text).unwrap_or(Value::Other)
    }

    /// The commas of a tuple, each with what it separates.
    pub(crate) fn commas(&self) -> Vec<Comma<'de>> {
        let Value::Tuple(items) = self.value() else {
            return Vec::new();
        };
        let pairs = items.windows(2);
        let commas = pairs.map(|pair| {
            let [before, after] = [pair[0], pair[1]];
            let is_one_off = after.offset == before.offset + before.text.len() + 1;
            Comma {
                offset: before.offset,
                before: before.text,
                after: after.text,
                tight: is_one_off && after.text.starts_with(|c: char| c.is_ascii_digit()),
                spaced: !is_one_off,
            }
        });
        commas.collect()
    }

    /// What a reader of the file sees here, for "found …".
    pub(crate) fn describe(&self) -> String {
        let named = |what: &str| match self.name() {
            "" => what.to_owned(),
            name => format!("`{}(…)`", clipped(name)),
        };
        match self.value() {
            // Debug writes very large and small numbers with an exponent.
            Value::Number(number) if number.fract() != 0.0 || number.abs() >= 1e15 => {
                format!("the number {number:?}")
            }
            Value::Number(number) => format!("the number {number}"),
            Value::Text(text) => format!("the text \"{}\"", clipped(&text)),
            Value::Switch(switch) => format!("`{switch}`"),
            Value::Word => format!("the word `{}`", clipped(self.name())),
            Value::List(_) => "a list `[…]`".to_owned(),
            Value::Tuple(items) => named(&match items.len() {
                0 => "empty parentheses `()`".to_owned(),
                1 => "one value in parentheses".to_owned(),
                n => format!("a group of {n} values in parentheses"),
            }),
            Value::Fields(_) => named("a group of fields in parentheses `(name: …)`"),
            Value::Map(_) => "a map `{…}`".to_owned(),
            Value::Optional => "wrapped in `Some(…)`".to_owned(),
            Value::Other => "a value of another sort".to_owned(),
        }
    }

    fn child(&self, text: &'de str) -> Self {
        let offset = self.offset + offset_within(self.text, text);
        Self { text, offset }
    }
}

/// Words that are values of their own.
fn is_reserved(word: &str) -> bool {
    matches!(word, "Some" | "None" | "true" | "false")
        || word.starts_with("inf")
        || word.starts_with("NaN")
}

/// At most 40 characters of a text, for messages.
pub(crate) fn clipped(text: &str) -> Cow<'_, str> {
    const LONGEST: usize = 40;
    match text.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}…", &text[..end]).into(),
        None => text.into(),
    }
}

fn offset_within(whole: &str, part: &str) -> usize {
    (part.as_ptr() as usize).saturating_sub(whole.as_ptr() as usize)
}

/// Reads a scalar.
struct Scalar;

impl<'de> Deserialize<'de> for Value<'de> {
    fn deserialize<D: serde::Deserializer<'de>>(text: D) -> Result<Self, D::Error> {
        text.deserialize_any(Scalar)
    }
}

impl<'de> Visitor<'de> for Scalar {
    type Value = Value<'de>;

    fn expecting(&self, formatter: &mut fmt::Formatter) -> fmt::Result {
        formatter.write_str("a scalar")
    }

    fn visit_bool<E>(self, switch: bool) -> Result<Value<'de>, E> {
        Ok(Value::Switch(switch))
    }

    #[expect(
        clippy::cast_precision_loss,
        reason = "as any decimal that is read into an f64"
    )]
    fn visit_i64<E>(self, number: i64) -> Result<Value<'de>, E> {
        Ok(Value::Number(number as f64))
    }

    #[expect(
        clippy::cast_precision_loss,
        reason = "as any decimal that is read into an f64"
    )]
    fn visit_u64<E>(self, number: u64) -> Result<Value<'de>, E> {
        Ok(Value::Number(number as f64))
    }

    fn visit_f64<E>(self, number: f64) -> Result<Value<'de>, E> {
        Ok(Value::Number(number))
    }

    fn visit_str<E>(self, text: &str) -> Result<Value<'de>, E> {
        Ok(Value::Text(text.to_owned().into()))
    }

    fn visit_borrowed_str<E>(self, text: &'de str) -> Result<Value<'de>, E> {
        Ok(Value::Text(text.into()))
    }

    fn visit_none<E>(self) -> Result<Value<'de>, E> {
        Ok(Value::Optional)
    }

    fn visit_some<D: serde::Deserializer<'de>>(self, inner: D) -> Result<Value<'de>, D::Error> {
        IgnoredAny::deserialize(inner).map(|_| Value::Optional)
    }
}
