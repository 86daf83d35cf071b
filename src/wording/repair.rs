//! Words for repairs: links to add, reactions and supports that can be removed.

use super::name::{count, counted, listed, listed_briefly};
use super::nearness::scaling;
use super::number::{Number, Quantity, rounded, signed};
use super::phrase::{Phrase, phrase};
use crate::indexed::{Index, Indexed};
use crate::repair::{AddedLink, Mending, Release, Releases};
use crate::scene::{Coordinates, Datum, Place};
use crate::statics::{Model, ReactionIndex};
use crate::study::Study;

/// Digits of singular values.
const DIGITS: i32 = 3;
/// Reactions named before the rest is only counted.
const MOST_NAMED: usize = 12;

/// A link to add: `L1: from (1, 0, 0.5) m on the body to (1, 0.4, 0.5) m on the ground. …`.
pub fn added_link(model: &Model, link: &AddedLink) -> Phrase {
    let symbol = model.units.length.symbol();
    let written = |at| Quantity::vector(written(at, &model.datum), symbol);
    let at = match &link.at {
        Place::Named(name) => phrase!("\u{201c}", Phrase::name(name), "\u{201d}"),
        Place::At(at) => written(at).into(),
    };
    let left = match link.freedom {
        0 => Phrase::from("The body is then held"),
        1 => "One motion then remains".into(),
        left => phrase!(counted(left, "motion"), " then remain").capitalised(),
    };
    phrase!(
        Phrase::name(&link.name),
        ": a link from ",
        at,
        " on the body to ",
        written(&link.ground),
        " on the ground. ",
        left,
        " (smallest singular value ",
        rounded(link.smallest, DIGITS),
        ")."
    )
}

/// The decimals as a scene has them, with a real minus sign.
fn written(coordinates: &Coordinates, datum: &Datum) -> Vec<Number> {
    let numbers = match coordinates {
        Coordinates::Plane(xy) => xy.as_slice(),
        Coordinates::Space(xyz) => xyz.as_slice(),
    };
    let numbers = numbers.iter().enumerate();
    numbers
        .map(|(axis, x)| signed(&datum.written(axis, *x)))
        .collect()
}

/// What of a whole model was released beforehand, supports and reactions by name, as a sentence.
pub fn without(whole: &Model, released: &[String]) -> Phrase {
    let reaction = |name: &String| whole.reactions.iter().find(|own| own.name == *name);
    let names: Vec<Phrase> = released
        .iter()
        .map(|name| match reaction(name) {
            Some(reaction) => (&reaction.symbol).into(),
            None => Phrase::name(name),
        })
        .collect();
    phrase!("Without ", listed(&names), ".")
}

/// What the added links amount to, in one sentence.
pub fn mending(mending: &Mending) -> Phrase {
    let proof = if mending.is_proven() {
        "confirmed in exact arithmetic"
    } else {
        "numerically, though not in exact arithmetic"
    };
    phrase!(
        "With ",
        counted(mending.links.len(), "link"),
        " the body is held: rank ",
        mending.counts.rank,
        ", ",
        proof,
        "."
    )
}

/// Which reactions and supports can be removed, one sentence each.
pub fn releases(study: &Study) -> Vec<Phrase> {
    let (model, releases) = (study.model(), study.releases());
    let more = match study.diagnosis().is_held() {
        true => "freeing the body",
        false => "freeing a further motion",
    };
    let mut said = Vec::new();
    if !releases.alone.is_empty() {
        said.push(phrase!(
            "Any one of these reactions can be removed without ",
            more,
            "; the least important comes first, each with the smallest singular value then left (",
            scaling(model),
            "): ",
            released_alone(model, &releases.alone),
            "."
        ));
    }
    said.extend(released_together(model, releases));
    said
}

/// The first with what they leave, and how many more there are down to what.
fn released_alone(model: &Model, alone: &[Release]) -> Phrase {
    let with_value = |release: &Release| {
        let name = &model.reactions[release.reaction].symbol;
        phrase!(name, " (", rounded(release.smallest, DIGITS), ")")
    };
    let named = if alone.len() > MOST_NAMED + 1 {
        MOST_NAMED
    } else {
        alone.len()
    };
    let names: Vec<Phrase> = alone[..named].iter().map(with_value).collect();
    let rest = match &alone[named..] {
        [.., last] => phrase!(
            " and ",
            count(alone.len() - named),
            " more, the most important of them ",
            with_value(last)
        ),
        [] => Phrase::new(),
    };
    phrase!(Phrase::joined(names, ", "), rest)
}

/// The same in short, without figures, for a body that is held.
pub fn spared(study: &Study) -> Vec<Phrase> {
    let (model, releases) = (study.model(), study.releases());
    if releases.alone.is_empty() {
        return vec![
            "No reaction can be removed: removing any one of them would free the body.".into(),
        ];
    }
    let mut alone: Vec<ReactionIndex> = releases
        .alone
        .iter()
        .map(|release| release.reaction)
        .collect();
    alone.sort_unstable();
    let names = model.reactions.iter();
    let names = names
        .map(|reaction| Phrase::from(&reaction.symbol))
        .collect();
    let mut said = vec![phrase!(
        any_one(&names, &alone, "reaction"),
        " can be removed without freeing the body."
    )];
    said.extend(released_together(model, releases));
    said
}

/// Reactions that can go together, and supports that can go whole.
fn released_together(model: &Model, releases: &Releases) -> Vec<Phrase> {
    let mut said = Vec::new();
    if releases.together.len() > 1 {
        said.push(all_of(model, &releases.together));
    }
    if !releases.supports.is_empty() {
        let names = model.supports.map(|support| Phrase::name(&support.name));
        let which = match releases.supports.as_slice() {
            [first, second] => phrase!("Either ", names[*first], " or ", names[*second]),
            supports => any_one(&names, supports, "support"),
        };
        said.push(phrase!(which, " can be removed entirely."));
    }
    said
}

/// Those that are released, or of many those that are kept.
fn all_of(model: &Model, together: &[ReactionIndex]) -> Phrase {
    let name = |index: ReactionIndex| Phrase::from(&model.reactions[index].symbol);
    let all = model.reactions.len();
    let few_kept = together.len() > MOST_NAMED && all - together.len() <= MOST_NAMED;
    let named: Vec<Phrase> = model
        .reactions
        .indices()
        .filter(|index| together.contains(index) != few_kept)
        .map(name)
        .collect();
    if few_kept {
        return phrase!(
            "All reactions but ",
            listed(&named),
            " can be removed together."
        );
    }
    phrase!(
        "For example, these can be removed together: ",
        listed_briefly(&named),
        "."
    )
}

/// `Any one of A, B and C`; of many, those that are not among them: `Any one of the 27 supports but A`.
fn any_one<I: Index>(names: &Indexed<I, Phrase>, some: &[I], noun: &str) -> Phrase {
    let chosen: Vec<Phrase> = some.iter().map(|index| names[*index].clone()).collect();
    if let [only] = chosen.as_slice() {
        return only.clone();
    }
    let others: Vec<Phrase> = names
        .enumerate()
        .filter(|(index, _)| !some.contains(index))
        .map(|(_, name)| name.clone())
        .collect();
    match others.as_slice() {
        _ if chosen.len() <= MOST_NAMED => phrase!("Any one of ", listed(&chosen)),
        [] => phrase!("Any one of the ", noun, "s"),
        others if others.len() <= MOST_NAMED => {
            phrase!("Any one of the ", noun, "s but ", listed(others))
        }
        _ => phrase!(
            "Any one of ",
            count(chosen.len()),
            " of the ",
            count(names.len()),
            " ",
            noun,
            "s, ",
            listed_briefly(&chosen)
        ),
    }
}
