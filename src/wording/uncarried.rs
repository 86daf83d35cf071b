//! Words for loads that the supports do not carry.

use super::balance::drives;
use super::geometry::line;
use super::leaving::let_go;
use super::motion::{motion_phrase, pitch_phrase};
use super::name::{listed, support};
use super::one_way::{rough_contacts, sliding, support_names};
use super::phrase::{Phrase, phrase};
use crate::motion::Course;
use crate::scene::Space;
use crate::statics::{
    CaseIndex, Diagnosis, Escape, Model, MotionKind, Reaction, ReactionIndex, Sense, Uncarried,
};

/// Which loads are not carried and why, to end a sentence: `this load is not carried: B would have to pull`.
///
/// Cases go by their names where the model has several; those with one reason share it.
pub fn uncarried(model: &Model, diagnosis: &Diagnosis, cases: &[Uncarried]) -> Phrase {
    let CauseOfFailure { which, why } = reasoned(model, diagnosis, cases);
    phrase!(which, ": ", why)
}

/// Which loads are not carried, and why.
pub(super) struct CauseOfFailure {
    pub(super) which: Phrase,
    pub(super) why: Phrase,
}

/// The two parts of [`uncarried`].
pub(super) fn reasoned(
    model: &Model,
    diagnosis: &Diagnosis,
    cases: &[Uncarried],
) -> CauseOfFailure {
    let names: Vec<Phrase> = cases.iter().map(|case| quoted(model, case.case)).collect();
    let which = which(model, &names);
    let mut reasons: Vec<(Phrase, Vec<Phrase>)> = Vec::new();
    for (case, name) in cases.iter().zip(names) {
        let said = why(model, diagnosis, case);
        match reasons.iter_mut().find(|(known, _)| *known == said) {
            Some((_, names)) => names.push(name),
            None => reasons.push((said, vec![name])),
        }
    }
    let whys: Vec<Phrase> = match reasons.as_slice() {
        [(only, _)] => vec![only.clone()],
        several => several
            .iter()
            .map(|(said, names)| phrase!("under ", listed(names), " ", said))
            .collect(),
    };
    CauseOfFailure {
        which,
        why: Phrase::joined(whys, "; "),
    }
}

/// What is said of a body in place of a motion, where there is none to show under a load case.
pub fn at_rest(uncarried: &[Uncarried], case: CaseIndex) -> &'static str {
    match uncarried {
        [] => "The body cannot move.",
        others if others.iter().all(|other| other.case != case) => {
            "The body does not move under this load."
        }
        _ => "With its supports treated as two-way, the body cannot move.",
    }
}

/// `this load is not carried`, or which of several cases.
fn which(model: &Model, names: &[Phrase]) -> Phrase {
    match names {
        _ if model.cases.len() == 1 => "this load is not carried".into(),
        [only] => phrase!("the load case ", only, " is not carried"),
        several => phrase!("the load cases ", listed(several), " are not carried"),
    }
}

fn quoted(model: &Model, case: CaseIndex) -> Phrase {
    phrase!(
        "\u{201c}",
        Phrase::name(&model.cases[case].name),
        "\u{201d}"
    )
}

/// A motion that is shown, in short: `rotation about B`, `this load is not carried: the body tips about B and loses contact at A`.
pub fn course(model: &Model, course: &Course) -> Phrase {
    let said = match course.route {
        Some(route) => phrase!(
            which(model, &[quoted(model, route.case)]),
            ": the body ",
            way_out(model, &route.escape)
        ),
        None => {
            let phrase = motion_phrase(model, course.motion);
            let path = course.mobility.path();
            match path.and_then(|path| let_go(model, course.motion, path)) {
                Some(how) => phrase!(phrase, ", ", how),
                None => phrase,
            }
        }
    };
    if course.is_real() {
        said
    } else {
        phrase!(said, ", infinitesimal only")
    }
}

/// The same as a sentence.
pub fn escape(model: &Model, shown: &Course) -> Phrase {
    phrase!(course(model, shown).capitalised(), ".")
}

/// `B would have to pull`, `the body tips about the line through B and C and loses contact at A and D`, `it does work in motion 1, …`.
fn why(model: &Model, diagnosis: &Diagnosis, case: &Uncarried) -> Phrase {
    let answer = &diagnosis.cases[case.case];
    if !answer.is_balanced() {
        return phrase!("it ", drives(model, diagnosis, answer));
    }
    if !case.anchors.is_empty() {
        let plates = case.anchors.iter();
        let plates: Vec<Phrase> = plates.map(|plate| support(model, *plate)).collect();
        return phrase!(
            "the anchors of ",
            listed(&plates),
            " and the wall cannot balance it"
        );
    }
    if let Some(onset) = &case.sliding {
        return sliding(model, onset);
    }
    if case.slips {
        return match &case.escape {
            Some(escape) if escape.sliding.is_empty() => {
                phrase!("the body ", way_out(model, escape))
            }
            _ => phrase!(
                "no friction at ",
                listed(&rough_contacts(model)),
                " is enough"
            ),
        };
    }
    let only = |escape: &Escape| (escape.loosened.len() == 1).then(|| escape.loosened.clone());
    // Where the way out loosens one reaction alone, that one has the wrong sign in every two-way balance.
    let loosened = || case.escape.as_ref().and_then(only).unwrap_or_default();
    let against = match case.against.as_slice() {
        [] => loosened(),
        known => known.to_vec(),
    };
    match (against.as_slice(), &case.escape) {
        ([], Some(escape)) => phrase!("the body ", way_out(model, escape)),
        ([], None) => "contacts and cables cannot balance it".into(),
        (against, _) => would_have_to(model, against),
    }
}

/// `A and B would have to pull and C to push`.
fn would_have_to(model: &Model, against: &[ReactionIndex]) -> Phrase {
    let those = |sense| {
        let all = against.iter().map(|j| &model.reactions[*j]);
        let found: Vec<&Reaction> = all.filter(|reaction| reaction.sense == sense).collect();
        support_names(model, &found)
    };
    let (contacts, cables) = (those(Sense::Push), those(Sense::Pull));
    match (contacts.is_empty(), cables.is_empty()) {
        (false, true) => phrase!(listed(&contacts), " would have to pull"),
        (true, _) => phrase!(listed(&cables), " would have to push"),
        (false, false) => phrase!(
            listed(&contacts),
            " would have to pull and ",
            listed(&cables),
            " to push"
        ),
    }
}

/// How the body gets away, as a verb: `tips about B and loses contact at A`, `moves along −x, while C goes slack`.
fn way_out(model: &Model, escape: &Escape) -> Phrase {
    let motion = &escape.motion;
    let axis = || line(model, &motion.point, &motion.direction);
    let way = match motion.kind {
        MotionKind::Translation if escape.backwards => -motion.direction,
        _ => motion.direction,
    };
    let goes = match motion.kind {
        MotionKind::Translation => phrase!("moves ", super::motion::course(model, &way)),
        MotionKind::Rotation if tips(model, escape) => phrase!("tips about ", axis()),
        MotionKind::Rotation => phrase!("rotates about ", axis()),
        MotionKind::Screw { pitch } => {
            let pitch = pitch_phrase(model, pitch);
            phrase!("moves in a screw motion about ", axis(), " (", pitch, ")")
        }
    };
    let those = |sense| {
        let all = escape.loosened.iter().map(|j| &model.reactions[*j]);
        let found: Vec<&Reaction> = all.filter(|reaction| reaction.sense == sense).collect();
        support_names(model, &found)
    };
    let (left, slack) = (those(Sense::Push), those(Sense::Pull));
    let left = (!left.is_empty()).then(|| phrase!("loses contact at ", listed(&left)));
    let go = if slack.len() == 1 { "goes" } else { "go" };
    let slack = (!slack.is_empty()).then(|| phrase!(", while ", listed(&slack), " ", go, " slack"));
    let sliding: Vec<&Reaction> = escape
        .sliding
        .iter()
        .map(|j| &model.reactions[*j])
        .collect();
    let sliding = support_names(model, &sliding);
    let slides = (!sliding.is_empty()).then(|| phrase!("slides at ", listed(&sliding)));
    let parts = std::iter::once(goes).chain(left).chain(slides);
    let parts: Vec<Phrase> = parts.collect();
    phrase!(listed(&parts), slack)
}

/// Whether the body lifts off a support below it.
fn tips(model: &Model, escape: &Escape) -> bool {
    let up = match model.space {
        Space::Spatial => nalgebra::Vector3::z(),
        Space::Planar => nalgebra::Vector3::y(),
    };
    let loosened = escape.loosened.iter().map(|j| &model.reactions[*j]);
    let mut contacts = loosened.filter(|reaction| reaction.sense == Sense::Push);
    contacts.any(|contact| contact.direction.dot(&up) > BELOW)
}

/// A contact whose push has at least this part upwards stands below the body: its surface is less steep than 60°.
const BELOW: f64 = 0.5;

#[cfg(test)]
mod tests {
    use super::super::{headline, samples};
    use super::*;

    fn said(sample: samples::Sample) -> Phrase {
        let study = samples::study(sample);
        headline(study.model(), study.diagnosis(), study.uncarried())
    }

    #[test]
    fn a_contact_that_would_have_to_pull_is_named() {
        assert_eq!(
            said(samples::pulled_roller()),
            "Constrained, but this load is not carried: B would have to pull."
        );
        assert_eq!(
            said(samples::simple_beam()),
            "Held: properly constrained, statically determinate."
        );
    }

    #[test]
    fn a_body_that_tips_says_about_what() {
        assert_eq!(
            said(samples::tipping_cabinet()),
            "Constrained, but this load is not carried: the body tips about the line through B and C and loses contact at A and D."
        );
    }

    #[test]
    fn cases_are_named_and_share_a_reason() {
        let study = samples::study(samples::beam_under_cases());
        let said = |uncarried: &[Uncarried]| headline(study.model(), study.diagnosis(), uncarried);
        assert_eq!(
            said(study.uncarried()),
            "Constrained, but the load cases \u{201c}hoist\u{201d} and \u{201c}wind\u{201d} are not carried: B would have to pull."
        );
        assert_eq!(
            said(&study.uncarried()[..1]),
            "Constrained, but the load case \u{201c}hoist\u{201d} is not carried: B would have to pull."
        );
    }

    #[test]
    fn rest_is_said_of_what_is_carried() {
        let study = samples::study(samples::beam_under_cases());
        assert_eq!(at_rest(&[], CaseIndex::FIRST), "The body cannot move.");
        assert_eq!(
            at_rest(study.uncarried(), CaseIndex::FIRST),
            "The body does not move under this load."
        );
        assert_ne!(
            at_rest(study.uncarried(), CaseIndex::new(1)),
            at_rest(study.uncarried(), CaseIndex::FIRST)
        );
    }

    #[test]
    fn a_load_that_drives_a_free_motion_says_which() {
        let study = samples::study(samples::swinging_beam());
        assert_eq!(
            uncarried(study.model(), study.diagnosis(), study.uncarried()),
            "this load is not carried: it does work in motion 1, the rotation about P"
        );
    }
}
