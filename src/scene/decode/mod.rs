//! Nodes of the text to a [`Scene`], collecting every problem on the way.
//!
//! A part that cannot be read is reported and left out; the rest is read all the same. Geometry and names are no
//! matter of this module, see [`check`](super::check).

pub(crate) mod allowable;
mod anchor_plate;
mod combinations;
mod fault;
mod fields;
pub(crate) mod imposed;
mod kinds;
mod lesson;
mod loads;
mod material;
mod positions;
mod shapes;
pub(crate) mod stiffness;
mod supports;
mod values;
mod walls;

pub(crate) use fault::FormatFault;

use super::problem::{Explain, Severity};
use super::source_offsets::{CasePlaces, GivenName, ItemPlaces, SourceOffsets};
use super::syntax::{SyntaxNode, Value, clipped};
use super::units::{ForceUnit, LengthUnit, MassUnit, other_force, other_length, other_mass};
use super::{Case, NamedPoint, Scene, Space, Units};
use fields::Fields;
use kinds::Kinds;
use positions::Positions;
use values::NumberRange;

/// The format that this program reads and writes.
pub(crate) const FORMAT: u64 = 1;

/// Letters of the longest name: more than a line of a report or the width of a figure has room for.
pub(crate) const LONGEST_NAME: usize = 200;

/// Letters of the longest note of a lesson: more than anyone reads while speaking.
const LONGEST_NOTE: usize = 2000;

/// What lays out a text of several lines, besides what can be shown.
const LINE_BREAKS: &str = "\n\r\t";

/// What reading has found so far.
#[derive(Default)]
pub(crate) struct Findings {
    /// Offset, severity and words of each problem, in the order met.
    pub problems: Vec<Finding>,
    /// Problems met after [`Findings::MOST`].
    pub left_out: usize,
    /// Whether an error was met.
    pub failed: bool,
    /// Whether too little is known of the scene for anything in it to be worth checking: not its fields, format or space.
    pub unreadable: bool,
}

/// A problem at a byte offset.
pub(crate) struct Finding {
    /// Byte offset.
    pub offset: usize,
    /// Error or warning.
    pub severity: Severity,
    /// What is wrong.
    pub fault: Box<dyn Explain>,
}

impl Findings {
    /// More problems than anyone reads; a broken large file must not fill the memory with them.
    const MOST: usize = 200;

    /// Keeps an error.
    pub(crate) fn error(&mut self, offset: usize, fault: impl Explain + 'static) {
        self.keep(offset, Severity::Error, || fault);
    }

    /// Keeps a warning.
    pub(crate) fn warning(&mut self, offset: usize, fault: impl Explain + 'static) {
        self.keep(offset, Severity::Warning, || fault);
    }

    /// Keeps an error whose words take work to find, unless there are too many already.
    pub(crate) fn error_with<F: Explain + 'static>(
        &mut self,
        offset: usize,
        fault: impl FnOnce() -> F,
    ) {
        self.keep(offset, Severity::Error, fault);
    }

    fn keep<F: Explain + 'static>(
        &mut self,
        offset: usize,
        severity: Severity,
        fault: impl FnOnce() -> F,
    ) {
        self.failed |= severity == Severity::Error;
        if self.problems.len() >= Self::MOST {
            self.left_out += 1;
            return;
        }
        self.problems.push(Finding {
            offset,
            severity,
            fault: Box::new(fault()),
        });
    }
}

/// Reads a scene from its document node. Whether it is whole, the findings tell.
///
/// A scene far from the origin is read three times: to see that it is, to see where exactly, and counted from its datum.
pub(crate) fn scene(document: SyntaxNode, findings: &mut Findings) -> (Scene, SourceOffsets) {
    let mut reading = SceneReading::of(document, Positions::default());
    let (mut datum, mut size) = reading.positions.suited();
    if !datum.is_origin() {
        (datum, size) = SceneReading::of(document, Positions::from(datum, size))
            .positions
            .suited();
    }
    if !datum.is_origin() {
        reading = SceneReading::of(document, Positions::from(datum, size));
    }
    reading.warn();
    *findings = reading.findings;
    (reading.scene, reading.places)
}

/// One pass over the text.
struct SceneReading {
    scene: Scene,
    places: SourceOffsets,
    positions: Positions,
    findings: Findings,
}

impl SceneReading {
    fn of(document: SyntaxNode, positions: Positions) -> Self {
        let mut findings = Findings::default();
        let mut decoder = Decoder {
            findings: &mut findings,
            space: Space::default(),
            places: SourceOffsets::default(),
            positions,
        };
        let scene = decoder.scene(document);
        let Decoder {
            places, positions, ..
        } = decoder;
        findings.unreadable = scene.is_none();
        let mut scene = scene.unwrap_or_default();
        scene.datum = positions.datum;
        Self {
            scene,
            places,
            positions,
            findings,
        }
    }

    /// Warns of digits that are not there, and of those that are not kept.
    fn warn(&mut self) {
        if let Some(long) = &self.positions.long {
            let fault = FormatFault::ManyDigits {
                written: long.first.clone(),
                kept: long.kept.clone(),
                others: long.others,
            };
            self.findings.warning(long.offset, fault);
        }
        if let Some((offset, step)) = self.positions.coarse {
            let (step, size) = (step, self.positions.size.unwrap_or_default());
            let unit = self.scene.units.length.symbol();
            self.findings
                .warning(offset, FormatFault::FewDigits { step, size, unit });
        }
    }
}

/// What the decoding functions share.
pub(crate) struct Decoder<'f> {
    findings: &'f mut Findings,
    space: Space,
    places: SourceOffsets,
    positions: Positions,
}

impl Decoder<'_> {
    fn scene(&mut self, document: SyntaxNode) -> Option<Scene> {
        if let Value::Map(_) = document.value() {
            self.findings.error(document.offset, FormatFault::Json);
            return None;
        }
        let mut fields = Fields::anonymous(self, "the scene", document)?;
        if !fields.format() {
            // Nothing else is known to mean in another format what it means in this one.
            return None;
        }
        let mut scene = Scene {
            title: fields.text_or_empty("title", ""),
            notes: fields.text_or_empty("notes", LINE_BREAKS),
            ..Scene::default()
        };
        fields.decoder.places.has_units = fields.has("units");
        scene.units = fields
            .take("units")
            .and_then(|node| fields.decoder.units(node))
            .unwrap_or_default();
        // How many coordinates a point has, and which kinds exist, depends on it.
        scene.space = fields.word("space", &SPACES, Space::default(), other_space)?;
        fields.decoder.space = scene.space;
        scene.placement_tolerance =
            fields.optional_number("placement_tolerance", NumberRange::Positive);
        scene.elastic = fields.switch_or("elastic", false);
        let material = fields
            .take("material")
            .and_then(|node| fields.decoder.material(node));
        (scene.material, fields.decoder.places.material) = material.unzip();
        if let Some(node) = fields.take("points") {
            scene.points = fields.decoder.points(node);
        }
        fields.decoder.places.body = fields.offset_of("body");
        if let Some(node) = fields.take("body") {
            let nodes = fields.decoder.list("body", node);
            let is_empty = matches!(node.value(), Value::List(nodes) if nodes.is_empty());
            fields.decoder.places.has_shapes = !is_empty;
            (scene.body, fields.decoder.places.shapes) =
                fields.decoder.items(&shapes::SHAPES, nodes);
        }
        if let Some(node) = fields.take("walls") {
            let nodes = fields.decoder.list("walls", node);
            (scene.walls, fields.decoder.places.walls) = fields.decoder.items(&walls::WALLS, nodes);
        }
        if let Some(node) = fields.take("supports") {
            let nodes = fields.decoder.list("supports", node);
            (scene.supports, fields.decoder.places.supports) =
                fields.decoder.items(&supports::SUPPORTS, nodes);
        }
        if let Some(node) = fields.take("loads") {
            (scene.loads, fields.decoder.places.loads) = fields.decoder.loads(node);
        }
        (scene.imposed, fields.decoder.places.imposed) = fields.imposed();
        if let Some(node) = fields.take("cases") {
            (scene.cases, fields.decoder.places.cases) = fields.decoder.cases(node);
        }
        if let Some(node) = fields.take("combinations") {
            let (combinations, places) = fields.decoder.combinations(node);
            scene.combinations = combinations;
            fields.decoder.places.combinations = places;
        }
        if let Some(node) = fields.take("lesson") {
            let nodes = fields.decoder.list("lesson", node);
            let is_empty = matches!(node.value(), Value::List(nodes) if nodes.is_empty());
            fields.decoder.places.empty_lesson = is_empty.then_some(node.offset);
            (scene.lesson, fields.decoder.places.lesson) =
                fields.decoder.items(&lesson::STAGES, nodes);
        }
        // A body under another name is reported as such, and not once more as missing.
        fields.decoder.places.has_shapes |= fields.misnames("body");
        fields.finish();
        Some(scene)
    }

    fn units(&mut self, node: SyntaxNode) -> Option<Units> {
        if let Some(hint) = lone_unit(node) {
            let expected = "fields in parentheses: `(length: …, force: …, mass: …)`";
            self.wrong_with_hint("`units`", expected, node, Some(hint));
            return None;
        }
        let mut fields = Fields::anonymous(self, "`units`", node)?;
        let standard = Units::default();
        let lengths = LengthUnit::ALL.map(|unit| (unit.symbol(), unit));
        let length = fields.word("length", &lengths, standard.length, other_length);
        let forces = ForceUnit::ALL.map(|unit| (unit.symbol(), unit));
        let force = fields.word("force", &forces, standard.force, other_force);
        let masses = MassUnit::ALL.map(|unit| (unit.symbol(), unit));
        let mass = fields.word("mass", &masses, standard.mass, other_mass);
        fields.finish()?;
        Some(Units {
            length: length?,
            force: force?,
            mass: mass?,
        })
    }

    fn points(&mut self, node: SyntaxNode) -> Vec<NamedPoint> {
        let Value::Map(entries) = node.value() else {
            let expected = "a map `{\"A\": (…), \"B\": (…)}`";
            self.wrong("`points`", expected, node);
            return Vec::new();
        };
        let mut points = Vec::with_capacity(entries.len());
        for (key, value) in entries {
            let Some(name) = self.name(format_args!("the name of a point"), key) else {
                continue;
            };
            self.places.point_names.push(GivenName {
                name: name.clone(),
                offset: key.offset,
            });
            match self.position(format_args!("point \"{name}\""), value) {
                Some(at) => {
                    self.positions.name(&name, at.components());
                    points.push(NamedPoint { name, at });
                }
                None => {
                    self.places.unreadable_points.insert(name);
                }
            }
        }
        points
    }

    fn loads(&mut self, node: SyntaxNode) -> (Vec<super::Load>, Vec<ItemPlaces>) {
        let nodes = self.list("loads", node);
        self.items(&loads::LOADS, nodes)
    }

    fn cases(&mut self, node: SyntaxNode) -> (Vec<Case>, Vec<CasePlaces>) {
        let nodes = self.list("cases", node);
        nodes.into_iter().filter_map(|node| self.case(node)).unzip()
    }

    fn case(&mut self, node: SyntaxNode) -> Option<(Case, CasePlaces)> {
        let mut fields = Fields::anonymous(self, "a case", node)?;
        let given = fields.name();
        let name = given.as_ref().map(|given| given.name.clone());
        fields.decoder.places.case_names.extend(given);
        let loads = fields
            .require("loads", "a list of loads `[…]`")
            .map(|node| fields.decoder.loads(node));
        let (imposed, imposed_at) = fields.imposed();
        fields.finish()?;
        let ((loads, loads_at), name) = loads.zip(name)?;
        let case = Case {
            name,
            loads,
            imposed,
        };
        let places = CasePlaces {
            loads: loads_at,
            imposed: imposed_at,
        };
        Some((case, places))
    }

    /// Elements of a list; none, with a report, if it is no list.
    fn list<'de>(&mut self, field: &str, node: SyntaxNode<'de>) -> Vec<SyntaxNode<'de>> {
        match node.value() {
            Value::List(nodes) => nodes,
            _ => {
                let what = format_args!("`{field}`");
                self.wrong_with_hint(what, "a list `[…]`", node, list_hint(field, node));
                Vec::new()
            }
        }
    }

    /// Items that each are of one of several kinds.
    fn items<T>(
        &mut self,
        kinds: &'static Kinds<T>,
        nodes: Vec<SyntaxNode>,
    ) -> (Vec<T>, Vec<ItemPlaces>) {
        nodes
            .into_iter()
            .filter_map(|node| self.item(kinds, node))
            .unzip()
    }

    fn item<T>(&mut self, kinds: &'static Kinds<T>, node: SyntaxNode) -> Option<(T, ItemPlaces)> {
        let space = self.space;
        let Some(kind) = kinds.find(node.name()) else {
            self.findings
                .error_with(node.offset, || kinds.unknown(node, space));
            return None;
        };
        if !kind.spaces.allow(space) {
            let name = kind.name;
            self.findings.error(
                node.offset,
                FormatFault::OtherSpace {
                    what: kinds.what,
                    name,
                    space,
                },
            );
            return None;
        }
        if matches!(node.value(), Value::Tuple(items) if !items.is_empty()) {
            let (kind, fields) = (kind.name, kind.fields(space));
            self.findings
                .error(node.offset, FormatFault::NamelessFields { kind, fields });
            return None;
        }
        let mut fields = Fields::named(self, kind.name, node)?;
        let item = (kind.read)(&mut fields);
        Some((item, fields.finish()?))
    }
}

/// What to try for one unit, or the name of a system of units, in place of the fields.
fn lone_unit(node: SyntaxNode) -> Option<String> {
    let word = match node.value() {
        Value::Text(text) => text,
        Value::Word => node.name().into(),
        _ => return None,
    };
    let is = |symbol: &str| symbol == word;
    let fields = [
        (
            "length",
            LengthUnit::ALL.iter().any(|unit| is(unit.symbol())),
        ),
        ("force", ForceUnit::ALL.iter().any(|unit| is(unit.symbol()))),
        ("mass", MassUnit::ALL.iter().any(|unit| is(unit.symbol()))),
    ];
    Some(match fields.iter().find(|(_, is_unit)| *is_unit) {
        Some((field, _)) => format!("write `units: ({field}: {word})`"),
        None => {
            "write `units: (length: mm, force: kN)`; what is left out is in m, N and kg".to_owned()
        }
    })
}

/// What to try for something else than a list.
fn list_hint(field: &str, node: SyntaxNode) -> Option<String> {
    match node.value() {
        Value::Fields(fields) if field == "body" && node.name().is_empty() => {
            let other = fields.iter().find(|part| SCENE_FIELDS.contains(&part.key));
            Some(match other.map(|part| part.key) {
                Some(key) if key != "body" => format!(
                    "write `body: [Shape(…), …]` and `{key}` beside it, as a field of the scene"
                ),
                _ => "write `body: [Shape(…), …]`".to_owned(),
            })
        }
        Value::Tuple(items) if node.name().is_empty() && !items.is_empty() => Some(format!(
            "write `{field}: […]`, with square brackets around the items"
        )),
        Value::Fields(_) | Value::Tuple(_) | Value::Word => Some(match node.name() {
            "" => format!("write `{field}: [(…)]`: a single item needs the brackets, too"),
            name => format!(
                "write `{field}: [{}(…)]`: a single item needs the brackets, too",
                clipped(name)
            ),
        }),
        _ => None,
    }
}

/// The fields of a scene.
pub(crate) const SCENE_FIELDS: [&str; 17] = [
    "format",
    "title",
    "notes",
    "units",
    "space",
    "placement_tolerance",
    "elastic",
    "material",
    "points",
    "body",
    "walls",
    "supports",
    "loads",
    "imposed",
    "cases",
    "combinations",
    "lesson",
];

/// The words for the two spaces.
const SPACES: [(&str, Space); 2] = [("spatial", Space::Spatial), ("planar", Space::Planar)];

/// What to write for a space that goes by another name, in quotes where it begins with a digit.
fn other_space(word: &str) -> Option<&'static str> {
    match word.to_lowercase().as_str() {
        "2d" | "plane" | "flat" => Some("write `space: planar`"),
        "3d" | "space" => Some("write `space: spatial`, or leave it out"),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GUIDE: &str = include_str!("../../../scenes/README.md");

    #[test]
    fn the_scenes_on_that_page_are_scenes() {
        let examples: Vec<&str> = GUIDE
            .split("```ron")
            .skip(1)
            .filter_map(|rest| rest.split("```").next())
            .collect();
        assert_eq!(examples.len(), 8);
        for example in examples {
            let loaded = crate::scene::read_str("README.md", example)
                .unwrap_or_else(|error| panic!("{error}"));
            assert_eq!(loaded.warnings, []);
        }
    }

    /// Where a kind exists is told twice: to the reader, and to those who make scenes without one.
    #[test]
    fn kinds_exist_where_their_types_say() {
        for kind in supports::SUPPORTS.all {
            for space in [Space::Spatial, Space::Planar] {
                let mut findings = Findings::default();
                let mut decoder = Decoder {
                    findings: &mut findings,
                    space,
                    places: SourceOffsets::default(),
                    positions: Positions::default(),
                };
                let mut fields = Fields::empty(&mut decoder, kind.name);
                let support = (kind.read)(&mut fields);
                assert_eq!(
                    support.kind.exists_in(space),
                    kind.spaces.allow(space),
                    "{}",
                    kind.name
                );
            }
        }
    }
}
