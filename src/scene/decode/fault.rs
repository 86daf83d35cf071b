//! What can be wrong with a single value, before any name is looked up.

use super::super::Space;
use super::super::problem::Explain;

/// A part of the text that says nothing this format knows.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub(crate) enum FormatFault {
    /// No `format`.
    #[error("the field `format` is missing")]
    NoFormat,
    /// A `format` of another program version.
    #[error("this file has format {found}, but this program reads format {known}")]
    OtherFormat {
        /// As written.
        found: u64,
        /// The format that is read.
        known: u64,
    },
    /// A value of the wrong sort.
    #[error("{what} is {found}")]
    WrongValue {
        /// What is being read.
        what: String,
        /// What would be right.
        expected: String,
        /// What is there.
        found: String,
        /// What to try.
        hint: Option<String>,
    },
    /// A character that steers a terminal or the order of letters, or is none at all.
    #[error("{what} holds the character U+{:04X}, which cannot be shown", u32::from(*.character))]
    Unprintable {
        /// What is being read.
        what: String,
        /// The first such character.
        character: char,
    },
    /// A name that no figure or report has room for.
    #[error("{what} has {length} letters")]
    LongName {
        /// What is being read.
        what: String,
        /// How many letters.
        length: usize,
    },
    /// A note that nobody can read while speaking.
    #[error("{what} has {length} letters")]
    LongNote {
        /// What is being read.
        what: String,
        /// How many letters.
        length: usize,
    },
    /// `Weight(60)`: values without the names of their fields.
    #[error("{kind} has values without the names of their fields")]
    NamelessFields {
        /// The kind.
        kind: &'static str,
        /// Every field of the kind.
        fields: Vec<&'static str>,
    },
    /// A field left out.
    #[error("{owner} needs a field `{field}`")]
    MissingField {
        /// The item.
        owner: String,
        /// The field.
        field: &'static str,
        /// How its value is written.
        form: &'static str,
    },
    /// Two ways to say one thing, neither used.
    #[error("{owner} needs {choice}")]
    MissingChoice {
        /// The item.
        owner: String,
        /// The possible fields.
        choice: &'static str,
        /// How they are written.
        form: &'static str,
    },
    /// Two ways to say one thing, both used.
    #[error("{owner} has both `{first}` and `{second}`")]
    Both {
        /// The item.
        owner: String,
        /// A field.
        first: &'static str,
        /// Another.
        second: &'static str,
    },
    /// A field that the item does not have.
    #[error("{owner} has no field `{field}`")]
    UnknownField {
        /// The item.
        owner: String,
        /// The field, as written.
        field: String,
        /// What to try.
        hint: Option<String>,
        /// Every field of the item.
        allowed: Vec<&'static str>,
    },
    /// A field given more than once.
    #[error("{owner} gives `{field}` twice")]
    RepeatedField {
        /// The item.
        owner: String,
        /// The field.
        field: String,
    },
    /// A kind that does not exist.
    #[error("{found} is not a {what}")]
    UnknownKind {
        /// Such as "support".
        what: &'static str,
        /// What is there.
        found: String,
        /// What to try.
        hint: Option<String>,
        /// Every kind of the scene's space.
        allowed: Vec<&'static str>,
    },
    /// A kind of another family, such as a load among the supports.
    #[error("`{found}` is a {what}, not a {wanted}")]
    OtherFamily {
        /// What is there.
        found: String,
        /// What it is.
        what: &'static str,
        /// What it would have to be.
        wanted: &'static str,
        /// What to try.
        hint: String,
    },
    /// `{"format": 1}`.
    #[error("the scene is in curly brackets, as JSON is written")]
    Json,
    /// Numbers with more digits than are kept.
    #[error("{written} has more digits than are kept: it is read as {kept}{}", and_others(*others))]
    ManyDigits {
        /// The first one.
        written: String,
        /// What is kept of it.
        kept: String,
        /// How many more numbers have too many digits.
        others: usize,
    },
    /// Positions so far from the origin that an f64 has no digits left for what the rank depends on.
    #[error(
        "so far from the origin, numbers of sixteen digits tell positions only {step:.0e} {unit} apart, \
         in a scene {size:.1e} {unit} across"
    )]
    FewDigits {
        /// Step between neighbouring numbers, in the scene's length unit.
        step: f64,
        /// Size of the scene, in its length unit.
        size: f64,
        /// Symbol of that unit.
        unit: &'static str,
    },
    /// A kind of the other space.
    #[error("the {what} `{name}` does not exist in a {} scene", .space.word())]
    OtherSpace {
        /// Such as "support".
        what: &'static str,
        /// The kind.
        name: &'static str,
        /// The scene's space.
        space: Space,
    },
}

fn and_others(count: usize) -> String {
    match count {
        0 => String::new(),
        1 => "; so is one other number".to_owned(),
        _ => format!("; so are {count} other numbers"),
    }
}

/// What a support in space is in the plane: common practice, no source.
fn planar_kind(spatial: &str) -> Option<&'static str> {
    match spatial {
        "BallJoint" | "Hinge" | "SmoothPin" => Some("Pin"),
        "Slider" => Some("Collar"),
        _ => None,
    }
}

/// What a support in the plane is in space: common practice, no source.
fn spatial_kind(planar: &str) -> Option<&'static str> {
    match planar {
        "Pin" => {
            Some("a `Hinge` for a pin with an axis, or a `BallJoint` for a point that is held")
        }
        "Rocker" => Some("a `Roller`"),
        "Collar" => Some("a `Slider`, which also turns about its rod"),
        _ => None,
    }
}

impl FormatFault {
    fn words(list: &[&str]) -> String {
        list.join(", ")
    }
}

impl Explain for FormatFault {
    fn expected(&self) -> Option<String> {
        match self {
            Self::LongName { .. } => Some(format!("at most {} letters", super::LONGEST_NAME)),
            Self::LongNote { .. } => Some(format!("at most {} letters", super::LONGEST_NOTE)),
            Self::NoFormat => Some(format!("`format: {}`", super::FORMAT)),
            Self::Json => Some("fields in parentheses: `(format: 1, body: […], …)`".to_owned()),
            Self::WrongValue { expected, .. } => Some(expected.clone()),
            Self::NamelessFields { kind, fields } => {
                let first = fields.first().copied().unwrap_or_default();
                let all = Self::words(fields);
                Some(format!("`{kind}({first}: …, …)`; the fields are {all}"))
            }
            Self::MissingField { form, .. } | Self::MissingChoice { form, .. } => {
                Some((*form).to_owned())
            }
            Self::UnknownField { allowed, .. } if allowed.is_empty() => {
                Some("no field here".to_owned())
            }
            Self::UnknownField { allowed, .. } => Some(Self::words(allowed)),
            Self::UnknownKind { allowed, .. } => Some(format!("one of {}", Self::words(allowed))),
            _ => None,
        }
    }

    fn hint(&self) -> Option<String> {
        match self {
            Self::NoFormat => Some("begin the scene with `(format: 1,`".to_owned()),
            Self::OtherFormat { found, known } if found > known => {
                Some("use a newer version of this program".to_owned())
            }
            Self::OtherFormat { known, .. } => Some(format!("write `format: {known}`")),
            Self::WrongValue { hint, .. } => hint.clone(),
            Self::LongName { .. } => Some("the `notes` of the scene have room for more".to_owned()),
            Self::LongNote { .. } => {
                Some("a speaker reads a few words; the `notes` of the scene have room for more".to_owned())
            }
            Self::Unprintable { .. } => Some("leave it out".to_owned()),
            Self::Both { .. } | Self::RepeatedField { .. } => Some("keep one of them".to_owned()),
            Self::UnknownField { hint, .. } | Self::UnknownKind { hint, .. } => hint.clone(),
            Self::OtherFamily { hint, .. } => Some(hint.clone()),
            Self::Json => Some(
                "begin with `(format: 1,`; field names have no quotes, and an item is written `Kind(field: value)`: `sixhold help format` shows a whole scene"
                    .to_owned(),
            ),
            Self::OtherSpace { name, space, .. } => Some(match space {
                Space::Spatial => {
                    let plane = "write `space: planar` at the top for a scene in the plane";
                    match spatial_kind(name) {
                        Some(kind) => format!("{plane}; in space that is {kind}"),
                        None => plane.to_owned(),
                    }
                }
                Space::Planar => match planar_kind(name) {
                    Some(kind) => format!("in the plane that is a `{kind}`"),
                    None => "leave `space: planar` out for a scene in space".to_owned(),
                },
            }),
            Self::ManyDigits { .. } => Some(
                "up to fifteen digits are always kept; the rank is that of the numbers as read".to_owned(),
            ),
            Self::FewDigits { .. } => Some(
                "subtract the place of the scene before the numbers are rounded; what is held by less than such a step \
                 is held by rounding"
                    .to_owned(),
            ),
            Self::MissingField { .. }
            | Self::MissingChoice { .. }
            | Self::NamelessFields { .. } => None,
        }
    }
}
