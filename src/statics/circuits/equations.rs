//! The combinations that a person would write: sums of forces along the scene's axes, moments about points.
//!
//! Each is what the reactions do on one motion, a translation along an axis or a turn about a line along one.

use nalgebra::{Point3, Vector3};

use super::echelon::ABSENT;
use crate::scene::Space;
use crate::statics::model::Model;
use crate::statics::reaction::{Reaction, ReactionKind};

/// An equation of equilibrium.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum UsualEquation {
    /// Forces along an axis of the scene, 0 to 2.
    Along(usize),
    /// Moments about a point, m, about an axis of the scene, 0 to 2; in the plane always 2.
    About(Point3<f64>, usize),
}

/// Points about which moments are tried; any one of them suffices for all combinations.
const MOST_POINTS: usize = 12;

impl UsualEquation {
    /// Sums along the axes, then moments about the first points of supports and about named points.
    pub(super) fn usual(model: &Model) -> Vec<Self> {
        let (axes, turns) = match model.space {
            Space::Spatial => (0..3, 0..3),
            Space::Planar => (0..2, 2..3),
        };
        let about = points(model).into_iter().flat_map(|point| {
            let turns = turns.clone();
            turns.map(move |axis| Self::About(point, axis))
        });
        axes.map(Self::Along).chain(about).collect()
    }

    /// Its coefficient of a reaction in scaled terms: per force or per couple over the model's length.
    pub(super) fn coefficient(&self, model: &Model, reaction: &Reaction) -> f64 {
        let direction = reaction.direction.into_inner();
        let present = |part: f64, of: f64| if part.abs() > ABSENT * of { part } else { 0.0 };
        match (self, reaction.kind) {
            (Self::Along(axis), ReactionKind::Force) => present(direction[*axis], 1.0),
            (Self::Along(_), ReactionKind::Couple) => 0.0,
            (Self::About(_, axis), ReactionKind::Couple) => present(direction[*axis], 1.0),
            (Self::About(point, axis), ReactionKind::Force) => {
                let arm: Vector3<f64> = (reaction.point - point) / model.length;
                present(arm.cross(&direction)[*axis], arm.norm().max(1.0))
            }
        }
    }
}

/// Distinct points of supports, then named points.
fn points(model: &Model) -> Vec<Point3<f64>> {
    let supports = model.supports.iter().map(|support| support.point);
    let named = model.points.iter().map(|named| named.point);
    let mut found: Vec<Point3<f64>> = Vec::new();
    for point in supports.chain(named) {
        if found.len() == MOST_POINTS {
            break;
        }
        let near = |other: &Point3<f64>| (other - point).norm() <= ABSENT * model.length;
        if !found.iter().any(near) {
            found.push(point);
        }
    }
    found
}
