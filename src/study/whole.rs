//! Reactions of the whole scene, those that are released among them.

use super::Study;
use crate::statics::{Model, Reaction, ReactionIndex};

/// Which reaction of a study's whole model, whether it is released or acts.
///
/// [`ReactionIndex`] is used for [`Study::model`], in which released reactions are left out and all behind them move up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct WholeReactionIndex(ReactionIndex);

impl WholeReactionIndex {
    /// By its place in the order of the scene, from 0.
    pub const fn new(index: usize) -> Self {
        Self(ReactionIndex::new(index))
    }

    /// Of an index into the reactions of [`Study::whole`].
    pub const fn of(in_whole: ReactionIndex) -> Self {
        Self(in_whole)
    }

    /// The index into the reactions of [`Study::whole`].
    pub const fn in_whole(self) -> ReactionIndex {
        self.0
    }
}

impl Study {
    /// Every reaction of [`Study::whole`], with its index in [`Study::model`]; `None` where it is released.
    pub fn whole_reactions(
        &self,
    ) -> impl Iterator<Item = (WholeReactionIndex, &Reaction, Option<ReactionIndex>)> {
        let mut acting = self.model().reactions.indices();
        self.whole()
            .reactions
            .enumerate()
            .map(move |(index, reaction)| {
                let index = WholeReactionIndex::of(index);
                let is_released = self.released().contains(&index);
                let acts = if is_released { None } else { acting.next() };
                (index, reaction, acts)
            })
    }
}

/// Indices of these reactions into the model of the whole scene.
pub(super) fn in_whole(released: &[WholeReactionIndex]) -> Vec<ReactionIndex> {
    released.iter().map(|index| index.in_whole()).collect()
}

/// Those of the reactions that the model has, each once and in its order.
pub(super) fn existing(whole: &Model, released: &[WholeReactionIndex]) -> Vec<WholeReactionIndex> {
    let mut released = released.to_vec();
    released.retain(|index| index.in_whole().get() < whole.reactions.len());
    released.sort_unstable();
    released.dedup();
    released
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reactions_that_act_are_counted_without_the_released_ones() {
        let whole = Study::open("handrail").unwrap();
        let study = whole.without(&[1, 4].map(WholeReactionIndex::new));
        for (index, reaction, acts) in study.whole_reactions() {
            assert_eq!(
                whole.model().reactions[index.in_whole()].name,
                reaction.name
            );
            match acts {
                Some(acts) => assert_eq!(study.model().reactions[acts].name, reaction.name),
                None => assert!(study.released().contains(&index)),
            }
        }
        let acting = study
            .whole_reactions()
            .filter(|(_, _, acts)| acts.is_some());
        assert_eq!(acting.count(), 4);
    }
}
