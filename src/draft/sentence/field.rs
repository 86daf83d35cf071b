//! What can be changed of a thing, by typing or by choosing.

use super::super::entry::{self, EntryError};
use super::super::place::{Handle, LoadId, SceneItem};
use super::super::proposal::{Proposal, support_kinds};
use super::super::turnable::TurnableDirection;
use super::sizes;
use crate::scene::{
    AreaAmount, Coordinates, Direction, ForceVector, Heaviness, LineAmount, Load, Moment, Place,
    Scene, Space, SupportKind,
};
use crate::wording;

/// What can be changed of a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Field {
    /// The name of a support or a point.
    Name(SceneItem),
    /// The kind of a support.
    Kind(usize),
    /// Whether a support takes couples across its axis.
    Couples(usize),
    /// Where something is.
    Place(Handle),
    /// Where something points.
    Direction(TurnableDirection),
    /// A size of a shape, by its number among them.
    Size(usize, usize),
    /// Components of a force, a couple, or a distributed load at its beginning.
    Vector(LoadId),
    /// Components of a distributed load at its end.
    EndVector(LoadId),
    /// Size of a force that is given by size and direction; mass or density of a weight.
    Amount(LoadId),
}

/// One of the things that a field can be.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// What it is, in a word.
    pub word: String,
    /// More on it: of a kind of support the reactions that it supplies.
    pub note: String,
    /// Whether it is so now.
    pub chosen: bool,
    /// The change.
    pub proposal: Proposal,
}

impl Field {
    /// What there is to choose from; nothing where the field is typed.
    pub fn choices(self, scene: &Scene) -> Vec<Choice> {
        match self {
            Self::Kind(index) => kind_choices(scene, index),
            Self::Couples(index) => couple_choices(scene, index),
            _ => Vec::new(),
        }
    }

    /// What it says now, as it would be typed.
    pub fn typed_now(self, scene: &Scene) -> String {
        let vector = |components: &Coordinates| plain(components);
        match self {
            Self::Name(thing) => thing.name(scene),
            Self::Place(handle) => match (handle.place(scene), handle.position(scene)) {
                (Some(Place::Named(name)), _) => name.clone(),
                (_, Some(at)) => {
                    let axes = 0..scene.space.axes();
                    let numbers: Vec<String> = axes
                        .map(|axis| scene.datum.written(axis, at[axis]))
                        .collect();
                    numbers.join(", ")
                }
                _ => String::new(),
            },
            Self::Direction(aim) => match aim.direction(scene) {
                Some(Direction::Towards(Place::Named(name))) => format!("towards {name}"),
                Some(Direction::Towards(Place::At(at))) => format!("towards {}", plain(at)),
                Some(Direction::Angle(degrees)) => format!("{degrees} deg"),
                Some(Direction::Along(components)) => vector(components),
                None => String::new(),
            },
            Self::Size(shape, number) => scene
                .body
                .get(shape)
                .and_then(|shape| {
                    sizes::of(shape)
                        .get(number)
                        .map(|(_, size)| size.to_string())
                })
                .unwrap_or_default(),
            Self::Vector(load) => match load.of(scene) {
                Some(Load::Force {
                    force: ForceVector::Components(components),
                    ..
                }) => vector(components),
                Some(
                    Load::Distributed { start, .. }
                    | Load::Line {
                        amount: LineAmount::Force(start),
                        ..
                    }
                    | Load::Area {
                        amount: AreaAmount::Force(start),
                        ..
                    },
                ) => vector(start),
                Some(Load::Couple { moment, .. }) => match moment {
                    Moment::Plane(about_z) => about_z.to_string(),
                    Moment::Space(xyz) => vector(&Coordinates::Space(*xyz)),
                },
                _ => String::new(),
            },
            Self::EndVector(load) => match load.of(scene) {
                Some(Load::Distributed { end: Some(end), .. }) => vector(end),
                _ => String::new(),
            },
            Self::Amount(load) => match load.of(scene) {
                Some(Load::Force {
                    force: ForceVector::Directed { size, .. },
                    ..
                }) => size.to_string(),
                Some(
                    Load::Weight {
                        amount: Heaviness::Mass(amount) | Heaviness::Density(amount),
                        ..
                    }
                    | Load::Line {
                        amount:
                            LineAmount::Mass {
                                per_length: amount, ..
                            },
                        ..
                    }
                    | Load::Area {
                        amount: AreaAmount::Pressure(amount),
                        ..
                    },
                ) => amount.to_string(),
                _ => String::new(),
            },
            Self::Kind(_) | Self::Couples(_) => String::new(),
        }
    }

    /// The change that something typed asks for; `None` where the scene no longer has the field.
    ///
    /// # Errors
    /// If what was typed is not what the field takes.
    pub fn typed(self, scene: &Scene, text: &str) -> Result<Option<Proposal>, EntryError> {
        Ok(match self {
            Self::Name(thing) => Proposal::renamed(scene, thing, text.trim()),
            Self::Place(handle) => Proposal::placed(scene, handle, entry::place(scene, text)?),
            Self::Direction(aim) => Proposal::turned(scene, aim, entry::direction(scene, text)?),
            Self::Size(shape, number) => {
                let size = entry::length(scene, text)?;
                Proposal::sized(scene, shape, number, size)
            }
            Self::Vector(load) | Self::EndVector(load) => {
                let wanted = match load.of(scene) {
                    Some(Load::Couple { .. }) if scene.space == Space::Planar => 1,
                    _ => scene.space.axes(),
                };
                let components = entry::components(text, wanted)?;
                Proposal::loaded(scene, load, self == Self::EndVector(load), components)
            }
            Self::Amount(load) => Proposal::weighed(scene, load, entry::number(text)?),
            Self::Kind(_) | Self::Couples(_) => None,
        })
    }
}

fn kind_choices(scene: &Scene, index: usize) -> Vec<Choice> {
    let Some(support) = scene.supports.get(index) else {
        return Vec::new();
    };
    let position = scene.position(&support.at).unwrap_or_default();
    let up = std::array::from_fn(|axis| {
        if axis + 1 == scene.space.axes() {
            1.0
        } else {
            0.0
        }
    });
    let kinds = support_kinds(scene, position, up, Some(&support.kind));
    let choice = |kind: SupportKind| {
        Some(Choice {
            word: wording::support_kind(&kind).to_owned(),
            note: stops(&kind, scene.space),
            chosen: std::mem::discriminant(&kind) == std::mem::discriminant(&support.kind),
            proposal: Proposal::made(scene, index, kind)?,
        })
    };
    kinds.into_iter().filter_map(choice).collect()
}

fn couple_choices(scene: &Scene, index: usize) -> Vec<Choice> {
    let Some(now) = scene
        .supports
        .get(index)
        .and_then(|support| support.kind.couples())
    else {
        return Vec::new();
    };
    let words = [
        (
            true,
            "with couples",
            "a single one also stops the turns across its axis",
        ),
        (
            false,
            "without couples",
            "one of an aligned pair is taken so by convention",
        ),
    ];
    let choice = |(with, word, note): (bool, &str, &str)| {
        Some(Choice {
            word: word.to_owned(),
            note: note.to_owned(),
            chosen: with == now,
            proposal: Proposal::with_couples(scene, index, with)?,
        })
    };
    words.into_iter().filter_map(choice).collect()
}

/// What a kind of support supplies, counted: `2 forces, 1 couple`.
fn stops(kind: &SupportKind, space: Space) -> String {
    let (forces, couples) = wording::supplied(kind, space);
    let counted = |count: usize, one: &str| match count {
        0 => None,
        1 => Some(format!("1 {one}")),
        count => Some(format!("{count} {one}s")),
    };
    let parts: Vec<String> = [counted(forces, "force"), counted(couples, "couple")]
        .into_iter()
        .flatten()
        .collect();
    parts.join(", ")
}

/// Components as they would be typed.
fn plain(components: &Coordinates) -> String {
    let numbers: Vec<String> = match components {
        Coordinates::Plane(xy) => xy.iter().map(f64::to_string).collect(),
        Coordinates::Space(xyz) => xyz.iter().map(f64::to_string).collect(),
    };
    numbers.join(", ")
}
