//! Names, lists and small counts.

use super::phrase::{Phrase, phrase};
use crate::statics::{Model, ReactionIndex, SupportIndex};

/// A count as a word up to twelve, then in digits.
pub fn count(number: usize) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    WORDS
        .get(number)
        .map_or_else(|| number.to_string(), |word| (*word).to_owned())
}

/// Symbols of some reactions.
pub fn symbols(model: &Model, reactions: impl IntoIterator<Item = ReactionIndex>) -> Vec<Phrase> {
    let reactions = reactions.into_iter();
    reactions
        .map(|index| Phrase::from(&model.reactions[index].symbol))
        .collect()
}

/// The name of a support.
pub fn support(model: &Model, index: SupportIndex) -> Phrase {
    Phrase::name(&model.supports[index].name)
}

/// `A`, `A and B`, `A, B and C`.
pub fn listed(items: &[Phrase]) -> Phrase {
    enumerated(items, "and")
}

/// `A`, `A or B`, `A, B or C`.
pub(super) fn either(items: &[Phrase]) -> Phrase {
    enumerated(items, "or")
}

fn enumerated(items: &[Phrase], word: &str) -> Phrase {
    match items {
        [] => Phrase::new(),
        [only] => only.clone(),
        [first @ .., last] => {
            let first = Phrase::joined(first.iter().cloned(), ", ");
            phrase!(first, " ", word, " ", last)
        }
    }
}

/// Names that are listed before the rest is only counted.
const MOST_NAMES: usize = 12;

/// A list of names, cut short where nobody would read it to its end: `A, B, C and 40 more`.
pub fn listed_briefly(names: &[Phrase]) -> Phrase {
    if names.len() <= MOST_NAMES {
        return listed(names);
    }
    let shown = MOST_NAMES - 2;
    let mut short = names[..shown].to_vec();
    short.push(phrase!(count(names.len() - shown), " more"));
    listed(&short)
}

/// A noun with its count: `one reaction`, `six reactions`.
pub(super) fn counted(number: usize, noun: &str) -> String {
    let ending = if number == 1 { "" } else { "s" };
    format!("{} {noun}{ending}", count(number))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_and_counts_read_aloud() {
        let names = |number| vec![Phrase::name("A"); number];
        assert_eq!(listed(&[]), "");
        assert_eq!(listed(&names(1)), "A");
        assert_eq!(listed(&names(3)), "A, A and A");
        assert_eq!(either(&names(2)), "A or A");
        let twelve = listed_briefly(&names(12)).to_string();
        assert_eq!(twelve.matches('A').count(), 12);
        let fifty = listed_briefly(&names(50)).to_string();
        assert!(fifty.ends_with("A, A and 40 more"), "{fifty}");
        assert_eq!(counted(1, "reaction"), "one reaction");
        assert_eq!(counted(6, "reaction"), "six reactions");
        assert_eq!(count(40), "40");
    }
}
