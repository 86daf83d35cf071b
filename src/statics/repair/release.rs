//! Reactions that can be released without freeing anything, those that matter least first.

use super::secular::{Held, after_removing};
use crate::statics::diagnosis::Diagnosis;
use crate::statics::exact::ExactRank;
use crate::statics::matrix::ReactionMatrix;
use crate::statics::model::Model;
use crate::statics::rank::NumericRank;

/// A reaction that the body can do without.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Release {
    /// Index into [`Model::reactions`].
    pub reaction: usize,
    /// Smallest singular value that counts, once it is released.
    pub smallest: f64,
}

/// What can be released.
#[derive(Debug, Clone, PartialEq)]
pub struct Releases {
    /// Reactions that can be released alone, by what is left, the best first; each proven by the exact rank.
    pub alone: Vec<Release>,
    /// How many could be released alone in all; more than are listed in a large scene.
    pub count: usize,
    /// Reactions that can be released all together, one after the other by least loss: nothing redundant is left.
    /// `None` in a large scene.
    pub together: Option<Vec<usize>>,
    /// Supports that can be taken away whole, alone.
    pub supports: Vec<usize>,
}

/// Releases that are proven and listed.
const MOST_LISTED: usize = 24;
/// Reactions up to which a set to release together is looked for.
const MOST_TOGETHER: usize = 60;
/// A column takes part in no self-stress when the others leave this much of it.
const NEEDED: f64 = 1e-7;

impl Releases {
    /// Finds what a model can do without; all empty where nothing is redundant.
    pub fn of(model: &Model, diagnosis: &Diagnosis) -> Self {
        let mut alone = ranked(model, &diagnosis.numeric);
        let count = alone.len();
        alone.truncate(MOST_LISTED);
        // Numbers rank; the decimals prove.
        alone.retain(|release| keeps_rank(model, diagnosis, &[release.reaction]));
        Self {
            together: (model.reactions.len() <= MOST_TOGETHER).then(|| together(model, diagnosis)),
            supports: supports(model, diagnosis, &alone),
            count,
            alone,
        }
    }
}

/// Every reaction that some self-stress contains, with what is left without it, the best first.
fn ranked(model: &Model, numeric: &NumericRank) -> Vec<Release> {
    let rank = numeric.rank;
    let squares: Vec<f64> = numeric.singular_values[..rank]
        .iter()
        .map(|value| value * value)
        .collect();
    let mut all = Vec::new();
    for reaction in 0..model.reactions.len() {
        // Rows of Σ Vᵗ: the column in the left singular vectors.
        let held: Vec<Held> = squares
            .iter()
            .enumerate()
            .map(|(i, square)| Held {
                square: *square,
                along: numeric.svd.weighted_right[(i, reaction)].powi(2),
            })
            .collect();
        let needed: f64 = held.iter().map(|h| h.along / h.square).sum();
        if 1.0 - needed > NEEDED {
            all.push(Release {
                reaction,
                smallest: after_removing(&held).sqrt(),
            });
        }
    }
    all.sort_by(|a, b| b.smallest.total_cmp(&a.smallest));
    all
}

fn keeps_rank(model: &Model, diagnosis: &Diagnosis, released: &[usize]) -> bool {
    ExactRank::of(&model.without(released)).rank == diagnosis.exact.rank
}

fn together(model: &Model, diagnosis: &Diagnosis) -> Vec<usize> {
    let mut released: Vec<usize> = Vec::new();
    for _ in 0..diagnosis.counts.redundancy {
        let left = model.without(&released);
        let numeric = NumericRank::new(&ReactionMatrix::new(&left), diagnosis.numeric.tolerance);
        let kept: Vec<usize> = (0..model.reactions.len())
            .filter(|reaction| !released.contains(reaction))
            .collect();
        let next = ranked(&left, &numeric)
            .into_iter()
            .map(|r| kept[r.reaction]);
        let mut proven = next.filter(|reaction| {
            let with: Vec<usize> = released.iter().copied().chain([*reaction]).collect();
            keeps_rank(model, diagnosis, &with)
        });
        let Some(next) = proven.next() else { break };
        released.push(next);
    }
    released
}

fn supports(model: &Model, diagnosis: &Diagnosis, alone: &[Release]) -> Vec<usize> {
    if diagnosis.counts.redundancy == 0 {
        return Vec::new();
    }
    let supports = model.supports.iter().enumerate();
    supports
        .filter(|(_, support)| support.reactions.len() <= diagnosis.counts.redundancy)
        .filter(|(_, support)| {
            let own: Vec<usize> = support.reactions.clone().collect();
            // A support goes only where each of its reactions does; those are proven already.
            let each = own
                .iter()
                .all(|own| alone.iter().any(|r| r.reaction == *own));
            match own.len() {
                0 => false,
                1 => each,
                _ => each && keeps_rank(model, diagnosis, &own),
            }
        })
        .map(|(index, _)| index)
        .collect()
}
