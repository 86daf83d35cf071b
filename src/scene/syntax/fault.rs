//! What can be wrong with the syntax of a scene text, in words.

use super::super::problem::{Explain, Position};
use super::cause::closing;

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
    /// Fields without the parentheses around them.
    #[error("the scene is not in parentheses")]
    Bare,
    /// A character that starts no value.
    #[error("`{character}` cannot stand here")]
    UnexpectedCharacter {
        /// The character.
        character: char,
    },
    /// A closing bracket of another kind than the one that is open.
    #[error("`{found}` cannot close the `{bracket}` of line {}, column {}", .opened.line, .opened.column)]
    OtherBracket {
        /// The closing bracket.
        found: char,
        /// The opening one.
        bracket: char,
        /// Where it stands.
        opened: Position,
    },
    /// The text ends before a bracket is closed.
    #[error("the text ends within the `{bracket}` of line {}, column {}", .opened.line, .opened.column)]
    EndsWithin {
        /// The bracket.
        bracket: char,
        /// Where it stands.
        opened: Position,
    },
    /// `1/8`.
    #[error("a fraction is no number here")]
    Fraction,
    /// `48 mm`.
    #[error("a number carries a unit or another word")]
    NumberWithUnit,
    /// A comma or closing bracket where a value is due.
    #[error("a value is missing before this place")]
    MissingValue,
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
            // Single quotes hold one character, and no text.
            Error::ExpectedChar => Self::UnexpectedCharacter { character: '\'' },
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
            Self::Empty | Self::Bare => Some("`(format: 1, …)`".to_owned()),
            Self::UnexpectedCharacter { character: ';' } => Some("`,`".to_owned()),
            Self::UnexpectedCharacter { .. } => Some(
                "a number, a text in quotes, `(…)`, `[…]` or a kind such as `Hinge(…)`".to_owned(),
            ),
            _ => None,
        }
    }

    fn hint(&self) -> Option<String> {
        let hint = match self {
            Self::Empty | Self::TooDeep => return None,
            Self::Bare => {
                "write `(` before the first field and `)` behind the last, with commas between fields"
            }
            Self::Extension => "remove the line `#![enable(…)]`",
            Self::UnexpectedEnd => "close every `(`, `[`, `{` and quote",
            Self::MissingComma => "separate values by commas; a decimal point is `.`",
            Self::MissingBracket { .. } => "check the brackets and commas just before",
            Self::MissingColon => "fields are written `name: value`",
            Self::MissingFieldName => {
                "fields are written `name: value`; a decimal point is `.`, not `,`"
            }
            Self::Unclosed { what } if what.contains("comment") => "close it by `*/`",
            Self::Unclosed { .. } => {
                "close it where it is meant to end; inside a text, a quote is written `\\\"`"
            }
            Self::MissingValue => "write it, or leave the field or the comma out",
            Self::OtherBracket { bracket, .. } => {
                let close = closing(*bracket);
                return Some(format!(
                    "write the `{close}` that is missing, or open with the other bracket"
                ));
            }
            Self::EndsWithin { bracket, .. } => {
                let close = closing(*bracket);
                return Some(format!("write the `{close}` that is missing"));
            }
            Self::Fraction => "write it as a decimal: 0.125 for 1/8",
            Self::NumberWithUnit => {
                "numbers stand alone; the units of the whole scene stand in `units: (length: mm)`"
            }
            Self::Trailing => "check whether a `)` closes the scene too early",
            Self::UnexpectedCharacter {
                character: '\'' | '“' | '”' | '„' | '‘' | '’',
            } => "texts stand in straight double quotes \"…\"",
            Self::UnexpectedCharacter {
                character: '−' | '–',
            } => "the minus sign is `-`",
            Self::UnexpectedCharacter { character: ';' } => "values are separated by commas",
            Self::UnexpectedCharacter { character: '#' } => "comments begin with `//`",
            Self::UnexpectedCharacter { .. } => "check the brackets and commas just before",
            Self::Other { .. } => "check the brackets, commas and quotes around this place",
        };
        Some(hint.to_owned())
    }
}
