//! What a scene writes in SI units: names looked up, lengths converted, directions checked.

use std::collections::HashMap;

use nalgebra::Point3;
use thiserror::Error;

use super::written::WrittenDirection;
use crate::scene::{Direction, Place, Scene, Space};

/// Why a scene cannot be made into a model. Reading a file finds the same faults with their places.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum ModelError {
    /// A name that no point has.
    #[error("{item}: there is no point named \"{name}\"")]
    UnknownPoint {
        /// What refers to it.
        item: String,
        /// The name.
        name: String,
    },
    /// A direction without length.
    #[error("{item}: the direction has no length; give one that is not zero")]
    NoDirection {
        /// What it belongs to.
        item: String,
    },
    /// A kind of support or load that does not exist in this space.
    #[error("{item}: this kind does not exist in a {space} scene", space = .space.word())]
    WrongSpace {
        /// What it is.
        item: String,
        /// The space of the scene.
        space: Space,
    },
    /// Something is imposed on a support that there is not.
    #[error("imposed action: there is no support named \"{name}\"")]
    UnknownSupport {
        /// The name.
        name: String,
    },
    /// A combination of a load case that there is not.
    #[error("combination: there is no load case named \"{name}\"")]
    UnknownCase {
        /// The name.
        name: String,
    },
    /// Stiffnesses that are not greater than 0, or not as many as there are reactions.
    #[error(
        "{item}: stiffnesses are finite numbers greater than 0, one for all forces or couples or one for each"
    )]
    Stiffness {
        /// Of which support.
        item: String,
    },
    /// Allowable forces that are not greater than 0, that the support does not have, or whose direction is not said.
    #[error(
        "{item}: allowable forces are finite numbers greater than 0, of forces that the support has, with the direction out of the ground"
    )]
    Allowable {
        /// Of which support.
        item: String,
    },
    /// Own weight by density or without a place, on a body without volume.
    #[error("{item}: the body has no volume; give the weight as a mass at a place")]
    NoVolume {
        /// Which load.
        item: String,
    },
}

/// Looks up names and converts lengths, for one scene.
pub(super) struct Resolver<'a> {
    pub(super) scene: &'a Scene,
    points: HashMap<&'a str, [f64; 3]>,
    pub(super) metres: f64,
}

impl<'a> Resolver<'a> {
    pub(super) fn new(scene: &'a Scene) -> Self {
        let points = scene
            .points
            .iter()
            .map(|p| (p.name.as_str(), p.at.components()))
            .collect();
        Self {
            scene,
            points,
            metres: scene.units.length.in_metres(),
        }
    }

    /// Coordinates as written.
    pub(super) fn written(&self, item: &str, place: &Place) -> Result<[f64; 3], ModelError> {
        match place {
            Place::At(coordinates) => Ok(coordinates.components()),
            Place::Named(name) => {
                self.points
                    .get(name.as_str())
                    .copied()
                    .ok_or_else(|| ModelError::UnknownPoint {
                        item: item.to_owned(),
                        name: name.clone(),
                    })
            }
        }
    }

    /// Position in metres.
    pub(super) fn metres(&self, written: &[f64; 3]) -> Point3<f64> {
        Point3::from(*written) * self.metres
    }

    pub(super) fn point(&self, item: &str, place: &Place) -> Result<Point3<f64>, ModelError> {
        Ok(self.metres(&self.written(item, place)?))
    }

    /// A direction of an item that stands at `from`.
    pub(super) fn direction(
        &self,
        item: &str,
        direction: &Direction,
        from: [f64; 3],
    ) -> Result<WrittenDirection, ModelError> {
        let written = match direction {
            Direction::Along(coordinates) => WrittenDirection::Vector(coordinates.components()),
            Direction::Towards(place) => WrittenDirection::Between {
                from,
                to: self.written(item, place)?,
            },
            Direction::Angle(degrees) => WrittenDirection::Angle(*degrees),
        };
        checked(item, written)
    }
}

/// The direction, where it has length.
pub(super) fn checked(
    item: &str,
    direction: WrittenDirection,
) -> Result<WrittenDirection, ModelError> {
    match direction.unit() {
        Some(_) => Ok(direction),
        None => Err(ModelError::NoDirection {
            item: item.to_owned(),
        }),
    }
}
