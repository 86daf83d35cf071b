//! Decks as pages: their stages, and what stays in place from slide to slide. How they look is put to the test in a browser.

use std::collections::BTreeMap;
use std::sync::Mutex;

use proptest::prelude::*;
use sixhold::drawing::Drawing;
use sixhold::figure::FigureSettings;
use sixhold::figure::deck::{Deck, Show, Slide, deck};
use sixhold::scene::{self, LessonStage, LessonStep, Scene, builtin};
use sixhold::statics::CaseIndex;
use sixhold::study::Study;
use sixhold::wording::Phrase;

use super::labels::{faults, is_lopsided};
use crate::arbitrary_scenes;
use crate::command_line::ran;

/// Names of the slides in their order.
pub(crate) const STAGES: [&str; 9] = [
    "body",
    "loads",
    "supports",
    "reactions",
    "count",
    "rank",
    "reason",
    "motion",
    "mend",
];

fn made(scene: &Scene) -> Option<Deck> {
    let study = Study::new(scene.clone()).ok()?;
    let motions = study.selections(CaseIndex::FIRST);
    Some(deck(&study, &FigureSettings::default(), &motions))
}

/// Every figure of a deck, of the swing the frames farthest from each other.
fn figures(deck: &Deck) -> Vec<(&'static str, &Drawing)> {
    let mut all = Vec::new();
    for slide in &deck.slides {
        match &slide.show {
            Show::Still(drawing) => all.push((slide.name, drawing.as_ref())),
            Show::Swing(frames) => {
                all.extend(frames.iter().step_by(9).map(|frame| (slide.name, frame)));
            }
        }
    }
    all
}

/// One scene in four, since frames of swings take long.
#[test]
fn every_figure_of_a_deck_can_be_read() {
    for built_in in builtin::all().iter().step_by(4) {
        let scene = scene::read_str(built_in.name, built_in.text).unwrap().scene;
        let deck = made(&scene).unwrap();
        for (slide, figure) in figures(&deck) {
            let faults = faults(figure);
            assert!(faults.is_empty(), "{}#{slide}: {faults:?}", built_in.name);
        }
    }
}

/// On a slide a motion is seen against its start: outlines of the body, and an arrow, that stay in every frame.
#[test]
fn slides_of_motions_keep_a_ghost_of_the_start_and_an_arrow() {
    for name in ["cable-tray", "strut-platform"] {
        let text = builtin::find(name).unwrap().text;
        let deck = made(&scene::read_str(name, text).unwrap().scene).unwrap();
        let mut swings = 0;
        for slide in &deck.slides {
            let Show::Swing(frames) = &slide.show else {
                continue;
            };
            swings += 1;
            for role in ["ghost", "motion"] {
                let of_role = |frame: &Drawing| -> Vec<_> {
                    let shapes = frame.shapes().filter(|shape| shape.role == role);
                    shapes.cloned().collect()
                };
                let first = of_role(&frames[0]);
                assert!(!first.is_empty(), "{name}#{} {role}", slide.name);
                assert!(frames.iter().all(|frame| of_role(frame) == first));
            }
        }
        assert!(swings > 0, "{name}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// Any scene, degenerate and huge ones included, has a deck whose figures share one page.
    #[test]
    fn any_scene_has_a_deck(scene in arbitrary_scenes::scene()) {
        if let Some(deck) = made(&scene) {
            let all = figures(&deck);
            for (slide, figure) in &all {
                prop_assert!(figure.height.is_finite() && figure.height > 0.0);
                prop_assert_eq!(figure.height, all[0].1.height);
                prop_assert!(!figure.items.is_empty(), "{}", slide);
                let faults = faults(figure);
                prop_assert!(faults.is_empty() || is_lopsided(&scene), "{}: {:?}", slide, faults);
            }
        }
    }
}

/// A body that is held has no motion and nothing to mend: it is told what it carries and what it can spare.
#[test]
fn decks_of_bodies_that_are_held_end_with_loads_and_spares() {
    let last_two = |name: &str| {
        let text = builtin::find(name).unwrap().text;
        let deck = made(&scene::read_str(name, text).unwrap().scene).unwrap();
        let slides: [Slide; 9] = deck.slides.try_into().unwrap();
        let [.., carried, spared] = slides;
        let Show::Still(figure) = &carried.show else {
            panic!("{name}: a held body swings");
        };
        let runs = figure.texts().flat_map(|text| &text.runs);
        let written: String = runs.map(|run| run.text.as_str()).collect();
        (
            Phrase::joined(carried.sentences.clone(), " ").to_string(),
            written,
            Phrase::joined(spared.sentences.clone(), " ").to_string(),
        )
    };
    // A third of the weight, 3799 N, on each of the three upright rods.
    let (said, written, spared) = last_two("mirror-cell");
    assert!(
        said.contains("All reactions follow from equilibrium."),
        "{said}"
    );
    assert_eq!(written.matches("1266 N (C)").count(), 3, "{written}");
    assert!(
        spared.starts_with("No reaction can be removed:"),
        "{spared}"
    );
    let (said, _, spared) = last_two("hatch-prop");
    assert!(
        said.contains("Only F_P follows from equilibrium."),
        "{said}"
    );
    assert!(
        spared.contains("Either A or B can be removed entirely."),
        "{spared}"
    );
}

/// Each motion that is left has a slide of its own; one that is asked for has the only one.
#[test]
fn every_motion_that_is_left_is_shown() {
    let slides = |arguments: &[&str]| {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("deck.html");
        let ran = ran(&[
            &["deck", "ball-head", "--out", out.to_str().unwrap()],
            arguments,
        ]
        .concat());
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        let page = std::fs::read_to_string(&out).unwrap();
        let sections = between(&page, "<section id=\"", "</section>").into_iter();
        let moving = sections.filter(|section| section.contains("<div hidden>"));
        moving.map(str::to_owned).collect::<Vec<_>>()
    };
    let all = slides(&[]);
    for (slide, (name, heading)) in all.iter().zip([
        ("motion", "How it can move: 1 of 3"),
        ("motion-2", "How it can move: 2 of 3"),
        ("motion-3", "How it can move: 3 of 3"),
    ]) {
        assert!(slide.starts_with(&format!("{name}\"")), "{name}");
        assert!(slide.contains(&format!("<h1>{heading}</h1>")), "{heading}");
    }
    assert_eq!(all.len(), 3);
    let second = slides(&["--motion", "2"]);
    assert_eq!(second.len(), 1);
    assert!(second[0].contains("<h1>How it can move</h1>"));
    assert!(second[0].contains("<p>One of three motions that remain.</p>"));
    let sentence = |slide: &str| between(slide, "<p>", "</p>")[1].to_owned();
    assert_eq!(sentence(&second[0]), sentence(&all[1]));
    assert_ne!(sentence(&all[0]), sentence(&all[1]));
}

/// The slides of a cabinet that tips called it held, and none showed it tip.
#[test]
fn a_deck_shows_how_the_body_gets_away() {
    let slides = |case: &str| {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("deck.html");
        let scene = "tests/one_way/tipping-cabinet.ron";
        let ran = ran(&[
            "deck",
            scene,
            "--case",
            case,
            "--out",
            out.to_str().unwrap(),
        ]);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        let page = std::fs::read_to_string(&out).unwrap();
        let sections = between(&page, "<section id=\"", "</section>").into_iter();
        sections.map(str::to_owned).collect::<Vec<_>>()
    };
    let find = |slides: &[String], name: &str| {
        let found = slides
            .iter()
            .find(|slide| slide.starts_with(&format!("{name}\"")));
        found.cloned()
    };
    let pushed = slides("pushed");
    let rank = find(&pushed, "rank").unwrap();
    assert!(
        rank.contains("Constrained, but the load case \u{201c}pushed\u{201d} is not carried"),
        "{rank}"
    );
    let loads = find(&pushed, "motion").unwrap();
    assert!(loads.contains("<h1>What it does not carry</h1>"));
    let escape = find(&pushed, "escape").unwrap();
    assert!(escape.contains("<h1>How the body escapes</h1>"));
    assert!(
        escape
            .contains("the body tips about the line through B and C and loses contact at A and D.")
    );
    assert!(escape.matches("<div hidden>").count() > 10);
    let at_rest = slides("at rest");
    assert!(find(&at_rest, "rank").unwrap().contains("Held: "));
    assert!(find(&at_rest, "escape").is_none());
}

/// The page of a scene's deck, written once for all tests that read it.
fn page(scene: &'static str) -> String {
    static PAGES: Mutex<BTreeMap<&str, String>> = Mutex::new(BTreeMap::new());
    let mut pages = PAGES.lock().unwrap();
    pages.entry(scene).or_insert_with(|| written(scene)).clone()
}

fn written(scene: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("deck.html");
    let ran = ran(&["deck", scene, "--out", out.to_str().unwrap()]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    std::fs::read_to_string(&out).unwrap()
}

/// What stands between two marks, each time.
fn between<'a>(text: &'a str, start: &str, end: &str) -> Vec<&'a str> {
    let pieces = text.split(start).skip(1);
    pieces
        .map(|piece| piece.split(end).next().unwrap())
        .collect()
}

/// The first slide gave the notes of the scene away, which say what to look for.
#[test]
fn notes_are_for_the_speaker_alone() {
    for scene in ["handrail", "roof-hatch", "strut-platform"] {
        let read = scene::read_str(scene, builtin::find(scene).unwrap().text);
        let read = read.unwrap().scene;
        let page = page(scene);
        let notes = between(&page, "<template id=\"notes\">", "</template>").concat();
        let steps = read.lesson.iter().map(|step| step.note.as_str());
        let said = steps.filter(|note| !note.is_empty());
        let mut count = 0;
        for note in said.chain([read.notes.as_str()]) {
            assert_eq!(page.matches(note).count(), 1, "{scene}: {note}");
            assert!(notes.contains(note), "{scene}: {note}");
            count += 1;
        }
        assert!(count > 4, "{scene} has no lesson");
        let articles = between(&notes, "<article>", "</article>");
        assert_eq!(articles.len(), page.matches("<section ").count());
    }
}

/// Slides come as the lesson of the scene says; a motion that it leaves out is not shown.
#[test]
fn a_deck_follows_the_lesson() {
    let names = |lesson: &[LessonStage]| {
        let text = builtin::find("handrail").unwrap().text;
        let mut scene = scene::read_str("handrail", text).unwrap().scene;
        scene.lesson = lesson.iter().map(|stage| LessonStep::new(*stage)).collect();
        let deck = made(&scene).unwrap();
        let names: Vec<&str> = deck.slides.iter().map(|slide| slide.name).collect();
        (names, deck)
    };
    use LessonStage::{Body, Count, Loads, Motion, Rank, Supports};
    let (found, deck) = names(&[Supports, Loads, Rank, Count, Body]);
    assert_eq!(found, ["supports", "loads", "rank", "count", "body"]);
    let roles = |slide: &Slide| match &slide.show {
        Show::Still(figure) => figure.shapes().map(|shape| shape.role).collect::<Vec<_>>(),
        Show::Swing(_) => Vec::new(),
    };
    assert!(
        roles(&deck.slides[1]).contains(&"support"),
        "they are on the slide before"
    );
    let count = Phrase::joined(deck.slides[3].sentences.clone(), " ").to_string();
    assert!(!count.contains("Decide before"), "{count}");
    let (found, deck) = names(&[Body, Loads, Count, Motion]);
    assert_eq!(found, ["body", "loads", "count", "motion"]);
    assert!(!roles(&deck.slides[1]).contains(&"support"));
    let count = Phrase::joined(deck.slides[2].sentences.clone(), " ").to_string();
    assert!(count.contains("Decide before"), "{count}");
}

/// One page for all figures, the body in one place on it, the names where they were.
#[test]
fn the_body_stays_in_place_from_slide_to_slide() {
    for scene in ["handrail", "mirror-cell", "strut-platform", "desk-struts"] {
        let page = page(scene);
        let slides = between(&page, "<section ", "</section>");
        let sizes: Vec<_> = slides
            .iter()
            .flat_map(|slide| between(slide, "viewBox=\"", "\""))
            .collect();
        assert!(sizes.len() >= 9);
        assert!(sizes.iter().all(|size| *size == sizes[0]), "{scene}");
        let tint = |slide: &&str| {
            let paths = between(slide, "<path d=\"", "/>");
            let body = paths
                .iter()
                .find(|path| path.contains("class=\"body\" fill=\"#"));
            body.expect("a body").to_string()
        };
        let bodies: Vec<String> = slides.iter().map(tint).collect();
        assert!(bodies.iter().all(|body| *body == bodies[0]), "{scene}");
        let names = |name: &str| {
            let slide = slides
                .iter()
                .find(|slide| slide.contains(&format!("id=\"{name}\"")));
            let names = between(slide.unwrap(), "<text class=\"name\"", "</text>");
            names.into_iter().map(str::to_owned).collect::<Vec<_>>()
        };
        let first = names("supports");
        assert!(!first.is_empty());
        for stage in ["reactions", "count", "rank", "reason"] {
            assert_eq!(names(stage), first, "{scene}: {stage}");
        }
        let mended = names("mend");
        assert!(first.iter().all(|name| mended.contains(name)), "{scene}");
    }
}

#[test]
fn a_deck_has_every_stage_and_loads_nothing() {
    for name in ["handrail", "mirror-cell", "strut-platform", "street-lamp"] {
        let page = page(name);
        let mut from = 0;
        for stage in STAGES {
            let mark = format!("<section id=\"{stage}\">");
            let at = page[from..].find(&mark);
            from += at.unwrap_or_else(|| panic!("{name}: no {stage}, or out of order"));
            let end = from + page[from..].find("</section>").unwrap();
            assert!(page[from..end].contains("<svg "), "{name}: {stage}");
        }
        // Addresses only name the format of SVG; nothing is fetched.
        let addresses = page.matches("http").count();
        assert_eq!(
            addresses,
            page.matches("http://www.w3.org/2000/svg").count()
        );
        for word in ["<link", "src=\"", "@import", "fetch("] {
            assert!(!page.contains(word), "{name}: {word}");
        }
        let frames = page.matches("<div hidden>").count();
        assert_eq!(
            frames > 10,
            name != "mirror-cell" && name != "street-lamp",
            "{name}"
        );
    }
}
