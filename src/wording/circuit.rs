//! Groups of reactions that equilibrium cannot separate, and the sums that it still decides.

use std::collections::BTreeSet;

use nalgebra::Vector3;

use super::geometry::line;
use super::name::{capitalised, count, counted, listed};
use super::number::{number, reaction_value};
use super::reason::common;
use crate::scene::Units;
use crate::statics::{
    Brace, Circuit, Combination, Equation, Listing, Model, Reaction, ReactionKind, Reason,
};
use crate::study::Study;

/// Why a group is one too many, and what is still known of it: `A_x and B_x act along the line through A and
/// B: only their sum is known.`
pub fn circuit(study: &Study, index: usize) -> String {
    let (model, circuit) = (study.model(), &study.circuits().circuits[index]);
    let known: Vec<&Combination> = study
        .known_of(index)
        .into_iter()
        .map(|i| &study.combinations()[i])
        .collect();
    let premise = match &circuit.brace {
        Some(brace) => bracing(model, circuit, brace),
        None => common(model, &circuit.reactions, &circuit.shape)
            .unwrap_or_else(|| at_large(model, circuit)),
    };
    format!(
        "{}: {}.",
        capitalised(&premise),
        still_known(circuit, &known)
    )
}

/// All groups in one sentence, where any few of some forces are one for the same reason: `Any four of F_A, F_B, F_C,
/// F_D and F_E pass through P: equilibrium cannot separate them.`
pub fn alike(study: &Study) -> Option<String> {
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
    let all: BTreeSet<usize> = circuits.iter().flat_map(|c| c.reactions.clone()).collect();
    let all: Vec<usize> = all.into_iter().collect();
    let forces = all
        .iter()
        .all(|i| model.reactions[*i].kind == ReactionKind::Force);
    let any = all.len() > size && circuits.len() == choices(all.len(), size);
    (same && spread && forces && any).then(|| {
        let premise = common(model, &all, &first.shape)?;
        let number = count(size);
        Some(format!(
            "Any {number} of {premise}: equilibrium cannot separate them."
        ))
    })?
}

/// Ways to choose some of a few.
fn choices(from: usize, some: usize) -> usize {
    (0..some).fold(1, |ways, step| ways * (from - step) / (step + 1))
}

fn names<'a>(model: &'a Model, circuit: &Circuit) -> Vec<&'a str> {
    let reactions = circuit.reactions.iter();
    reactions
        .map(|i| model.reactions[*i].name.as_str())
        .collect()
}

/// Two supports that work against each other.
fn bracing(model: &Model, circuit: &Circuit, brace: &Brace) -> String {
    let [one, other] = brace.supports.map(|i| model.supports[i].name.as_str());
    format!(
        "{} brace {one} against {other} along {}",
        listed(&names(model, circuit)),
        line(model, &brace.line.point, &brace.line.direction)
    )
}

/// A group without closer relation.
fn at_large(model: &Model, circuit: &Circuit) -> String {
    let names = names(model, circuit);
    let all_but_one = count(names.len() - 1);
    format!("any {all_but_one} of {} would do", listed(&names))
}

fn still_known(circuit: &Circuit, known: &[&Combination]) -> &'static str {
    let apart = known.len() + 1 == circuit.reactions.len();
    match (circuit.reactions.len(), known) {
        (2, [only]) if only.coefficients == [1.0, 1.0] => "only their sum is known",
        (2, [only]) if only.coefficients == [1.0, -1.0] => "only their difference is known",
        (2, [_]) => "only one combination of them is known",
        _ if apart => {
            "equilibrium cannot separate them, but any one of them would decide the others"
        }
        _ => "equilibrium cannot separate them",
    }
}

/// Terms of a combination that are written before the rest is only counted.
const MOST_TERMS: usize = 12;

/// A decided combination: `A_x + B_x`, `M_A + 4 m·B_y`, `moments about A: 2 m·B_y + 4 m·C_y`.
pub fn combination(model: &Model, combination: &Combination) -> String {
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
    let mut text = String::new();
    for (reaction, coefficient) in &terms[..written] {
        let arm = mixed && reaction.kind == ReactionKind::Force;
        text += match (text.is_empty(), *coefficient < 0.0) {
            (true, false) => "",
            (true, true) => "\u{2212}",
            (false, false) => " + ",
            (false, true) => " \u{2212} ",
        };
        text += &factor(coefficient.abs(), arm, &model.units);
        text += &reaction.name;
    }
    if written < terms.len() {
        text += &format!(" and {} more terms", terms.len() - written);
    }
    match combination.equation {
        Some(equation) if terms.len() > 2 => {
            format!("{}: {text}", self::equation(model, equation, mixed))
        }
        _ => text,
    }
}

/// What an equation of equilibrium is about: `along x`, `moments about A`, in space `about the line through A along z`.
fn equation(model: &Model, equation: Equation, is_moment: bool) -> String {
    match equation {
        Equation::Along(axis) => format!("along {}", AXES[axis]),
        Equation::About(point, axis) => {
            let along = Vector3::ith_axis(axis);
            let prefix = if is_moment { "moments " } else { "" };
            format!("{prefix}about {}", line(model, &point, &along))
        }
    }
}

const AXES: [&str; 3] = ["x", "y", "z"];

/// Its value in a load case: `12 N`; `None` where there is no equilibrium.
pub fn combination_value(model: &Model, combination: &Combination, case: usize) -> Option<String> {
    let value = combination.values.get(case).copied().flatten()?;
    Some(reaction_value(value, combination.kind, &model.units))
}

/// `` for 1, `0.5·`, and for the arm of a force `2 m·`.
fn factor(size: f64, arm: bool, units: &Units) -> String {
    if arm {
        let unit = units.length;
        return format!("{} {}·", number(size / unit.in_metres()), unit.symbol());
    }
    match number(size).as_str() {
        "1" => String::new(),
        other => format!("{other}·"),
    }
}

/// What the list of groups covers; nothing where it is empty.
pub fn listing(study: &Study) -> Option<String> {
    let number = study.circuits().circuits.len();
    if number == 0 {
        return None;
    }
    let groups = counted(number, "group");
    let independent = study.circuits().redundancy;
    Some(match study.circuits().listing {
        Listing::All => format!(
            "{} of reactions too many for equilibrium",
            capitalised(&groups)
        ),
        Listing::BasisOf(all) => format!(
            "{} of reactions too many for equilibrium, independent of each other, out of {all}",
            capitalised(&groups)
        ),
        Listing::Basis => format!(
            "{} of reactions too many for equilibrium, independent of each other, out of more that are not counted",
            capitalised(&groups)
        ),
        Listing::PartOfBasis => format!(
            "The first {number} of {independent} independent groups of reactions too many for equilibrium"
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
            "A_x and B_x act along the line through A and B: only their sum is known."
        );
        let sum = &found.combinations()[0];
        assert_eq!(combination(found.model(), sum), "A_x + B_x");
        assert_eq!(
            combination_value(found.model(), sum, 0).as_deref(),
            Some("0 N")
        );
        assert_eq!(
            listing(&found).as_deref(),
            Some("One group of reactions too many for equilibrium")
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
            alike(&found).as_deref(),
            Some(
                "Any four of r0, r1, r2, r3 and r4 pass through (0, 0, 0) m: equilibrium cannot separate them."
            )
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
             equilibrium cannot separate them, but any one of them would decide the others."
        );
        let said: Vec<String> = found
            .combinations()
            .iter()
            .map(|sum| {
                let value = combination_value(found.model(), sum, 0).unwrap();
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
            "A_x and B_x act along the line through A and B: only their sum is known."
        );
        let found = study(samples::slanted_ball_joints());
        assert_eq!(
            circuit(&found, 0),
            "A_x, A_y, A_z, B_x, B_y and B_z brace A against B along the line through A and B: \
             equilibrium cannot separate them, but any one of them would decide the others."
        );
    }

    #[test]
    fn nothing_to_spare_gives_no_groups() {
        let found = study(samples::simple_beam());
        assert_eq!(listing(&found), None);
        assert!(found.combinations().is_empty());
    }
}
