//! Models of bare reactions for tests: any lines and couples, without hardware.

use std::sync::Arc;

use nalgebra::{Point3, Unit, Vector3};

use super::exact::WholeColumn;
use super::indices::SupportIndex;
use super::model::Model;
use super::placed_support::PlacedSupport;
use super::reaction::{Reaction, ReactionKind, Sense};
use super::symbol::Symbol;
use super::written::WrittenDirection;
use super::{Diagnosis, Family, FreeMotion, LoadCase, MotionKind, Tolerance, Twist};
use crate::indexed::{Indexed, Indices};
use crate::scene::{Space, SupportKind, SupportStiffness, Units};

/// A reaction to be: a force through a point along a direction, or a couple about one.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Given {
    /// Point and direction.
    Force([f64; 3], [f64; 3]),
    /// Direction.
    Couple([f64; 3]),
}

impl Given {
    fn point(&self) -> [f64; 3] {
        match self {
            Self::Force(point, _) => *point,
            Self::Couple(_) => [0.0; 3],
        }
    }

    fn direction(&self) -> [f64; 3] {
        match self {
            Self::Force(_, direction) | Self::Couple(direction) => *direction,
        }
    }
}

/// A model with these reactions, one to a support, named `r0`, `r1`, ...
pub(crate) fn model_of(space: Space, given: &[Given]) -> Model {
    let points: Vec<Point3<f64>> = given.iter().map(|g| Point3::from(g.point())).collect();
    let sum: Vector3<f64> = points.iter().map(|p| p.coords).sum();
    let reference = Point3::from(sum / points.len().max(1) as f64);
    let square: f64 = points.iter().map(|p| (p - reference).norm_squared()).sum();
    let spread = (square / points.len().max(1) as f64).sqrt();
    Model {
        title: String::new(),
        space,
        datum: Default::default(),
        units: Units::default(),
        points: Vec::new(),
        supports: given
            .iter()
            .enumerate()
            .map(|(i, g)| support(i, g))
            .collect(),
        reactions: given
            .iter()
            .enumerate()
            .map(|(i, g)| reaction(i, g))
            .collect(),
        released: Vec::new(),
        cases: Indexed::from(vec![LoadCase {
            imposed: Vec::new(),
            common: None,
            name: "load".to_owned(),
            loads: Vec::new(),
        }]),
        reference,
        length: if spread > 0.0 { spread } else { 1.0 },
        placement_tolerance: None,
        bulk: Arc::default(),
    }
}

/// The model and its diagnosis.
pub(crate) fn diagnosed(space: Space, given: &[Given]) -> (Model, Diagnosis) {
    let model = model_of(space, given);
    let diagnosis = Diagnosis::new(&model, Tolerance::default());
    (model, diagnosis)
}

fn support(index: usize, given: &Given) -> PlacedSupport {
    PlacedSupport {
        name: format!("r{index}"),
        kind: SupportKind::BallJoint,
        point: Point3::from(given.point()),
        orientation: None,
        normal: None,
        ground: None,
        axle: None,
        reactions: Indices::between(index, index + 1),
        stiffness: SupportStiffness::default(),
        allowable: None,
        anchors: None,
        written_point: given.point(),
        written_orientation: None,
        written_normal: None,
    }
}

fn reaction(index: usize, given: &Given) -> Reaction {
    let kind = match given {
        Given::Force(..) => ReactionKind::Force,
        Given::Couple(_) => ReactionKind::Couple,
    };
    let direction = WrittenDirection::Vector(given.direction());
    Reaction {
        name: format!("r{index}"),
        symbol: Symbol::plain(format!("r{index}")),
        support: SupportIndex::new(index),
        kind,
        point: Point3::from(given.point()),
        direction: Unit::new_normalize(Vector3::from(given.direction())),
        stiffness: None,
        sense: Sense::Both,
        written_point: given.point(),
        whole: match kind {
            ReactionKind::Force => WholeColumn::force(&direction, &given.point()),
            ReactionKind::Couple => WholeColumn::couple(&direction),
        },
        written_direction: direction,
    }
}

/// A motion about or along the z axis, for what looks at its kind alone.
pub(crate) fn upright_motion(kind: MotionKind) -> FreeMotion {
    FreeMotion {
        kind,
        direction: Vector3::z_axis(),
        point: Point3::origin(),
        twist: Twist::translation(&Vector3::z_axis()),
        family: Family::Alone,
    }
}
