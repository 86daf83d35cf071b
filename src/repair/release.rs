//! Reactions that can be released without freeing anything, those that matter least first.

use nalgebra::DMatrix;

use super::secular::{HeldDirection, after_removing, stays_above};
use crate::indexed::Indices;
use crate::statics::Model;
use crate::statics::NumericRank;
use crate::statics::ReactionMatrix;
use crate::statics::WideSvd;
use crate::statics::{Diagnosis, SupportIndex};
use crate::statics::{ExactColumns, ReactionIndex};

/// A reaction that the body can do without.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Release {
    /// Index into [`Model::reactions`].
    pub reaction: ReactionIndex,
    /// Smallest singular value that counts, once it is released: about the reference point and by the length of the
    /// model as it is, which a scene without the last reaction of a support would not share.
    pub smallest: f64,
}

/// What can be released.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Releases {
    /// Every reaction that can be released alone, by what is left, the best first; each proven by the exact rank.
    pub alone: Vec<Release>,
    /// Reactions that can be released all together: nothing redundant is left. One after the other by least loss, or in a
    /// large scene all but those that stand out most.
    pub together: Vec<ReactionIndex>,
    /// Every support that can be taken away whole, alone.
    pub supports: Vec<SupportIndex>,
}

/// Reactions up to which those to release together are chosen by what each step leaves.
const MOST_BY_LOSS: usize = 60;
/// The square of what the others leave of a column is rounding up to this: it is what is left of one, with the rounding of parts
/// divided by squares of singular values.
///
/// A release that leaves a body held by 3e-4 of a reaction is no advice, so that none of several is chosen; as one alone it is
/// listed with what it leaves, which is decomposed anew.
const NEEDED: f64 = 1e-7;

impl Releases {
    /// Finds what a model can do without; all empty where nothing is redundant.
    pub(crate) fn of(model: &Model, diagnosis: &Diagnosis) -> Self {
        if diagnosis.counts.redundancy == 0 {
            return Self {
                alone: Vec::new(),
                together: Vec::new(),
                supports: Vec::new(),
            };
        }
        let proof = Proof::of(model, diagnosis);
        let mut alone = ranked(model, diagnosis);
        // Numbers rank; the decimals prove.
        alone.retain(|release| proof.keeps_rank(&[release.reaction]));
        let together = if model.reactions.len() <= MOST_BY_LOSS {
            by_loss(model, diagnosis, &proof)
        } else {
            all_but_outstanding(&diagnosis.numeric, &proof)
        };
        Self {
            supports: supports(model, diagnosis, &proof),
            together,
            alone,
        }
    }
}

/// The exact rank, which releasing must keep.
struct Proof<'a> {
    columns: ExactColumns<'a>,
    rank: usize,
    /// Reactions that reach the rank alone: the others may go in any company.
    enough: Vec<ReactionIndex>,
}

impl<'a> Proof<'a> {
    fn of(model: &'a Model, diagnosis: &Diagnosis) -> Self {
        let columns = ExactColumns::of(model);
        let rank = diagnosis.exact.rank;
        let everything = model.reactions.indices();
        Self {
            enough: columns
                .independent(everything.clone(), rank)
                .unwrap_or_else(|| everything.collect()),
            columns,
            rank,
        }
    }

    fn keeps_rank(&self, released: &[ReactionIndex]) -> bool {
        let spared = !released.iter().any(|own| self.enough.contains(own));
        spared || self.columns.reach_without(released, self.rank)
    }
}

/// The singular values of a matrix and each column along the singular vectors.
struct SingularColumns<'a> {
    numeric: &'a NumericRank,
    squares: Vec<f64>,
}

impl<'a> SingularColumns<'a> {
    fn new(numeric: &'a NumericRank) -> Self {
        let values = numeric.singular_values[..numeric.rank].iter();
        Self {
            numeric,
            squares: values.map(|value| value * value).collect(),
        }
    }

    /// A column in the left singular vectors; `None` where no self-stress contains it.
    fn spare(&self, column: usize) -> Option<[HeldDirection; 6]> {
        let mut held = [HeldDirection {
            square: f64::INFINITY,
            along: 0.0,
        }; 6];
        let mut needed = 0.0;
        for (i, (part, square)) in held.iter_mut().zip(&self.squares).enumerate() {
            // Rows of Σ Vᵗ are the columns in the left singular vectors.
            let along = self.numeric.svd.weighted[(column, i)].powi(2);
            needed += along / square;
            *part = HeldDirection {
                square: *square,
                along,
            };
        }
        (1.0 - needed > NEEDED).then_some(held)
    }

    /// Whether reactions can go together: what they have in common with the span of the others is still all of it.
    fn can_go(&self, reactions: &[ReactionIndex]) -> bool {
        let rank = self.squares.len();
        let right = |i: usize, j: usize| {
            self.numeric.svd.weighted[(reactions[j].get(), i)] / self.squares[i].sqrt()
        };
        let own = DMatrix::from_fn(rank, reactions.len(), right);
        let needed = WideSvd::new(&own).values.first().copied().unwrap_or(0.0);
        1.0 - needed * needed > NEEDED
    }
}

/// Every reaction that some self-stress contains, with what is left without it, the best first.
fn ranked(model: &Model, diagnosis: &Diagnosis) -> Vec<Release> {
    let numeric = &diagnosis.numeric;
    let columns = SingularColumns::new(numeric);
    let mut undecided = model.reactions.map(|_| true);
    for reaction in diagnosis.determinate() {
        undecided[reaction] = false;
    }
    let release = |reaction: ReactionIndex| Release {
        reaction,
        smallest: match columns.spare(reaction.get()) {
            Some(held) => after_removing(&held).sqrt(),
            None => smallest_without(model, numeric, reaction),
        },
    };
    let mut all: Vec<Release> = undecided
        .indices()
        .filter(|reaction| undecided[*reaction])
        .map(release)
        // What a diagnosis without the reaction would take for zero is not held.
        .filter(|release| release.smallest > numeric.threshold())
        .collect();
    all.sort_by(|a, b| b.smallest.total_cmp(&a.smallest));
    all
}

/// The singular value that is left in the place of the smallest that counts, by a decomposition without the reaction.
fn smallest_without(model: &Model, numeric: &NumericRank, reaction: ReactionIndex) -> f64 {
    let others: Vec<ReactionIndex> = model
        .reactions
        .indices()
        .filter(|j| *j != reaction)
        .collect();
    let left = NumericRank::new(
        &ReactionMatrix::new(model).select(&others),
        numeric.tolerance,
    );
    left.singular_values[numeric.rank - 1]
}

/// Reactions are missed equally where the squares that are left differ by less than this part: the first of them goes, and no
/// rounding decides.
const TIE: f64 = 1e-9;

/// The column that costs least, of those that some self-stress contains and that may go.
fn least_missed(numeric: &NumericRank, may_go: impl Fn(usize) -> bool) -> Option<usize> {
    let columns = SingularColumns::new(numeric);
    let mut best: Option<(usize, f64)> = None;
    for column in (0..numeric.svd.weighted.nrows()).filter(|column| may_go(*column)) {
        let Some(held) = columns.spare(column) else {
            continue;
        };
        if best.is_none_or(|(_, bar)| stays_above(&held, bar * (1.0 + TIE))) {
            best = Some((column, after_removing(&held)));
        }
    }
    best.map(|(column, _)| column)
}

/// Reactions to release one after the other, each time the least missed.
fn by_loss(model: &Model, diagnosis: &Diagnosis, proof: &Proof) -> Vec<ReactionIndex> {
    let whole = ReactionMatrix::new(model);
    let mut kept: Vec<ReactionIndex> = model.reactions.indices().collect();
    let mut released: Vec<ReactionIndex> = Vec::new();
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

/// All reactions but independent ones that stand out most.
fn all_but_outstanding(numeric: &NumericRank, proof: &Proof) -> Vec<ReactionIndex> {
    let mut kept = outstanding(numeric);
    let all = Indices::first(numeric.svd.weighted.nrows());
    let order = kept.clone().into_iter().chain(all.clone());
    kept.extend(
        proof
            .columns
            .independent(order, proof.rank)
            .unwrap_or_default(),
    );
    all.filter(|index| !kept.contains(index)).collect()
}

/// As many columns as the rank: each time the one of which those before leave most.
fn outstanding(numeric: &NumericRank) -> Vec<ReactionIndex> {
    let mut rest = numeric.svd.weighted.columns(0, numeric.rank).transpose();
    (0..numeric.rank)
        .filter_map(|_| {
            let lengths = rest.column_iter().map(|column| column.norm_squared());
            let (index, _) = lengths.enumerate().max_by(|(i, a), (j, b)| {
                // The earlier of two equal ones.
                a.total_cmp(b).then(j.cmp(i))
            })?;
            let unit = rest.column(index).try_normalize(0.0)?;
            let parts = unit.transpose() * &rest;
            rest -= unit * parts;
            Some(ReactionIndex::new(index))
        })
        .collect()
}

fn supports(model: &Model, diagnosis: &Diagnosis, proof: &Proof) -> Vec<SupportIndex> {
    let columns = SingularColumns::new(&diagnosis.numeric);
    let supports = model.supports.enumerate();
    supports
        .filter(|(_, support)| {
            let own: Vec<ReactionIndex> = support.reactions.clone().collect();
            (1..=diagnosis.counts.redundancy).contains(&own.len())
                && columns.can_go(&own)
                && proof.keeps_rank(&own)
        })
        .map(|(index, _)| index)
        .collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::scene::Space;
    use crate::statics::testing::{Given, diagnosed};

    /// Reactions at places and in directions of whole numbers: some are needed, most are not.
    fn many() -> impl Strategy<Value = Vec<Given>> {
        let place = || prop::array::uniform3((-9..10_i32).prop_map(f64::from));
        let force = (place(), place())
            .prop_filter("a direction", |(_, d)| d.iter().any(|x| *x != 0.0))
            .prop_map(|(p, d)| Given::Force(p, d));
        // All but a few in one plane, so that the few are often needed.
        let flat = force.clone().prop_map(|given| match given {
            Given::Force([x, y, _], [dx, dy, _]) if (dx, dy) != (0.0, 0.0) => {
                Given::Force([x, y, 0.0], [dx, dy, 0.0])
            }
            other => other,
        });
        let counts = (
            prop::collection::vec(flat, 20..90),
            prop::collection::vec(force, 0..5),
        );
        counts.prop_map(|(flat, free)| [flat, free].concat())
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        /// However many reactions there are: exactly those are listed whose loss leaves the rank.
        #[test]
        fn every_release_is_listed(given in many()) {
            let (model, diagnosis) = diagnosed(Space::Spatial, &given);
            let releases = Releases::of(&model, &diagnosis);
            let whole = ReactionMatrix::new(&model);
            let rank = |released: &[ReactionIndex]| {
                let kept: Vec<ReactionIndex> = model.reactions.indices().filter(|i| !released.contains(i)).collect();
                NumericRank::new(&whole.select(&kept), diagnosis.numeric.tolerance).rank
            };
            for reaction in model.reactions.indices() {
                let listed = releases.alone.iter().any(|release| release.reaction == reaction);
                prop_assert_eq!(listed, rank(&[reaction]) == diagnosis.counts.rank, "{:?}", reaction);
            }
            prop_assert_eq!(releases.together.len(), diagnosis.counts.redundancy);
            prop_assert_eq!(rank(&releases.together), diagnosis.counts.rank);
            // Every support here has one reaction.
            prop_assert_eq!(releases.supports.len(), releases.alone.len());
        }
    }
}
