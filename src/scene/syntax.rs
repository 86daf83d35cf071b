//! Scene text as a tree of nodes that know where they stand.
//!
//! The `ron` crate does all tokenising. A [`Node`] is a slice of the text that holds one value; [`Node::value`] opens it
//! one level deep, its parts being nodes again. What a value means is no matter of this file.

use std::borrow::Cow;
use std::fmt;

use ron::value::RawValue;
use serde::de::{Deserialize, Deserializer as _, IgnoredAny, MapAccess, SeqAccess, Visitor};

use super::problem::{Explain, Position};

/// One value of the text.
#[derive(Debug, Clone, Copy)]
pub struct Node<'de> {
    /// The text from the value's first character on; white space and comments may follow the value.
    text: &'de str,
    /// Where the value starts, in bytes from the start of the whole text.
    pub offset: usize,
}

/// A node opened one level deep.
#[derive(Debug)]
pub enum Value<'de> {
    /// A number; integers are numbers too.
    Number(f64),
    /// Text in quotes.
    Text(Cow<'de, str>),
    /// `true` or `false`.
    Switch(bool),
    /// A bare word, see [`Node::name`].
    Word,
    /// `[…]`.
    List(Vec<Node<'de>>),
    /// `(…)` or `Name(…)` without field names.
    Tuple(Vec<Node<'de>>),
    /// `(field: …)` or `Name(field: …)`.
    Fields(Vec<Field<'de>>),
    /// `{key: …}`.
    Map(Vec<(Node<'de>, Node<'de>)>),
    /// `Some(…)` or `None`.
    Optional,
    /// Anything else that the syntax knows: characters, byte strings, ranges.
    Other,
}

/// One `name: value` of a struct.
#[derive(Debug)]
pub struct Field<'de> {
    /// Name of the field.
    pub key: &'de str,
    /// Where the name starts, in bytes from the start of the whole text.
    pub key_offset: usize,
    /// Its value.
    pub node: Node<'de>,
}

impl<'de> Node<'de> {
    /// The node of a whole document.
    ///
    /// # Errors
    /// The first violation of the syntax, with the place where reading stopped.
    pub fn document(source: &'de str) -> Result<Self, (Option<Position>, SyntaxFault)> {
        let fault = |error: ron::error::SpannedError| {
            let position = Position {
                line: error.span.end.line,
                column: error.span.end.col,
            };
            (Some(position), SyntaxFault::from(error.code))
        };
        let start = ron::Deserializer::from_str(source).map_err(fault)?;
        if start.remainder().is_empty() {
            return Err((None, SyntaxFault::Empty));
        }
        if !start.extensions().is_empty() {
            return Err((Some(Position::START), SyntaxFault::Extension));
        }
        ron::from_str::<IgnoredAny>(source).map_err(fault)?;
        Ok(Self::at(source, start.remainder()))
    }

    fn at(source: &'de str, part: &'de str) -> Self {
        Self {
            text: part,
            offset: offset_within(source, part),
        }
    }

    /// Word in front of the value: the `Hinge` of `Hinge(…)`; empty for none.
    pub fn name(&self) -> &'de str {
        let end = self
            .text
            .find(|c: char| !(c.is_alphanumeric() || c == '_'))
            .unwrap_or(self.text.len());
        &self.text[..end]
    }

    /// The value, opened one level deep.
    pub fn value(&self) -> Value<'de> {
        // The document has been read through once, so the only failures left are number ranges, whose parts are no nodes.
        ron::Deserializer::from_str(self.text)
            .ok()
            .and_then(|mut text| text.deserialize_any(Opener(*self)).ok())
            .unwrap_or(Value::Other)
    }

    /// What a reader of the file sees here, for "found …".
    pub fn describe(&self) -> String {
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
                n => format!("{n} values in parentheses"),
            }),
            Value::Fields(_) => named("fields in parentheses `(name: …)`"),
            Value::Map(_) => "a map `{…}`".to_owned(),
            Value::Optional => "an optional value".to_owned(),
            Value::Other => "a value of another sort".to_owned(),
        }
    }

    fn child(&self, raw: &'de str) -> Self {
        // Skips the white space and comments that a raw value may begin with.
        let text = ron::Deserializer::from_str(raw).map_or(raw, |raw| raw.remainder());
        Self {
            text,
            offset: self.offset + offset_within(self.text, text),
        }
    }
}

/// At most 40 characters of a text, for messages.
pub fn clipped(text: &str) -> Cow<'_, str> {
    const LONGEST: usize = 40;
    match text.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}…", &text[..end]).into(),
        None => text.into(),
    }
}

fn offset_within(whole: &str, part: &str) -> usize {
    (part.as_ptr() as usize).saturating_sub(whole.as_ptr() as usize)
}

/// Opens a node one level deep.
struct Opener<'de>(Node<'de>);

impl<'de> Visitor<'de> for Opener<'de> {
    type Value = Value<'de>;

    fn expecting(&self, formatter: &mut fmt::Formatter) -> fmt::Result {
        formatter.write_str("any value")
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

    fn visit_unit<E>(self) -> Result<Value<'de>, E> {
        Ok(match self.0.name() {
            "" => Value::Tuple(Vec::new()),
            _ => Value::Word,
        })
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut parts: A) -> Result<Value<'de>, A::Error> {
        let mut items = Vec::new();
        while let Some(raw) = parts.next_element::<&'de RawValue>()? {
            items.push(self.0.child(raw.get_ron()));
        }
        Ok(match self.0.text.starts_with('[') {
            true => Value::List(items),
            false => Value::Tuple(items),
        })
    }

    fn visit_map<A: MapAccess<'de>>(self, mut parts: A) -> Result<Value<'de>, A::Error> {
        if self.0.text.starts_with('{') {
            let mut entries = Vec::new();
            while let Some((key, value)) = parts.next_entry::<&RawValue, &RawValue>()? {
                entries.push((self.0.child(key.get_ron()), self.0.child(value.get_ron())));
            }
            return Ok(Value::Map(entries));
        }
        let mut fields = Vec::new();
        while let Some((key, value)) = parts.next_entry::<&'de str, &RawValue>()? {
            fields.push(Field {
                key,
                key_offset: self.0.offset + offset_within(self.0.text, key),
                node: self.0.child(value.get_ron()),
            });
        }
        Ok(Value::Fields(fields))
    }
}

/// A violation of the RON syntax, in words for someone who writes scenes.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SyntaxFault {
    /// Nothing but white space and comments.
    #[error("the file holds no scene")]
    Empty,
    /// `#![enable(…)]` at the top.
    #[error("syntax extensions are not used in scene files")]
    Extension,
    /// The text ends inside something.
    #[error("the text ends before the scene does")]
    UnexpectedEnd,
    /// Two values, or a value and its neighbour, stand side by side.
    #[error("a comma is missing before this place")]
    MissingComma,
    /// A bracket is still open.
    #[error("a closing `{bracket}` is missing before this place")]
    MissingBracket {
        /// The bracket.
        bracket: char,
    },
    /// A field name without colon.
    #[error("a colon is missing after a field name")]
    MissingColon,
    /// A field name was due.
    #[error("a field name is missing before this place")]
    MissingFieldName,
    /// A quote or comment is still open.
    #[error("{what} is not closed")]
    Unclosed {
        /// What was opened.
        what: &'static str,
    },
    /// Text after the scene.
    #[error("there is more text after the scene's closing `)`")]
    Trailing,
    /// A character that starts no value.
    #[error("`{character}` cannot stand here")]
    UnexpectedCharacter {
        /// The character.
        character: char,
    },
    /// Brackets within brackets, more than any scene needs.
    #[error("brackets are nested too deeply")]
    TooDeep,
    /// Anything else, in the words of the syntax library.
    #[error("syntax: {message}")]
    Other {
        /// The library's message.
        message: String,
    },
}

impl From<ron::Error> for SyntaxFault {
    fn from(error: ron::Error) -> Self {
        use ron::Error;
        match error {
            Error::Eof => Self::UnexpectedEnd,
            Error::ExpectedComma => Self::MissingComma,
            Error::ExpectedArrayEnd => Self::MissingBracket { bracket: ']' },
            Error::ExpectedMapEnd => Self::MissingBracket { bracket: '}' },
            Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => {
                Self::MissingBracket { bracket: ')' }
            }
            Error::ExpectedMapColon => Self::MissingColon,
            Error::ExpectedIdentifier
            | Error::InvalidIdentifier(_)
            | Error::SuggestRawIdentifier(_) => Self::MissingFieldName,
            Error::ExpectedStringEnd => Self::Unclosed {
                what: "a text in quotes",
            },
            Error::UnclosedBlockComment => Self::Unclosed {
                what: "a comment `/*`",
            },
            Error::TrailingCharacters => Self::Trailing,
            Error::UnexpectedChar(character) => Self::UnexpectedCharacter { character },
            Error::ExceededRecursionLimit => Self::TooDeep,
            other => Self::Other {
                message: other.to_string(),
            },
        }
    }
}

impl Explain for SyntaxFault {
    fn expected(&self) -> Option<String> {
        match self {
            Self::Empty => Some("`(format: 1, …)`".to_owned()),
            Self::UnexpectedCharacter { .. } => Some(
                "a number, a text in quotes, `(…)`, `[…]` or a kind such as `Hinge(…)`".to_owned(),
            ),
            _ => None,
        }
    }

    fn hint(&self) -> Option<String> {
        let hint = match self {
            Self::Empty | Self::TooDeep => return None,
            Self::Extension => "remove the line `#![enable(…)]`",
            Self::UnexpectedEnd => "close every `(`, `[`, `{` and quote",
            Self::MissingComma => "separate values by commas; a decimal point is `.`",
            Self::MissingBracket { .. } => "check the brackets and commas just before",
            Self::MissingColon => "fields are written `name: value`",
            Self::MissingFieldName => {
                "fields are written `name: value`; a decimal point is `.`, not `,`"
            }
            Self::Unclosed { .. } => "look for the place where it begins",
            Self::Trailing => "check whether a `)` closes the scene too early",
            Self::UnexpectedCharacter {
                character: '\'' | '“' | '”' | '„' | '‘' | '’',
            } => "texts stand in straight double quotes \"…\"",
            Self::UnexpectedCharacter {
                character: '−' | '–',
            } => "the minus sign is `-`",
            Self::UnexpectedCharacter {
                character: ')' | ']' | '}',
            } => "a bracket of another kind is still open here",
            Self::UnexpectedCharacter { character: '#' } => "comments begin with `//`",
            Self::UnexpectedCharacter { .. } => "check the brackets and commas just before",
            Self::Other { .. } => "check the brackets, commas and quotes around this place",
        };
        Some(hint.to_owned())
    }
}
