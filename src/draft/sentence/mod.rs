//! A thing in a sentence whose parts can be changed: `A is a hinge at (0, 0.15, 0) m, axis along y, without couples`.
//!
//! The sentence is the form: whatever it says of a thing that a scene can say otherwise is a [`Field`], which takes what is typed
//! or chosen for it and makes a [`Proposal`].

mod field;
mod sizes;

pub use field::{Choice, Field};
pub(super) use sizes::all_mut as sizes_mut;

use super::place::{Handle, LoadId, SceneItem, load_word, shape_word};
use super::turnable::TurnableDirection;
use crate::scene::{
    AreaAmount, Coordinates, Direction, ForceVector, Heaviness, LineAmount, Load, Moment, Place,
    Scene, Shape, Support, SupportKind,
};
use crate::wording;

/// A part of a sentence.
#[derive(Debug, Clone, PartialEq)]
pub enum SentencePart {
    /// Words that stay.
    Words(String),
    /// What can be changed, and what it says now.
    Field(Field, String),
}

/// What a thing of a scene is, in one sentence; empty where the scene does not have it.
pub fn sentence(scene: &Scene, thing: SceneItem) -> Vec<SentencePart> {
    let mut parts = Sentence {
        scene,
        parts: Vec::new(),
    };
    match thing {
        SceneItem::Support(index) => {
            if let Some(support) = scene.supports.get(index) {
                parts.support(index, support);
            }
        }
        SceneItem::Load(load) => {
            if let Some(what) = load.of(scene) {
                parts.load(load, what);
            }
        }
        SceneItem::Shape(index) => {
            if let Some(shape) = scene.body.get(index) {
                parts.shape(index, shape);
            }
        }
        SceneItem::Point(index) => {
            if index < scene.points.len() {
                parts
                    .words("Point ")
                    .name(thing)
                    .words(" is at ")
                    .place(Handle::Point(index));
            }
        }
    }
    parts.parts
}

/// A sentence in the making.
struct Sentence<'s> {
    scene: &'s Scene,
    parts: Vec<SentencePart>,
}

impl Sentence<'_> {
    fn words(&mut self, words: &str) -> &mut Self {
        if !words.is_empty() {
            self.parts.push(SentencePart::Words(words.to_owned()));
        }
        self
    }

    fn field(&mut self, field: Field, says: impl Into<String>) -> &mut Self {
        self.parts.push(SentencePart::Field(field, says.into()));
        self
    }

    fn name(&mut self, thing: SceneItem) -> &mut Self {
        self.field(Field::Name(thing), thing.name(self.scene))
    }

    fn place(&mut self, handle: Handle) -> &mut Self {
        let says = match handle.place(self.scene) {
            Some(place) => place_words(self.scene, place),
            None => handle
                .position(self.scene)
                .map_or(String::new(), |at| position_words(self.scene, at)),
        };
        self.field(Field::Place(handle), says)
    }

    fn direction(&mut self, word: &str, aim: TurnableDirection) -> &mut Self {
        if let Some(direction) = aim.direction(self.scene) {
            let says = direction_words(self.scene, direction);
            self.words(word).field(Field::Direction(aim), says);
        }
        self
    }

    fn support(&mut self, index: usize, support: &Support) {
        let kind = wording::support_kind(&support.kind);
        self.name(SceneItem::Support(index))
            .words(" is a ")
            .field(Field::Kind(index), kind)
            .words(" at ");
        self.place(Handle::Support(index));
        if support.kind.ground().is_some() {
            self.words(", to ").place(Handle::Ground(index));
        }
        self.direction(
            orientation_word(&support.kind),
            TurnableDirection::Support(index),
        );
        self.direction(", normal ", TurnableDirection::Normal(index));
        if let Some(couples) = support.kind.couples() {
            let says = if couples {
                "with couples"
            } else {
                "without couples"
            };
            self.words(", ").field(Field::Couples(index), says);
        }
    }

    fn load(&mut self, id: LoadId, load: &Load) {
        let units = &self.scene.units;
        let force = units.force.symbol();
        self.words(&format!("The {}", load_word(load)));
        match load {
            Load::Force { force: vector, .. } => {
                self.words(" at ").place(Handle::Load(id));
                match vector {
                    ForceVector::Components(components) => {
                        let says = vector_words(components, force);
                        self.words(" is ").field(Field::Vector(id), says);
                    }
                    ForceVector::Directed { size, .. } => {
                        let says = format!("{} {force}", wording::number(*size));
                        self.words(" is ").field(Field::Amount(id), says);
                        self.direction(", ", TurnableDirection::Load(id));
                    }
                }
            }
            Load::Couple { moment, at } => {
                let unit = units.moment_symbol();
                let says = match moment {
                    Moment::Plane(about_z) => format!("{} {unit}", wording::number(*about_z)),
                    Moment::Space(xyz) => vector_words(&Coordinates::Space(*xyz), &unit),
                };
                self.words(" is ").field(Field::Vector(id), says);
                if at.is_some() {
                    self.words(", drawn at ").place(Handle::Load(id));
                }
            }
            Load::Distributed { start, end, .. } => {
                let unit = format!("{force}/{}", units.length.symbol());
                self.words(" from ")
                    .place(Handle::Load(id))
                    .words(" to ")
                    .place(Handle::LoadEnd(id));
                self.words(" is ")
                    .field(Field::Vector(id), vector_words(start, &unit));
                if let Some(end) = end {
                    self.words(" and then ")
                        .field(Field::EndVector(id), vector_words(end, &unit));
                }
            }
            Load::Line { path, amount } => {
                let ends = [Handle::Load(id), Handle::LoadEnd(id)];
                self.words(" from ").place(ends[0]);
                if path.len() > 2 {
                    self.words(" through the points of its path");
                }
                self.words(" to ").place(ends[1]).words(" is ");
                match amount {
                    LineAmount::Force(density) => {
                        let unit = format!("{force}/{}", units.length.symbol());
                        self.field(Field::Vector(id), vector_words(density, &unit));
                    }
                    LineAmount::Mass { per_length, .. } => {
                        let mass = units.mass.symbol();
                        let says = format!("{} {mass} per length", wording::number(*per_length));
                        self.field(Field::Amount(id), says);
                    }
                }
            }
            Load::Area {
                amount, on_plan, ..
            } => {
                let unit = format!("{force}/{}\u{b2}", units.length.symbol());
                self.words(" is ");
                match amount {
                    AreaAmount::Force(density) => {
                        self.field(Field::Vector(id), vector_words(density, &unit));
                    }
                    AreaAmount::Pressure(pressure) => {
                        let says = format!("{} {unit} square to it", wording::number(*pressure));
                        self.field(Field::Amount(id), says);
                    }
                }
                if *on_plan {
                    self.words(" on plan");
                }
            }
            Load::Weight { amount, at, .. } => {
                let mass = units.mass.symbol();
                let says = match amount {
                    Heaviness::Mass(kilos) => format!("{} {mass}", wording::number(*kilos)),
                    Heaviness::Density(density) => {
                        format!("{} {mass} per volume", wording::number(*density))
                    }
                };
                self.words(" is that of ").field(Field::Amount(id), says);
                if at.is_some() {
                    self.words(" at ").place(Handle::Load(id));
                }
            }
        }
    }

    fn shape(&mut self, index: usize, shape: &Shape) {
        let handles = Handle::of(SceneItem::Shape(index), self.scene);
        let has_ends = match shape {
            Shape::BentBar(_) => handles.len() == 2,
            _ => matches!(shape, Shape::Shaft(_)),
        };
        let lead = match shape {
            _ if has_ends => " runs from ",
            Shape::BentBar(_) => " runs through ",
            Shape::Plate(_) => " has its corners at ",
            Shape::Bracket(_) => " has its corner and its legs' ends at ",
            Shape::Shaft(_) | Shape::Disc(_) | Shape::Block(_) => " is centred at ",
        };
        self.words(&format!("The {}{lead}", shape_word(shape)));
        let is_hole = |handle: &Handle| matches!(handle, Handle::Hole(..));
        let holes = handles.iter().filter(|handle| is_hole(handle)).count();
        for (place, handle) in handles.iter().enumerate() {
            let is_last = place + 1 == handles.len() - holes;
            let lead = match place {
                0 => None,
                _ if is_hole(handle) => Some(", a hole at "),
                _ if has_ends => Some(" to "),
                _ if is_last => Some(" and "),
                _ => Some(", "),
            };
            if let Some(lead) = lead {
                self.words(lead);
            }
            self.place(*handle);
        }
        let word = match shape {
            Shape::Disc(_) => ", axis ",
            _ => ", lengthwise ",
        };
        self.direction(word, TurnableDirection::Shape(index));
        self.direction(", upright ", TurnableDirection::Upright(index));
        for (number, (word, size)) in sizes::of(shape).into_iter().enumerate() {
            let says = format!(
                "{} {}",
                wording::number(size),
                self.scene.units.length.symbol()
            );
            self.words(&format!("; {word} "))
                .field(Field::Size(index, number), says);
        }
    }
}

/// The word before the direction of a kind of support.
fn orientation_word(kind: &SupportKind) -> &'static str {
    match kind {
        SupportKind::Slider { .. } | SupportKind::Collar { .. } => ", rod ",
        SupportKind::RailWheel { .. } => ", rail ",
        SupportKind::Slot { .. } => ", slot ",
        SupportKind::Roller { .. }
        | SupportKind::SmoothContact { .. }
        | SupportKind::RoughContact { .. }
        | SupportKind::AnchorPlate { .. }
        | SupportKind::Rocker { .. } => ", normal ",
        _ => ", axis ",
    }
}

fn place_words(scene: &Scene, place: &Place) -> String {
    match place {
        Place::Named(name) => name.clone(),
        Place::At(at) => position_words(scene, at.components()),
    }
}

/// Coordinates from the origin, as they can be typed, with their unit.
fn position_words(scene: &Scene, at: [f64; 3]) -> String {
    let axes = 0..scene.space.axes();
    let numbers: Vec<String> = axes
        .map(|axis| wording::coordinate(&scene.datum, axis, at[axis]).to_string())
        .collect();
    format!("({}) {}", numbers.join(", "), scene.units.length.symbol())
}

fn vector_words(components: &Coordinates, unit: &str) -> String {
    format!("({}) {unit}", numbers(components))
}

fn numbers(components: &Coordinates) -> String {
    let components: Vec<String> = match components {
        Coordinates::Plane(xy) => xy.iter().map(|x| wording::number(*x).to_string()).collect(),
        Coordinates::Space(xyz) => xyz
            .iter()
            .map(|x| wording::number(*x).to_string())
            .collect(),
    };
    components.join(", ")
}

fn direction_words(scene: &Scene, direction: &Direction) -> String {
    match direction {
        Direction::Towards(place) => format!("towards {}", place_words(scene, place)),
        Direction::Angle(degrees) => format!("at {}°", wording::number(*degrees)),
        Direction::Along(components) => along_words(components),
    }
}

/// `along y`, `along −z`, else the components.
fn along_words(components: &Coordinates) -> String {
    let xyz = components.components();
    let set: Vec<usize> = (0..3).filter(|axis| xyz[*axis] != 0.0).collect();
    match set.as_slice() {
        [axis] => {
            let sign = if xyz[*axis] < 0.0 { "\u{2212}" } else { "" };
            format!("along {sign}{}", ["x", "y", "z"][*axis])
        }
        _ => format!("along ({})", numbers(components)),
    }
}

/// The sentence without its fields' bounds.
pub fn words(parts: &[SentencePart]) -> String {
    let words = parts.iter().map(|part| match part {
        SentencePart::Words(words) | SentencePart::Field(_, words) => words.as_str(),
    });
    words.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::builtin;

    /// A part without letters made the line begin again over the first words.
    #[test]
    fn no_part_of_a_sentence_is_empty() {
        for scene in builtin::all() {
            let scene = crate::scene::read_str(scene.name, scene.text)
                .unwrap()
                .scene;
            let parts = SceneItem::all(&scene)
                .into_iter()
                .flat_map(|thing| sentence(&scene, thing));
            for part in parts {
                let (SentencePart::Words(words) | SentencePart::Field(_, words)) = &part;
                assert!(!words.is_empty(), "{}: {part:?}", scene.title);
            }
        }
    }
}
