//! The worked solution: equations of equilibrium in the order in which a teacher would write them.
//!
//! Each equation is the power of all forces on one motion of the body, a translation or a rotation about a line:
//! reactions whose line meets the axis or is parallel to it drop out. Axes are looked for that leave one unknown,
//! then small systems. Nothing here is canned: every number follows from the model, and the values found are those
//! of the solver, which tests compare. [`sentences`] puts it into words, [`given`] what the scene
//! states.

mod axis;
mod candidates;
mod choose;
mod derivation;
mod equation;
pub mod given;
mod moment_centre;
mod proof;
pub mod sentences;
mod spread;
mod summands;
mod system;

pub use equation::{Balance, Equation, LoadTerm, Term};
pub use moment_centre::{MomentCentre, equations_about};
pub use proof::proof;
pub use summands::{Cause, Summand, summands};

use crate::indexed::Indexed;
use crate::statics::{CaseIndex, Diagnosis, Model, MotionIndex, ReactionIndex};

/// The equations of one load case and what they give.
#[derive(Debug, Clone, PartialEq)]
#[must_use]
pub struct Solution {
    /// Index of the load case.
    pub case: CaseIndex,
    /// Equations without any reaction, one for each free motion: 6 − r of them, in the plane 3 − r.
    pub conditions: Vec<Condition>,
    /// Steps that give reactions; empty where there is no equilibrium.
    pub steps: Vec<SolutionStep>,
    /// Equations whose indeterminate reactions no further equation can separate, those of few reactions first.
    pub open: Vec<Equation>,
    /// One more equation, which must come out as zero with the values found; `None` where none has two of them.
    pub check: Option<Equation>,
    /// Reactions that follow from equilibrium under every load that has an equilibrium, by index.
    pub decided: Vec<ReactionIndex>,
    /// Value of each reaction in model order, N or N·m; `None` where it is indeterminate.
    pub values: Indexed<ReactionIndex, Option<f64>>,
}

/// An equation that no reaction takes part in.
#[derive(Debug, Clone, PartialEq)]
pub struct Condition {
    /// Index of the free motion.
    pub motion: MotionIndex,
    /// The equation: only the load is in it.
    pub equation: Equation,
    /// Whether the load leaves this motion at rest.
    pub balanced: bool,
}

/// As many equations as unknowns, mostly one.
#[derive(Debug, Clone, PartialEq)]
pub struct SolutionStep {
    /// The equations.
    pub equations: Vec<Equation>,
    /// Reactions not known before that drop out of all of them, by index.
    pub eliminated: Vec<ReactionIndex>,
    /// What they give: index of a reaction, and its value in N or N·m.
    pub found: Vec<(ReactionIndex, f64)>,
}

/// More reactions than this are not worked by hand.
pub const MOST_REACTIONS: usize = 30;

impl Solution {
    /// Works a load case; `None` where the model has more than [`MOST_REACTIONS`] reactions.
    pub fn of(model: &Model, diagnosis: &Diagnosis, case: CaseIndex) -> Option<Self> {
        if model.reactions.len() > MOST_REACTIONS {
            return None;
        }
        let conditions = conditions(model, diagnosis, case);
        let mut working = Self {
            case,
            conditions,
            steps: Vec::new(),
            open: Vec::new(),
            check: None,
            values: model.reactions.map(|_| None),
            decided: diagnosis.determinate().collect(),
        };
        if diagnosis.cases[case].is_balanced() {
            choose::complete(model, diagnosis, &mut working);
        }
        Some(working)
    }

    /// How many equations there are besides the check: six, in the plane three.
    pub fn equations(&self) -> usize {
        let steps: usize = self.steps.iter().map(|step| step.equations.len()).sum();
        self.conditions.len() + steps + self.open.len()
    }

    /// All of them, the check too.
    fn every_equation(&self) -> impl Iterator<Item = &Equation> {
        let conditions = self.conditions.iter().map(|condition| &condition.equation);
        let steps = self.steps.iter().flat_map(|step| &step.equations);
        conditions.chain(steps).chain(&self.open).chain(&self.check)
    }
}

/// The equation of each free motion: its power is that of the loads alone.
fn conditions(model: &Model, diagnosis: &Diagnosis, case: CaseIndex) -> Vec<Condition> {
    let motions = diagnosis.free_motions.enumerate();
    let powers = &diagnosis.cases[case].powers;
    motions
        .map(|(motion, free)| {
            let mut equation = Equation::new(model, case, Balance::of_motion(free));
            equation.terms.clear();
            let balanced = powers[motion] == 0.0;
            if balanced {
                equation.load = 0.0;
            }
            Condition {
                motion,
                equation,
                balanced,
            }
        })
        .collect()
}

/// The six equations in components (planar: three): forces along the axes, moments about axes through one point.
///
/// The point is the support through which most reactions act.
pub fn component_equations(model: &Model, case: CaseIndex) -> Vec<Equation> {
    let through = candidates::busiest_point(model);
    equations_about(model, case, &MomentCentre::Point(through))
}
