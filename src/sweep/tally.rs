//! What a sweep has counted: whole numbers and extremes, which add up to the same in whatever order shares are joined.

use serde::{Deserialize, Serialize};

use super::sketch::QuantileSketch;
use super::{Sweep, decimals};

/// What was found in some placements.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SweepTally {
    /// How many placements.
    pub placements: u64,
    /// In how many of them the body is not held.
    pub not_held: u64,
    /// In how many it is within reach of improper constraint, those in which it is not held among them.
    pub within_reach: u64,
    /// How far margins are from that of the scene as written, m. A margin is the smallest singular value times the characteristic
    /// length: no movement of the supports whose root of the sum of squares is below it lets the body go.
    pub margins: QuantileSketch,
    /// The smallest margin, m; `None` before any placement.
    pub worst: Option<Extreme>,
    /// What was found under each load case of the sweep.
    pub cases: Vec<CaseTally>,
}

/// What was found under one load case.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CaseTally {
    /// In how many placements the supports carry the load.
    pub carried: u64,
    /// In how many they do not, the body being held: contacts would have to pull or cables to push.
    pub not_carried: u64,
    /// In how many the search for the contacts that lift off came to no end.
    pub not_found: u64,
    /// Of each reaction, in the order of the model, where the load is carried.
    pub reactions: Vec<ReactionTally>,
}

/// What was found of one reaction.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReactionTally {
    /// How far its value is from that of the scene as written, N or N·m.
    pub deviations: QuantileSketch,
    /// Its least value.
    pub least: Option<Extreme>,
    /// Its greatest value.
    pub greatest: Option<Extreme>,
    /// How often it is open: a contact that lifts off, a slack cable.
    pub open: u64,
}

/// An extreme value with the first placement that has it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Extreme {
    /// The value.
    #[serde(with = "decimals::one")]
    pub value: f64,
    /// Number of the placement, from 0.
    pub placement: u64,
}

impl Extreme {
    /// Takes what lies farther to one side, or the earlier placement of two that are alike.
    fn farther(held: &mut Option<Self>, other: Self, is_beyond: fn(f64, f64) -> bool) {
        let replaces = held.is_none_or(|held| {
            is_beyond(other.value, held.value)
                || other.value == held.value && other.placement < held.placement
        });
        if replaces {
            *held = Some(other);
        }
    }

    /// Keeps the smaller.
    pub(super) fn lesser(held: &mut Option<Self>, other: Self) {
        Self::farther(held, other, |x, y| x < y);
    }

    /// Keeps the larger.
    pub(super) fn greater(held: &mut Option<Self>, other: Self) {
        Self::farther(held, other, |x, y| x > y);
    }
}

impl SweepTally {
    /// Nothing yet.
    pub(super) fn empty(cases: usize, reactions: usize) -> Self {
        let case = CaseTally {
            carried: 0,
            not_carried: 0,
            not_found: 0,
            reactions: vec![ReactionTally::default(); reactions],
        };
        Self {
            placements: 0,
            not_held: 0,
            within_reach: 0,
            margins: QuantileSketch::default(),
            worst: None,
            cases: vec![case; cases],
        }
    }

    /// The margin below which a part of all lies, m, from that with everything as written; no farther down than what was found.
    pub fn margin(&self, part: f64, as_written: f64) -> Option<f64> {
        let found = as_written + self.margins.quantile(part)?;
        Some(found.max(self.worst?.value))
    }

    /// Whether it counts just the load cases and reactions of a sweep.
    pub fn fits(&self, sweep: &Sweep) -> bool {
        let reactions = sweep.plan.columns.len();
        self.cases.len() == sweep.plan.cases.len()
            && self
                .cases
                .iter()
                .all(|case| case.reactions.len() == reactions)
    }

    /// Adds what was found in other placements.
    pub fn merge(&mut self, other: &Self) {
        self.placements += other.placements;
        self.not_held += other.not_held;
        self.within_reach += other.within_reach;
        self.margins.merge(&other.margins);
        if let Some(worst) = other.worst {
            Extreme::lesser(&mut self.worst, worst);
        }
        for (own, others) in self.cases.iter_mut().zip(&other.cases) {
            own.merge(others);
        }
    }
}

impl CaseTally {
    fn merge(&mut self, other: &Self) {
        self.carried += other.carried;
        self.not_carried += other.not_carried;
        self.not_found += other.not_found;
        for (own, others) in self.reactions.iter_mut().zip(&other.reactions) {
            own.merge(others);
        }
    }
}

impl ReactionTally {
    /// Adds a value, and how far it is from what is written; deviations up to `floor` count as none.
    #[inline]
    pub(super) fn add(&mut self, found: Extreme, as_written: f64, floor: f64) {
        self.deviations.add(found.value - as_written, floor);
        Extreme::lesser(&mut self.least, found);
        Extreme::greater(&mut self.greatest, found);
    }

    /// The value below which a part of all lies, from that with everything as written; no farther out than what was found.
    pub fn quantile(&self, part: f64, as_written: f64) -> Option<f64> {
        let found = as_written + self.deviations.quantile(part)?;
        Some(found.clamp(self.least?.value, self.greatest?.value))
    }

    fn merge(&mut self, other: &Self) {
        self.deviations.merge(&other.deviations);
        if let (Some(least), Some(greatest)) = (other.least, other.greatest) {
            Extreme::lesser(&mut self.least, least);
            Extreme::greater(&mut self.greatest, greatest);
        }
        self.open += other.open;
    }
}
