//! What spread loads count as in the equations: the area under their diagram, through its centroid.

use nalgebra::Unit;

use crate::document::{DocumentBlock, Formula};
use crate::statics::{CaseIndex, Model, Resultant, Spread};
use crate::wording::{self, Number, Operator, Phrase, phrase};

/// Densities whose ratio differs from one by less than this are equal.
const EVEN: f64 = 1e-9;

/// A sentence for each spread load of a case, numbered as the loads are, and an equation for each of its resultants.
pub(super) fn blocks(model: &Model, case: CaseIndex) -> Vec<DocumentBlock> {
    let loads = model.cases[case].loads.iter().enumerate();
    loads
        .flat_map(|(index, load)| told(model, index + 1, &load.resultants()))
        .collect()
}

fn told(model: &Model, number: usize, resultants: &[Resultant]) -> Vec<DocumentBlock> {
    let forces = || {
        let parts = resultants.iter();
        Phrase::joined(
            parts.map(|part| phrase!(place(model, part), ", ", way(model, part))),
            "; ",
        )
    };
    let is_bent = resultants.iter().any(is_triangle);
    let sentence = match resultants {
        [] => return Vec::new(),
        [_] => phrase!(
            "The distributed load ",
            number,
            " is equivalent to one force ",
            forces(),
            "."
        ),
        [_, _] if is_bent => phrase!(
            "The distributed load ",
            number,
            " is the sum of two that fall to zero at one end, equivalent to two forces: ",
            forces(),
            "."
        ),
        pieces => phrase!(
            "The distributed load ",
            number,
            " is equivalent to ",
            wording::count(pieces.len()),
            " forces, one for each straight piece: ",
            forces(),
            "."
        ),
    };
    let areas = resultants.iter().map(|resultant| DocumentBlock::Equation {
        label: String::new(),
        formula: total(model, resultant),
    });
    std::iter::once(DocumentBlock::Paragraph(sentence))
        .chain(areas)
        .collect()
}

fn is_triangle(resultant: &Resultant) -> bool {
    match resultant.spread {
        Spread::Along { densities, .. } => densities.contains(&0.0),
        Spread::Over { .. } => false,
    }
}

fn is_even([start, end]: [f64; 2]) -> bool {
    (start - end).abs() <= EVEN * start.max(end)
}

fn place(model: &Model, resultant: &Resultant) -> Phrase {
    let at = wording::coordinates(model, &resultant.at);
    match resultant.spread {
        Spread::Along { densities, .. } if is_even(densities) => {
            phrase!("in the middle of its segment, at ", at)
        }
        Spread::Along { .. } => phrase!("at the centroid of its diagram, ", at),
        Spread::Over { .. } => phrase!("at the centroid of its face, ", at),
    }
}

fn way(model: &Model, resultant: &Resultant) -> Phrase {
    let along = Unit::new_normalize(resultant.force);
    phrase!("along ", wording::signed_direction(model, &along))
}

/// The force as the equations have it: density times length or area.
fn total(model: &Model, resultant: &Resultant) -> Formula {
    let units = &model.units;
    let product = match resultant.spread {
        Spread::Along {
            densities,
            length_m,
        } => under_diagram(model, densities, length_m),
        Spread::Over {
            density, area_m2, ..
        } => phrase!(
            wording::pressure(density, units),
            Operator::Times,
            wording::area(area_m2, units)
        ),
    };
    Formula::equal(product, wording::force(resultant.force.norm(), units))
}

/// `200 N/m · 1.2 m`, `½ · 200 N/m · 1.2 m`, `½ · (100 N/m + 200 N/m) · 1.2 m`.
fn under_diagram(model: &Model, densities: [f64; 2], length_m: f64) -> Phrase {
    let units = &model.units;
    let [start, end] = densities.map(|size| wording::density(size, units));
    let half = || Number::from("½".to_owned());
    let height = match densities {
        ends if is_even(ends) => start.into(),
        [0.0, _] => phrase!(half(), Operator::Times, end),
        [_, 0.0] => phrase!(half(), Operator::Times, start),
        _ => phrase!(
            half(),
            Operator::Times,
            Operator::Open,
            start,
            Operator::Plus,
            end,
            Operator::Close
        ),
    };
    let length = wording::length(length_m, units);
    phrase!(height, Operator::Times, length)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;

    fn said(load: &str) -> Vec<String> {
        let text = format!(
            r#"(format: 1, title: "Sill", space: planar,
                body: [Block(centre: (1, 0), size: (2, 0.1, 0.1))],
                supports: [Pin(name: "A", at: (0, 0)), Roller(name: "B", at: (2, 0), normal: (0, 1))],
                loads: [Force(at: (1, 0), force: (0, -1)), {load}])"#
        );
        let model = Model::new(&read_str("sill", &text).unwrap().scene).unwrap();
        let texts = blocks(&model, CaseIndex::FIRST)
            .into_iter()
            .map(|block| match block {
                DocumentBlock::Paragraph(text) => text.to_string(),
                DocumentBlock::Equation { formula, .. } => formula.phrase().to_string(),
                other => panic!("{other:?}"),
            });
        texts.collect()
    }

    #[test]
    fn even_and_triangular_loads_count_as_one_force() {
        assert_eq!(
            said("Distributed(from: (0, 0), to: (1.2, 0), start: (0, -200))"),
            [
                "The distributed load 2 is equivalent to one force in the middle of its segment, at (0.6, 0) m, along −y.",
                "200 N/m·1.2 m = 240 N"
            ]
        );
        assert_eq!(
            said("Distributed(from: (0, 0), to: (1.2, 0), start: (0, 0), end: (0, -200))"),
            [
                "The distributed load 2 is equivalent to one force at the centroid of its diagram, (0.8, 0) m, along −y.",
                "½·200 N/m·1.2 m = 120 N"
            ]
        );
        let trapezium =
            said("Distributed(from: (0, 0), to: (1.2, 0), start: (0, -100), end: (0, -200))");
        assert_eq!(trapezium[1], "½·(100 N/m + 200 N/m)·1.2 m = 180 N");
    }

    #[test]
    fn a_load_that_turns_round_counts_as_two_forces() {
        let told = said("Distributed(from: (0, 0), to: (1.2, 0), start: (0, 100), end: (0, -200))");
        assert!(
            told[0].ends_with(
                "(0.4, 0) m, along y; at the centroid of its diagram, (0.8, 0) m, along −y."
            ),
            "{told:?}"
        );
        assert_eq!(
            told[1..],
            ["½·100 N/m·1.2 m = 60 N", "½·200 N/m·1.2 m = 120 N"]
        );
        assert!(said("Couple(moment: 3)").is_empty());
    }
}
