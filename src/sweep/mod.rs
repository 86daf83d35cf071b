//! How sensitive a body is, and where it could be held better: what becomes of margin and reactions when placements, directions, loads
//! and stiffnesses are not quite as written.
//!
//! A [`Sweep`] draws as many placements as asked within tolerances, each from its own random numbers, so that any share of a sweep is
//! exactly that share of the whole, and counts what it finds in a [`SweepTally`], whose size does not depend on how many there were.
//! Reactions are those of elastic supports, all equally stiff where the scene says nothing; where equilibrium decides them, that changes
//! nothing. A [`PlacementMap`] says where one more support helps most.

mod chance;
mod decimals;
mod drawn;
mod draws;
mod placed_scene;
mod placement_map;
mod plan;
mod run;
mod settings;
mod share;
mod sketch;
mod springs;
mod table;
mod tally;
#[cfg(test)]
mod tests;
mod triangle;

use std::num::NonZero;
use std::ops::Range;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;

pub use chance::Chance;
pub use placement_map::{AddedSupport, MapPlace, MapTriangle, PlacementMap, margins_with};
pub use run::smallest_singular_values;
pub use settings::{Distribution, SweepError, SweepSettings, SweepTolerances};
pub use share::{JoinError, SweepPart, SweepShare};
pub use sketch::{CELL_ERROR, QuantileSketch, SketchCell};
pub use table::csv;
pub use tally::{CaseTally, Extreme, ReactionTally, SweepTally};

use crate::scene::{Scene, Space};
use crate::statics::CaseIndex;
use crate::study::Study;
use drawn::DrawnPlacement;
use draws::Draws;
use plan::SweepPlan;
use run::SweepWorker;

/// Placements that a thread takes at once.
const BLOCK: u64 = 1024;

/// A sweep that can be made.
#[derive(Debug, Clone)]
#[must_use]
pub struct Sweep<'a> {
    study: &'a Study,
    settings: SweepSettings,
    case: Option<CaseIndex>,
    plan: SweepPlan,
    /// Values of each case of the sweep, N or N·m, with everything as written; 0 where they do not follow.
    as_written: Vec<Vec<f64>>,
}

/// The margin of a body, m: the smallest singular value times the characteristic length; 0 of one that is not held.
fn margin(study: &Study) -> f64 {
    let diagnosis = study.diagnosis();
    let smallest = diagnosis.numeric.singular_values.last();
    match smallest {
        Some(smallest) if diagnosis.is_held() => smallest * study.model().length,
        _ => 0.0,
    }
}

/// How a sweep is told to stop, and how it tells how far it is.
pub struct SweepWatch<'a> {
    /// Whether to stop; asked often.
    pub stops: &'a (dyn Fn() -> bool + Sync),
    /// So many more placements are done; called by several threads.
    pub done: &'a (dyn Fn(u64) + Sync),
}

impl<'a> Sweep<'a> {
    /// Prepares the sweep of one load case of a study, or of all.
    ///
    /// # Errors
    /// A [`SweepError`] where the settings or the scene make no sense of it.
    pub fn new(
        study: &'a Study,
        settings: SweepSettings,
        case: Option<CaseIndex>,
    ) -> Result<Self, SweepError> {
        settings.check()?;
        let plan = SweepPlan::new(study, case)?;
        let as_written = match plan.space {
            Space::Spatial => SweepWorker::<6>::new(&plan, &settings, &[]).values_as_written(),
            Space::Planar => SweepWorker::<3>::new(&plan, &settings, &[]).values_as_written(),
        };
        Ok(Self {
            study,
            settings,
            case,
            plan,
            as_written,
        })
    }

    /// What is swept.
    pub fn study(&self) -> &'a Study {
        self.study
    }

    /// How.
    pub fn settings(&self) -> &SweepSettings {
        &self.settings
    }

    /// The load cases of the sweep, in the order of its tally.
    pub fn cases(&self) -> Vec<CaseIndex> {
        let all = self.study.model().cases.indices();
        all.filter(|index| self.case.is_none_or(|case| case == *index))
            .collect()
    }

    /// The margin with everything as written, m.
    pub fn margin_as_written(&self) -> f64 {
        self.plan.margin
    }

    /// Values of each of its cases with everything as written, N or N·m, in the order of the reactions; 0 where they do not
    /// follow.
    pub fn as_written(&self) -> &[Vec<f64>] {
        &self.as_written
    }

    /// Works through the placements of these numbers on all cores, until told to stop: then the first
    /// so many of them are done, as the tally counts.
    pub fn run(&self, numbers: Range<u64>, watch: &SweepWatch) -> SweepTally {
        let cores = thread::available_parallelism().map_or(1, NonZero::get);
        self.run_on(cores, numbers, watch)
    }

    /// The same on so many threads, at least on the one that asks.
    pub fn run_on(&self, threads: usize, numbers: Range<u64>, watch: &SweepWatch) -> SweepTally {
        match self.plan.space {
            Space::Spatial => self.run_of::<6>(threads, &numbers, watch),
            Space::Planar => self.run_of::<3>(threads, &numbers, watch),
        }
    }

    fn run_of<const M: usize>(
        &self,
        threads: usize,
        numbers: &Range<u64>,
        watch: &SweepWatch,
    ) -> SweepTally {
        // Blocks are handed out in order, and those handed out are finished: what is done has no gaps.
        let next = AtomicU64::new(numbers.start);
        let empty = SweepTally::empty(self.plan.cases.len(), self.plan.columns.len());
        let work = || {
            let mut tally = empty.clone();
            let mut worker = SweepWorker::<M>::new(&self.plan, &self.settings, &self.as_written);
            while !(watch.stops)() {
                let start = next.fetch_add(BLOCK, Ordering::Relaxed);
                if start >= numbers.end {
                    break;
                }
                let end = (start + BLOCK).min(numbers.end);
                worker.work(start..end, &mut tally);
                (watch.done)(end - start);
            }
            tally
        };
        thread::scope(|scope| {
            // One works on this thread, the others on theirs, where the system has any to give.
            let others = (1..threads).map(|_| thread::Builder::new().spawn_scoped(scope, work));
            let others: Vec<_> = others.filter_map(Result::ok).collect();
            let mut sum = work();
            for other in others {
                match other.join() {
                    Ok(tally) => sum.merge(&tally),
                    Err(panic) => std::panic::resume_unwind(panic),
                }
            }
            sum
        })
    }

    /// The scene of a placement.
    pub fn scene(&self, number: u64) -> Scene {
        self.drawn(number).scene(&self.plan, self.study)
    }

    /// The columns of the reaction matrix of a placement in space: the unit wrench of each reaction about the reference point of the
    /// scene as written, moments over its characteristic length.
    pub fn columns(&self, number: u64) -> Vec<[f64; 6]> {
        run::columns(&self.plan, &self.drawn(number))
    }

    fn drawn(&self, number: u64) -> DrawnPlacement {
        let mut drawn = self.plan.as_written();
        let mut draws = Draws::new(
            self.settings.seed,
            self.settings.distribution,
            self.plan.space,
        );
        self.plan
            .draw(&self.settings, &mut draws, number, &mut drawn);
        drawn
    }
}
