//! Uniform expansion: free or locked.

use sixhold::statics::{Heat, Model, ReactionMatrix, SupportIndex};

use super::{assert_close, deep, reaction, scene};

fn heated(text: &str) -> (Model, Heat) {
    let study = deep(&scene(text));
    (study.model().clone(), study.heat().clone())
}

fn beam(supports: &str) -> (Model, Heat) {
    heated(&format!(
        "space: planar, body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.1)], supports: [{supports}]"
    ))
}

const PIN: &str = r#"Pin(name: "A", at: (0, 0)),"#;

/// Between two pins a warm beam is pressed from both ends; with a roller at one end it slides.
#[test]
fn pin_pin_and_pin_roller() {
    let (_, free) = beam(&format!(
        "{PIN} Roller(name: \"B\", at: (2, 0), normal: (0, 1))"
    ));
    assert!(free.free && free.opposed.is_empty() && free.stress.iter().all(|x| *x == 0.0));
    let (model, locked) = beam(&format!("{PIN} Pin(name: \"B\", at: (2, 0))"));
    assert!(!locked.free && locked.unique);
    assert_eq!(locked.opposed, [0, 1].map(SupportIndex::new));
    assert_close(locked.stress[reaction(&model, "A_x")], 1.0, 1e-12);
    assert_close(locked.stress[reaction(&model, "B_x")], -1.0, 1e-12);
    assert_close(locked.stress[reaction(&model, "A_y")], 0.0, 1e-12);
    // The elongation of 2 m per unit strain is shared by two equal reactions.
    assert_close(locked.misfit, 2.0 / 2_f64.sqrt(), 1e-12);
}

/// The ground end of a link stays where it is: lengthwise it resists, across it does not.
#[test]
fn links_keep_their_ground_ends() {
    let (_, across) = beam(&format!(
        "{PIN} Link(name: \"L\", at: (2, 0), ground: (2, -1))"
    ));
    assert!(across.free);
    let (_, along) = beam(&format!(
        "{PIN} Link(name: \"L\", at: (2, 0), ground: (3, 0)), Roller(name: \"B\", at: (1, 0), normal: (0, 1))"
    ));
    assert!(!along.free);
    assert_eq!(
        along.opposed,
        [0, 1].map(SupportIndex::new),
        "the roller takes no part"
    );
}

/// Four slots that point at one centre let the body grow from there although one of them is redundant.
#[test]
fn redundant_and_yet_free() {
    let slots = |first: &str| {
        heated(&format!(
            r#"space: planar, body: [Block(centre: (0, 0), size: (2, 2, 0.1))],
            supports: [
                Slot(name: "a", at: (1, 0), along: {first}), Slot(name: "b", at: (0, 1), along: (0, 1)),
                Slot(name: "c", at: (-1, 0), along: (1, 0)), Slot(name: "d", at: (0, -1), along: (0, 1))]"#
        ))
        .1
    };
    assert!(slots("(1, 0)").free);
    assert!(!slots("(1, 1)").free);
}

/// A contact cannot be stretched: a body that would grow away from it loosens it.
#[test]
fn a_contact_comes_loose_instead() {
    let inside = r#"Roller(name: "B", at: (2, 0), normal: (-1, 0)), Slot(name: "S", at: (1, 0), along: (1, 0))"#;
    let (_, pressed) = beam(&format!("{PIN} {inside}"));
    assert!(!pressed.free && pressed.loosened.is_empty());
    let (model, loosened) = beam(&format!("{PIN} {}", inside.replace("(-1, 0)", "(1, 0)")));
    assert_eq!(loosened.loosened, [reaction(&model, "N_B")]);
}

/// The pattern is a self-stress, and what is left of the growth is a rigid motion.
#[test]
fn the_pattern_balances_itself() {
    let (model, heat) = heated(
        r#"body: [Block(centre: (0, 0, 0), size: (2, 2, 2))],
        supports: [BallJoint(name: "A", at: (1, 1, 0)), BallJoint(name: "B", at: (-1, 0.5, 0.3)),
            Hinge(name: "C", at: (0, -1, 1), axis: (1, 2, 0))]"#,
    );
    assert!(!heat.free && !heat.unique);
    let stress = nalgebra::DVector::from_column_slice(&heat.stress);
    assert!((ReactionMatrix::new(&model).entries() * stress).norm() < 1e-12);
}
