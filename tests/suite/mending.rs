//! Repairs: every built-in scene mended and proven, releases verified from their own definition.

use crate::command_line::ran;
use sixhold::repair::{Mending, MendingSettings};
use sixhold::scene::{self, Scene, builtin, read_str, to_ron};
use sixhold::statics::{
    Diagnosis, ExactRank, Model, NumericRank, ReactionIndex, ReactionMatrix, Tolerance,
};
use sixhold::study::{Study, WholeReactionIndex};

fn studied(scene: &Scene) -> Study {
    Study::new(scene.clone()).expect("a sound scene")
}

fn diagnosed(scene: &Scene) -> (Model, Diagnosis) {
    let study = studied(scene);
    (study.model().clone(), study.diagnosis().clone())
}

fn built_in(name: &str) -> Scene {
    let text = builtin::find(name).expect("a built-in scene").text;
    read_str(name, text).expect("a sound scene").scene
}

fn mended(scene: &Scene, settings: &MendingSettings) -> Option<Mending> {
    studied(scene).repair_with(settings).links().cloned()
}

#[test]
fn every_scene_that_is_not_held_is_held_with_as_many_links_as_it_has_freedom() {
    for built_in in builtin::all() {
        let scene = read_str(built_in.name, built_in.text).unwrap().scene;
        let (_, diagnosis) = diagnosed(&scene);
        let mending = mended(&scene, &MendingSettings::default());
        if diagnosis.is_held() {
            assert!(mending.is_none(), "{}", built_in.name);
            continue;
        }
        let mending = mending.unwrap_or_else(|| panic!("{}: no repair", built_in.name));
        assert_eq!(mending.links.len(), diagnosis.counts.freedom);
        assert!(mending.is_proven(), "{}", built_in.name);
        assert!(
            mending.smallest() > 0.02,
            "{}: {}",
            built_in.name,
            mending.smallest()
        );
        // What is written is read again without an error or a new warning, and is held by its decimals.
        let text = to_ron(&mending.scene);
        let again = read_str(built_in.name, &text).expect("a sound scene");
        assert_eq!(again.scene, mending.scene);
        let before = read_str(built_in.name, built_in.text)
            .unwrap()
            .warnings
            .len();
        assert_eq!(
            again.warnings.len(),
            before,
            "{}: {:?}",
            built_in.name,
            again.warnings
        );
        let (model, after) = diagnosed(&again.scene);
        assert!(after.is_held());
        assert_eq!(ExactRank::of(&model).rank, scene.space.motions());
    }
}

/// The link that is chosen beats any of a few thousand others at the body's own points, judged by the plain diagnosis.
#[test]
fn no_link_tried_otherwise_does_much_better() {
    let scene = built_in("mirror-fork");
    let mending = mended(&scene, &MendingSettings::default()).expect("it turns");
    let (_, free) = diagnosed(&scene);
    let model = Model::new(&scene).unwrap();
    let entries = ReactionMatrix::new(&model).entries().clone();
    let solids = scene::solid::of_body(&scene);
    let smallest = |point: nalgebra::Point3<f64>, n: nalgebra::Vector3<f64>| {
        let moment = (point - model.reference).cross(&n) / model.length;
        let mut wider = entries.clone().insert_column(entries.ncols(), 0.0);
        for i in 0..3 {
            wider[(i, entries.ncols())] = n[i];
            wider[(i + 3, entries.ncols())] = moment[i];
        }
        wider.svd(false, false).singular_values.min()
    };
    let link = &mending.links[0];
    let metres = scene.units.length.in_metres();
    let ground = nalgebra::Point3::<f64>::from(link.ground.components()) * metres;
    let chosen = smallest(link.point, (ground - link.point).normalize());
    let mut best = 0.0_f64;
    for solid in &solids {
        for point in solid.positions.iter().step_by(7) {
            for direction in [
                [1.0, 0.0, 0.0],
                [0.0, 1.0, 0.0],
                [0.0, 0.0, 1.0],
                [0.6, 0.0, 0.8],
                [0.0, 0.6, -0.8],
            ] {
                best = best.max(smallest(*point, direction.into()));
            }
        }
    }
    assert!(free.counts.freedom == 1 && best > 0.0);
    assert!(chosen > 0.95 * best, "{chosen} {best}");
}

#[test]
fn named_points_alone_are_used_when_asked_for() {
    let scene = built_in("handrail");
    let settings = MendingSettings {
        named_only: true,
        ..MendingSettings::default()
    };
    if let Some(mending) = mended(&scene, &settings) {
        for link in &mending.links {
            assert!(matches!(&link.at, scene::Place::Named(_)), "{link:?}");
        }
        assert!(mending.is_proven());
    }
}

#[test]
fn names_of_added_links_are_new() {
    let mut scene = built_in("cable-tray");
    scene.supports[0].name = "L1".into();
    scene.supports[3].name = "L3".into();
    let mending = mended(&scene, &MendingSettings::default()).expect("it slides");
    let names: Vec<&str> = mending
        .links
        .iter()
        .map(|link| link.name.as_str())
        .collect();
    assert_eq!(names, ["L2", "L4", "L5"]);
}

/// A reaction can be released exactly when the rank of the rest is the same.
#[test]
fn releases_keep_the_rank_and_nothing_else_does() {
    for built_in in builtin::all() {
        let scene = read_str(built_in.name, built_in.text).unwrap().scene;
        let study = studied(&scene);
        let (model, diagnosis, releases) = (study.model(), study.diagnosis(), study.releases());
        let rank = |without: &[ReactionIndex]| {
            let matrix = ReactionMatrix::new(&model.without(without));
            NumericRank::new(&matrix, Tolerance::default())
        };
        for reaction in model.reactions.indices() {
            let listed = releases.alone.iter().find(|r| r.reaction == reaction);
            let left = rank(&[reaction]);
            let keeps = left.rank == diagnosis.counts.rank;
            assert_eq!(listed.is_some(), keeps, "{} {reaction:?}", built_in.name);
            if let Some(listed) = listed {
                let smallest = left.singular_values[left.rank - 1];
                assert!(
                    (listed.smallest - smallest).abs() < 1e-6,
                    "{}",
                    built_in.name
                );
            }
        }
        let together = &releases.together;
        assert_eq!(
            together.len(),
            diagnosis.counts.redundancy,
            "{}",
            built_in.name
        );
        let left = rank(together);
        assert_eq!(left.rank, diagnosis.counts.rank);
        assert_eq!(left.rank, model.reactions.len() - together.len());
        for support in releases.supports.iter().copied() {
            let own: Vec<ReactionIndex> = model.supports[support].reactions.clone().collect();
            assert_eq!(rank(&own).rank, diagnosis.counts.rank);
        }
    }
}

/// Links are found for a body some of whose reactions are released, and proven without those.
#[test]
fn released_reactions_stay_released_while_links_are_sought() {
    let scene = built_in("mirror-cell");
    let whole = studied(&scene);
    let count = whole.model().reactions.len();
    for reaction in 0..count {
        let released = [reaction, (reaction + 2) % count].map(ReactionIndex::new);
        let study = whole.without(&released.map(WholeReactionIndex::of));
        assert_eq!(study.diagnosis().counts.freedom, 2);
        let mending = study.repair().links().expect("links that hold it");
        assert_eq!(mending.links.len(), 2);
        let mended = Model::new(&mending.scene).unwrap().without(&released);
        assert_eq!(ExactRank::of(&mended).rank, 6);
        assert!(mending.is_proven() && mending.smallest() > 0.1);
    }
}

#[test]
fn the_mended_scene_never_takes_the_place_of_its_original() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("rail.ron");
    let text = builtin::find("handrail").unwrap().text;
    std::fs::write(&path, text).unwrap();
    let name = path.to_str().unwrap();
    let refused = ran(&["mend", name, "--out", name]);
    assert_eq!((refused.code, refused.out.as_str()), (Some(2), ""));
    assert!(
        refused.err.contains("is the scene itself"),
        "{}",
        refused.err
    );
    assert_eq!(std::fs::read_to_string(&path).unwrap(), text);
}

#[test]
fn the_command_releases_supports_and_reactions_first() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("mended.ron");
    let out = out.to_str().unwrap();
    let printed = ran(&["mend", "mirror-cell", "--release", "S", "--out", out]);
    assert_eq!(printed.code, Some(0), "{}", printed.err);
    assert!(printed.out.contains("Without S."), "{}", printed.out);
    assert!(
        printed.out.contains("With one link the body is held"),
        "{}",
        printed.out
    );
    let mended = scene::read_file(std::path::Path::new(out)).unwrap().scene;
    assert!(mended.supports.iter().all(|support| support.name != "S"));
    assert_eq!(ran(&["check", out, "--require", "held"]).code, Some(0));

    let one = ran(&["mend", "handrail", "--release", "A_x", "--format", "json"]);
    let value: serde_json::Value = serde_json::from_str(&one.out).unwrap();
    assert_eq!(value["released"][0], "A_x");
    assert_eq!(
        (&value["freedom"], &value["redundancy"]),
        (&1.into(), &0.into())
    );

    std::fs::remove_file(out).unwrap();
    let part = ran(&["mend", "handrail", "--release", "A_x", "--out", out]);
    assert_eq!(part.code, Some(2));
    assert!(
        part.err
            .contains("release the whole support with `--release A`"),
        "{}",
        part.err
    );
    assert!(!std::path::Path::new(out).exists());
    let unknown = ran(&["mend", "handrail", "--release", "A_q"]);
    assert_eq!(unknown.code, Some(2));
    assert!(
        unknown
            .err
            .contains("there is no support or reaction named \"A_q\""),
        "{}",
        unknown.err
    );
    assert!(unknown.err.contains("did you mean"), "{}", unknown.err);
}

#[test]
fn a_check_tells_repairs_and_releases() {
    let json = |name| -> serde_json::Value {
        serde_json::from_str(&ran(&["check", name, "--format", "json"]).out).unwrap()
    };
    let free = json("handrail");
    assert_eq!(free["repairs"]["exact_rank"], 6);
    assert_eq!(free["repairs"]["links"][0]["freedom"], 0);
    assert_eq!(free["releases"]["alone"].as_array().unwrap().len(), 6);
    let held = json("mirror-cell");
    assert!(held["repairs"].is_null());
    assert_eq!(held["releases"]["count"], 0);
    let text = ran(&["check", "handrail", "--details"]).out;
    assert!(
        text.contains("Suggested links") && text.contains("Removable reactions"),
        "{text}"
    );
}

#[test]
fn the_command_prints_repairs_and_writes_the_mended_scene() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("mended.ron");
    let out = out.to_str().unwrap();
    let printed = ran(&["mend", "handrail", "--out", out]);
    assert_eq!(printed.code, Some(0), "{}", printed.err);
    assert!(printed.out.contains("Suggested links"), "{}", printed.out);
    assert!(
        printed.out.contains("The body is then held"),
        "{}",
        printed.out
    );
    assert_eq!(ran(&["check", out, "--require", "held"]).code, Some(0));
    let json = ran(&["mend", "handrail", "--format", "json"]);
    let value: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(value["repairs"]["exact_rank"], 6);
    // Places, of which each stands for its best direction.
    assert!(value["repairs"]["candidates"].as_u64().unwrap() >= 1_000);
    let held = ran(&["mend", "mirror-cell"]);
    assert!(
        held.out
            .contains("No link is needed to prevent free motions."),
        "{}",
        held.out
    );
}

/// A beam on three rollers with a push along it, and one on a pin and a roller that its load tips off: counted both ways
/// nothing is to be added, but the words say what comes loose. (By hand: N_B = −100 N.)
#[test]
fn one_way_supports_that_do_not_carry_the_load_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("tipping.ron");
    let scene = r#"(format: 1, space: planar, body: [Block(centre: (1.5, 0), size: (3, 0.1, 0.1))], supports: [
        Pin(name: "A", at: (0, 0)), Roller(name: "B", at: (1, 0), normal: (0, 1))],
        cases: [(name: "between", loads: [Force(at: (0.5, 0), force: (0, -100))]),
            (name: "lifting", loads: [Force(at: (0.5, 0), force: (0, 200))])])"#;
    std::fs::write(&file, scene).unwrap();
    let told = ran(&["mend", file.to_str().unwrap()]);
    let words: Vec<&str> = told.out.split_whitespace().collect();
    let words = words.join(" ");
    let expected = "No link is needed to prevent free motions. Contacts and cables are treated here as two-way (bilateral). Load case \
        \u{201c}lifting\u{201d} is not carried: nothing prevents anticlockwise rotation about A, in which contact is lost at B.";
    assert!(words.contains(expected), "{words}");
    assert!(!words.contains("Under between"), "{words}");
    let checked = ran(&["check", file.to_str().unwrap(), "--case", "lifting"]);
    assert!(
        checked.out.contains("\u{2212}100 N (would have to pull)"),
        "{}",
        checked.out
    );
    let deck = folder.path().join("deck.html");
    let deck = deck.to_str().unwrap();
    let told = ran(&[
        "deck",
        file.to_str().unwrap(),
        "--case",
        "lifting",
        "--out",
        deck,
    ]);
    assert_eq!(told.code, Some(0), "{}", told.err);
    let page = std::fs::read_to_string(deck).unwrap();
    let carried = page.split("<section id=\"motion\">").nth(1).unwrap();
    assert!(carried.contains("With its supports treated as two-way, no motion remains."));
    assert!(
        carried.contains("This load is not carried: nothing prevents"),
        "{carried}"
    );
}
