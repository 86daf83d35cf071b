//! A scene made from nothing in a real window, by mouse and keys alone, and read by the command line.
//!
//! Needs what the other test of the window needs.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use sixhold::scene::builtin;
use sixhold::theme::{Colour, Theme, ThemeName};

use crate::desk::{ANY_RINGS, Desk, ONE_RING, is_shade};

/// Places of the drawer from which scenes and supports are taken, in a window of 1280 by 720 pixels.
const A_BAR: (usize, usize) = (46, 98);
const BALL_JOINT: (usize, usize) = (59, 206);
/// Where the words to act by begin under the sentence about a bar, and where the third of them is.
const ONE_MORE_BEND: (usize, usize) = (335, 566);
/// So many pixels inside its outline is the middle of the bar's end.
const INSIDE: usize = 9;
/// Left of and below this are the directions of the axes, which are grey as the bar is.
const TRIAD: (usize, usize) = (130, 330);
/// Above what is written over the foot of the picture.
const FOOT: usize = 460;

/// Presses what is there, and waits until it is seen to have done something: a busy machine may take long.
fn press(desk: &mut Desk, what: &str, (x, y): (usize, usize)) {
    desk.xdotool(&["mousemove", &x.to_string(), &y.to_string()]);
    std::thread::sleep(std::time::Duration::from_millis(300));
    desk.change(what, |desk| drop(desk.xdotool(&["click", "1"])));
}

/// Opens or closes the drawer of what scenes are made of.
fn drawer(desk: &mut Desk, what: &str) {
    desk.change(what, |desk| key(desk, &["i"]));
}

fn key(desk: &Desk, keys: &[&str]) {
    desk.xdotool(&[&["key"], keys].concat());
}

/// Saves, and waits until the file is what it is to be.
fn saved(desk: &mut Desk, file: &Path, what: &str, is: impl Fn(&str) -> bool) -> String {
    key(desk, &["ctrl+s"]);
    desk.wait_for(what, |_| {
        fs::read_to_string(file).is_ok_and(|text| is(&text))
    });
    desk.wait_for_rest(what);
    fs::read_to_string(file).expect("the file")
}

/// Pixels of the bar: of its colour under more or less light.
fn bar(desk: &Desk) -> Vec<(usize, usize)> {
    let body = Theme::of(ThemeName::Hall).body;
    desk.screen().places_where(|(x, y), pixel| {
        let is_triad = x < TRIAD.0 && y > TRIAD.1;
        !is_triad && x < 1120 && y < FOOT && is_shade(pixel, body)
    })
}

/// The middle of an end of the bar, a little inside its outline: the left end, or the right one.
fn end(desk: &Desk, is_left: bool) -> (usize, usize) {
    let pixels = bar(desk);
    let columns = pixels.iter().map(|at| at.0);
    let x = match is_left {
        true => columns.min().expect("a bar") + INSIDE,
        false => columns.max().expect("a bar") - INSIDE,
    };
    let column: Vec<usize> = pixels
        .iter()
        .filter(|at| at.0.abs_diff(x) <= 2)
        .map(|at| at.1)
        .collect();
    (x, column.iter().sum::<usize>() / column.len())
}

/// Takes out every support: whatever is where a reaction is drawn, as long as it is no other thing.
fn take_out_supports(desk: &mut Desk, file: &Path) {
    let reaction = Theme::of(ThemeName::Hall).reaction;
    let count = |text: &str| ["UniversalJoint", "Link"].map(|kind| text.matches(kind).count());
    let mut tries = 0;
    loop {
        let mut places = desk
            .screen()
            .places_where(|(x, y), pixel| x < 1120 && y < FOOT && pixel == reaction);
        if places.is_empty() {
            return;
        }
        assert!(tries < 12, "supports stay; {}", desk.keep_screen());
        // Another one each time, since something else may be under the first.
        let first = tries * places.len() / 5;
        let all = places.len();
        places.rotate_left(first % all);
        let at = desk
            .find_ring(&places, 40..=2 * ONE_RING.end())
            .unwrap_or_else(|| panic!("no ring; {}", desk.keep_screen()));
        let before = fs::read_to_string(file).expect("the file");
        press(desk, "something is in hand", at);
        key(desk, &["Delete"]);
        desk.wait_for_rest("it is gone");
        key(desk, &["ctrl+s"]);
        desk.wait_for_rest("it is saved");
        let now = fs::read_to_string(file).expect("the file");
        // It was the bar or its weight.
        if now != before && count(&now) == count(&before) {
            key(desk, &["ctrl+z"]);
            saved(desk, file, "what was no support is back", |text| {
                text == before
            });
        }
        key(desk, &["Escape"]);
        tries += 1;
    }
}

/// What the command line says of the file.
fn check(file: &Path) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_sixhold"))
        .arg("check")
        .arg(file)
        .output()
        .expect("the program");
    String::from_utf8(output.stdout).expect("text")
}

#[test]
fn a_bent_bar_on_two_ball_joints_is_made_from_nothing() {
    let text = builtin::find("mirror-cell").expect("a scene").text;
    let Some((mut desk, scene)) = Desk::with_scene(text) else {
        return;
    };
    let desk = &mut desk;
    let file = scene.with_file_name("new-bar.ron");
    desk.wait_for_rest("the first picture");
    begin(desk, &file);
    take_out_supports(desk, &file);
    let theme = Theme::of(ThemeName::Hall);
    for (which, is_left) in [(1, true), (2, false)] {
        drawer(desk, "the drawer is open");
        press(desk, "a ball joint is to be placed", BALL_JOINT);
        drawer(desk, "the drawer is closed");
        let at = end(desk, is_left);
        press(desk, "a ball joint is placed", at);
        saved(desk, &file, "a ball joint", |text| {
            text.matches("BallJoint").count() == which
        });
        key(desk, &["Escape"]);
        desk.wait_for_rest("nothing is in hand");
    }
    assert!(
        desk.screen().count(theme.axis) > 100,
        "the axis is not to be seen; {}",
        desk.keep_screen()
    );
    let joints = fs::read_to_string(&file).expect("the file");
    for at in ["at: (0, 0, 0)", "at: (1, 0, 0)"] {
        assert!(joints.contains(at), "{joints}");
    }
    let said = check(&file);
    assert!(said.contains("Not held"), "{said}");
    assert!(said.contains("rank"), "{said}");

    add_a_link(desk, &file, theme.trial);
    let said = check(&file);
    assert!(
        !said.contains("Not held") && said.contains("Held"),
        "{said}"
    );
    key(desk, &["ctrl+z"]);
    saved(desk, &file, "the link is undone", |text| text == joints);
}

/// A new scene from a bar, with a bend, saved beside the scene that was open.
fn begin(desk: &mut Desk, file: &PathBuf) {
    let title = desk.title();
    drawer(desk, "the drawer is open");
    press(desk, "a bar to begin with", A_BAR);
    desk.wait_for("a new scene", |desk| desk.title() != title);
    drawer(desk, "the drawer is closed");
    let middle: Vec<_> = bar(desk)
        .into_iter()
        .filter(|at| (590..610).contains(&at.0))
        .collect();
    press(desk, "the bar is in hand", middle[middle.len() / 2]);
    press(desk, "it has a bend", ONE_MORE_BEND);
    desk.change("nothing is in hand", |desk| key(desk, &["Escape"]));
    // The mark in the field that asks where goes on blinking.
    let before = desk.screen();
    key(desk, &["ctrl+s"]);
    desk.wait_for("where is it to be saved?", |desk| desk.screen() != before);
    std::thread::sleep(std::time::Duration::from_secs(1));
    key(desk, &["Return"]);
    desk.wait_for("it is saved", |_| file.exists());
    desk.wait_for_rest("it is saved");
    let made = fs::read_to_string(file).expect("the file");
    assert!(made.contains("(0.5, 0, 0.25)"), "{made}");
}

/// A link is pulled from the body to the ground, and becomes a support.
fn add_a_link(desk: &mut Desk, file: &Path, trial: Colour) {
    desk.change("the hint is shown", |desk| key(desk, &["n"]));
    let hint = desk.screen().count(trial);
    let places: Vec<_> = bar(desk).into_iter().filter(|at| at.1 < FOOT / 2).collect();
    let (x, y) = desk
        .find_ring(&places, hint + 21..=ANY_RINGS)
        .unwrap_or_else(|| panic!("no ring on the bar; {}", desk.keep_screen()));
    desk.xdotool(&["mousedown", "1"]);
    for step in 1..=6 {
        std::thread::sleep(std::time::Duration::from_millis(60));
        let (x, y) = (x + 15 * step, y + 20 * step);
        desk.xdotool(&["mousemove", &x.to_string(), &y.to_string()]);
    }
    desk.xdotool(&["mouseup", "1"]);
    desk.wait_for_rest("the link is drawn");
    key(desk, &["Return"]);
    saved(desk, file, "the link is a support", |text| {
        text.contains("Link(")
    });
}
