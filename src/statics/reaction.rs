//! A reaction: one unknown of the equations of equilibrium.

use nalgebra::{Point3, Unit, Vector3};

use super::exact::WholeColumn;
use super::indices::SupportIndex;
use super::symbol::Symbol;
use super::wrench::Wrench;
use super::written::WrittenDirection;

/// One unknown: a force along a line, or a couple about a direction.
#[derive(Debug, Clone)]
pub struct Reaction {
    /// Name such as `A_x`, `M_Ax`, `T_C`: the symbol on one line.
    pub name: String,
    /// The same as a symbol with its subscript.
    pub symbol: Symbol,
    /// Index into [`Model::supports`](super::Model::supports).
    pub support: SupportIndex,
    /// Force or couple.
    pub kind: ReactionKind,
    /// Point on the line of action, m; for a couple the support's point.
    pub point: Point3<f64>,
    /// Positive direction, acting on the body.
    pub direction: Unit<Vector3<f64>>,
    /// How stiff it is where the scene gives that, N/m or N·m/rad.
    pub stiffness: Option<f64>,
    /// Whether both signs can act.
    pub sense: Sense,
    pub(super) written_point: [f64; 3],
    pub(super) written_direction: WrittenDirection,
    /// What the two make of its column, for exact ranks; `None` where the numbers are too long.
    pub(super) whole: Option<WholeColumn>,
}

impl Reaction {
    /// Wrench of the reaction at size 1 about a reference point.
    pub fn wrench(&self, reference: &Point3<f64>) -> Wrench {
        let direction = self.direction.into_inner();
        match self.kind {
            ReactionKind::Force => Wrench::of_force(direction, &self.point, reference),
            ReactionKind::Couple => Wrench::of_couple(direction),
        }
    }
}

/// Force or couple.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReactionKind {
    /// Force, N.
    Force,
    /// Couple, N·m.
    Couple,
}

/// Which signs of a reaction can act.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    /// Both.
    Both,
    /// A surface: positive, into the body.
    Push,
    /// A cable: positive, from the body towards the ground.
    Pull,
}
