//! Nodes of the text to a [`Scene`], collecting every problem on the way.
//!
//! A part that cannot be read is reported and left out; the rest is read all the same. Geometry and names are no
//! matter of this module, see [`check`](super::check).

mod fault;
mod fields;
mod loads;
mod shapes;
mod supports;
mod values;

pub use fault::Misread;

use super::places::{GivenName, ItemPlaces, Places};
use super::problem::{Explain, Severity};
use super::syntax::{Node, Value};
use super::units::{ForceUnit, LengthUnit, MassUnit, other_force, other_length, other_mass};
use super::{Case, NamedPoint, Scene, Space, Units};
use fields::{Fields, Kind};
use values::Range;

/// The format that this program reads and writes.
pub const FORMAT: u64 = 1;

/// What reading has found so far.
#[derive(Default)]
pub struct Findings {
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
pub struct Finding {
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
    pub fn error(&mut self, offset: usize, fault: impl Explain + 'static) {
        self.keep(offset, Severity::Error, || fault);
    }

    /// Keeps a warning.
    pub fn warning(&mut self, offset: usize, fault: impl Explain + 'static) {
        self.keep(offset, Severity::Warning, || fault);
    }

    /// Keeps an error whose words take work to find, unless there are too many already.
    pub fn error_with<F: Explain + 'static>(&mut self, offset: usize, fault: impl FnOnce() -> F) {
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
pub fn scene(document: Node, findings: &mut Findings) -> (Scene, Places) {
    let mut decoder = Decoder {
        findings,
        space: Space::default(),
        places: Places::default(),
    };
    let scene = decoder.scene(document);
    decoder.findings.unreadable = scene.is_none();
    (scene.unwrap_or_default(), decoder.places)
}

/// What the decoding functions share.
pub struct Decoder<'f> {
    findings: &'f mut Findings,
    space: Space,
    places: Places,
}

impl Decoder<'_> {
    fn scene(&mut self, document: Node) -> Option<Scene> {
        let mut fields = Fields::anonymous(self, "the scene", document)?;
        if !fields.format() {
            // Nothing else is known to mean in another format what it means in this one.
            return None;
        }
        let mut scene = Scene {
            title: fields.text_or_empty("title"),
            notes: fields.text_or_empty("notes"),
            ..Scene::default()
        };
        scene.units = fields
            .take("units")
            .and_then(|node| fields.decoder.units(node))
            .unwrap_or_default();
        // How many coordinates a point has, and which kinds exist, depends on it.
        scene.space = fields.word("space", &SPACES, Space::default(), other_space)?;
        fields.decoder.space = scene.space;
        scene.placement_tolerance = fields.optional_number("placement_tolerance", Range::Positive);
        if let Some(node) = fields.take("points") {
            scene.points = fields.decoder.points(node);
        }
        fields.decoder.places.body = fields.offset_of("body");
        if let Some(node) = fields.take("body") {
            let nodes = fields.decoder.list("body", node);
            fields.decoder.places.has_shapes = !nodes.is_empty();
            (scene.body, fields.decoder.places.shapes) =
                fields.decoder.items(&shapes::SHAPES, nodes);
        }
        if let Some(node) = fields.take("supports") {
            let nodes = fields.decoder.list("supports", node);
            (scene.supports, fields.decoder.places.supports) =
                fields.decoder.items(&supports::SUPPORTS, nodes);
        }
        if let Some(node) = fields.take("loads") {
            (scene.loads, fields.decoder.places.loads) = fields.decoder.loads(node);
        }
        if let Some(node) = fields.take("cases") {
            (scene.cases, fields.decoder.places.cases) = fields.decoder.cases(node);
        }
        fields.finish();
        Some(scene)
    }

    fn units(&mut self, node: Node) -> Option<Units> {
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

    fn points(&mut self, node: Node) -> Vec<NamedPoint> {
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
            match self.coordinates(format_args!("point \"{name}\""), value) {
                Some(at) => points.push(NamedPoint { name, at }),
                None => {
                    self.places.unreadable_points.insert(name);
                }
            }
        }
        points
    }

    fn loads(&mut self, node: Node) -> (Vec<super::Load>, Vec<ItemPlaces>) {
        let nodes = self.list("loads", node);
        self.items(&loads::LOADS, nodes)
    }

    fn cases(&mut self, node: Node) -> (Vec<Case>, Vec<Vec<ItemPlaces>>) {
        let nodes = self.list("cases", node);
        nodes.into_iter().filter_map(|node| self.case(node)).unzip()
    }

    fn case(&mut self, node: Node) -> Option<(Case, Vec<ItemPlaces>)> {
        let mut fields = Fields::anonymous(self, "a case", node)?;
        let given = fields.name();
        let name = given.as_ref().map(|given| given.name.clone());
        fields.decoder.places.case_names.extend(given);
        let loads = fields
            .require("loads", "a list of loads `[…]`")
            .map(|node| fields.decoder.loads(node));
        fields.finish()?;
        let ((loads, places), name) = loads.zip(name)?;
        Some((Case { name, loads }, places))
    }

    /// Elements of a list; none, with a report, if it is no list.
    fn list<'de>(&mut self, field: &str, node: Node<'de>) -> Vec<Node<'de>> {
        match node.value() {
            Value::List(nodes) => nodes,
            _ => {
                self.wrong(format_args!("`{field}`"), "a list `[…]`", node);
                Vec::new()
            }
        }
    }

    /// Items that each are of one of several kinds.
    fn items<T>(
        &mut self,
        kinds: &'static Kinds<T>,
        nodes: Vec<Node>,
    ) -> (Vec<T>, Vec<ItemPlaces>) {
        nodes
            .into_iter()
            .filter_map(|node| self.item(kinds, node))
            .unzip()
    }

    fn item<T>(&mut self, kinds: &'static Kinds<T>, node: Node) -> Option<(T, ItemPlaces)> {
        let space = self.space;
        let Some(kind) = kinds.all.iter().find(|kind| kind.name == node.name()) else {
            self.findings
                .error_with(node.offset, || kinds.unknown(node, space));
            return None;
        };
        if !kind.spaces.allow(space) {
            let name = kind.name;
            self.findings.error(
                node.offset,
                Misread::OtherSpace {
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
                .error(node.offset, Misread::NamelessFields { kind, fields });
            return None;
        }
        let mut fields = Fields::named(self, kind.name, node)?;
        let item = (kind.read)(&mut fields);
        Some((item, fields.finish()?))
    }
}

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

/// A family of kinds, such as the supports.
pub struct Kinds<T: 'static> {
    /// What one of them is called.
    pub what: &'static str,
    /// Other words for a kind, in lower case, and the kind.
    pub synonyms: &'static [(&'static str, &'static str)],
    /// Each kind with its fields.
    pub all: &'static [Kind<T>],
}

impl<T> Kind<T> {
    /// Names of its fields in a space: those that it asks an item without fields for.
    fn fields(&self, space: Space) -> Vec<&'static str> {
        let mut decoder = Decoder {
            findings: &mut Findings::default(),
            space,
            places: Places::default(),
        };
        let mut fields = Fields::empty(&mut decoder, self.name);
        (self.read)(&mut fields);
        fields.asked()
    }
}

impl<T> Kinds<T> {
    /// Names of the kinds that a space knows.
    pub fn names(&self, space: Space) -> impl Iterator<Item = &'static str> {
        let known = self.all.iter().filter(move |kind| kind.spaces.allow(space));
        known.map(|kind| kind.name)
    }

    fn unknown(&self, node: Node, space: Space) -> Misread {
        let word = node.name().to_lowercase();
        let is_known = |kind: &&str| self.names(space).any(|known| known == *kind);
        let synonyms = self.synonyms.iter();
        let mut meant = synonyms
            .filter(|(synonym, _)| *synonym == word)
            .map(|(_, kind)| *kind)
            .filter(is_known);
        // A kind of the other space is still nearer to what was meant than none.
        let everything = || self.all.iter().map(|kind| kind.name);
        let nearest = meant
            .next()
            .or_else(|| super::problem::nearest(node.name(), self.names(space)))
            .or_else(|| super::problem::nearest(node.name(), everything()));
        Misread::UnknownKind {
            what: self.what,
            found: node.describe(),
            nearest,
            allowed: self.names(space).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GUIDE: &str = include_str!("../../../scenes/README.md");

    /// Names of kinds that the page does not show as `Name`.
    fn untold<T>(kinds: &Kinds<T>) -> Vec<&'static str> {
        let all = kinds.all.iter().map(|kind| kind.name);
        all.filter(|name| !GUIDE.contains(&format!("| `{name}` |")))
            .collect()
    }

    #[test]
    fn the_page_on_scenes_tells_of_every_kind() {
        let untold = [
            untold(&shapes::SHAPES),
            untold(&supports::SUPPORTS),
            untold(&loads::LOADS),
        ];
        assert_eq!(untold.concat(), [""; 0]);
    }

    #[test]
    fn the_scenes_on_that_page_are_scenes() {
        let examples: Vec<&str> = GUIDE
            .split("```ron")
            .skip(1)
            .filter_map(|rest| rest.split("```").next())
            .collect();
        assert_eq!(examples.len(), 2);
        for example in examples {
            let loaded = crate::scene::read_str("README.md", example)
                .unwrap_or_else(|error| panic!("{error}"));
            assert_eq!(loaded.warnings, []);
        }
    }

    #[test]
    fn other_words_lead_to_kinds() {
        fn check<T>(kinds: &Kinds<T>) {
            for (word, kind) in kinds.synonyms {
                assert!(kinds.all.iter().any(|known| known.name == *kind), "{kind}");
                assert_eq!(word.to_lowercase(), *word);
                let is_kind = |known: &Kind<T>| known.name.to_lowercase() == *word;
                assert!(!kinds.all.iter().any(is_kind), "{word}");
            }
        }
        check(&shapes::SHAPES);
        check(&supports::SUPPORTS);
        check(&loads::LOADS);
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
                    places: Places::default(),
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
