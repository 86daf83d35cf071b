//! What the numbers of a report rest on: how supports were taken, and what was left out.

use super::Report;
use super::blocks::listed;
use crate::document::DocumentBlock;
use crate::scene::SupportKind;
use crate::scene::units::STANDARD_GRAVITY;
use crate::statics::{AppliedLoad, Model, PlacedSupport, Sense};
use crate::wording::{self, Phrase, Quantity, phrase};

/// The list of them.
pub(super) fn assumptions(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let model = report.model();
    let all = [
        Some(body()),
        couples(model, false),
        couples(model, true),
        one_way(model),
        smooth(model),
        rough(model),
        limited(model),
        weights(model),
        motions(report),
        report.study.elastic().map(|_| elastic()),
        report.study.frame().map(|_| bending()),
    ];
    listed(blocks, "Assumptions", all.into_iter().flatten().collect());
}

fn body() -> Phrase {
    "The body and the ground are rigid and the supports have no play; equilibrium is written for the given position."
        .into()
}

fn elastic() -> Phrase {
    phrase!(
        "Under \u{201c}",
        wording::ELASTIC,
        "\u{201d} alone supports give way; those reactions rest on the stiffnesses that are given or assumed there."
    )
}

fn bending() -> Phrase {
    phrase!(
        "Under \u{201c}",
        wording::BENDING,
        "\u{201d} alone the body gives way; those values rest on the moduli, sections and stiffnesses given there."
    )
}

fn named<'a>(supports: impl Iterator<Item = &'a PlacedSupport>) -> Option<(Phrase, bool)> {
    let names: Vec<Phrase> = supports.map(|of| Phrase::name(&of.name)).collect();
    (!names.is_empty()).then(|| (wording::listed(&names), names.len() == 1))
}

fn of_kind(
    model: &Model,
    is_meant: impl Fn(&SupportKind) -> bool,
) -> impl Iterator<Item = &PlacedSupport> {
    let supports = model.supports.iter();
    supports.filter(move |support| is_meant(&support.kind))
}

/// Hinges and bearings whose couples count, or do not.
fn couples(model: &Model, counted: bool) -> Option<Phrase> {
    let (names, is_one) = named(of_kind(model, |kind| kind.couples() == Some(counted)))?;
    let verb = if is_one { " transmits" } else { " transmit" };
    Some(match counted {
        true => phrase!(
            names,
            verb,
            " reaction couples about axes perpendicular to ",
            if is_one { "its" } else { "their" },
            " own."
        ),
        false => phrase!(
            names,
            verb,
            " no reaction couples: ",
            if is_one { "it is" } else { "they are" },
            " short or self-aligning."
        ),
    })
}

/// Contacts and cables, which the equations take as acting both ways.
fn one_way(model: &Model) -> Option<Phrase> {
    let reactions = model.reactions.iter();
    let one_way = reactions.filter(|reaction| reaction.sense != Sense::Both);
    let symbols: Vec<Phrase> = one_way.map(|r| Phrase::from(&r.symbol)).collect();
    let any = |sense| model.reactions.iter().any(|r| r.sense == sense);
    let limits = match (any(Sense::Push), any(Sense::Pull)) {
        (true, false) => "contacts only push",
        (false, true) => "cables only pull",
        _ => "contacts only push and cables only pull",
    };
    (!symbols.is_empty()).then(|| {
        phrase!(
            "The counts and the solution treat ",
            wording::listed(&symbols),
            " as two-way (bilateral); that ",
            limits,
            " is considered under \u{201c}One-way supports\u{201d}."
        )
    })
}

fn smooth(model: &Model) -> Option<Phrase> {
    let is_meant = |kind: &SupportKind| matches!(kind, SupportKind::SmoothContact { .. });
    let (names, _) = named(of_kind(model, is_meant))?;
    Some(phrase!("There is no friction at ", names, "."))
}

/// Rough contacts without a coefficient of friction.
fn rough(model: &Model) -> Option<Phrase> {
    let is_meant =
        |kind: &SupportKind| matches!(kind, SupportKind::RoughContact { friction: None, .. });
    let (names, _) = named(of_kind(model, is_meant))?;
    Some(phrase!(
        "Friction at ",
        names,
        " is as large as required; no coefficient of friction limits it."
    ))
}

/// Rough contacts with one.
fn limited(model: &Model) -> Option<Phrase> {
    let coefficient = |support: &PlacedSupport| match support.kind {
        SupportKind::RoughContact {
            friction: Some(friction),
            ..
        } => Some(phrase!(
            wording::number(friction),
            " at ",
            Phrase::name(&support.name)
        )),
        _ => None,
    };
    let given: Vec<Phrase> = model.supports.iter().filter_map(coefficient).collect();
    (!given.is_empty()).then(|| {
        phrase!(
            "The coefficient of friction is ",
            wording::listed(&given),
            ", at rest as in motion (Coulomb); the counts and the solution take friction to be as large as required, and what the coefficients \
             allow is considered under \u{201c}One-way supports\u{201d}."
        )
    })
}

fn weights(model: &Model) -> Option<Phrase> {
    let mut loads = model.cases.iter().flat_map(|case| &case.loads);
    let has_weight = loads.any(AppliedLoad::is_weight);
    has_weight.then(|| {
        let gravity = Quantity::new(wording::rounded(STANDARD_GRAVITY, 6), "m/s²");
        phrase!("Weights use standard gravity, ", gravity, ".")
    })
}

/// What the way of a free motion leaves out.
fn motions(report: &Report) -> Option<Phrase> {
    (!report.diagnosis().is_held()).then(|| {
        "Free motions are followed as if body, supports and ground could pass through one another.".into()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::Study;

    fn said(name: &str) -> String {
        let study = Study::open(name).unwrap();
        let report = Report {
            study: &study,
            case: None,
        };
        let mut blocks = Vec::new();
        assumptions(&report, &mut blocks);
        format!("{blocks:?}")
    }

    #[test]
    fn each_scene_has_the_assumptions_that_concern_it() {
        let hatch = said("roof-hatch");
        assert!(hatch.contains("transmit") && hatch.contains("no reaction couples"));
        assert!(hatch.contains("two-way (bilateral)"));
        assert!(!hatch.contains("friction"));
        let handrail = said("handrail");
        assert!(handrail.contains("9.80665"));
        assert!(!handrail.contains("bilateral") && !handrail.contains("transmit"));
        let passing = "pass through one another";
        assert!(handrail.contains(passing) && !hatch.contains(passing));
    }
}
