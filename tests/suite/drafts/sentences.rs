//! Sentences whose parts can be changed.

use sixhold::draft::{Field, Proposal, SceneItem, SentencePart, sentence, words};
use sixhold::scene::{Scene, builtin, read_str, to_ron};

const GATE: &str = r#"(format: 1, points: {"B": (1.5, 0, 0)}, body: [
    BentBar(path: [(0, 0, 0), "B"], diameter: 0.05), Block(centre: (0, 0, 1), size: (0.1, 0.2, 0.3))],
    supports: [Hinge(name: "A", at: (0, 0.15, 0), axis: (0, 1, 0), couples: false), Cable(name: "C", at: "B", ground: (0, 0, 1)),
        RailWheel(name: "D", at: (0, 0, 0), rail: (1, 1, 0), normal: (0, 0, -1)), Fixed(name: "E", at: (0, 0, 0))],
    loads: [Force(at: "B", force: (0, -250, 0)), Force(at: "B", size: 300, direction: Towards((0, 0, 2))), Couple(moment: (0, 0, 10)),
        Distributed(from: (0, 0, 0), to: "B", start: (0, 0, -100), end: (0, 0, 0)), Weight(mass: 14)])"#;

fn gate() -> Scene {
    read_str("gate", GATE).expect("a scene").scene
}

fn said(thing: SceneItem) -> String {
    words(&sentence(&gate(), thing))
}

fn load(index: usize) -> SceneItem {
    SceneItem::Load(sixhold::draft::LoadId { case: None, index })
}

#[test]
fn things_are_said_in_a_sentence() {
    let supports = [
        "A is a hinge at (0, 0.15, 0) m, axis along y, without couples",
        "C is a cable at B, to (0, 0, 1) m",
        "D is a wheel on a rail at (0, 0, 0) m, rail along (1, 1, 0), normal along \u{2212}z",
        "E is a fixed support at (0, 0, 0) m",
    ];
    for (index, expected) in supports.into_iter().enumerate() {
        assert_eq!(said(SceneItem::Support(index)), expected);
    }
    let loads = [
        "The force at B is (0, \u{2212}250, 0) N",
        "The force at B is 300 N, towards (0, 0, 2) m",
        "The couple is (0, 0, 10) N·m",
        "The distributed load from (0, 0, 0) m to B is (0, 0, \u{2212}100) N/m and then (0, 0, 0) N/m",
        "The weight is that of 14 kg",
    ];
    for (index, expected) in loads.into_iter().enumerate() {
        assert_eq!(said(load(index)), expected);
    }
    assert_eq!(said(SceneItem::Point(0)), "Point B is at (1.5, 0, 0) m");
    assert_eq!(
        said(SceneItem::Shape(0)),
        "The bent bar runs from (0, 0, 0) m to B; diameter 0.05 m"
    );
    assert_eq!(
        said(SceneItem::Shape(1)),
        "The block is centred at (0, 0, 1) m, lengthwise along x, upright along z; length 0.1 m; depth 0.2 m; height 0.3 m"
    );
    assert!(sentence(&gate(), SceneItem::Support(9)).is_empty());
}

fn fields(scene: &Scene, thing: SceneItem) -> Vec<Field> {
    let parts = sentence(scene, thing).into_iter();
    parts
        .filter_map(|part| match part {
            SentencePart::Field(field, _) => Some(field),
            SentencePart::Words(_) => None,
        })
        .collect()
}

/// Every field of every thing of every built-in scene takes what it says now, and changes nothing then.
#[test]
fn every_field_takes_what_it_says() {
    let scenes = builtin::all().iter().map(|built_in| built_in.text);
    let mut typed = 0;
    for text in scenes.chain([GATE]) {
        let scene = read_str("scene", text).expect("a scene").scene;
        for thing in SceneItem::all(&scene) {
            for field in fields(&scene, thing) {
                let choices = field.choices(&scene);
                if !choices.is_empty() {
                    assert_eq!(
                        choices.iter().filter(|choice| choice.chosen).count(),
                        1,
                        "{field:?}"
                    );
                    continue;
                }
                let says = field.typed_now(&scene);
                let proposal: Option<Proposal> = field
                    .typed(&scene, &says)
                    .unwrap_or_else(|error| panic!("{field:?} {error}"));
                assert_eq!(
                    to_ron(&proposal.expect("a field").scene),
                    to_ron(&scene),
                    "{field:?}: {says}"
                );
                typed += 1;
            }
        }
    }
    assert!(typed > 300, "{typed}");
}

#[test]
fn what_a_field_does_not_take_is_refused_with_what_to_try() {
    let scene = gate();
    let refused = |thing: SceneItem, number: usize, text: &str| {
        let error = fields(&scene, thing)[number]
            .typed(&scene, text)
            .expect_err(text);
        format!("{error}; {}", error.hint.as_deref().unwrap_or_default())
    };
    assert_eq!(
        refused(SceneItem::Support(1), 2, "over there"),
        "\"over there\" is not the name of a point or three coordinates; type `0.6, 0, 0.4`, or one of B"
    );
    assert_eq!(
        refused(load(0), 1, "10"),
        "\"10\" is not 3 numbers; type `0, 0, 100`"
    );
    assert_eq!(
        refused(SceneItem::Shape(0), 2, "thick"),
        "\"thick\" is not a length; type a number, or a number with mm, cm, m, in or ft"
    );
}

#[test]
fn kinds_are_chosen_with_what_they_supply() {
    let scene = gate();
    let choices = Field::Kind(0).choices(&scene);
    let note = |word: &str| {
        choices
            .iter()
            .find(|choice| choice.word == word)
            .map(|choice| choice.note.as_str())
    };
    assert_eq!(note("ball joint"), Some("3 forces"));
    assert_eq!(note("hinge"), Some("3 forces, 2 couples"));
    assert_eq!(note("link"), Some("1 force"));
    assert_eq!(note("pin"), None, "pins are of the plane");
    let couples = Field::Couples(0).choices(&scene);
    assert_eq!(couples[0].proposal.name, "gave A its couples");
    assert!(couples[1].chosen);
}
