//! Nearness: least movements of supports and largest reactions.

use nalgebra::{DMatrix, Vector3};
use proptest::prelude::*;
use sixhold::scene::{Coordinates, Direction, Place, Scene, Support, SupportKind};
use sixhold::statics::{Model, MotionKind, Placement, ReactionMatrix};

use super::{assert_close, deep, reaction, scene};

/// The estimate of random sets of links is within this factor of the certified bound.
const FACTOR: f64 = 10.0;

const BEAM: &str = r#"space: planar,
    body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.1)],
    supports: [Pin(name: "A", at: (0, 0)), Roller(name: "B", at: (2, 0), normal: (0, 1))]"#;

/// The roller's line must come to pass through the pin: 2 m for either alone, 1 m for each of both.
#[test]
fn a_beam_on_pin_and_roller() {
    let study = deep(&scene(BEAM));
    let depth = &study;
    let nearness = depth.nearness().unwrap();
    let movement = nearness.movement.as_ref().unwrap();
    assert_close(movement.bound, 2_f64.sqrt(), 1e-12);
    assert_close(movement.estimate, 2_f64.sqrt(), 1e-9);
    assert_close(movement.longest(), 1.0, 1e-9);
    for alone in &nearness.alone {
        let alone = alone.as_ref().unwrap();
        assert_close(alone.bound, 2.0, 1e-12);
        assert_close(alone.estimate.unwrap().norm(), 2.0, 1e-9);
    }
    assert_eq!(nearness.placement, None);
}

#[test]
fn placement_tolerance_is_weighed() {
    for (tolerance, expected) in [
        (0.5, Placement::Held),
        (0.999, Placement::Held),
        (1.001, Placement::NearImproper),
    ] {
        let text = format!("placement_tolerance: {tolerance}, {BEAM}");
        let study = deep(&scene(&text));
        let depth = &study;
        assert_eq!(
            depth.nearness().unwrap().placement,
            Some(expected),
            "{tolerance}"
        );
    }
    // In millimetres the same numbers are a thousandth.
    let text = format!("units: (length: mm), placement_tolerance: 1, {BEAM}");
    let study = deep(&scene(&text));
    let model = study.model();
    assert_eq!(model.placement_tolerance, Some(0.001));
}

#[test]
fn no_movement_frees_a_body_that_is_built_in() {
    let study = deep(&scene(
        r#"body: [Shaft(from: (0, 0, 0), to: (1, 0, 0), diameter: 0.1)],
        placement_tolerance: 5, supports: [Fixed(name: "A", at: (0, 0, 0))]"#,
    ));
    let depth = &study;
    let nearness = depth.nearness().unwrap();
    assert!(nearness.movement.is_none());
    assert_eq!(*nearness.alone, [None]);
    assert_eq!(nearness.placement, Some(Placement::Held));
}

/// Ball joint at A, ring at B without couples, link at C: free once the link meets the line AB, or B comes to A.
#[test]
fn a_ball_joint_moves_without_pitch() {
    let study = deep(&scene(
        r#"body: [BentBar(path: [(0, 0, 0), (2, 0, 0), (2, 0.3, 0)], diameter: 0.1)],
        supports: [
            BallJoint(name: "A", at: (0, 0, 0)),
            JournalBearing(name: "B", at: (2, 0, 0), axis: (1, 0, 0), couples: false),
            Link(name: "C", at: (2, 0.3, 0), ground: (2, 0.3, -1)),
        ]"#,
    ));
    let depth = &study;
    let nearness = depth.nearness().unwrap();
    let [a, b, c] = nearness.alone.as_slice()[..] else {
        panic!()
    };
    // The vertical through C meets the plane z = 0 at distance 0.3 from the line AB.
    assert_close(c.unwrap().estimate.unwrap().norm(), 0.3, 1e-9);
    // The line from A to B, moved, must meet the vertical through C: B to the line from A through (2, 0.3).
    assert_close(
        b.unwrap().estimate.unwrap().norm(),
        0.6 / 4.09_f64.sqrt(),
        1e-6,
    );
    let a = a.unwrap();
    assert!(
        a.estimate
            .is_none_or(|move_| move_.norm() >= a.bound * (1.0 - 1e-9))
    );
    let movement = nearness.movement.as_ref().unwrap();
    assert!(movement.estimate < 0.3 && movement.bound <= movement.estimate);
    assert!(a.estimate.is_some());
    // The freed motion is a rotation: a ball joint allows no other.
    assert_eq!(movement.freed.kind, MotionKind::Rotation);
}

/// Values of tests/cross_check/depth.py: constrained minimisation over twist and movements together.
#[test]
fn values_of_an_independent_minimisation() {
    let study = deep(&scene(SIX_LINKS));
    let depth = &study;
    let movement = depth.nearness().unwrap().movement.as_ref().unwrap();
    assert_close(movement.bound, SIX_LINKS_BOUND, 1e-8);
    assert_close(movement.estimate, SIX_LINKS_LEAST, 1e-6);
}

const SIX_LINKS: &str = r#"body: [Block(centre: (0, 0, 0), size: (2, 2, 0.2))],
    supports: [
        Link(name: "a", at: (1, 0.5, 0), ground: (1.5, 0.5, -1)),
        Link(name: "b", at: (-1, 0.5, 0), ground: (-1, 0.2, -1)),
        Link(name: "c", at: (0, -1, 0), ground: (0.3, -1, -1)),
        Link(name: "d", at: (1, 1, 0), ground: (1, 2, 0.1)),
        Link(name: "e", at: (-1, 1, 0), ground: (-1.2, 2, 0)),
        Link(name: "f", at: (-1, -1, 0), ground: (-2, -1, 0.4)),
    ]"#;
const SIX_LINKS_BOUND: f64 = 0.863_856_601_8;
const SIX_LINKS_LEAST: f64 = 1.103_970_575_4;

#[test]
fn amplification_is_what_its_load_calls_for() {
    let study = deep(&scene(BEAM));
    let model = study.model();
    let diagnosis = study.diagnosis();
    let depth = &study;
    let amplification = &depth.nearness().unwrap().amplification;
    // L = 1; a moment of 1 N·m calls for 0.5 N at B, a force for up to 1 N at A_x: the largest is along x.
    assert_close(amplification.factor, 1.0, 1e-12);
    assert_eq!(amplification.reaction, reaction(model, "A_x"));
    assert_close(amplification.load.force.x.abs(), 1.0, 1e-12);
    assert!(diagnosis.is_held());
}

fn grid() -> impl Strategy<Value = [f64; 3]> {
    [-8..=8, -8..=8, -8..=8].prop_map(|grid| grid.map(|x| f64::from(x) / 4.0))
}

fn link(name: usize, at: [f64; 3], along: [f64; 3]) -> Support {
    let ground = std::array::from_fn(|i| at[i] + along[i]);
    Support {
        name: format!("s{name}"),
        at: Place::At(Coordinates::Space(at)),
        kind: SupportKind::Link {
            ground: Place::At(Coordinates::Space(ground)),
        },
        stiffness: Default::default(),
        allowable: None,
    }
}

fn ring(name: usize, at: [f64; 3], axis: [f64; 3]) -> Support {
    Support {
        name: format!("s{name}"),
        at: Place::At(Coordinates::Space(at)),
        kind: SupportKind::JournalBearing {
            axis: Direction::Along(Coordinates::Space(axis)),
            couples: false,
        },
        stiffness: Default::default(),
        allowable: None,
    }
}

fn ball(name: usize, at: [f64; 3]) -> Support {
    Support {
        name: format!("s{name}"),
        at: Place::At(Coordinates::Space(at)),
        kind: SupportKind::BallJoint,
        stiffness: Default::default(),
        allowable: None,
    }
}

fn shifted(scene: &Scene, moves: &[Vector3<f64>]) -> Scene {
    let mut scene = scene.clone();
    for (support, step) in scene.supports.iter_mut().zip(moves) {
        let shift = |place: &mut Place| {
            if let Place::At(Coordinates::Space(at)) = place {
                *at = std::array::from_fn(|i| at[i] + step[i]);
            }
        };
        shift(&mut support.at);
        if let SupportKind::Link { ground } = &mut support.kind {
            shift(ground);
        }
    }
    scene
}

fn smallest(scene: &Scene) -> f64 {
    let model = Model::new(scene).unwrap();
    let matrix: DMatrix<f64> = ReactionMatrix::new(&model).entries().clone();
    *matrix
        .svd(false, false)
        .singular_values
        .as_slice()
        .last()
        .unwrap()
}

fn with_supports(supports: Vec<Support>) -> Scene {
    let mut scene = scene("body: [Block(centre: (0, 0, 0), size: (2, 2, 2))]");
    scene.supports = supports;
    scene
}

fn mixed() -> impl Strategy<Value = Vec<Support>> {
    let not_zero = |v: &[f64; 3]| v.iter().any(|x| *x != 0.0);
    let one = (
        grid(),
        grid().prop_filter("a direction has length", not_zero),
        0..8_usize,
    );
    proptest::collection::vec(one, 4..9).prop_map(|all| {
        let mut balls = 0;
        all.into_iter()
            .enumerate()
            .map(|(i, (at, along, kind))| match kind {
                0 if balls == 0 => {
                    balls += 1;
                    ball(i, at)
                }
                1 => ring(i, at, along),
                _ => link(i, at, along),
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn movements_found_let_the_body_go_and_smaller_ones_do_not(
        supports in mixed(),
        tries in proptest::collection::vec(proptest::collection::vec([-1.0..1.0, -1.0..1.0, -1.0..1.0_f64], 9), 3),
    ) {
        let scene = with_supports(supports);
        let study = deep(&scene);
        let model = study.model();
        let diagnosis = study.diagnosis();
        let depth = &study;
        prop_assume!(diagnosis.is_held());
        prop_assume!(diagnosis.numeric.singular_values[5] > 1e-3);
        let nearness = depth.nearness().unwrap();
        let Some(movement) = &nearness.movement else { return Ok(()) };
        // Mechanics: never below the plain bound of the whole matrix.
        prop_assert!(movement.bound >= model.length * nearness.smallest * (1.0 - 1e-9));
        prop_assert!(movement.bound <= movement.estimate);
        let total = movement.moves.iter().map(Vector3::norm_squared).sum::<f64>().sqrt();
        prop_assert!((total - movement.estimate).abs() <= 1e-9 * total);
        if total < 50.0 {
            let after = smallest(&shifted(&scene, &movement.moves));
            prop_assert!(after < 1e-6, "still held: {after} after {total}");
        }
        for step in tries {
            let step: Vec<Vector3<f64>> = step.into_iter().map(Vector3::from).collect();
            let size = step[..scene.supports.len()].iter().map(Vector3::norm_squared).sum::<f64>().sqrt();
            prop_assume!(size > 0.1);
            let step: Vec<_> = step.iter().map(|d| d * (0.999 * movement.bound / size)).collect();
            prop_assert!(deep(&shifted(&scene, &step)).diagnosis().is_held());
        }
        for (support, alone) in nearness.alone.iter().enumerate() {
            let Some(alone) = alone else { continue };
            // Moving one is a way of moving all.
            prop_assert!(alone.bound >= movement.bound * (1.0 - 1e-9));
            let Some(step) = alone.estimate else { continue };
            prop_assert!(step.norm() >= alone.bound * (1.0 - 1e-7), "{} {}", step.norm(), alone.bound);
            prop_assert!(step.norm() >= movement.estimate * (1.0 - 1e-3), "{} {}", step.norm(), movement.estimate);
            if step.norm() < 50.0 {
                let mut moves = vec![Vector3::zeros(); scene.supports.len()];
                moves[support] = step;
                let after = smallest(&shifted(&scene, &moves));
                prop_assert!(after < 1e-6, "{support} alone: {after}");
            }
        }
    }

    #[test]
    fn estimate_and_bound_agree_for_links(
        links in proptest::collection::vec((grid(), grid().prop_filter("length", |v| v.iter().any(|x| *x != 0.0))), 6..8)
    ) {
        let supports = links.into_iter().enumerate().map(|(i, (at, along))| link(i, at, along)).collect();
        let study = deep(&with_supports(supports));
        let diagnosis = study.diagnosis();
        let depth = &study;
        prop_assume!(diagnosis.is_held());
        let movement = depth.nearness().unwrap().movement.as_ref().unwrap();
        prop_assert!(movement.estimate <= FACTOR * movement.bound, "{} {}", movement.estimate, movement.bound);
    }
}

/// Built in, a body is held equally against all its motions; a beam on pin and roller against one least. (By hand.)
#[test]
fn motions_held_alike_are_counted() {
    let ties = |supports: &str| {
        let text = format!(
            "space: planar, body: [Block(centre: (0.5, 0), size: (1, 0.1, 0.1))], supports: [{supports}]"
        );
        let study = deep(&scene(&text));
        let model = study.model();
        let depth = &study;
        let nearness = depth.nearness().unwrap();
        let said = sixhold::wording::nearness(model, nearness)[0].clone();
        (nearness.equally, said)
    };
    let (all, said) = ties("Fixed(name: \"A\", at: (0, 0))");
    assert_eq!(all, 3);
    assert_eq!(
        said,
        "Equally well constrained against every motion; singular value 1, moments divided by 0.5 m."
    );
    let (one, said) =
        ties("Pin(name: \"A\", at: (0, 0)), Roller(name: \"B\", at: (1, 0), normal: (0, 1))");
    assert_eq!(one, 1);
    assert!(said.to_string().starts_with("Weakest against "), "{said}");
}
