//! Many subsets of one model's reactions, ranked exactly without laying them out each time.

use std::cell::OnceCell;

use super::{Written, rank_of};
use crate::statics::exact::prime_field::PrimeField;
use crate::statics::model::Model;

/// The columns of a model modulo primes enough to prove the rank of any subset.
pub(in crate::statics) struct ExactColumns<'a> {
    model: &'a Model,
    written: Written,
    fields: Vec<(PrimeField, OnceCell<Vec<[u64; 6]>>)>,
}

impl<'a> ExactColumns<'a> {
    /// Prepares the reactions of a model; nothing is computed yet.
    pub(in crate::statics) fn of(model: &'a Model) -> Self {
        let written = Written::of(model);
        let fields = written.fields(model).map(|field| (field, OnceCell::new()));
        Self {
            fields: fields.collect(),
            model,
            written,
        }
    }

    /// Whether the reactions but those released have at least this rank over the rational numbers.
    ///
    /// One prime that shows the rank proves it; that it is less is proven by all of them.
    pub(in crate::statics) fn reach_without(&self, released: &[usize], rank: usize) -> bool {
        self.fields.iter().any(|(field, columns)| {
            let columns =
                columns.get_or_init(|| self.written.columns(self.model, *field).collect());
            let kept = columns.iter().enumerate();
            let kept = kept.filter(|(index, _)| !released.contains(index));
            let motions = self.model.space.motions();
            rank_of(kept.map(|(_, column)| *column), motions, *field) >= rank
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
            for first in 0..model.reactions.len() {
                let released = [first, (first * 7 + 3) % model.reactions.len()];
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
}
