//! What can be wrong with the syntax of a scene text, in words.

use super::super::problem::{Explain, Position};
use crate::scene::decode::SCENE_FIELDS;

/// A violation of the RON syntax, in words for someone who writes scenes.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub(crate) enum SyntaxFault {
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
    #[error("a comma is missing before this")]
    MissingComma,
    /// A bracket is still open.
    #[error("a closing `{bracket}` is missing before this")]
    MissingBracket {
        /// The bracket.
        bracket: char,
    },
    /// A field name without colon.
    #[error("a colon is missing after a field name")]
    MissingColon,
    /// A field name was due.
    #[error("a field name is missing before this")]
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
    #[error("a fraction is not a number here")]
    Fraction,
    /// `48 mm`.
    #[error("a number carries a unit or another word")]
    NumberWithUnit,
    /// `# …`.
    #[error("`{mark}` does not begin a comment here")]
    OtherComment {
        /// What was meant to begin it.
        mark: &'static str,
    },
    /// `name = value`.
    #[error("`=` cannot stand between a field and its value")]
    EqualsSign,
    /// `[…, field: …`.
    #[error("the field `{field}` begins within the list `[` of line {}, column {}", .opened.line, .opened.column)]
    FieldInList {
        /// The field.
        field: String,
        /// Where the list begins.
        opened: Position,
    },
    /// `-x`.
    #[error("`{sign}{word}` is not a value")]
    SignedWord {
        /// The sign.
        sign: char,
        /// The word after it.
        word: String,
    },
    /// `space: 3d`.
    #[error("`{word}` is not a space that a scene can have")]
    WordForSpace {
        /// As written.
        word: String,
    },
    /// What begins like a number and is none.
    #[error("no number can be read here")]
    NoNumber,
    /// A backslash in a text that begins nothing known.
    #[error("a backslash in a text has no meaning here")]
    Escape,
    /// A comma or closing bracket where a value is due.
    #[error("a value is missing before this")]
    MissingValue,
    /// Brackets within brackets, more than any scene needs.
    #[error("brackets are nested too deeply")]
    TooDeep,
    /// Anything else.
    #[error("the text cannot be read from here on")]
    Other,
}

/// The bracket that closes another.
pub(crate) fn closing(bracket: char) -> char {
    match bracket {
        '(' => ')',
        '[' => ']',
        _ => '}',
    }
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
            Error::ExpectedInteger
            | Error::ExpectedFloat
            | Error::FloatUnderscore
            | Error::IntegerOutOfBounds
            | Error::InvalidIntegerDigit { .. }
            | Error::UnderscoreAtBeginning => Self::NoNumber,
            Error::InvalidEscape(_) => Self::Escape,
            _ => Self::Other,
        }
    }
}

/// What to write for an axis with a sign.
fn signed_axis(sign: char, word: &str) -> String {
    let one = if sign == '-' { "-1" } else { "1" };
    let (spatial, planar) = match word {
        "x" | "X" => (format!("({one}, 0, 0)"), format!("({one}, 0)")),
        "y" | "Y" => (format!("(0, {one}, 0)"), format!("(0, {one})")),
        "z" | "Z" => return format!("write `(0, 0, {one})`"),
        _ => return "names stand in quotes, numbers in digits".to_owned(),
    };
    format!("write `{spatial}`, or `{planar}` in the plane")
}

impl Explain for SyntaxFault {
    fn expected(&self) -> Option<String> {
        match self {
            Self::Empty | Self::Bare => Some("`(format: 1, …)`".to_owned()),
            Self::UnexpectedCharacter { character: ';' } => Some("`,`".to_owned()),
            Self::OtherComment { .. } => Some("`//` before a comment".to_owned()),
            Self::EqualsSign => Some("`name: value`".to_owned()),
            Self::NoNumber => Some("a number in digits, such as -0.5 or 1.2e-3".to_owned()),
            Self::SignedWord { .. } => {
                Some("a number, or a direction such as `(0, 0, -1)`".to_owned())
            }
            Self::WordForSpace { .. } => Some("one of spatial, planar".to_owned()),
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
                "write `(` before the first field and `)` after the last, separated by commas"
            }
            Self::Extension => "remove the line `#![enable(…)]`",
            Self::UnexpectedEnd => "close every `(`, `[`, `{` and quote",
            Self::MissingComma => "separate values with commas; a decimal point is `.`",
            Self::MissingBracket { .. } => "check the brackets and commas just before",
            Self::MissingColon => "fields are written `name: value`",
            Self::MissingFieldName => {
                "fields are written `name: value`; a decimal point is `.`, not `,`"
            }
            Self::Unclosed { what } if what.contains("comment") => "close it with `*/`",
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
            Self::OtherComment { .. } => "write `// …` up to the end of the line, or `/* … */`",
            Self::EqualsSign => "write `:` in place of `=`",
            Self::FieldInList { field, .. } => {
                return Some(match SCENE_FIELDS.contains(&field.as_str()) {
                    true => format!(
                        "close the list with `]` before `{field}`, which is a field of the scene"
                    ),
                    false => format!(
                        "close the list with `]` before `{field}`, or put the fields of each item in parentheses"
                    ),
                });
            }
            Self::SignedWord { sign, word } => return Some(signed_axis(*sign, word)),
            Self::WordForSpace { word } => match word.starts_with('2') {
                true => "write `space: planar`",
                false => "write `space: spatial`, or leave it out",
            },
            Self::NoNumber => "sums, products and roots are not worked out: write their value",
            Self::Escape => "a backslash itself is written `\\\\`, a quote `\\\"`",
            Self::Fraction => "write it as a decimal: 0.125 for 1/8",
            Self::NumberWithUnit => {
                "numbers stand alone: angles are in degrees, and units are given once for the whole scene, as in `units: (length: mm)`"
            }
            Self::Trailing => "check whether a `)` closes the scene too early",
            Self::UnexpectedCharacter {
                character: '\'' | '“' | '”' | '„' | '‘' | '’',
            } => "texts stand in straight double quotes \"…\"",
            Self::UnexpectedCharacter {
                character: '−' | '–',
            } => "the minus sign is `-`",
            Self::UnexpectedCharacter { character: ';' } => "values are separated by commas",
            Self::UnexpectedCharacter { .. } => "check the brackets and commas just before",
            Self::Other => "check the brackets, commas and quotes around this place",
        };
        Some(hint.to_owned())
    }
}

#[cfg(test)]
mod tests {
    use crate::scene::read_str;

    #[test]
    fn a_windows_path_in_a_title_is_a_backslash_without_meaning() {
        let text = "(format: 1, title: \"C:\\drum\", body: [])";
        let error = read_str("drum.ron", text).unwrap_err();
        let problem = &error.problems[0];
        assert_eq!(problem.message, "a backslash in a text has no meaning here");
        assert_eq!(
            problem.hint.as_deref(),
            Some(r#"a backslash itself is written `\\`, a quote `\"`"#)
        );
    }
}
