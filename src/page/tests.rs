//! Scenes on a page, read, drawn, dragged and changed.

use super::*;

#[test]
fn every_built_in_scene_is_answered_and_drawn() {
    for scene in builtin::all() {
        let page = PageScene::built_in(scene.name).unwrap();
        let options = PageOptions::default();
        let answer = page.answer(&options).unwrap();
        assert_eq!(answer.numbers.len(), 4, "{}", scene.name);
        assert!(page.figure(&options).unwrap().starts_with("<svg"));
        let address = page.address("https://dome.example/", &options).unwrap();
        assert_eq!(
            address,
            format!("https://dome.example/#scene={}", scene.name)
        );
    }
}

#[test]
fn a_scene_goes_through_an_address_with_all_that_is_shown() {
    let text = builtin::find("street-lamp")
        .unwrap()
        .text
        .replace("street", "steep");
    let page = PageScene::open("lamp", &text).unwrap();
    let options = PageOptions {
        theme: Some("stark".to_owned()),
        stage: Some("Count".to_owned()),
        guess: true,
        ..PageOptions::default()
    };
    let address = page.address("http://localhost/", &options).unwrap();
    assert_eq!(PageScene::addressed(&address).unwrap().text(), text);
    assert_eq!(options_of(&address).unwrap(), options);
}

#[test]
fn what_is_wrong_is_said_with_its_place() {
    let Err(trouble) = PageScene::open("mine", "(format: 1,\n  body: [Blok()])") else {
        panic!("no scene");
    };
    let problem = &trouble.problems[0];
    assert_eq!((problem.line, problem.column), (Some(2), Some(10)));
    assert!(
        problem
            .hint
            .as_ref()
            .is_some_and(|hint| hint.contains("Block"))
    );
    let page = PageScene::built_in("handrail").unwrap();
    for (options, expected) in [
        (
            PageOptions {
                case: Some("gale".into()),
                ..PageOptions::default()
            },
            "gale",
        ),
        (
            PageOptions {
                motion: Some("7".into()),
                ..PageOptions::default()
            },
            "motion 7",
        ),
        (
            PageOptions {
                theme: Some("neon".into()),
                ..PageOptions::default()
            },
            "neon",
        ),
        (
            PageOptions {
                parts: Some("bodies".into()),
                ..PageOptions::default()
            },
            "bodies",
        ),
        (
            PageOptions {
                width: Some(1e9),
                ..PageOptions::default()
            },
            "1200",
        ),
        (
            PageOptions {
                digits: 0,
                ..PageOptions::default()
            },
            "1 to 15",
        ),
        (
            PageOptions {
                tallest: Some(-3.0),
                ..PageOptions::default()
            },
            "above 0",
        ),
    ] {
        let said = page.figure(&options).unwrap_err().problems[0]
            .message
            .clone();
        assert!(said.contains(expected), "{said}");
    }
}

/// A place is dragged to where it is seen, and comes to rest at what lies near; the rest of the text stays as it is.
#[test]
fn a_support_is_dragged_along_its_beam() {
    let text = builtin::find("sill-beam").unwrap().text;
    let page = PageScene::open("sill-beam", text).unwrap();
    page.figure(&PageOptions::default()).unwrap();
    let handles = page.handles();
    let b = handles
        .iter()
        .find(|handle| handle.thing == "support B")
        .unwrap();
    let a = handles
        .iter()
        .find(|handle| handle.thing == "support A")
        .unwrap();
    assert!(b.sentence.contains("rocker"), "{}", b.sentence);
    let halfway = [(a.spot[0] + b.spot[0]) / 2.0 + 0.4, b.spot[1]];
    let moved = page
        .grab(b.index)
        .unwrap()
        .to(halfway, 0.75, false)
        .unwrap();
    let scene = PageScene::open("sill-beam", &moved.text).unwrap();
    let at = scene.study.scene().supports[1].at.clone();
    assert_eq!(scene.study.scene().position(&at).map(|at| at[0]), Some(2.0));
    let changed = |a: &str, b: &str| a.lines().zip(b.lines()).filter(|(a, b)| a != b).count();
    assert_eq!(
        (moved.text.lines().count(), changed(&moved.text, text)),
        (text.lines().count(), 1)
    );
    assert!(page.grab(99).is_err());
}

#[test]
fn a_thing_in_hand_is_taken_out_copied_or_made_another_kind() {
    let page = PageScene::built_in("handrail").unwrap();
    let changes = page.changes(0);
    let found = |words: &str| {
        let change = changes.iter().find(|change| change.words == words);
        let text = &change.unwrap_or_else(|| panic!("{words}")).change.text;
        PageScene::open("handrail", text).unwrap()
    };
    let counts = |page: PageScene| page.study.diagnosis().counts.unknowns;
    assert_eq!(counts(found("take it out")), 3);
    assert_eq!(counts(found("duplicate it")), 9);
    assert_eq!(counts(found("make it a fixed support")), 9);
    assert!(
        changes
            .iter()
            .all(|change| !change.words.ends_with("ball joint"))
    );
    assert!(page.changes(999).is_empty());
}

#[test]
fn what_is_dragged_in_space_stays_under_the_pointer() {
    for name in ["handrail", "mirror-cell", "street-lamp"] {
        let page = PageScene::built_in(name).unwrap();
        page.figure(&PageOptions::default()).unwrap();
        for handle in page.handles() {
            let to = [handle.spot[0] + 7.0, handle.spot[1] - 3.0];
            let Some(moved) = page.grab(handle.index).unwrap().to(to, 0.75, true) else {
                continue;
            };
            let scene = PageScene::open(name, &moved.text).unwrap();
            scene.map.set(page.map.get());
            let now = scene.handles()[handle.index].spot;
            let apart = (now[0] - to[0]).hypot(now[1] - to[1]);
            assert!(apart < 1.5, "{name}, {}: {apart}", handle.thing);
        }
    }
}

#[test]
fn the_motion_has_frames_of_one_size() {
    let held = PageScene::built_in("sill-beam").unwrap();
    assert!(held.frames(&PageOptions::default()).unwrap().is_empty());
    assert!(held.film(&PageOptions::default()).unwrap().is_empty());
    let page = PageScene::built_in("handrail").unwrap();
    let frames = page.frames(&PageOptions::default()).unwrap();
    let size = |svg: &str| {
        svg.split("viewBox=")
            .nth(1)
            .map(|rest| rest[..24].to_owned())
    };
    assert_eq!(frames.len(), FRAMES);
    assert!(frames.iter().all(|frame| size(frame) == size(&frames[0])));
    assert!(frames[0] != frames[FRAMES / 4]);
    let film = page.film(&PageOptions::default()).unwrap();
    let mut reader = gif::DecodeOptions::new()
        .read_info(film.as_slice())
        .unwrap();
    assert_eq!(f64::from(reader.width()), FILM_PIXELS);
    let mut count = 0;
    while reader.read_next_frame().unwrap().is_some() {
        count += 1;
    }
    assert!((FRAMES / 2..=FRAMES).contains(&count), "{count}");
}
