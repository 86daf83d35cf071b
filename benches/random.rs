//! Random scenes: built-in ones with a direction changed, and bodies on supports of all kinds with round numbers.

use sixhold::scene::{Scene, builtin, read_str};

use crate::cases::Numbers;

/// Fields whose value is a direction.
const DIRECTIONS: [&str; 5] = ["axis: (", "normal: (", "rail: (", "rod: (", "direction: ("];

/// Kinds of support in space, with the rest of their fields; `%` stands for a direction, `&` for a position.
const KINDS: [&str; 16] = [
    "BallJoint(",
    "Hinge(axis: %, couples: false, ",
    "Hinge(axis: %, ",
    "SlidingHinge(axis: %, couples: false, ",
    "JournalBearing(axis: %, couples: false, ",
    "ThrustBearing(axis: %, couples: false, ",
    "SmoothPin(axis: %, ",
    "Slider(rod: %, ",
    "UniversalJoint(axis: %, ",
    "Roller(normal: %, ",
    "SmoothContact(normal: %, ",
    "RoughContact(normal: %, ",
    "Link(ground: &, ",
    "Link(ground: &, ",
    "Cable(ground: &, ",
    "Cable(ground: &, ",
];

/// A random scene that reading accepts, and its text.
pub(crate) fn scene(numbers: &mut Numbers) -> (String, Scene) {
    loop {
        let text = match numbers.below(3) {
            0 => turned(numbers),
            _ => drawn(numbers),
        };
        if let Ok(loaded) = read_str("random", &text) {
            return (text, loaded.scene);
        }
    }
}

/// A built-in scene with the directions of one field all changed to another.
fn turned(numbers: &mut Numbers) -> String {
    let all = builtin::all();
    let text = all[numbers.below(all.len())].text;
    let field = DIRECTIONS[numbers.below(DIRECTIONS.len())];
    let mut pieces = text.split(field);
    let mut turned = pieces.next().unwrap_or_default().to_owned();
    let count = if text.contains("planar") { 2 } else { 3 };
    let direction = direction(numbers, count);
    for piece in pieces {
        let rest = piece.split_once(')').map_or("", |(_, rest)| rest);
        turned += &format!("{}{direction}{rest}", field.trim_end_matches('('));
    }
    turned
}

fn drawn(numbers: &mut Numbers) -> String {
    let mut supports = String::new();
    for index in 0..2 + numbers.below(7) {
        let mut kind = KINDS[numbers.below(KINDS.len())].to_owned();
        kind = kind.replace('%', &direction(numbers, 3));
        kind = kind.replace('&', &position(numbers));
        supports += &format!("{kind}name: \"S{index}\", at: {}),\n", position(numbers));
    }
    let [from, to] = [position(numbers), position(numbers)];
    let load = position(numbers);
    format!(
        "(format: 1, body: [Shaft(from: {from}, to: {to}, diameter: 0.1)], supports: [\n{supports}],\n\
         loads: [Weight(mass: 20, at: {load})])"
    )
}

fn position(numbers: &mut Numbers) -> String {
    tuple(3, || (numbers.below(41) as f64 - 20.0) / 10.0)
}

/// Along an axis, of small whole numbers, or of tenths.
fn direction(numbers: &mut Numbers, count: usize) -> String {
    let axis = numbers.below(3);
    match numbers.below(3) {
        0 => {
            let mut index = 0;
            tuple(count, || {
                index += 1;
                f64::from(u8::from(index - 1 == axis % count))
            })
        }
        1 => tuple(count, || numbers.below(5) as f64 - 2.0),
        _ => tuple(count, || (numbers.below(21) as f64 - 10.0) / 10.0),
    }
}

fn tuple(count: usize, mut number: impl FnMut() -> f64) -> String {
    let numbers: Vec<String> = (0..count).map(|_| number().to_string()).collect();
    format!("({})", numbers.join(", "))
}
