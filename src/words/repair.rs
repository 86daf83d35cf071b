//! Words for repairs: links to add, reactions and supports to do without.

use super::name::{counted, listed};
use super::number::rounded;
use crate::scene::{Coordinates, Place, Units};
use crate::statics::Model;
use crate::statics::repair::{AddedLink, Mending, Releases};

/// Digits of singular values.
const DIGITS: i32 = 3;
/// Reactions named before the rest is only counted.
const MOST_NAMED: usize = 12;

/// A link to add: `L1: from (1, 0, 0.5) m on the body to (1, 0.4, 0.5) m on the ground. …`.
pub fn added_link(units: &Units, link: &AddedLink) -> String {
    let symbol = units.length.symbol();
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
fn written(coordinates: &Coordinates) -> String {
    let numbers = |numbers: &[f64]| {
        let texts: Vec<String> = numbers
            .iter()
            .map(|x| format!("{}", x + 0.0).replace('-', "\u{2212}"))
            .collect();
        format!("({})", texts.join(", "))
    };
    match coordinates {
        Coordinates::Plane(xy) => numbers(xy),
        Coordinates::Space(xyz) => numbers(xyz),
    }
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
        let names: Vec<String> = releases
            .alone
            .iter()
            .take(MOST_NAMED)
            .map(|release| {
                let name = &model.reactions[release.reaction].name;
                format!("{name} ({})", rounded(release.smallest, DIGITS))
            })
            .collect();
        let more = releases.count - names.len();
        let rest = if more > 0 {
            format!(" and {more} more")
        } else {
            String::new()
        };
        said.push(format!(
            "Any one of these reactions can be released without freeing anything, the least missed first; in \
             brackets the smallest singular value that is left: {}{rest}.",
            names.join(", ")
        ));
    }
    said.extend(released_together(model, releases));
    said
}

/// The same in short, without figures, for a body that is held.
pub fn spared(model: &Model, releases: &Releases) -> Vec<String> {
    if releases.alone.is_empty() {
        return vec!["Nothing: without any one of its reactions it would move.".to_owned()];
    }
    let names = releases.alone.iter();
    let names: Vec<&str> = names
        .map(|release| model.reactions[release.reaction].name.as_str())
        .collect();
    let alone = match names.as_slice() {
        [only] => (*only).to_owned(),
        _ if releases.count > MOST_NAMED => format!("Any one of {} reactions", releases.count),
        names => format!("Any one of {}", listed(names)),
    };
    let mut said = vec![format!("{alone} can be released without freeing anything.")];
    said.extend(released_together(model, releases));
    said
}

/// Reactions that can go together, and supports that can go whole.
fn released_together(model: &Model, releases: &Releases) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(together) = releases.together.as_ref().filter(|t| t.len() > 1) {
        let mut together = together.clone();
        together.sort_unstable();
        let names: Vec<&str> = together
            .iter()
            .map(|reaction| model.reactions[*reaction].name.as_str())
            .collect();
        said.push(format!(
            "All of these can be released together: {}.",
            listed(&names)
        ));
    }
    if !releases.supports.is_empty() {
        let names: Vec<&str> = releases
            .supports
            .iter()
            .map(|support| model.supports[*support].name.as_str())
            .collect();
        let which = match names.as_slice() {
            [first, second] => format!("Either {first} or {second}"),
            [only] => (*only).to_owned(),
            names => format!("Any one of {}", listed(names)),
        };
        said.push(format!("{which} can be taken away whole."));
    }
    said
}
