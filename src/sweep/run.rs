//! The placements of a sweep, some at a time.

use std::ops::Range;

use super::drawn::DrawnPlacement;
use super::draws::Draws;
use super::plan::SweepPlan;
use super::settings::SweepSettings;
use super::springs::{SpringBench, SpringOutcome};
use super::tally::{Extreme, SweepTally};
use super::triangle::{Basis, Lane, LaneRow, of_lane, singular_ends, triangle};
use crate::statics::{ReactionKind, Tolerance};

/// Placements whose numbers lie side by side.
const LANES: usize = 8;
/// Deviations up to this part of the loads are rounding.
const ROUNDING: f64 = 1e-12;

/// Works through placements, with room for it that is kept.
pub(super) struct SweepWorker<'a, const M: usize> {
    plan: &'a SweepPlan,
    settings: &'a SweepSettings,
    /// Values of the scene as written: a list for each case, a value for each reaction.
    as_written: &'a [Vec<f64>],
    /// The axes of the equations: those of the scene as written.
    basis: Basis<M>,
    draws: Draws,
    drawn: Vec<DrawnPlacement>,
    rows: Vec<LaneRow<M, LANES>>,
    /// The same, to be used up.
    spent: Vec<LaneRow<M, LANES>>,
    bench: SpringBench<'a, M>,
}

/// What the matrix of a placement tells.
struct MatrixEnds {
    smallest: f64,
    largest: f64,
}

impl MatrixEnds {
    fn is_held(&self) -> bool {
        self.smallest > Tolerance::default().relative() * self.largest
    }
}

impl<'a, const M: usize> SweepWorker<'a, M> {
    pub(super) fn new(
        plan: &'a SweepPlan,
        settings: &'a SweepSettings,
        as_written: &'a [Vec<f64>],
    ) -> Self {
        let rows = vec![[[0.0; LANES]; M]; plan.columns.len().max(M)];
        Self {
            basis: Basis::of(&columns(plan, &plan.as_written())),
            draws: Draws::new(settings.seed, settings.distribution, plan.space),
            drawn: vec![plan.as_written(); LANES],
            spent: rows.clone(),
            rows,
            bench: SpringBench::new(&plan.columns),
            plan,
            settings,
            as_written,
        }
    }

    /// Adds what is found in placements of these numbers.
    pub(super) fn work(&mut self, numbers: Range<u64>, tally: &mut SweepTally) {
        let mut start = numbers.start;
        while start < numbers.end {
            let count = (numbers.end - start).min(LANES as u64) as usize;
            for (lane, drawn) in self.drawn.iter_mut().take(count).enumerate() {
                let number = start + lane as u64;
                self.plan
                    .draw(self.settings, &mut self.draws, number, drawn);
            }
            self.take_up(count, start, tally);
            start += count as u64;
        }
    }

    /// The values of the scene as written, in SI units; 0 where they do not follow.
    pub(super) fn values_as_written(&mut self) -> Vec<Vec<f64>> {
        self.drawn[0] = self.plan.as_written();
        let (ends, triangles) = self.lay_out(1);
        let zeros = vec![0.0; self.plan.columns.len()];
        let cases = self.plan.cases.len();
        if !ends[0].is_held() {
            return vec![zeros; cases];
        }
        self.set_up(0);
        let whole = self.triangle_of(0, &triangles);
        let values = |case| match self.settle(0, case, &whole) {
            SpringOutcome::Carried => {
                let floor = ROUNDING * self.plan.cases[case].size;
                let value = |index: usize| {
                    let force = self.bench.forces[index];
                    let acts = self.bench.acting[index] && force.abs() > floor;
                    if acts { force * self.unit(index) } else { 0.0 }
                };
                (0..self.plan.columns.len()).map(value).collect()
            }
            SpringOutcome::NotCarried | SpringOutcome::NotFound => zeros.clone(),
        };
        (0..cases).map(values).collect()
    }

    /// Lays out what was drawn, and decomposes it.
    fn lay_out(&mut self, count: usize) -> ([MatrixEnds; LANES], [LaneRow<M, LANES>; M]) {
        for lane in 0..LANES {
            // Lanes without a placement of their own repeat one.
            let drawn = &self.drawn[lane.min(count - 1)];
            self.plan.lay_out(drawn, lane, &mut self.rows);
        }
        for (row, spent) in self.rows.iter_mut().zip(&mut self.spent) {
            *row = self.basis.turned(row);
            *spent = *row;
        }
        let triangles = triangle(&mut self.spent);
        let [largest, smallest]: [Lane<LANES>; 2] = singular_ends(triangles);
        let ends = std::array::from_fn(|lane| MatrixEnds {
            smallest: smallest[lane],
            largest: largest[lane],
        });
        (ends, triangles)
    }

    fn take_up(&mut self, count: usize, start: u64, tally: &mut SweepTally) {
        let (ends, triangles) = self.lay_out(count);
        for (lane, ends) in ends.iter().take(count).enumerate() {
            let placement = start + lane as u64;
            let margin = ends.smallest * self.plan.length;
            let value = margin;
            tally.placements += 1;
            let floor = ROUNDING * self.plan.length;
            tally.margins.add(margin - self.plan.margin, floor);
            Extreme::lesser(&mut tally.worst, Extreme { value, placement });
            let is_held = ends.is_held();
            tally.not_held += u64::from(!is_held);
            tally.within_reach += u64::from(!is_held || margin <= self.settings.reach);
            if is_held {
                self.add_reactions(lane, placement, &triangles, tally);
            }
        }
    }

    fn add_reactions(
        &mut self,
        lane: usize,
        placement: u64,
        triangles: &[LaneRow<M, LANES>; M],
        tally: &mut SweepTally,
    ) {
        self.set_up(lane);
        let whole = self.triangle_of(lane, triangles);
        for (case, tally) in tally.cases.iter_mut().enumerate() {
            match self.settle(lane, case, &whole) {
                SpringOutcome::Carried => tally.carried += 1,
                SpringOutcome::NotCarried => {
                    tally.not_carried += 1;
                    continue;
                }
                SpringOutcome::NotFound => {
                    tally.not_found += 1;
                    continue;
                }
            }
            let floor = ROUNDING * self.plan.cases[case].size;
            for (index, tally) in tally.reactions.iter_mut().enumerate() {
                let is_open = !self.bench.acting[index];
                let force = if is_open {
                    0.0
                } else {
                    self.bench.forces[index]
                };
                let (unit, as_written) = (self.unit(index), self.as_written[case][index]);
                let value = force * unit;
                tally.add(Extreme { value, placement }, as_written, floor * unit);
                tally.open += u64::from(is_open);
            }
        }
    }

    /// Puts a placement on the bench.
    fn set_up(&mut self, lane: usize) {
        let bench = &mut self.bench;
        for (column, row) in bench.columns.iter_mut().zip(&self.rows) {
            *column = row.map(|entry| entry[lane]);
        }
        if self.settings.tolerances.stiffness.is_some() {
            let plans = self.plan.columns.iter();
            for (own, plan) in bench.stiffnesses.iter_mut().zip(plans) {
                *own = plan.stiffness * plan.stiffness_factor(&self.drawn[lane]);
            }
        }
        bench.acting.fill(true);
    }

    /// The triangle of all springs: that of the matrix where they are equally stiff.
    fn triangle_of(&mut self, lane: usize, triangles: &[LaneRow<M, LANES>; M]) -> [[f64; M]; M] {
        match self.plan.is_even && self.settings.tolerances.stiffness.is_none() {
            true => of_lane(triangles, lane),
            false => self.bench.triangle(),
        }
    }

    /// Solves for a case of the placement on the bench.
    fn settle(&mut self, lane: usize, case: usize, whole: &[[f64; M]; M]) -> SpringOutcome {
        let (drawn, case) = (&self.drawn[lane], &self.plan.cases[case]);
        let bench = &mut self.bench;
        let load = self.basis.turned_one(&self.plan.load(drawn, case));
        let wrench = |index: usize| self.basis.back(&bench.columns[index]);
        let stiffnesses = &bench.stiffnesses;
        self.plan
            .offsets(drawn, case, wrench, stiffnesses, &mut bench.offsets);
        bench.settle(whole, &load, case.size)
    }

    /// SI unit of a scaled reaction.
    fn unit(&self, index: usize) -> f64 {
        match self.plan.columns[index].kind {
            ReactionKind::Force => 1.0,
            ReactionKind::Couple => self.plan.length,
        }
    }
}

/// The columns of a placement: unit wrenches of the reactions, scaled.
pub(super) fn columns<const M: usize>(plan: &SweepPlan, drawn: &DrawnPlacement) -> Vec<[f64; M]> {
    let mut rows: Vec<LaneRow<M, 1>> = vec![[[0.0]; M]; plan.columns.len()];
    plan.lay_out(drawn, 0, &mut rows);
    rows.iter().map(|row| row.map(|[entry]| entry)).collect()
}

/// The smallest singular value of each of several matrices of as many columns, given by their columns; the faster the nearer they
/// are to the first of them.
///
/// # Panics
/// Where one has fewer columns than the first.
pub fn smallest_singular_values<const M: usize>(matrices: &[Vec<[f64; M]>]) -> Vec<f64> {
    let Some(first) = matrices.first() else {
        return Vec::new();
    };
    let basis = Basis::of(first);
    let mut rows = vec![[[0.0; LANES]; M]; first.len().max(M)];
    let mut values = Vec::with_capacity(matrices.len());
    for some in matrices.chunks(LANES) {
        for (index, row) in rows.iter_mut().enumerate().take(first.len()) {
            for lane in 0..LANES {
                let column = &some[lane.min(some.len() - 1)][index];
                for (entry, value) in row.iter_mut().zip(column) {
                    entry[lane] = *value;
                }
            }
            *row = basis.turned(row);
        }
        rows[first.len()..].fill([[0.0; LANES]; M]);
        let [_, smallest] = singular_ends(triangle(&mut rows));
        values.extend_from_slice(&smallest[..some.len()]);
    }
    values
}
