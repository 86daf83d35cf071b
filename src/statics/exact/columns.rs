//! Many subsets of one model's reactions, ranked exactly without laying them out each time.

use std::cell::OnceCell;

use super::{WrittenNumbers, all_motions, rank_of, take_away};
use crate::indexed::Indexed;
use crate::statics::exact::prime_field::PrimeField;
use crate::statics::indices::ReactionIndex;
use crate::statics::model::Model;

/// The columns of a model modulo primes enough to prove the rank of any subset.
pub(crate) struct ExactColumns<'a> {
    model: &'a Model,
    written: WrittenNumbers,
    fields: Vec<(PrimeField, OnceCell<Residues>)>,
}

/// The column of each reaction modulo a prime.
type Residues = Indexed<ReactionIndex, [u64; 6]>;

impl<'a> ExactColumns<'a> {
    /// Prepares the reactions of a model; nothing is computed yet.
    pub(crate) fn of(model: &'a Model) -> Self {
        let written = WrittenNumbers::of(&model.reactions);
        let fields = written.fields(&model.reactions, model.space);
        let fields = fields.map(|field| (field, OnceCell::new()));
        Self {
            fields: fields.collect(),
            model,
            written,
        }
    }

    fn columns(&self, field: PrimeField) -> Residues {
        let (reactions, space) = (&self.model.reactions, self.model.space);
        self.written.columns(reactions, space, field).collect()
    }

    /// Whether the reactions but those released have at least this rank over the rational numbers.
    ///
    /// One prime that shows the rank proves it; that it is less is proven by all of them.
    pub(crate) fn reach_without(&self, released: &[ReactionIndex], rank: usize) -> bool {
        self.fields.iter().any(|(field, columns)| {
            let columns = columns.get_or_init(|| self.columns(*field));
            let kept = columns.enumerate();
            let kept = kept.filter(|(index, _)| !released.contains(index));
            let motions = self.model.space.motions();
            rank_of(kept.map(|(_, column)| *column), motions, *field) >= rank
        })
    }

    /// Independent reactions that reach a rank, each taken where those before it in this order leave it independent;
    /// `None` where those in the order do not reach it.
    ///
    /// Columns that are independent modulo one prime are so over the rational numbers.
    pub(crate) fn independent(
        &self,
        order: impl Iterator<Item = ReactionIndex> + Clone,
        rank: usize,
    ) -> Option<Vec<ReactionIndex>> {
        let motions = self.model.space.motions();
        self.fields.iter().find_map(|(field, columns)| {
            let columns = columns.get_or_init(|| self.columns(*field));
            let mut free = all_motions(motions);
            let mut chosen = Vec::new();
            for index in order.clone() {
                if motions - free.len() == rank {
                    break;
                }
                let before = free.len();
                take_away(&mut free, &columns[index], *field);
                if free.len() < before {
                    chosen.push(index);
                }
            }
            (chosen.len() == rank).then_some(chosen)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{builtin, read_str};
    use crate::statics::ExactRank;

    #[test]
    fn subsets_have_the_rank_of_the_model_without_the_others() {
        for built_in in builtin::all() {
            let scene = read_str(built_in.name, built_in.text).unwrap().scene;
            let model = Model::new(&scene).unwrap();
            let columns = ExactColumns::of(&model);
            for first in model.reactions.indices() {
                let released = [
                    first,
                    ReactionIndex::new((first.get() * 7 + 3) % model.reactions.len()),
                ];
                let rank = ExactRank::of(&model.without(&released)).rank;
                assert!(columns.reach_without(&released, rank), "{}", built_in.name);
                assert!(
                    !columns.reach_without(&released, rank + 1),
                    "{}",
                    built_in.name
                );
            }
        }
    }

    #[test]
    fn independent_reactions_have_the_rank_alone() {
        for built_in in builtin::all() {
            let scene = read_str(built_in.name, built_in.text).unwrap().scene;
            let model = Model::new(&scene).unwrap();
            let rank = ExactRank::of(&model).rank;
            let chosen = ExactColumns::of(&model)
                .independent(model.reactions.indices().rev(), rank)
                .expect("they reach the rank");
            let others: Vec<ReactionIndex> = model
                .reactions
                .indices()
                .filter(|i| !chosen.contains(i))
                .collect();
            assert_eq!(chosen.len(), rank);
            assert_eq!(ExactRank::of(&model.without(&others)).rank, rank);
        }
    }
}
