//! Sizes of shapes and loads.

use super::super::place::{LoadId, shape_word};
use super::super::sentence::sizes_mut;
use super::Proposal;
use crate::scene::{
    AreaAmount, Coordinates, ForceVector, Heaviness, LineAmount, Load, Moment, Scene, Space,
};

impl Proposal {
    /// A shape with another size, by its number among the sizes of the shape.
    pub fn sized(scene: &Scene, shape: usize, number: usize, to: f64) -> Option<Self> {
        let name = format!("resized the {}", shape_word(scene.body.get(shape)?));
        Self::on(scene, name, |scene| {
            let sizes = sizes_mut(scene.body.get_mut(shape)?);
            *sizes.into_iter().nth(number)?.1 = to;
            Some(())
        })
    }

    /// A load with other components, at the end of a distributed one where `at_end` says so.
    pub fn loaded(scene: &Scene, load: LoadId, at_end: bool, components: Vec<f64>) -> Option<Self> {
        let space = scene.space;
        let vector = || {
            let component = |axis| components.get(axis).copied().unwrap_or(0.0);
            Coordinates::new(space, std::array::from_fn(component))
        };
        Self::on(scene, changed(scene, load), |scene| {
            match load.of_mut(scene)? {
                Load::Force { force, .. } => *force = ForceVector::Components(vector()),
                Load::Distributed { start, end, .. } => match at_end {
                    true => *end = Some(vector()),
                    false => *start = vector(),
                },
                Load::Couple { moment, .. } => {
                    *moment = match space {
                        Space::Planar => Moment::Plane(*components.first()?),
                        Space::Spatial => Moment::Space(vector().components()),
                    }
                }
                Load::Line { amount, .. } => *amount = LineAmount::Force(vector()),
                Load::Area { amount, .. } => *amount = AreaAmount::Force(vector()),
                Load::Weight { .. } => return None,
            }
            Some(())
        })
    }

    /// A force of another size in the same direction, or a weight of another mass or density.
    pub fn weighed(scene: &Scene, load: LoadId, to: f64) -> Option<Self> {
        Self::on(scene, changed(scene, load), |scene| {
            match load.of_mut(scene)? {
                Load::Force {
                    force: ForceVector::Directed { size, .. },
                    ..
                } => *size = to,
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
                } => *amount = to,
                _ => return None,
            }
            Some(())
        })
    }
}

fn changed(scene: &Scene, load: LoadId) -> String {
    format!("changed the {}", super::SceneItem::Load(load).name(scene))
}
