//! The window under random keys and clicks: it neither ends nor grows, and goes on answering.
//!
//! Twenty seconds, or as many as SIXHOLD_MONKEY_SECONDS says. Needs what the other test of the window needs.

use std::thread::sleep;
use std::time::{Duration, Instant};

use proptest::prelude::*;
use proptest::sample::select;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use sixhold::scene::builtin;
use sixhold::theme::{Theme, ThemeName};

use crate::desk::{BACKGROUND, Desk};

/// Memory that may come, MiB, over what the program had after a third of the time.
const GROWTH: u64 = 150;
/// How often memory is looked at, and how long after each other.
const LOOKS: usize = 40;
const PAUSE: Duration = Duration::from_millis(500);
/// Actions that are handed to xdotool at once.
const BURST: usize = 6;
/// Every key that acts, and some that do not.
const KEYS: [&str; 62] = [
    "space",
    "Next",
    "Prior",
    "Home",
    "Left",
    "Right",
    "Up",
    "Down",
    "Escape",
    "Return",
    "Tab",
    "Delete",
    "BackSpace",
    "a",
    "b",
    "c",
    "d",
    "e",
    "f",
    "g",
    "h",
    "i",
    "j",
    "k",
    "l",
    "m",
    "n",
    "o",
    "p",
    "q",
    "r",
    "s",
    "t",
    "u",
    "v",
    "w",
    "x",
    "y",
    "z",
    "0",
    "1",
    "2",
    "3",
    "4",
    "5",
    "6",
    "period",
    "comma",
    "minus",
    "ctrl+z",
    "ctrl+y",
    "ctrl+shift+z",
    "ctrl+s",
    "ctrl+plus",
    "ctrl+minus",
    "ctrl+0",
    "shift+v",
    "shift+g",
    "alt+x",
    "shift+Tab",
    "F1",
    "plus",
];
/// What is typed into fields, right and wrong.
const TEXTS: [&str; 6] = ["0.5, 0, 0.2", "B", "30 deg", "-3 mm", "towards A", "1e999"];

fn seconds() -> u64 {
    let wanted = std::env::var("SIXHOLD_MONKEY_SECONDS");
    wanted.map_or(20, |wanted| wanted.parse().expect("a number of seconds"))
}

/// What one move of the monkey hands to xdotool.
fn actions(window: &str) -> impl Strategy<Value = Vec<String>> {
    let words = |text: String| {
        text.split_whitespace()
            .map(str::to_owned)
            .collect::<Vec<_>>()
    };
    let place = || (0..1280, 0..720).prop_map(|(x, y)| format!("mousemove {x} {y}"));
    let window = window.to_owned();
    prop_oneof![
        9 => select(&KEYS[..]).prop_map(move |key| words(format!("key {key}"))),
        5 => place().prop_map(move |place| words(format!("{place} sleep 0.05 click 1"))),
        3 => (place(), place(), select(vec![1, 1, 3])).prop_map(move |(from, to, button)| {
            words(format!("{from} mousedown {button} sleep 0.05 {to} sleep 0.05 mouseup {button}"))
        }),
        2 => (place(), 4..6).prop_map(move |(place, button)| words(format!("{place} click {button}"))),
        1 => select(&TEXTS[..]).prop_map(|text| vec!["type".to_owned(), text.to_owned()]),
        1 => (320..1280, 200..720).prop_map(move |(x, y)| words(format!("windowsize {window} {x} {y}"))),
    ]
}

#[test]
fn the_window_survives_a_monkey() {
    let text = builtin::find("handrail").expect("a scene").text;
    let Some((mut desk, _)) = Desk::with_scene(text) else {
        return;
    };
    desk.wait_for_rest("the first picture");
    let mut runner = TestRunner::deterministic();
    let window = desk.window();
    let actions = actions(&window);
    let mut start = Instant::now();
    let length = Duration::from_secs(seconds());
    let mut warm = None;
    let mut done = Vec::new();
    while start.elapsed() < length {
        for _ in 0..BURST {
            let action = actions.new_tree(&mut runner).expect("an action").current();
            let refs: Vec<&str> = action.iter().map(String::as_str).collect();
            desk.xdotool(&refs);
            done.push(action.join(" "));
        }
        let last = || done[done.len().saturating_sub(40)..].join("; ");
        assert!(
            desk.is_running(),
            "it ended after {}: {}",
            last(),
            desk.said()
        );
        assert!(
            !desk.said().contains("panicked"),
            "after {}: {}",
            last(),
            desk.said()
        );
        if warm.is_none() && start.elapsed() > length / 3 {
            let looked = Instant::now();
            warm = Some(least_memory(&desk));
            // The monkey rests meanwhile.
            start += looked.elapsed();
        }
    }
    let warm = warm.expect("a third of the time has passed");
    let last = least_memory(&desk);
    assert!(
        last < warm + GROWTH,
        "memory went from {warm} to {last} MiB"
    );
    it_answers(&mut desk, &window);
}

/// What the program holds at least in so many looks: pictures that are being drawn take much more while they are.
fn least_memory(desk: &Desk) -> u64 {
    let looks = (0..LOOKS).map(|_| {
        sleep(PAUSE);
        desk.memory()
    });
    looks.min().expect("looks")
}

/// Whatever was open is closed, and the next theme comes on.
fn it_answers(desk: &mut Desk, window: &str) {
    desk.xdotool(&["windowsize", window, "1280", "720"]);
    desk.xdotool(&["mousemove", "640", "300"]);
    for _ in 0..4 {
        desk.xdotool(&["key", "Escape"]);
    }
    let grounds = [ThemeName::Hall, ThemeName::Daylight, ThemeName::Stark]
        .map(|name| Theme::of(name).background);
    // What plays or turns goes on, so nothing waits for a rest.
    desk.wait_for("the corner is bare", |desk| {
        grounds.contains(&desk.screen().at(BACKGROUND))
    });
    let before = desk.screen().at(BACKGROUND);
    desk.xdotool(&["key", "t"]);
    desk.wait_for("another theme", |desk| {
        let now = desk.screen().at(BACKGROUND);
        now != before && grounds.contains(&now)
    });
}
