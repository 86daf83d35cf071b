//! Words for bodies of bars that bend: on what they rest, what becomes of each load case, where a bar is hardest stressed.

use super::elastic::{friction, imposed};
use super::geometry::coordinates;
use super::leaving::leaves;
use super::name::{listed, symbols};
use super::number::{length, number, stress};
use super::phrase::{Phrase, phrase};
use crate::elastic::{BarFrame, FrameAnswer, FrameBar, FrameCase, SectionMeasure};
use crate::scene::Material;
use crate::statics::{CaseIndex, Model};

/// Heading of these reactions.
pub const BENDING: &str = "Flexible bars";

/// What these values rest on: `Here the bars bend, by the linear theory of slender bars, with Young's modulus …`.
pub fn bending_basis(model: &Model, material: &Material) -> Phrase {
    let units = &model.units;
    let pascals = units.force.in_newtons() / units.length.in_metres().powi(2);
    let modulus = |value: f64| stress(value * pascals, units);
    let shearing = match material.shear {
        true => "shear deformation included",
        false => "shear deformation neglected",
    };
    let given: Vec<_> = model.reactions.indices().collect();
    let is_given = |j: &_| model.reactions[*j].stiffness.is_some();
    let soft: Vec<_> = given.iter().copied().filter(is_given).collect();
    let supports = match soft.len() {
        0 => "supports are rigid".into(),
        all if all == given.len() => "supports are as stiff as the scene says".into(),
        _ => phrase!(
            "supports are rigid but for ",
            listed(&symbols(model, soft)),
            ", whose stiffness the scene gives"
        ),
    };
    phrase!(
        "The bars are taken as flexible, by the linear theory of slender bars, ",
        shearing,
        ". The results depend on Young\u{2019}s modulus, ",
        modulus(material.youngs_modulus),
        ", the shear modulus, ",
        modulus(material.shear_modulus),
        ", and the sections that the scene gives; ",
        supports,
        ". Displacements are assumed small, and buckling is not considered."
    )
}

/// What the dashed lines of a figure are: `The dashed lines show the deflected bars, magnified 50 times; the largest displacement is 3 mm.`
pub fn magnified(model: &Model, times: f64, farthest: f64) -> Phrase {
    phrase!(
        "The dashed lines show the deflected bars, magnified ",
        number(times),
        " times; the largest displacement is ",
        length(farthest, &model.units),
        "."
    )
}

/// What a bar is called, after its place among the body's shapes.
pub fn bar_name(bar: &FrameBar) -> Phrase {
    phrase!("Bar ", bar.shape + 1)
}

/// What becomes of a load case; `None` where the values say it all.
pub fn bending(
    model: &Model,
    frame: &BarFrame,
    index: CaseIndex,
    case: &FrameCase,
) -> Option<Phrase> {
    match case {
        FrameCase::Solved(answer) => {
            let parts = [
                imposed(model, index),
                leaves(model, &answer.reactions.open).map(Phrase::sentence),
                friction(model, &answer.reactions),
                hardest(model, frame, answer),
                farthest(model, frame, answer),
            ];
            let said: Vec<Phrase> = parts.into_iter().flatten().collect();
            (!said.is_empty()).then(|| Phrase::joined(said, " "))
        }
        FrameCase::NotCarried => Some(
            "The supports do not carry this load, whatever the stiffnesses.".into(),
        ),
        FrameCase::NoStiffness => Some(
            "A support is prestressed: how far that moves the bars depends on its stiffness, which the scene does not give.".into(),
        ),
        FrameCase::Undecided(reactions) => Some(phrase!(
            "The bars leave ",
            listed(&symbols(model, reactions.iter().copied())),
            " indeterminate: nothing between them can deform, so that their own stiffnesses matter, and the scene does not give them."
        )),
        FrameCase::Apart(bars) => {
            let names: Vec<Phrase> = bars.iter().map(|bar| bar_name(&frame.bars[*bar])).collect();
            Some(phrase!(
                "The bars are not connected: nothing joins ",
                listed(&names),
                ". Bars are joined where an end of one lies within another, and where the paths of both have a point at one place."
            ))
        }
        FrameCase::NotFound => Some(
            "No forces could be confirmed: rough contacts would have to hold along surfaces from which they part, or stiffnesses \
             lie too far apart."
                .into(),
        ),
    }
}

/// `The equivalent stress is largest in bar 1 at (0, 0, 0) m: 120 MPa, from …`; `None` without any stress.
fn hardest(model: &Model, frame: &BarFrame, answer: &FrameAnswer) -> Option<Phrase> {
    let most = frame.largest(answer, SectionMeasure::Stress)?;
    let found = most.section.stress(&frame.bars[most.bar].stiffness);
    let units = &model.units;
    let parts = (found.torsional > 0.0).then(|| {
        phrase!(
            ", from a normal stress of ",
            stress(found.normal, units),
            " and a shear stress of ",
            stress(found.torsional, units),
            " from torsion"
        )
    });
    (found.equivalent > 0.0).then(|| {
        phrase!(
            "The equivalent stress is largest in ",
            of_bar(frame, most.bar),
            " at ",
            coordinates(model, &most.section.point),
            ": ",
            stress(found.equivalent, units),
            parts,
            "."
        )
    })
}

/// `The bar moves farthest at (2, 0, 0) m, by 3 mm.`; `None` where nothing moves, or a motion is left free.
fn farthest(model: &Model, frame: &BarFrame, answer: &FrameAnswer) -> Option<Phrase> {
    let most = frame.largest(answer, SectionMeasure::Displacement)?;
    (most.value > 0.0).then(|| {
        phrase!(
            of_bar(frame, most.bar).capitalised(),
            " moves farthest at ",
            coordinates(model, &most.section.point),
            ", by ",
            length(most.value, &model.units),
            "."
        )
    })
}

fn of_bar(frame: &BarFrame, bar: usize) -> Phrase {
    match frame.bars.len() {
        1 => "the bar".into(),
        _ => phrase!("bar ", frame.bars[bar].shape + 1),
    }
}
