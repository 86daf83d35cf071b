//! Changes of a scene, each with the name that it has in the history.

mod adding;
mod copying;
mod kinds;
mod moving;
mod reshaping;
mod sizing;
mod taking_away;

pub use kinds::{load_kinds, shape_kinds, support_kinds};
pub use reshaping::Reshaping;

use super::place::{Handle, SceneItem};
use crate::scene::{Coordinates, Scene, Units};
use crate::wording;

/// A change that somebody may make: its name and the scene that would come of it.
#[derive(Debug, Clone, PartialEq)]
#[must_use]
pub struct Proposal {
    /// What it does, to follow "undo": `moved A by 0.2 m`.
    pub name: String,
    /// The scene with the change made, which the reader has not seen yet.
    pub scene: Scene,
}

impl Proposal {
    /// A change under a name.
    pub fn new(scene: &Scene, name: impl Into<String>, change: impl FnOnce(&mut Scene)) -> Self {
        let mut changed = scene.clone();
        change(&mut changed);
        Self {
            name: name.into(),
            scene: changed,
        }
    }

    /// A change that there may be nothing to make on.
    fn on(
        scene: &Scene,
        name: impl Into<String>,
        change: impl FnOnce(&mut Scene) -> Option<()>,
    ) -> Option<Self> {
        let mut changed = scene.clone();
        change(&mut changed)?;
        Some(Self {
            name: name.into(),
            scene: changed,
        })
    }
}

/// Coordinates as a scene of its space writes them.
fn coordinates(scene: &Scene, position: [f64; 3]) -> Coordinates {
    // Adding zero turns a negative zero, which nobody writes, into a plain one.
    Coordinates::new(scene.space, position.map(|x| x + 0.0))
}

/// A length in the scene's unit, in words.
fn length(value: f64, units: &Units) -> String {
    wording::length(value * units.length.in_metres(), units).to_string()
}

/// What a handle is called in the history.
fn handle_name(scene: &Scene, handle: Handle) -> String {
    let thing = handle.thing().name(scene);
    match handle {
        Handle::Support(_) | Handle::Load(_) => thing,
        Handle::Point(_) => format!("point {thing}"),
        Handle::Ground(_) => format!("the ground end of {thing}"),
        Handle::LoadEnd(_) => format!("the end of the {thing}"),
        Handle::Shape(..) => format!("a corner of the {thing}"),
        Handle::Hole(..) => format!("a hole of the {thing}"),
    }
}

/// A name that no support and no point has: a letter, or `P1` and so on when letters are used up.
fn free_name(scene: &Scene) -> String {
    let is_free = |name: &String| {
        let supports = scene.supports.iter().map(|support| &support.name);
        supports
            .chain(scene.points.iter().map(|point| &point.name))
            .all(|taken| taken != name)
    };
    let letters = ('A'..='Z').map(String::from);
    let numbered = (1..).map(|number| format!("P{number}"));
    letters.chain(numbered).find(is_free).unwrap_or_default()
}

/// The least and the largest coordinates of everything that the scene places; a unit box around the origin where that is nothing.
fn bounds(scene: &Scene) -> [[f64; 3]; 2] {
    let handles = SceneItem::all(scene)
        .into_iter()
        .flat_map(|thing| Handle::of(thing, scene));
    let positions = handles.filter_map(|handle| handle.position(scene));
    positions
        .map(|at| [at, at])
        .reduce(|[low, high], [at, _]| {
            let least = std::array::from_fn(|i| low[i].min(at[i]));
            let largest = std::array::from_fn(|i| high[i].max(at[i]));
            [least, largest]
        })
        .filter(|[low, high]| (0..3).any(|i| high[i] > low[i]))
        .unwrap_or([[-0.5; 3], [0.5; 3]])
}

/// By how much a copy lies aside of what it is a copy of, in the scene's length unit.
pub fn aside(scene: &Scene) -> [f64; 3] {
    [tenth(scene), 0.0, 0.0]
}

/// A round length that suits the size of the scene: a tenth of its largest extent, as 1, 2 or 5 times a power of ten.
pub fn tenth(scene: &Scene) -> f64 {
    let [low, high] = bounds(scene);
    let size = (0..3).map(|i| high[i] - low[i]).fold(0.0, f64::max);
    let tenth = size / 10.0;
    let power = 10_f64.powf(tenth.log10().floor());
    let step = [5.0, 2.0].into_iter().find(|step| step * power <= tenth);
    // Powers of ten below one are not exact; written decimals are.
    format!("{:.0e}", step.unwrap_or(1.0) * power)
        .parse()
        .unwrap_or(power)
}
