//! The window, driven as a person would drive it.
//!
//! Needs Xvfb, xdotool and a graphics driver; where one of them is missing the test says so and does nothing, unless
//! SIXHOLD_NEED_ADAPTER=1 asks for it.

use std::fs;
use std::path::Path;
use std::thread::sleep;
use std::time::Duration;

use sixhold::scene::builtin;
use sixhold::theme::{Colour, Theme, ThemeName};

use crate::desk::{ANY_RINGS, BACKGROUND, Desk, ONE_RING, is_shade};

/// Most processor time in two seconds of rest, in hundredths of a second.
const RESTING: u64 = 6;
/// A point that the open ledger covers.
const LEDGER: (usize, usize) = (1130, 8);

#[test]
fn a_person_can_use_the_window() {
    let text = builtin::find("handrail").expect("a scene").text;
    let Some((mut desk, scene)) = Desk::with_scene(text) else {
        return;
    };
    it_rests(&mut desk);
    keys_act(&mut desk);
    the_mouse_acts(&mut desk);
    the_wheel_over_the_ledger_is_the_ledgers(&mut desk);
    a_link_is_drawn(&mut desk);
    a_scene_is_made(&mut desk, &scene, text);
    the_file_is_followed(&mut desk, &scene, text);
}

fn it_rests(desk: &mut Desk) {
    desk.wait_for_rest("the first picture");
    let theme = Theme::of(ThemeName::Hall);
    for (what, colour) in [
        ("reactions", theme.reaction),
        ("axis", theme.axis),
        ("load", theme.load),
    ] {
        assert!(
            desk.screen().count(colour) > 100,
            "{what} are not to be seen"
        );
    }
    // The last frames may look the same as those before; after them there are none.
    desk.wait_for("it rests", |desk| {
        let before = desk.processor_time();
        sleep(Duration::from_secs(2));
        desk.processor_time() - before <= RESTING
    });
}

fn keys_act(desk: &mut Desk) {
    for name in [ThemeName::Daylight, ThemeName::Stark, ThemeName::Hall] {
        desk.xdotool(&["key", "t"]);
        let background = Theme::of(name).background;
        desk.wait_for("another theme", |desk| {
            desk.screen().at(BACKGROUND) == background
        });
        desk.wait_for_rest("the theme is on");
    }
    let rest = desk.wait_for_rest("before it moves");
    desk.xdotool(&["key", "space"]);
    desk.wait_for("the body moves", |desk| desk.screen() != rest);
    let once = desk.screen();
    desk.wait_for("it goes on moving", |desk| desk.screen() != once);
    desk.xdotool(&["key", "space"]);
    let held = desk.wait_for_rest("it is held");
    sleep(Duration::from_secs(1));
    assert!(desk.screen() == held, "it moves although it is held");
    desk.change("another view", |desk| {
        desk.xdotool(&["key", "v"]);
    });
}

fn the_mouse_acts(desk: &mut Desk) {
    desk.change("a drag turns the scene", |desk| {
        desk.xdotool(&["mousemove", "500", "100", "mousedown", "1"]);
        for x in ["520", "545", "570"] {
            sleep(Duration::from_millis(60));
            desk.xdotool(&["mousemove", x, "110"]);
        }
        desk.xdotool(&["mouseup", "1"]);
    });
    desk.change("the wheel zooms", |desk| {
        desk.xdotool(&["click", "4"]);
    });
    let surface = Theme::of(ThemeName::Hall).surface;
    assert_ne!(desk.screen().at(LEDGER), surface);
    desk.xdotool(&["mousemove", "1212", "90", "click", "1"]);
    desk.wait_for("a click on the figures opens the ledger", |desk| {
        desk.screen().at(LEDGER) == surface
    });
    desk.wait_for_rest("the ledger is open");
    desk.xdotool(&["mousemove", "500", "100", "key", "Escape"]);
    desk.wait_for("a key closes it", |desk| {
        desk.screen().at(LEDGER) != surface
    });
    desk.wait_for_rest("the ledger is closed");
}

fn the_wheel_over_the_ledger_is_the_ledgers(desk: &mut Desk) {
    desk.change("the ledger opens", |desk| {
        desk.xdotool(&["key", "l"]);
    });
    let columns = 0..500;
    let left = |desk: &Desk| -> Vec<Colour> {
        let screen = desk.screen();
        columns.clone().map(|x| screen.at((x, 300))).collect()
    };
    let before = left(desk);
    desk.xdotool(&["mousemove", "1000", "300", "click", "5", "click", "5"]);
    desk.wait_for_rest("the ledger has scrolled");
    assert!(left(desk) == before, "the picture was zoomed as well");
    desk.change("the ledger closes", |desk| {
        desk.xdotool(&["mousemove", "500", "100", "key", "Escape"]);
    });
}

/// The pointer looks for the body, where a ring shows itself, and pulls a link from there.
fn a_link_is_drawn(desk: &mut Desk) {
    let trial = Theme::of(ThemeName::Hall).trial;
    desk.change("the hint is shown", |desk| {
        desk.xdotool(&["key", "n"]);
    });
    let hint = desk.screen().count(trial);
    // The body is its colour under more or less light; right of it are the numbers.
    let body = Theme::of(ThemeName::Hall).body;
    let screen = desk.screen();
    let places = screen.places_where(|(x, y), pixel| x < 1120 && y < 520 && is_shade(pixel, body));
    let (x, y) = desk
        .find_ring(&places, hint + 21..=ANY_RINGS)
        .unwrap_or_else(|| panic!("no ring on the body; {}", desk.keep_screen()));
    let rank_five = desk.screen();
    desk.xdotool(&["mousedown", "1"]);
    for step in 1..=6 {
        sleep(Duration::from_millis(60));
        let (x, y) = (x + 20 * step, y + 12 * step);
        desk.xdotool(&["mousemove", &x.to_string(), &y.to_string()]);
    }
    desk.xdotool(&["mouseup", "1"]);
    let drawn = desk.wait_for_rest("the link is drawn");
    assert!(drawn != rank_five);
    assert!(drawn.count(trial) > hint + 100, "no link is to be seen");
    desk.change("the link is taken away", |desk| {
        desk.xdotool(&["key", "Delete", "key", "Escape"]);
    });
    assert!(desk.screen().count(trial) < hint.min(20));
}

/// A support is taken in hand, dragged, undone, taken out, undone and saved; the file is that of the edits, and in the end what it
/// was, to the letter.
fn a_scene_is_made(desk: &mut Desk, scene: &Path, text: &str) {
    let theme = Theme::of(ThemeName::Hall);
    let places = desk
        .screen()
        .places_where(|_, pixel| pixel == theme.reaction);
    let marked = |desk: &Desk, least: usize| desk.screen().count(theme.trial) > least;
    let (x, y) = desk
        .find_ring(&places, ONE_RING)
        .unwrap_or_else(|| panic!("no ring around a support; {}", desk.keep_screen()));
    // The middle of the ring is the support itself; its edge is only just within reach of a press.
    let near = |place: (usize, usize)| place.0.abs_diff(x) < 60 && place.1.abs_diff(y) < 60;
    let ring = desk
        .screen()
        .places_where(|place, pixel| pixel == theme.trial && near(place));
    let (x, y) = match ring.len() {
        0 => (x, y),
        count => (
            ring.iter().map(|place| place.0).sum::<usize>() / count,
            ring.iter().map(|place| place.1).sum::<usize>() / count,
        ),
    };
    desk.xdotool(&["mousemove", &x.to_string(), &y.to_string()]);
    desk.wait_for_rest("the pointer is on the support");
    desk.xdotool(&["click", "1"]);
    desk.wait_for("a support is in hand", |desk| marked(desk, 150));
    desk.wait_for_rest("it is in hand");
    let saved = |desk: &mut Desk, what: &str, is: &dyn Fn(&str) -> bool| {
        desk.xdotool(&["key", "ctrl+s"]);
        desk.wait_for(what, |_| {
            fs::read_to_string(scene).is_ok_and(|now| is(&now))
        });
        desk.wait_for_rest(what);
    };
    desk.change("it is dragged", |desk| {
        desk.xdotool(&["mousedown", "1"]);
        for step in 1..=5 {
            sleep(Duration::from_millis(80));
            let (x, y) = (x + 12 * step, y + 4 * step);
            desk.xdotool(&["mousemove", &x.to_string(), &y.to_string()]);
        }
        sleep(Duration::from_millis(300));
        desk.xdotool(&["mouseup", "1"]);
    });
    saved(desk, &format!("the drag from {x}, {y} is saved"), &|now| {
        let changed = now
            .lines()
            .zip(text.lines())
            .filter(|(now, was)| now != was);
        now.lines().count() == text.lines().count() && changed.count() == 1
    });
    desk.xdotool(&["key", "ctrl+z"]);
    saved(desk, "the drag is undone", &|now| now == text);
    desk.xdotool(&["key", "Delete"]);
    saved(desk, "the support is gone", &|now| {
        now.matches("BallJoint").count() + 1 == text.matches("BallJoint").count()
    });
    desk.xdotool(&["key", "ctrl+z"]);
    saved(desk, "the support is back", &|now| now == text);
    desk.xdotool(&["mousemove", "12", "12", "key", "Escape"]);
    desk.wait_for("nothing is in hand", |desk| !marked(desk, 20));
    desk.wait_for_rest("nothing is in hand");
}

fn the_file_is_followed(desk: &mut Desk, scene: &Path, text: &str) {
    let error = Theme::of(ThemeName::Hall).error;
    let title = desk.title();
    assert!(desk.screen().count(error) < 10);
    let broken = text.replace("supports:", "suports:");
    fs::write(scene, broken).expect("a broken edit");
    desk.wait_for("the error is shown", |desk| {
        desk.screen().count(error) > 100
    });
    assert_eq!(desk.title(), title);
    let reaction = Theme::of(ThemeName::Hall).reaction;
    assert!(
        desk.screen().count(reaction) > 100,
        "the last good picture is gone"
    );

    let held = builtin::find("mirror-cell").expect("a scene").text;
    fs::write(scene, held).expect("another scene");
    desk.wait_for("the error goes away", |desk| {
        desk.screen().count(error) < 10
    });
    desk.wait_for("the window has the new title", |desk| desk.title() != title);
}
