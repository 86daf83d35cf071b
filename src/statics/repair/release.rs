//! Reactions that can be released without freeing anything, those that matter least first.

use super::secular::{Held, after_removing, stays_above};
use crate::statics::diagnosis::Diagnosis;
use crate::statics::exact::ExactColumns;
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
        let small = model.reactions.len() <= MOST_TOGETHER;
        if diagnosis.counts.redundancy == 0 {
            return Self {
                alone: Vec::new(),
                count: 0,
                together: small.then(Vec::new),
                supports: Vec::new(),
            };
        }
        let proof = Proof::of(model, diagnosis);
        let mut alone = ranked(&diagnosis.numeric);
        let count = alone.len();
        alone.truncate(MOST_LISTED);
        // Numbers rank; the decimals prove.
        alone.retain(|release| proof.keeps_rank(&[release.reaction]));
        Self {
            together: small.then(|| together(model, diagnosis, &proof)),
            supports: supports(model, diagnosis, &alone, &proof),
            count,
            alone,
        }
    }
}

/// The exact rank, which releasing must keep.
struct Proof<'a> {
    columns: ExactColumns<'a>,
    rank: usize,
}

impl<'a> Proof<'a> {
    fn of(model: &'a Model, diagnosis: &Diagnosis) -> Self {
        Self {
            columns: ExactColumns::of(model),
            rank: diagnosis.exact.rank,
        }
    }

    fn keeps_rank(&self, released: &[usize]) -> bool {
        self.columns.reach_without(released, self.rank)
    }
}

/// The singular values of a matrix and each column along the singular vectors.
struct Columns<'a> {
    numeric: &'a NumericRank,
    squares: Vec<f64>,
}

impl<'a> Columns<'a> {
    fn new(numeric: &'a NumericRank) -> Self {
        let values = numeric.singular_values[..numeric.rank].iter();
        Self {
            numeric,
            squares: values.map(|value| value * value).collect(),
        }
    }

    /// A column in the left singular vectors; `None` where no self-stress contains it.
    fn spare(&self, column: usize) -> Option<[Held; 6]> {
        let mut held = [Held {
            square: f64::INFINITY,
            along: 0.0,
        }; 6];
        let mut needed = 0.0;
        for (i, (part, square)) in held.iter_mut().zip(&self.squares).enumerate() {
            // Rows of Σ Vᵗ are the columns in the left singular vectors.
            let along = self.numeric.svd.weighted_right[(i, column)].powi(2);
            needed += along / square;
            *part = Held {
                square: *square,
                along,
            };
        }
        (1.0 - needed > NEEDED).then_some(held)
    }
}

/// Every reaction that some self-stress contains, with what is left without it, the best first.
fn ranked(numeric: &NumericRank) -> Vec<Release> {
    let columns = Columns::new(numeric);
    let spare = |reaction: usize| {
        Some(Release {
            reaction,
            smallest: after_removing(&columns.spare(reaction)?).sqrt(),
        })
    };
    let mut all: Vec<Release> = (0..numeric.svd.weighted_right.ncols())
        .filter_map(spare)
        .collect();
    all.sort_by(|a, b| b.smallest.total_cmp(&a.smallest));
    all
}

/// The column that costs least, of those that some self-stress contains and that may go.
fn least_missed(numeric: &NumericRank, may_go: impl Fn(usize) -> bool) -> Option<usize> {
    let columns = Columns::new(numeric);
    let mut best: Option<(usize, f64)> = None;
    for column in (0..numeric.svd.weighted_right.ncols()).filter(|column| may_go(*column)) {
        let Some(held) = columns.spare(column) else {
            continue;
        };
        if best.is_none_or(|(_, bar)| stays_above(&held, bar)) {
            best = Some((column, after_removing(&held)));
        }
    }
    best.map(|(column, _)| column)
}

fn together(model: &Model, diagnosis: &Diagnosis, proof: &Proof) -> Vec<usize> {
    let whole = ReactionMatrix::new(model);
    let mut kept: Vec<usize> = (0..model.reactions.len()).collect();
    let mut released: Vec<usize> = Vec::new();
    for _ in 0..diagnosis.counts.redundancy {
        let numeric = NumericRank::new(&whole.select(&kept), diagnosis.numeric.tolerance);
        let mut refused: Vec<usize> = Vec::new();
        let next = loop {
            let best = least_missed(&numeric, |column| !refused.contains(&column));
            let Some(column) = best else {
                return released;
            };
            released.push(kept[column]);
            if proof.keeps_rank(&released) {
                break column;
            }
            released.pop();
            refused.push(column);
        };
        kept.remove(next);
    }
    released
}

fn supports(model: &Model, diagnosis: &Diagnosis, alone: &[Release], proof: &Proof) -> Vec<usize> {
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
                _ => each && proof.keeps_rank(&own),
            }
        })
        .map(|(index, _)| index)
        .collect()
}
