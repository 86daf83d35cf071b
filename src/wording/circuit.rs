//! Sets of redundant reactions that equilibrium cannot separate, and the sums of them that still follow from it.

use std::collections::BTreeSet;

use nalgebra::Vector3;

use super::geometry::line;
use super::name::{count, counted, listed, support, symbols};
use super::number::reaction_value;
use super::phrase::{AxisDirection, Phrase, phrase};
use super::reason::common;
use super::sum::{Sum, multiple};
use crate::statics::{
    CaseIndex, Circuit, Listing, Model, OpposedSupports, Reaction, ReactionCombination,
    ReactionIndex, ReactionKind, Reason, UsualEquation,
};
use crate::study::Study;

/// Why a group is one too many, and what is still known of it: `A_x and B_x act along the line through A and
/// B: only their sum follows from equilibrium.`
pub fn circuit(study: &Study, index: usize) -> Phrase {
    let (model, circuit) = (study.model(), &study.circuits().circuits[index]);
    let known: Vec<&ReactionCombination> = study
        .known_of(index)
        .into_iter()
        .map(|i| &study.combinations()[i])
        .collect();
    let premise = match &circuit.brace {
        Some(brace) => bracing(model, circuit, brace),
        None => common(model, &circuit.reactions, &circuit.shape)
            .unwrap_or_else(|| at_large(model, circuit)),
    };
    phrase!(
        premise.capitalised(),
        ": ",
        still_known(circuit, &known),
        "."
    )
}

/// All groups in one sentence, where any few of some forces are one for the same reason: `Any four of F_A, F_B, F_C,
/// F_D and F_E pass through P: equilibrium cannot separate them.`
pub fn alike(study: &Study) -> Option<Phrase> {
    let (model, circuits) = (study.model(), &study.circuits().circuits);
    let first = circuits
        .first()
        .filter(|_| study.circuits().listing == Listing::All)?;
    let size = first.reactions.len();
    let kind = std::mem::discriminant(&first.shape);
    let same = circuits.iter().all(|circuit| {
        circuit.reactions.len() == size && std::mem::discriminant(&circuit.shape) == kind
    });
    // Groups that share all but one of their lines share the point, the plane or the direction.
    let spread = matches!(
        first.shape,
        Reason::ThroughPoint(_) | Reason::InPlane(_) | Reason::Parallel(_)
    );
    let all: BTreeSet<ReactionIndex> = circuits.iter().flat_map(|c| c.reactions.clone()).collect();
    let all: Vec<ReactionIndex> = all.into_iter().collect();
    let forces = all
        .iter()
        .all(|i| model.reactions[*i].kind == ReactionKind::Force);
    let any = all.len() > size && circuits.len() == choices(all.len(), size);
    (same && spread && forces && any).then(|| {
        let premise = common(model, &all, &first.shape)?;
        let number = count(size);
        Some(phrase!(
            "Any ",
            number,
            " of ",
            premise,
            ": equilibrium cannot separate them."
        ))
    })?
}

/// Ways to choose some of a few.
fn choices(from: usize, some: usize) -> usize {
    (0..some).fold(1, |ways, step| ways * (from - step) / (step + 1))
}

fn names(model: &Model, circuit: &Circuit) -> Vec<Phrase> {
    symbols(model, circuit.reactions.iter().copied())
}

/// Two supports whose reactions can balance each other.
fn bracing(model: &Model, circuit: &Circuit, brace: &OpposedSupports) -> Phrase {
    let [one, other] = brace.supports.map(|i| support(model, i));
    phrase!(
        listed(&names(model, circuit)),
        " act between ",
        one,
        " and ",
        other,
        " along ",
        line(model, &brace.line.point, &brace.line.direction)
    )
}

/// A group without closer relation.
fn at_large(model: &Model, circuit: &Circuit) -> Phrase {
    let names = names(model, circuit);
    let all_but_one = count(names.len() - 1);
    phrase!(
        "any ",
        all_but_one,
        " of ",
        listed(&names),
        " would suffice"
    )
}

fn still_known(circuit: &Circuit, known: &[&ReactionCombination]) -> &'static str {
    let apart = known.len() + 1 == circuit.reactions.len();
    match (circuit.reactions.len(), known) {
        (2, [only]) if only.coefficients == [1.0, 1.0] => "only their sum follows from equilibrium",
        (2, [only]) if only.coefficients == [1.0, -1.0] => {
            "only their difference follows from equilibrium"
        }
        (2, [_]) => "only one combination of them follows from equilibrium",
        _ if apart => {
            "equilibrium cannot separate them, but if one were known, the others would follow"
        }
        _ => "equilibrium cannot separate them",
    }
}

/// Terms of a combination that are written before the rest is only counted.
const MOST_TERMS: usize = 12;

/// A decided combination: `A_x + B_x`, `M_A + 4 m·B_y`, `from moments about A: 2 m·B_y + 4 m·C_y`.
pub fn combination(model: &Model, combination: &ReactionCombination) -> Phrase {
    let mixed = combination.kind == ReactionKind::Couple;
    let mut terms: Vec<(&Reaction, f64)> = combination
        .reactions
        .iter()
        .map(|index| &model.reactions[*index])
        .zip(combination.coefficients.iter().copied())
        .collect();
    // Couples lead, since theirs is the first coefficient that is 1.
    terms.sort_by_key(|(reaction, _)| mixed && reaction.kind == ReactionKind::Force);
    let written = if terms.len() > MOST_TERMS {
        MOST_TERMS - 2
    } else {
        terms.len()
    };
    let mut sum = Sum::default();
    for (reaction, coefficient) in &terms[..written] {
        let is_arm = mixed && reaction.kind == ReactionKind::Force;
        let size = coefficient.abs();
        sum.add(*coefficient, multiple(size, is_arm, reaction, &model.units));
    }
    let mut text = sum.phrase();
    if written < terms.len() {
        text.push(phrase!(" and ", terms.len() - written, " more terms"));
    }
    match combination.equation {
        Some(equation) if terms.len() > 2 => {
            phrase!(self::equation(model, equation), ": ", text)
        }
        _ => text,
    }
}

/// Which equation of equilibrium gives it: `from forces along x`, `from moments about A`, in space `from moments about the line
/// through A parallel to z`.
fn equation(model: &Model, equation: UsualEquation) -> Phrase {
    match equation {
        UsualEquation::Along(axis) => phrase!("from forces along ", AxisDirection::positive(axis)),
        UsualEquation::About(point, axis) => {
            let along = Vector3::ith_axis(axis);
            phrase!("from moments about ", line(model, &point, &along))
        }
    }
}

/// Its value in a load case: `12 N`; `None` where there is no equilibrium.
pub fn combination_value(
    model: &Model,
    combination: &ReactionCombination,
    case: CaseIndex,
) -> Option<Phrase> {
    let value = combination.values.get(case).copied().flatten()?;
    Some(reaction_value(value, combination.kind, &model.units).into())
}

/// What the list of groups covers; nothing where it is empty.
pub fn listing(study: &Study) -> Option<Phrase> {
    let number = study.circuits().circuits.len();
    if number == 0 {
        return None;
    }
    let sets = |noun: &str| Phrase::from(counted(number, noun)).capitalised();
    let independent = study.circuits().redundancy;
    Some(match study.circuits().listing {
        Listing::All => phrase!(sets("set"), " of mutually redundant reactions"),
        Listing::BasisOf(all) => phrase!(
            sets("independent set"),
            " of mutually redundant reactions, out of ",
            all
        ),
        Listing::Basis => phrase!(
            sets("independent set"),
            " of mutually redundant reactions, out of more that were not counted"
        ),
        Listing::PartOfBasis => phrase!(
            "The first ",
            number,
            " of ",
            independent,
            " independent sets of mutually redundant reactions"
        ),
    })
}

#[cfg(test)]
mod tests {
    use super::super::samples::{self, study};
    use super::*;
    use crate::scene::Space;
    use crate::statics::testing::{Given, diagnosed};

    #[test]
    fn two_on_one_line_leave_their_sum() {
        let found = study(samples::two_beam_pins());
        assert_eq!(
            circuit(&found, 0),
            "A_x and B_x act along the line through A and B: only their sum follows from equilibrium."
        );
        let sum = &found.combinations()[0];
        assert_eq!(combination(found.model(), sum), "A_x + B_x");
        assert_eq!(
            combination_value(found.model(), sum, CaseIndex::FIRST).unwrap(),
            "0 N"
        );
        assert_eq!(
            listing(&found).unwrap(),
            "One set of mutually redundant reactions"
        );
    }

    /// Any four of five lines through one point; with the fifth turned aside no longer.
    #[test]
    fn groups_alike_are_told_at_once() {
        let five = |last: [f64; 3]| {
            let lines = [
                [1.0, 0.0, 0.0],
                [0.0, 1.0, 0.0],
                [0.0, 0.0, 1.0],
                [1.0, 1.0, 1.0],
            ];
            let mut given: Vec<Given> = lines.iter().map(|d| Given::Force(*d, *d)).collect();
            given.push(Given::Force([1.0, 2.0, 4.0], last));
            study(diagnosed(Space::Spatial, &given))
        };
        let found = five([1.0, 2.0, 4.0]);
        assert_eq!(
            alike(&found).unwrap(),
            "Any four of r0, r1, r2, r3 and r4 pass through (0, 0, 0) m: equilibrium cannot separate them."
        );
        let found = five([1.0, 2.0, 4.1]);
        assert_eq!(alike(&found), None);
    }

    #[test]
    fn a_propped_cantilever_leaves_two_combinations() {
        let found = study(samples::fixed_and_propped());
        assert_eq!(
            circuit(&found, 0),
            "A_y and N_B are parallel, and M_A is a couple: \
             equilibrium cannot separate them, but if one were known, the others would follow."
        );
        let said: Vec<String> = found
            .combinations()
            .iter()
            .map(|sum| {
                let value = combination_value(found.model(), sum, CaseIndex::FIRST).unwrap();
                format!("{} = {value}", combination(found.model(), sum))
            })
            .collect();
        assert_eq!(said, ["A_y + N_B = 12 N", "M_A + 2 m·N_B = 12 N·m"]);
    }

    #[test]
    fn two_joints_brace_against_each_other() {
        let found = study(samples::two_ball_joints());
        // The joints stand along x, so that only the forces along x are in the group.
        assert_eq!(
            circuit(&found, 0),
            "A_x and B_x act along the line through A and B: only their sum follows from equilibrium."
        );
        let found = study(samples::slanted_ball_joints());
        assert_eq!(
            circuit(&found, 0),
            "A_x, A_y, A_z, B_x, B_y and B_z act between A and B along the line through A and B: \
             equilibrium cannot separate them, but if one were known, the others would follow."
        );
    }

    #[test]
    fn nothing_to_spare_gives_no_groups() {
        let found = study(samples::simple_beam());
        assert_eq!(listing(&found), None);
        assert!(found.combinations().is_empty());
    }
}
