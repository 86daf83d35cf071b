//! The reactions of one placement, as those of springs: what [`elastic`](crate::elastic) finds of a study, without any allocation.
//!
//! Reactions are `R = −k (aᵗu + o)`, with the displacement u that solves `A K Aᵗ u = F − A K o`, by the triangle of `√K Aᵗ` and one step of
//! refinement (corrected seminormal equations: Björck, *Linear Algebra Appl.* 88/89, 1987). Where contacts would have to pull or cables to push,
//! their springs are let go and the rest is solved anew, until the same ones are let go of twice; what was let go of keeps a
//! spring so soft that it counts only where nothing else holds, which tells that the load is not carried.

use super::plan::ColumnPlan;
use super::triangle::{LaneRow, ReactionTriangle, of_lane, solved, triangle};

/// Stiffness of what is let go of, as a part of its own.
const LOOSE: f64 = 1e-10;
/// A one-way reaction of the wrong sign counts as none up to this part of the loads.
const NOTHING: f64 = 1e-9;
/// Part of the loads that springs which are let go of may carry where the load counts as carried, and that may be left over.
const LEFT: f64 = 1e-6;
/// A displacement beyond this part of the loads is looked at, and rates up to the other count as none on it.
const FAR: f64 = 1e4;
const STILL: f64 = 1e-8;
/// Rounds in which all springs change at once; a few are usual.
const BLOCK_ROUNDS: usize = 12;
/// Rounds at most. In the later ones a single spring changes, always the first that is wrong, which comes to an end (Murty's
/// principal pivoting; Júdice & Pires, *Comput. Oper. Res.* 21, 1994).
const MOST_ROUNDS: usize = 400;

/// What becomes of a load on the springs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum SpringOutcome {
    Carried,
    NotCarried,
    /// The search came to no end, or the answer does not balance the load.
    NotFound,
}

/// One placement on its springs, with room to work in.
pub(super) struct SpringBench<'a, const M: usize> {
    plan: &'a [ColumnPlan],
    /// Unit wrenches of the reactions, scaled.
    pub(super) columns: Vec<[f64; M]>,
    /// Of the reactions, relative to the largest as written.
    pub(super) stiffnesses: Vec<f64>,
    /// By how much each spring is opened before the body moves.
    pub(super) offsets: Vec<f64>,
    /// What was found: forces, couples at the characteristic length.
    pub(super) forces: Vec<f64>,
    /// Which springs act.
    pub(super) acting: Vec<bool>,
    /// The displacement of the body, times the largest stiffness.
    at: [f64; M],
    rows: Vec<LaneRow<M, 1>>,
}

impl<'a, const M: usize> SpringBench<'a, M> {
    pub(super) fn new(plan: &'a [ColumnPlan]) -> Self {
        let count = plan.len();
        Self {
            columns: vec![[0.0; M]; count],
            stiffnesses: plan.iter().map(|column| column.stiffness).collect(),
            offsets: vec![0.0; count],
            forces: vec![0.0; count],
            acting: vec![true; count],
            at: [0.0; M],
            // A triangle needs as many rows as columns.
            rows: vec![[[0.0]; M]; count.max(M)],
            plan,
        }
    }

    /// The triangle of the springs that act, the others loose.
    pub(super) fn triangle(&mut self) -> ReactionTriangle<M> {
        for index in 0..self.columns.len() {
            let root = self.stiffness(index).sqrt();
            self.rows[index] = self.columns[index].map(|entry| [entry * root]);
        }
        for row in &mut self.rows[self.columns.len()..] {
            *row = [[0.0]; M];
        }
        of_lane(&triangle(&mut self.rows), 0)
    }

    fn stiffness(&self, index: usize) -> f64 {
        match self.acting[index] {
            true => self.stiffnesses[index],
            false => LOOSE * self.stiffnesses[index],
        }
    }

    /// Finds the reactions to a load of a size, from the triangle of all springs.
    pub(super) fn settle(
        &mut self,
        whole: &ReactionTriangle<M>,
        load: &[f64; M],
        size: f64,
    ) -> SpringOutcome {
        self.acting.fill(true);
        let mut triangle = *whole;
        for round in 0..MOST_ROUNDS {
            let left = self.balance(&triangle, load);
            if self.escapes(load, size) {
                return SpringOutcome::NotCarried;
            }
            if self.let_go(NOTHING * size, round >= BLOCK_ROUNDS) {
                triangle = self.triangle();
                continue;
            }
            let loose = self.forces.iter().zip(&self.acting);
            let loose: f64 = loose
                .filter(|(_, acts)| !**acts)
                .map(|(force, _)| force.abs())
                .sum();
            return match (left <= LEFT * size, loose <= LEFT * size) {
                (true, true) => SpringOutcome::Carried,
                (true, false) => SpringOutcome::NotCarried,
                // Also where it is no number.
                (false, _) => SpringOutcome::NotFound,
            };
        }
        SpringOutcome::NotFound
    }

    /// Solves for the springs as they act; what is left of the load then.
    fn balance(&mut self, triangle: &ReactionTriangle<M>, load: &[f64; M]) -> f64 {
        self.at = [0.0; M];
        let mut left = *load;
        for (index, column) in self.columns.iter().enumerate() {
            let pushed = self.stiffness(index) * self.offsets[index];
            for (rest, entry) in left.iter_mut().zip(column) {
                *rest -= entry * pushed;
            }
        }
        // Once, and once more for what rounding has left.
        for _ in 0..2 {
            for (place, step) in self.at.iter_mut().zip(solved(triangle, &left)) {
                *place += step;
            }
            left = *load;
            for index in 0..self.columns.len() {
                let column = &self.columns[index];
                let along: f64 = column.iter().zip(&self.at).map(|(a, u)| a * u).sum();
                let force = -self.stiffness(index) * (along + self.offsets[index]);
                self.forces[index] = force;
                for (rest, entry) in left.iter_mut().zip(column) {
                    *rest += entry * force;
                }
            }
        }
        left.iter().map(|rest| rest * rest).sum::<f64>().sqrt()
    }

    /// Whether the displacement is a motion by which the load proves not to be carried: it does work on it, and no support is against
    /// it (the certificate of Farkas' lemma).
    fn escapes(&self, load: &[f64; M], size: f64) -> bool {
        let way = self.at.iter().map(|step| step * step).sum::<f64>().sqrt();
        if way <= FAR * size {
            return false;
        }
        let along = |column: &[f64; M]| {
            let products = column.iter().zip(&self.at);
            products.map(|(a, u)| a * u).sum::<f64>() / way
        };
        let yields = |(index, column): (usize, &[f64; M])| {
            let rate = along(column);
            let plan = &self.plan[index];
            let is_let_go = plan.normal.is_some() && !self.acting[index];
            let held = if plan.is_one_way { -rate } else { rate.abs() };
            is_let_go || held <= STILL
        };
        along(load) > LEFT * size && self.columns.iter().enumerate().all(yields)
    }

    /// Lets go of what would act the wrong way and takes hold of what would act again, of all or of the first; whether anything
    /// changed.
    fn let_go(&mut self, nothing: f64, only_first: bool) -> bool {
        let mut has_changed = false;
        for (index, plan) in self.plan.iter().enumerate() {
            let acts = match plan.normal {
                // What holds along a surface acts with the normal force, which comes before it.
                Some(normal) => self.acting[normal],
                None if !plan.is_one_way || only_first && has_changed => continue,
                None if self.acting[index] => self.forces[index] >= -nothing,
                None => self.forces[index] >= -nothing * LOOSE,
            };
            has_changed |= self.acting[index] != acts;
            self.acting[index] = acts;
        }
        has_changed
    }
}
