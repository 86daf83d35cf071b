//! Sets of redundant reactions and the combinations that are known, as sentences and as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::Report;
use super::reasons::{Geometry, kind_of};
use super::values::{ReactionWord, Triple, names, point, reaction_word, tidy};
use crate::indexed::Indices;
use crate::statics::{
    CaseIndex, Circuit, Listing, Model, ReactionCombination, ReactionIndex, ReactionKind,
    UsualEquation,
};
use crate::wording::{self, Operator, Phrase, phrase};

/// Sets that a reader is shown, and those with details; the JSON report has them all.
const SHOWN: usize = 2;
const SHOWN_IN_DETAIL: usize = 8;

fn shown(has_details: bool) -> usize {
    if has_details { SHOWN_IN_DETAIL } else { SHOWN }
}

/// How many sets have no sentence of their own, and of how many reactions these are.
pub(super) fn rest(report: &Report, has_details: bool) -> Option<Phrase> {
    if wording::alike(report.study).is_some() {
        return None;
    }
    // Smaller sets come first.
    let sets = report.study.circuits().circuits.get(shown(has_details)..)?;
    let [least, most] = [sets.first()?, sets.last()?].map(|circuit| circuit.reactions.len());
    let sizes = if least == most {
        wording::count(least)
    } else {
        format!("{} to {}", wording::count(least), wording::count(most))
    };
    let more = match has_details {
        true => "",
        false => "--details lists more of them, and ",
    };
    let (noun, each) = match sets.len() {
        1 => ("set", ""),
        _ => ("sets", "each "),
    };
    let count = Phrase::from(wording::count(sets.len())).capitalised();
    Some(phrase!(
        count,
        " more ",
        noun,
        ", ",
        each,
        "of ",
        sizes,
        " reactions: ",
        more,
        "the JSON report (sixhold check --format json) lists them all."
    ))
}

/// A sentence for each of the first sets, or one for all of them where they are alike.
pub(super) fn sentences(report: &Report, has_details: bool) -> Vec<Phrase> {
    let study = report.study;
    let number = study.circuits().circuits.len();
    match wording::alike(study) {
        Some(all) => vec![all],
        None => (0..number.min(shown(has_details)))
            .map(|index| wording::circuit(study, index))
            .collect(),
    }
}

/// The combinations that follow from equilibrium, with their values; none where no load case has an equilibrium.
pub(super) fn decided(report: &Report) -> Vec<Phrase> {
    let loaded = report.loaded_cases();
    let balanced = |case: &CaseIndex| report.diagnosis().cases[*case].is_balanced();
    if !loaded.is_empty() && !loaded.iter().any(balanced) {
        return Vec::new();
    }
    let sums = report.study.combinations().iter();
    sums.map(|sum| with_values(report, sum)).collect()
}

/// `A_x + B_x = 10 N`, or with a value for each load case.
fn with_values(report: &Report, sum: &ReactionCombination) -> Phrase {
    let model = report.model();
    let values: Vec<Phrase> = report
        .loaded_cases()
        .into_iter()
        .filter_map(|case| {
            let value = wording::combination_value(model, sum, case)?;
            let name = Phrase::name(&model.cases[case].name);
            let alone = model.cases.len() == 1;
            Some(if alone {
                value
            } else {
                phrase!(value, " (", name, ")")
            })
        })
        .collect();
    let text = wording::combination(model, sum);
    if values.is_empty() {
        text
    } else {
        phrase!(text, Operator::Equals, Phrase::joined(values, ", "))
    }
}

/// A minimal dependent group.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "circuit")]
pub(super) struct CircuitObject<'a> {
    reactions: Vec<&'a str>,
    /// a state of self-stress: forces in one unit of any size, couples in that unit times units.length
    #[schemars(with = "Vec<f64>")]
    coefficients: Vec<Option<f64>>,
    shape: Geometry,
    /// combinations of the set's own reactions that follow from equilibrium
    known: Vec<String>,
    words: String,
}

/// A combination of indeterminate reactions that follows from equilibrium.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "combination")]
pub(super) struct CombinationObject<'a> {
    reactions: Vec<&'a str>,
    /// without unit; of forces beside couples, arms: lengths
    #[schemars(with = "Vec<f64>")]
    coefficients: Vec<Option<f64>>,
    /// what its values are
    kind: ReactionWord,
    /// the usual equation of equilibrium that it is a multiple of, without the reactions that follow anyway; null for
    /// any other combination
    equation: Option<EquationObject>,
    /// in the order of `equilibrium`; null where there is no equilibrium
    values: Vec<Option<f64>>,
    words: String,
}

/// An equation of equilibrium: forces along an axis of the scene, or moments about a point.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "equation")]
struct EquationObject {
    kind: EquationWord,
    axis: AxisWord,
    /// that the moments are about; null for forces
    point: Option<Triple>,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
enum EquationWord {
    Forces,
    Moments,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
enum AxisWord {
    X,
    Y,
    Z,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
pub(super) enum Listed {
    All,
    Basis,
    PartOfBasis,
}

fn equation_object(model: &Model, equation: UsualEquation) -> EquationObject {
    let (kind, axis, at) = match equation {
        UsualEquation::Along(axis) => (EquationWord::Forces, axis, None),
        UsualEquation::About(at, axis) => (EquationWord::Moments, axis, Some(at)),
    };
    EquationObject {
        kind,
        axis: [AxisWord::X, AxisWord::Y, AxisWord::Z][axis],
        point: at.map(|at| point(model, &at)),
    }
}

pub(super) fn circuit_objects<'a>(report: &Report<'a>) -> Vec<CircuitObject<'a>> {
    let circuits = report.study.circuits().circuits.iter().enumerate();
    circuits
        .map(|(index, circuit)| CircuitObject {
            reactions: names(report.model(), &circuit.reactions),
            coefficients: stresses(report.model(), circuit),
            shape: kind_of(&circuit.shape),
            known: known(report, index),
            words: wording::circuit(report.study, index).to_string(),
        })
        .collect()
}

fn known(report: &Report, circuit: usize) -> Vec<String> {
    let known = report.study.known_of(circuit).into_iter();
    known
        .map(|i| wording::combination(report.model(), &report.study.combinations()[i]).to_string())
        .collect()
}

fn stresses(model: &Model, circuit: &Circuit) -> Vec<Option<f64>> {
    let metres = model.units.length.in_metres();
    let kinds = circuit.reactions.iter().map(|i| model.reactions[*i].kind);
    let any_force = kinds.clone().any(|kind| kind == ReactionKind::Force);
    kinds
        .zip(&circuit.coefficients)
        .map(|(kind, x)| match kind {
            ReactionKind::Couple if any_force => tidy(x / metres),
            _ => tidy(*x),
        })
        .collect()
}

/// How the circuits are listed.
pub(super) fn listed(report: &Report) -> Listed {
    match report.study.circuits().listing {
        Listing::All => Listed::All,
        Listing::BasisOf(_) | Listing::Basis => Listed::Basis,
        Listing::PartOfBasis => Listed::PartOfBasis,
    }
}

/// How many circuits there are, where that is known.
pub(super) fn count(report: &Report) -> Option<usize> {
    match report.study.circuits().listing {
        Listing::All => Some(report.study.circuits().circuits.len()),
        Listing::BasisOf(all) => Some(all),
        Listing::Basis | Listing::PartOfBasis => None,
    }
}

pub(super) fn combination_objects<'a>(report: &Report<'a>) -> Vec<CombinationObject<'a>> {
    let sums = report.study.combinations().iter();
    sums.map(|sum| combination_object(report, sum)).collect()
}

fn combination_object<'a>(report: &Report<'a>, sum: &ReactionCombination) -> CombinationObject<'a> {
    let (model, units) = (report.model(), &report.model().units);
    let is_couple = sum.kind == ReactionKind::Couple;
    let unit = if is_couple {
        units.moment_in_newton_metres()
    } else {
        units.force.in_newtons()
    };
    let coefficient = |(i, c): (&ReactionIndex, &f64)| {
        let arm = is_couple && model.reactions[*i].kind == ReactionKind::Force;
        tidy(if arm {
            c / units.length.in_metres()
        } else {
            *c
        })
    };
    let value = |value: &Option<f64>| value.and_then(|value| tidy(value / unit));
    let reported = match report.case {
        Some(case) => sum.values.slice(&Indices::only(case)),
        None => &sum.values,
    };
    CombinationObject {
        reactions: names(model, &sum.reactions),
        coefficients: sum
            .reactions
            .iter()
            .zip(&sum.coefficients)
            .map(coefficient)
            .collect(),
        kind: reaction_word(sum.kind),
        equation: sum
            .equation
            .map(|equation| equation_object(model, equation)),
        values: reported.iter().map(value).collect(),
        words: wording::combination(model, sum).to_string(),
    }
}
