//! Reactions on elastic supports, against closed forms and the definition.

use proptest::prelude::*;
use sixhold::elastic::{Elastic, ElasticCase, ElasticReactions, StiffnessSource};
use sixhold::scene::{Scene, Space, Stiffness, SupportKind, SupportStiffness};
use sixhold::statics::{CaseIndex, Model, Reaction, ReactionIndex, ReactionKind, Sense};
use sixhold::study::Study;

use super::{assert_close, deep, reaction, scene};
use crate::invariance::families;

fn on_springs(text: &str) -> (Model, ElasticReactions) {
    let study = deep(&scene(text)).on_springs();
    let found = reactions(&study).expect("reactions are found").clone();
    (study.model().clone(), found)
}

fn reactions(study: &Study) -> Option<&ElasticReactions> {
    study.elastic()?.cases[CaseIndex::FIRST].reactions()
}

fn beam(supports: &str, x: f64) -> (Model, ElasticReactions) {
    on_springs(&format!(
        "space: planar, body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.1)],
        supports: [Slot(name: \"G\", at: (0, 0), along: (0, 1)), {supports}],
        loads: [Force(at: ({x}, 0), force: (0, -90))]"
    ))
}

/// A rigid beam on three springs: P (1/n + (x − m) (xᵢ − m) / Σ (x − m)²), the beam on an elastic foundation of three springs
/// (common practice, no source).
#[test]
fn three_equal_springs_share_as_a_rigid_foundation() {
    let slots = |more: &str| {
        ["A", "B", "C"]
            .into_iter()
            .enumerate()
            .map(|(x, name)| format!("Slot(name: \"{name}\", at: ({x}, 0), along: (1, 0){more}),"))
            .collect::<String>()
    };
    for more in ["", ", stiffness: 5e4"] {
        let (model, found) = beam(&slots(more), 1.2);
        for (x, name) in ["A_y", "B_y", "C_y"].into_iter().enumerate() {
            let expected = 90.0 * (1.0 / 3.0 + 0.2 * (x as f64 - 1.0) / 2.0);
            assert_close(found.values[reaction(&model, name)], expected, 1e-9);
        }
        // 90 N on three springs of 5e4 N/m, turned by 18 N·m over 2 m² of them; the slot of G has no say in it.
        if let Some(displacement) = &found.displacement {
            let middle = displacement.velocity_at(&[1.0, 0.0, 0.0].into(), &model.reference);
            assert_close(middle.y, -90.0 / 15e4, 1e-12);
            assert_close(displacement.angular.z, -18.0 / (5e4 * 2.0), 1e-12);
        }
        assert_eq!(found.displacement.is_some(), !more.is_empty());
    }
}

/// Under a load beyond them a beam on three rollers lifts off the first, and the others follow from equilibrium.
#[test]
fn what_would_have_to_pull_lifts_off() {
    let rollers: String = ["A", "B", "C"]
        .into_iter()
        .enumerate()
        .map(|(x, name)| format!("Roller(name: \"{name}\", at: ({x}, 0), normal: (0, 1)),"))
        .collect();
    let (model, found) = beam(&rollers, 1.8);
    let value = |name| found.values[reaction(&model, name)];
    assert_eq!(value("N_A"), 0.0);
    assert_close(value("N_B"), 18.0, 1e-9);
    assert_close(value("N_C"), 72.0, 1e-9);
    assert_eq!(found.open, [reaction(&model, "N_A")]);
}

/// A plate built in at its middle and held by a link: both turn it alike, so that they share the couple as their stiffnesses.
#[test]
fn a_couple_compares_with_forces_by_their_stiffnesses() {
    let (model, found) = on_springs(
        "space: planar, body: [Block(centre: (0, 0), size: (4, 1, 1))], supports: [
            Fixed(name: \"F\", at: (0, 0), stiffness: 1e9, rotational_stiffness: 300),
            Link(name: \"L\", at: (2, 0), ground: (2, 1), stiffness: 25)],
        loads: [Couple(moment: 40)]",
    );
    // The link has 25 N/m at 2 m: 100 N·m/rad against 300; the other end of its force is in the wall, which hardly gives.
    assert_close(found.values[reaction(&model, "M_F")], -30.0, 1e-4);
    assert_close(found.values[reaction(&model, "F_L")], -5.0, 1e-4);
    let turn = found.displacement.expect("stiffnesses are given").angular.z;
    assert_close(turn, 0.1, 1e-6);
}

/// A block between two rough floors, pushed up: it leaves the lower one, which then holds nothing along itself either.
#[test]
fn a_rough_contact_that_parts_holds_nothing() {
    let (model, found) = on_springs(
        "space: planar, body: [Block(centre: (0, 0), size: (2, 1, 2))], supports: [
            RoughContact(name: \"A\", at: (-1, -1), normal: (0, 1)), RoughContact(name: \"B\", at: (1, -1), normal: (0, 1)),
            RoughContact(name: \"C\", at: (-1, 1), normal: (0, -1)), RoughContact(name: \"D\", at: (1, 1), normal: (0, -1))],
        loads: [Force(at: (0, 1), force: (6, 60))]",
    );
    let value = |name| found.values[reaction(&model, name)];
    for open in ["N_A", "A_x", "N_B", "B_x"] {
        assert_eq!(value(open), 0.0, "{open}");
    }
    assert_close(value("N_C"), 30.0, 1e-9);
    assert_close(value("C_x"), -3.0, 1e-9);
    let coefficients: Vec<f64> = found.friction.iter().map(|(_, needed)| *needed).collect();
    assert_eq!(coefficients.len(), 2);
    coefficients
        .iter()
        .for_each(|needed| assert_close(*needed, 0.1, 1e-9));
}

/// Between two springs in a row a warmed bar is pressed by ε L / (1/k₁ + 1/k₂), and shorter it is pulled.
#[test]
fn a_warmed_bar_between_springs_is_pressed_as_both_give_way() {
    for (by, sign) in [(50.0, 1.0), (-50.0, -1.0)] {
        let (model, found) = on_springs(&format!(
            "space: planar, body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.1)],
            supports: [Pin(name: \"A\", at: (0, 0), stiffness: 2e6), Pin(name: \"B\", at: (2, 0), stiffness: 3e6)],
            imposed: [Warming(by: {by}, expansion: 1.2e-5)]"
        ));
        let force = sign * 1.2e-5 * 50.0 * 2.0 / (1.0 / 2e6 + 1.0 / 3e6);
        assert_close(found.values[reaction(&model, "A_x")], force, 1e-9);
        assert_close(found.values[reaction(&model, "B_x")], -force, 1e-9);
        assert_close(found.values[reaction(&model, "A_y")], 0.0, 1e-9);
        // Each end moves outwards by what its own spring gives.
        let (most, moved) = found.moved_most(&model).unwrap();
        assert_eq!(model.supports[most].name, "A");
        assert_close(moved.x, -force / 2e6, 1e-12);
    }
}

/// Of three equal springs under a beam the middle one sinks by s: it loses two thirds of k s, the others gain one third each; once
/// that is more than the load gives it, the beam spans it.
#[test]
fn a_settled_support_unloads_until_it_is_left() {
    let sunk = |by: f64| {
        let rollers: String = ["A", "B", "C"]
            .into_iter()
            .enumerate()
            .map(|(x, name)| {
                format!("Roller(name: \"{name}\", at: ({x}, 0), normal: (0, 1), stiffness: 1000),")
            })
            .collect();
        on_springs(&format!(
            "space: planar, body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.1)],
            supports: [{rollers} Slot(name: \"G\", at: (0, 0), along: (0, 1), stiffness: 1000)],
            loads: [Force(at: (1, 0), force: (0, -90))],
            imposed: [Settlement(support: \"B\", moves_by: (0, -{by}))]"
        ))
    };
    for (by, middle) in [(0.0, 30.0), (0.03, 10.0), (0.045, 0.0), (0.2, 0.0)] {
        let (model, found) = sunk(by);
        assert_close(found.values[reaction(&model, "N_B")], middle, 1e-9);
        let end = (90.0 - middle) / 2.0;
        assert_close(found.values[reaction(&model, "N_A")], end, 1e-9);
    }
    let (model, found) = sunk(0.2);
    assert_eq!(found.open, [reaction(&model, "N_B")]);
}

/// A prestressed bolt against the contact that it presses: it takes F_i + C F with C = k_b / (k_b + k_m), until the joint opens and
/// it takes all (Shigley, *Mechanical Engineering Design*, section 8-7; value from memory).
#[test]
fn a_tightened_bolt_takes_its_share_until_the_joint_opens() {
    for (load, bolt, contact) in [
        (0.0, 300.0, 300.0),
        (200.0, 350.0, 150.0),
        (600.0, 600.0, 0.0),
    ] {
        let (model, found) = on_springs(&format!(
            "space: planar, body: [Block(centre: (0, 0.5), size: (1, 1, 1))], supports: [
                Link(name: \"B\", at: (0, 0), ground: (0, -1), stiffness: 1e6),
                Roller(name: \"M\", at: (0, 0), normal: (0, 1), stiffness: 3e6),
                Slot(name: \"G\", at: (0, 0), along: (0, 1), stiffness: 1e6),
                Slot(name: \"H\", at: (0, 1), along: (0, 1), stiffness: 1e6)],
            loads: [Force(at: (0, 0.5), force: (0, {load}))],
            imposed: [Prestress(support: \"B\", force: 400)]"
        ));
        assert_close(found.values[reaction(&model, "F_B")], bolt, 1e-9);
        assert_close(found.values[reaction(&model, "N_M")], contact, 1e-9);
    }
}

/// Without stiffnesses in numbers a tightened cable has its force, and a settled support none that could be said.
#[test]
fn what_needs_stiffnesses_says_so() {
    let outcome = |imposed: &str| {
        let study = deep(&scene(&format!(
            "space: planar, body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.1)], supports: [
                Pin(name: \"A\", at: (0, 0)), Cable(name: \"B\", at: (2, 0), ground: (2, 1)),
                Cable(name: \"C\", at: (2, 0), ground: (2, -1))], imposed: [{imposed}]"
        )));
        study.elastic().expect("something is imposed").cases[CaseIndex::FIRST].clone()
    };
    let tightened = outcome("Prestress(support: \"B\", force: 80)");
    let values = &tightened.reactions().expect("ratios are enough").values;
    // The other cable is as stiff, and so is the pin at the other end: the beam turns, half of the prestress is left.
    assert_close(values[ReactionIndex::new(2)], 40.0, 1e-9);
    assert_close(values[ReactionIndex::new(3)], 40.0, 1e-9);
    let settled = outcome("Settlement(support: \"A\", moves_by: (0, 0.1))");
    assert!(matches!(settled, ElasticCase::NoStiffness));
}

#[test]
fn what_nobody_asks_for_is_not_there_and_what_is_not_carried_is_not_shared() {
    let text = "space: planar, body: [Block(centre: (0, 0), size: (2, 1, 1))],
        supports: [Roller(name: \"A\", at: (0, 0), normal: (0, 1))], loads: [Force(at: (0, 0), force: (0, 5))]";
    let study = deep(&scene(text));
    assert!(study.elastic().is_none());
    let study = study.on_springs();
    let cases = &study.elastic().unwrap().cases;
    assert!(matches!(cases[CaseIndex::FIRST], ElasticCase::NotCarried));
    let asked = deep(&scene(&format!("elastic: true, {text}")));
    assert!(asked.elastic().is_some() && asked.without(&[]).elastic().is_some());
}

/// A scene in which each support has its stiffnesses, from a list of powers of ten.
fn stiffened(mut scene: Scene, powers: &[i32]) -> Scene {
    let space = scene.space;
    let mut powers = powers.iter().cycle().map(|power| 10_f64.powi(*power));
    for support in &mut scene.supports {
        let [forces, couples] = support.kind.counts(space).map(|count| {
            let own: Vec<f64> = powers.by_ref().take(count).collect();
            (count > 0).then_some(Stiffness::Each(own))
        });
        support.stiffness = SupportStiffness { forces, couples };
    }
    scene
}

fn stiff_scenes() -> impl Strategy<Value = Scene> {
    let space = prop_oneof![
        families::scenes(Space::Spatial),
        families::scenes(Space::Planar)
    ];
    (space, proptest::collection::vec(-3i32..4, 1..9))
        .prop_map(|(scene, powers)| stiffened(scene, &powers))
}

fn has_rough_contacts(scene: &Scene) -> bool {
    let mut supports = scene.supports.iter();
    supports.any(|support| matches!(support.kind, SupportKind::RoughContact { .. }))
}

/// Whether a reaction would be along the surface of a rough contact that has parted.
fn is_let_go(model: &Model, found: &ElasticReactions, reaction: &Reaction) -> bool {
    let mut own = model.supports[reaction.support].reactions.clone();
    let push = own.find(|j| model.reactions[*j].sense == Sense::Push);
    push.is_some_and(|push| found.values[push] == 0.0)
}

/// The definition: forces balance the load, each is that of its spring at the displacement found, and contacts and cables that
/// give none are open. These conditions are sufficient, since the energy is convex (Karush, Kuhn & Tucker).
fn assert_is_that_of_springs(study: &Study, elastic: &Elastic, found: &ElasticReactions) {
    let model = study.model();
    let load = model.cases[CaseIndex::FIRST].resultant(&model.reference);
    let size = load.force.norm() + load.moment.norm() / model.length;
    let mut left = load;
    for (reaction, value) in model.reactions.iter().zip(&found.values) {
        let unit = reaction.wrench(&model.reference);
        left.force += unit.force * *value;
        left.moment += unit.moment * *value;
        assert!(
            reaction.sense == Sense::Both || *value >= 0.0,
            "{}",
            reaction.name
        );
    }
    let off = left.force.norm() + left.moment.norm() / model.length;
    assert!(off <= 1e-7 * size, "{off} of {size} is left");
    let Some(displacement) = &found.displacement else {
        return;
    };
    for (index, reaction) in model.reactions.enumerate() {
        let compression = -displacement.power(&reaction.wrench(&model.reference));
        let spring = elastic.stiffnesses.values[index] * compression;
        let expected = match reaction.sense {
            Sense::Both if is_let_go(model, found, reaction) => 0.0,
            Sense::Both => spring,
            Sense::Push | Sense::Pull => spring.max(0.0),
        };
        let reach = size * model.length.max(1.0);
        assert_close(
            found.values[index],
            expected,
            1e-6 * reach.max(expected.abs()),
        );
    }
}

proptest! {
    /// The scene's checks count the reactions that a kind supplies; the model lays them out.
    #[test]
    fn a_kind_supplies_as_many_reactions_as_it_counts(scene in stiff_scenes()) {
        let study = deep(&scene);
        let model = study.model();
        for (written, placed) in scene.supports.iter().zip(&model.supports) {
            let own = model.reactions.slice(&placed.reactions);
            let count = |kind| own.iter().filter(|reaction| reaction.kind == kind).count();
            let laid_out = [ReactionKind::Force, ReactionKind::Couple].map(count);
            prop_assert_eq!(laid_out, written.kind.counts(scene.space), "{:?}", written.kind);
        }
    }

    #[test]
    fn reactions_of_springs_meet_their_definition(scene in stiff_scenes()) {
        let study = deep(&scene);
        prop_assume!(!study.model().reactions.is_empty());
        let elastic = study.elastic().expect("stiffnesses are given");
        prop_assert_eq!(elastic.stiffnesses.source, StiffnessSource::Given);
        let case = &elastic.cases[CaseIndex::FIRST];
        let balanced = study.diagnosis().cases[CaseIndex::FIRST].is_balanced();
        let carried = study.one_way().map_or(balanced, |found| found.cases[CaseIndex::FIRST].is_carried());
        prop_assert_eq!(!matches!(case, ElasticCase::NotCarried), carried);
        match case.reactions() {
            Some(found) => assert_is_that_of_springs(&study, elastic, found),
            None => prop_assert!(!carried || has_rough_contacts(&scene), "not found"),
        }
    }
}
