//! Words for reactions on elastic supports: what stiffnesses they rest on, what lets go, how far the body gives way.

use nalgebra::Vector3;

use super::leaving::leaves;
use super::name::{listed, listed_briefly, support, symbols};
use super::number::{Number, Quantity, angle, force, length, number, rounded};
use super::phrase::{Phrase, phrase};
use crate::elastic::{Elastic, ElasticCase, ElasticReactions, StiffnessSource, Stiffnesses};
use crate::scene::Units;
use crate::statics::{CaseIndex, ImposedAction, Model, Reaction, ReactionKind};

/// Heading of these reactions.
pub const ELASTIC: &str = "Reactions on elastic supports";

/// Significant digits of coefficients of friction.
const DIGITS: i32 = 3;

/// What these reactions rest on: `Stiffnesses decide what equilibrium leaves open. None is given: …`
pub fn elastic_basis(model: &Model, elastic: &Elastic) -> Phrase {
    let stiffnesses = &elastic.stiffnesses;
    let assumed = match stiffnesses.source {
        StiffnessSource::Equal => equal(model),
        StiffnessSource::Given => "they are those that the scene gives".into(),
        StiffnessSource::PartlyGiven => partly(model, stiffnesses),
    };
    phrase!(
        "The body is taken as rigid, each reaction as a linear spring between it and the ground: what equilibrium leaves open \
         depends on the stiffnesses. Here ",
        assumed,
        "."
    )
}

fn has_couples(model: &Model) -> bool {
    let mut reactions = model.reactions.iter();
    reactions.any(|reaction| reaction.kind == ReactionKind::Couple)
}

/// `at the characteristic length L = 0.5 m`.
fn at_length(model: &Model) -> Phrase {
    let length = length(model.length, &model.units);
    phrase!("at the characteristic length, ", length)
}

fn equal(model: &Model) -> Phrase {
    let couples = has_couples(model)
        .then(|| phrase!(", couples as stiff as such a force ", at_length(model)));
    phrase!(
        "the scene gives none: all reactions are taken as equally stiff",
        couples
    )
}

fn partly(model: &Model, stiffnesses: &Stiffnesses) -> Phrase {
    let names = symbols(model, stiffnesses.assumed.iter().copied());
    let couples = has_couples(model).then(|| {
        phrase!(
            ", couples as stiff as such a force ",
            at_length(model),
            ", or as a force of their own support where that has a stiffness"
        )
    });
    phrase!(
        "the scene gives them, except for ",
        listed_briefly(&names),
        ": these are taken to be as stiff as the stiffest given",
        couples
    )
}

/// Whether stiffnesses change anything, as a sentence; `None` where they do.
pub fn elastic_is_idle(redundancy: usize) -> Option<&'static str> {
    (redundancy == 0).then_some(
        "No reaction is redundant: equilibrium alone gives all of them, whatever the stiffnesses.",
    )
}

/// What becomes of a load case on elastic supports; `None` where the values say it all.
pub fn elastic(model: &Model, index: CaseIndex, case: &ElasticCase) -> Option<Phrase> {
    match case {
        ElasticCase::Solved(reactions) => {
            let parts = [
                imposed(model, index),
                leaves(model, &reactions.open).map(Phrase::sentence),
                friction(model, reactions),
                giving(model, reactions),
            ];
            let said: Vec<Phrase> = parts.into_iter().flatten().collect();
            (!said.is_empty()).then(|| Phrase::joined(said, " "))
        }
        ElasticCase::NotCarried => {
            Some("The supports do not carry this load, however stiff they are.".into())
        }
        ElasticCase::NoStiffness => Some(
            "A support moves or the body changes its temperature: the forces from that depend on stiffnesses in numbers, and the \
             scene gives none."
                .into(),
        ),
        ElasticCase::NotFound => Some(
            "No spring reactions could be confirmed: rough contacts would have to hold along surfaces from which they part, \
             or the stiffnesses lie too far apart."
                .into(),
        ),
    }
}

/// `Included: B moves by (0, −2) mm, and the body expands by 0.036 %.`; `None` without anything imposed.
pub(super) fn imposed(model: &Model, case: CaseIndex) -> Option<Phrase> {
    let said = |action: &ImposedAction| match action {
        ImposedAction::Settlement { support: of, by } => phrase!(
            "the ground of ",
            support(model, *of),
            " moves by ",
            shift(model, by)
        ),
        ImposedAction::Prestress {
            support: of,
            force: to,
        } => phrase!(
            support(model, *of),
            " is tightened to ",
            force(*to, &model.units),
            " before it is loaded"
        ),
        ImposedAction::Expansion { strain } => phrase!(
            "the body ",
            if *strain < 0.0 { "shrinks" } else { "expands" },
            " by ",
            Quantity::new(number(100.0 * strain.abs()), "%")
        ),
    };
    let all: Vec<Phrase> = model.cases[case].imposed.iter().map(said).collect();
    (!all.is_empty()).then(|| phrase!("Included: ", listed(&all), "."))
}

/// A displacement along each axis of the scene.
fn shift(model: &Model, by: &Vector3<f64>) -> Quantity {
    let unit = model.units.length;
    let axes = by.iter().take(model.space.axes());
    let numbers = axes.map(|along| number(along / unit.in_metres()));
    Quantity::vector(numbers.collect(), unit.symbol())
}

/// `The coefficient of friction must be at least 0.3 at A and 0.2 at B.`
pub(super) fn friction(model: &Model, reactions: &ElasticReactions) -> Option<Phrase> {
    let needed = reactions.friction.iter();
    let needed: Vec<Phrase> = needed
        .map(|(contact, coefficient)| {
            let coefficient = rounded(*coefficient, DIGITS);
            phrase!(coefficient, " at ", support(model, *contact))
        })
        .collect();
    (!needed.is_empty()).then(|| {
        phrase!(
            "With these reactions the coefficient of friction must be at least ",
            listed(&needed),
            "."
        )
    })
}

/// `Of the supported points B moves most, by 0.3 mm; the body rotates by 0.02°.`
fn giving(model: &Model, reactions: &ElasticReactions) -> Option<Phrase> {
    let displacement = reactions.displacement.as_ref()?;
    let (most, by) = reactions.moved_most(model)?;
    let turn = displacement.angular.norm();
    let turn = (turn > 0.0).then(|| phrase!("; the body rotates by ", angle(turn)));
    Some(phrase!(
        "Of the supported points ",
        support(model, most),
        " moves most, by ",
        length(by.norm(), &model.units),
        turn,
        "."
    ))
}

/// The stiffness of a reaction given in SI units, in the scene's: `2×10⁶ N/m`, `30 N·m/rad`.
pub fn stiffness(reaction: &Reaction, value: f64, units: &Units) -> Quantity {
    let (value, unit) = match reaction.kind {
        ReactionKind::Force => {
            let per = units.force.in_newtons() / units.length.in_metres();
            let unit = format!("{}/{}", units.force.symbol(), units.length.symbol());
            (value / per, unit)
        }
        ReactionKind::Couple => {
            let per = units.moment_in_newton_metres();
            (value / per, format!("{}/rad", units.moment_symbol()))
        }
    };
    let number: Number = number(value);
    Quantity::new(number, unit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;
    use crate::study::Study;

    /// A shelf on three springs under a load beyond the last of them: the first would have to pull.
    fn shelf(supports: &str) -> Study {
        let text = format!(
            "(format: 1, space: planar, units: (length: mm), body: [Block(centre: (100, 0), size: (200, 10, 10))],
            supports: [{supports}], loads: [Force(at: (180, 0), force: (0, -90))])"
        );
        Study::new(read_str("shelf", &text).unwrap().scene).unwrap()
    }

    fn said(study: &Study) -> [String; 2] {
        let elastic_reactions = study.elastic().unwrap();
        let model = study.model();
        let case = elastic(
            model,
            CaseIndex::FIRST,
            &elastic_reactions.cases[CaseIndex::FIRST],
        );
        [
            elastic_basis(model, elastic_reactions).to_string(),
            case.map_or_else(String::new, |said| said.to_string()),
        ]
    }

    #[test]
    fn what_is_assumed_and_what_lets_go_is_said() {
        let roller = |name, x| format!("Roller(name: \"{name}\", at: ({x}, 0), normal: (0, 1))");
        let rollers = [("A", 0), ("B", 100), ("C", 200)].map(|(name, x)| roller(name, x));
        let equal = shelf(&format!(
            "{}, Slot(name: \"S\", at: (0, 0), along: (0, 1))",
            rollers.join(", ")
        ));
        let [basis, case] = said(&equal.on_springs());
        assert!(
            basis.ends_with("Here the scene gives none: all reactions are taken as equally stiff.")
        );
        assert_eq!(case, "Contact is lost at A.");
        let partly = shelf(
            "Fixed(name: \"A\", at: (0, 0), stiffness: (100, 50)), Link(name: \"L\", at: (200, 0), ground: (200, 50))",
        );
        let [basis, case] = said(&partly);
        assert!(
            basis.contains("except for M_A and F_L: these are taken to be as stiff as the stiffest given, couples"),
            "{basis}"
        );
        assert!(
            case.starts_with("Of the supported points L moves most, by "),
            "{case}"
        );
        let [k, turning] = [0, 2].map(|index| {
            let (model, found) = (partly.model(), partly.elastic().unwrap());
            let j = crate::statics::ReactionIndex::new(index);
            stiffness(
                &model.reactions[j],
                found.stiffnesses.values[j],
                &model.units,
            )
            .to_string()
        });
        assert_eq!(k, "100 N/mm");
        // Both supports lie 100 mm from the middle between them.
        assert_eq!(turning, "1000000 N·mm/rad");
    }
}
