//! Choosing equations: those with one unknown, then small systems, plain axes before odd ones.

use super::candidates::{self, Awkwardness, BY_NUMBERS, FOUND, PLAIN, SCREW};
use super::equation::{Balance, Equation, Term};
use super::system::{self, Independent, Mask, bit, mask, members, unknowns};
use super::{Solution, SolutionStep};
use crate::indexed::Indexed;
use crate::statics::{
    CaseIndex, Diagnosis, FreeMotion, Model, MotionKind, ReactionIndex, ReactionKind,
    motions_without,
};

/// An equation with what speaks against it.
struct Candidate {
    equation: Equation,
    awkwardness: Awkwardness,
}

/// Rows of a system are well apart when this much of each is new; where that fails, anything above rounding.
const WELL_APART: [f64; 2] = [0.05, 1e-7];
/// An arm shorter than this, relative to the characteristic length, makes a poor equation.
const SHORT: f64 = 1e-3;
/// A check that follows from so many equations tests enough of them to be taken for its plainness.
const ENOUGH: usize = 3;
/// Values below this, relative to the load, are rounding.
const NOISE: f64 = 1e-12;

/// Finds steps, open equations and the check of a case that has an equilibrium.
pub(super) fn complete(model: &Model, diagnosis: &Diagnosis, working: &mut Solution) {
    let mut chooser = Chooser {
        model,
        diagnosis,
        case: working.case,
        pool: Vec::new(),
        unknown: mask(working.decided.iter().copied()),
        spare: mask(model.reactions.indices()) & !mask(working.decided.iter().copied()),
    };
    for (balance, awkwardness) in candidates::candidates(model) {
        chooser.add(balance, awkwardness);
    }
    while chooser.unknown != 0 {
        let Some(mut step) = chooser.next(&working.values) else {
            break;
        };
        for (reaction, value) in &mut step.found {
            *value = chooser.tidy(*reaction, *value);
            working.values[*reaction] = Some(*value);
            chooser.unknown &= !bit(*reaction);
        }
        working.steps.push(step);
    }
    working.open = chooser.open();
    working.check = chooser.check(working);
}

struct Chooser<'a> {
    model: &'a Model,
    diagnosis: &'a Diagnosis,
    case: CaseIndex,
    pool: Vec<Candidate>,
    /// Decided reactions that are not known yet.
    unknown: Mask,
    /// Reactions that never follow from equilibrium.
    spare: Mask,
}

impl Chooser<'_> {
    fn add(&mut self, balance: Balance, awkwardness: Awkwardness) {
        self.pool.push(Candidate {
            equation: Equation::new(self.model, self.case, balance),
            awkwardness,
        });
    }

    fn next(&mut self, values: &Indexed<ReactionIndex, Option<f64>>) -> Option<SolutionStep> {
        let most = self.unknown.count_ones() as usize;
        if let Some(step) = self.single(FOUND, values) {
            return Some(step);
        }
        self.add_decoupling();
        let step = self
            .single(FOUND, values)
            .or_else(|| self.several(2, FOUND, values))
            .or_else(|| self.single(BY_NUMBERS, values));
        let step = step.or_else(|| (3..=most).find_map(|k| self.several(k, FOUND, values)));
        let step = step.or_else(|| (2..=most).find_map(|k| self.several(k, BY_NUMBERS, values)));
        step.or_else(|| self.single(SCREW, values))
            .or_else(|| (2..=most).find_map(|k| self.several(k, SCREW, values)))
    }

    /// Motions that all but one unknown leave free, whose equations hold that one alone; and those that all
    /// unknowns and spare reactions leave free, which always do.
    fn add_decoupling(&mut self) {
        let all = mask(self.model.reactions.indices());
        let known = all & !self.unknown & !self.spare;
        let tolerance = self.diagnosis.numeric.tolerance;
        let mut released: Vec<Mask> = members(self.unknown)
            .into_iter()
            .map(|one| known | bit(one))
            .collect();
        released.push(known | self.unknown);
        for mask in released {
            for motion in motions_without(self.model, &members(mask), tolerance) {
                let balance = Balance::of_motion(&motion);
                if self.pool.iter().all(|c| c.equation.balance != balance) {
                    self.add(balance, self.awkwardness(&motion));
                }
            }
        }
    }

    fn awkwardness(&self, motion: &FreeMotion) -> Awkwardness {
        let on_axis = motion.direction.amax() > 1.0 - NOISE;
        let mut supports = self.model.supports.iter();
        let at_support = supports.any(|support| support.point == motion.point);
        match motion.kind {
            MotionKind::Translation if on_axis => PLAIN,
            MotionKind::Translation => FOUND,
            MotionKind::Rotation if on_axis || at_support => FOUND,
            MotionKind::Rotation => BY_NUMBERS,
            MotionKind::Screw { .. } => SCREW,
        }
    }

    /// The best equation with one unknown.
    fn single(
        &self,
        most_awkward: Awkwardness,
        values: &Indexed<ReactionIndex, Option<f64>>,
    ) -> Option<SolutionStep> {
        let fit = |candidate: &&Candidate| {
            let unknowns = unknowns(&candidate.equation, self.unknown | self.spare);
            candidate.awkwardness <= most_awkward
                && unknowns.count_ones() == 1
                && unknowns & self.unknown != 0
        };
        let best = self
            .pool
            .iter()
            .filter(fit)
            .min_by_key(|candidate| self.cost(candidate))?;
        self.step(vec![best.equation.clone()], values)
    }

    /// The best system of so many equations and unknowns.
    fn several(
        &self,
        size: usize,
        most_awkward: Awkwardness,
        values: &Indexed<ReactionIndex, Option<f64>>,
    ) -> Option<SolutionStep> {
        let mut usable: Vec<(&Candidate, Mask)> = self
            .pool
            .iter()
            .map(|candidate| {
                let unknowns = unknowns(&candidate.equation, self.unknown | self.spare);
                (candidate, unknowns)
            })
            .filter(|(candidate, unknowns)| {
                candidate.awkwardness <= most_awkward
                    && *unknowns != 0
                    && unknowns & self.spare == 0
            })
            .collect();
        usable.sort_by_key(|(candidate, _)| self.cost(candidate));
        for threshold in WELL_APART {
            let systems = self.targets(&usable, size).into_iter();
            let found = systems.filter_map(|target| self.system(&usable, target, threshold));
            if let Some((_, equations)) = found.min_by_key(|(cost, _)| *cost) {
                return self.step(equations, values);
            }
        }
        None
    }

    /// Sets of so many unknowns that some equations have among them.
    fn targets(&self, usable: &[(&Candidate, Mask)], size: usize) -> Vec<Mask> {
        let mut masks: Vec<Mask> = usable.iter().map(|(_, mask)| *mask).collect();
        masks.sort_unstable();
        masks.dedup();
        let mut targets: Vec<Mask> = masks
            .iter()
            .flat_map(|a| masks.iter().map(move |b| a | b))
            .chain([self.unknown])
            .filter(|union| union.count_ones() as usize == size)
            .collect();
        targets.sort_unstable();
        targets.dedup();
        targets
    }

    fn system(
        &self,
        usable: &[(&Candidate, Mask)],
        target: Mask,
        threshold: f64,
    ) -> Option<(usize, Vec<Equation>)> {
        let size = target.count_ones() as usize;
        let mut independent = Independent::new(target, threshold);
        let (mut cost, mut equations) = (0, Vec::new());
        for (candidate, unknowns) in usable {
            if unknowns & !target == 0 && independent.add(&candidate.equation) {
                cost += self.cost(candidate) + unknowns.count_ones() as usize;
                equations.push(candidate.equation.clone());
            }
            if equations.len() == size {
                return Some((cost, equations));
            }
        }
        None
    }

    /// What speaks against an equation: an axis hard to name, known reactions to carry along, a short arm.
    fn cost(&self, candidate: &Candidate) -> usize {
        let (known, unknown): (Vec<&Term>, Vec<&Term>) = candidate
            .equation
            .terms
            .iter()
            .partition(|term| (self.unknown | self.spare) & bit(term.reaction) == 0);
        let short = unknown.iter().any(|term| {
            let force = self.model.reactions[term.reaction].kind == ReactionKind::Force;
            let arm = force && candidate.equation.balance.has_moments();
            let scale = if arm { self.model.length } else { 1.0 };
            term.coefficient.abs() < SHORT * scale
        });
        let moments = usize::from(candidate.equation.balance.has_moments());
        usize::from(candidate.awkwardness) + moments + known.len() + 100 * usize::from(short)
    }

    fn step(
        &self,
        equations: Vec<Equation>,
        values: &Indexed<ReactionIndex, Option<f64>>,
    ) -> Option<SolutionStep> {
        let of = |equation: &Equation| unknowns(equation, self.unknown);
        let found = equations
            .iter()
            .fold(0, |mask, equation| mask | of(equation));
        let solved = system::solve(&equations, found, values)?;
        Some(SolutionStep {
            eliminated: members((self.unknown | self.spare) & !found),
            found: solved,
            equations,
        })
    }

    /// Rounding made an exact zero.
    fn tidy(&self, reaction: ReactionIndex, value: f64) -> f64 {
        let loads = self.model.cases[self.case].loads.iter();
        let size: f64 = loads
            .map(|load| {
                let wrench = load.wrench(&self.model.reference);
                wrench.force.norm() + wrench.moment.norm() / self.model.length
            })
            .sum();
        let scale = match self.model.reactions[reaction].kind {
            ReactionKind::Force => 1.0,
            ReactionKind::Couple => self.model.length,
        };
        if value.abs() <= NOISE * size * scale {
            0.0
        } else {
            value
        }
    }

    /// Independent equations of the reactions that stay indeterminate.
    fn open(&self) -> Vec<Equation> {
        let mut pool: Vec<(&Candidate, Mask)> = self
            .pool
            .iter()
            .map(|candidate| (candidate, unknowns(&candidate.equation, self.spare)))
            .filter(|(candidate, unknowns)| *unknowns != 0 && candidate.awkwardness < SCREW)
            .collect();
        pool.sort_by_key(|(candidate, unknowns)| {
            let count = unknowns.count_ones() as usize;
            (count, self.cost(candidate))
        });
        let counts = &self.diagnosis.counts;
        let wanted = counts.rank + self.spare.count_ones() as usize - counts.unknowns;
        let mut independent = Independent::new(self.spare, WELL_APART[1]);
        pool.into_iter()
            .filter(|(candidate, _)| independent.add(&candidate.equation))
            .map(|(candidate, _)| candidate.equation.clone())
            .take(wanted)
            .collect()
    }

    /// A plain equation of known reactions that was not used, and in which a slip in any of many that were would show.
    fn check(&self, working: &Solution) -> Option<Equation> {
        let steps = working.steps.iter();
        let used: Vec<&Equation> = steps.flat_map(|step| &step.equations).collect();
        let is_used =
            |equation: &Equation| used.iter().any(|other| other.balance == equation.balance);
        let fit = |candidate: &&Candidate| {
            let equation = &candidate.equation;
            candidate.awkwardness <= FOUND
                && !equation.terms.is_empty()
                && unknowns(equation, self.unknown | self.spare) == 0
                && !is_used(equation)
                // 0 = 0 checks nothing.
                && equation.terms.iter().any(|t| working.values[t.reaction] != Some(0.0))
        };
        let worth = |candidate: &&Candidate| {
            let equation = &candidate.equation;
            let acting = equation.terms.iter();
            let acting = acting.filter(|t| working.values[t.reaction] != Some(0.0));
            let loaded = usize::from(!equation.loads.is_empty());
            let plain = usize::from(FOUND - candidate.awkwardness);
            let sources = system::sources(equation, &used, self.model.reactions.indices());
            (sources.min(ENOUGH), plain, 2 * acting.count() + loaded)
        };
        let fitting = self.pool.iter().filter(fit).rev();
        fitting
            .max_by_key(worth)
            .map(|candidate| candidate.equation.clone())
    }
}
