//! Moving, turning, renaming, and changing what a support is.

use nalgebra::Vector3;

use super::super::place::{Handle, SceneItem, every_place};
use super::super::turnable::{TurnableDirection, resolved, turn_components};
use super::{Proposal, coordinates, handle_name, length};
use crate::scene::{Direction, Imposed, Place, Scene, Support, SupportKind};
use crate::wording;

impl Proposal {
    /// A place moved to coordinates from the scene's datum, in its length unit. Where the place is a named point, the point
    /// moves, and with it all that refers to it.
    pub fn moved(scene: &Scene, handle: Handle, to: [f64; 3]) -> Option<Self> {
        if let Some(Place::Named(name)) = handle.place(scene) {
            let point = scene.points.iter().position(|point| point.name == *name)?;
            return Self::moved(scene, Handle::Point(point), to);
        }
        let from = handle.position(scene)?;
        let way = (0..3)
            .map(|i| (to[i] - from[i]).powi(2))
            .sum::<f64>()
            .sqrt();
        let name = format!(
            "moved {} by {}",
            handle_name(scene, handle),
            length(way, &scene.units)
        );
        let at = coordinates(scene, to);
        Self::on(scene, name, |scene| {
            match handle {
                Handle::Point(index) => scene.points.get_mut(index)?.at = at,
                _ => *handle.place_mut(scene)? = Place::At(at),
            }
            Some(())
        })
    }

    /// A place written anew: coordinates, or the name of a point, to which it is tied from then on.
    pub fn placed(scene: &Scene, handle: Handle, place: Place) -> Option<Self> {
        match place {
            Place::At(at) => match handle.place(scene) {
                Some(Place::Named(name)) => Self::on(
                    scene,
                    format!("moved {} off point {name}", handle_name(scene, handle)),
                    |scene| {
                        *handle.place_mut(scene)? = Place::At(at);
                        Some(())
                    },
                ),
                _ => Self::moved(scene, handle, at.components()),
            },
            Place::Named(name) => Self::on(
                scene,
                format!("tied {} to {name}", handle_name(scene, handle)),
                |scene| {
                    *handle.place_mut(scene)? = Place::Named(name);
                    Some(())
                },
            ),
        }
    }

    /// A direction turned to another. What is given by components keeps its size and is written so again.
    pub fn turned(scene: &Scene, aim: TurnableDirection, to: Direction) -> Option<Self> {
        let way = aim
            .from(scene)
            .and_then(|from| resolved(scene, from, &to))
            .map(|way| way * aim.sense(scene));
        let name = turned_name(scene, aim, way.as_ref());
        Self::on(scene, name, |scene| match aim {
            TurnableDirection::Vector(load) => turn_components(load.of_mut(scene)?, &way?),
            // What is meant without being written stays unwritten.
            _ if aim.direction(scene) == Some(&to) => Some(()),
            _ => {
                *aim.direction_mut(scene)? = to;
                Some(())
            }
        })
    }

    /// A support of another kind at the same place.
    pub fn made(scene: &Scene, support: usize, kind: SupportKind) -> Option<Self> {
        let Support { name, .. } = scene.supports.get(support)?;
        let name = format!("made {name} a {}", wording::support_kind(&kind));
        Self::on(scene, name, |scene| {
            let space = scene.space;
            let support = scene.supports.get_mut(support)?;
            support.stiffness = support.stiffness.fitting(kind.counts(space));
            support.allowable.take_if(|one| !one.fits(&kind, space));
            support.kind = kind;
            Some(())
        })
    }

    /// A support or a point under another name; whatever refers to the point follows. Loads and shapes have no names.
    pub fn renamed(scene: &Scene, thing: SceneItem, to: &str) -> Option<Self> {
        let old = thing.name(scene);
        let name = format!("renamed {old} to {to}");
        Self::on(scene, name, |scene| match thing {
            SceneItem::Support(index) => {
                to.clone_into(&mut scene.supports.get_mut(index)?.name);
                for name in imposed_supports(scene).filter(|name| **name == old) {
                    to.clone_into(name);
                }
                Some(())
            }
            SceneItem::Point(index) => {
                to.clone_into(&mut scene.points.get_mut(index)?.name);
                for place in every_place(scene) {
                    if *place == Place::Named(old.clone()) {
                        *place = Place::Named(to.to_owned());
                    }
                }
                Some(())
            }
            SceneItem::Load(_) | SceneItem::Shape(_) => None,
        })
    }

    /// A support that takes couples across its axis, or does not.
    pub fn with_couples(scene: &Scene, support: usize, with: bool) -> Option<Self> {
        let Support { name, .. } = scene.supports.get(support)?;
        let word = if with { "gave" } else { "took" };
        let name = format!("{word} {name} its couples");
        Self::on(scene, name, |scene| {
            let space = scene.space;
            let support = scene.supports.get_mut(support)?;
            *support.kind.couples_mut()? = with;
            support.stiffness = support.stiffness.fitting(support.kind.counts(space));
            Some(())
        })
    }
}

/// The names by which what is imposed refers to supports.
fn imposed_supports(scene: &mut Scene) -> impl Iterator<Item = &mut String> {
    let cases = scene.cases.iter_mut();
    let imposed = cases.flat_map(|case| &mut case.imposed);
    let all = scene.imposed.iter_mut().chain(imposed);
    all.filter_map(Imposed::support_mut)
}

/// What a turn is called: `turned A by 30°`.
fn turned_name(scene: &Scene, aim: TurnableDirection, to: Option<&Vector3<f64>>) -> String {
    let thing = aim.thing().name(scene);
    let thing = match aim {
        TurnableDirection::Support(_) => thing,
        TurnableDirection::Shape(_) => format!("the {thing}"),
        TurnableDirection::Upright(_) => format!("the upright edge of the {thing}"),
        TurnableDirection::Normal(_) => format!("the normal of {thing}"),
        TurnableDirection::Load(_) | TurnableDirection::Vector(_) => format!("the {thing}"),
    };
    match (aim.way(scene), to) {
        (Some(from), Some(to)) => {
            let degrees = from.angle(to).to_degrees();
            format!("turned {thing} by {}°", wording::rounded(degrees, 3))
        }
        _ => format!("turned {thing}"),
    }
}
