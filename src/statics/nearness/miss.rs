//! How far one reaction misses the axis about which the body would turn without it.

use nalgebra::Unit;

use crate::statics::freedom::{self, FreeMotion, MotionKind};
use crate::statics::indices::ReactionIndex;
use crate::statics::model::Model;
use crate::statics::rank::Tolerance;
use crate::statics::reaction::ReactionKind;

/// A reaction that alone stops a turn, and by how much its line misses the axis of that turn.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Miss {
    /// Index of the reaction.
    pub reaction: ReactionIndex,
    /// The rotation that is free without it: all other reactions meet its axis or are parallel to it.
    pub turn: FreeMotion,
    /// Distance between the reaction's line of action and the axis, m.
    pub distance: f64,
    /// Moment of the reaction about the axis, per unit of it, m: the distance where the two are square to each other.
    pub arm: f64,
}

/// Sine of the angle below which a line of action counts as parallel to the axis.
const PARALLEL: f64 = 1e-7;

impl Miss {
    /// The miss of a reaction; `None` of a couple, of a reaction parallel to the axis, and where its release frees
    /// anything but one rotation.
    pub fn of(model: &Model, reaction: ReactionIndex, tolerance: Tolerance) -> Option<Self> {
        let own = &model.reactions[reaction];
        let [turn] = freedom::motions_without(model, &[reaction], tolerance)
            .try_into()
            .ok()?;
        let turn: FreeMotion = turn;
        if own.kind == ReactionKind::Couple || turn.kind != MotionKind::Rotation {
            return None;
        }
        let across = turn.direction.cross(&own.direction);
        let (normal, sine) = Unit::try_new_and_get(across, PARALLEL)?;
        let distance = (own.point - turn.point).dot(&normal).abs();
        Some(Self {
            reaction,
            distance,
            arm: distance * sine,
            turn,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::Space;
    use crate::statics::testing::{Given, model_of};

    fn miss(space: Space, given: &[Given], reaction: usize) -> Option<Miss> {
        let reaction = ReactionIndex::new(reaction);
        Miss::of(&model_of(space, given), reaction, Tolerance::default())
    }

    #[test]
    fn a_link_that_passes_a_pin() {
        let given = [
            Given::Force([0.0; 3], [1.0, 0.0, 0.0]),
            Given::Force([0.0; 3], [0.0, 1.0, 0.0]),
            Given::Force([2.0, 0.05, 0.0], [1.0, 0.0, 0.0]),
        ];
        let found = miss(Space::Planar, &given, 2).unwrap();
        assert!((found.distance - 0.05).abs() < 1e-12);
        assert!(found.turn.point.coords.norm() < 1e-12);
        // Without the upright reaction of the pin two parallel ones are left: no one rotation.
        assert_eq!(miss(Space::Planar, &given, 1), None);
    }

    #[test]
    fn a_slanted_link_that_passes_an_axis_in_space() {
        let mut given = vec![
            Given::Force([0.0; 3], [1.0, 0.0, 0.0]),
            Given::Force([0.0; 3], [0.0, 1.0, 0.0]),
            Given::Force([0.0; 3], [0.0, 0.0, 1.0]),
            Given::Force([2.0, 0.0, 0.0], [0.0, 1.0, 0.0]),
            Given::Force([2.0, 0.0, 0.0], [0.0, 0.0, 1.0]),
            // 0.02 below the x axis, askew to it: the distance is measured square to both.
            Given::Force([1.0, 0.5, -0.02], [3.0, 4.0, 0.0]),
        ];
        let found = miss(Space::Spatial, &given, 5).unwrap();
        assert!((found.distance - 0.02).abs() < 1e-12, "{}", found.distance);
        assert!((found.arm - 0.016).abs() < 1e-12, "{}", found.arm);
        assert!(found.turn.direction.x.abs() > 1.0 - 1e-12);
        given[5] = Given::Force([1.0, 0.5, -0.02], [1.0, 0.0, 0.0]);
        assert_eq!(miss(Space::Spatial, &given, 5), None);
        given[5] = Given::Couple([1.0, 0.0, 0.0]);
        assert_eq!(miss(Space::Spatial, &given, 5), None);
    }
}
