//! One equation of equilibrium: the power of reactions and loads on one motion, term by term.

use nalgebra::{Point3, Unit, Vector3};

use crate::indexed::Indexed;
use crate::statics::{
    CaseIndex, FreeMotion, Model, MotionKind, ReactionIndex, ReactionKind, Twist,
};

/// What is summed up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Balance {
    /// Forces along a direction.
    Forces(Unit<Vector3<f64>>),
    /// Moments about a line, positive right-handed about its direction; in the plane about a point.
    Moments(Point3<f64>, Unit<Vector3<f64>>),
    /// Moments about a line and the pitch, m, times the forces along it.
    Screw(Point3<f64>, Unit<Vector3<f64>>, f64),
}

/// Sum of reactions and loads that must be zero.
#[derive(Debug, Clone, PartialEq)]
pub struct Equation {
    /// What is summed up.
    pub balance: Balance,
    /// Reactions that take part, in model order.
    pub terms: Vec<Term>,
    /// Loads that take part, in the order of the case.
    pub loads: Vec<LoadTerm>,
    /// Sum of the loads: N for forces, else N·m.
    pub load: f64,
}

/// A reaction's part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Term {
    /// Index of the reaction.
    pub reaction: ReactionIndex,
    /// What its value is multiplied with: an arm in m for a force in a sum of moments, else a number.
    pub coefficient: f64,
}

/// A load's part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadTerm {
    /// Index of the load in its case.
    pub load: usize,
    /// N for forces, else N·m.
    pub value: f64,
}

/// Coefficients below this, relative to 1 or to the characteristic length, are rounding.
pub(super) const ABSENT: f64 = 1e-10;
/// Parts of loads below this, relative to all loads, are rounding.
const NOISE: f64 = 1e-12;

impl Balance {
    /// The balance whose motion is a free one.
    pub fn of_motion(motion: &FreeMotion) -> Self {
        match motion.kind {
            MotionKind::Translation => Self::Forces(motion.direction),
            MotionKind::Rotation => Self::Moments(motion.point, motion.direction),
            MotionKind::Screw { pitch } => Self::Screw(motion.point, motion.direction, pitch),
        }
    }

    /// The motion at unit rate about a reference point.
    pub fn twist(&self, reference: &Point3<f64>) -> Twist {
        match self {
            Self::Forces(along) => Twist::translation(along),
            Self::Moments(point, about) => Twist::rotation(about, point, reference),
            Self::Screw(point, about, pitch) => {
                let turn = Twist::rotation(about, point, reference);
                Twist {
                    linear: turn.linear + about.into_inner() * *pitch,
                    ..turn
                }
            }
        }
    }

    /// Whether moments are summed up.
    pub fn has_moments(&self) -> bool {
        !matches!(self, Self::Forces(_))
    }
}

impl Equation {
    /// The equation of a balance under a load case.
    pub fn new(model: &Model, case: CaseIndex, balance: Balance) -> Self {
        let twist = balance.twist(&model.reference);
        let mut equation = Self {
            terms: terms(model, &balance, &twist),
            loads: Vec::new(),
            load: 0.0,
            balance,
        };
        let loads = model.cases[case].loads.iter();
        let arm = if balance.has_moments() {
            model.length
        } else {
            1.0
        };
        let mut size = 0.0;
        for (load, applied) in loads.enumerate() {
            let wrench = applied.wrench(&model.reference);
            size += wrench.force.norm() * arm + wrench.moment.norm();
            let value = twist.power(&wrench);
            equation.loads.push(LoadTerm { load, value });
        }
        equation
            .loads
            .retain(|term| term.value.abs() > NOISE * size);
        equation.load = equation.loads.iter().map(|term| term.value).sum();
        if equation.load.abs() <= NOISE * size {
            equation.load = 0.0;
        }
        equation
    }

    /// What a reaction's value is multiplied with; 0 where it does not take part.
    pub fn coefficient(&self, reaction: ReactionIndex) -> f64 {
        let term = self.terms.iter().find(|term| term.reaction == reaction);
        term.map_or(0.0, |term| term.coefficient)
    }

    /// The sum with the given values, N or N·m; unknown ones count as zero.
    pub fn sum(&self, values: &Indexed<ReactionIndex, Option<f64>>) -> f64 {
        let value = |term: &Term| values[term.reaction].unwrap_or(0.0) * term.coefficient;
        self.load + self.terms.iter().map(value).sum::<f64>()
    }
}

fn terms(model: &Model, balance: &Balance, twist: &Twist) -> Vec<Term> {
    let reactions = model.reactions.enumerate();
    reactions
        .filter_map(|(reaction, of)| {
            let coefficient = twist.power(&of.wrench(&model.reference));
            let arm = of.kind == ReactionKind::Force && balance.has_moments();
            let scale = if arm { model.length } else { 1.0 };
            (coefficient.abs() > ABSENT * scale).then_some(Term {
                reaction,
                coefficient,
            })
        })
        .collect()
}
