//! Words for what supports are loaded with beside what they may be loaded with.

use super::name::{listed, support};
use super::number::{Number, force, rounded};
use super::phrase::{Phrase, phrase};
use crate::design::{Design, DesignCase, Utilisation, UtilisationOutcome};
use crate::scene::Units;
use crate::statics::{CaseIndex, Model, SplitForce};

/// Heading of the utilisations.
pub const UTILISATION: &str = "Utilisation of the supports";

/// Heading of the smallest and largest reactions.
pub const ENVELOPE: &str = "Envelope of the reactions";

/// Significant digits of shares.
const DIGITS: i32 = 3;

/// What governs, of utilisations with the worst first: `B governs, with 0.83 of what is allowed, under “storm”.`
pub fn governing(model: &Model, found: &[Utilisation]) -> Option<Phrase> {
    let worst = found.first()?;
    let name = loaded(model, worst);
    let under = under(model, worst.case);
    Some(match worst.outcome {
        UtilisationOutcome::Known { share, .. } if share > 1.0 => phrase!(
            "More than is allowed: ",
            name,
            " governs, with ",
            utilisation(share),
            " times what is allowed",
            under,
            "."
        ),
        UtilisationOutcome::Known { share, .. } => phrase!(
            name,
            " governs, with ",
            utilisation(share),
            " of what is allowed",
            under,
            "."
        ),
        UtilisationOutcome::NotCarried => phrase!(
            "The load",
            under,
            " is not carried, whatever the supports may be loaded with."
        ),
        UtilisationOutcome::Unknown => phrase!(
            "The force at ",
            name,
            under,
            " is statically indeterminate: it follows only with stiffnesses, as of elastic supports."
        ),
    })
}

/// The name of a support, with the number of the anchor that is loaded most.
pub fn loaded(model: &Model, one: &Utilisation) -> Phrase {
    let anchor = one.anchor.map(|index| phrase!(", anchor ", index + 1));
    phrase!(support(model, one.support), anchor)
}

/// ` under “storm”`, where there are several cases.
fn under(model: &Model, case: CaseIndex) -> Option<Phrase> {
    let name = Phrase::name(&model.cases[case].name);
    (model.cases.len() > 1).then(|| phrase!(" under \u{201c}", name, "\u{201d}"))
}

/// A share of what is allowed.
pub fn utilisation(share: f64) -> Number {
    rounded(share, DIGITS)
}

/// A force along the line out of the ground: `500 N (T)` in tension, `500 N (C)` in compression.
pub fn normal_force(split: &SplitForce, units: &Units) -> Phrase {
    let state = match split.normal {
        push if push > 0.0 => Some(" (C)"),
        pull if pull < 0.0 => Some(" (T)"),
        _ => None,
    };
    phrase!(force(split.normal.abs(), units), state)
}

/// What shares mean: on whose word they rest, and how tension and shear act together.
pub const UTILISATION_KEY: &str = "Each support is shown under its governing load case. Share of what is allowed: ((N/N_a)^p + (V/V_a)^p)^(1/p), 1 at the limit, \
     with the allowable forces N_a and V_a and the exponent p that the scene gives; (T) tension, (C) compression.";

/// Load cases that have no values: `Left out: “storm”, which is not carried.`
pub fn left_out(model: &Model, design: &Design, cases: &[CaseIndex]) -> Option<Phrase> {
    let of = |wanted: fn(&DesignCase) -> bool, why: &'static str| {
        let cases = cases.iter().filter(|case| wanted(&design.cases[**case]));
        let names: Vec<Phrase> = cases
            .map(|case| {
                phrase!(
                    "\u{201c}",
                    Phrase::name(&model.cases[*case].name),
                    "\u{201d}"
                )
            })
            .collect();
        let verb = if names.len() == 1 { "is" } else { "are" };
        (!names.is_empty()).then(|| phrase!(listed(&names), ", which ", verb, why))
    };
    let parts = [
        of(
            |case| matches!(case, DesignCase::NotCarried),
            " not carried",
        ),
        of(
            |case| matches!(case, DesignCase::NotFound),
            " not solved on elastic supports",
        ),
    ];
    let parts: Vec<Phrase> = parts.into_iter().flatten().collect();
    (!parts.is_empty()).then(|| phrase!("Left out: ", Phrase::joined(parts, "; "), "."))
}

/// What acts on supports with allowable forces but is not limited: `Not limited in the scene, and so not compared: …`
pub fn unlimited(model: &Model, design: &Design, cases: &[CaseIndex]) -> Option<Phrase> {
    let supports = model.supports.indices();
    let parts = supports.flat_map(|index| {
        let parts = design.unlimited(model, index, cases.iter().copied());
        parts
            .into_iter()
            .map(move |part| phrase!(part, " at ", support(model, index)))
    });
    let parts: Vec<Phrase> = parts.collect();
    (!parts.is_empty()).then(|| {
        phrase!(
            "Not limited in the scene, and so not compared: ",
            listed(&parts),
            "."
        )
    })
}
