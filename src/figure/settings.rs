//! What a figure shows, from where, how large and in which look.

use std::collections::BTreeSet;

use crate::motion::Selection;
use crate::scene;
use crate::statics::CaseIndex;
use crate::theme::ThemeName;
use crate::wording::USUAL_DIGITS;

/// How a figure is drawn.
#[derive(Debug, Clone, PartialEq)]
#[must_use]
pub struct FigureSettings {
    /// Width of the whole figure in millimetres, > 0.
    pub width_mm: f64,
    /// Greatest height of body, supports and arrows in millimetres, > 0; names and axes come on top of it. `None` leaves it to
    /// the width.
    pub tallest_mm: Option<f64>,
    /// What is drawn.
    pub parts: BTreeSet<FigurePart>,
    /// From where; `None` takes [`Projection::THREE_QUARTER`], or a view from which clearly more is seen.
    pub projection: Option<Projection>,
    /// Colours.
    pub look: FigureColours,
    /// Load case whose loads and reaction values are drawn; index into the model's cases.
    pub case: CaseIndex,
    /// Motion that is drawn.
    pub motion: Selection,
    /// Significant digits of values, 1 to 15.
    pub digits: i32,
}

/// Width of a column of a printed page, mm.
pub const COLUMN_MM: f64 = 84.0;
/// Narrowest and widest figure, mm: below, letters fill it; above, no printer takes it.
pub const WIDTHS_MM: [f64; 2] = [40.0, 1200.0];

impl Default for FigureSettings {
    fn default() -> Self {
        Self {
            width_mm: COLUMN_MM,
            tallest_mm: None,
            parts: FigurePart::USUAL.into(),
            projection: None,
            look: FigureColours::default(),
            case: CaseIndex::FIRST,
            motion: Selection::default(),
            digits: USUAL_DIGITS,
        }
    }
}

/// A part of a figure that can be shown or left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum FigurePart {
    /// The body.
    Body,
    /// Edges of the body that lie behind it, dashed.
    Hidden,
    /// The supports.
    Supports,
    /// Supports of which less than two fifths are seen beside the body, dashed where it hides them.
    Behind,
    /// Loads with their values.
    Loads,
    /// Reactions with their names.
    Reactions,
    /// Values of the reactions, where equilibrium decides them.
    Values,
    /// The line that all reactions meet.
    Axis,
    /// How the body is free to move.
    Motion,
    /// Dimension lines.
    Dimensions,
    /// Coordinates of named points and supports.
    Coordinates,
    /// A table of coordinates in place of those of more points than four, and which way supports of space lie that are
    /// along no axis.
    Table,
    /// Directions of the axes.
    Triad,
    /// Names of the supports, and of the points at which the loads that are shown act.
    Names,
}

impl FigurePart {
    /// Every part, in the order in which they are told.
    pub const ALL: [Self; 14] = [
        Self::Body,
        Self::Hidden,
        Self::Supports,
        Self::Behind,
        Self::Loads,
        Self::Reactions,
        Self::Values,
        Self::Axis,
        Self::Motion,
        Self::Dimensions,
        Self::Coordinates,
        Self::Table,
        Self::Triad,
        Self::Names,
    ];

    /// What is drawn unless something else is asked for: the answer.
    pub const USUAL: [Self; 8] = [
        Self::Body,
        Self::Supports,
        Self::Behind,
        Self::Reactions,
        Self::Axis,
        Self::Motion,
        Self::Triad,
        Self::Names,
    ];

    /// What the figure of a report shows: the answer, and what acts.
    pub const REPORT: [Self; 9] = [
        Self::Body,
        Self::Supports,
        Self::Behind,
        Self::Loads,
        Self::Reactions,
        Self::Axis,
        Self::Motion,
        Self::Triad,
        Self::Names,
    ];

    /// The problem as an exercise states it.
    pub const QUESTION: [Self; 8] = [
        Self::Body,
        Self::Supports,
        Self::Behind,
        Self::Loads,
        Self::Dimensions,
        Self::Table,
        Self::Triad,
        Self::Names,
    ];

    /// The free-body diagram: the body, what acts on it and what its supports supply, without the supports.
    pub const FREE_BODY: [Self; 5] = [
        Self::Body,
        Self::Loads,
        Self::Reactions,
        Self::Triad,
        Self::Names,
    ];

    /// The parts that a text lists, with commas between: by their words, or in the groups `question`, `fbd`, `answer` and `all`.
    ///
    /// # Errors
    /// A sentence on the first word that is neither.
    pub fn listed(text: &str) -> Result<BTreeSet<Self>, String> {
        let mut parts = BTreeSet::new();
        for word in text.split(',').map(str::trim) {
            match word {
                "question" => parts.extend(Self::QUESTION),
                "fbd" => parts.extend(Self::FREE_BODY),
                "answer" => parts.extend(Self::USUAL),
                "all" => parts.extend(Self::ALL),
                word => match Self::ALL.into_iter().find(|part| part.word() == word) {
                    Some(part) => drop(parts.insert(part)),
                    None => return Err(unknown_part(word)),
                },
            }
        }
        Ok(parts)
    }

    /// The word that users write.
    pub fn word(self) -> &'static str {
        match self {
            Self::Body => "body",
            Self::Hidden => "hidden",
            Self::Supports => "supports",
            Self::Behind => "behind",
            Self::Loads => "loads",
            Self::Reactions => "reactions",
            Self::Values => "values",
            Self::Axis => "axis",
            Self::Motion => "motion",
            Self::Dimensions => "dimensions",
            Self::Coordinates => "coordinates",
            Self::Table => "table",
            Self::Triad => "triad",
            Self::Names => "names",
        }
    }
}

fn unknown_part(word: &str) -> String {
    let words = || FigurePart::ALL.into_iter().map(FigurePart::word);
    let groups = ["question", "fbd", "answer", "all"];
    match scene::nearest(word, words().chain(groups)) {
        Some(near) => format!("there is no part \"{word}\"; did you mean `{near}`?"),
        None => {
            let words: Vec<&str> = words().chain(groups).collect();
            format!(
                "there is no part \"{word}\"; there are {}",
                words.join(", ")
            )
        }
    }
}

/// How space is laid on paper. Planar scenes are always seen face-on.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Projection {
    /// The front in true size, depth at half its length under 45° (cabinet projection).
    Oblique,
    /// Front, right side and top under the same angle.
    Isometric,
    /// As the eye sees it, from the front, a little from the right and from above.
    Perspective,
    /// From so many degrees to the right of the front and above the horizon, without perspective.
    Angles {
        /// 0 is the front, 90 the side of +x.
        azimuth: f64,
        /// 90 is the top.
        elevation: f64,
    },
}

impl Projection {
    /// From the front.
    pub const FRONT: Self = Self::Angles {
        azimuth: 0.0,
        elevation: 0.0,
    };
    /// From the side of +x.
    pub const SIDE: Self = Self::Angles {
        azimuth: 90.0,
        elevation: 0.0,
    };
    /// From above.
    pub const TOP: Self = Self::Angles {
        azimuth: 0.0,
        elevation: 90.0,
    };

    /// Between front, side and top: what is taken unless something else is asked for. Few lines of a scene coincide in it.
    pub const THREE_QUARTER: Self = Self::Angles {
        azimuth: Self::USUAL_ANGLES[0],
        elevation: Self::USUAL_ANGLES[1],
    };

    /// Its azimuth and elevation.
    pub(crate) const USUAL_ANGLES: [f64; 2] = [32.0, 22.0];
}

/// Colours of a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[non_exhaustive]
pub enum FigureColours {
    /// The daylight theme on white.
    #[default]
    Colour,
    /// Black and greys.
    Print,
    /// A theme on its own background, for a screen.
    Screen(ThemeName),
}
