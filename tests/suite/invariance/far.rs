//! A scene far from the origin of its axes: the written positions of a scene shifted by a decimal, digit for digit, must
//! lead to the same answers.

use nalgebra::Point3;
use proptest::prelude::*;
use sixhold::scene::{
    Coordinates, Datum, Direction, Load, Place, Scene, Shape, SupportKind, builtin, read_str,
    to_json, to_ron,
};
use sixhold::statics::{Diagnosis, Model, SupportIndex};
use sixhold::study::Study;

use super::{either_space, kinds};

/// Decimal places of the sums below.
const PLACES: usize = 18;

/// Fields whose values are positions; those of the map of points have names in quotes.
const POSITIONS: [&str; 10] = [
    "at", "ground", "path", "corners", "corner", "legs", "centre", "from", "to", "Towards",
];

/// A decimal text plus another, digit for digit.
fn sum(one: &str, other: &str) -> String {
    let total = whole(one) + whole(other);
    let sign = if total < 0 { "-" } else { "" };
    let digits = format!("{:0>width$}", total.abs(), width = PLACES + 1);
    let (whole, fraction) = digits.split_at(digits.len() - PLACES);
    let text = format!("{sign}{whole}.{}", fraction.trim_end_matches('0'));
    text.trim_end_matches('.').to_owned()
}

/// A decimal text times 10 to the power of [`PLACES`].
fn whole(text: &str) -> i128 {
    let (digits, exponent) = text.split_once('e').unwrap_or((text, "0"));
    let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
    let exponent = exponent.parse::<i32>().unwrap() + PLACES as i32 - fraction.len() as i32;
    let digits: i128 = format!("{whole}{fraction}").parse().unwrap();
    match u32::try_from(exponent) {
        Ok(power) => digits * 10_i128.pow(power),
        // Beyond the last place: only zeros may be dropped.
        Err(_) => {
            let unit = 10_i128.pow(exponent.unsigned_abs());
            assert_eq!(digits % unit, 0, "{text}");
            digits / unit
        }
    }
}

/// The text of a scene with every position shifted.
fn shifted(text: &str, by: [&str; 3]) -> String {
    let mut out = String::new();
    // The field that the value at each depth belongs to.
    let mut fields = vec![String::new()];
    let mut word = String::new();
    let mut rest = text;
    while let Some(character) = rest.chars().next() {
        let mut length = character.len_utf8();
        match character {
            '"' => {
                length = quoted(rest);
                word = "a name".to_owned();
            }
            ':' => *fields.last_mut().unwrap() = std::mem::take(&mut word),
            '(' | '[' | '{' => {
                let held = match word.as_str() {
                    "Towards" => std::mem::take(&mut word),
                    _ => fields.last().unwrap().clone(),
                };
                let end = rest.find(')').unwrap_or(0);
                let is_position = held == "a name" || POSITIONS.contains(&held.as_str());
                if character == '(' && is_position && is_tuple(&rest[1..end]) {
                    let numbers = rest[1..end].split(", ").zip(by);
                    let sums: Vec<String> = numbers.map(|(x, by)| sum(x, by)).collect();
                    out += &format!("({})", sums.join(", "));
                    rest = &rest[end + 1..];
                    continue;
                }
                fields.push(held);
                word.clear();
            }
            ')' | ']' | '}' => {
                fields.pop();
                word.clear();
            }
            c if c.is_alphanumeric() || c == '_' => word.push(c),
            _ => word.clear(),
        }
        out += &rest[..length];
        rest = &rest[length..];
    }
    out
}

/// Length of the text in quotes at the start.
fn quoted(text: &str) -> usize {
    let mut escaped = false;
    let end = text.char_indices().skip(1).find(|(_, c)| {
        let is_end = *c == '"' && !escaped;
        escaped = *c == '\\' && !escaped;
        is_end
    });
    end.unwrap().0 + 1
}

fn is_tuple(inside: &str) -> bool {
    inside.contains(", ") && inside.split(", ").all(|part| part.parse::<f64>().is_ok())
}

/// The scene itself and the one whose text is shifted.
fn both(scene: &Scene, by: [&str; 3]) -> [Scene; 2] {
    let text = to_ron(scene);
    let far = shifted(&text, by);
    let read = |text: &str| read_str("test.ron", text).unwrap_or_else(|e| panic!("{e}\n{text}"));
    let scenes = [read(&text).scene, read(&far).scene];
    // Adding nothing writes very small numbers without their exponent.
    let saved = shifted(&to_ron(&scenes[1]), ["0"; 3]);
    assert_eq!(saved, far, "saving loses digits");
    scenes
}

fn diagnosed(scene: &Scene) -> (Model, Diagnosis) {
    let study = Study::new(scene.clone()).unwrap();
    (study.model().clone(), study.diagnosis().clone())
}

/// Everything that is found of a scene, to the last bit.
fn everything(scene: &Scene) -> String {
    let study = Study::new(scene.clone()).unwrap();
    let reason = (study.diagnosis(), study.objects());
    let groups = (study.circuits(), study.combinations(), study.releases());
    let near = (study.nearness(), study.rounding(), study.heat());
    let loads = (study.one_way(), study.uncarried(), study.accelerations());
    let motions = study.mobilities();
    format!("{reason:#?}\n{groups:#?}\n{near:#?}\n{loads:#?}\n{motions:#?}")
}

/// The scene as a program makes it: every position from the origin, as a float; `None` where one of them would need more
/// digits than a float has.
fn made_in_memory(scene: &Scene) -> Option<Scene> {
    let survives = std::cell::Cell::new(true);
    let coordinates = |at: &Coordinates| {
        let from_origin = |axis: usize, x: f64| {
            let float = scene.datum.from_origin(axis, x);
            if float.to_string() != scene.datum.written(axis, x) {
                survives.set(false);
            }
            float
        };
        match *at {
            Coordinates::Plane([x, y]) => {
                Coordinates::Plane([from_origin(0, x), from_origin(1, y)])
            }
            Coordinates::Space([x, y, z]) => {
                Coordinates::Space([from_origin(0, x), from_origin(1, y), from_origin(2, z)])
            }
        }
    };
    let move_to = |place: &mut Place| {
        if let Place::At(at) = place {
            *at = coordinates(at);
        }
    };
    let mut made = scene.clone();
    made.datum = Datum::default();
    for point in &mut made.points {
        point.at = coordinates(&point.at);
    }
    for shape in &mut made.body {
        match shape {
            Shape::BentBar(bar) => bar.path.iter_mut().for_each(move_to),
            Shape::Plate(plate) => {
                plate.corners.iter_mut().for_each(move_to);
                let holes = plate.holes.iter_mut();
                holes.for_each(|hole| move_to(&mut hole.centre));
            }
            Shape::Bracket(bracket) => {
                move_to(&mut bracket.corner);
                bracket.legs.iter_mut().for_each(move_to);
            }
            Shape::Shaft(shaft) => {
                move_to(&mut shaft.from);
                move_to(&mut shaft.to);
            }
            Shape::Disc(disc) => move_to(&mut disc.centre),
            Shape::Block(block) => move_to(&mut block.centre),
            _ => unreachable!("a shape that this test does not know"),
        }
    }
    for wall in &mut made.walls {
        wall.corners.iter_mut().for_each(move_to);
    }
    for support in &mut made.supports {
        move_to(&mut support.at);
        match &mut support.kind {
            SupportKind::Link { ground } | SupportKind::Cable { ground } => move_to(ground),
            SupportKind::Roller {
                normal: Direction::Towards(place),
            }
            | SupportKind::SmoothContact {
                normal: Direction::Towards(place),
            } => move_to(place),
            _ => {}
        }
    }
    let cases = made.cases.iter_mut().flat_map(|case| &mut case.loads);
    for load in made.loads.iter_mut().chain(cases) {
        match load {
            Load::Force { at, .. } => move_to(at),
            Load::Couple { at, .. } | Load::Weight { at, .. } => at.iter_mut().for_each(move_to),
            Load::Distributed { from, to, .. } => {
                move_to(from);
                move_to(to);
            }
            Load::Line { path: places, .. }
            | Load::Area {
                corners: places, ..
            } => {
                places.iter_mut().for_each(move_to);
            }
            _ => unreachable!("a load that this test does not know"),
        }
    }
    survives.get().then_some(made)
}

/// Noise of the float far from the origin once made pitches, shared axes, groups and heat out of nothing.
#[test]
fn built_in_scenes_lead_to_the_same_answers_far_from_the_origin() {
    for built_in in builtin::all() {
        let scene = read_str(built_in.name, built_in.text).unwrap().scene;
        let [near, far] = both(&scene, ["1e12", "-1e12", "3e12"]);
        assert!(!far.datum.is_origin());
        assert_eq!(everything(&near), everything(&far), "{}", built_in.name);
        let mended = |scene: &Scene| {
            let study = Study::new(scene.clone()).unwrap();
            let mending = study.repair().links();
            mending.map(|mending| (mending.links.clone(), mending.counts))
        };
        assert_eq!(mended(&near), mended(&far), "{}", built_in.name);
    }
}

/// Positions of what is found come from the origin again.
#[test]
fn what_is_printed_lies_where_the_scene_does() {
    let scene = read_str("handrail", builtin::find("handrail").unwrap().text)
        .unwrap()
        .scene;
    let [near, far] = both(&scene, ["1e12", "2000000", "0"]);
    let b = |scene: &Scene| {
        let (model, _) = diagnosed(scene);
        let b = &model.supports[SupportIndex::new(1)].point;
        sixhold::wording::coordinates(&model, b).to_string()
    };
    assert_eq!(b(&near), "(1.7, 0.6, 0.75) m");
    assert_eq!(b(&far), "(1000000000001.7, 2000000.6, 0.75) m");
    let mended = |scene: &Scene| {
        let study = Study::new(scene.clone()).unwrap();
        let mending = study.repair().links().unwrap();
        sixhold::wording::added_link(study.model(), &mending.links[0]).to_string()
    };
    let from = "a link from (0.9, −0.01, 1.3) m";
    assert!(mended(&near).contains(from), "{}", mended(&near));
    let from = "a link from (1000000000000.9, 1999999.99, 1.3) m";
    assert!(mended(&far).contains(from), "{}", mended(&far));
    let at = |scene: &Scene| to_json(scene)["points"]["B"].clone();
    assert_eq!(at(&near), serde_json::json!([1.7, 0.6, 0.75]));
    assert_eq!(
        at(&far),
        serde_json::json!([1_000_000_000_001.7, 2_000_000.6, 0.75])
    );
}

/// A line beside the far scene's own datum is not an axis of the scene.
#[test]
fn an_axis_of_the_scene_is_a_line_through_the_origin() {
    let (model, _) = diagnosed(
        &both(
            &read_str("handrail", builtin::find("handrail").unwrap().text)
                .unwrap()
                .scene,
            ["1e6", "0", "0"],
        )[1],
    );
    let up = nalgebra::Vector3::z_axis();
    let line = |at: &Point3<f64>| sixhold::wording::line(&model, at, &up);
    assert_eq!(line(&model.origin()), "the z axis");
    assert_ne!(line(&Point3::new(0.3, 0.3, 0.0)), "the z axis");
}

/// A program that rounds to an f64 far from the origin loses what the rank may depend on; decimals that keep it do not.
#[test]
fn positions_with_too_few_digits_are_warned_of() {
    let scene = |x: &str| {
        format!(
            "(format: 1, space: planar, body: [BentBar(path: [({x}, 0), (1e9, 1)], diameter: 0.1)],
            supports: [Pin(name: \"A\", at: (1e9, 1))])"
        )
    };
    let warnings = |x: &str| {
        let loaded = read_str("test.ron", &scene(x)).unwrap();
        let messages = loaded
            .warnings
            .iter()
            .map(|problem| problem.message.clone());
        messages.collect::<Vec<_>>()
    };
    assert_eq!(warnings("1000000000.25"), [""; 0]);
    assert_eq!(warnings("1000000000.1234567891"), [""; 0]);
    let [rounded] = warnings("1000000000.1234568").try_into().unwrap();
    assert!(
        rounded.contains("tell positions only 1e-7 m apart"),
        "{rounded}"
    );
    let [long] = warnings("1000000000.12345678901234567890123")
        .try_into()
        .unwrap();
    assert!(
        long.contains("is read as 1000000000.12345678901234568"),
        "{long}"
    );
}

/// A whole number of any size, times a power of ten that the answers must not depend on.
fn offsets() -> impl Strategy<Value = [String; 3]> {
    let offset = || {
        (-9_999_999_i64..=9_999_999, 0..=7_usize, 0..=6_usize).prop_map(
            |(digits, zeros, places)| {
                sum(
                    &format!("{digits}{}", "0".repeat(zeros)),
                    &format!("{digits}e-{places}"),
                )
            },
        )
    };
    [offset(), offset(), offset()]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_scene_shifted_by_a_million_million_leads_to_the_same_answers(scene in either_space()) {
        let [near, far] = both(&scene, ["1e12", "-1e12", "1e12"]);
        prop_assert_eq!(everything(&near), everything(&far));
    }

    #[test]
    fn a_scene_shifted_by_any_decimals_keeps_its_numbers_and_motions(
        scene in either_space(),
        [x, y, z] in offsets(),
    ) {
        let [near, far] = both(&scene, [&x, &y, &z]);
        let ((model, near), (_, far)) = (diagnosed(&near), diagnosed(&far));
        prop_assert_eq!(near.counts, far.counts);
        prop_assert_eq!(near.exact, far.exact);
        prop_assert_eq!(kinds(&near), kinds(&far));
        if let ([one], [other]) = (near.free_motions.as_slice(), far.free_motions.as_slice()) {
            // The pitch of a translation is infinite.
            let off = (one.kind.pitch() - other.kind.pitch()).abs();
            prop_assert!(one.kind == other.kind || off <= super::AXIS * model.length);
        }
    }

    /// A scene made in memory kept the origin, and with it the noise of floats far from it.
    #[test]
    fn a_far_scene_made_in_memory_leads_to_the_same_answers_as_one_that_is_read(
        built_in in proptest::sample::select(builtin::all()),
        [x, y, z] in [-1_000_000..=1_000_000_i64, -1_000_000..=1_000_000, -1_000_000..=1_000_000],
        zeros in 1..=6_usize,
    ) {
        let scene = read_str(built_in.name, built_in.text).unwrap().scene;
        let by = [x, y, z].map(|x| format!("{x}{}", "0".repeat(zeros)));
        let [_, far] = both(&scene, [&by[0], &by[1], &by[2]]);
        let made = made_in_memory(&far);
        // Beside 1e12 a float tells thousandths apart, so that their shortest decimals are those that were written.
        prop_assume!(made.is_some());
        let made = made.unwrap();
        let study = Study::new(made.clone()).unwrap();
        prop_assert_eq!(study.scene(), &far);
        prop_assert_eq!(Model::new(&made).unwrap().datum, far.datum);
        prop_assert_eq!(everything(&made), everything(&far));
    }
}
