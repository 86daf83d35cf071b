//! What Sixhold knows in depth, against closed forms, published values, definitions and scipy.

mod acceleration;
mod anchorage;
mod combined_cases;
mod design;
mod elastic;
mod frames;
mod friction;
mod heat;
mod limits;
mod nearness;
mod one_way;
mod rounding;

use sixhold::scene::{Scene, read_str};
use sixhold::statics::{Model, ReactionIndex};
use sixhold::study::Study;

/// A scene without the words that every scene starts with.
pub(crate) fn scene(text: &str) -> Scene {
    let text = format!("(format: 1, {text})");
    read_str("test.ron", &text).expect("a valid scene").scene
}

/// Everything about a scene.
pub(crate) fn deep(scene: &Scene) -> Study {
    Study::new(scene.clone()).expect("a valid scene")
}

/// Index of the reaction of that name.
pub(crate) fn reaction(model: &Model, name: &str) -> ReactionIndex {
    let found = model.reactions.position(|reaction| reaction.name == name);
    found.expect("a reaction of that name")
}

pub(crate) fn assert_close(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "{found} is not {expected} within {within}"
    );
}
