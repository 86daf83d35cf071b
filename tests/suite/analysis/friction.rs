//! Friction with a coefficient: what it carries, and at which load a body slides, against closed forms of textbooks.

use sixhold::statics::{CaseIndex, LimitsOutcome, LoadLimits, Model, OneWayCase, Overcome};
use sixhold::study::Study;
use sixhold::wording;

use super::{assert_close, deep, scene};

fn limits(study: &Study) -> &LoadLimits {
    let found = study.load_limits()[CaseIndex::FIRST].as_ref();
    found
        .and_then(LimitsOutcome::limits)
        .expect("it has limits")
}

fn names(model: &Model, supports: &[sixhold::statics::SupportIndex]) -> Vec<String> {
    let supports = supports.iter();
    supports
        .map(|support| model.supports[*support].name.clone())
        .collect()
}

fn answer(study: &Study) -> &OneWayCase {
    let one_way = study.one_way().expect("contacts push one way");
    &one_way.cases[CaseIndex::FIRST]
}

fn cabinet(friction: f64, wind: f64) -> Study {
    deep(&scene(&format!(
        "space: planar, body: [Block(centre: (0.4, 1), size: (0.8, 0.5, 2))], supports: [
            RoughContact(name: \"A\", at: (0, 0), normal: (0, 1), friction: {friction}),
            RoughContact(name: \"B\", at: (0.8, 0), normal: (0, 1), friction: {friction})],
        loads: [Weight(mass: 50, gravity: 10)],
        cases: [(name: \"wind\", loads: [Force(at: (0, 1.6), force: ({wind}, 0))])]"
    )))
}

/// A block pushed at height h slides at F = μ W or tips at F = W b / 2 h, whichever is less (Hibbeler, *Engineering Mechanics:
/// Statics*, section 8.2, from memory). Here b / 2 h = 0.25.
#[test]
fn a_cabinet_slides_on_a_smoother_floor_and_tips_on_a_rougher_one() {
    let smoother = cabinet(0.2, 25.0);
    let found = limits(&smoother);
    assert_close(found.most, 4.0, 1e-6);
    assert_close(found.least, -4.0, 1e-6);
    let onset = found.sliding_beyond.as_ref().expect("it slides");
    assert_eq!(names(smoother.model(), &onset.slides), ["A", "B"]);
    assert!(onset.opens.is_empty() && found.beyond.is_none());
    let said = wording::load_limits(
        smoother.model(),
        &LimitsOutcome::Found(Box::new(found.clone())),
    );
    assert_eq!(
        said.to_string(),
        "Carried up to 4 times the loads of this case. Beyond that, the friction given is overcome, and the body slides at A and B."
    );
    let rougher = cabinet(0.3, 25.0);
    let found = limits(&rougher);
    assert_close(found.most, 5.0, 1e-6);
    assert!(found.sliding_beyond.is_none() && found.beyond.is_some());
}

/// 100 N need a coefficient of 0.2, twice the 0.1 given.
#[test]
fn a_load_that_friction_does_not_carry_says_how_much_would() {
    assert!(answer(&cabinet(0.201, 100.0)).is_carried());
    let study = cabinet(0.1, 100.0);
    let OneWayCase::Slides(Overcome { needed, .. }) = answer(&study) else {
        panic!("{:?}", answer(&study));
    };
    assert_close(*needed, 2.0, 1e-5);
    let said = wording::one_way(study.model(), answer(&study)).to_string();
    assert_eq!(
        said,
        "This load is not carried: the friction given is overcome, and the body slides at A and B; 2 times the coefficients would just do."
    );
    assert_eq!(study.uncarried().len(), 1);
}

/// A uniform ladder on a floor with μ and against a wall with ν stands from `tan θ = (1 − μ ν) / 2 μ` on (Beer & Johnston, *Vector
/// Mechanics for Engineers: Statics*, problem on the ladder at both limits, from memory); its four reactions are statically indeterminate.
#[test]
fn a_ladder_stands_from_its_angle_on() {
    for (floor, wall) in [(0.4_f64, 0.3_f64), (0.3, 0.0), (0.25, 0.6)] {
        let least = ((1.0 - floor * wall) / (2.0 * floor)).atan();
        let stands = |angle: f64| {
            let (up, out) = (4.0 * angle.sin(), 4.0 * angle.cos());
            let study = deep(&scene(&format!(
                "space: planar, body: [BentBar(path: [(0, 0), ({out}, {up})], diameter: 0.05)], supports: [
                    RoughContact(name: \"F\", at: (0, 0), normal: (0, 1), friction: {floor}),
                    RoughContact(name: \"W\", at: ({out}, {up}), normal: (-1, 0), friction: {wall})],
                loads: [Weight(mass: 20)]"
            )));
            answer(&study).is_carried()
        };
        assert!(stands(least + 1e-4), "{floor} {wall}");
        assert!(!stands(least - 1e-4), "{floor} {wall}");
    }
}

/// A table on three feet, pulled at the floor in any direction through its centre: F = μ W, cones of friction being round.
#[test]
fn a_table_slides_in_every_direction_alike() {
    for angle in [0.0_f64, 0.4, 1.1, 2.5] {
        let (y, x) = angle.sin_cos();
        let feet = [("A", 0.0_f64), ("B", 120.0), ("C", 240.0)].map(|(name, degrees)| {
            let (v, u) = degrees.to_radians().sin_cos();
            format!("RoughContact(name: \"{name}\", at: ({u:?}, {v:?}, 0), normal: (0, 0, 1), friction: 0.35)")
        });
        let study = deep(&scene(&format!(
            "body: [Disc(centre: (0, 0, 0.5), axis: (0, 0, 1), diameter: 2, thickness: 1)], supports: [{}],
            loads: [Weight(mass: 30, at: (0, 0, 0.5), gravity: 10)],
            cases: [(name: \"pull\", loads: [Force(at: (0, 0, 0), force: ({x:?}, {y:?}, 0))])]",
            feet.join(", ")
        )));
        let found = limits(&study);
        assert_close(found.most, 0.35 * 300.0, 1e-4);
        let onset = found.sliding_beyond.as_ref().expect("it slides");
        assert_eq!(names(study.model(), &onset.slides), ["A", "B", "C"]);
    }
}

/// A contact without a coefficient holds without limit beside one that has it: a box against a stop of unlimited friction.
#[test]
fn friction_is_limited_only_where_the_scene_says_so() {
    let study = deep(&scene(
        "space: planar, body: [Block(centre: (0.4, 1), size: (0.8, 0.5, 2))], supports: [
            RoughContact(name: \"A\", at: (0, 0), normal: (0, 1), friction: 0.05),
            RoughContact(name: \"B\", at: (0.8, 0), normal: (0, 1))],
        loads: [Weight(mass: 50, gravity: 10)],
        cases: [(name: \"wind\", loads: [Force(at: (0, 1.6), force: (25, 0))])]",
    ));
    // It tips to both sides: what A does not hold B does, as long as it is not lifted.
    assert_close(limits(&study).most, 5.0, 1e-6);
    assert_close(limits(&study).least, -5.0, 1e-6);
}
