//! Pages as they are seen: decks in a real browser, every stage judged by its pixels, with real keys; and films.
//!
//! Starting browsers takes longer than most tests, so these run with SIXHOLD_NEED_ADAPTER=1 only, which CI sets; Chromium
//! must be there then. Else they say that they do nothing.

mod chromium;
#[cfg(feature = "films")]
mod film;
#[cfg(feature = "viewer")]
mod space;
mod web;

use std::path::PathBuf;
use std::time::Duration;

use chromium::{Chromium, Picture};
use serde_json::json;

use crate::command_line::ran;
use crate::figure::deck::STAGES;

/// Share of the sides along every border that stays empty.
const MARGIN: f64 = 0.012;

/// A browser and a folder for its pages.
struct Screen {
    chromium: Chromium,
    folder: tempfile::TempDir,
}

impl Screen {
    /// `None` where the browser is not asked for.
    #[expect(
        clippy::print_stderr,
        reason = "a test that does nothing should say so"
    )]
    fn new(size: [u32; 2]) -> Option<Self> {
        if std::env::var_os("SIXHOLD_NEED_ADAPTER").is_none_or(|value| value != "1") {
            eprintln!("skipped: Chromium is tried with SIXHOLD_NEED_ADAPTER=1 only");
            return None;
        }
        let name = chromium::installed().expect("Chromium is missing");
        Some(Self {
            chromium: Chromium::start(name, size),
            folder: tempfile::tempdir().unwrap(),
        })
    }

    fn deck(&self, scene: &str) -> PathBuf {
        let out = self.folder.path().join(format!("{scene}.html"));
        let ran = ran(&["deck", scene, "--out", out.to_str().unwrap()]);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        out
    }

    /// The stage that the address names.
    fn at(&mut self) -> String {
        let hash = self.chromium.value("location.hash");
        hash.as_str().unwrap().trim_start_matches('#').to_owned()
    }

    /// What on the slide is wider than its room, or words that are higher.
    fn cut_off(&mut self) -> String {
        let cut = self.chromium.value(
            "[...document.querySelectorAll('.shown :is(h1, header p, .words, .words p, figure)')]
                .filter((e) => e.scrollWidth > e.clientWidth + 1
                    || e.matches('.words') && e.scrollHeight > e.clientHeight)
                .map((e) => e.outerHTML.slice(0, 80)).join('\\n')",
        );
        cut.as_str().unwrap().to_owned()
    }
}

/// What is wrong with a picture of a stage.
fn faults(picture: &Picture) -> Vec<&'static str> {
    let (far, whole) = (1.0 - MARGIN, [0.0, 1.0]);
    let inked = |across, down| picture.ink(across, down);
    [
        (inked(whole, [0.0, MARGIN]) > 0, "ink at the top"),
        (inked(whole, [far, 1.0]) > 0, "ink at the bottom"),
        (inked([0.0, MARGIN], whole) > 0, "ink at the left"),
        (inked([far, 1.0], whole) > 0, "ink at the right"),
        (inked([0.0, 0.5], [0.02, 0.12]) < 1000, "no heading"),
        (inked([0.04, 0.6], [0.15, 1.0]) < 1500, "no figure"),
        (inked([0.6, 1.0], [0.15, 1.0]) < 500, "no words"),
    ]
    .into_iter()
    .filter_map(|(is_so, what)| is_so.then_some(what))
    .collect()
}

/// A body that is held, one that is held improperly, and one in the plane.
#[test]
fn every_stage_of_a_deck_is_seen_whole() {
    let Some(mut screen) = Screen::new([1280, 720]) else {
        return;
    };
    screen.chromium.prefer_calm(true);
    for scene in ["mirror-cell", "handrail", "desk-struts"] {
        let page = screen.deck(scene);
        let mut last: Option<Picture> = None;
        for stage in STAGES {
            screen.chromium.open(&page, stage);
            assert_eq!(screen.at(), stage);
            let picture = screen.chromium.picture();
            assert_eq!([picture.width, picture.height], [1280, 720]);
            assert_eq!(faults(&picture), [""; 0], "{scene}#{stage}");
            assert_eq!(screen.cut_off(), "", "{scene}#{stage}");
            if let Some(last) = &last {
                let difference = picture.difference(last);
                assert!(
                    difference > 1000,
                    "{scene}#{stage}: {difference} pixels are new"
                );
            }
            last = Some(picture);
        }
    }
    // Without its style a page is no slide: the measure itself is put to the test.
    screen
        .chromium
        .value("document.querySelectorAll('style').forEach((style) => style.remove())");
    assert!(!faults(&screen.chromium.picture()).is_empty());
}

#[test]
fn keys_lead_through_a_deck_and_back() {
    let Some(mut screen) = Screen::new([640, 360]) else {
        return;
    };
    screen.chromium.prefer_calm(true);
    let page = screen.deck("handrail");
    screen.chromium.open(&page, "body");
    let mut seen = vec![screen.chromium.picture()];
    for stage in &STAGES[1..] {
        screen.chromium.press("ArrowRight", 39);
        assert_eq!(screen.at(), *stage);
        seen.push(screen.chromium.picture());
    }
    let slides = seen.windows(2);
    assert!(
        slides
            .into_iter()
            .all(|pair| pair[0].difference(&pair[1]) > 250)
    );
    screen.chromium.press("ArrowRight", 39);
    assert_eq!(
        screen.at(),
        "mend",
        "there is nothing behind the last slide"
    );
    for (stage, before) in STAGES.iter().zip(&seen).rev().skip(1) {
        screen.chromium.press("ArrowLeft", 37);
        assert_eq!(screen.at(), *stage);
        assert!(
            screen.chromium.picture() == *before,
            "{stage} looks different"
        );
    }
    screen.chromium.press("End", 35);
    assert_eq!(screen.at(), "mend");
    screen.chromium.press("Home", 36);
    assert_eq!(screen.at(), "body");
}

/// The body swings until its button is clicked; where calm is preferred, not before.
#[test]
fn the_motion_of_a_deck_plays_and_pauses() {
    const A_WHILE: Duration = Duration::from_millis(700);
    let Some(mut screen) = Screen::new([640, 360]) else {
        return;
    };
    let page = screen.deck("handrail");
    let moves = |screen: &mut Screen| {
        let before = screen.chromium.picture();
        std::thread::sleep(A_WHILE);
        screen.chromium.picture().difference(&before) > 100
    };
    screen.chromium.open(&page, "motion");
    assert!(moves(&mut screen), "it stands still");
    screen.chromium.click("#motion button");
    assert!(!moves(&mut screen), "it moves although it is paused");
    screen.chromium.prefer_calm(true);
    let page = screen.deck("desk-struts");
    screen.chromium.open(&page, "motion");
    assert!(!moves(&mut screen), "it moves unasked");
    screen.chromium.click("#motion button");
    assert!(moves(&mut screen), "it does not play");
}

/// Without scripts, too, a slide shows no note; with them a key opens all of them in a window that follows, and leads.
#[test]
fn the_notes_open_in_a_window_of_their_own() {
    let Some(mut screen) = Screen::new([1280, 720]) else {
        return;
    };
    screen.chromium.prefer_calm(true);
    let page = screen.deck("handrail");
    screen.chromium.open(&page, "supports");
    let visible = "document.body.innerText";
    let note = "Two ball sockets on the stairs.";
    let slide = screen.chromium.value(visible);
    assert!(!slide.as_str().unwrap().contains(note));
    screen.chromium.press("n", 78);
    let notes = screen.chromium.opened();
    let in_notes = |screen: &mut Screen| {
        let text = screen.chromium.value_in(&notes, visible);
        text.as_str().unwrap().to_owned()
    };
    let text = in_notes(&mut screen);
    assert!(text.contains("3 / 9 Supports"), "{text}");
    assert!(text.contains(note) && text.contains("Reactions"), "{text}");
    assert!(!text.contains("Hands up"), "{text}");
    screen.chromium.press("ArrowRight", 39);
    screen.chromium.press("ArrowRight", 39);
    let text = in_notes(&mut screen);
    assert!(text.contains("Hands up") && !text.contains(note), "{text}");
    let key =
        "document.dispatchEvent(new KeyboardEvent('keydown', {key: 'PageDown', bubbles: true}))";
    screen.chromium.value_in(&notes, key);
    assert_eq!(screen.at(), "rank", "the keys of the notes lead, too");
    let scripts = json!({"value": true});
    screen
        .chromium
        .call("Emulation.setScriptExecutionDisabled", scripts);
    let page = screen.deck("roof-hatch");
    screen.chromium.open(&page, "");
    let text = screen.chromium.value(visible);
    let text = text.as_str().unwrap();
    assert!(
        text.contains("Supports") && !text.contains("square"),
        "{text}"
    );
}
