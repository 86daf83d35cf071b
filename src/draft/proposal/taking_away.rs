//! Taking things away.

use super::super::place::{SceneItem, every_place};
use super::Proposal;
use crate::scene::{Imposed, Place, Scene, Support};

impl Proposal {
    /// A scene without a thing; what is imposed on a support goes with it, and what refers to a point that goes stays where the point was.
    pub fn removed(scene: &Scene, thing: SceneItem) -> Option<Self> {
        let name = match thing {
            SceneItem::Support(_) => format!("removed {}", thing.name(scene)),
            SceneItem::Point(_) => format!("removed point {}", thing.name(scene)),
            SceneItem::Load(_) | SceneItem::Shape(_) => {
                format!("removed the {}", thing.name(scene))
            }
        };
        if !thing.is_in(scene) {
            return None;
        }
        Self::on(scene, name, |scene| {
            match thing {
                SceneItem::Support(index) => {
                    let Support { name, .. } = scene.supports.remove(index);
                    let keeps = |imposed: &Imposed| imposed.support() != Some(name.as_str());
                    scene.imposed.retain(keeps);
                    for case in &mut scene.cases {
                        case.imposed.retain(keeps);
                    }
                }
                SceneItem::Shape(index) => drop(scene.body.remove(index)),
                SceneItem::Load(load) => drop(load.list_mut(scene)?.remove(load.index)),
                SceneItem::Point(index) => {
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
