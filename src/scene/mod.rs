//! What a user writes: a body of simple shapes, its supports and its loads.
//!
//! Numbers stay as written, in the scene's own units, so that nothing is rounded before it is ranked.
//! Reading, checking and saving live beside the types; mechanics does not.

mod allowable;
mod anchor_plate;
mod body;
pub mod builtin;
mod check;
mod combination;
mod datum;
mod decimal;
mod decode;
mod imposed;
mod lesson;
mod limited_forces;
mod load;
mod material;
mod nearby;
mod other_fields;
mod other_words;
mod place;
mod problem;
mod read;
mod schema;
pub mod solid;
mod source_offsets;
mod split;
mod stiffness;
mod support;
mod syntax;
pub mod units;
mod wall;
mod write;

pub use allowable::Allowable;
pub use anchor_plate::{AnchorPattern, AnchorPlate};
pub use body::{BentBar, Block, Bracket, Disc, Hole, Plate, Shaft, Shape};
pub use combination::CaseCombination;
pub use datum::Datum;
pub(crate) use decimal::Decimal;
pub use imposed::Imposed;
pub use lesson::{LessonStage, LessonStep, ShownStages};
pub use load::{AreaAmount, Case, ForceVector, Heaviness, LineAmount, Load, Moment};
pub use material::{BarSection, Material};
#[cfg(feature = "cli")]
pub(crate) use other_words::other_words;
pub use place::{Coordinates, Direction, Place};
pub(crate) use problem::nearest;
pub use problem::{Position, Problem, ReadError, Severity};
pub use read::{INPUT, Loaded, SIZE_LIMIT, read_file, read_input, read_str, validated};
pub use schema::schema as json_schema;
pub use stiffness::{Stiffness, SupportStiffness};
pub use support::{Support, SupportKind};
pub use units::Units;
pub use wall::Wall;
pub use write::{save_file, to_json, to_ron, to_ron_like};

/// A scene as written: one rigid body, the supports that hold it, the loads that act on it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Scene {
    /// Short title, shown as the heading.
    pub title: String,
    /// Free text for the reader.
    pub notes: String,
    /// Units of every number below.
    pub units: Units,
    /// Whether the body moves in space or in its plane.
    pub space: Space,
    /// What every position below is counted from: the origin, unless the scene lies far from it. The text of a scene has
    /// positions from the origin; reading subtracts the datum and saving adds it, both as decimals. A scene made in memory
    /// has positions from the origin, too, and gets its datum when it is studied.
    pub datum: Datum,
    /// How far each support may stand from where it is written, > 0; `None` where nothing is said of it.
    pub placement_tolerance: Option<f64>,
    /// Whether reactions are also sought as those of elastic supports where none says how stiff it is; see [`Scene::is_elastic`].
    pub elastic: bool,
    /// What the bars are made of, so that they bend; `None` leaves the body rigid.
    pub material: Option<Material>,
    /// Named points, in the order written.
    pub points: Vec<NamedPoint>,
    /// Shapes of the body.
    pub body: Vec<Shape>,
    /// Where ground ends of added links may lie; anywhere where none are written.
    pub walls: Vec<Wall>,
    /// Supports, in the order written.
    pub supports: Vec<Support>,
    /// Loads that act in every case.
    pub loads: Vec<Load>,
    /// What is imposed besides loads in every case.
    pub imposed: Vec<Imposed>,
    /// Load cases; with none, `loads` alone are the one case.
    pub cases: Vec<Case>,
    /// Further load cases, made of those with factors.
    pub combinations: Vec<CaseCombination>,
    /// Order and choice of what a class is shown, each stage once; see [`Scene::lesson_steps`] for where none is written.
    pub lesson: Vec<LessonStep>,
}

/// Whether six or three motions are to be stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Space {
    /// Six motions; z is up.
    #[default]
    Spatial,
    /// Three motions in the plane of x and y; y is up.
    Planar,
}

impl Space {
    /// How many motions there are to stop.
    pub fn motions(self) -> usize {
        match self {
            Self::Spatial => 6,
            Self::Planar => 3,
        }
    }

    /// How many axes its points have coordinates along.
    pub fn axes(self) -> usize {
        match self {
            Self::Spatial => 3,
            Self::Planar => 2,
        }
    }

    /// The word used in scene files and outputs.
    pub fn word(self) -> &'static str {
        match self {
            Self::Spatial => "spatial",
            Self::Planar => "planar",
        }
    }
}

/// A point that other parts of the scene refer to by name.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedPoint {
    /// Name, unique among the points.
    pub name: String,
    /// Where it is.
    pub at: Coordinates,
}

impl Scene {
    /// What a user has worded: the title, and the names of points, supports and load cases.
    #[cfg(any(feature = "cli", feature = "window"))]
    pub(crate) fn worded(&self) -> impl Iterator<Item = &str> {
        let points = self.points.iter().map(|point| &point.name);
        let supports = self.supports.iter().map(|support| &support.name);
        let cases = self.cases.iter().map(|case| &case.name);
        let combinations = self
            .combinations
            .iter()
            .map(|combination| &combination.name);
        let names = points.chain(supports).chain(cases).chain(combinations);
        names.chain([&self.title]).map(String::as_str)
    }

    /// Whether reactions of the rigid body are also sought as those of elastic supports: where the scene asks for it, or its bars
    /// do not bend and it says of some support how stiff it is, or imposes something besides loads.
    pub fn is_elastic(&self) -> bool {
        let mut cases = self.cases.iter();
        let is_imposed = !self.imposed.is_empty() || cases.any(|case| !case.imposed.is_empty());
        let mut supports = self.supports.iter();
        let is_stiff = supports.any(|support| !support.stiffness.is_empty());
        self.elastic || self.material.is_none() && (is_imposed || is_stiff)
    }

    /// The point of that name.
    pub fn point(&self, name: &str) -> Option<&NamedPoint> {
        self.points.iter().find(|point| point.name == name)
    }

    /// Coordinates of a place in the scene's length unit, from its datum; `None` for an unknown name.
    pub fn position(&self, place: &Place) -> Option<[f64; 3]> {
        match place {
            Place::At(coordinates) => Some(coordinates.components()),
            Place::Named(name) => self.point(name).map(|point| point.at.components()),
        }
    }
}
