//! How far loads can grow, against closed forms and against the verdict at the ends.

use proptest::prelude::*;
use sixhold::scene::{Case, Scene, Space};
use sixhold::statics::{CaseIndex, LimitsOutcome, LoadLimits, Model, MotionKind};
use sixhold::study::Study;
use sixhold::wording;

use super::{assert_close, deep, reaction, scene};
use crate::invariance::families;

fn limited(text: &str) -> (Model, LoadLimits) {
    let study = deep(&scene(text));
    let found = study.load_limits()[CaseIndex::FIRST].as_ref();
    let limits = found.and_then(LimitsOutcome::limits).cloned();
    (study.model().clone(), limits.expect("it has limits"))
}

fn said(model: &Model, limits: &LoadLimits) -> String {
    wording::load_limits(model, &LimitsOutcome::Found(Box::new(limits.clone()))).to_string()
}

/// A cabinet under wind tips about its lee edge where F h = W b / 2, and against the wind about the other (the closed form of
/// tipping; common practice, no source).
#[test]
fn a_cabinet_tips_about_its_edge() {
    let (model, found) = limited(
        "space: planar, body: [Block(centre: (0.4, 1), size: (0.8, 0.5, 2))], supports: [
            RoughContact(name: \"A\", at: (0, 0), normal: (0, 1)), RoughContact(name: \"B\", at: (0.8, 0), normal: (0, 1))],
        loads: [Weight(mass: 50, gravity: 10)],
        cases: [(name: \"wind\", loads: [Force(at: (0, 1.6), force: (25, 0))])]",
    );
    // 500 N at 0.4 m against 25 N at 1.6 m.
    assert_close(found.most, 5.0, 1e-9);
    assert_close(found.least, -5.0, 1e-9);
    let escape = found.beyond.as_ref().expect("it tips");
    assert_eq!(escape.motion.kind, MotionKind::Rotation);
    assert_close(escape.motion.point.x, 0.8, 1e-9);
    assert_close(escape.motion.point.y, 0.0, 1e-9);
    assert_eq!(escape.loosened, [reaction(&model, "N_A")]);
    let said = said(&model, &found);
    assert!(
        said.starts_with(
            "Carried up to 5 times the loads of this case. Beyond that, nothing prevents "
        ),
        "{said}"
    );
}

/// A boom on a hinge whose cable goes slack under an upward pull of more than its own moment; a weight beside it only helps.
#[test]
fn a_cable_goes_slack() {
    let boom = |force: i32| {
        limited(&format!(
            "space: planar, body: [BentBar(path: [(0, 0), (3, 0)], diameter: 0.1)], supports: [
                Pin(name: \"H\", at: (0, 0)), Cable(name: \"C\", at: (2, 0), ground: (0, 2))],
            loads: [Weight(mass: 4, gravity: 10), Force(at: (3, 0), force: (0, {force}))]"
        ))
    };
    let (model, found) = boom(8);
    // 40 N at 1.5 m against 8 N at 3 m; the least factor has no bound.
    assert_close(found.most, 2.5, 1e-9);
    assert!(found.least == f64::NEG_INFINITY && found.below.is_none());
    assert_eq!(found.beyond.unwrap().loosened, [reaction(&model, "T_C")]);
    let (model, found) = boom(-8);
    assert!(found.most == f64::INFINITY && found.beyond.is_none());
    let said = said(&model, &found);
    assert_eq!(
        said,
        "Carried however large the loads other than weights become."
    );
}

/// A lid that falls by its own weight needs so much of a prop's push.
#[test]
fn some_loads_must_be_large_enough() {
    let (model, found) = limited(
        "space: planar, body: [BentBar(path: [(0, 0), (3, 0)], diameter: 0.1)], supports: [
            Pin(name: \"H\", at: (0, 0)), Roller(name: \"R\", at: (2, 0), normal: (0, -1))],
        loads: [Weight(mass: 4, gravity: 10)],
        cases: [(name: \"push\", loads: [Force(at: (3, 0), force: (0, 10))])]",
    );
    assert_close(found.least, 2.0, 1e-9);
    assert!(found.most.is_infinite() && found.below.is_some());
    let said = said(&model, &found);
    assert!(
        said.starts_with(
            "Carried from 2 times the loads of this case on, without limit. Below that, "
        ),
        "{said}"
    );
}

/// Some of a scene's loads in every case, the others in one.
fn in_cases(mut scene: Scene) -> Scene {
    let own = scene.loads.split_off(scene.loads.len() / 2);
    scene.cases = vec![Case {
        name: "own".to_owned(),
        loads: own,
        imposed: Vec::new(),
    }];
    scene
}

fn is_carried(scene: &Scene, factor: f64) -> bool {
    let mut scene = scene.clone();
    for load in &mut scene.cases[0].loads {
        families::scale(load, factor);
    }
    let study = Study::new(scene).expect("a valid scene");
    let one_way = study
        .one_way()
        .map(|found| found.cases[CaseIndex::FIRST].balance().is_some());
    one_way.unwrap_or_else(|| study.diagnosis().cases[CaseIndex::FIRST].is_balanced())
}

proptest! {
    #[test]
    fn loads_are_carried_within_the_limits_and_not_beyond(
        scene in prop_oneof![families::scenes(Space::Spatial), families::scenes(Space::Planar)].prop_map(in_cases)
    ) {
        use sixhold::scene::SupportKind;
        let is_rough = scene.supports.iter().any(|s| matches!(s.kind, SupportKind::RoughContact { .. }));
        // That friction of no coefficient is enough is another question.
        prop_assume!(!is_rough);
        let study = deep(&scene);
        let outcome = study.load_limits()[CaseIndex::FIRST].as_ref();
        let Some(found) = outcome.and_then(LimitsOutcome::limits) else {
            return Ok(());
        };
        let step = |end: f64| 1e-4 * end.abs().max(1.0);
        for (end, outwards) in [(found.most, 1.0), (found.least, -1.0)].into_iter().filter(|(end, _)| end.is_finite()) {
            prop_assert!(!is_carried(&scene, end + outwards * step(end)), "beyond {end}");
            let inside = end - outwards * step(end);
            if (found.least..=found.most).contains(&inside) {
                prop_assert!(is_carried(&scene, inside), "within {end}");
            }
        }
    }
}
