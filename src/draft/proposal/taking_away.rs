//! Taking things away.

use super::super::place::{Thing, every_place};
use super::Proposal;
use crate::scene::{Place, Scene};

impl Proposal {
    /// A scene without a thing; what refers to a point that goes stays where the point was.
    pub fn removed(scene: &Scene, thing: Thing) -> Option<Self> {
        let name = match thing {
            Thing::Support(_) => format!("removed {}", thing.name(scene)),
            Thing::Point(_) => format!("removed point {}", thing.name(scene)),
            Thing::Load(_) | Thing::Shape(_) => format!("removed the {}", thing.name(scene)),
        };
        if !thing.is_in(scene) {
            return None;
        }
        Self::on(scene, name, |scene| {
            match thing {
                Thing::Support(index) => drop(scene.supports.remove(index)),
                Thing::Shape(index) => drop(scene.body.remove(index)),
                Thing::Load(load) => drop(load.list_mut(scene)?.remove(load.index)),
                Thing::Point(index) => {
                    let point = scene.points.remove(index);
                    for place in every_place(scene) {
                        if *place == Place::Named(point.name.clone()) {
                            *place = Place::At(point.at);
                        }
                    }
                }
            }
            Some(())
        })
    }
}
