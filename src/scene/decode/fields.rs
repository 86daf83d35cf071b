//! The fields of one item: reads each by name, remembers which names exist, reports the rest.
//!
//! A reading method answers a stand-in after a problem, so that an item is read to its end and all its problems are
//! met; [`Fields::finish`] then gives the item up.

use std::fmt::Arguments;

use super::super::other_fields::{Meaning, field_of};
use super::super::problem::{did_you_mean, nearest};
use super::super::source_offsets::{GivenName, ItemPlaces};
use super::super::syntax::{SyntaxField, SyntaxNode, Value, clipped};
use super::super::{Coordinates, Direction, Place, Space};
use super::values::{NumberRange, TEXT, direction_words, place_words, tuple_words};
use super::{Decoder, FORMAT, FormatFault, SCENE_FIELDS};

/// One kind of item: its name, where it exists, and how its fields make it.
pub(crate) struct Kind<T> {
    /// Name, as the variant of the Rust enum.
    pub name: &'static str,
    /// Where it exists.
    pub spaces: Spaces,
    /// Reads its fields.
    pub read: fn(&mut Fields) -> T,
}

/// Where a kind exists.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Spaces {
    /// Everywhere.
    Both,
    /// In one space only.
    Only(Space),
}

impl Spaces {
    /// Whether it exists in a space.
    pub(crate) fn allow(self, space: Space) -> bool {
        match self {
            Self::Both => true,
            Self::Only(only) => only == space,
        }
    }
}

/// The fields of one item while it is read.
pub(crate) struct Fields<'de, 'd, 'f> {
    /// The decoder, for values within values.
    pub decoder: &'d mut Decoder<'f>,
    owner: String,
    entries: Vec<FieldEntry<'de>>,
    asked: Vec<&'static str>,
    /// Fields that were left out, each with how it is written.
    missing: Vec<(&'static str, &'static str)>,
    places: ItemPlaces,
    whole: bool,
}

struct FieldEntry<'de> {
    field: SyntaxField<'de>,
    taken: bool,
}

impl<'de, 'd, 'f> Fields<'de, 'd, 'f> {
    /// Fields of a struct without name.
    pub(crate) fn anonymous(
        decoder: &'d mut Decoder<'f>,
        owner: &str,
        node: SyntaxNode<'de>,
    ) -> Option<Self> {
        if !node.name().is_empty() && !matches!(node.value(), Value::Text(_)) {
            decoder.wrong(
                owner,
                "fields in parentheses, without a name: `(name: …, …)`",
                node,
            );
            return None;
        }
        Self::new(decoder, owner.to_owned(), node)
    }

    /// Fields of a kind.
    pub(crate) fn named(
        decoder: &'d mut Decoder<'f>,
        kind: &'static str,
        node: SyntaxNode<'de>,
    ) -> Option<Self> {
        Self::new(decoder, kind.to_owned(), node)
    }

    fn new(decoder: &'d mut Decoder<'f>, owner: String, node: SyntaxNode<'de>) -> Option<Self> {
        let fields = match node.value() {
            Value::Fields(fields) => fields,
            Value::Word => Vec::new(),
            Value::Tuple(items) if items.is_empty() => Vec::new(),
            _ => {
                decoder.wrong(&owner, "fields in parentheses: `(name: …, …)`", node);
                return None;
            }
        };
        let entries = fields.into_iter().map(|field| FieldEntry {
            field,
            taken: false,
        });
        Some(Self {
            entries: entries.collect(),
            places: ItemPlaces::new(node.offset),
            ..Self::empty(decoder, &owner)
        })
    }

    /// No fields at all, as of an item that nobody has written.
    pub(crate) fn empty(decoder: &'d mut Decoder<'f>, owner: &str) -> Self {
        Self {
            decoder,
            owner: owner.to_owned(),
            entries: Vec::new(),
            asked: Vec::new(),
            missing: Vec::new(),
            places: ItemPlaces::new(0),
            whole: true,
        }
    }

    /// Names of the fields that were asked for so far.
    pub(crate) fn asked(&self) -> Vec<&'static str> {
        self.asked.clone()
    }

    /// Whether a field is written.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.entries.iter().any(|entry| entry.field.key == key)
    }

    /// Where a field stands; the item itself where the field was left out.
    pub(crate) fn offset_of(&self, key: &str) -> usize {
        let entry = self.entries.iter().find(|entry| entry.field.key == key);
        entry.map_or(self.places.item, |entry| entry.field.node.offset)
    }

    /// Reports something about the item as a whole.
    pub(crate) fn refuse(&mut self, fault: impl FnOnce(String) -> FormatFault) {
        self.whole = false;
        let owner = self.owner.clone();
        self.decoder
            .findings
            .error_with(self.places.item, || fault(owner));
    }

    /// The node of a field that may be left out.
    pub(crate) fn take(&mut self, key: &'static str) -> Option<SyntaxNode<'de>> {
        self.asked.push(key);
        let entry = self
            .entries
            .iter_mut()
            .find(|entry| entry.field.key == key)?;
        entry.taken = true;
        self.places.note(key, entry.field.node.offset);
        Some(entry.field.node)
    }

    /// Knows where the fields of a value within this item stand, too.
    pub(super) fn adopt(&mut self, within: ItemPlaces) {
        self.places.adopt(within);
    }

    /// Makes a field known without reading it.
    pub(crate) fn know(&mut self, key: &'static str) {
        self.take(key);
    }

    /// The node of a field that must be there; `form` tells how its value is written.
    pub(crate) fn require(
        &mut self,
        key: &'static str,
        form: &'static str,
    ) -> Option<SyntaxNode<'de>> {
        let node = self.take(key);
        if node.is_none() {
            self.whole = false;
            self.missing.push((key, form));
        }
        node
    }

    /// A value, or a stand-in where it could not be read.
    fn settle<T>(&mut self, value: Option<T>, stand_in: T) -> T {
        self.whole &= value.is_some();
        value.unwrap_or(stand_in)
    }

    /// Reads the node of a field by one of the decoder's functions.
    pub(super) fn read<T>(
        &mut self,
        key: &'static str,
        node: SyntaxNode,
        value: impl FnOnce(&mut Decoder, Arguments, SyntaxNode) -> Option<T>,
    ) -> Option<T> {
        let read = value(
            self.decoder,
            format_args!("`{key}` of {}", self.owner),
            node,
        );
        self.whole &= read.is_some();
        read
    }

    /// The field `format`; whether the rest is worth reading.
    pub(crate) fn format(&mut self) -> bool {
        let item = self.places.item;
        let Some(node) = self.take("format") else {
            self.decoder.findings.error(item, FormatFault::NoFormat);
            return true;
        };
        let Some(found) = self.read("format", node, |d, what, node| d.whole_number(what, node))
        else {
            return true;
        };
        if found != FORMAT {
            let fault = FormatFault::OtherFormat {
                found,
                known: FORMAT,
            };
            self.decoder.findings.error(node.offset, fault);
        }
        found == FORMAT
    }

    /// A number within a range.
    pub(crate) fn number(&mut self, key: &'static str, range: NumberRange) -> f64 {
        let node = self.require(key, range.words());
        let number =
            node.and_then(|node| self.read(key, node, |d, what, node| d.number(what, range, node)));
        number.unwrap_or(1.0)
    }

    /// A number that may be left out.
    pub(crate) fn number_or(&mut self, key: &'static str, range: NumberRange, default: f64) -> f64 {
        self.optional_number(key, range).unwrap_or(default)
    }

    /// A number that may be left out.
    pub(crate) fn optional_number(&mut self, key: &'static str, range: NumberRange) -> Option<f64> {
        let node = self.take(key)?;
        self.read(key, node, |d, what, node| d.number(what, range, node))
    }

    /// A size: a number greater than 0.
    pub(crate) fn size(&mut self, key: &'static str) -> f64 {
        self.number(key, NumberRange::Positive)
    }

    /// Three sizes.
    pub(crate) fn sizes(&mut self, key: &'static str) -> [f64; 3] {
        let node = self.require(key, tuple_words(3));
        let sizes = node.and_then(|node| self.read(key, node, |d, what, node| d.edges(what, node)));
        sizes.unwrap_or([1.0; 3])
    }

    /// The field `name`, not empty, which also goes into messages.
    pub(crate) fn name(&mut self) -> Option<GivenName> {
        let node = self.require("name", TEXT)?;
        let name = self.read("name", node, |d, what, node| d.name(what, node))?;
        self.owner = format!("{} \"{}\"", self.owner, clipped(&name));
        let offset = node.offset;
        Some(GivenName { name, offset })
    }

    /// A text that may be left out, of printable characters and those also allowed.
    pub(crate) fn text_or_empty(&mut self, key: &'static str, also: &str) -> String {
        let node = self.take(key);
        let text = node.and_then(|node| {
            self.read(key, node, |d, what, node| {
                let text = d.text(what, node)?;
                d.printable(what, text, also, node)
            })
        });
        text.unwrap_or_default()
    }

    /// A note that may be left out.
    pub(super) fn note(&mut self, key: &'static str) -> Option<String> {
        let node = self.take(key)?;
        self.read(key, node, |d, what, node| d.note(what, node))
    }

    /// `true` or `false`.
    pub(crate) fn switch_or(&mut self, key: &'static str, default: bool) -> bool {
        let Some(node) = self.take(key) else {
            return default;
        };
        let switch = self.read(key, node, |d, what, node| match node.value() {
            Value::Switch(switch) => Some(switch),
            _ => {
                let hint = switch_hint(node.name());
                d.wrong_with_hint(what, "`true` or `false`", node, hint);
                None
            }
        });
        switch.unwrap_or(default)
    }

    /// One of several words, or the default where the field is left out; `otherwise` knows what to try instead of other
    /// words. `None`, reported, where it is no such word.
    pub(crate) fn word<T: Copy>(
        &mut self,
        key: &'static str,
        words: &[(&'static str, T)],
        default: T,
        otherwise: fn(&str) -> Option<&'static str>,
    ) -> Option<T> {
        let Some(node) = self.take(key) else {
            return Some(default);
        };
        self.read(key, node, |d, what, node| {
            d.word(what, words, otherwise, node)
        })
    }

    /// A position.
    pub(crate) fn place(&mut self, key: &'static str) -> Place {
        let node = self.require(key, place_words(self.decoder.space));
        let place = node.and_then(|node| self.read(key, node, |d, what, node| d.place(what, node)));
        place.unwrap_or(STAND_IN_PLACE)
    }

    /// A position that may be left out.
    pub(crate) fn optional_place(&mut self, key: &'static str) -> Option<Place> {
        let node = self.take(key)?;
        self.read(key, node, |d, what, node| d.place(what, node))
    }

    /// A list of positions.
    pub(crate) fn places(&mut self, key: &'static str) -> Vec<Place> {
        let Some(node) = self.require(key, "a list of points `[…, …]`") else {
            return Vec::new();
        };
        let nodes = self.list(key, node);
        self.elements(key, nodes, |d, what, node| d.place(what, node))
    }

    /// Two positions in parentheses.
    pub(crate) fn two_places(&mut self, key: &'static str) -> [Place; 2] {
        const FORM: &str = "two points `(…, …)`";
        let nodes = match self.require(key, FORM).map(|node| (node, node.value())) {
            Some((_, Value::Tuple(nodes))) if nodes.len() == 2 => nodes,
            Some((node, _)) => {
                self.whole = false;
                let owner = &self.owner;
                self.decoder
                    .wrong(format_args!("`{key}` of {owner}"), FORM, node);
                Vec::new()
            }
            None => Vec::new(),
        };
        let places = self.elements(key, nodes, |d, what, node| d.place(what, node));
        let places = places.try_into().ok();
        self.settle(places, [STAND_IN_PLACE, STAND_IN_PLACE])
    }

    /// The nodes of a list.
    pub(crate) fn list(
        &mut self,
        key: &'static str,
        node: SyntaxNode<'de>,
    ) -> Vec<SyntaxNode<'de>> {
        let Value::List(nodes) = node.value() else {
            self.whole = false;
            let owner = &self.owner;
            let what = format_args!("`{key}` of {owner}");
            let hint = super::list_hint(key, node);
            self.decoder
                .wrong_with_hint(what, "a list `[…]`", node, hint);
            return Vec::new();
        };
        nodes
    }

    /// The elements of a list, each read by one of the decoder's functions.
    pub(crate) fn elements<T>(
        &mut self,
        key: &'static str,
        nodes: Vec<SyntaxNode>,
        mut value: impl FnMut(&mut Decoder, Arguments, SyntaxNode) -> Option<T>,
    ) -> Vec<T> {
        let mut elements = Vec::with_capacity(nodes.len());
        for (i, node) in nodes.into_iter().enumerate() {
            self.places.note_element(key, i, node.offset);
            elements.extend(self.read(key, node, &mut value));
        }
        elements
    }

    /// A direction.
    pub(crate) fn direction(&mut self, key: &'static str) -> Direction {
        let node = self.require(key, direction_words(self.decoder.space));
        let direction =
            node.and_then(|node| self.read(key, node, |d, what, node| d.direction(what, node)));
        direction.unwrap_or(Direction::Angle(0.0))
    }

    /// A direction that may be left out.
    pub(crate) fn optional_direction(&mut self, key: &'static str) -> Option<Direction> {
        let node = self.take(key)?;
        self.read(key, node, |d, what, node| d.direction(what, node))
    }

    /// Components of a vector.
    pub(crate) fn vector(&mut self, key: &'static str) -> Coordinates {
        let node = self.require(key, tuple_words(self.decoder.space.axes()));
        let vector =
            node.and_then(|node| self.read(key, node, |d, what, node| d.vector(what, node)));
        vector.unwrap_or(STAND_IN)
    }

    /// Components of a vector that may be left out.
    pub(crate) fn optional_vector(&mut self, key: &'static str) -> Option<Coordinates> {
        let node = self.take(key)?;
        self.read(key, node, |d, what, node| d.vector(what, node))
    }

    /// A moment: a vector in space, a number in the plane.
    pub(crate) fn moment(&mut self, key: &'static str) -> super::super::Moment {
        let form = match self.decoder.space {
            Space::Planar => NumberRange::Any.words(),
            Space::Spatial => tuple_words(3),
        };
        let node = self.require(key, form);
        let moment =
            node.and_then(|node| self.read(key, node, |d, what, node| d.moment(what, node)));
        moment.unwrap_or(super::super::Moment::Plane(0.0))
    }

    /// Reports missing, unknown and repeated fields. Where the fields stand, if every one could be read.
    pub(crate) fn finish(mut self) -> Option<ItemPlaces> {
        let entries = std::mem::take(&mut self.entries);
        let unused = entries.iter().filter(|entry| !entry.taken);
        for FieldEntry { field, .. } in unused {
            self.report_unused(field.key, field.key_offset);
        }
        for (field, form) in std::mem::take(&mut self.missing) {
            self.refuse(|owner| FormatFault::MissingField { owner, field, form });
        }
        self.whole.then_some(self.places)
    }

    /// Whether a field of that meaning is written under another name.
    pub(crate) fn misnames(&self, field: &'static str) -> bool {
        let unused = self.entries.iter().filter(|entry| !entry.taken);
        let meant = |entry: &FieldEntry| field_of(entry.field.key, &[field]);
        unused
            .filter_map(meant)
            .any(|other| other.meaning == Meaning::Field(field))
    }

    fn report_unused(&mut self, key: &str, key_offset: usize) {
        self.whole = false;
        let other = field_of(key, &self.asked);
        let nearest = nearest(key, self.asked.iter().copied());
        let meant = match other.map(|other| other.meaning) {
            Some(Meaning::Field(field)) => Some(field),
            Some(Meaning::NothingBeside(_)) => None,
            None => nearest,
        };
        // A missing field that is there under a wrong name is one problem, not two.
        self.missing.retain(|(missing, _)| Some(*missing) != meant);
        let (owner, asked) = (&self.owner, &self.asked);
        self.decoder.findings.error_with(key_offset, || {
            let (owner, field) = (owner.clone(), clipped(key).into_owned());
            if asked.contains(&key) {
                return FormatFault::RepeatedField { owner, field };
            }
            let of_scene = || {
                SCENE_FIELDS.contains(&key).then(|| {
                    format!(
                        "`{key}` is a field of the scene: write it there, and not within {owner}"
                    )
                })
            };
            let hint = other
                .map(|other| other.hint.to_owned())
                .or_else(|| did_you_mean(nearest))
                .or_else(of_scene);
            FormatFault::UnknownField {
                hint,
                owner,
                field,
                allowed: asked.clone(),
            }
        });
    }
}

/// What to write for another word for `true` or `false`.
fn switch_hint(word: &str) -> Option<String> {
    let switch = match word.to_lowercase().as_str() {
        "true" | "yes" | "on" => "true",
        "false" | "no" | "off" | "none" => "false",
        _ => return None,
    };
    Some(format!("write `{switch}`"))
}

/// Components in place of unreadable ones.
pub(crate) const STAND_IN: Coordinates = Coordinates::Space([0.0; 3]);
const STAND_IN_PLACE: Place = Place::At(STAND_IN);
