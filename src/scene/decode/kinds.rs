//! Families of kinds, and what a word means that is none of them.

use super::super::Space;
use super::super::other_words::{self, OtherKind};
use super::super::problem::{did_you_mean, nearest};
use super::super::syntax::{SyntaxNode, Value, clipped};
use super::fields::{Fields, Kind};
use super::positions::Positions;
use super::{Decoder, Findings, FormatFault, lesson, loads, shapes, supports};
use crate::scene::source_offsets::SourceOffsets;

/// A family of kinds, such as the supports.
pub(crate) struct Kinds<T: 'static> {
    /// What one of them is called.
    pub what: &'static str,
    /// The field of the scene that lists them.
    pub list: &'static str,
    /// Other names of the kinds.
    pub other_words: &'static [OtherKind],
    /// Each kind with its fields.
    pub all: &'static [Kind<T>],
}

impl<T> Kind<T> {
    /// Names of its fields in a space: those that it asks an item without fields for.
    pub(crate) fn fields(&self, space: Space) -> Vec<&'static str> {
        let mut decoder = Decoder {
            findings: &mut Findings::default(),
            space,
            places: SourceOffsets::default(),
            positions: Positions::default(),
        };
        let mut fields = Fields::empty(&mut decoder, self.name);
        (self.read)(&mut fields);
        fields.asked()
    }
}

impl<T> Kinds<T> {
    /// Names of the kinds that a space knows.
    pub(crate) fn names(&self, space: Space) -> impl Iterator<Item = &'static str> {
        let known = self.all.iter().filter(move |kind| kind.spaces.allow(space));
        known.map(|kind| kind.name)
    }

    /// The kind of that name, in any space.
    pub(crate) fn find(&self, name: &str) -> Option<&'static Kind<T>> {
        self.all.iter().find(|kind| kind.name == name)
    }

    /// What is wrong with an item that is none of these kinds.
    pub(crate) fn unknown(&self, node: SyntaxNode, space: Space) -> FormatFault {
        let word = node.name();
        let other_word = other_words::kind(self.other_words, word);
        if other_word.is_none()
            && let Some(other) = other_family(word, space).filter(|other| other.what != self.what)
        {
            return FormatFault::OtherFamily {
                found: clipped(word).into_owned(),
                what: other.what,
                wanted: self.what,
                hint: other.hint,
            };
        }
        let hint = match (other_word, node.value()) {
            (Some(other), _) => Some(format!("write {}", other.in_space(space))),
            (None, Value::Fields(_)) if word.is_empty() => self
                .names(space)
                .next()
                .map(|kind| format!("an item begins with its kind, such as `{kind}(…)`")),
            (None, Value::Text(text)) if self.find(&text).is_some() => {
                Some(format!("write {text} without quotes"))
            }
            // A kind of the other space is still nearer to what was meant than none.
            _ => did_you_mean(
                nearest(word, self.names(space))
                    .or_else(|| nearest(word, self.all.iter().map(|kind| kind.name))),
            ),
        };
        FormatFault::UnknownKind {
            what: self.what,
            found: node.describe(),
            hint,
            allowed: self.names(space).collect(),
        }
    }

    /// Whether a word is a kind of this family or another name of one, and what to try then.
    fn lead(&self, word: &str, space: Space) -> Option<KindFamily> {
        let (what, list) = (self.what, self.list);
        let hint = match other_words::kind(self.other_words, word) {
            Some(other) => format!("write {}, in the list `{list}: […]`", other.in_space(space)),
            None => {
                self.find(word)?;
                format!("move it to the list `{list}: […]`")
            }
        };
        Some(KindFamily { what, hint })
    }
}

/// The family that a word belongs to.
struct KindFamily {
    what: &'static str,
    hint: String,
}

fn other_family(word: &str, space: Space) -> Option<KindFamily> {
    None.or_else(|| supports::SUPPORTS.lead(word, space))
        .or_else(|| loads::LOADS.lead(word, space))
        .or_else(|| shapes::SHAPES.lead(word, space))
        .or_else(|| lesson::STAGES.lead(word, space))
}

#[cfg(test)]
mod tests {
    use super::*;

    const GUIDE: &str = include_str!("../../../scenes/README.md");

    /// Names of kinds that the page does not show as `Name`.
    fn missing<T>(kinds: &Kinds<T>) -> Vec<&'static str> {
        let all = kinds.all.iter().map(|kind| kind.name);
        all.filter(|name| !GUIDE.contains(&format!("| `{name}` |")))
            .collect()
    }

    #[test]
    fn the_reference_describes_every_kind() {
        let missing = [
            missing(&shapes::SHAPES),
            missing(&supports::SUPPORTS),
            missing(&loads::LOADS),
            missing(&lesson::STAGES),
        ];
        assert_eq!(missing.concat(), [""; 0]);
    }

    /// A word that is written as a kind in a hint, in that space.
    fn check<T>(kinds: &Kinds<T>) {
        let every = || {
            let lists = [supports::SUPPORTS.all.iter().map(|kind| kind.name)];
            let loads = loads::LOADS.all.iter().map(|kind| kind.name);
            let shapes = shapes::SHAPES.all.iter().map(|kind| kind.name);
            lists.into_iter().flatten().chain(loads).chain(shapes)
        };
        for other in kinds.other_words {
            for space in [Space::Spatial, Space::Planar] {
                let write = other.in_space(space);
                for kind in write.split('`').skip(1).step_by(2) {
                    assert!(kinds.names(space).any(|name| name == kind), "{kind}");
                }
                assert!(write.starts_with('`'));
            }
            for name in other.names {
                assert!(
                    !every().any(|kind| kind.eq_ignore_ascii_case(name)),
                    "{name}"
                );
            }
        }
    }

    #[test]
    fn other_words_lead_to_kinds_and_are_none() {
        check(&shapes::SHAPES);
        check(&supports::SUPPORTS);
        check(&loads::LOADS);
    }
}
