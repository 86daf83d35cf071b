//! Where the parts of a scene stand in its text, beside the scene, which itself stays plain.

use std::collections::HashSet;

/// Byte offsets of the parts of a decoded scene.
///
/// The lists of items run parallel to those of the [`Scene`](super::Scene).
#[derive(Debug, Default)]
pub(crate) struct SourceOffsets {
    /// The field `body`, or the scene where it is missing.
    pub body: usize,
    /// Whether shapes were written, even unreadable ones.
    pub has_shapes: bool,
    /// Names given to points, readable coordinates or not.
    pub point_names: Vec<GivenName>,
    /// Names given to supports.
    pub support_names: Vec<GivenName>,
    /// Names given to cases.
    pub case_names: Vec<GivenName>,
    /// The fields of the material; `None` without one.
    pub material: Option<ItemPlaces>,
    /// Whether units are named.
    pub has_units: bool,
    /// How commas are written between numbers.
    pub commas: Commas,
    /// Points whose name is known though their coordinates are not.
    pub unreadable_points: HashSet<String>,
    /// Shapes of the body.
    pub shapes: Vec<ItemPlaces>,
    /// Walls.
    pub walls: Vec<ItemPlaces>,
    /// Supports.
    pub supports: Vec<ItemPlaces>,
    /// Loads that act in every case.
    pub loads: Vec<ItemPlaces>,
    /// What each case has of its own.
    pub cases: Vec<CasePlaces>,
    /// What is imposed in every case.
    pub imposed: Vec<ItemPlaces>,
    /// Combinations of cases.
    pub combinations: Vec<ItemPlaces>,
    /// Stages of the lesson.
    pub lesson: Vec<ItemPlaces>,
    /// A lesson that is written without any stage.
    pub empty_lesson: Option<usize>,
}

/// Byte offsets of what a case has of its own.
#[derive(Debug, Default)]
pub(crate) struct CasePlaces {
    /// Its loads.
    pub loads: Vec<ItemPlaces>,
    /// What is imposed besides.
    pub imposed: Vec<ItemPlaces>,
}

impl SourceOffsets {
    /// Loads of all cases, one after the other.
    pub(crate) fn case_loads(&self) -> impl Iterator<Item = &ItemPlaces> {
        self.cases.iter().flat_map(|case| &case.loads)
    }
}

/// Commas between the numbers of points and vectors.
#[derive(Debug, Default)]
pub(crate) struct Commas {
    /// Points and vectors with a space after every comma.
    pub loose: usize,
    /// Commas that could be those of decimals.
    pub tight: Vec<TightComma>,
}

/// A comma between two whole numbers without a space, as in `(1,5)`.
#[derive(Debug)]
pub(crate) struct TightComma {
    /// Offset of the number before it.
    pub offset: usize,
    /// The number before it.
    pub before: String,
    /// The number after it, which is not 0.
    pub after: String,
    /// Whether another comma of the same point has a space after it.
    pub beside_loose: bool,
}

/// A name and where it is given.
#[derive(Debug)]
pub(crate) struct GivenName {
    /// The name.
    pub name: String,
    /// Offset of the name.
    pub offset: usize,
}

/// Byte offsets of one item and its fields.
#[derive(Debug, Default)]
pub(crate) struct ItemPlaces {
    /// The item.
    pub item: usize,
    fields: Vec<(&'static str, usize, usize)>,
}

impl ItemPlaces {
    /// An item without fields so far.
    pub(crate) fn new(item: usize) -> Self {
        Self {
            item,
            fields: Vec::new(),
        }
    }

    /// Notes where a field stands.
    pub(crate) fn note(&mut self, field: &'static str, offset: usize) {
        self.fields.push((field, WHOLE, offset));
    }

    /// Takes the fields of a value within the item for its own.
    pub(crate) fn adopt(&mut self, within: Self) {
        self.fields.extend(within.fields);
    }

    /// Notes where element `index` of a field stands.
    pub(crate) fn note_element(&mut self, field: &'static str, index: usize, offset: usize) {
        self.fields.push((field, index, offset));
    }

    /// Where a field stands; the item itself where the field was left out.
    pub(crate) fn of(&self, field: &str) -> usize {
        self.find(field, WHOLE).unwrap_or(self.item)
    }

    /// Where element `index` of a field stands.
    pub(crate) fn element(&self, field: &str, index: usize) -> usize {
        self.find(field, index).unwrap_or_else(|| self.of(field))
    }

    fn find(&self, field: &str, index: usize) -> Option<usize> {
        let found = self
            .fields
            .iter()
            .find(|(name, i, _)| *name == field && *i == index);
        found.map(|(_, _, offset)| *offset)
    }
}

/// Stands for a field as a whole among the indices of its elements.
const WHOLE: usize = usize::MAX;
