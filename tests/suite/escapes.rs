//! How bodies get away from contacts and cables, on random scenes: no support is broken on any way out.

use nalgebra::Isometry3;
use proptest::prelude::*;
use sixhold::motion::{Constraints, Selection, Sides};
use sixhold::scene::read_str;
use sixhold::statics::{CaseIndex, Sense};
use sixhold::study::Study;
use sixhold::wording;

/// Relative to the characteristic length: what rounding leaves of a support that is touched or held.
const KEPT: f64 = 1e-7;

/// Coordinates of two decimals.
fn place() -> impl Strategy<Value = [f64; 3]> {
    [-100..=100_i32, -100..=100, -100..=100].prop_map(|all| all.map(|x| f64::from(x) / 100.0))
}

fn triple([x, y, z]: [f64; 3]) -> String {
    format!("({x}, {y}, {z})")
}

fn pair([x, y, _]: [f64; 3]) -> String {
    format!("({x}, {y})")
}

/// A support of a kind at a place, with another place or direction of its own.
fn support(
    index: usize,
    kind: u8,
    at: [f64; 3],
    other: [f64; 3],
    write: fn([f64; 3]) -> String,
) -> String {
    let name = format!("S{index}");
    let (at, other) = (write(at), write(other));
    match kind {
        0 => format!("Link(name: \"{name}\", at: {at}, ground: {other})"),
        1 | 2 => format!("Cable(name: \"{name}\", at: {at}, ground: {other})"),
        3 => format!("RoughContact(name: \"{name}\", at: {at}, normal: {other})"),
        _ => format!("SmoothContact(name: \"{name}\", at: {at}, normal: {other})"),
    }
}

/// A block on up to nine links, cables and contacts, under one force; in the plane up to five.
fn scene() -> impl Strategy<Value = String> {
    let supports = proptest::collection::vec((0..7_u8, place(), place()), 2..=9);
    (any::<bool>(), supports, place(), place()).prop_map(|(planar, mut supports, at, force)| {
        let (space, write): (_, fn([f64; 3]) -> String) = match planar {
            true => ("planar", pair),
            false => ("spatial", triple),
        };
        if planar {
            supports.truncate(5);
        }
        let all = supports.into_iter().enumerate();
        let supports: Vec<String> = all
            .map(|(index, (kind, at, other))| support(index, kind, at, other, write))
            .collect();
        let middle = write([0.0; 3]);
        let block = match planar {
            true => format!("Block(centre: {middle}, size: (2, 2, 0.1))"),
            false => format!("Block(centre: {middle}, size: (2, 2, 2))"),
        };
        format!(
            "(format: 1, space: {space}, body: [{block}], supports: [{}], loads: [Force(at: {}, force: {})])",
            supports.join(", "),
            write(at),
            write(force)
        )
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    /// What is not carried is said, and is shown on a way that breaks no support and on which the load does work.
    #[test]
    fn no_way_out_breaks_a_support(text in scene()) {
        // Directions of length 0 and links between one point are refused.
        let Ok(study) = read_str("random", &text).map_err(drop).and_then(|read| Study::new(read.scene).map_err(drop)) else {
            return Ok(());
        };
        let (model, diagnosis) = (study.model(), study.diagnosis());
        let headline = wording::headline(model, diagnosis, study.uncarried());
        let start = match (diagnosis.is_held(), study.uncarried().is_empty()) {
            (true, true) => "Held: ",
            (true, false) => "Constrained, but this load is not carried: ",
            (false, _) => "Not held: ",
        };
        prop_assert!(headline.to_string().starts_with(start), "{headline}\n{text}");
        let Some(course) = study.course(Selection::Escape, CaseIndex::FIRST) else {
            let stuck = diagnosis.is_held() && !study.uncarried().is_empty();
            prop_assert!(!stuck, "no way out\n{text}");
            return Ok(());
        };
        prop_assert_eq!(course.sides(), Sides::Ahead);
        let load = model.cases[CaseIndex::FIRST].resultant(&model.reference);
        prop_assert!(course.motion.twist.power(&load) > 0.0, "{text}");
        let route = course.route.unwrap();
        let constraints = Constraints::new(model);
        let gaps = |pose: &Isometry3<f64>| constraints.residuals(pose);
        if !course.is_real() {
            return Ok(());
        }
        for step in 1..=20 {
            let pose = course.swung(f64::from(step) / 20.0, f64::INFINITY);
            let gaps = gaps(&pose);
            for ((index, reaction), gap) in model.reactions.enumerate().zip(gaps.iter()) {
                let support = &model.supports[reaction.support];
                // A contact that only touches at first may part as the body turns on: then it has no friction, either.
                let mut own = support.reactions.clone();
                let parted = own.any(|j| model.reactions[j].sense == Sense::Push && gaps[j.get()] > KEPT);
                let left = parted || route.leaves(support) || route.escape.sliding.contains(&index);
                match reaction.sense {
                    Sense::Both if !left => prop_assert!(gap.abs() < KEPT, "{} {gap}\n{text}", reaction.name),
                    Sense::Both => {}
                    _ => prop_assert!(*gap > -KEPT, "{} {gap}\n{text}", reaction.name),
                }
            }
        }
    }
}
