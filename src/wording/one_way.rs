//! Words for contacts that only push and cables that only pull.

use super::motion::sensed_phrase;
use super::name::{listed, support};
use super::number::{Quantity, number, reaction_value, rounded};
use super::phrase::{Phrase, phrase};
use crate::scene::SupportKind;
use crate::statics::{
    Escape, Friction, LimitsOutcome, LoadCase, LoadLimits, MOST_RANGED, Model, OneWay,
    OneWayBalance, OneWayCase, Reaction, ReactionIndex, Sense, SlidingOnset, SupportIndex,
};

/// Significant digits of coefficients of friction.
const DIGITS: i32 = 3;

/// Whether a load case is held with contacts that push and cables that pull, a sentence or more.
pub fn one_way(model: &Model, case: &OneWayCase) -> Phrase {
    of_load(model, case, &"This load".into())
}

/// The same of a load that goes by a name.
fn of_load(model: &Model, case: &OneWayCase, load: &Phrase) -> Phrase {
    match case {
        OneWayCase::Carried(balance) => carried(model, balance),
        OneWayCase::Slips(Some(away)) | OneWayCase::Uncarried(Some(away)) => {
            escaping(model, away, load)
        }
        OneWayCase::Slips(None) => phrase!(
            load,
            " is not carried: no coefficient of friction at ",
            listed(&rough_contacts(model)),
            ", however large, gives equilibrium."
        ),
        OneWayCase::Slides(overcome) => {
            let needed = needed_factor(overcome.needed);
            phrase!(
                load,
                " is not carried: ",
                sliding(model, &overcome.onset),
                needed,
                "."
            )
        }
        OneWayCase::Uncarried(None) => phrase!(
            load,
            " is not carried: contacts that push and cables that pull cannot balance it."
        ),
    }
}

fn escaping(model: &Model, away: &Escape, load: &Phrase) -> Phrase {
    // A motion that loosens nothing is free for supports that act both ways as well.
    if away.loosened.is_empty() && away.sliding.is_empty() {
        return "Not carried, even by two-way supports: the load does work in a free motion."
            .into();
    }
    let what = match away.sliding.is_empty() {
        true => phrase!("nothing prevents "),
        false => phrase!(
            "no coefficient of friction at ",
            listed(&rough_contacts(model)),
            ", however large, prevents "
        ),
    };
    phrase!(load, " is not carried: ", what, escape(model, away), ".")
}

fn carried(model: &Model, balance: &OneWayBalance) -> Phrase {
    let idle = names(model, &balance.idle);
    let how = match idle.as_slice() {
        [] => acting(model, balance),
        [one] => phrase!(one, " carries no load"),
        several => phrase!(listed(several), " carry no load"),
    };
    let mut said = phrase!("The load is carried: ", how, ".");
    if let Some(ranges) = ranges(model, balance) {
        said.push(phrase!(" ", ranges));
    }
    if balance.ranges.contains(&None) {
        said.push(phrase!(
            " Bounds of indeterminate reactions, and which supports carry no load, are computed for up to ",
            MOST_RANGED,
            " reactions only."
        ));
    }
    if let Some(friction) = friction(model, balance) {
        said.push(phrase!(" ", friction));
    }
    said
}

/// `the friction given is overcome, and the body slides at A and B`.
pub(super) fn sliding(model: &Model, onset: &SlidingOnset) -> Phrase {
    let names = |supports: &[SupportIndex]| -> Vec<Phrase> {
        supports
            .iter()
            .map(|index| support(model, *index))
            .collect()
    };
    let (slides, opens) = (names(&onset.slides), names(&onset.opens));
    let parts = [
        (!slides.is_empty()).then(|| phrase!("the body slides at ", listed(&slides))),
        (!opens.is_empty()).then(|| phrase!("contact is lost at ", listed(&opens))),
    ];
    let parts: Vec<Phrase> = parts.into_iter().flatten().collect();
    match parts.as_slice() {
        [] => "the friction given is overcome".into(),
        parts => phrase!("the friction given is overcome, and ", listed(parts)),
    }
}

/// `; 1.35 times the coefficients would just do`.
fn needed_factor(factor: f64) -> Phrase {
    match factor.is_finite() {
        true => phrase!(
            "; ",
            rounded(factor, DIGITS),
            " times the coefficients would just do"
        ),
        false => "; no multiple of the coefficients would do".into(),
    }
}

/// Heading of the limits of loads.
pub const LOAD_LIMITS: &str = "Load limits";

/// How far the loads of a case can grow: `Carried up to 2.5 times the loads of this case. Beyond that, nothing prevents …`
///
/// A body that slides does so only beyond: with friction, equilibrium is possible up to there, which does not prove that the body stays
/// at rest.
pub fn load_limits(model: &Model, outcome: &LimitsOutcome) -> Phrase {
    match outcome {
        LimitsOutcome::Found(limits) => found_limits(model, limits),
        LimitsOutcome::NotFound => {
            "The largest factor on the loads was not found: the search did not settle on one."
                .into()
        }
    }
}

fn found_limits(model: &Model, limits: &LoadLimits) -> Phrase {
    let loads = match model.cases.iter().any(LoadCase::is_unnamed) {
        true => "the loads other than weights",
        false => "the loads of this case",
    };
    let factor = |factor: f64| Quantity::from(number(factor));
    let from = (limits.least > 0.0).then(|| phrase!(" from ", factor(limits.least)));
    let up_to = match (limits.most.is_finite(), &from) {
        (true, None) => phrase!(" up to ", factor(limits.most), " times ", loads),
        (true, Some(_)) => phrase!(" to ", factor(limits.most), " times ", loads),
        (false, None) => phrase!(" however large ", loads, " become"),
        (false, Some(_)) => phrase!(" times ", loads, " on, without limit"),
    };
    let beyond = limits.beyond.as_ref();
    let beyond =
        beyond.map(|away| phrase!(" Beyond that, nothing prevents ", escape(model, away), "."));
    let below = limits.below.as_ref().filter(|_| limits.least > 0.0);
    let below =
        below.map(|away| phrase!(" Below that, nothing prevents ", escape(model, away), "."));
    let slides = |side: &'static str, onset: Option<&SlidingOnset>| {
        onset.map(|onset| phrase!(" ", side, " that, ", sliding(model, onset), "."))
    };
    let slides_beyond = slides("Beyond", limits.sliding_beyond.as_ref());
    let slides_below = limits.sliding_below.as_ref().filter(|_| limits.least > 0.0);
    let slides_below = slides("Below", slides_below);
    phrase!(
        "Carried",
        from,
        up_to,
        ".",
        beyond,
        slides_beyond,
        below,
        slides_below
    )
}

/// What a verdict that takes contacts and cables as holding both ways leaves out: the load cases that they do not carry;
/// `None` where every support acts both ways, or they carry all cases.
pub fn uncounted(model: &Model, found: &OneWay) -> Option<Phrase> {
    let cases = model.cases.iter().zip(&found.cases);
    let said: Vec<Phrase> = cases
        .filter(|(case, answer)| !case.loads.is_empty() && !answer.is_carried())
        .map(|(case, answer)| match model.cases.len() {
            1 => one_way(model, answer),
            _ => {
                let name = Phrase::name(&case.name);
                let load = phrase!("Load case \u{201c}", name, "\u{201d}");
                of_load(model, answer, &load)
            }
        })
        .collect();
    (!said.is_empty()).then(|| {
        phrase!(
            "Contacts and cables are treated here as two-way (bilateral). ",
            Phrase::joined(said, " ")
        )
    })
}

/// How contacts and cables carry a load that leaves none of them idle for sure: `all contacts stay in compression`, or where
/// equilibrium leaves it open, `every cable is in tension or slack; whether S is slack depends on stiffness and pretension`.
fn acting(model: &Model, balance: &OneWayBalance) -> Phrase {
    let count = |sense| model.reactions.iter().filter(|r| r.sense == sense).count();
    let pushes_and_pulls = [count(Sense::Push), count(Sense::Pull)];
    let open = perhaps_idle(model, balance);
    if open.is_empty() {
        return match pushes_and_pulls {
            [1, 0] => "the contact stays in compression",
            [_, 0] => "all contacts stay in compression",
            [0, 1] => "the cable stays in tension",
            [0, _] => "all cables stay in tension",
            _ => "all contacts stay in compression and all cables in tension",
        }
        .into();
    }
    let (every, idle) = match pushes_and_pulls {
        [1, 0] => ("the contact is in compression or idle", "idle"),
        [_, 0] => ("every contact is in compression or idle", "idle"),
        [0, 1] => ("the cable is in tension or slack", "slack"),
        [0, _] => ("every cable is in tension or slack", "slack"),
        _ => (
            "every contact is in compression or idle and every cable in tension or slack",
            "idle or slack",
        ),
    };
    let which = match open.as_slice() {
        [one] => phrase!("whether ", one, " is ", idle),
        several => phrase!("which of ", listed(several), " are ", idle),
    };
    phrase!(every, "; ", which, " depends on stiffness and pretension")
}

/// Supports whose contact or cable may carry the load or not, as far as equilibrium says.
fn perhaps_idle(model: &Model, balance: &OneWayBalance) -> Vec<Phrase> {
    let pairs = model.reactions.enumerate().zip(&balance.ranges);
    let open = pairs.filter(|((_, reaction), range)| {
        reaction.sense != Sense::Both
            && range
                .as_ref()
                .is_some_and(|range| range.low <= 0.0 && range.low < range.high)
    });
    let open: Vec<ReactionIndex> = open.map(|((index, _), _)| index).collect();
    names(model, &open)
}

/// Reactions that the signs keep within finite limits though equilibrium does not decide them.
fn ranges(model: &Model, balance: &OneWayBalance) -> Option<Phrase> {
    let said: Vec<Phrase> = model
        .reactions
        .iter()
        .zip(&balance.ranges)
        .filter_map(|(reaction, range)| Some((reaction, range.as_ref()?)))
        .filter(|(_, range)| {
            range.low < range.high && (range.low.is_finite() && range.high.is_finite())
        })
        .map(|(reaction, range)| {
            let value = |value| reaction_value(value, reaction.kind, &model.units);
            phrase!(
                &reaction.symbol,
                " from ",
                value(range.low),
                " to ",
                value(range.high)
            )
        })
        .collect();
    (!said.is_empty()).then(|| {
        phrase!(
            "Statically indeterminate, but bounded: ",
            listed(&said),
            "."
        )
    })
}

/// Coefficients of friction that rough contacts need.
fn friction(model: &Model, balance: &OneWayBalance) -> Option<Phrase> {
    let name = |found: &Friction| support(model, found.support);
    let (mut needs, mut open) = (Vec::new(), Vec::new());
    for found in &balance.friction {
        match found.coefficient {
            Some(x) => needs.push(phrase!(rounded(x, DIGITS), " at ", name(found))),
            None => open.push(name(found)),
        }
    }
    let needed = (!needs.is_empty()).then(|| {
        phrase!(
            "Required coefficient of friction: at least ",
            listed(&needs),
            "."
        )
    });
    let open = (!open.is_empty()).then(|| {
        let common = common_friction(model, balance.common_friction);
        phrase!(
            "The friction required at ",
            listed(&open),
            " is statically indeterminate",
            common,
            "."
        )
    });
    let said: Vec<Phrase> = [needed, open].into_iter().flatten().collect();
    (!said.is_empty()).then(|| Phrase::joined(said, " "))
}

/// `; with the same coefficient at A and B, equilibrium requires at least 0.375`, after what is not decided.
fn common_friction(model: &Model, coefficient: Option<f64>) -> Phrase {
    let names = rough_contacts(model);
    match (coefficient, names.as_slice()) {
        (None, _) => Phrase::new(),
        (Some(0.0), _) => ", but equilibrium is possible without any".into(),
        (Some(least), [one]) => phrase!(
            ", but equilibrium requires a coefficient of at least ",
            rounded(least, DIGITS),
            " at ",
            one
        ),
        (Some(least), _) => phrase!(
            ", but with the same coefficient at ",
            listed(&names),
            " equilibrium requires at least ",
            rounded(least, DIGITS)
        ),
    }
}

pub(super) fn rough_contacts(model: &Model) -> Vec<Phrase> {
    let rough = model.supports.iter();
    rough
        .filter(|support| matches!(support.kind, SupportKind::RoughContact { .. }))
        .map(|support| Phrase::name(&support.name))
        .collect()
}

/// Rough contacts hold along their surface without any limit here.
fn without_limit(model: &Model) -> Option<Phrase> {
    let names = rough_contacts(model);
    (!names.is_empty()).then(|| {
        phrase!(
            "Friction at ",
            listed(&names),
            " is assumed to be as large as required; a real surface slips at its limit."
        )
    })
}

/// Whether every load would be held, or which motion some load would start; without the latter where one of these cases has said
/// it: nothing then, unless friction is without limit.
pub fn every_load_beside(model: &Model, one_way: &OneWay, said: &[&OneWayCase]) -> Option<Phrase> {
    let escape_of = |case: &&&OneWayCase| match case {
        OneWayCase::Uncarried(Some(away)) => Some(escape(model, away)),
        _ => None,
    };
    let own = one_way.escape.as_ref().map(|away| escape(model, away));
    let is_said = own.is_some() && said.iter().any(|case| escape_of(&case) == own);
    match is_said {
        true => without_limit(model),
        false => Some(every_load(model, one_way)),
    }
}

/// Whether every load would be held, or which motion some load would start.
pub fn every_load(model: &Model, one_way: &OneWay) -> Phrase {
    let said = match &one_way.escape {
        None => phrase!(
            "Every load is resisted, even with ",
            only_one_way(model),
            "."
        ),
        Some(away) => phrase!(
            "Some loads are not resisted: nothing prevents ",
            escape(model, away),
            "."
        ),
    };
    match without_limit(model) {
        Some(friction) => phrase!(said, " ", friction),
        None => said,
    }
}

/// `contacts only pushing`, `the cable only pulling`.
fn only_one_way(model: &Model) -> &'static str {
    let count = |sense| model.reactions.iter().filter(|r| r.sense == sense).count();
    match [count(Sense::Push), count(Sense::Pull)] {
        [1, 0] => "the contact only pushing",
        [_, 0] => "contacts only pushing",
        [0, 1] => "the cable only pulling",
        [0, _] => "cables only pulling",
        _ => "contacts only pushing and cables only pulling",
    }
}

/// `clockwise rotation about B, in which contact is lost at A` and the like.
fn escape(model: &Model, escape: &Escape) -> Phrase {
    let motion = sensed_phrase(model, &escape.motion, escape.backwards);
    let loosened = |wanted: Sense| -> Vec<&Reaction> {
        let all = escape.loosened.iter().map(|j| &model.reactions[*j]);
        all.filter(|reaction| reaction.sense == wanted).collect()
    };
    let verb = |found: &[&Reaction], phrase: &dyn Fn(Phrase, bool) -> Phrase| {
        let names = support_names(model, found);
        (!names.is_empty()).then(|| phrase(listed(&names), names.len() == 1))
    };
    let lifted = verb(&loosened(Sense::Push), &|names, _| {
        phrase!("contact is lost at ", names)
    });
    let slack = verb(&loosened(Sense::Pull), &|names, one| {
        phrase!(names, " ", if one { "goes" } else { "go" }, " slack")
    });
    let sliding: Vec<&Reaction> = escape
        .sliding
        .iter()
        .map(|j| &model.reactions[*j])
        .collect();
    let slides = verb(&sliding, &|names, _| phrase!("the body slides at ", names));
    let parts: Vec<Phrase> = [lifted, slides, slack].into_iter().flatten().collect();
    if parts.is_empty() {
        motion
    } else {
        phrase!(motion, ", in which ", Phrase::joined(parts, ", and "))
    }
}

/// Names of the supports of some reactions, each once.
pub(super) fn support_names(model: &Model, reactions: &[&Reaction]) -> Vec<Phrase> {
    let mut names: Vec<Phrase> = Vec::new();
    for reaction in reactions {
        let name = support(model, reaction.support);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

fn names(model: &Model, reactions: &[ReactionIndex]) -> Vec<Phrase> {
    reactions
        .iter()
        .map(|j| support(model, model.reactions[*j].support))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;
    use crate::statics::CaseIndex;

    fn found(sample: &samples::Sample) -> OneWay {
        let study = samples::study(sample.clone());
        study.one_way().unwrap().clone()
    }

    #[test]
    fn a_beam_is_held_under_its_load_but_not_under_every_one() {
        let sample = samples::simple_beam();
        let found = found(&sample);
        assert_eq!(
            one_way(&sample.0, &found.cases[CaseIndex::FIRST]),
            "The load is carried: the contact stays in compression."
        );
        assert_eq!(
            every_load(&sample.0, &found),
            "Some loads are not resisted: nothing prevents anticlockwise rotation about A, in which contact is lost \
             at B."
        );
    }

    #[test]
    fn slack_cables_are_named() {
        let sample = samples::three_cables();
        let found = found(&sample);
        let said = every_load(&sample.0, &found);
        assert!(said.to_string().contains("a, b and c go slack"), "{said}");
    }
}
