//! Words for repairs: links to add, reactions and supports to do without.

use super::name::{count, counted, listed, listed_briefly};
use super::number::rounded;
use crate::repair::{AddedLink, Mending, Release, Releases};
use crate::scene::{Coordinates, Datum, Place};
use crate::statics::Model;

/// Digits of singular values.
const DIGITS: i32 = 3;
/// Reactions named before the rest is only counted.
const MOST_NAMED: usize = 12;

/// A link to add: `L1: from (1, 0, 0.5) m on the body to (1, 0.4, 0.5) m on the ground. …`.
pub fn added_link(model: &Model, link: &AddedLink) -> String {
    let symbol = model.units.length.symbol();
    let written = |at| written(at, &model.datum);
    let at = match &link.at {
        Place::Named(name) => format!("\u{201c}{name}\u{201d}"),
        Place::At(at) => format!("{} {symbol}", written(at)),
    };
    let left = match link.freedom {
        0 => "then the body is held".to_owned(),
        1 => "then one motion is left".to_owned(),
        left => format!("then {} are left", counted(left, "motion")),
    };
    format!(
        "{}: a link from {at} on the body to {} {symbol} on the ground; {left}, smallest singular value {}.",
        link.name,
        written(&link.ground),
        rounded(link.smallest, DIGITS)
    )
}

/// The decimals as a scene has them, with a real minus sign.
fn written(coordinates: &Coordinates, datum: &Datum) -> String {
    let numbers = match coordinates {
        Coordinates::Plane(xy) => xy.as_slice(),
        Coordinates::Space(xyz) => xyz.as_slice(),
    };
    let number = |(axis, x): (usize, &f64)| datum.written(axis, *x).replace('-', "\u{2212}");
    let texts: Vec<String> = numbers.iter().enumerate().map(number).collect();
    format!("({})", texts.join(", "))
}

/// What was released beforehand, as a sentence.
pub fn without(released: &[String]) -> String {
    format!("Without {}.", listed(released))
}

/// What the added links amount to, in one sentence.
pub fn mending(mending: &Mending) -> String {
    let proof = if mending.is_proven() {
        "proven by the decimals as written"
    } else {
        "by the numbers, not by the decimals as written"
    };
    format!(
        "With {} the body is held: rank {}, {proof}.",
        counted(mending.links.len(), "link"),
        mending.counts.rank
    )
}

/// What the body can do without, one sentence each.
pub fn releases(model: &Model, releases: &Releases) -> Vec<String> {
    let mut said = Vec::new();
    if !releases.alone.is_empty() {
        said.push(format!(
            "Any one of these reactions can be released without freeing anything, the least missed first; in \
             brackets the smallest singular value that is left, about the reference point and by the length of the \
             whole scene: {}.",
            released_alone(model, &releases.alone)
        ));
    }
    said.extend(released_together(model, releases));
    said
}

/// The first with what they leave, and how many more there are down to what.
fn released_alone(model: &Model, alone: &[Release]) -> String {
    let with_value = |release: &Release| {
        let name = &model.reactions[release.reaction].name;
        format!("{name} ({})", rounded(release.smallest, DIGITS))
    };
    let named = if alone.len() > MOST_NAMED + 1 {
        MOST_NAMED
    } else {
        alone.len()
    };
    let names: Vec<String> = alone[..named].iter().map(with_value).collect();
    let rest = match &alone[named..] {
        [.., last] => format!(
            " and {} more, the most missed of them {}",
            count(alone.len() - named),
            with_value(last)
        ),
        [] => String::new(),
    };
    format!("{}{rest}", names.join(", "))
}

/// The same in short, without figures, for a body that is held.
pub fn spared(model: &Model, releases: &Releases) -> Vec<String> {
    if releases.alone.is_empty() {
        return vec!["Nothing: without any one of its reactions it would move.".to_owned()];
    }
    let mut alone: Vec<usize> = releases
        .alone
        .iter()
        .map(|release| release.reaction)
        .collect();
    alone.sort_unstable();
    let names: Vec<&str> = model.reactions.iter().map(|r| r.name.as_str()).collect();
    let mut said = vec![format!(
        "{} can be released without freeing anything.",
        any_one(&names, &alone, "reaction")
    )];
    said.extend(released_together(model, releases));
    said
}

/// Reactions that can go together, and supports that can go whole.
fn released_together(model: &Model, releases: &Releases) -> Vec<String> {
    let mut said = Vec::new();
    if releases.together.len() > 1 {
        said.push(all_of(model, &releases.together));
    }
    if !releases.supports.is_empty() {
        let names: Vec<&str> = model.supports.iter().map(|s| s.name.as_str()).collect();
        let which = match releases.supports.as_slice() {
            [first, second] => format!("Either {} or {}", names[*first], names[*second]),
            supports => any_one(&names, supports, "support"),
        };
        said.push(format!("{which} can be taken away whole."));
    }
    said
}

/// Those that are released, or of many those that are kept.
fn all_of(model: &Model, together: &[usize]) -> String {
    let name = |index: usize| model.reactions[index].name.as_str();
    let all = model.reactions.len();
    let few_kept = together.len() > MOST_NAMED && all - together.len() <= MOST_NAMED;
    let named: Vec<&str> = (0..all)
        .filter(|index| together.contains(index) != few_kept)
        .map(name)
        .collect();
    if few_kept {
        return format!(
            "All reactions but {} can be released together.",
            listed(&named)
        );
    }
    format!(
        "All of these can be released together: {}.",
        listed_briefly(&named)
    )
}

/// `Any one of A, B and C`; of many, those that are not among them: `Any one of the 27 supports but A`.
fn any_one(names: &[&str], some: &[usize], noun: &str) -> String {
    let chosen: Vec<&str> = some.iter().map(|index| names[*index]).collect();
    if let [only] = chosen.as_slice() {
        return (*only).to_owned();
    }
    let others: Vec<&str> = (0..names.len())
        .filter(|index| !some.contains(index))
        .map(|index| names[index])
        .collect();
    match others.as_slice() {
        _ if chosen.len() <= MOST_NAMED => format!("Any one of {}", listed(&chosen)),
        [] => format!("Any one of the {noun}s"),
        others if others.len() <= MOST_NAMED => {
            format!("Any one of the {noun}s but {}", listed(others))
        }
        _ => format!(
            "Any one of {} of the {} {noun}s, {}",
            count(chosen.len()),
            count(names.len()),
            listed_briefly(&chosen)
        ),
    }
}
